package prescription_test

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"towpath/internal/diag"
	"towpath/internal/plan"
	"towpath/internal/prescription"
	"towpath/internal/schedule"
	"towpath/internal/units"
	"towpath/internal/words"
)

var update = flag.Bool("update", false, "write the golden files anew")

// TestGolden shows whole sessions: what the rider reads, and what the coach can ask of it.
func TestGolden(t *testing.T) {
	t.Parallel()
	heart := usualBand()
	heart.Leads = "heart_rate"
	noMeter := rider()
	noMeter.PowerMeter = false
	hour := ride(75, steady())
	hour.Place = "outdoor"
	for _, tt := range []struct {
		file    string
		athlete *plan.Athlete
		band    *plan.Band
		session schedule.Session
	}{
		{"steady", rider(), usualBand(), hour},
		{"steady-heart-rate", noMeter, heart, ride(75, steady())},
		{"steady-effort", noMeter, &plan.Band{Key: "e", Scale: 1, Leads: "effort"}, ride(75, steady())},
		{"long", rider(), usualBand(), ride(240, longRide(0, 1))},
		{"upper-third", rider(), usualBand(), ride(76, upperThird())},
		{"standard", rider(), usualBand(), testDay(60, standardRide(), nil)},
		{"step-test", rider(), usualBand(), testDay(75, stepTest(), nil)},
		{"efforts", rider(), usualBand(), testDay(90, efforts(), nil)},
	} {
		t.Run(tt.file, func(t *testing.T) {
			t.Parallel()
			s := one(t, tt.athlete, tt.band, tt.session)
			got := whole(&s)
			path := filepath.Join("..", "..", "testdata", "prescription", tt.file+".txt")
			if *update {
				if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
					t.Fatal(err)
				}
				if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
					t.Fatal(err)
				}
				return
			}
			want, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			if diff := cmp.Diff(string(want), got); diff != "" {
				t.Errorf("(-want +got; go test ./internal/prescription -update writes it anew)\n%s", diff)
			}
		})
	}
}

// whole prints a session: title and description, then steps, origins and load.
func whole(s *prescription.Session) string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s\n\n%s\n== the coach's ==\nleads: %s\nload: %s\n", s.Title, words.Description(s.Words()), s.Leads, sayLoad(s.Load))
	for _, o := range []*diag.Origin{s.Targets.PowerOrigin, s.Targets.HeartRateOrigin, s.Targets.EffortOrigin} {
		if o != nil {
			writeOrigin(&b, *o, "")
		}
	}
	eachStep(s.Steps, func(step prescription.Step) {
		fmt.Fprintf(&b, "%s (%s, %s): %s\n", step.Name, step.Role, step.Kind, step.Origin.What)
	})
	return b.String()
}

func writeOrigin(b *strings.Builder, o diag.Origin, indent string) {
	fmt.Fprintf(b, "%s- %s", indent, o.What)
	if o.SourceKey != "" {
		fmt.Fprintf(b, " [%s]", o.SourceKey)
	}
	b.WriteString("\n")
	for _, from := range o.From {
		writeOrigin(b, from, indent+"  ")
	}
}

func sayLoad(l prescription.Load) string {
	work, impulse, rpe := "work unknown", "training impulse unknown", "session rating unknown"
	if l.Work != nil {
		work = fmt.Sprintf("work %s", three(l.Work.Low, l.Work.Mid, l.Work.High)) + " kJ"
	}
	if l.TRIMP != nil {
		impulse = fmt.Sprintf("training impulse %s", three(l.TRIMP.Low, l.TRIMP.Mid, l.TRIMP.High))
	}
	if l.SessionRPE != nil {
		rpe = fmt.Sprintf("session rating times minutes %.0f", *l.SessionRPE)
	}
	return strings.Join([]string{work, impulse, rpe}, "; ")
}

func three[T float64 | units.Energy](low, mid, high T) string {
	return fmt.Sprintf("%.1f / %.1f / %.1f", float64(low), float64(mid), float64(high))
}
