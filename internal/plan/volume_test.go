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
		{
			name: "a share of the recent weeks is capped as well",
			spec: spec.Block{Weeks: set(2), Volume: &spec.Volume{First: set(spec.Amount{Share: 1.1, IsShare: true, OfRecent: true}), AtMost: set(units.Minutes(240).Duration())}},
			want: []units.Minutes{240, 240},
		},
		{
			name: "a week off is no reference",
			spec: spec.Block{
				Weeks: set(4), Volume: &spec.Volume{First: minutes(200), Growth: minutes(20)},
				WeekNotes: []*spec.Week{{Number: set(2), Hours: set(units.Duration(0))}},
			},
			want: []units.Minutes{200, 0, 220, 240},
		},
		{
			name: "growth that is no multiple of five minutes",
			spec: spec.Block{Weeks: set(4), Volume: &spec.Volume{First: minutes(202), Growth: minutes(12)}},
			want: []units.Minutes{200, 210, 220, 230},
		},
		{
			name: "without growth",
			spec: spec.Block{Weeks: set(2), Volume: &spec.Volume{First: minutes(200)}},
			want: []units.Minutes{200, 200},
		},
		{
			name: "growth of nothing",
			spec: spec.Block{Weeks: set(2), Volume: &spec.Volume{First: minutes(200), Growth: share(0)}},
			want: []units.Minutes{200, 200},
		},
		{
			name: "each week in the coach's own hand, without a volume",
			spec: spec.Block{Weeks: set(2), WeekNotes: []*spec.Week{
				{Number: set(2), Hours: set(units.Minutes(190).Duration())}, {Number: set(1), Hours: set(units.Minutes(183).Duration())},
			}},
			want: []units.Minutes{183, 190},
		},
		{
			name: "a recovery week whose share is left out",
			spec: spec.Block{Weeks: set(2), Volume: &spec.Volume{First: minutes(200)}, Recovery: &spec.Recovery{Weeks: set([]int{2})}},
			want: []units.Minutes{200, 120},
		},
		{
			name: "two recovery weeks in a row keep the same reference",
			spec: spec.Block{Weeks: set(3), Volume: &spec.Volume{First: minutes(200)}, Recovery: &spec.Recovery{Weeks: set([]int{2, 3}), Keep: set(units.Share(0.5))}},
			want: []units.Minutes{200, 100, 100},
		},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			r := &resolver{}
			b := &Block{Start: units.NewDate(2027, 3, 1), Athlete: &Athlete{Recent: []units.Minutes{220, 240, 230, 230}}}
			if !r.totals(&entry{block: &tt.spec}, b, nil, 0) {
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
	r.totals(&entry{block: &s}, b, rec, start.Add(7))
	for i, want := range []units.Minutes{260, 290, 320} {
		if got := b.Weeks[i].Asked; got != want {
			t.Errorf("week %d: got %s, want %s", i+1, got, want)
		}
	}
}

// A delivered recovery week is no reference either, and a week that is not over is reckoned anew.
func TestTotalsOfDeliveredRecovery(t *testing.T) {
	s := spec.Block{
		Label: spec.Label{Key: "base"}, Weeks: set(4), Volume: &spec.Volume{First: minutes(300), Growth: minutes(30)},
		Recovery: &spec.Recovery{Weeks: set([]int{2}), Keep: set(units.Share(0.5))},
	}
	rec := &record.Athlete{Sessions: []record.Session{
		{Block: "other", Date: march, WeekAsked: 999}, {Block: "base", Date: march.Add(8), WeekAsked: 140}, {Block: "base", Date: march.Add(15), WeekAsked: 350},
	}}
	r := &resolver{}
	b := &Block{Key: "base", Start: march, Athlete: &Athlete{}}
	r.totals(&entry{block: &s}, b, rec, march.Add(20))
	for i, want := range []units.Minutes{300, 140, 330, 360} {
		if got := b.Weeks[i].Asked; got != want {
			t.Errorf("week %d: got %s, want %s", i+1, got, want)
		}
	}
}

// Weeks that would never end in sense are one error, and the reckoning goes on.
func TestTotalsOutOfBounds(t *testing.T) {
	tests := []struct {
		name string
		spec spec.Block
		code string
		ok   bool
	}{
		{"growth without end", spec.Block{Weeks: set(52), Volume: &spec.Volume{First: minutes(300), Growth: share(1e9)}}, "week-too-long", true},
		{"hours without end", spec.Block{Weeks: set(2), Volume: &spec.Volume{First: minutes(300)}, WeekNotes: []*spec.Week{{Number: set(1), Hours: set(units.Minutes(20000).Duration())}}}, "week-too-long", true},
		{"a first week of nothing", spec.Block{Weeks: set(2), Volume: &spec.Volume{First: minutes(4)}}, "first-week-empty", false},
		{"a share of nothing", spec.Block{Weeks: set(2), Volume: &spec.Volume{First: set(spec.Amount{IsShare: true, OfRecent: true})}}, "first-week-empty", false},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			r := &resolver{}
			b := &Block{Start: march, Athlete: &Athlete{Recent: []units.Minutes{200}}}
			if ok := r.totals(&entry{block: &tt.spec}, b, nil, 0); ok != tt.ok {
				t.Errorf("got %v, want %v", ok, tt.ok)
			}
			if got := codes(r.diags); len(got) != 1 || got[0] != tt.code {
				t.Errorf("got %q, want %q", got, tt.code)
			}
			for _, w := range b.Weeks {
				if w.Asked < 0 || w.Asked > wholeWeek {
					t.Errorf("week %d asks for %d min", w.Number, w.Asked)
				}
			}
		})
	}
}

func TestShareOfRecentWithoutRecentIsAnError(t *testing.T) {
	r := &resolver{}
	s := spec.Block{Weeks: set(1), Volume: &spec.Volume{First: set(spec.Amount{Share: 1, IsShare: true, OfRecent: true})}}
	if r.totals(&entry{block: &s}, &Block{Athlete: &Athlete{Key: "a"}}, nil, 0) || !r.diags.HasErrors() {
		t.Errorf("got totals without recent weeks, diagnostics %v", r.diags)
	}
}
