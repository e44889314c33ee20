package schedule

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"towpath/internal/plan"
	"towpath/internal/units"
)

// explained prints what would come of a week without the session placed on a date.
func explained(s *Schedule, date units.Date) string {
	o, _ := Explain(s, date)
	var out strings.Builder
	out.WriteString(o.What)
	for _, from := range o.From {
		out.WriteString("; " + from.What)
	}
	return out.String()
}

func TestExplain(t *testing.T) {
	fresh, _ := placeAt(t, twelve(8).block(), nil, 0, 120, 0)
	lost := twelve(8)
	lost.away = append(lost.away, monday.Add(17))
	again, _ := placeAt(t, lost.block(), delivered(fresh), monday.Add(14), 120, 0)
	tests := []struct {
		name string
		s    *Schedule
		date units.Date
		want string
	}{
		{"base week", fresh, monday.Add(3), `"upper" on Tuesday instead, "steady" on Thursday: 2 days more would differ from the block's ordinary week`},
		{"no other date", fresh, monday.Add(24), `no other "steady", "upper" on Thursday: "steady" would miss its 50 min by 50 min`},
		{"mix", fresh, monday.Add(47), `"long" on Sunday instead, "upper" on Saturday: "long" would miss its 2 h 50 min by 20 min`},
		{"in hand", again, monday.Add(19), `"long" on Sunday instead, "steady" on Saturday: 2 sessions more that the rider has in hand would change`},
		{"delivered", again, monday.Add(29), `"steady" on Wednesday instead: one session more of those delivered would move`},
		{"a test", fresh, monday.Add(26), ""},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if diff := cmp.Diff(tt.want, explained(tt.s, tt.date)); diff != "" {
				t.Errorf("(-want +got):\n%s", diff)
			}
		})
	}
	for _, d := range []units.Date{monday, monday.Add(-1), monday.Add(56)} {
		if got, ok := Explain(fresh, d); ok {
			t.Errorf("%s has no session, got %+v", d, got)
		}
	}
}

// A week with room for nothing else names the lines that leave none; ties come down to the last
// terms.
func TestExplainTightWeek(t *testing.T) {
	tests := []struct {
		name  string
		build build
		want  string
	}{
		{"full days", weekOf(490), `no other week is possible: the days need "free" on Tuesday; Tuesday can hold 60 min; Wednesday can hold 75 min; Thursday can hold 60 min; Saturday can hold 3 h; Sunday can hold 2 h`},
		{"spacing", weekOf(250), `"free" on Wednesday instead: more riding days would lie side by side`},
		{"order", weekOf(120), `"free" on Saturday instead: it would be as good; the rides written first and more minutes come first in the week`},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			b := tt.build.block()
			for i := range b.Athlete.Days {
				b.Athlete.Days[i].Range = at(i + 1)
			}
			b.Weeks[0].Kind = plan.Recovery // no base week
			s, _ := placeAt(t, b, nil, 0, 120, 0)
			for _, x := range s.Weeks[0].Sessions[:1] {
				if diff := cmp.Diff(tt.want, explained(s, x.Date)); diff != "" {
					t.Errorf("(-want +got):\n%s", diff)
				}
			}
		})
	}
}
