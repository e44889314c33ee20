package schedule

import (
	"fmt"

	"towpath/internal/diag"
	"towpath/internal/physiology"
	"towpath/internal/plan"
	"towpath/internal/record"
	"towpath/internal/units"
)

// Place puts a block's rides and minutes on dates. rec is what was delivered to the athlete, nil
// where nothing was; dates before asOf stay as delivered, and later sessions move as little as the
// block allows. Where a week cannot hold what was asked, the diagnostics name the lines that
// conflict and the smallest changes that would do; the schedule then has no weeks.
func Place(b *plan.Block, rec *record.Athlete, asOf units.Date) (*Schedule, diag.List) {
	pl := newPlacer(b, rec, asOf)
	s := &Schedule{Block: b}
	if diags := pl.check(); diags.HasErrors() {
		return s, diags
	}
	pl.base = pl.baseWeek()
	c := newChain(pl)
	problems, placements, ok := c.place()
	if !ok {
		return s, c.conflicts()
	}
	s.chain, s.problems, s.placements = c, problems, placements
	for i, w := range b.Weeks {
		s.Weeks = append(s.Weeks, pl.week(w, problems[i], placements[i]))
	}
	return s, nil
}

func newPlacer(b *plan.Block, rec *record.Athlete, asOf units.Date) *placer {
	pl := &placer{
		block:   b,
		longDay: int(physiology.LongDay.Value), percent: physiology.LongDayPercent.Value,
		recorded: map[units.Date][]*recordedSession{},
	}
	if rec == nil {
		return pl
	}
	for i := range rec.Sessions {
		s := &rec.Sessions[i]
		if s.Block != b.Key || s.Date < b.Start || s.Date > b.End() {
			continue
		}
		pl.recorded[s.Date] = append(pl.recorded[s.Date], &recordedSession{ride: s.Ride, minutes: int(s.Minutes), session: sessionOf(b, s), source: s})
	}
	if len(pl.recorded) > 0 {
		pl.asOf = asOf
	}
	return pl
}

// sessionOf finds what a recorded session was; a session that is no longer in the plan keeps its
// name and title.
func sessionOf(b *plan.Block, s *record.Session) *plan.Session {
	for _, w := range b.Weeks {
		for _, r := range w.Rides {
			if r.Session.Key == s.Session {
				return r.Session
			}
		}
		for _, g := range w.Given {
			if g.Session != nil && g.Session.Key == s.Session {
				return g.Session
			}
		}
	}
	return &plan.Session{Key: s.Session, Title: s.Title}
}

// check finds what no placement could mend.
func (pl *placer) check() (diags diag.List) {
	most := physiology.MostRides.Value
	for _, w := range pl.block.Weeks {
		if len(w.Rides) > most {
			diags.Add(diag.Diagnostic{
				Code: "too-many-rides", Severity: diag.Error, Subject: w.Rides[most].Range,
				Summary: fmt.Sprintf("Week %d has %d kinds of ride; at most %d can be placed", w.Number, len(w.Rides), most),
				Detail:  "Let fewer rides take part in the week, or put some on their days yourself.",
			})
			return diags
		}
	}
	for _, w := range pl.block.Weeks {
		for _, g := range w.Given {
			if g.Date >= pl.asOf {
				pl.checkGiven(w, g, &diags)
			}
		}
	}
	return diags
}

