package prescription

import (
	"strings"
	"testing"

	"towpath/internal/units"
)

// Each session is looked at by the clocks of the zone that the rider is in: those of Paris change on a
// day on which those of Lima do not.
func TestClocksOfAJourney(t *testing.T) {
	day, night := units.NewDate(2027, 3, 28), units.NewClock(2, 30)
	sessions := []Session{
		{Name: "Steady", Date: day, Start: night, Minutes: 60, Zone: "America/Lima"},
		{Name: "Club", Date: day, Start: night, Minutes: 60, Zone: "Europe/Paris", Given: true, Fixed: "club"},
	}
	got := clockFaults(sessions, "a")
	if len(got) != 1 || !strings.Contains(got[0].Summary, "Club") || !strings.Contains(got[0].Detail, `at = "10:00"`) {
		t.Errorf("%v", got)
	}
}

// The clocks of Paris go from 02:00 to 03:00 on 2027-03-28 and back from 03:00 to 02:00 on
// 2027-10-31: Directive 2000/84/EC of the European Union, articles 1 to 3.
func TestClockFaults(t *testing.T) {
	spring, autumn := units.NewDate(2027, 3, 28), units.NewDate(2027, 10, 31)
	tests := []struct {
		name    string
		date    units.Date
		start   units.Clock
		minutes units.Minutes
		want    int
	}{
		{"begins in the gap", spring, units.NewClock(2, 30), 90, 1},
		{"rides until just after the gap", spring, units.NewClock(1, 0), 75, 0}, // 60 min to the gap, so it ends at 03:15
		{"rides across the gap", spring, units.NewClock(1, 0), 120, 0},
		{"begins in the doubled hour", autumn, units.NewClock(2, 15), 120, 1},
		{"ends in the doubled hour", autumn, units.NewClock(1, 0), 90, 1},
		{"rides through the doubled hour", autumn, units.NewClock(1, 0), 200, 0},
		{"an ordinary morning", autumn, units.NewClock(9, 0), 240, 0},
		{"from the evening before into the doubled hour", autumn.Add(-1), units.NewClock(23, 0), 210, 1},
		{"no hour", spring, 0, 90, 0},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			s := Session{Name: "Steady", Date: tt.date, Start: tt.start, Minutes: tt.minutes, Zone: "Europe/Paris"}
			if got := clockFaults([]Session{s}, "a"); len(got) != tt.want {
				t.Errorf("got %d faults, want %d: %v", len(got), tt.want, got)
			}
		})
	}
}
