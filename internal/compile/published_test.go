package compile_test

import (
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"

	"towpath/internal/diag"
	"towpath/internal/plan"
	"towpath/internal/prescription"
	"towpath/internal/units"
)

// worked is what an independent script makes of the block in testdata/published/worked-block: see
// the README there.
type worked struct {
	Threshold struct {
		Power     float64 `json:"power_w"`
		HeartRate float64 `json:"heart_rate_bpm"`
		RPE       float64 `json:"rpe"`
	} `json:"threshold"`
	Ceiling struct {
		Power     float64 `json:"power_w"`
		HeartRate float64 `json:"heart_rate_bpm"`
	} `json:"ceiling"`
	Line struct {
		Intercept float64 `json:"intercept_bpm"`
		Slope     float64 `json:"slope_bpm_per_w"`
		Residual  float64 `json:"residual_bpm"`
	} `json:"line"`
	Weeks []struct {
		Hours, TRIMP, Monotony float64
		Work                   float64 `json:"work_kj"`
		SessionRPE             float64 `json:"session_rpe_6_20"`
	} `json:"weeks"`
	Mix     map[string]float64      `json:"mix"`
	Targets map[string]workedTarget `json:"targets"`
	Raised  struct {
		Threshold float64                 `json:"threshold_w"`
		Ceiling   float64                 `json:"ceiling_w"`
		Targets   map[string]workedTarget `json:"targets"`
	} `json:"raised"`
}

type workedTarget struct {
	Power     [2]float64 `json:"power_w"`
	HeartRate [2]float64 `json:"heart_rate_bpm"`
}

// workedBlock compiles the block from its folders, and reads what the script made of it.
func workedBlock(t *testing.T, folders ...string) (*prescription.Prescription, diag.List, worked) {
	t.Helper()
	dir := filepath.Join("..", "..", "testdata", "published", "worked-block")
	fsys := fstest.MapFS{}
	for _, folder := range folders {
		paths, err := filepath.Glob(filepath.Join(dir, folder, "*.hcl"))
		if err != nil || len(paths) == 0 {
			t.Fatalf("no text in %s: %v", folder, err)
		}
		for _, path := range paths {
			text, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			fsys["plan/"+filepath.Base(path)] = &fstest.MapFile{Data: text}
		}
	}
	text, err := os.ReadFile(filepath.Join(dir, "expected.json"))
	if err != nil {
		t.Fatal(err)
	}
	var want worked
	if err := json.Unmarshal(text, &want); err != nil {
		t.Fatal(err)
	}
	res := compiled(fsys)
	if len(res.Prescriptions) != 1 {
		t.Fatalf("got %d prescriptions:\n%s", len(res.Prescriptions), findings(t, res))
	}
	return res.Prescriptions[0], res.Findings, want
}

func TestWorkedBlock(t *testing.T) {
	p, _, want := workedBlock(t, "plan")
	near := func(what string, got, want, tolerance float64) {
		t.Helper()
		if !(math.Abs(got-want) <= tolerance) {
			t.Errorf("%s: got %.4f, want %.4f within %.4f", what, got, want, tolerance)
		}
	}
	const share = 0.001 // of the week's work and impulse
	band := p.Block.Bands[0]
	rating, _ := band.EffortAt(band.Threshold)
	// The script interpolates the heart rate at the threshold between two stages, in place of the line.
	near("threshold, W", float64(band.Threshold), want.Threshold.Power, 0.0005)
	near("heart rate at the threshold, bpm", float64(*band.HeartRateCap), want.Threshold.HeartRate, 0.05)
	near("effort at the threshold", float64(rating), want.Threshold.RPE, 0.0005)
	near("ceiling, W", float64(band.Power.High), want.Ceiling.Power, 0.0005)
	near("ceiling, bpm", float64(band.HeartRate.High), want.Ceiling.HeartRate, 0.0005)
	near("line, bpm at 0 W", float64(band.Line.Intercept), want.Line.Intercept, 0.005)
	near("line, bpm per W", band.Line.Slope, want.Line.Slope, 0.00005)
	near("line, residual in bpm", float64(band.Line.ResidualSE), want.Line.Residual, 0.005)

	if len(p.Weeks) != len(want.Weeks) {
		t.Fatalf("got %d weeks, want %d", len(p.Weeks), len(want.Weeks))
	}
	var minutes units.Minutes
	var work float64
	for i, w := range p.Weeks {
		week, load := want.Weeks[i], w.Load
		if load.Work == nil || load.TRIMP == nil || load.Coach == nil || w.Monotony == nil || w.MonotonyScale != prescription.CoachRating {
			t.Fatalf("week %d lacks a load, or its monotony is on another scale: %+v, %q", w.Number, load, w.MonotonyScale)
		}
		near(w.Start.String()+": hours", float64(w.Placed)/60, week.Hours, 0)
		near(w.Start.String()+": work, kJ", float64(load.Work.Mid), week.Work, share*week.Work)
		near(w.Start.String()+": training impulse", load.TRIMP.Mid, week.TRIMP, share*week.TRIMP)
		near(w.Start.String()+": session RPE, 6-20", *load.Coach, week.SessionRPE, 0)
		near(w.Start.String()+": monotony", *w.Monotony, week.Monotony, 0.01)
		minutes, work = minutes+w.Placed, work+float64(load.Work.Mid)
	}
	near("hours in all", float64(minutes)/60, 58.75, 0)
	near("work in all, MJ", work/1000, 22.68, 0.02268)
	near("sessions", float64(len(p.Sessions)), 40, 0)

	mix := map[string]float64{}
	for _, s := range p.Sessions {
		mix[s.Session] += float64(s.Minutes) / float64(minutes)
	}
	if len(mix) != len(want.Mix) {
		t.Errorf("got the kinds %v", mix)
	}
	for kind, of := range want.Mix {
		near("share of "+kind, mix[kind], of, 0.005)
	}
	workedTargets(t, p, band, p.Block.Start, p.Block.End(), want.Targets)
}

