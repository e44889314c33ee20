package schedule

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"towpath/internal/plan"
	"towpath/internal/record"
	"towpath/internal/units"
)

// fixedOn gives a fixed ride outside the mix.
func fixedOn(date units.Date, minutes units.Minutes) *plan.Given {
	s := &plan.Session{Key: "club_ride", Title: "Club ride"}
	return &plan.Given{Date: date, Minutes: minutes, Session: s, Fixed: "club"}
}

// sessionsOf prints a week.
func sessionsOf(w Week) string {
	var out []string
	for _, x := range w.Sessions {
		s := fmt.Sprintf("%s %s %d", x.Date.Weekday().String()[:3], x.Session.Key, x.Minutes)
		if !x.Start.IsZero() {
			s += " " + x.Start.String()
		}
		out = append(out, s)
	}
	return strings.Join(out, ", ")
}

func TestDates(t *testing.T) {
	clock := func(h, m int) units.Clock { return units.NewClock(h, m) }
	tests := []struct {
		name   string
		total  int
		change func(*plan.Block)
		want   string
	}{
		{"beside a fixed ride", 255, func(b *plan.Block) {
			b.Weeks[0].Given = []*plan.Given{fixedOn(monday.Add(5), 60)}
			b.Athlete.Days = [7]plan.Day{5: {Limit: 180}, 6: {Limit: 75}}
		}, "Sat club_ride 60, Sat free 120, Sun free 75"},
		{"beside one that stands apart", 315, func(b *plan.Block) {
			b.Weeks[0].Given = []*plan.Given{fixedOn(monday.Add(5), 60)}
			b.Weeks[0].Given[0].Apart = true
			b.Athlete.Days = [7]plan.Day{5: {Limit: 180}, 6: {Limit: 75}}
		}, "Sat club_ride 60, Sat free 180, Sun free 75"},
		{"behind a fixed ride", 150, func(b *plan.Block) {
			b.Weeks[0].Given = []*plan.Given{fixedOn(monday.Add(5), 60)}
			b.Weeks[0].Given[0].Start = clock(9, 30)
			b.Athlete.Days = [7]plan.Day{5: {Limit: 180, Start: clock(9, 0)}}
		}, "Sat club_ride 60 09:30, Sat free 90 10:30"},
		{"before a fixed ride", 150, func(b *plan.Block) {
			b.Weeks[0].Given = []*plan.Given{fixedOn(monday.Add(5), 60)}
			b.Weeks[0].Given[0].Start = clock(17, 0)
			b.Athlete.Days = [7]plan.Day{5: {Limit: 180, Start: clock(9, 0)}}
		}, "Sat club_ride 60 17:00, Sat free 90 09:00"},
		{"a week off", 0, func(b *plan.Block) { b.RidesPerWeek = units.Range[int]{Low: 4, High: 4} }, ""},
		{"before the rider joins", 0, func(b *plan.Block) {
			b.RidesPerWeek, b.Weeks[0].Rides = units.Range[int]{Low: 4, High: 4}, nil
		}, ""},
		{"the event's day and the one before", 180, func(b *plan.Block) {
			b.Events = []*plan.Event{{Date: monday.Add(6)}}
			b.Weeks[0].Rides[0].Session.Light = true
			b.Athlete.Days = [7]plan.Day{4: {Limit: 180}, 5: {Limit: 180}, 6: {Limit: 180}}
			b.Weeks[0].Rides[0].PerWeek = units.One(2)
		}, "Fri free 120, Sat free 60"},
		{"an event next week", 180, func(b *plan.Block) {
			b.Events = []*plan.Event{{Date: monday.Add(7)}}
			b.Athlete.Days = [7]plan.Day{5: {Limit: 180}, 6: {Limit: 180}}
		}, "Sat free 180"},
		{"only light rides beside demanding sport", 60, func(b *plan.Block) {
			b.Athlete.Other = []*plan.Other{{Days: []time.Weekday{time.Tuesday, time.Wednesday}, Demanding: true}}
		}, "Thu free 60"},
		{"a roster", 150, func(b *plan.Block) {
			b.Athlete.Rostered = map[units.Date]plan.Day{}
			for i := range 7 {
				b.Athlete.Rostered[monday.Add(i)] = plan.Day{Limit: units.Minutes(75 * (i % 2))}
			}
			b.Athlete.Exceptions[monday.Add(1)] = plan.Day{}
		}, "Thu free 75, Sat free 75"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			b := weekOf(tt.total).block()
			b.Limits.LongDaysApart.Value = false
			tt.change(b)
			s, diags := Place(b, nil, 0)
			if diags.HasErrors() {
				t.Fatal(diags[0].Summary)
			}
			if got := sessionsOf(s.Weeks[0]); got != tt.want {
				t.Errorf("got %s, want %s", got, tt.want)
			}
		})
	}
}

