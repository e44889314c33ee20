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

// givenText prints what is given in a block, and what pauses.
func givenText(b *Block) (given, paused []string) {
	for _, w := range b.Weeks {
		for _, g := range w.Given {
			line := fmt.Sprintf("%s %s %d", g.Date, g.Session.Key, g.Minutes)
			if !g.Start.IsZero() {
				line += " " + g.Start.String()
			}
			if g.Place != "" {
				line += " " + g.Place
			}
			if g.Ride != nil {
				line += " of " + g.Ride.Key
			}
			if g.Apart {
				line += " apart"
			}
			given = append(given, line)
		}
		for _, p := range w.Paused {
			paused = append(paused, fmt.Sprintf("%s %s: %s", p.Date, p.Fixed, p.Why))
		}
	}
	return given, paused
}

// fixedBlock is a block of three weeks on an athlete with sessions of all kinds.
func fixedBlock(r *resolver, a *Athlete) *Block {
	r.sessions = map[string]*Session{
		"steady":  {Key: "steady", Title: "Steady", AtLeast: 30, AtMost: 150, Usual: 60},
		"group":   {Key: "group", Title: "Group ride", AtLeast: 30, AtMost: 300, Usual: 120, Demanding: true},
		"spin":    {Key: "spin", Title: "Spin", AtLeast: 30, AtMost: 60, Usual: 30, Light: true},
		"commute": {Key: "commute", Title: "Commute", AtLeast: 30, AtMost: 90, Usual: 30, Light: true},
	}
	r.protocols = map[string]*Session{"drift": {Key: "drift", Title: "Drift ride", Protocol: true, Minutes: 60}}
	b := &Block{Start: march, Athlete: a}
	for n := range 3 {
		b.Weeks = append(b.Weeks, &Week{Number: n + 1, Start: march.Add(7 * n), Kind: Loading, Asked: 300})
	}
	return b
}

