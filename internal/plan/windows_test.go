package plan

import (
	"math/rand/v2"
	"slices"
	"testing"
	"time"

	"towpath/internal/spec"
	"towpath/internal/units"
)

// Whatever days, pins and fixed rides meet: where nothing is refused, every window holds what is
// given in it, no two rides are on the road at once, and each weekly fixed ride is given or paused.
func TestWindowsHold(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 11))
	minutes := func() units.Minutes { return units.Minutes(20 + 5*rng.IntN(20)) }
	clock := func() units.Clock {
		if rng.IntN(2) == 0 {
			return 0
		}
		return units.NewClock(6+rng.IntN(14), 15*rng.IntN(4))
	}
	aWindow := func() *spec.Day {
		return &spec.Day{Limit: minutes(), Start: clock(), Commute: rng.IntN(4) == 0}
	}
	aDay := func() spec.Day {
		d := aWindow()
		switch rng.IntN(4) {
		case 0:
			return spec.Day{Closed: true}
		case 1, 2:
			d.Second = aWindow()
		}
		return *d
	}
	ruled := 0
	for range 3000 {
		r := resolverOf(nil)
		a := &spec.Athlete{Label: spec.Label{Key: "a"}, TimeZone: set("Europe/Oslo")}
		for i := range a.Days {
			a.Days[i] = set(aDay())
		}
		a.On = []spec.DatedDay{{Date: set(march.Add(rng.IntN(7))), Day: set(aDay())}}
		b := fixedBlock(r, r.athlete(a, march, march.Add(6), nil))
		b.Weeks = b.Weeks[:1]
		s := &spec.Block{}
		weekly := 0
		for range rng.IntN(4) {
			f := &spec.Fixed{Label: spec.Label{Key: "f"}, Session: ref("session", "group"), Minutes: set(minutes().Duration()), Days: []spec.Value[time.Weekday]{set(time.Weekday(rng.IntN(7)))}}
			if at := clock(); !at.IsZero() {
				f.At = set(at)
			}
			s.Fixed = append(s.Fixed, f)
			weekly++
		}
		week := &spec.Week{Number: set(1)}
		for range rng.IntN(3) {
			day := time.Weekday(rng.IntN(7))
			for range 1 + rng.IntN(2) {
				p := spec.Pin{Day: day, Session: ref("session", []string{"steady", "spin", "commute"}[rng.IntN(3)]), At: spec.Value[units.Clock]{V: clock()}}
				if rng.IntN(2) == 0 {
					p.Minutes = set(minutes().Duration())
				}
				week.Pins = append(week.Pins, p)
			}
		}
		s.WeekNotes = []*spec.Week{week}
		r.weeks(s, b, &mixes{ordinary: []mixRide{{&Ride{Key: "long", Session: &Session{}, Rest: true}, nil}}}, 0)
		w := b.Weeks[0]
		for _, g := range w.Given {
			on := b.Athlete.DayOn(g.Date)
			if second := on.second(); second != nil && g.Apart && g.Minutes > second.most() && g.Session.Key != WayToWork {
				t.Fatalf("%s of %s stands apart in a window of %s", g.Session.Key, g.Minutes, second.most())
			}
		}
		if r.diags.HasErrors() {
			continue
		}
		ruled++
		given := 0
		for i, g := range w.Given {
			if g.Fixed == "f" {
				given++
			}
			for _, other := range w.Given[:i] {
				if g.Date == other.Date && !g.Start.IsZero() && !other.Start.IsZero() &&
					g.Start.Minute() < other.Start.Minute()+int(other.Minutes) && other.Start.Minute() < g.Start.Minute()+int(g.Minutes) {
					t.Fatalf("%s at %s and %s at %s on %s", other.Session.Key, other.Start, g.Session.Key, g.Start, g.Date)
				}
			}
			on := b.Athlete.DayOn(g.Date)
			for _, window := range on.windows() {
				together := w.used(g.Date, window != &on)
				tooLong := slices.ContainsFunc(w.Given, func(x *Given) bool { return x.Date == g.Date && x.Minutes > window.most() })
				if on.most() > 0 && together > window.most() && !tooLong { // one that is too long alone, placing refuses
					t.Fatalf("%s together in a window of %s on %s", together, window.most(), g.Date)
				}
			}
		}
		paused := len(slices.DeleteFunc(slices.Clone(w.Paused), func(p Paused) bool { return p.Fixed != "f" }))
		if given+paused != weekly {
			t.Fatalf("%d weekly rides: %d given, %d paused", weekly, given, paused)
		}
	}
	if ruled < 300 {
		t.Errorf("only %d of the plans can be ridden", ruled)
	}
}
