package plan

import (
	"fmt"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/hashicorp/hcl/v2"

	"towpath/internal/diag"
	"towpath/internal/spec"
	"towpath/internal/units"
)

// at is a value on a line of the text.
func at[T any](line int, v T) spec.Value[T] {
	return spec.Value[T]{V: v, Set: true, Range: hcl.Range{Filename: "plan.hcl", Start: hcl.Pos{Line: line}}}
}

func riders(keys ...string) (out []spec.Value[spec.Ref]) {
	for i, k := range keys {
		out = append(out, at(100+i, spec.Ref{Kind: "athlete", Key: k}))
	}
	return out
}

func squad(key string, defaults *spec.Athlete, athletes ...string) *spec.Squad {
	return &spec.Squad{Label: spec.Label{Key: key}, Athletes: riders(athletes...), Defaults: defaults}
}

func limit(m units.Minutes) spec.Day { return spec.Day{Limit: m} }

// What the athlete writes wins, name by name, weekday by weekday, date by date; every value keeps
// its line.
func TestSquadDefaults(t *testing.T) {
	defaults := &spec.Athlete{
		TimeZone: at(1, "Europe/Vilnius"), Background: at(2, "new"), Longest: at(3, units.Minutes(90).Duration()),
		Recent: []spec.Value[units.Duration]{at(4, units.Minutes(200).Duration())}, RecentSet: true, RecentRange: at(4, 0).Range,
		Days:      [7]spec.Value[spec.Day]{1: at(5, limit(60)), 5: at(6, limit(180))},
		DaysBlock: at(5, 0).Range,
		Shifts:    []spec.Shift{{Key: at(7, "early")}, {Key: at(7, "late")}},
		Rosters:   []*spec.Roster{{From: at(8, march)}},
		Travels:   []*spec.Travel{{From: at(9, march)}},
		Other:     []*spec.Other{{Label: spec.Label{Key: "gym"}}, {Label: spec.Label{Key: "swim"}}},
		Device:    &spec.Device{Letters: at(10, "plain"), MostSteps: at(11, 20)},
		Calendar:  &spec.Calendar{Hours: at(12, false)},
	}
	tests := []struct {
		name string
		own  spec.Athlete
		want string
	}{
		{"nothing", spec.Athlete{}, "zone 1, background 2, longest 3, recent 4 of 1, tuesday 5, saturday 6, days 5, shifts early 7 late 7, rosters 8, travels 9, other gym swim, device 10 11, hours 12"},
		{
			"names, days and what is listed",
			spec.Athlete{
				Background: at(21, "trained"), RecentSet: true, RecentRange: at(22, 0).Range,
				Days: [7]spec.Value[spec.Day]{1: at(23, spec.Day{Closed: true})}, DaysBlock: at(23, 0).Range,
				Shifts: []spec.Shift{{Key: at(24, "late")}}, Rosters: []*spec.Roster{{From: at(25, march)}},
				Travels: []*spec.Travel{{From: at(26, march)}}, Other: []*spec.Other{{Label: spec.Label{Key: "swim"}}},
				Device: &spec.Device{MostSteps: at(27, 30)}, Calendar: &spec.Calendar{Reminder: at(28, units.Minutes(30).Duration())},
			},
			"zone 1, background 21, longest 3, recent 22 of 0, tuesday 23, saturday 6, days 23, shifts late 24 early 7, rosters 25, travels 26 9, other swim gym, device 10 27, hours 12",
		},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			s := small()
			tt.own.Key = "a"
			s.Athletes, s.Squads = []*spec.Athlete{&tt.own}, []*spec.Squad{squad("north", defaults, "a")}
			r := resolverOf(s.Bands)
			r.spec = s
			a := r.withDefaults(s.Athletes[0])
			line := func(r diag.Range) int { return r.Start.Line }
			got := fmt.Sprintf("zone %d, background %d, longest %d, recent %d of %d, tuesday %d, saturday %d, days %d, shifts",
				line(a.TimeZone.Range), line(a.Background.Range), line(a.Longest.Range), line(a.RecentRange), len(a.Recent), line(a.Days[1].Range), line(a.Days[5].Range), line(a.DaysBlock))
			for _, s := range a.Shifts {
				got += fmt.Sprintf(" %s %d", s.Key.V, line(s.Key.Range))
			}
			got += ", rosters"
			for _, r := range a.Rosters {
				got += fmt.Sprintf(" %d", line(r.From.Range))
			}
			got += ", travels"
			for _, v := range a.Travels {
				got += fmt.Sprintf(" %d", line(v.From.Range))
			}
			got += ", other"
			for _, o := range a.Other {
				got += " " + o.Key
			}
			got += fmt.Sprintf(", device %d %d, hours %d", line(a.Device.Letters.Range), line(a.Device.MostSteps.Range), line(a.Calendar.Hours.Range))
			if diff := cmp.Diff(tt.want, got); diff != "" {
				t.Errorf("(-want +got):\n%s", diff)
			}
			if defaults.Device.MostSteps.V != 20 || len(defaults.Shifts) != 2 || len(r.diags) > 0 {
				t.Errorf("the squad's own text was changed, or %v", r.diags)
			}
		})
	}
}

