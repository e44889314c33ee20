package schedule

import (
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/hashicorp/hcl/v2"

	"towpath/internal/diag"
	"towpath/internal/plan"
	"towpath/internal/units"
)

// weekOf is a week of one free ride on five days, two of which cannot both be long.
func weekOf(total int) build {
	free := rideOf("free", 30, 60)
	free.Rest = true
	return build{inARow: 7, days: [7]int{0, 60, 75, 60, 0, 180, 120}, totals: []int{total}, rides: []*plan.Ride{free}, longApart: true}
}

func conflictsOf(b *plan.Block, longDay int) (*chain, []*conflict) {
	pl := newPlacer(b, nil, 0)
	pl.longDay, pl.percent = longDay, 0
	c := newChain(pl)
	var out []*conflict
	carries := []carry{{}}
	for i, w := range b.Weeks {
		after := c.reach(i, carries)
		if len(after) == 0 {
			out = append(out, c.conflict(w, carries))
			after = []carry{{}}
		}
		carries = after
	}
	return c, out
}

func TestConflict(t *testing.T) {
	if _, found := conflictsOf(weekOf(490).block(), 120); len(found) > 0 {
		t.Errorf("490 min do not fit, want a placement")
	}
	tests := []struct {
		name    string
		total   int
		groups  groups
		repairs []string
	}{
		{"five minutes too many", 495, groupTotal | groupLimits | groupLong, []string{
			`a week of 8 h 10 min (5 min less), as week "1" { hours = "8 h 10 min" }`, "5 min more on Tuesday", "5 min more on Wednesday", "5 min more on Thursday",
			"5 min more on Saturday", "30 min on Monday (closed so far)", "30 min on Friday (closed so far)", "65 min more on Sunday",
			"long days next to each other allowed (long_days_apart)",
		}},
		{"more than the days hold", 500, groupTotal | groupLimits, []string{
			`a week of 8 h 10 min (10 min less), as week "1" { hours = "8 h 10 min" }`, "10 min more on Tuesday", "10 min more on Wednesday", "10 min more on Thursday",
			"10 min more on Saturday", "30 min on Monday (closed so far)", "30 min on Friday (closed so far)", "70 min more on Sunday",
		}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			_, found := conflictsOf(weekOf(tt.total).block(), 120)
			if len(found) != 1 {
				t.Fatalf("got %d conflicts, want 1", len(found))
			}
			c := found[0]
			if c.groups != tt.groups {
				t.Errorf("groups %b, want %b", c.groups, tt.groups)
			}
			var got []string
			for _, r := range c.repairs {
				got = append(got, r.what+r.day+r.after)
			}
			if diff := cmp.Diff(tt.repairs, got); diff != "" {
				t.Errorf("repairs (-want +got):\n%s", diff)
			}
		})
	}
}

// A repair that opens a date counts the fixed ride that comes back with it: 65 min would do, but then
// the ride takes 45 of them, and the rest is too short for another.
func TestFixedRideComesBack(t *testing.T) {
	club := &plan.Session{Key: "club", Title: "Club ride"}
	tests := []struct {
		name   string
		paused plan.Paused
		change func(*plan.Block)
		want   string
	}{
		{"nothing paused", plan.Paused{}, func(*plan.Block) {}, "65 min on Monday 2027-03-01 (no riding so far)"},
		{"a ride of 45 min", plan.Paused{Minutes: 45}, func(*plan.Block) {}, "75 min on Monday 2027-03-01 (no riding so far)"},
		{"longer than what is missing", plan.Paused{Minutes: 90}, func(*plan.Block) {}, "65 min on Monday 2027-03-01 (no riding so far)"},
		{"paused by a journey", plan.Paused{Minutes: 45}, func(b *plan.Block) {
			b.Athlete.Travels = []plan.Travel{{From: monday, To: monday, Zone: "Europe/Oslo"}}
		}, "65 min on Monday 2027-03-01 (no riding so far)"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			in := weekOf(560)
			in.days[0], in.away, in.longApart = 90, []units.Date{monday}, false
			b := in.block()
			if tt.paused.Minutes > 0 {
				tt.paused.Date, tt.paused.Fixed, tt.paused.Session = monday, "club", club
				b.Weeks[0].Paused = []plan.Paused{tt.paused}
			}
			tt.change(b)
			_, found := conflictsOf(b, 150)
			var got []string
			for _, c := range found {
				for _, r := range c.repairs {
					got = append(got, r.what+r.day+r.after)
				}
			}
			if !slices.Contains(got, tt.want) {
				t.Errorf("got %q, want %s among them", got, tt.want)
			}
		})
	}
}

