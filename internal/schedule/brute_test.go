package schedule

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"towpath/internal/plan"
	"towpath/internal/record"
	"towpath/internal/units"
)

// small makes a random block that can be tried out whole.
type small struct {
	*rand.Rand
	weeks int
}

func (r small) block() (*plan.Block, *record.Athlete, units.Date) {
	b := build{longApart: r.IntN(2) == 0, given: map[int][]*plan.Given{}}
	open := 2 + r.IntN(4)
	if r.weeks > 1 {
		open = 2 + r.IntN(2)
	}
	for _, i := range r.Perm(7)[:open] {
		b.days[i] = 30 + 5*r.IntN(13-2*open)
	}
	kinds := 1 + r.IntN(3)
	for k := range kinds {
		b.rides = append(b.rides, r.ride(k, kinds))
	}
	for w := range r.weeks {
		sum := 0
		for _, m := range b.days {
			sum += m
		}
		b.totals = append(b.totals, 30+5*r.IntN(sum/5-4))
		if r.IntN(4) == 0 {
			b.recovery = append(b.recovery, w+1)
		}
	}
	r.give(&b)
	out := b.block()
	if r.IntN(3) > 0 {
		r.fix(out, b.rides)
	}
	out.TakeWhatFits = r.IntN(5) == 0
	if r.IntN(4) == 0 {
		out.Tolerance = units.Share(1+r.IntN(30)) / 100
	}
	out.Limits.RestDays.Value, out.Limits.RidingDaysInARow.Value = 1+r.IntN(4), 2+r.IntN(4)
	if r.IntN(3) == 0 {
		low := 1 + r.IntN(3)
		out.RidesPerWeek = units.Range[int]{Low: low, High: low + r.IntN(3)}
	}
	for i := range out.Athlete.Days {
		out.Athlete.Days[i].Easy = r.IntN(8) == 0
	}
	rec, asOf := r.record(out)
	return out, rec, asOf
}

func (r small) ride(k, kinds int) *plan.Ride {
	out := rideOf(string(rune('a'+k)), 30+5*r.IntN(4), 40+5*r.IntN(8))
	out.Session.Demanding = r.IntN(3) == 0
	out.Session.Light = !out.Session.Demanding && r.IntN(2) == 0
	switch {
	case k == kinds-1:
		out.Rest = true
	case r.IntN(4) == 0:
		out.Minutes = units.Minutes(30 + 5*r.IntN(8))
	default:
		out.Share = units.Share(5*(1+r.IntN(8))) / 100
	}
	if r.IntN(3) == 0 {
		low := r.IntN(2)
		out.PerWeek = units.Range[int]{Low: low, High: low + 1 + r.IntN(2)}
	}
	if r.IntN(4) == 0 {
		out.AtMost = out.AtLeast + units.Minutes(5*r.IntN(6))
	}
	if r.IntN(3) == 0 {
		for _, i := range r.Perm(7)[:2+r.IntN(5)] {
			out.Days = append(out.Days, units.Weekdays[i])
		}
	}
	return out
}

// give adds tests, pinned sessions and days away.
func (r small) give(b *build) {
	for n := r.IntN(3); n > 0; n-- {
		week := r.IntN(r.weeks)
		date := monday.Add(7*week + r.IntN(7))
		if slices.ContainsFunc(b.given[week+1], func(g *plan.Given) bool { return g.Date == date }) {
			continue
		}
		g := &plan.Given{Date: date, Minutes: units.Minutes(30 + 5*r.IntN(10))}
		switch r.IntN(4) {
		case 0:
			g.Session = &plan.Session{Key: "maximal", Protocol: true, Maximal: true}
		case 1:
			g.Session = &plan.Session{Key: "standard", Protocol: true, KeepsWatts: true}
		case 2:
			g.Session = &plan.Session{Key: "other", Demanding: r.IntN(2) == 0}
		default:
			g.Ride = b.rides[r.IntN(len(b.rides))]
			g.Session = g.Ride.Session
		}
		if r.IntN(6) == 0 {
			g.Minutes += 2 // no whole quanta
		}
		b.given[week+1] = append(b.given[week+1], g)
	}
	for n := r.IntN(2); n > 0; n-- {
		b.away = append(b.away, monday.Add(r.IntN(7*r.weeks)))
	}
}