// Of a squad's days in a row, those stay that the athlete does not name.
func TestSquadDates(t *testing.T) {
	span := func(from, to int, m units.Minutes) spec.DatedDay {
		return spec.DatedDay{Date: set(march.Add(from)), Until: march.Add(to), Day: set(limit(m))}
	}
	tests := []struct {
		name   string
		own    []spec.DatedDay
		squads []spec.DatedDay
		want   []string
	}{
		{"nothing of the athlete's own", nil, []spec.DatedDay{span(0, 4, 0)}, []string{"0-4: 0"}},
		{"one day within", []spec.DatedDay{span(2, 2, 60)}, []spec.DatedDay{span(0, 4, 0)}, []string{"2-2: 60", "0-1: 0", "3-4: 0"}},
		{"two, the later one written first", []spec.DatedDay{span(3, 3, 60), span(1, 1, 30)}, []spec.DatedDay{span(0, 4, 0)}, []string{"3-3: 60", "1-1: 30", "0-0: 0", "2-2: 0", "4-4: 0"}},
		{"both ends", []spec.DatedDay{span(-1, 1, 60), span(4, 6, 60)}, []spec.DatedDay{span(0, 4, 0)}, []string{"-1-1: 60", "4-6: 60", "2-3: 0"}},
		{"all of it", []spec.DatedDay{span(-1, 9, 60)}, []spec.DatedDay{span(0, 4, 0)}, []string{"-1-9: 60"}},
		{"beside", []spec.DatedDay{span(5, 5, 60)}, []spec.DatedDay{span(0, 4, 0)}, []string{"5-5: 60", "0-4: 0"}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			var got []string
			for _, d := range withDates(tt.own, tt.squads) {
				got = append(got, fmt.Sprintf("%d-%d: %d", d.Date.V.Sub(march), d.Until.Sub(march), d.Day.V.Limit))
			}
			if diff := cmp.Diff(tt.want, got); diff != "" {
				t.Errorf("(-want +got):\n%s", diff)
			}
		})
	}
}

// A ride of the same label that is nearer to the rider holds in place of the wider one.
func TestFixedRidesOfAnAthlete(t *testing.T) {
	fixed := func(key string, line int, athletes ...string) *spec.Fixed {
		f := &spec.Fixed{Label: spec.Label{Key: key, Range: at(line, 0).Range}, Session: ref("session", "steady")}
		if athletes != nil {
			f.Athletes = riders(athletes...)
		}
		return f
	}
	s := small()
	s.Athletes[0].Fixed = []*spec.Fixed{fixed("work", 1), fixed("club", 2)}
	s.Squads = []*spec.Squad{squad("north", nil, "a"), squad("south", nil, "b")}
	s.Squads[0].Fixed = []*spec.Fixed{fixed("club", 3), fixed("sunday", 4, "a"), fixed("friday", 5, "b")}
	s.Squads[1].Fixed = []*spec.Fixed{fixed("monday", 6)}
	s.Blocks[0].Fixed = []*spec.Fixed{fixed("camp", 7, "b"), fixed("sunday", 8), fixed("easter", 9)}
	own := &spec.Block{Fixed: []*spec.Fixed{fixed("easter", 10), fixed("holiday", 11)}}
	s.Blocks[0].ForAthletes = []*spec.ForAthlete{{Athletes: riders("a"), Block: own}}
	r := resolverOf(nil)
	r.spec = s
	var got []string
	for _, f := range r.entry(s.Blocks[0], s.Athletes[0]).block.Fixed {
		got = append(got, fmt.Sprintf("%s %d", f.Key, f.Label.Range.Start.Line))
	}
	if diff := cmp.Diff([]string{"sunday 8", "easter 10", "holiday 11", "work 1", "club 2"}, got); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
	if len(s.Blocks[0].Fixed) != 3 || s.Blocks[0].Fixed[2].Label.Range.Start.Line != 9 {
		t.Error("the block's own text was changed")
	}
}