// checkGiven refuses a session that its day cannot hold.
func (pl *placer) checkGiven(w *plan.Week, g *plan.Given, diags *diag.List) {
	on := pl.block.Athlete.DayOn(g.Date)
	limit := max(on.Limit, on.OrLimit)
	if g.Minutes <= limit || g.Apart {
		return
	}
	title := "the session"
	if g.Session != nil {
		title = g.Session.Title
	}
	weekday := g.Date.Weekday()
	d := diag.Diagnostic{
		Code: "day-too-short", Severity: diag.Error, Subject: g.Range,
		Summary: fmt.Sprintf("%s of week %d lasts %s, but %s can hold %s", title, w.Number, g.Minutes, weekday, limit),
		Detail:  fmt.Sprintf("%s %s is the day. Give it %s, shorten the session, or put it on a day that holds it.", weekday, g.Date, g.Minutes),
		Related: []diag.Related{{Message: fmt.Sprintf("what %s can hold", weekday), Range: on.Range}},
	}
	if limit == 0 {
		d.Summary = fmt.Sprintf("%s of week %d is on %s %s, a day without riding", title, w.Number, weekday, g.Date)
		d.Detail = fmt.Sprintf(`Open the day, for example on = { "%s" = "%s" }, leave the week out, or choose another day.`, g.Date, g.Minutes)
	}
	diags.Add(d)
}

// week turns a placement into sessions.
func (pl *placer) week(w *plan.Week, p *problem, got *placement) Week {
	out := Week{Week: w}
	var recorded []*recordedSession // of each session, nil where it is new
	add := func(s Session, rec *recordedSession) {
		out.Sessions, recorded = append(out.Sessions, s), append(recorded, rec)
	}
	for i := range daysInWeek {
		date := w.Start.Add(i)
		was := pl.deliveries(w, date)
		if date < pl.asOf {
			for _, rec := range pl.recorded[date] {
				add(pl.deliveredSession(w, rec, was.of(rec)), rec)
			}
			continue
		}
		for _, g := range w.Given {
			if g.Date == date {
				add(givenSession(w, g), was.given[g])
			}
		}
		if k := got.pattern[i]; k >= 0 {
			rec := was.placed
			if rec != nil && rec.ride != w.Rides[k].Key {
				rec = nil
			}
			add(pl.placedSession(w, p, got, i), rec)
		}
	}
	for k, r := range w.Rides {
		out.Mix = append(out.Mix, Mix{Ride: r, Wished: units.Minutes(p.rides[k].wished), Placed: units.Minutes(got.mix[k])})
	}
	for _, s := range out.Sessions {
		out.Placed += s.Minutes
	}
	slots(out.Sessions, recorded)
	if !pl.past(w) {
		out.Stated = pl.stated(&out, p)
	}
	return out
}

// stated says what was not met.
func (pl *placer) stated(w *Week, p *problem) (out []string) {
	if cut := w.Asked - w.Placed; cut >= units.Minutes(quantum) && pl.tolerant(w.Week) {
		out = append(out, fmt.Sprintf("%s less than the %s asked, within the tolerance of %s: no more can be placed", cut, w.Asked, pl.block.Tolerance))
	} else if w.Placed < w.Asked {
		out = append(out, fmt.Sprintf("%s of %s could not be placed: the week has %s", w.Asked-w.Placed, w.Asked, w.Placed))
	} else if w.Placed > w.Asked {
		out = append(out, fmt.Sprintf("%s more than the %s asked: the days that are left allow no nearer total", w.Placed-w.Asked, w.Asked))
	}
	for k, m := range w.Mix {
		switch most := physiology.MixStated.Value; {
		case m.Placed == 0 && m.Wished > most:
			out = append(out, fmt.Sprintf("%s: none of the %s wished%s", m.Ride.Key, m.Wished, pl.tooLittle(m, p, k)))
		case m.Wished-m.Placed > most:
			out = append(out, fmt.Sprintf("%s: %s less than the %s wished", m.Ride.Key, m.Wished-m.Placed, m.Wished))
		case m.Placed-m.Wished > most:
			out = append(out, fmt.Sprintf("%s: %s more than the %s wished", m.Ride.Key, m.Placed-m.Wished, m.Wished))
		}
	}
	return out
}

