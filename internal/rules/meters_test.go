package rules

import (
	"testing"

	"towpath/internal/plan"
	"towpath/internal/prescription"
	"towpath/internal/units"
)

func TestMetersDiffer(t *testing.T) {
	t.Parallel()
	session := func(week int, place, of string) prescription.Session {
		b := typedBand(100, 134)
		b.Meter = of
		return prescription.Session{Week: week, Date: start.Add(7 * (week - 1)), Place: place, Band: b, Targets: prescription.Targets{Power: &units.Range[int]{Low: 100, High: 120}}}
	}
	ridden := func(s prescription.Session, change func(*prescription.Session)) prescription.Session {
		change(&s)
		return s
	}
	indoors := session(3, "indoor", "")
	less := `Band "spring" holds indoors as well, where the power meter shows 4 % less`
	tests := []struct {
		name     string
		more     units.Share
		sessions []prescription.Session
		want     []seen
	}{
		{"once for all weeks", -0.04, []prescription.Session{session(1, "indoor", ""), session(2, "outdoor", ""), session(3, "indoor", "")}, []seen{{isWarning, less, []int{1, 3}, bandLine}}},
		{"the test's meter is the one outdoors", -0.04, []prescription.Session{session(1, "indoor", "pedals")}, []seen{{isWarning, less, []int{1}, bandLine}}},
		{
			"the test's meter is the one indoors", -0.04,
			[]prescription.Session{session(1, "indoor", "trainer"), session(2, "outdoor", "trainer")},
			[]seen{{isWarning, `Band "spring" holds outdoors as well, where the power meter shows 4.2 % more`, []int{2}, bandLine}},
		},
		{"a meter of its own", -0.04, []prescription.Session{session(1, "indoor", "laboratory"), session(1, "outdoor", "laboratory")}, nil},
		{"instead", -0.04, []prescription.Session{ridden(session(3, "outdoor", ""), func(s *prescription.Session) { s.Instead = &indoors })}, []seen{{isWarning, less, []int{3}, bandLine}}},
		{"at the level", 0.02, []prescription.Session{session(1, "indoor", "")}, []seen{{isWarning, `Band "spring" holds indoors as well, where the power meter shows 2 % more`, []int{1}, bandLine}}},
		{"below it", 0.019, []prescription.Session{session(1, "indoor", "")}, nil},
		{"outdoors only", -0.04, []prescription.Session{session(1, "outdoor", ""), session(2, "", "")}, nil},
		{"a band of that place", -0.04, []prescription.Session{ridden(session(1, "indoor", ""), func(s *prescription.Session) { s.Band.Place = "indoor" })}, nil},
		{"no watts", -0.04, []prescription.Session{ridden(session(1, "indoor", ""), func(s *prescription.Session) { s.Targets.Power = nil })}, nil},
		{"tests keep their own", -0.04, []prescription.Session{ridden(session(1, "indoor", ""), func(s *prescription.Session) { s.Test = true })}, nil},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			p := blockOf("- - - - - - -")
			p.Block.Athlete.Meters = &plan.Meters{Outdoor: "pedals", Indoor: "trainer", More: tt.more, Range: line(stepLine)}
			p.Sessions = tt.sessions
			check(t, metersDiffer, p, tt.want...)
		})
	}
}
