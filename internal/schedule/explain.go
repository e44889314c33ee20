package schedule

import (
	"fmt"
	"slices"

	"towpath/internal/diag"
	"towpath/internal/physiology"
	"towpath/internal/plan"
	"towpath/internal/units"
)

// Explain tells what would come of a week without the session that was placed on a date: its ride is
// forbidden there and the week placed again. Where that can be, the term that gets worse first is
// told; else the lines that leave nothing else. It is false where nothing was placed on the date.
func Explain(s *Schedule, date units.Date) (diag.Origin, bool) {
	w := s.Block.WeekOn(date)
	if w == nil || s.chain == nil {
		return diag.Origin{}, false
	}
	n := date.Sub(s.Block.Start) / daysInWeek
	k := s.placements[n].pattern[date.Sub(w.Start)]
	if k < 0 {
		return diag.Origin{}, false
	}
	return s.chain.without(n, date, w.Rides[k], s.problems[n].total, s.placements), true
}

// Given tells what a week holds that is not for the mix: what its days can hold, its given sessions,
// what they leave, and the fixed rides that pause.
func Given(b *plan.Block, w *Week) (out []diag.Origin) {
	var room []string
	for i := range daysInWeek {
		date := w.Start.Add(i)
		if limit := limitOf(b.Athlete.DayOn(date)); limit > 0 {
			room = append(room, fmt.Sprintf("%s %s", date.Weekday().String()[:3], units.Minutes(limit)))
		}
	}
	if room != nil {
		out = append(out, diag.Origin{What: "the days can hold " + list(room, "and")})
	}
	left := w.Placed
	for _, s := range w.Sessions {
		if s.Given != nil {
			o := s.Origin
			o.What = "given on " + o.What
			out = append(out, o)
		}
		if s.Ride == nil {
			left -= s.Minutes
		}
	}
	if left < w.Placed && len(w.Mix) > 0 {
		out = append(out, diag.Origin{What: fmt.Sprintf("left for the mix: %s of %s", left, w.Placed)})
	}
	for _, p := range w.Paused {
		out = append(out, diag.Origin{What: fmt.Sprintf("the fixed ride %q of %s pauses on %s: %s", p.Fixed, p.Minutes, p.Date.Weekday(), p.Why), Range: p.Range})
	}
	return out
}

// String says what was wished of a ride, why, and what was placed.
func (m Mix) String() string {
	why := ""
	switch r := m.Ride; {
	case r.Rest:
		why = ", what the others leave"
	case r.Minutes == 0:
		why = fmt.Sprintf(", %s of the mix", r.Share)
	}
	return fmt.Sprintf("%s: %s wished%s; %s placed", m.Ride.Key, m.Wished, why, m.Placed)
}

// Beside tells what else a date of the block holds that bears on what may be ridden: where its day
// comes from if not from the rider's usual week, a journey, a fixed ride that pauses, other sport, an
// event, and a test or an event to come.
func Beside(b *plan.Block, date units.Date) (out []diag.Origin) {
	w := b.WeekOn(date)
	if w == nil {
		return nil
	}
	add := func(at diag.Range, format string, args ...any) {
		out = append(out, diag.Origin{What: fmt.Sprintf(format, args...), Range: at})
	}
	on := b.Athlete.DayOn(date)
	_, exception := b.Athlete.Exceptions[date]
	_, rostered := b.Athlete.Rostered[date]
	switch {
	case exception:
		add(on.Range, "%s has a line of its own: %s", date, holds(on))
	case rostered:
		add(on.Range, "%s by the roster: %s", date.Weekday(), holds(on))
	case on.Squad != "":
		add(on.Range, "%s by squad %q: %s", date.Weekday(), on.Squad, holds(on))
	}
	if t := b.Athlete.AwayOn(date); t != nil {
		add(t.Range, "away, by the clock of %s", t.Zone)
	}
	for _, p := range w.Paused {
		if p.Date == date {
			add(p.Range, "the fixed ride %q of %s pauses: %s", p.Fixed, p.Minutes, p.Why)
		}
	}
	for _, o := range b.Athlete.OtherOn(date) {
		what := o.Title
		if o.Minutes > 0 {
			what += fmt.Sprintf(", %s", o.Minutes)
		}
		if o.Demanding {
			what += ", demanding: only light rides are placed beside it"
		}
		add(o.Range, "other sport: %s", what)
	}
	pl := &placer{block: b}
	if e := pl.eventOn(date); e != nil {
		add(e.Range, "the event %s: nothing is placed on it", e.Title)
	}
	if e := pl.eventOn(date.Add(1)); e != nil {
		add(e.Range, "the day before the event %s: light, and at most %s", e.Title, physiology.DayBeforeTest.Value)
	}
	if g := pl.testOn(date.Add(1)); g != nil && g.Session.Maximal {
		add(g.Range, "the day before %s: light, and at most %s", g.Session.Title, physiology.DayBeforeTest.Value)
	}
	if g := pl.testOn(date.Add(2)); g != nil && g.Session.Maximal {
		add(g.Range, "two days before %s: under %s", g.Session.Title, physiology.TwoDaysBeforeTest.Value)
	}
	return out
}