// tooLittle tells why none of a ride was placed, where its shortest length alone is why: ": one lasts
// at least 75 min".
func (pl *placer) tooLittle(m Mix, p *problem, k int) string {
	r, room := &p.rides[k], 0
	for i, d := range p.days {
		if d.open && r.rank[i] >= 0 {
			room = max(room, d.room)
		}
	}
	switch {
	case int(m.Wished) < r.atLeast:
		return fmt.Sprintf(": one lasts at least %s", units.Minutes(r.atLeast))
	case room == 0:
		return ": no day that it may fall on has room"
	case room < r.atLeast:
		return fmt.Sprintf(": its days have room for %s, and one lasts at least %s", units.Minutes(room), units.Minutes(r.atLeast))
	}
	return ""
}

// deliveredSession is a session of the past, as it was delivered; g is what the plan still gives of
// it, or nil.
func (pl *placer) deliveredSession(w *plan.Week, rec *recordedSession, g *plan.Given) Session {
	date := rec.source.Date
	s := Session{
		Week: w.Number, Date: date, Minutes: units.Minutes(rec.minutes), Start: rec.source.Start, Session: rec.session,
		Place:  pl.block.Athlete.DayOn(date).Place,
		Given:  g,
		Origin: diag.Origin{What: fmt.Sprintf("as delivered for %s", date)},
	}
	if g != nil {
		s.Place = g.Place
	}
	if k := rideIndex(w, rec.ride); k >= 0 {
		s.Ride, s.Session = w.Rides[k], w.Rides[k].Session
	}
	return s
}

func givenSession(w *plan.Week, g *plan.Given) Session {
	what := "put on this day by the coach"
	switch {
	case g.Test != nil:
		what = "the day of the test"
	case g.Fixed != "":
		what = fmt.Sprintf("the fixed ride %q", g.Fixed)
	}
	return Session{
		Week: w.Number, Date: g.Date, Minutes: g.Minutes, Start: g.Start, Place: g.Place,
		Ride: g.Ride, Session: g.Session, Given: g,
		Origin: diag.Origin{What: fmt.Sprintf("%s: %s, %s", g.Date.Weekday(), g.Minutes, what), Range: g.Range},
	}
}

func (pl *placer) placedSession(w *plan.Week, p *problem, got *placement, i int) Session {
	date, r := w.Start.Add(i), w.Rides[got.pattern[i]]
	on := pl.block.Athlete.DayOn(date)
	s := Session{
		Week: w.Number, Date: date, Minutes: units.Minutes(got.minutes[i]), Start: on.Start, Place: on.Place,
		Ride: r, Session: r.Session,
	}
	if units.Minutes(p.days[i].used)+s.Minutes > on.Limit && on.OrLimit > 0 {
		s.Place = on.OrPlace
	}
	for _, g := range w.Given { // by hour
		if g.Date == date {
			s.Start = after(g, s.Start, s.Minutes)
		}
	}
	s.Origin = pl.why(w, p, got, i)
	return s
}

// after is when a session can begin that is given a start, so that it does not run into a given one
// of the date.
func after(g *plan.Given, start units.Clock, minutes units.Minutes) units.Clock {
	from, to := g.Start.Minute(), g.Start.Minute()+int(g.Minutes)
	if start.IsZero() || g.Start.IsZero() || start.Minute() >= to || start.Minute()+int(minutes) <= from || to >= dayLong {
		return start
	}
	return units.NewClock(0, to)
}

// slots numbers the sessions of each name within the week. One that was delivered for its date
// keeps the number, and so its key; the others take the free ones in order, those first that a moved
// session has left.
func slots(sessions []Session, recorded []*recordedSession) {
	type slot struct {
		name   string
		number int
	}
	taken := map[slot]bool{}
	for i := range sessions {
		if recorded[i] == nil {
			continue
		}
		s := &sessions[i]
		_, number := splitKey(recorded[i].source.Key)
		if at := (slot{s.Name(), number}); number > 0 && !taken[at] {
			taken[at], s.Slot = true, number
		}
	}
	for i := range sessions {
		s := &sessions[i]
		for n := 1; s.Slot == 0; n++ {
			if at := (slot{s.Name(), n}); !taken[at] {
				taken[at], s.Slot = true, n
			}
		}
	}
}
