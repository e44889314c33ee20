package plan

import (
	"cmp"
	"fmt"
	"slices"

	"towpath/internal/diag"
	"towpath/internal/spec"
	"towpath/internal/units"
)

// weeks fills in each week's mix, its pinned sessions, its tests and its fixed rides.
func (r *resolver) weeks(s *spec.Block, b *Block, m *mixes, asOf units.Date) {
	for _, w := range b.Weeks {
		w.Rides = m.of(w)
		if own := weekOf(s, w.Number); own != nil {
			w.Note = own.Note.V
			r.pins(own, b, w)
		}
	}
	for _, t := range s.TestDays {
		r.testDay(t, b, asOf)
	}
	r.giveFixed(s, b)
	told := map[diag.Range]bool{}
	for _, w := range b.Weeks {
		slices.SortStableFunc(w.Given, func(x, y *Given) int {
			return cmp.Or(cmp.Compare(x.Date, y.Date), cmp.Compare(x.Start, y.Start))
		})
		r.checkGiven(w, b.Athlete, told)
	}
	r.checkMix(s, b)
}

// pins are the sessions that the coach put on a day.
func (r *resolver) pins(own *spec.Week, b *Block, w *Week) {
	var pins []*Given
	open := map[*Given]bool{} // those without minutes of their own
	for _, p := range own.Pins {
		g := &Given{Date: weekdayOf(w.Start, p.Day), Minutes: p.Minutes.V.Minutes(), Note: p.Note.V, Range: p.Range, Start: p.At.V}
		if p.Minutes.Set {
			g.Written = p.Minutes.Range
		}
		switch {
		case p.Session.Set:
			g.Session = r.sessions[p.Session.V.Key]
			g.Ride = w.rideOf(g.Session)
		case p.Ride.Set:
			i := slices.IndexFunc(w.Rides, func(ride *Ride) bool { return ride.Key == p.Ride.V })
			if i < 0 {
				r.unknownRide(p, w)
				continue
			}
			g.Ride, g.Session = w.Rides[i], w.Rides[i].Session
		}
		if g.Session != nil {
			pins = append(pins, g)
			open[g] = !p.Minutes.Set
		}
	}
	for d := w.Start; d < w.Start.Add(daysInWeek); d++ {
		var on []*Given
		for _, g := range pins {
			if g.Date == d {
				on = append(on, g)
			}
		}
		if on != nil {
			w.seatPins(on, open, b.Athlete)
		}
	}
}

// bounds are the least and the most that a given session may last.
func (g *Given) bounds() (least, most units.Minutes) {
	if g.Ride != nil {
		return g.Ride.AtLeast, g.Ride.AtMost
	}
	return g.Session.AtLeast, g.Session.AtMost
}

// pinnedMinutes is how long a pinned session lasts where the coach left it open: its usual time,
// or all that its window can hold where that is less and still enough.
func pinnedMinutes(g *Given, window *Day) units.Minutes {
	least, most := g.bounds()
	minutes := min(max(g.Session.Usual, least), most)
	if limit := floor5(float64(window.most())); limit < minutes && limit >= least {
		return limit
	}
	return minutes
}

func (r *resolver) unknownRide(p spec.Pin, w *Week) {
	var labels []string
	for _, ride := range w.Rides {
		labels = append(labels, ride.Key)
	}
	r.add(diag.Error, "unknown-ride", p.Ride.Range, fmt.Sprintf("Week %d has no ride %q", w.Number, p.Ride.V),
		fmt.Sprintf("Week %d has the rides %s. Name one of them, or a session outside the mix: session = session.…", w.Number, quotedList(labels)))
}

// testDay puts a protocol on its day in each week it names.
func (r *resolver) testDay(t *spec.TestDay, b *Block, asOf units.Date) {
	protocol := r.protocols[t.Protocol.V.Key]
	if protocol == nil || !t.Day.Set {
		return
	}
	var short []*Given
	for _, n := range t.Weeks.V {
		w := b.Week(n)
		if w == nil {
			continue // before the athlete joins; of weeks that are none, spec has said so
		}
		day := &TestDay{Key: t.Key, Range: t.Header, Meter: t.Meter.V.Key}
		g := &Given{
			Date: weekdayOf(w.Start, t.Day.V), Minutes: protocol.Minutes, Session: protocol, Test: day,
			Start: t.At.V, Place: t.Place.V, Range: t.Header,
		}
		r.likeBefore(t, b, g)
		w.seat(g, b.Athlete, false)
		w.Light = w.Light || protocol.Maximal
		if on := b.Athlete.DayOn(g.Date); g.Date >= asOf && g.Minutes > on.roomFor(g.Place) {
			short = append(short, g)
		}
	}
	if short != nil && b.Athlete.hasDay(b.Start, b.End()) {
		r.noRoom(t, b, short)
	}
}

// noRoom says once for a test which of its days cannot hold it.
func (r *resolver) noRoom(t *spec.TestDay, b *Block, short []*Given) {
	var weeks []int
	for _, g := range short {
		weeks = append(weeks, b.WeekOn(g.Date).Number)
	}
	first := short[0]
	on := b.Athlete.DayOn(first.Date)
	limit, weekday := on.roomFor(first.Place), first.Date.Weekday()
	summary := fmt.Sprintf("%s of %s lasts %s, but %s %s can hold %s", first.Session.Title, WeeksText(weeks), first.Minutes, weekday, first.Date, limit)
	if limit == 0 {
		summary = fmt.Sprintf("%s of %s is on %s %s, a day without riding", first.Session.Title, WeeksText(weeks), weekday, first.Date)
	}
	if len(short) > 1 {
		summary += fmt.Sprintf("; %d more", len(short)-1)
	}
	r.add(diag.Error, "day-too-short", place(t.Day, t.Header), summary,
		b.Athlete.toOpen(first.Date, first.Minutes)+", leave the week out, or choose another day.",
		diag.Related{Message: fmt.Sprintf("what %s can hold", weekday), Range: on.Range})
}

// likeBefore finds the newest earlier test of the same protocol: its stages are repeated, at its place
// and with its meter where the test_day names no other.
func (r *resolver) likeBefore(t *spec.TestDay, b *Block, g *Given) {
	var newest *spec.Test
	for _, test := range r.spec.Tests {
		if test.Protocol.V == t.Protocol.V && r.rides(test.Athlete, b.Athlete) && test.Date.V < g.Date &&
			(newest == nil || test.Date.V > newest.Date.V) {
			newest = test
		}
	}
	if newest == nil {
		return
	}
	g.Place, g.Test.Meter = cmp.Or(g.Place, newest.Place.V), cmp.Or(g.Test.Meter, newest.Meter.V.Key)
	if stepProtocols[newest.Protocol.V.Key] {
		if reading := r.read(newest); len(reading.steps.Stages) > 0 {
			g.Test.Like = &reading.steps
		}
	}
}
