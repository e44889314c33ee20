package plan

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"towpath/internal/spec"
	"towpath/internal/units"
)

// week is a rider's week: Tuesday 75 min at 18:00, Saturday 3 h or 90 min indoors, Sunday 2 h.
func week() *Athlete {
	a := rider()
	a.Days[1] = Day{Limit: 75, Start: units.NewClock(18, 0), Place: "indoor"}
	a.Days[5] = Day{Limit: 180, Place: "outdoor", OrLimit: 90, OrPlace: "indoor"}
	a.Days[6] = Day{Limit: 60, Place: "outdoor", OrLimit: 120, OrPlace: "indoor"}
	return a
}

func TestPins(t *testing.T) {
	steady := &Session{Key: "steady", Title: "Steady", AtLeast: 30, AtMost: 150, Usual: 60}
	long := &Session{Key: "long", Title: "Long", AtLeast: 75, AtMost: 360, Usual: 200}
	club := &Session{Key: "club", Title: "Club", AtLeast: 30, AtMost: 300, Usual: 90}
	pin := func(day time.Weekday, edit func(*spec.Pin)) spec.Pin {
		p := spec.Pin{Day: day}
		edit(&p)
		return p
	}
	ride := func(key string, minutes units.Minutes) func(*spec.Pin) {
		return func(p *spec.Pin) {
			p.Ride = set(key)
			if minutes > 0 {
				p.Minutes = set(minutes.Duration())
			}
		}
	}
	at := func(hour int, edit func(*spec.Pin)) func(*spec.Pin) {
		return func(p *spec.Pin) {
			edit(p)
			p.At = set(units.NewClock(hour, 0))
		}
	}
	session := func(key string) func(*spec.Pin) { return func(p *spec.Pin) { p.Session = ref("session", key) } }
	tests := []struct {
		name  string
		start units.Date
		pins  []spec.Pin
		want  []string
		codes []string
	}{
		{"a ride of the mix", march, []spec.Pin{pin(time.Saturday, ride("long", 150))}, []string{"2027-03-06 Long 2 h 30 min outdoor of long"}, nil},
		{"weeks that begin on a Thursday", march.Add(3), []spec.Pin{pin(time.Tuesday, ride("steady", 45)), pin(time.Thursday, ride("steady", 45))}, []string{"2027-03-04 Steady 45 min  of steady", "2027-03-09 Steady 45 min 18:00 indoor of steady"}, nil},
		{"its usual time", march, []spec.Pin{pin(time.Tuesday, ride("steady", 0))}, []string{"2027-03-02 Steady 60 min 18:00 indoor of steady"}, nil},
		{"all that the day holds", march, []spec.Pin{pin(time.Saturday, ride("long", 0))}, []string{"2027-03-06 Long 3 h outdoor of long"}, nil},
		{"its least where the day holds less", march, []spec.Pin{pin(time.Monday, ride("steady", 0))}, []string{"2027-03-01 Steady 60 min  of steady"}, nil},
		{"indoors where only that is long enough", march, []spec.Pin{pin(time.Sunday, ride("steady", 105))}, []string{"2027-03-07 Steady 105 min indoor of steady"}, nil},
		{"a session that is in the mix", march, []spec.Pin{pin(time.Tuesday, session("steady"))}, []string{"2027-03-02 Steady 60 min 18:00 indoor of steady"}, nil},
		{"a session that is not", march, []spec.Pin{pin(time.Saturday, session("club"))}, []string{"2027-03-06 Club 90 min outdoor"}, nil},
		{"a session that is lost", march, []spec.Pin{pin(time.Saturday, session("nothing"))}, nil, nil},
		{"a ride of another week", march, []spec.Pin{pin(time.Saturday, ride("upper", 60))}, nil, []string{"unknown-ride"}},
		{"two on one day", march, []spec.Pin{pin(time.Saturday, at(14, ride("steady", 60))), pin(time.Saturday, at(8, ride("long", 120)))}, []string{"2027-03-06 Long 2 h 08:00 outdoor of long", "2027-03-06 Steady 60 min 14:00 outdoor of steady"}, nil},
		{"two at once", march, []spec.Pin{pin(time.Saturday, at(9, ride("steady", 60))), pin(time.Saturday, at(8, ride("long", 90)))}, []string{"2027-03-06 Long 90 min 08:00 outdoor of long", "2027-03-06 Steady 60 min 09:00 outdoor of steady"}, []string{"day-taken"}},
		{"two that fill more than the day", march, []spec.Pin{pin(time.Saturday, at(14, ride("steady", 65))), pin(time.Saturday, at(8, ride("long", 120)))}, []string{"2027-03-06 Long 2 h 08:00 outdoor of long", "2027-03-06 Steady 65 min 14:00 outdoor of steady"}, []string{"day-too-short"}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			r := resolverOf(nil)
			r.sessions = map[string]*Session{"steady": steady, "long": long, "club": club}
			b := &Block{Start: tt.start, Athlete: week(), Weeks: []*Week{{Number: 1, Start: tt.start, Kind: Loading}}}
			mix := &mixes{ordinary: []mixRide{
				{&Ride{Key: "long", Session: long, Share: 0.4, AtLeast: 75, AtMost: 240}, nil},
				{&Ride{Key: "steady", Session: steady, Rest: true, AtLeast: 30, AtMost: 150}, []int{1}},
				{&Ride{Key: "upper", Session: club, Share: 0.2, AtLeast: 30, AtMost: 150}, []int{2}},
			}}
			s := &spec.Block{WeekNotes: []*spec.Week{{Number: set(1), Note: set("Hello."), Pins: tt.pins}}}
			r.weeks(s, b, mix, 0)
			var got []string
			for _, g := range b.Weeks[0].Given {
				line := fmt.Sprintf("%s %s %s %s", g.Date, g.Session.Title, g.Minutes, g.Place)
				if !g.Start.IsZero() {
					line = fmt.Sprintf("%s %s %s %s %s", g.Date, g.Session.Title, g.Minutes, g.Start, g.Place)
				}
				if g.Ride != nil {
					line += " of " + g.Ride.Key
				}
				got = append(got, line)
			}
			if diff := cmp.Diff(tt.want, got); diff != "" {
				t.Errorf("given (-want +got):\n%s", diff)
			}
			if diff := cmp.Diff(tt.codes, codes(r.diags)); diff != "" {
				t.Errorf("codes (-want +got):\n%s", diff)
			}
			if b.Weeks[0].Note != "Hello." {
				t.Errorf("note %q", b.Weeks[0].Note)
			}
		})
	}
}