func TestFixed(t *testing.T) {
	fixed := func(session string, minutes units.Minutes, edits ...func(*spec.Fixed)) *spec.Fixed {
		f := &spec.Fixed{Label: spec.Label{Key: "club"}, Session: ref("session", session), Minutes: on(minutes.Duration(), 9)}
		for _, edit := range edits {
			edit(f)
		}
		return f
	}
	every := func(days ...time.Weekday) func(*spec.Fixed) {
		return func(f *spec.Fixed) {
			for _, d := range days {
				f.Days = append(f.Days, on(d, 8))
			}
		}
	}
	dated := func(days int) func(*spec.Fixed) { return func(f *spec.Fixed) { f.Date = on(march.Add(days), 8) } }
	at := func(hour int) func(*spec.Fixed) {
		return func(f *spec.Fixed) { f.At = set(units.NewClock(hour, 0)) }
	}
	in := func(place string) func(*spec.Fixed) { return func(f *spec.Fixed) { f.Place = set(place) } }
	weeks := func(n ...int) func(*spec.Fixed) { return func(f *spec.Fixed) { f.Weeks = set(n) } }
	exception := func(b *Block, days int, d Day) { b.Athlete.Exceptions = map[units.Date]Day{march.Add(days): d} }
	indoors := Day{Limit: 40, Place: "indoor"}
	pin := func(session string, minutes units.Minutes) []*spec.Week {
		return []*spec.Week{{Number: set(1), Pins: []spec.Pin{{Day: time.Tuesday, Session: ref("session", session), Minutes: set(minutes.Duration())}}}}
	}

	// The rider has Tuesday 120 min at 18:00, Thursday 45 min at 07:00 and 90 min at 18:00, Saturday
	// 180 min outdoors or 90 min indoors.
	tests := []struct {
		name   string
		edit   func(*Block, *spec.Block)
		given  []string
		paused []string
		codes  []string
	}{
		{"each week", func(_ *Block, s *spec.Block) {
			s.Fixed = []*spec.Fixed{fixed("group", 90, every(time.Tuesday))}
		}, []string{"2027-03-02 group 90 18:00", "2027-03-09 group 90 18:00", "2027-03-16 group 90 18:00"}, nil, nil},
		{"in the mix, with its own hour and place, in one week", func(_ *Block, s *spec.Block) {
			s.Fixed = []*spec.Fixed{fixed("steady", 90, every(time.Tuesday), at(19), in("indoor"), weeks(2))}
		}, []string{"2027-03-09 steady 90 19:00 indoor of steady"}, nil, nil},
		{"twice a week, once", func(_ *Block, s *spec.Block) {
			s.Fixed = []*spec.Fixed{fixed("group", 90, every(time.Tuesday, time.Saturday), weeks(1))}
		}, []string{"2027-03-02 group 90 18:00", "2027-03-06 group 90 outdoor"}, nil, nil},
		{"on a closed weekday, in its own time", func(_ *Block, s *spec.Block) {
			s.Fixed = []*spec.Fixed{fixed("group", 200, every(time.Wednesday), weeks(1))}
		}, []string{"2027-03-03 group 200 apart"}, nil, nil},
		{"in the smaller window, where it fits", func(_ *Block, s *spec.Block) {
			s.Fixed = []*spec.Fixed{fixed("spin", 45, every(time.Thursday), weeks(1))}
		}, []string{"2027-03-04 spin 45 07:00 apart"}, nil, nil},
		{"in the larger window, where it does not", func(_ *Block, s *spec.Block) {
			s.Fixed = []*spec.Fixed{fixed("spin", 50, every(time.Thursday), weeks(1))}
		}, []string{"2027-03-04 spin 50 18:00"}, nil, nil},
		{"in the window of its hour", func(_ *Block, s *spec.Block) {
			s.Fixed = []*spec.Fixed{fixed("spin", 30, every(time.Thursday), at(17), weeks(1))}
		}, []string{"2027-03-04 spin 30 17:00"}, nil, nil},
		{"away from the window of its hour, where only the other holds it", func(_ *Block, s *spec.Block) {
			s.Fixed = []*spec.Fixed{fixed("spin", 60, every(time.Thursday), at(8), weeks(1))}
		}, []string{"2027-03-04 spin 60 08:00"}, nil, nil},
		{"two in two windows", func(_ *Block, s *spec.Block) {
			s.Fixed = []*spec.Fixed{fixed("spin", 30, every(time.Thursday), weeks(1)), fixed("steady", 30, every(time.Thursday), weeks(1))}
		}, []string{"2027-03-04 spin 30 07:00 apart", "2027-03-04 steady 30 18:00 of steady"}, nil, nil},
		{"two in one window, one after the other", func(_ *Block, s *spec.Block) {
			s.Fixed = []*spec.Fixed{fixed("spin", 30, every(time.Tuesday), weeks(1)), fixed("steady", 90, every(time.Tuesday), weeks(1))}
		}, []string{"2027-03-02 spin 30 18:00", "2027-03-02 steady 90 18:30 of steady"}, nil, nil},
		{"two that are too much for a window", func(_ *Block, s *spec.Block) {
			s.Fixed = []*spec.Fixed{fixed("spin", 35, every(time.Tuesday), weeks(1)), fixed("steady", 90, every(time.Tuesday), weeks(1))}
		}, []string{"2027-03-02 spin 35 18:00", "2027-03-02 steady 90 18:35 of steady"}, nil, []string{"day-too-short"}},
		{"two at once", func(_ *Block, s *spec.Block) {
			s.Fixed = []*spec.Fixed{fixed("spin", 30, every(time.Tuesday), at(18), weeks(1)), fixed("steady", 60, every(time.Tuesday), at(18), weeks(1))}
		}, []string{"2027-03-02 spin 30 18:00", "2027-03-02 steady 60 18:00 of steady"}, nil, []string{"day-taken"}},
		{"longer than its day", func(_ *Block, s *spec.Block) {
			s.Fixed = []*spec.Fixed{fixed("group", 125, every(time.Tuesday))}
		}, nil, nil, []string{"day-too-short"}},
		{"longer than its day indoors", func(_ *Block, s *spec.Block) {
			s.Fixed = []*spec.Fixed{fixed("group", 95, every(time.Saturday), in("indoor"), weeks(1))}
		}, nil, nil, []string{"day-too-short"}},
		{"a date that closes it", func(b *Block, s *spec.Block) {
			exception(b, 8, Day{})
			s.Fixed = []*spec.Fixed{fixed("group", 90, every(time.Tuesday), weeks(2))}
		}, nil, []string{"2027-03-09 club: no riding on this date"}, nil},
		{"a date that closes a weekday that is closed", func(b *Block, s *spec.Block) {
			exception(b, 2, Day{})
			s.Fixed = []*spec.Fixed{fixed("group", 90, every(time.Wednesday), weeks(1))}
		}, nil, []string{"2027-03-03 club: no riding on this date"}, nil},
		{"a date that leaves too little", func(b *Block, s *spec.Block) {
			exception(b, 8, indoors)
			s.Fixed = []*spec.Fixed{fixed("group", 90, every(time.Tuesday), weeks(2))}
		}, nil, []string{"2027-03-09 club: this date can hold 40 min"}, nil},
		{"a date that leaves enough", func(b *Block, s *spec.Block) {
			exception(b, 8, indoors)
			s.Fixed = []*spec.Fixed{fixed("spin", 40, every(time.Tuesday), weeks(2))}
		}, []string{"2027-03-09 spin 40 indoor"}, nil, nil},
		{"a date that holds more than the weekday", func(b *Block, s *spec.Block) {
			exception(b, 8, Day{Limit: 240})
			s.Fixed = []*spec.Fixed{fixed("group", 150, every(time.Tuesday), weeks(2))}
		}, []string{"2027-03-09 group 150"}, nil, nil},
		{"a roster that closes its day, and one that leaves light rides only", func(b *Block, s *spec.Block) {
			b.Athlete.Rostered = map[units.Date]Day{march.Add(1): {}, march.Add(8): {Limit: 180, Easy: true}, march.Add(15): {Limit: 180}}
			s.Fixed = []*spec.Fixed{fixed("group", 150, every(time.Tuesday))}
		}, []string{"2027-03-16 group 150"}, []string{"2027-03-02 club: no riding on this date", "2027-03-09 club: this date takes light rides only"}, nil},
		{"a light ride on an easy date", func(b *Block, s *spec.Block) {
			exception(b, 8, Day{Limit: 60, Easy: true})
			s.Fixed = []*spec.Fixed{fixed("spin", 40, every(time.Tuesday), weeks(2))}
		}, []string{"2027-03-09 spin 40"}, nil, nil},
		{"an easy window beside one that is not", func(b *Block, s *spec.Block) {
			exception(b, 8, Day{Limit: 120, Place: "outdoor", Second: &Day{Limit: 90, Easy: true, Place: "indoor"}})
			s.Fixed = []*spec.Fixed{fixed("group", 90, every(time.Tuesday), weeks(2)), fixed("spin", 40, every(time.Tuesday), weeks(2))}
		}, []string{"2027-03-09 group 90 outdoor", "2027-03-09 spin 40 indoor apart"}, nil, nil},
		{"one that is not easy beside the larger one", func(b *Block, s *spec.Block) {
			exception(b, 8, Day{Limit: 120, Easy: true, Place: "outdoor", Second: &Day{Limit: 90, Place: "indoor"}})
			s.Fixed = []*spec.Fixed{fixed("group", 90, every(time.Tuesday), weeks(2))}
		}, []string{"2027-03-09 group 90 indoor apart"}, nil, nil},
		{"at the hour of an easy window", func(b *Block, s *spec.Block) {
			exception(b, 8, Day{Limit: 120, Easy: true, Start: units.NewClock(7, 0), Second: &Day{Limit: 90, Start: units.NewClock(18, 0)}})
			s.Fixed = []*spec.Fixed{fixed("group", 90, every(time.Tuesday), at(8), weeks(2))}
		}, nil, []string{"2027-03-09 club: this date takes light rides only"}, nil},
		{"a journey", func(b *Block, s *spec.Block) {
			b.Athlete.Travels = []Travel{{From: march.Add(1), To: march.Add(8), Zone: "Asia/Tokyo"}}
			s.Fixed = []*spec.Fixed{fixed("group", 90, every(time.Tuesday))}
		}, []string{"2027-03-16 group 90 18:00"}, []string{"2027-03-02 club: away, in Asia/Tokyo", "2027-03-09 club: away, in Asia/Tokyo"}, nil},
		{"a week off", func(b *Block, s *spec.Block) {
			b.Weeks[1].Asked = 0
			s.Fixed = []*spec.Fixed{fixed("group", 90, every(time.Tuesday), weeks(2))}
		}, nil, []string{"2027-03-09 club: week 2 has no minutes"}, nil},
		{"a test", func(_ *Block, s *spec.Block) {
			s.TestDays = []*spec.TestDay{{Label: spec.Label{Key: "check"}, Protocol: ref("protocol", "drift"), Weeks: set([]int{1}), Day: set(time.Tuesday)}}
			s.Fixed = []*spec.Fixed{fixed("group", 90, every(time.Tuesday), weeks(1))}
		}, []string{"2027-03-02 drift 60 18:00"}, []string{"2027-03-02 club: the day belongs to a test: Drift ride"}, nil},
		{"an event", func(b *Block, s *spec.Block) {
			b.Events = []*Event{{Title: "Round the lake", Date: march.Add(1)}}
			s.Fixed = []*spec.Fixed{fixed("group", 90, every(time.Tuesday), weeks(1))}
		}, nil, []string{"2027-03-02 club: the day of an event: Round the lake"}, nil},
		{"the same ride pinned", func(_ *Block, s *spec.Block) {
			s.WeekNotes = pin("group", 60)
			s.Fixed = []*spec.Fixed{fixed("group", 90, every(time.Tuesday), weeks(1))}
		}, []string{"2027-03-02 group 60 18:00"}, []string{"2027-03-02 club: week 1 has its own on this date"}, nil},
		{"another ride pinned", func(_ *Block, s *spec.Block) {
			s.WeekNotes = pin("steady", 30)
			s.Fixed = []*spec.Fixed{fixed("group", 90, every(time.Tuesday), weeks(1))}
		}, []string{"2027-03-02 steady 30 18:00 of steady", "2027-03-02 group 90 18:30"}, nil, nil},
		{"a date of its own, whatever else is", func(b *Block, s *spec.Block) {
			b.Athlete.Travels = []Travel{{From: march, To: march.Add(30), Zone: "Asia/Tokyo"}}
			s.Fixed = []*spec.Fixed{fixed("group", 90, dated(15)), fixed("group", 90, dated(99))}
		}, []string{"2027-03-16 group 90 18:00"}, nil, nil},
		{"a date that is closed", func(_ *Block, s *spec.Block) { s.Fixed = []*spec.Fixed{fixed("group", 90, dated(2))} }, nil, nil, []string{"day-too-short"}},
		{"a date that is too short", func(_ *Block, s *spec.Block) { s.Fixed = []*spec.Fixed{fixed("group", 130, dated(1))} }, nil, nil, []string{"day-too-short"}},
		{"a date with a test", func(_ *Block, s *spec.Block) {
			s.TestDays = []*spec.TestDay{{Label: spec.Label{Key: "check"}, Protocol: ref("protocol", "drift"), Weeks: set([]int{1}), Day: set(time.Tuesday)}}
			s.Fixed = []*spec.Fixed{fixed("spin", 30, dated(1))}
		}, []string{"2027-03-02 drift 60 18:00", "2027-03-02 spin 30 19:00"}, nil, []string{"day-taken"}},
		{"a session that is lost", func(_ *Block, s *spec.Block) { s.Fixed = []*spec.Fixed{fixed("nothing", 90, dated(1))} }, nil, nil, nil},
		{"the way to work", func(b *Block, _ *spec.Block) {
			b.Athlete.Days[4] = Day{Limit: 60, Second: &Day{Way: 25, Start: units.NewClock(7, 30)}}
			b.Athlete.Days[6] = Day{Way: 20, Second: &Day{Way: 22}}
			b.Weeks[1].Asked = 0
			b.Athlete.Travels = []Travel{{From: march.Add(18), To: march.Add(20), Zone: "Asia/Tokyo"}}
			exception(b, 20, Day{Way: 10})
		}, []string{
			"2027-03-05 commute 25 07:30 apart", "2027-03-07 commute 20 apart", "2027-03-07 commute 22 apart", "2027-03-21 commute 10 apart",
		}, []string{
			"2027-03-12 commute: week 2 has no minutes", "2027-03-14 commute: week 2 has no minutes",
			"2027-03-19 commute: away, in Asia/Tokyo",
		}, nil},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			r := resolverOf(nil)
			a := rider()
			a.Days[1] = Day{Limit: 120, Start: units.NewClock(18, 0)}
			a.Days[3] = Day{Limit: 90, Start: units.NewClock(18, 0), Second: &Day{Limit: 45, Start: units.NewClock(7, 0)}, secondFirst: true}
			a.Days[5] = Day{Limit: 180, Place: "outdoor", OrLimit: 90, OrPlace: "indoor"}
			b := fixedBlock(r, a)
			s := &spec.Block{}
			tt.edit(b, s)
			mix := &mixes{ordinary: []mixRide{{&Ride{Key: "steady", Session: r.sessions["steady"], Rest: true, AtLeast: 30, AtMost: 150}, nil}}}
			r.weeks(s, b, mix, 0)
			given, paused := givenText(b)
			if diff := cmp.Diff(tt.given, given); diff != "" {
				t.Errorf("given (-want +got):\n%s", diff)
			}
			if diff := cmp.Diff(tt.paused, paused); diff != "" {
				t.Errorf("paused (-want +got):\n%s", diff)
			}
			if diff := cmp.Diff(tt.codes, codes(r.diags)); diff != "" {
				t.Errorf("codes (-want +got):\n%s\n%v", diff, r.diags)
			}
		})
	}
}