// The ordinary week has the fixed rides that most weeks have, and there is none with a roster.
func TestBaseWeekOfFixedRides(t *testing.T) {
	in := weekOf(0)
	in.days = [7]int{0, 90, 0, 90, 0, 90, 0}
	in.totals = []int{210, 210, 210, 0}
	b := in.block()
	for _, w := range b.Weeks[:2] {
		w.Given = []*plan.Given{fixedOn(w.Start.Add(1), 70)}
	}
	b.Weeks[2].Given = []*plan.Given{fixedOn(b.Weeks[2].Start.Add(3), 70)}
	b.Weeks[3].Rides = nil
	pl := newPlacer(b, nil, 0)
	want := &[7]string{3: "free", 5: "free"} // no room is left beside the ride of Tuesday
	if diff := cmp.Diff(want, pl.baseWeek()); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
	b.Athlete.Rostered = map[units.Date]plan.Day{}
	if got := pl.baseWeek(); got != nil {
		t.Errorf("got %v with a roster, want none", got)
	}
}

func TestTolerance(t *testing.T) {
	tests := []struct {
		name      string
		total     int
		tolerance units.Share
		want      string
	}{
		{"fits", 490, 0.1, "8 h 10 min "},
		{"cut", 520, 0.06, "8 h 10 min 30 min less than the 8 h 40 min asked, within the tolerance of 6 %: no more can be placed"},
		{"to the minute", 500, 0.02, "8 h 10 min 10 min less than the 8 h 20 min asked, within the tolerance of 2 %: no more can be placed"},
		{"not that far", 505, 0.02, "Week 1 cannot hold 8 h 25 min: the days and long_days_apart allow 8 h 10 min. The tolerance of 2 % reaches down to 8 h 15 min. " +
			"Any one of these makes it fit: 5 min more on Tuesday, Wednesday, Thursday or Saturday; a week of 8 h 10 min (15 min less), as week \"1\" { hours = \"8 h 10 min\" }; 30 min on Monday or Friday (closed so far). 3 more changes would do."},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			b := weekOf(tt.total).block()
			b.Tolerance = tt.tolerance
			pl := newPlacer(b, nil, 0)
			pl.longDay, pl.percent = 120, 0
			c := newChain(pl)
			var got string
			if problems, placements, ok := c.place(); ok {
				w := pl.week(b.Weeks[0], problems[0], placements[0])
				got = fmt.Sprint(w.Placed, " ", strings.Join(w.Stated, "; "))
			} else {
				d := c.conflicts()[0]
				got = d.Summary + ". " + d.Detail
			}
			if !strings.HasPrefix(got, tt.want) {
				t.Errorf("got %s, want %s", got, tt.want)
			}
		})
	}
}