func TestSquads(t *testing.T) {
	defaults := func() *spec.Athlete { return &spec.Athlete{Days: small().Athletes[0].Days} }
	tests := []struct {
		name   string
		edit   func(*spec.Spec)
		blocks []string // athlete, with ! where faulty
		codes  []string
	}{
		{"a squad's athletes", func(s *spec.Spec) { s.Squads = []*spec.Squad{squad("north", defaults(), "c", "a")} }, []string{"a", "c"}, nil},
		{"each once, with those that are named", func(s *spec.Spec) {
			s.Squads = []*spec.Squad{squad("north", defaults(), "a", "c")}
			s.Blocks[0].Athletes = riders("b", "a")
		}, []string{"a", "b", "c"}, nil},
		{"two squads, one of which has defaults", func(s *spec.Spec) {
			s.Squads = []*spec.Squad{squad("north", nil, "a"), squad("south", defaults(), "a", "c")}
			s.Blocks[0].Squads = append(s.Blocks[0].Squads, ref("squad", "south"))
		}, []string{"a", "c"}, nil},
		{"defaults of two squads", func(s *spec.Spec) {
			s.Squads = []*spec.Squad{squad("north", defaults(), "a", "c"), squad("south", defaults(), "c")}
		}, []string{"a", "c!"}, []string{"two-defaults"}},
		{"a shared ride of somebody else", func(s *spec.Spec) {
			s.Squads = []*spec.Squad{squad("north", defaults(), "a", "c")}
			s.Squads[0].Fixed = []*spec.Fixed{{Session: ref("session", "steady"), Athletes: riders("b")}}
		}, []string{"a", "c"}, []string{"not-among-them"}},
		{"no hour without a zone, which the squad may give", func(s *spec.Spec) {
			d := defaults()
			d.TimeZone, d.Days[1].V.Start = set("Europe/Vilnius"), units.NewClock(18, 0)
			s.Squads = []*spec.Squad{squad("north", d, "c")}
		}, []string{"c"}, nil},
		{"no zone at all, told once and at the squad's day", func(s *spec.Spec) {
			d := defaults()
			d.Days[1] = at(4, spec.Day{Limit: 60, Start: units.NewClock(18, 0)})
			s.Squads = []*spec.Squad{squad("north", d, "c")}
			s.Athletes = append(s.Athletes, &spec.Athlete{Label: spec.Label{Key: "d"}})
			s.Bands = append(s.Bands, &spec.Band{Label: spec.Label{Key: "d"}, Athlete: ref("athlete", "d"), Power: watts(100, 140)})
			s.Squads[0].Athletes = riders("c", "d")
		}, []string{"c!", "d!"}, []string{"missing-time-zone"}},
		{"a zone that there is not, told once", func(s *spec.Spec) {
			d := defaults()
			d.TimeZone = at(3, "Europe/Vilna")
			s.Squads = []*spec.Squad{squad("north", d, "a", "c")}
		}, []string{"a!", "c!"}, []string{"unknown-time-zone"}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			s := small()
			s.Bands = nil
			for _, key := range []string{"a", "b", "c"} {
				s.Bands = append(s.Bands, &spec.Band{Label: spec.Label{Key: key}, Athlete: ref("athlete", key), Power: watts(100, 140)})
			}
			s.Athletes = append(s.Athletes, &spec.Athlete{Label: spec.Label{Key: "b"}, Days: s.Athletes[0].Days}, &spec.Athlete{Label: spec.Label{Key: "c"}})
			s.Blocks[0].Squads = []spec.Value[spec.Ref]{ref("squad", "north")}
			tt.edit(s)
			p, diags := resolve(s, nil, 0)
			var got []string
			for _, b := range p.Blocks {
				name := b.Athlete.Key
				if b.Faulty {
					name += "!"
				}
				got = append(got, name)
			}
			if diff := cmp.Diff(tt.blocks, got); diff != "" {
				t.Errorf("blocks (-want +got):\n%s", diff)
			}
			if diff := cmp.Diff(tt.codes, codes(diags)); diff != "" {
				t.Errorf("codes (-want +got):\n%s\n%v", diff, diags)
			}
		})
	}
}

func TestEvents(t *testing.T) {
	event := func(key string, day int, athletes ...string) *spec.Event {
		e := &spec.Event{Label: spec.Label{Key: key}, Date: set(march.Add(day)), Lasts: set(units.Minutes(300).Duration())}
		if athletes != nil {
			e.Athletes = riders(athletes...)
		}
		return e
	}
	s := small()
	s.Events = []*spec.Event{event("late", 40), event("early", 3), event("past", -1), event("hers", 5, "b"), event("theirs", 9, "b", "a")}
	p, _ := resolve(s, nil, 0)
	var got []string
	for _, e := range p.Blocks[0].Events {
		got = append(got, fmt.Sprintf("%s %s", e.Title, e.Lasts))
	}
	if diff := cmp.Diff([]string{"early 5 h", "theirs 5 h", "late 5 h"}, got); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
}