// A pinned ride takes the window of its hour, else the larger; two take one each.
func TestPinsInTwoWindows(t *testing.T) {
	type pin struct {
		session string
		minutes units.Minutes // 0: left open
		hour    int
	}
	clocked := Day{Limit: 120, Start: units.NewClock(18, 0), Second: &Day{Limit: 60, Start: units.NewClock(7, 0), Place: "indoor"}, secondFirst: true}
	plain := Day{Limit: 120, Second: &Day{Limit: 60}}
	tests := []struct {
		name  string
		day   Day
		pins  []pin
		want  string
		codes []string
	}{
		{"one, in the larger", clocked, []pin{{"steady", 60, 0}}, "steady 60 18:00", nil},
		{"one, in that of its hour", clocked, []pin{{"steady", 60, 8}}, "steady 60 08:00 indoor apart", nil},
		{"one, where it fits", clocked, []pin{{"steady", 65, 8}}, "steady 65 08:00", nil},
		{"one that fits nowhere", clocked, []pin{{"steady", 130, 8}}, "steady 130 08:00", nil},
		{"one without minutes, in that of its hour", clocked, []pin{{"group", 0, 7}}, "group 60 07:00 indoor apart", nil},
		{"one without minutes, in the larger", clocked, []pin{{"group", 0, 0}}, "group 120 18:00", nil},
		{"an hour where the windows have none", plain, []pin{{"steady", 60, 8}}, "steady 60 08:00", nil},
		{"two by order, the earlier window first", clocked, []pin{{"steady", 60, 0}, {"spin", 40, 0}}, "steady 60 07:00 indoor apart, spin 40 18:00", nil},
		{"two by order, the first window the larger", plain, []pin{{"steady", 60, 0}, {"spin", 40, 0}}, "steady 60, spin 40 apart", nil},
		{"two, where only the other way round holds them", clocked, []pin{{"steady", 100, 0}, {"spin", 40, 0}}, "spin 40 07:00 indoor apart, steady 100 18:00", nil},
		{"two by their hours", clocked, []pin{{"steady", 60, 17}, {"spin", 40, 8}}, "spin 40 08:00 indoor apart, steady 60 17:00", nil},
		{"two, of which one has an hour", clocked, []pin{{"steady", 60, 17}, {"spin", 40, 0}}, "spin 40 07:00 indoor apart, steady 60 17:00", nil},
		{"two that only the larger holds", plain, []pin{{"steady", 61, 0}, {"group", 59, 0}}, "steady 61, group 59 apart", nil},
		{"two of which neither fits the smaller", clocked, []pin{{"steady", 62, 0}, {"group", 61, 0}}, "steady 62 18:00, group 61 19:02", []string{"day-too-short"}},
		{"two without minutes", clocked, []pin{{"group", 0, 0}, {"steady", 0, 0}}, "group 60 07:00 indoor apart, steady 60 18:00", nil},
		{"the way to work, longer than usual", Day{Limit: 75, Second: &Day{Way: 30, Start: units.NewClock(7, 0)}}, []pin{{"steady", 0, 0}, {"commute", 50, 0}}, "steady 60, commute 50 07:00 apart", nil},
		{"the way to work there and back", Day{Way: 20, Second: &Day{Way: 25}}, []pin{{"commute", 0, 8}, {"commute", 0, 0}}, "commute 25 apart, commute 20 08:00 apart", nil},
		{"beside the way to work", Day{Limit: 75, Second: &Day{Way: 30, Start: units.NewClock(7, 0)}}, []pin{{"steady", 0, 0}}, "steady 60, commute 30 07:00 apart", nil},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			r := resolverOf(nil)
			a := rider()
			a.Days[1] = tt.day
			b := fixedBlock(r, a)
			b.Weeks = b.Weeks[:1]
			own := &spec.Week{Number: set(1)}
			for _, p := range tt.pins {
				pin := spec.Pin{Day: time.Tuesday, Session: ref("session", p.session)}
				if p.minutes > 0 {
					pin.Minutes = set(p.minutes.Duration())
				}
				if p.hour > 0 {
					pin.At = set(units.NewClock(p.hour, 0))
				}
				own.Pins = append(own.Pins, pin)
			}
			mix := &mixes{ordinary: []mixRide{{&Ride{Key: "long", Session: &Session{}, Rest: true}, nil}}}
			r.weeks(&spec.Block{WeekNotes: []*spec.Week{own}}, b, mix, 0)
			given, _ := givenText(b)
			if got := strings.ReplaceAll(strings.Join(given, ", "), "2027-03-02 ", ""); got != tt.want {
				t.Errorf("got  %s\nwant %s", got, tt.want)
			}
			if diff := cmp.Diff(tt.codes, codes(r.diags)); diff != "" {
				t.Errorf("codes (-want +got):\n%s\n%v", diff, r.diags)
			}
		})
	}
}

// A dated ride of a block lies within it, or within what it is for one of its athletes.
func TestFixedOutsideOfItsBlock(t *testing.T) {
	s := small()
	dated := func(days int) *spec.Fixed {
		return &spec.Fixed{Label: spec.Label{Key: fmt.Sprint(days)}, Session: ref("session", "steady"), Minutes: set(units.Minutes(60).Duration()), Date: on(march.Add(days), days)}
	}
	s.Blocks[0].Fixed = []*spec.Fixed{dated(1), dated(13), dated(14), dated(30)}
	s.Blocks[0].ForAthletes = []*spec.ForAthlete{{Athletes: []spec.Value[spec.Ref]{ref("athlete", "a")}, Block: &spec.Block{Start: set(march.Add(14)), Fixed: []*spec.Fixed{dated(40)}}}}
	_, diags := resolve(s, nil, 0)
	var got []string
	for _, d := range diags {
		if d.Code == "date-outside-block" {
			got = append(got, d.Summary)
		}
	}
	want := []string{`The fixed ride "30" is on 2027-03-31, outside of block "spring"`, `The fixed ride "40" is on 2027-04-10, outside of block "spring"`}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
}
