package plan

import (
	"cmp"
	"fmt"
	"slices"

	"towpath/internal/diag"
	"towpath/internal/spec"
)

// weeks fills in each week's mix, its tests and its pinned sessions.
func (r *resolver) weeks(s *spec.Block, b *Block, m *mixes) {
	for _, w := range b.Weeks {
		w.Rides = m.of(w)
		if own := weekOf(s, w.Number); own != nil {
			w.Note = own.Note.V
			r.pins(own, b, w)
		}
	}
	for _, t := range s.TestDays {
		r.testDay(t, b)
	}
	for _, w := range b.Weeks {
		slices.SortStableFunc(w.Given, func(x, y *Given) int {
			return cmp.Or(cmp.Compare(x.Date, y.Date), cmp.Compare(x.Start, y.Start))
		})
		r.checkGiven(w)
	}
	r.checkMix(s, b)
}

// pins are the sessions that the coach put on a day.
func (r *resolver) pins(own *spec.Week, b *Block, w *Week) {
	for _, p := range own.Pins {
		date := WeekdayOf(w.Start, p.Day)
		g := &Given{Date: date, Minutes: p.Minutes.V.Minutes(), Note: p.Note.V, Range: p.Range, Start: p.At.V}
		switch {
		case p.Session.Set:
			g.Session = r.sessions[p.Session.V.Key]
			for _, ride := range w.Rides {
				if ride.Session == g.Session && g.Ride == nil {
					g.Ride = ride
				}
			}
		case p.Ride.Set:
			i := slices.IndexFunc(w.Rides, func(ride *Ride) bool { return ride.Key == p.Ride.V })
			if i < 0 {
				r.unknownRide(p, w)
				continue
			}
			g.Ride, g.Session = w.Rides[i], w.Rides[i].Session
		}
		if g.Session == nil {
			continue
		}
		if !p.Minutes.Set {
			g.Minutes = g.Session.Usual
			if g.Ride != nil {
				g.Minutes = min(max(g.Session.Usual, g.Ride.AtLeast), g.Ride.AtMost)
			}
		}
		r.onDay(g, b.Athlete)
		w.Given = append(w.Given, g)
	}
}

func (r *resolver) unknownRide(p spec.Pin, w *Week) {
	detail := fmt.Sprintf("Week %d has the rides", w.Number)
	for i, ride := range w.Rides {
		if i > 0 {
			detail += ","
		}
		detail += fmt.Sprintf(" %q", ride.Key)
	}
	r.add(diag.Error, "unknown-ride", p.Ride.Range, fmt.Sprintf("Week %d has no ride %q", w.Number, p.Ride.V),
		detail+". Name one of them, or a session outside the mix: session = session.…")
}

// testDay puts a protocol on its day in each week it names.
func (r *resolver) testDay(t *spec.TestDay, b *Block) {
	protocol := r.protocols[t.Protocol.V.Key]
	if protocol == nil || !t.Day.Set {
		return
	}
	for _, n := range t.Weeks.V {
		if n < 1 || n > len(b.Weeks) {
			r.add(diag.Error, "week-outside-block", place(t.Weeks, t.Header), fmt.Sprintf("Test day %q is in week %d, but block %q has %d weeks", t.Key, n, b.Key, len(b.Weeks)),
				"Name a week of the block.", diag.Related{Message: "the block", Range: b.Range})
			continue
		}
		w := b.Weeks[n-1]
		day := &TestDay{Key: t.Key, Range: t.Header, Meter: t.Meter.V.Key}
		g := &Given{
			Date: WeekdayOf(w.Start, t.Day.V), Minutes: protocol.Minutes, Session: protocol, Test: day,
			Start: t.At.V, Place: t.Place.V, Range: t.Header,
		}
		r.likeBefore(t, b, g)
		r.onDay(g, b.Athlete)
		w.Given = append(w.Given, g)
		w.Light = w.Light || protocol.Maximal
	}
}

// likeBefore finds the newest earlier test of the same protocol: its stages are repeated.
func (r *resolver) likeBefore(t *spec.TestDay, b *Block, g *Given) {
	var newest *spec.Test
	for _, test := range r.spec.Tests {
		if test.Protocol.V == t.Protocol.V && r.rides(test.Athlete, b.Athlete) && test.Date.V < g.Date &&
			(newest == nil || test.Date.V > newest.Date.V) {
			newest = test
		}
	}
	if newest != nil && stepProtocols[newest.Protocol.V.Key] {
		if reading := r.read(newest); len(reading.steps.Stages) > 0 {
			g.Test.Like = &reading.steps
		}
	}
}

// onDay fills in the hour and the place that the athlete's day gives.
func (r *resolver) onDay(g *Given, a *Athlete) {
	day := a.DayOn(g.Date)
	if g.Start.IsZero() {
		g.Start = day.Start
	}
	if g.Place == "" {
		g.Place = day.Place
		if day.OrLimit > 0 && g.Minutes > day.Limit {
			g.Place = day.OrPlace
		}
	}
}

// checkGiven refuses a test and another session on one date, and two tests of a kind.
func (r *resolver) checkGiven(w *Week) {
	for i := 1; i < len(w.Given); i++ {
		x, y := w.Given[i-1], w.Given[i]
		if x.Date == y.Date {
			r.add(diag.Error, "day-taken", y.Range, fmt.Sprintf("Two sessions are given for %s %s", x.Date.Weekday(), x.Date),
				fmt.Sprintf("%s and %s cannot share a day. Move one of them.", x.Session.Title, y.Session.Title),
				diag.Related{Message: "the other one", Range: x.Range})
		}
	}
}