func TestTestDays(t *testing.T) {
	protocol := &Session{Key: "lactate_step", Title: "Step test", Protocol: true, Maximal: true, Minutes: 75}
	days := func(day time.Weekday, weeks ...int) []*spec.TestDay {
		return []*spec.TestDay{{Label: spec.Label{Key: "retest"}, Protocol: ref("protocol", "lactate_step"), Weeks: set(weeks), Day: set(day)}}
	}
	tests := []struct {
		name  string
		days  []*spec.TestDay
		pins  []spec.Pin
		asOf  units.Date
		given int
		codes []string
	}{
		{"on a day that holds it", days(time.Saturday, 2), nil, 0, 1, nil},
		{"on closed days, told once", days(time.Monday, 1, 2, 3), nil, 0, 3, []string{"day-too-short"}},
		{"on closed days that are past", days(time.Monday, 1), nil, march.Add(1), 1, nil},
		{"in a week outside", days(time.Saturday, 9), nil, 0, 0, nil},
		{"beside a pin", days(time.Saturday, 2), []spec.Pin{{Day: time.Saturday, Session: ref("session", "steady"), Minutes: set(units.Minutes(30).Duration())}}, 0, 2, []string{"day-taken"}},
		{"without a day", []*spec.TestDay{{Protocol: ref("protocol", "lactate_step")}}, nil, 0, 0, nil},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			old, newer := stepTest("old", march.Add(-100)), stepTest("newer", march.Add(-10))
			newer.Stages = newer.Stages[1:]
			newer.Place, newer.Meter = set("laboratory"), ref("meter", "ergometer")
			r := resolverOf(nil, newer, old, stepTest("later", march.Add(60)))
			steady := &Session{Key: "steady", Title: "Steady", AtLeast: 30, AtMost: 150, Usual: 60}
			r.sessions = map[string]*Session{"steady": steady}
			r.protocols = map[string]*Session{"lactate_step": protocol}
			b := &Block{Start: march, Athlete: week()}
			for n := range 3 {
				b.Weeks = append(b.Weeks, &Week{Number: n + 1, Start: march.Add(7 * n), Kind: Loading})
			}
			mix := &mixes{ordinary: []mixRide{{&Ride{Key: "steady", Session: steady, Rest: true, AtLeast: 30, AtMost: 150}, nil}}}
			r.weeks(&spec.Block{TestDays: tt.days, WeekNotes: []*spec.Week{{Number: set(2), Pins: tt.pins}}}, b, mix, tt.asOf)
			given := 0
			for _, w := range b.Weeks {
				for _, g := range w.Given {
					given++
					if g.Test != nil && (!w.Light || g.Test.Like == nil || len(g.Test.Like.Stages) != len(newer.Stages)) {
						t.Errorf("week %d is light: %v; like %v", w.Number, w.Light, g.Test.Like)
					}
					if g.Test != nil && (g.Place != "laboratory" || g.Test.Meter != "ergometer") {
						t.Errorf("place %q and meter %q are not those of the test before", g.Place, g.Test.Meter)
					}
				}
			}
			if given != tt.given {
				t.Errorf("%d given, want %d", given, tt.given)
			}
			if diff := cmp.Diff(tt.codes, codes(r.diags)); diff != "" {
				t.Errorf("codes (-want +got):\n%s", diff)
			}
		})
	}
}

