package plan

import (
	"fmt"
	"slices"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"towpath/internal/spec"
	"towpath/internal/units"
)

// room is a window of a day; hour 0 stands for none.
func room(minutes units.Minutes, hour int) *spec.Day {
	d := &spec.Day{Limit: minutes}
	if hour > 0 {
		d.Start = units.NewClock(hour, 0)
	}
	return d
}

// two is a day of two windows.
func two(first, second *spec.Day) spec.Value[spec.Day] {
	out := *first
	out.Second = second
	return set(out)
}

func way(minutes units.Minutes, hour int) *spec.Day {
	d := room(minutes, hour)
	d.Commute = true
	return d
}

func text(d *Day) string {
	out := fmt.Sprintf("%d", d.Limit)
	if !d.Start.IsZero() {
		out += " at " + d.Start.String()
	}
	if d.Way > 0 {
		out += fmt.Sprintf(" way %d", d.Way)
	}
	if d.Second != nil {
		out += " and " + text(d.Second)
		if d.secondFirst {
			out += " before it"
		}
	}
	return out
}

func TestWindowsOfADay(t *testing.T) {
	indoors := room(60, 0)
	indoors.OrLimit, indoors.OrPlace = 150, "indoor"
	tests := []struct {
		name string
		in   spec.Value[spec.Day]
		want string
	}{
		{"left out", spec.Value[spec.Day]{}, "0"},
		{"closed", set(spec.Day{Closed: true}), "0"},
		{"one window", set(*room(75, 18)), "75 at 18:00"},
		{"the larger first", two(room(90, 0), room(60, 0)), "90 and 60"},
		{"the larger second", two(room(60, 0), room(90, 0)), "90 and 60 before it"},
		{"of equals the first", two(room(60, 0), room(60, 0)), "60 and 60"},
		{"the larger elsewhere", two(room(90, 0), indoors), "60 and 90 before it"},
		{"hours before the order of the text", two(room(60, 18), room(90, 7)), "90 at 07:00 and 60 at 18:00"},
		{"the way to work first", two(way(120, 7), room(60, 18)), "60 at 18:00 and 0 at 07:00 way 120 before it"},
		{"the way to work second", two(room(60, 7), way(25, 17)), "60 at 07:00 and 0 at 17:00 way 25"},
		{"there and back", two(way(25, 7), way(30, 17)), "0 at 07:00 way 25 and 0 at 17:00 way 30"},
		{"the way to work alone", set(*way(25, 7)), "0 at 07:00 way 25"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			d := day(tt.in, tt.in.Range)
			if got := text(&d); got != tt.want {
				t.Errorf("got %s, want %s", got, tt.want)
			}
		})
	}
}

func TestExceptions(t *testing.T) {
	row := func(first, last int, minutes units.Minutes, line int) spec.DatedDay {
		return spec.DatedDay{Date: on(march.Add(first), line), Until: march.Add(last), Day: on(*room(minutes, 0), line)}
	}
	tests := []struct {
		name string
		rows []spec.DatedDay
		want string // minutes from the day before the start on; . where the week is as usual
	}{
		{"one date", []spec.DatedDay{{Date: set(march.Add(1)), Day: set(*room(40, 0))}}, ". . 40 . . . ."},
		{"a row that begins before", []spec.DatedDay{row(-100, 1, 40, 1)}, ". 40 40 . . . ."},
		{"a row that ends after", []spec.DatedDay{row(4, 100000, 40, 1)}, ". . . . . 40 ."},
		{"two rows", []spec.DatedDay{row(2, 3, 40, 1), row(-1, 0, 60, 2)}, ". 60 . 40 40 . ."},
		{"a date out of a row", []spec.DatedDay{row(0, 3, 40, 1), row(2, 2, 90, 2)}, ". 40 40 90 40 . ."},
		{"a date before the row", []spec.DatedDay{row(2, 2, 90, 2), row(0, 3, 40, 1)}, ". 40 40 90 40 . ."},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			days := exceptions(tt.rows, march, march.Add(4))
			got := ""
			for d := march.Add(-1); d <= march.Add(5); d++ {
				if on, ok := days[d]; ok {
					got += fmt.Sprintf(" %d", on.Limit)
				} else {
					got += " ."
				}
			}
			if got[1:] != tt.want {
				t.Errorf("got %s, want %s", got[1:], tt.want)
			}
		})
	}
}

