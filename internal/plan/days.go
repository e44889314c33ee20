package plan

import (
	"fmt"

	"towpath/internal/diag"
	"towpath/internal/spec"
	"towpath/internal/units"
)

// Day is what a date can hold.
type Day struct {
	Limit   units.Minutes // 0 where closed
	Start   units.Clock
	Place   string
	Easy    bool
	OrLimit units.Minutes
	OrPlace string
	// Way is how long the way to work takes, where the window is that: nothing is placed in it, and
	// its Limit is 0.
	Way   units.Minutes
	Range diag.Range
	// Squad is the squad whose defaults the day comes from, "" where it is the athlete's own.
	Squad string
	Row   bool // an exception whose text holds for several days in a row
	// Second is the smaller window of a day that has two: for given sessions only. Nil without.
	Second *Day
	// secondFirst: Second comes before the other window, by hour or as they are written.
	secondFirst bool
}

// day resolves what a day can hold. Of two windows that is the one in which sessions are placed:
// the larger, the first of equals, and never the way to work.
func day(v spec.Value[spec.Day], header diag.Range) Day {
	at := place(v, header)
	if !v.Set || v.V.Closed {
		return Day{Range: at}
	}
	first := window(&v.V, at)
	if v.V.Second == nil {
		return first
	}
	second := window(v.V.Second, at)
	out, other := first, second
	if first.most() < second.most() { // the way to work holds nothing
		out, other = second, first
		out.secondFirst = true
	}
	if !first.Start.IsZero() && !second.Start.IsZero() {
		out.secondFirst = other.Start < out.Start
	}
	out.Second = &other
	return out
}

func window(d *spec.Day, at diag.Range) Day {
	out := Day{Start: d.Start, Place: d.Place, Easy: d.Easy, Range: at}
	if d.Commute {
		out.Way = d.Limit
	} else {
		out.Limit, out.OrLimit, out.OrPlace = d.Limit, d.OrLimit, d.OrPlace
	}
	return out
}

// exceptions are the dates from start to end that differ from the usual week. A date alone comes before
// several in a row.
func exceptions(rows []spec.DatedDay, start, end units.Date) map[units.Date]Day {
	out := map[units.Date]Day{}
	for _, on := range rows {
		exception := day(on.Day, on.Date.Range)
		exception.Row = on.Until > on.Date.V
		for d := max(on.Date.V, start); d <= min(max(on.Until, on.Date.V), end); d++ {
			if was, alone := out[d]; !alone || was.Row {
				out[d] = exception
			}
		}
	}
	return out
}

// checkDays wants a day that can hold a ride, from start to end. It runs for each block, so that each
// is held back; the repeats are dropped at the end.
func (r *resolver) checkDays(a *spec.Athlete, out *Athlete, start, end units.Date) {
	if !out.hasDay(start, end) {
		detail := `Write what each day can hold: days { tuesday = "75 min, 18:30" … }. Days that are left out are rest days.`
		if len(a.Rosters) > 0 {
			detail = fmt.Sprintf(`From %s to %s no shift of the roster holds a ride. Give one some minutes, shifts = { early = "70 min, 15:20" … }, or write days { tuesday = "75 min, 18:30" … } for the dates that the roster leaves out.`, start, end)
		}
		r.add(diag.Error, "no-days", a.Header, fmt.Sprintf("Athlete %q has no day to ride on", a.Key), detail)
	}
}

// checkHours wants a time zone for each day that has an hour: the rider's own or that of a journey.
func (r *resolver) checkHours(a *spec.Athlete, out *Athlete, start, end units.Date) {
	for d := start; d <= end; d++ {
		if on := out.DayOn(d); !on.clock().IsZero() && out.ZoneOn(d) == "" {
			r.noZone(a, on.clock(), on.Range)
			return
		}
	}
}

// hasDay reports whether any date can hold a ride.
func (a *Athlete) hasDay(start, end units.Date) bool {
	for d := start; d <= end; d++ {
		if on := a.DayOn(d); on.opens() {
			return true
		}
	}
	return false
}

// opens reports whether the day holds anything, be it the way to work alone.
func (d *Day) opens() bool { return d.most() > 0 || d.Way > 0 || d.Second != nil }

// away reports whether lines of their own close every date of a week.
func (a *Athlete) away(w *Week) bool {
	for d := w.Start; d < w.Start.Add(daysInWeek); d++ {
		if on, own := a.Exceptions[d]; !own || on.opens() {
			return false
		}
	}
	return true
}

// checkClocks wants a time zone where something given has an hour.
func (r *resolver) checkClocks(a *spec.Athlete, b *Block) {
	for _, w := range b.Weeks {
		for _, g := range w.Given {
			if !g.Start.IsZero() && b.Athlete.ZoneOn(g.Date) == "" {
				r.noZone(a, g.Start, g.Range)
				return
			}
		}
	}
}

// noZone refuses an hour of the day where nothing tells whose clock is meant.
func (r *resolver) noZone(a *spec.Athlete, at units.Clock, where diag.Range) {
	if a.Broken {
		return
	}
	if squad := r.squadOf(where); squad != "" {
		r.add(diag.Error, "missing-time-zone", where, fmt.Sprintf("Squad %q has rides at a time of day but no time zone", squad),
			`A calendar needs to know whose clock is meant; write for example time_zone = "Europe/Paris" in its defaults, or in each athlete.`)
		return
	}
	r.add(diag.Error, "missing-time-zone", a.Header, fmt.Sprintf("Athlete %q has rides at a time of day but no time zone", a.Key),
		`A calendar needs to know whose clock is meant; write for example time_zone = "Europe/Paris".`,
		diag.Related{Message: fmt.Sprintf("a ride at %s", at), Range: where})
}

// clock is an hour that the day names, zero where it has none.
func (d *Day) clock() units.Clock {
	if d.Start.IsZero() && d.Second != nil {
		return d.Second.Start
	}
	return d.Start
}

// toOpen says how a date is given so much time.
func (a *Athlete) toOpen(d units.Date, minutes units.Minutes) string {
	if _, exception := a.Exceptions[d]; exception {
		return fmt.Sprintf(`Give the date that time in on, "%s" = "%s"`, d, minutes)
	}
	return fmt.Sprintf(`Open the day, for example on = { "%s" = "%s" }`, d, minutes)
}