func TestMix(t *testing.T) {
	ride := func(key string, edit func(*spec.Ride)) *spec.Ride {
		r := &spec.Ride{Label: spec.Label{Key: key}, Session: ref("session", "steady")}
		if edit != nil {
			edit(r)
		}
		return r
	}
	shared := func(s units.Share) func(*spec.Ride) { return func(r *spec.Ride) { r.Share = set(s) } }
	tests := []struct {
		name     string
		rides    []*spec.Ride
		recovery []*spec.Ride
		want     []string // by week; week 3 is a recovery week
		codes    []string
	}{
		{"one ride takes the rest", []*spec.Ride{ride("a", nil)}, nil, []string{"a", "a", "a"}, nil},
		{"rides of some weeks", []*spec.Ride{ride("a", nil), ride("b", func(r *spec.Ride) { r.Share, r.Weeks = set(units.Share(0.3)), set([]int{2}) })}, nil, []string{"a", "a b", "a"}, nil},
		{"a mix of its own for recovery weeks", []*spec.Ride{ride("a", nil)}, []*spec.Ride{ride("c", nil)}, []string{"a", "a", "c"}, nil},
		{"no rides", nil, nil, nil, []string{"no-rides"}},
		{"two rests", []*spec.Ride{ride("a", nil), ride("b", func(r *spec.Ride) { r.Rest = true })}, nil, []string{"a b", "a b", "a b"}, []string{"mix-two-rests"}},
		{"shares of exactly all", []*spec.Ride{ride("a", shared(0.7)), ride("b", shared(0.2)), ride("c", shared(0.1))}, nil, []string{"a b c", "a b c", "a b c"}, nil},
		{"shares over all", []*spec.Ride{ride("a", shared(0.7)), ride("b", shared(0.31))}, nil, []string{"a b", "a b", "a b"}, []string{"mix-over"}},
		{"minutes are no share", []*spec.Ride{ride("a", shared(1)), ride("b", func(r *spec.Ride) { r.Minutes = set(units.Minutes(60).Duration()) })}, nil, []string{"a b", "a b", "a b"}, nil},
		{"a week without a ride", []*spec.Ride{ride("a", func(r *spec.Ride) { r.Weeks = set([]int{1, 3}) })}, nil, []string{"a", "", "a"}, []string{"mix-empty"}},
		{"too long for its session, and the only one", []*spec.Ride{ride("a", func(r *spec.Ride) { r.AtLeast = set(units.Minutes(200).Duration()) })}, nil, []string{"a", "a", "a"}, []string{"ride-lengths"}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			r := resolverOf(nil)
			r.sessions = map[string]*Session{"steady": {Key: "steady", AtLeast: 30, AtMost: 150, Usual: 60}}
			s := &spec.Block{Label: spec.Label{Key: "b"}, Rides: tt.rides, Recovery: &spec.Recovery{Rides: tt.recovery}}
			var got []string
			if mix := r.mix(s); mix != nil {
				b := &Block{Start: march, Athlete: week()}
				for n, kind := range []WeekKind{Loading, Loading, Recovery} {
					b.Weeks = append(b.Weeks, &Week{Number: n + 1, Start: march.Add(7 * n), Kind: kind})
				}
				r.weeks(s, b, mix, 0)
				for _, w := range b.Weeks {
					keys := ""
					for i, ride := range w.Rides {
						if i > 0 {
							keys += " "
						}
						keys += ride.Key
					}
					got = append(got, keys)
				}
			}
			if diff := cmp.Diff(tt.want, got); diff != "" {
				t.Errorf("rides by week (-want +got):\n%s", diff)
			}
			if diff := cmp.Diff(tt.codes, codes(r.diags)); diff != "" {
				t.Errorf("codes (-want +got):\n%s", diff)
			}
			if tt.name == "two rests" && !strings.HasPrefix(r.diags[0].Summary, `Rides "a" and "b" both take what the others leave, in every week`) {
				t.Errorf("got %q", r.diags[0].Summary)
			}
		})
	}
}