// TestWorkedBlockRaised raises the band after four weeks. The script keeps its loads on the targets
// before the raise, so only the targets are compared.
func TestWorkedBlockRaised(t *testing.T) {
	p, list, want := workedBlock(t, "plan", "raised")
	raised := p.Block.Bands[1]
	if got := float64(raised.Threshold); math.Abs(got-want.Raised.Threshold) > 0.01 {
		t.Errorf("threshold: got %.3f W, want %.3f W", got, want.Raised.Threshold)
	}
	if got := float64(raised.Power.High); math.Abs(got-want.Raised.Ceiling) > 0.5 {
		t.Errorf("ceiling: got %.3f W, want %.0f W", got, want.Raised.Ceiling)
	}
	workedTargets(t, p, p.Block.Bands[0], p.Block.Start, raised.From.Add(-1), want.Targets)
	// In week 8 the script has no targets of its own: it names weeks 5 to 7.
	workedTargets(t, p, raised, raised.From, p.Block.Weeks[7].Start.Add(-1), want.Raised.Targets)
	workedFindings(t, list)
}

// workedTargets compares the watts of each session between two dates, rounded inwards, and the beats
// that the line of the test expects there.
func workedTargets(t *testing.T, p *prescription.Prescription, band *plan.Band, from, to units.Date, want map[string]workedTarget) {
	t.Helper()
	seen := map[string]bool{}
	for _, s := range p.Sessions {
		target, ok := want[s.Session]
		if !ok || s.Date < from || s.Date > to {
			continue
		}
		seen[s.Session] = true
		if s.Targets.Power == nil {
			t.Errorf("%s has no watts", s.Key)
			continue
		}
		for i, watts := range []int{s.Targets.Power.Low, s.Targets.Power.High} {
			beats, ok := band.HeartRateAt(units.Power(watts))
			if d := math.Abs(float64(watts) - target.Power[i]); d > 1 {
				t.Errorf("%s: got %d W, want %.0f W", s.Key, watts, target.Power[i])
			}
			if d := math.Abs(float64(beats) - target.HeartRate[i]); !ok || d > 1 {
				t.Errorf("%s: got %.1f bpm, want %.0f bpm", s.Key, float64(beats), target.HeartRate[i])
			}
		}
	}
	if len(seen) != len(want) {
		t.Errorf("only %v were looked at", seen)
	}
}

// TestWorkedBlockFindings demands the four things that the script warns of, and nothing else that is
// as grave.
func TestWorkedBlockFindings(t *testing.T) {
	_, list, _ := workedBlock(t, "plan")
	workedFindings(t, list)
}

func workedFindings(t *testing.T, list diag.List) {
	t.Helper()
	type finding struct {
		Code  string
		Weeks []int
	}
	var got []finding
	var said strings.Builder
	for _, d := range list.Active() {
		if d.Severity == diag.Advice {
			continue
		}
		got = append(got, finding{d.Code, d.Weeks})
		said.WriteString(d.Summary + "\n" + d.Detail + "\n")
		if d.Severity != diag.Warning {
			t.Errorf("%s is an %s: %s", d.Code, d.Severity, d.Summary)
		}
	}
	want := []finding{{"weekly-growth", []int{2}}, {"weekly-growth", []int{3}}, {"two-days", []int{6}}, {"session-spike", []int{6}}}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
	for _, fact := range []string{
		"6 h 30 min to 7 h 15 min", // 11.5 % more
		"Week 3 grows by 10.3 % over week 2",
		"week 6) is 45 min longer than any ride of the 30 days before",
		"3 h 30 min, and the longest was 2 h 45 min",
		"Saturday and Sunday of week 6 hold 69 % of the week",
	} {
		if !strings.Contains(said.String(), fact) {
			t.Errorf("nothing says %q", fact)
		}
	}
}