// fix adds fixed rides, in the day's window or apart, other sport and an event.
func (r small) fix(b *plan.Block, rides []*plan.Ride) {
	for n := range r.IntN(3) {
		session := &plan.Session{Key: fmt.Sprint("fixed", n), Demanding: r.IntN(3) == 0}
		var ride *plan.Ride
		if r.IntN(2) == 0 {
			ride = rides[r.IntN(len(rides))]
			session = ride.Session
		}
		minutes, weekly := units.Minutes(15+5*r.IntN(8)), r.IntN(3) > 0
		for _, day := range r.Perm(7)[:1+r.IntN(2)] {
			for _, w := range b.Weeks {
				date := w.Start.Add(day)
				limit := b.Athlete.DayOn(date).Limit
				apart := limit == 0 || r.IntN(4) == 0
				if !weekly && r.IntN(2) == 0 || !apart && minutes > limit ||
					slices.ContainsFunc(w.Given, func(g *plan.Given) bool { return g.Date == date }) {
					continue
				}
				w.Given = append(w.Given, &plan.Given{Date: date, Minutes: minutes, Session: session, Ride: ride, Fixed: fmt.Sprint("f", n), Apart: apart})
				if apart || r.IntN(2) == 0 {
					w.Asked += minutes
				}
			}
		}
	}
	for _, day := range r.Perm(7)[:r.IntN(2)] {
		o := &plan.Other{Demanding: r.IntN(3) > 0, Date: b.Start.Add(day)}
		if r.IntN(2) == 0 {
			o.Date, o.Days = 0, []time.Weekday{units.Weekdays[day]}
		}
		b.Athlete.Other = append(b.Athlete.Other, o)
	}
	if r.IntN(5) == 0 {
		date := b.Start.Add(r.IntN(7*len(b.Weeks) + 1))
		if w := b.WeekOn(date); w == nil || !slices.ContainsFunc(w.Given, func(g *plan.Given) bool { return g.Date == date }) {
			b.Events = append(b.Events, &plan.Event{Date: date})
		}
	}
}

// record delivers something that may or may not be what the block says now.
func (r small) record(b *plan.Block) (*record.Athlete, units.Date) {
	if r.IntN(2) == 0 {
		return nil, 0
	}
	rec := &record.Athlete{}
	for d := b.Start; d <= b.End(); d++ {
		if r.IntN(3) > 0 {
			continue
		}
		s := record.Session{Block: b.Key, Date: d, Minutes: units.Minutes(30 + 5*r.IntN(8))}
		if k := r.IntN(4); k < 3 {
			s.Ride = string(rune('a' + k))
			s.Key = "block/w01/" + s.Ride + "-1"
		}
		s.Session = s.Ride
		rec.Sessions = append(rec.Sessions, s)
	}
	for _, w := range b.Weeks {
		for _, g := range w.Given {
			if g.Fixed == "" || r.IntN(4) == 0 {
				continue
			}
			s := record.Session{Block: b.Key, Date: g.Date, Minutes: g.Minutes, Session: g.Session.Key, Key: "block/w01/" + fixedName(g) + "-1"}
			if g.Ride != nil {
				s.Ride = g.Ride.Key
			}
			if r.IntN(4) == 0 {
				s.Minutes += 5
			}
			rec.Sessions = append(rec.Sessions, s)
		}
	}
	asOf := b.Start
	if r.IntN(2) == 0 {
		asOf = b.Start.Add(r.IntN(7*r.weeks) - 3)
	}
	return rec, asOf
}

// agree compares solver and oracle on one block; it tells how many weeks were placed.
func agree(t *testing.T, name string, b *plan.Block, rec *record.Athlete, asOf units.Date, longDay int) int {
	t.Helper()
	percent := 0
	if longDay == 0 {
		longDay, percent = 40, 35
	}
	o := newOracle(b, rec, asOf, longDay, percent)
	want, wantOK := o.place(0, nil)
	pl := newPlacer(b, rec, asOf)
	pl.longDay, pl.percent = longDay, percent
	pl.base = pl.baseWeek()
	if diff := cmp.Diff(o.base, pl.base); diff != "" {
		t.Fatalf("%s: base week (-want +got):\n%s", name, diff)
	}
	problems, got, ok := newChain(pl).place()
	if ok != wantOK {
		t.Fatalf("%s: solver %v, oracle %v", name, ok, wantOK)
	}
	for i, a := range want {
		g := got[i]
		type view struct {
			Total   int
			Terms   [9]int
			Mix     []int
			Pattern [7]int
			Minutes [7]int
		}
		w := view{a.total, a.terms, a.mix, a.pattern, a.minutes}
		v := view{problems[i].total, g.terms, g.mix, g.pattern, g.minutes}
		if diff := cmp.Diff(w, v); diff != "" {
			t.Fatalf("%s: week %d (-oracle +solver):\n%s", name, i+1, diff)
		}
	}
	return len(want)
}

func TestAgainstEverything(t *testing.T) {
	tests := []struct {
		weeks, blocks, least int
	}{{1, 12000, 4000}, {2, 1200, 700}}
	for _, tt := range tests {
		t.Run(fmt.Sprintf("%d weeks", tt.weeks), func(t *testing.T) {
			t.Parallel()
			blocks := tt.blocks
			if testing.Short() {
				blocks /= 10
			}
			placed := 0
			for seed := range blocks {
				r := small{rand.New(rand.NewPCG(uint64(seed), uint64(tt.weeks))), tt.weeks}
				b, rec, asOf := r.block()
				longDay := []int{0, 45, 60, 120}[r.IntN(4)]
				placed += agree(t, fmt.Sprintf("seed %d", seed), b, rec, asOf, longDay)
			}
			t.Logf("%d weeks of %d blocks placed", placed, blocks)
			if least := tt.least * blocks / tt.blocks; placed < least {
				t.Errorf("only %d weeks could be placed, want %d: the blocks are too hard", placed, least)
			}
		})
	}
}
