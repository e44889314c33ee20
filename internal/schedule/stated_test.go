package schedule

import (
	"testing"

	"towpath/internal/units"
)

// A ride of which nothing was placed says what stood in its way, where its shortest length did.
func TestTooLittle(t *testing.T) {
	tests := []struct {
		name           string
		wished, placed int
		tuesday        day // the one day on which the ride may stand
		want           string
	}{
		{"less wished than one lasts", 70, 0, day{open: true, room: 120}, ": one lasts at least 75 min"},
		{"its day too short", 120, 0, day{open: true, room: 60}, ": its days have room for 60 min, and one lasts at least 75 min"},
		{"its day closed", 120, 0, day{room: 90}, ": no day that it may fall on has room"},
		{"its day full", 120, 0, day{open: true}, ": no day that it may fall on has room"},
		{"another reason", 120, 0, day{open: true, room: 90}, ""},
		{"some of it placed", 120, 75, day{open: true, room: 90}, ""},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			p := &problem{rides: []ride{{atLeast: 75, rank: [daysInWeek]int{-1, 0, -1, -1, -1, -1, -1}}}}
			p.days[0] = day{open: true, room: 300}
			p.days[1] = tt.tuesday
			m := Mix{Wished: units.Minutes(tt.wished), Placed: units.Minutes(tt.placed)}
			if got := (&placer{}).tooLittle(m, p, 0); got != tt.want {
				t.Errorf("got %q, want %q", got, tt.want)
			}
		})
	}
}