func TestRideBounds(t *testing.T) {
	r := resolverOf(nil)
	r.sessions = map[string]*Session{"steady": {Key: "steady", AtLeast: 45, AtMost: 150, Usual: 60}}
	got := r.mixRides([]*spec.Ride{{
		Label: spec.Label{Key: "a"}, Session: ref("session", "steady"), PerWeek: on(units.Range[int]{Low: 1, High: 2}, 3),
		AtLeast: on(units.Minutes(20).Duration(), 4), AtMost: on(units.Minutes(100).Duration(), 5),
		Days: []spec.Value[time.Weekday]{on(time.Sunday, 6), on(time.Tuesday, 6)},
	}, {Label: spec.Label{Key: "b"}, Session: ref("session", "lost")}})
	if len(got) != 1 {
		t.Fatalf("got %d rides", len(got))
	}
	a := got[0]
	if a.AtLeast != 45 || a.AtMost != 100 || a.PerWeek != (units.Range[int]{Low: 1, High: 2}) || !a.Rest {
		t.Errorf("got %+v", a.Ride)
	}
	if diff := cmp.Diff([]time.Weekday{time.Sunday, time.Tuesday}, a.Days); diff != "" {
		t.Errorf("days (-want +got):\n%s", diff)
	}
	if lines := [4]int{a.PerWeekRange.Start.Line, a.AtLeastRange.Start.Line, a.AtMostRange.Start.Line, a.DaysRange.Start.Line}; lines != [4]int{3, 4, 5, 6} {
		t.Errorf("places %v", lines)
	}
}

func TestWeeksText(t *testing.T) {
	for want, weeks := range map[string][]int{"week 3": {3}, "weeks 3 and 5": {3, 5}, "weeks 1, 2 and 3": {1, 2, 3}} {
		if got := WeeksText(weeks); got != want {
			t.Errorf("got %q, want %q", got, want)
		}
	}
}
