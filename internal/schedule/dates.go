package schedule

import (
	"slices"

	"towpath/internal/physiology"
	"towpath/internal/plan"
	"towpath/internal/units"
)

// given enters what is given in a week: in the past what was delivered, from then on tests, pinned
// sessions and fixed rides.
func (pl *placer) given(w *plan.Week, p *problem, without groups) {
	enter := func(on units.Date, ride, minutes int, s *plan.Session) *day {
		d := &p.days[on.Sub(w.Start)]
		d.given += minutes
		d.givenDemanding = d.givenDemanding || demanding(s)
		p.givenTotal += minutes
		if ride >= 0 {
			p.rides[ride].given++
			p.rides[ride].givenMinutes += minutes
		}
		return d
	}
	for date := w.Start; date < min(w.Start.Add(daysInWeek), pl.asOf); date++ {
		for _, rec := range pl.recorded[date] {
			enter(date, rideIndex(w, rec.ride), rec.minutes, rec.session).taken = true
		}
	}
	for _, g := range w.Given {
		if g.Date < pl.asOf || pl.change.drops(g) {
			continue
		}
		k := unknown
		if g.Ride != nil {
			k = rideIndex(w, g.Ride.Key)
		}
		minutes := int(g.Minutes)
		if without&groupGiven != 0 {
			p.leaveOut(g.Date.Sub(w.Start), k, minutes)
			continue
		}
		if c := pl.change; c != nil && c.given == g {
			minutes = c.value
		}
		d := enter(g.Date, k, minutes, g.Session)
		d.taken = d.taken || !g.LeavesOpen()
		if !g.Apart {
			d.used += minutes
		}
		// Beside a demanding ride that leaves its date open only a light one may stand.
		d.lightOnly = d.lightOnly || demanding(g.Session) && without&groupEasy == 0
	}
	for _, g := range pl.resumed(w) { // by a repair: nothing is lifted
		d := enter(g.Date, slices.IndexFunc(w.Rides, func(r *plan.Ride) bool { return r.Session == g.Session }), int(g.Minutes), g.Session)
		d.used += int(g.Minutes)
		d.lightOnly = d.lightOnly || demanding(g.Session)
	}
}

// resumed are the fixed rides of each week that paused because a date held too little, and would be
// ridden again with what a repair gives it.
func (pl *placer) resumed(w *plan.Week) (out []plan.Paused) {
	c := pl.change
	if c == nil || c.group&(groupLimits|groupAway) == 0 || pl.block.Athlete.AwayOn(c.date) != nil || pl.eventOn(c.date) != nil {
		return nil
	}
	on := pl.block.Athlete.DayOn(c.date)
	for _, p := range w.Paused {
		lacks := p.Date == c.date && limitOf(on) < int(p.Minutes) && int(p.Minutes) <= c.value
		if lacks && !slices.ContainsFunc(w.Given, func(g *plan.Given) bool {
			return g.Date == p.Date && g.Fixed == "" && (g.Test != nil || g.Session == p.Session)
		}) {
			out = append(out, p)
		}
	}
	return out
}

// leaveOut lifts a given session: neither its minutes nor its count are asked for, and it binds
// nothing that it did not bind before.
func (p *problem) leaveOut(date, ride, minutes int) {
	p.days[date].lifted += minutes
	p.unasked += up(minutes)
	p.ridingLow--
	if ride >= 0 {
		p.rides[ride].low--
	}
}

// demanding tells sessions that should not stand on neighbouring dates.
func demanding(s *plan.Session) bool { return s != nil && (s.Demanding || s.Maximal) }

// dayOn is what a date can hold; away tells that an exception closes it.
func (pl *placer) dayOn(date units.Date) (on plan.Day, away bool) {
	athlete := pl.block.Athlete
	on = athlete.DayOn(date)
	_, exception := athlete.Exceptions[date]
	return on, exception && limitOf(on) == 0 && on.Way == 0 && on.Second == nil
}

// limitOf is the most that may be ridden in a day's window.
func limitOf(on plan.Day) int { return int(max(on.Limit, on.OrLimit)) }

// day lowers a date.
func (pl *placer) day(w *plan.Week, p *problem, i int, without groups) {
	date := w.Start.Add(i)
	d := &p.days[i]
	on, away := pl.dayOn(date)
	if away && without&groupAway != 0 {
		on, away = pl.block.Athlete.OrdinaryOn(date), false
	}
	limit := limitOf(on)
	if pl.change.opensDate(date, away) {
		limit = pl.change.value
	}
	if without&groupLimits != 0 && !away {
		limit = dayLong
	}
	d.event = pl.eventOn(date) != nil && without&groupAway == 0
	d.open = date >= pl.asOf && limit > 0 && !d.taken && !d.event
	d.room = limit - d.used
	other := slices.ContainsFunc(pl.block.Athlete.OtherOn(date), func(o *plan.Other) bool { return o.Demanding })
	d.givenDemanding = d.givenDemanding || d.event || other
	easy := on.Easy && !pl.change.unburdens(date)
	d.lightOnly = (d.lightOnly || easy || other) && without&groupEasy == 0
	if without&groupTests == 0 {
		pl.beforeTests(date, d, without)
	}
	d.room = down(max(d.room, 0))
	pl.recordOf(w, p, i)
	d.base = unknown
	if pl.base != nil {
		if key := pl.base[i]; key == "" {
			d.base = rest
		} else {
			d.base = rideIndex(w, key)
		}
	}
}

// beforeTests keeps the days before a test light: the day before a maximal one or an event, the
// second before a maximal one, and the day before a ride that is compared from week to week. What
// comes may stand in the next week.
func (pl *placer) beforeTests(date units.Date, d *day, without groups) {
	next := func(days int) *plan.Session {
		if g := pl.testOn(date.Add(days)); g != nil && without&groupGiven == 0 {
			return g.Session
		}
		return nil
	}
	if s := next(1); s != nil && s.Maximal || pl.eventOn(date.Add(1)) != nil {
		d.room = min(d.room, int(physiology.DayBeforeTest.Value)-d.given)
		d.lightOnly = true
	} else if s != nil && s.KeepsWatts {
		d.notLong = true
	}
	if s := next(2); s != nil && s.Maximal {
		d.room = min(d.room, int(physiology.TwoDaysBeforeTest.Value)-quantum-d.given)
	}
}

// testOn is the test that is given on a date from the day of the plan on, or nil.
func (pl *placer) testOn(date units.Date) *plan.Given {
	w := pl.block.WeekOn(date)
	if w == nil || date < pl.asOf {
		return nil
	}
	for _, g := range w.Given {
		if g.Date == date && g.Session != nil && g.Session.Protocol && !pl.change.drops(g) {
			return g
		}
	}
	return nil
}

// eventOn is the event on a date, or nil.
func (pl *placer) eventOn(date units.Date) *plan.Event {
	for _, e := range pl.block.Events {
		if e.Date == date {
			return e
		}
	}
	return nil
}

// recordOf enters what was delivered for a date that is not past.
func (pl *placer) recordOf(w *plan.Week, p *problem, i int) {
	date := w.Start.Add(i)
	d := &p.days[i]
	d.recorded = rest
	if date < pl.asOf {
		return
	}
	if rec := pl.deliveries(w, date).placed; rec != nil {
		d.recorded, d.recordedMin = rideIndex(w, rec.ride), rec.minutes
		d.held = date < pl.asOf.Add(physiology.HeldDays.Value)
	}
}
