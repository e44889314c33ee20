package schedule

import (
	"fmt"
	"strings"
	"testing"

	"towpath/internal/plan"
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

// Whatever shares a name shares its numbers: no two sessions of a week have the same key. A fixed ride
// has one of its own each weekday.
func TestSlotsOfOneName(t *testing.T) {
	club := func(day int) *plan.Given {
		return &plan.Given{Date: monday.Add(day), Minutes: 30, Session: &plan.Session{Key: "club", Title: "Club ride"}, Fixed: "club"}
	}
	test := &plan.Given{Date: monday.Add(3), Minutes: 60, Session: &plan.Session{Key: "steps", Title: "Steps", Protocol: true}, Test: &plan.TestDay{Key: "free"}}
	in := weekOf(240)
	in.days = [7]int{0, 90, 0, 60, 0, 90, 0}
	in.given = map[int][]*plan.Given{1: {club(1), test, club(5)}}
	s, diags := Place(in.block(), nil, 0)
	if diags.HasErrors() {
		t.Fatal(diags[0].Summary, diags[0].Detail)
	}
	var got []string
	for _, x := range s.Weeks[0].Sessions {
		got = append(got, fmt.Sprintf("%s-%d", x.Name(), x.Slot))
	}
	if got, want := strings.Join(got, " "), "club_tue-1 free-1 free-2 club_sat-1 free-3"; got != want {
		t.Errorf("got %s, want %s", got, want)
	}
}