// What has a time of its own on a closed day takes it from the day once that is opened.
func TestOwnTimeOfClosedDay(t *testing.T) {
	b := weekOf(545).block()
	b.Limits.LongDaysApart.Value = false
	b.Weeks[0].Given = []*plan.Given{{Date: monday, Minutes: 20, Session: &plan.Session{Key: "club", Title: "Club ride"}, Fixed: "club", Apart: true}}
	_, found := conflictsOf(b, 150)
	if len(found) != 1 || !slices.ContainsFunc(found[0].repairs, func(r repair) bool { return r.what+r.day+r.after == "50 min on Monday (closed so far)" }) {
		t.Errorf("got %+v, want 50 min on Monday", found)
	}
}

func at(line int) diag.Range { return diag.Range{Filename: "block.hcl", Start: hcl.Pos{Line: line}} }

func TestConflictText(t *testing.T) {
	pinned := func(b *plan.Block) {
		b.Weeks[0].Given = []*plan.Given{{Date: monday.Add(5), Minutes: 180, Ride: b.Weeks[0].Rides[0], Session: b.Weeks[0].Rides[0].Session, Range: at(40)}}
	}
	tests := []struct {
		name    string
		build   build
		change  func(*plan.Block)
		summary string
		detail  string
		related []string
	}{
		{
			"days", weekOf(500), func(b *plan.Block) {},
			"Week 1 cannot hold 8 h 20 min: the days allow 8 h 15 min",
			"Any one of these makes it fit: a week of 8 h 15 min (5 min less); 5 min more on Tuesday, Wednesday, Thursday, Saturday or Sunday; 30 min on Monday or Friday (closed so far).",
			[]string{"Tuesday can hold 60 min", "Wednesday can hold 75 min", "Thursday can hold 60 min", "Saturday can hold 3 h", "Sunday can hold 2 h"},
		},
		{
			"pins above the total", weekOf(150), pinned,
			"Week 1 has only 2 h 30 min: the given sessions need 3 h",
			`Any one of these makes it fit: a week of 3 h (30 min more), as week "1" { hours = "3 h" }; free on Saturday at 2 h 30 min (30 min less).`,
			[]string{"free is given on Saturday, 3 h"},
		},
		{
			"too many rides", weekOf(300), func(b *plan.Block) {
				b.Weeks[0].Rides[0].PerWeek = units.One(6)
				b.Weeks[0].Rides[0].PerWeekRange = at(30)
			},
			"Week 1 cannot be placed: the days and the rides' numbers per week leave no room for it",
			"Any one of these makes it fit: 30 min on Monday or Friday (closed so far); \"free\" 5 times a week at the least.",
			[]string{`"free" comes 6 a week`, "Tuesday can hold 60 min", "Wednesday can hold 75 min", "Thursday can hold 60 min", "Saturday can hold 3 h", "Sunday can hold 2 h"},
		},
		{
			"rest days", weekOf(310), func(b *plan.Block) {
				b.Limits.RestDays.Value, b.Limits.RestDays.Range = 5, at(50)
			},
			"Week 1 cannot hold 5 h 10 min: the days and rest_days allow 5 h",
			"Any one of these makes it fit: a week of 5 h (10 min less); 10 min more on Saturday or Sunday; 55 min more on Wednesday. 3 more changes would do.",
			[]string{"rest days: 5", "Tuesday can hold 60 min", "Wednesday can hold 75 min", "Thursday can hold 60 min", "Saturday can hold 3 h", "Sunday can hold 2 h"},
		},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			b := tt.build.block()
			for i := range b.Athlete.Days {
				b.Athlete.Days[i].Range = at(i + 1)
			}
			b.Weeks[0].Range = at(20)
			tt.change(b)
			_, diags := Place(b, nil, 0)
			if len(diags) != 1 || diags[0].Code != "week-does-not-fit" || diags[0].Subject != at(20) {
				t.Fatalf("got %+v", diags)
			}
			if diff := cmp.Diff(tt.summary, diags[0].Summary); diff != "" {
				t.Errorf("summary (-want +got):\n%s", diff)
			}
			if diff := cmp.Diff(tt.detail, diags[0].Detail); diff != "" {
				t.Errorf("detail (-want +got):\n%s", diff)
			}
			var related []string
			for _, r := range diags[0].Related {
				related = append(related, r.Message)
			}
			if !slices.Equal(related, tt.related) {
				t.Errorf("related %q, want %q", related, tt.related)
			}
		})
	}
}
