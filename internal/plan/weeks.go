package plan

import (
	"cmp"
	"fmt"
	"slices"

	"towpath/internal/diag"
	"towpath/internal/spec"
	"towpath/internal/units"
)

// weeks fills in each week's mix, its tests and its pinned sessions.
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
	for _, w := range b.Weeks {
		slices.SortStableFunc(w.Given, func(x, y *Given) int {
			return cmp.Or(cmp.Compare(x.Date, y.Date), cmp.Compare(x.Start, y.Start))
		})
		r.checkGiven(w, b.Athlete)
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
			g.Minutes = pinnedMinutes(g, b.Athlete.DayOn(date))
		}
		r.onDay(g, b.Athlete)
		w.Given = append(w.Given, g)
	}
}

// pinnedMinutes is how long a pinned session lasts where the coach left it open: its usual time,
// or all that the day can hold where that is less and still enough.
func pinnedMinutes(g *Given, on Day) units.Minutes {
	least, most := g.Session.AtLeast, g.Session.AtMost
	if g.Ride != nil {
		least, most = g.Ride.AtLeast, g.Ride.AtMost
	}
	minutes := min(max(g.Session.Usual, least), most)
	if limit := floor5(float64(max(on.Limit, on.OrLimit))); limit < minutes && limit >= least {
		return limit
	}
	return minutes
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
			Date: WeekdayOf(w.Start, t.Day.V), Minutes: protocol.Minutes, Session: protocol, Test: day,
			Start: t.At.V, Place: t.Place.V, Range: t.Header,
		}
		r.likeBefore(t, b, g)
		r.onDay(g, b.Athlete)
		w.Given = append(w.Given, g)
		w.Light = w.Light || protocol.Maximal
		if on := b.Athlete.DayOn(g.Date); g.Date >= asOf && g.Minutes > max(on.Limit, on.OrLimit) {
			short = append(short, g)
		}
	}
	if short != nil && b.Athlete.hasDay() {
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
	limit, weekday := max(on.Limit, on.OrLimit), first.Date.Weekday()
	summary := fmt.Sprintf("%s of %s lasts %s, but %s %s can hold %s", first.Session.Title, WeeksText(weeks), first.Minutes, weekday, first.Date, limit)
	if limit == 0 {
		summary = fmt.Sprintf("%s of %s is on %s %s, a day without riding", first.Session.Title, WeeksText(weeks), weekday, first.Date)
	}
	if len(short) > 1 {
		summary += fmt.Sprintf("; %d more", len(short)-1)
	}
	r.add(diag.Error, "day-too-short", place(t.Day, t.Header), summary,
		fmt.Sprintf(`Open the day, for example on = { "%s" = "%s" }, leave the week out, or choose another day.`, first.Date, first.Minutes),
		diag.Related{Message: fmt.Sprintf("what %s can hold", weekday), Range: on.Range})
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

// checkGiven looks at the dates for which several sessions are given: a test has its date to
// itself, and two pinned rides follow each other within what the day can hold.
func (r *resolver) checkGiven(w *Week, a *Athlete) {
	for i := 1; i < len(w.Given); i++ {
		x, y := w.Given[i-1], w.Given[i]
		if x.Date != y.Date {
			continue
		}
		other := diag.Related{Message: "the other one", Range: x.Range}
		limit := max(a.DayOn(y.Date).Limit, a.DayOn(y.Date).OrLimit)
		switch ends := x.Start.Minute() + int(x.Minutes); {
		case x.Test != nil || y.Test != nil:
			r.add(diag.Error, "day-taken", y.Range, fmt.Sprintf("Two sessions are given for %s %s", x.Date.Weekday(), x.Date),
				fmt.Sprintf("%s and %s cannot share a day: a test has its day to itself. Move one of them.", x.Session.Title, y.Session.Title), other)
		case x.Minutes+y.Minutes > limit && x.Minutes <= limit && y.Minutes <= limit:
			r.add(diag.Error, "day-too-short", y.Range, fmt.Sprintf("%s and %s of week %d last %s together, but %s can hold %s", x.Session.Title, y.Session.Title, w.Number, x.Minutes+y.Minutes, y.Date.Weekday(), limit),
				"Shorten one of them, move it, or give the day more time.", other, diag.Related{Message: "what the day can hold", Range: a.DayOn(y.Date).Range})
		case !x.Start.IsZero() && !y.Start.IsZero() && ends > y.Start.Minute():
			r.add(diag.Error, "day-taken", y.Range, fmt.Sprintf("%s begins at %s on %s, when %s, begun at %s, is not over", y.Session.Title, y.Start, y.Date, x.Session.Title, x.Start),
				"Give each an hour of its own: at = \"…\".", other)
		}
	}
}
