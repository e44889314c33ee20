package plan

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"towpath/internal/record"
	"towpath/internal/spec"
	"towpath/internal/units"
)

func set[T any](v T) spec.Value[T] { return spec.Value[T]{V: v, Set: true} }

func share(s units.Share) spec.Value[spec.Amount] { return set(spec.Amount{Share: s, IsShare: true}) }

func minutes(m units.Minutes) spec.Value[spec.Amount] {
	return set(spec.Amount{Duration: m.Duration()})
}

// The weekly totals are arithmetic on five-minute quanta; the expected rows were worked out by
// hand from the definition (each loading week on the last loading week, recovery weeks a share of
// it and no reference). Step loading in cycles of three or four weeks: common practice, no source.
func TestTotals(t *testing.T) {
	tests := []struct {
		name string
		spec spec.Block
		want []units.Minutes
	}{
		{
			name: "three loading weeks to one recovery week, a tenth more each",
			spec: spec.Block{
				Weeks:    set(8),
				Volume:   &spec.Volume{First: minutes(300), Growth: share(0.10)},
				Recovery: &spec.Recovery{Every: set(4), Keep: set(units.Share(0.6))},
			},
			want: []units.Minutes{300, 330, 360, 215, 395, 430, 470, 280},
		},
		{
			name: "two to one, half an hour more each",
			spec: spec.Block{
				Weeks:    set(6),
				Volume:   &spec.Volume{First: minutes(240), Growth: minutes(30)},
				Recovery: &spec.Recovery{Weeks: set([]int{3, 6}), Keep: set(units.Share(0.6))},
			},
			want: []units.Minutes{240, 270, 160, 300, 330, 195},
		},
		{
			name: "eight percent, where binary fractions would lose a quantum",
			spec: spec.Block{
				Weeks:    set(8),
				Volume:   &spec.Volume{First: minutes(300), Growth: share(0.08)},
				Recovery: &spec.Recovery{Every: set(4), Keep: set(units.Share(0.6))},
			},
			want: []units.Minutes{300, 320, 345, 205, 370, 395, 425, 255},
		},
		{
			name: "a cap, and a week in the coach's own hand that later weeks grow on",
			spec: spec.Block{
				Weeks:     set(5),
				Volume:    &spec.Volume{First: minutes(200), Growth: minutes(60), AtMost: set(units.Minutes(330).Duration())},
				WeekNotes: []*spec.Week{{Number: set(2), Hours: set(units.Minutes(230).Duration())}},
			},
			want: []units.Minutes{200, 230, 290, 330, 330},
		},
		{
			name: "a recovery week first keeps a share of the first loading week",
			spec: spec.Block{
				Weeks:    set(2),
				Volume:   &spec.Volume{First: minutes(200)},
				Recovery: &spec.Recovery{Weeks: set([]int{1}), Keep: set(units.Share(0.5))},
			},
			want: []units.Minutes{100, 200},
		},
		{
			name: "a share of the recent weeks",
			spec: spec.Block{Weeks: set(1), Volume: &spec.Volume{First: set(spec.Amount{Share: 1.1, IsShare: true, OfRecent: true})}},
			want: []units.Minutes{250}, // 1.1 times the mean 230 is 253
		},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			r := &resolver{}
			b := &Block{Start: units.NewDate(2027, 3, 1), Athlete: &Athlete{Recent: []units.Minutes{220, 240, 230, 230}}}
			if !r.totals(&tt.spec, b, nil, 0) {
				t.Fatalf("no totals: %v", r.diags)
			}
			var got []units.Minutes
			for _, w := range b.Weeks {
				got = append(got, w.Asked)
			}
			if diff := cmp.Diff(tt.want, got); diff != "" {
				t.Errorf("weekly totals (-want +got):\n%s", diff)
			}
		})
	}
}

// What was delivered stands, and the next week grows on it.
func TestTotalsOfDeliveredWeeks(t *testing.T) {
	start := units.NewDate(2027, 3, 1)
	s := spec.Block{Label: spec.Label{Key: "base"}, Weeks: set(3), Volume: &spec.Volume{First: minutes(300), Growth: minutes(30)}}
	rec := &record.Athlete{Sessions: []record.Session{{Block: "base", Date: start.Add(2), WeekAsked: 260}}}
	r := &resolver{}
	b := &Block{Key: "base", Start: start, Athlete: &Athlete{}}
	r.totals(&s, b, rec, start.Add(7))
	for i, want := range []units.Minutes{260, 290, 320} {
		if got := b.Weeks[i].Asked; got != want {
			t.Errorf("week %d: got %s, want %s", i+1, got, want)
		}
	}
}

func TestShareOfRecentWithoutRecentIsAnError(t *testing.T) {
	r := &resolver{}
	s := spec.Block{Weeks: set(1), Volume: &spec.Volume{First: set(spec.Amount{Share: 1, IsShare: true, OfRecent: true})}}
	if r.totals(&s, &Block{Athlete: &Athlete{Key: "a"}}, nil, 0) || !r.diags.HasErrors() {
		t.Errorf("got totals without recent weeks, diagnostics %v", r.diags)
	}
}