// Of two recorded sessions on a date one is the fixed ride, the other was placed.
func TestDeliveries(t *testing.T) {
	w := weekOf(300).block().Weeks[0]
	free := w.Rides[0]
	club := fixedOn(monday.Add(1), 40)
	club.Ride, club.Session = free, free.Session
	w.Given = []*plan.Given{club}
	rec := func(key string, minutes int) record.Session {
		return record.Session{Block: "block", Date: monday.Add(1), Ride: "free", Session: "free", Minutes: units.Minutes(minutes), Key: key}
	}
	tests := []struct {
		name     string
		recorded []record.Session
		fixed    int // minutes, 0 where there is none
		placed   int
	}{
		{"nothing", nil, 0, 0},
		{"by their keys", []record.Session{rec("block/w01/free-1", 40), rec("block/w01/club_tue-1", 60)}, 60, 40},
		{"by their minutes", []record.Session{rec("", 60), rec("", 40)}, 40, 60},
		{"one that was placed", []record.Session{rec("block/w01/free-1", 40)}, 0, 40},
		{"one that is fixed", []record.Session{rec("block/w01/club_tue-1", 60)}, 60, 0},
		{"one of the kind", []record.Session{rec("", 60)}, 60, 0},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			b := weekOf(300).block()
			b.Weeks[0] = w
			pl := newPlacer(b, &record.Athlete{Sessions: tt.recorded}, monday)
			got := pl.deliveries(w, monday.Add(1))
			fixed, placed := 0, 0
			if r := got.given[club]; r != nil {
				fixed = r.minutes
			}
			if got.placed != nil {
				placed = got.placed.minutes
			}
			if fixed != tt.fixed || placed != tt.placed {
				t.Errorf("got %d fixed and %d placed, want %d and %d", fixed, placed, tt.fixed, tt.placed)
			}
		})
	}
}

// All of a past date's sessions stay, the fixed ride with its place in the plan.
func TestPastOfFixedRides(t *testing.T) {
	b := weekOf(300).block()
	club := fixedOn(monday.Add(1), 40)
	b.Weeks[0].Given = []*plan.Given{club}
	rec := &record.Athlete{Sessions: []record.Session{
		{Block: "block", Date: monday.Add(1), Session: "club_ride", Minutes: 45, Key: "block/w01/club_tue-1"},
		{Block: "block", Date: monday.Add(1), Ride: "free", Session: "free", Minutes: 60, Key: "block/w01/free-1"},
	}}
	s, diags := Place(b, rec, monday.Add(2))
	if diags.HasErrors() {
		t.Fatal(diags[0].Summary)
	}
	x := s.Weeks[0].Sessions
	if len(x) < 3 || x[0].Given != club || x[0].Minutes != 45 || x[1].Given != nil || x[1].Minutes != 60 || s.Weeks[0].Placed != 300 {
		t.Errorf("got %s", sessionsOf(s.Weeks[0]))
	}
}

func TestBeside(t *testing.T) {
	b := weekOf(300).block()
	b.Athlete.Rostered = map[units.Date]plan.Day{monday: {Limit: 60}, monday.Add(1): {}, monday.Add(2): {Limit: 60}}
	b.Athlete.Exceptions[monday.Add(2)] = plan.Day{Way: 20}
	b.Athlete.Days[3].Squad = "north"
	b.Athlete.Other = []*plan.Other{
		{Key: "climbing", Title: "climbing", Days: []time.Weekday{time.Thursday}, Minutes: 90, Demanding: true}, {Key: "swim", Title: "Swimming", Date: monday.Add(3)},
	}
	b.Athlete.Travels = []plan.Travel{{From: monday.Add(5), To: monday.Add(5), Zone: "Europe/Oslo"}}
	b.Events = []*plan.Event{{Title: "Coast to coast", Date: monday.Add(6)}}
	b.Weeks[0].Paused = []plan.Paused{{Date: monday.Add(5), Fixed: "club", Minutes: 75, Why: "away"}}
	b.Weeks[0].Given = []*plan.Given{{Date: monday.Add(4), Session: &plan.Session{Title: "Ramp", Protocol: true, Maximal: true}, Test: &plan.TestDay{}}}
	want := []string{
		"Monday by the roster: it can hold 60 min",
		"Tuesday by the roster: no riding",
		"2027-03-03 has a line of its own: only the way to work; two days before Ramp: under 2 h",
		`Thursday by squad "north": it can hold 60 min; other sport: climbing, 90 min, demanding: only light rides are placed beside it; other sport: Swimming; the day before Ramp: light, and at most 60 min`,
		"",
		`away, by the clock of Europe/Oslo; the fixed ride "club" of 75 min pauses: away; the day before the event Coast to coast: light, and at most 60 min`,
		"the event Coast to coast: nothing is placed on it",
		"",
	}
	for i, want := range want {
		var got []string
		for _, o := range Beside(b, monday.Add(i)) {
			got = append(got, o.What)
		}
		if got := strings.Join(got, "; "); got != want {
			t.Errorf("day %d: got %q, want %q", i, got, want)
		}
	}
}