// An hour needs a clock: the rider's own, or that of a journey on its dates.
func TestZones(t *testing.T) {
	clock := units.NewClock(7, 0)
	away := func(from, to int, zone string) *spec.Travel {
		return &spec.Travel{From: set(march.Add(from)), To: on(march.Add(to), 3), TimeZone: on(zone, 4)}
	}
	dated := func(d int) []spec.DatedDay {
		return []spec.DatedDay{{Date: set(march.Add(d)), Day: set(*room(60, 7))}}
	}
	tests := []struct {
		name  string
		edit  func(*spec.Spec)
		codes []string
	}{
		{"no hours", func(*spec.Spec) {}, nil},
		{"the hour of a second window", func(s *spec.Spec) { s.Athletes[0].Days[1] = two(room(60, 0), room(30, 7)) }, []string{"missing-time-zone"}},
		{"the hour of a shift", func(s *spec.Spec) {
			s.Athletes[0].Shifts = []spec.Shift{{Key: set("early"), Day: set(*room(60, 15))}}
			s.Athletes[0].Rosters = []*spec.Roster{{From: set(march), Days: []spec.Value[string]{set("early")}}}
		}, []string{"missing-time-zone"}},
		{"the hour of a fixed ride", func(s *spec.Spec) {
			s.Blocks[0].Fixed = []*spec.Fixed{{Session: ref("session", "steady"), Minutes: set(units.Minutes(60).Duration()), At: set(clock), Days: []spec.Value[time.Weekday]{set(time.Tuesday)}}}
		}, []string{"missing-time-zone"}},
		{"on a date at home", func(s *spec.Spec) {
			s.Athletes[0].On, s.Athletes[0].Travels = dated(5), []*spec.Travel{away(1, 4, "Asia/Tokyo")}
		}, []string{"missing-time-zone"}},
		{"on a date away", func(s *spec.Spec) {
			s.Athletes[0].On, s.Athletes[0].Travels = dated(4), []*spec.Travel{away(1, 4, "Asia/Tokyo")}
		}, nil},
		{"a zone that is none, at home and away, in two blocks", func(s *spec.Spec) {
			s.Athletes[0].TimeZone = on("Europe/Lissabon", 1)
			s.Athletes[0].On, s.Athletes[0].Travels = dated(4), []*spec.Travel{away(1, 4, "Asia/Tokio"), away(9, 9, "Asia/Tokyo")}
			s.Blocks = append(s.Blocks, smallBlock("summer", march.Add(14)))
		}, []string{"unknown-time-zone", "unknown-time-zone"}},
		{"two journeys on one day", func(s *spec.Spec) {
			s.Athletes[0].Travels = []*spec.Travel{away(4, 6, "Asia/Tokyo"), away(1, 4, "Asia/Seoul")}
		}, []string{"travels-overlap"}},
		{"a journey that ends before it begins", func(s *spec.Spec) { s.Athletes[0].Travels = []*spec.Travel{away(4, 3, "Asia/Tokyo")} }, nil},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			s := small()
			tt.edit(s)
			_, diags := resolve(s, nil, 0)
			if diff := cmp.Diff(tt.codes, codes(diags)); diff != "" {
				t.Errorf("codes (-want +got):\n%s\n%v", diff, diags)
			}
		})
	}
	a := Athlete{Zone: "Europe/Oslo", Travels: []Travel{{From: march, To: march.Add(2), Zone: "Asia/Tokyo"}}}
	for days, want := range map[int]string{-1: "Europe/Oslo", 0: "Asia/Tokyo", 2: "Asia/Tokyo", 3: "Europe/Oslo"} {
		if got := a.ZoneOn(march.Add(days)); got != want {
			t.Errorf("day %d: got %s, want %s", days, got, want)
		}
	}
}

func TestOptions(t *testing.T) {
	r := resolverOf(nil)
	if d, c := r.deviceOf(nil), calendarOf(nil); d != (Device{}) || c != (Calendar{}) {
		t.Errorf("nothing written: %+v, %+v", d, c)
	}
	d := r.deviceOf(&spec.Device{Leads: set("heart rate"), Letters: set("plain"), MostSteps: set(12)})
	if want := (Device{Leads: "heart_rate", Plain: true, MostSteps: 12}); d != want {
		t.Errorf("got %+v, want %+v", d, want)
	}
	if d := r.deviceOf(&spec.Device{Leads: set("power"), Letters: set("any"), HeartRate: set(true)}); d != (Device{Leads: "power"}) {
		t.Errorf("got %+v", d)
	}
	if d := r.deviceOf(&spec.Device{Leads: set("power"), HeartRate: set(false)}); d != (Device{Leads: "power", NoHeartRate: true}) || r.diags != nil {
		t.Errorf("got %+v, %v", d, r.diags)
	}
	r.deviceOf(&spec.Device{Leads: set("heart rate"), HeartRate: set(false)})
	if diff := cmp.Diff([]string{"device-without-target"}, codes(r.diags)); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
	c := calendarOf(&spec.Calendar{Hours: set(false), Reminder: set(units.Minutes(30).Duration())})
	if want := (Calendar{AllDay: true, Reminder: 30}); c != want {
		t.Errorf("got %+v, want %+v", c, want)
	}
	if c := calendarOf(&spec.Calendar{Hours: set(true)}); c != (Calendar{}) {
		t.Errorf("got %+v", c)
	}
}

func TestOther(t *testing.T) {
	got := otherSport([]*spec.Other{
		{Label: spec.Label{Key: "gym"}, Days: []spec.Value[time.Weekday]{set(time.Monday)}, Minutes: set(units.Minutes(45).Duration()), At: set(units.NewClock(19, 0))},
		{Label: spec.Label{Key: "race"}, Title: set("Hill run"), Date: set(march.Add(2)), Demand: set("demanding")},
	})
	want := []*Other{
		{Key: "gym", Title: "gym", Days: []time.Weekday{time.Monday}, Minutes: 45, Start: units.NewClock(19, 0)},
		{Key: "race", Title: "Hill run", Date: march.Add(2), Demanding: true},
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
	if !got[0].On(march.Add(7)) || got[0].On(march.Add(1)) || !got[1].On(march.Add(2)) || got[1].On(march.Add(9)) {
		t.Error("sport on a day that is not its own, or not on its own")
	}
}

func TestOtherOnAJourney(t *testing.T) {
	a := Athlete{
		Travels: []Travel{{From: march.Add(7), To: march.Add(8)}},
		Other:   []*Other{{Key: "gym", Days: []time.Weekday{march.Weekday()}}, {Key: "race", Date: march.Add(8)}},
	}
	for days, want := range map[int]int{0: 1, 7: 0, 8: 1, 14: 1} {
		if got := a.OtherOn(march.Add(days)); len(got) != want {
			t.Errorf("%d days on: %d, want %d", days, len(got), want)
		}
	}
}

func sorted(in []string) []string { return slices.Sorted(slices.Values(in)) }