// holds says what a day can hold.
func holds(on plan.Day) string {
	switch {
	case limitOf(on) == 0 && on.Way > 0:
		return "only the way to work"
	case limitOf(on) == 0:
		return "no riding"
	}
	return fmt.Sprintf("it can hold %s", units.Minutes(limitOf(on)))
}

// without places week n again with a ride forbidden on a date, and says what gets worse.
func (c *chain) without(n int, date units.Date, r *plan.Ride, total int, placements []*placement) diag.Origin {
	var in carry
	if n > 0 {
		in = placements[n-1].carry
	}
	w, is := c.block.Weeks[n], placements[n]
	p := c.with(&change{group: groupForbidden, ride: r, date: date}).problem(w, total, 0)
	other := solve(p, in, c.accept(n))
	if other == nil {
		return c.nothingElse(w, n, in, date, r, total)
	}
	k, d := rideIndex(w, r.Key), date.Sub(w.Start)
	what := fmt.Sprintf("no other %q", r.Key)
	for i, ride := range other.pattern {
		if ride == k && is.pattern[i] != k {
			what = fmt.Sprintf("%q on %s instead", r.Key, w.Start.Add(i).Weekday())
		}
	}
	if now := other.pattern[d]; now >= 0 {
		what += fmt.Sprintf(", %q on %s", w.Rides[now].Key, date.Weekday())
	}
	return diag.Origin{What: fmt.Sprintf("%s: %s", what, worse(w, p, is, other)), Range: r.Range}
}

// worse tells the first term in which a placement is worse than the one that was taken.
func worse(w *plan.Week, p *problem, is, other *placement) string {
	for t := range terms {
		if t == termLengths && !slices.Equal(is.mix, other.mix) {
			return "the mix would be as close, with less for the rides written first"
		}
		by := other.terms[t] - is.terms[t]
		if by == 0 {
			continue
		}
		switch t {
		case termHeld:
			return fmt.Sprintf("%s more that the rider has in hand would change", sessions(by))
		case termCoarse, termFine:
			return missed(w, p, is, other)
		case termMoved:
			return fmt.Sprintf("%s more of those delivered would move", sessions(by))
		case termResized:
			return fmt.Sprintf("%s more of those delivered would change in length", sessions(by))
		case termBase:
			return fmt.Sprintf("%s more would differ from the block's ordinary week", days(by))
		case termWish:
			return "the rides would stand on days that are wished less, or demanding days side by side"
		case termLengths:
			return "the rides' lengths would lie further from the usual ones"
		case termSpacing:
			return "more riding days would lie side by side"
		}
	}
	return "it would be as good; the rides written first and more minutes come first in the week"
}

// missed tells the ride that loses most when a mix is met less well.
func missed(w *plan.Week, p *problem, is, other *placement) string {
	off := func(a *placement, k int) int {
		return max(a.mix[k]-p.rides[k].wished, p.rides[k].wished-a.mix[k])
	}
	most := 0
	for k := range w.Rides {
		if off(other, k)-off(is, k) > off(other, most)-off(is, most) {
			most = k
		}
	}
	return fmt.Sprintf("%q would miss its %s by %s", w.Rides[most].Key, units.Minutes(p.rides[most].wished), units.Minutes(off(other, most)))
}

// nothingElse names the lines that leave no other placement.
func (c *chain) nothingElse(w *plan.Week, n int, in carry, date units.Date, r *plan.Ride, total int) diag.Origin {
	d := &diagnosis{chain: c, week: w, carries: []carry{in}, accept: c.accept(n)}
	ch := &change{group: groupForbidden, ride: r, date: date}
	found := &conflict{week: w, groups: d.smallestConflict(func(lifted groups) bool { return d.fitsAt(total, lifted, ch) })}
	out := diag.Origin{What: fmt.Sprintf("no other week is possible: %s need %q on %s", c.names(found), r.Key, date.Weekday()), Range: r.Range}
	for _, line := range c.lines(found) {
		out.From = append(out.From, diag.Origin{What: line.Message, Range: line.Range})
	}
	return out
}

func sessions(n int) string {
	if n == 1 {
		return "one session"
	}
	return fmt.Sprintf("%d sessions", n)
}

func days(n int) string {
	if n == 1 {
		return "one day"
	}
	return fmt.Sprintf("%d days", n)
}
