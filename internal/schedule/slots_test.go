package schedule

import (
	"fmt"
	"strings"
	"testing"

	"towpath/internal/record"
)

// Three rides of a kind were delivered; what stays on its date keeps its number, and with it its
// key, whatever else comes and goes.
func TestSlots(t *testing.T) {
	recorded := func(day int, key string) record.Session {
		return record.Session{Block: "block", Date: monday.Add(day), Ride: "free", Session: "free", Minutes: 60, Key: key}
	}
	tests := []struct {
		name     string
		days     [7]int
		total    int
		sessions []record.Session
		want     string
	}{
		{"nothing delivered", [7]int{0, 60, 0, 60, 0, 60, 0}, 180, nil, "Tue 1, Thu 2, Sat 3"},
		{"all stay", [7]int{0, 60, 0, 60, 0, 60, 0}, 180, []record.Session{
			recorded(1, "block/w01/free-3"), recorded(3, "block/w01/free-1"), recorded(5, "block/w01/free-2"),
		}, "Tue 3, Thu 1, Sat 2"},
		{"the first is lost", [7]int{0, 0, 0, 60, 0, 60, 0}, 120, []record.Session{
			recorded(1, "block/w01/free-1"), recorded(3, "block/w01/free-2"), recorded(5, "block/w01/free-3"),
		}, "Thu 2, Sat 3"},
		{"the first moves", [7]int{0, 0, 0, 60, 0, 60, 60}, 180, []record.Session{
			recorded(1, "block/w01/free-1"), recorded(3, "block/w01/free-2"), recorded(5, "block/w01/free-3"),
		}, "Thu 2, Sat 3, Sun 1"},
		{"one is added in front", [7]int{60, 0, 0, 60, 0, 60, 0}, 180, []record.Session{
			recorded(3, "block/w01/free-1"), recorded(5, "block/w01/free-2"),
		}, "Mon 3, Thu 1, Sat 2"},
		{"keys that tell no slot", [7]int{0, 60, 0, 60, 0, 0, 0}, 120, []record.Session{
			recorded(1, ""), recorded(3, "block/w01/free-x"),
		}, "Tue 1, Thu 2"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			in := weekOf(tt.total)
			in.days = tt.days
			s, diags := Place(in.block(), &record.Athlete{Sessions: tt.sessions}, monday)
			if diags.HasErrors() {
				t.Fatal(diags[0].Summary)
			}
			var got []string
			for _, x := range s.Weeks[0].Sessions {
				got = append(got, fmt.Sprintf("%s %d", x.Date.Weekday().String()[:3], x.Slot))
			}
			if got := strings.Join(got, ", "); got != tt.want {
				t.Errorf("got %s, want %s", got, tt.want)
			}
		})
	}
}
