package schedule

import (
	"cmp"
	"fmt"
	"slices"

	"towpath/internal/diag"
	"towpath/internal/physiology"
	"towpath/internal/plan"
	"towpath/internal/units"
)

// repair is one change of one value that makes a week possible.
type repair struct {
	group   groups
	minutes int    // by which the value changes; noMinutes where it is not minutes
	what    string // in words, up to the day where it is of one
	day     string // the day, so that repairs that differ in it alone can be told together
	after   string // words behind the day
	alone   string // how the change is written for this date alone, where its line holds more
	edits   []diag.Edit
}

// noMinutes sorts changes that are not of minutes behind those that are.
const noMinutes = 1 << 20

// repairs finds for each value in a conflict the smallest change that alone makes the week
// possible, smallest first; among equals the week's total comes before days away, those before
// limits, and so on.
func (d *diagnosis) repairs(c *conflict) (out []repair) {
	in := c.groups
	if in&groupTotal != 0 && c.nearest >= 0 {
		by := c.nearest - int(d.week.Asked)
		mended := repair{
			group: groupTotal, minutes: max(by, -by), what: fmt.Sprintf("a week of %s (%s)", units.Minutes(c.nearest), lessOrMore(by)),
			edits: d.totalEdit(c.nearest),
		}
		if mended.edits == nil {
			mended.after = fmt.Sprintf(", as week \"%d\" { hours = %q }", d.week.Number, units.Minutes(c.nearest))
		}
		out = append(out, mended)
	}
	if d.tolerant(d.week) && in&groupTotal != 0 && c.nearest >= 0 && c.nearest < int(d.week.Asked) {
		percent := 100 - c.nearest*100/int(d.week.Asked)
		out = append(out, repair{group: groupTotal, minutes: noMinutes, what: fmt.Sprintf("a tolerance of %d %%", percent)})
	}
	if in&(groupAway|groupLimits|groupEasy) != 0 {
		for i := range daysInWeek {
			out = append(out, d.dateRepairs(d.week.Start.Add(i), in)...)
		}
	}
	if in&groupGiven != 0 {
		for _, g := range d.week.Given {
			if g.Date >= d.asOf {
				out = append(out, d.givenRepairs(g)...)
			}
		}
	}
	for _, r := range d.week.Rides {
		out = append(out, d.rideRepairs(r, in)...)
	}
	out = append(out, d.blockRepairs(in)...)
	slices.SortStableFunc(out, func(a, b repair) int {
		return cmp.Or(cmp.Compare(a.minutes, b.minutes), cmp.Compare(b.group, a.group))
	})
	return out
}

// smallest tries values in steps until the week fits.
func (d *diagnosis) smallest(from, to, step int, try func(int) *change) (int, bool) {
	for v := from; step > 0 && v <= to || step < 0 && v >= to; v += step {
		if d.fits(0, try(v)) {
			return v, true
		}
	}
	return 0, false
}

// nearestTo finds, in whole quanta, the value nearest to one that does not fit and on the way to a
// far one, where going on that way never makes a week impossible: it halves the way.
func (d *diagnosis) nearestTo(not, far int, try func(int) *change) (int, bool) {
	if not == far || !d.fits(0, try(far)) {
		return 0, false
	}
	for max(far-not, not-far) > quantum {
		if middle := down((not + far) / 2); d.fits(0, try(middle)) {
			far = middle
		} else {
			not = middle
		}
	}
	return far, true
}

// dateRepairs raises the limit of a date, or opens it, for all rides or for longer ones.
func (d *diagnosis) dateRepairs(date units.Date, in groups) (out []repair) {
	on, away := d.dayOn(date)
	if date < d.asOf || d.eventOn(date) != nil {
		return nil
	}
	mended := repair{day: date.Weekday().String()}
	mend := func(on plan.Day, what, after string) {
		mended.what, mended.after = what, after
		mended.edits, mended.alone = d.dayEdit(date, on)
		out = append(out, mended)
	}
	if in&groupEasy != 0 && on.Easy && d.fits(0, &change{group: groupEasy, date: date}) {
		free := on
		free.Easy = false
		mended.group, mended.minutes = groupEasy, noMinutes
		mend(free, "any ride on ", " (light ones so far)")
	}
	mended.group = groupLimits
	if away {
		mended.group = groupAway
	}
	if in&mended.group == 0 || on.Way > 0 && on.Second != nil { // two ways to work leave no third window
		return out
	}
	limit := limitOf(on)
	high, ok := d.higher(date, mended.group, down(limit))
	if !ok {
		return out
	}
	mended.minutes = high - limit
	if limit == 0 {
		high += d.ownTime(date) // what had a time of its own then takes it from the day
	}
	more := on
	more.Limit = units.Minutes(high)
	switch {
	case away:
		mended.day = fmt.Sprintf("%s %s", date.Weekday(), date)
		mend(more, fmt.Sprintf("%s on ", more.Limit), " (no riding so far)")
	case on.Way > 0:
		mend(plan.Day{Limit: more.Limit, Second: &on}, fmt.Sprintf("%s on ", more.Limit), " (only the way to work so far)")
	case limit == 0:
		mend(more, fmt.Sprintf("%s on ", more.Limit), " (closed so far)")
	default:
		mend(more, fmt.Sprintf("%s more on ", units.Minutes(mended.minutes)), "")
	}
	return out
}

// higher finds the least limit of a date that makes the week possible. Where a fixed ride comes back
// with it, more may not be better, and all are tried.
func (d *diagnosis) higher(date units.Date, group groups, low int) (int, bool) {
	try := func(v int) *change { return &change{group: group, date: date, value: v} }
	most := max(low, int(physiology.MaximumRide.Value))
	if slices.ContainsFunc(d.week.Paused, func(p plan.Paused) bool { return p.Date == date }) {
		return d.smallest(low+quantum, most, quantum, try)
	}
	return d.nearestTo(low, most, try)
}

// ownTime are the minutes of fixed rides that have a time of their own, on a day that is closed.
func (d *diagnosis) ownTime(date units.Date) (sum int) {
	for _, g := range d.week.Given {
		if g.Date == date && g.Apart && g.Fixed != plan.WayToWork {
			sum += int(g.Minutes)
		}
	}
	return sum
}

// givenRepairs shortens or lengthens a given session, or leaves it out.
func (d *diagnosis) givenRepairs(g *plan.Given) []repair {
	out := repair{group: groupGiven, what: "the session on ", day: g.Date.Weekday().String()}
	if g.Session != nil {
		out.what = fmt.Sprintf("%s on ", g.Session.Title)
	}
	if g.Test == nil && g.Fixed != plan.WayToWork {
		least, most := int(physiology.MinimumRide.Value), d.windowOf(g)
		for by := quantum; by < dayLong; by += quantum {
			for _, v := range []int{int(g.Minutes) - by, int(g.Minutes) + by} {
				if v >= least && v <= most && d.fits(0, &change{group: groupGiven, given: g, value: v}) {
					out.minutes, out.after = by, fmt.Sprintf(" at %s (%s)", units.Minutes(v), lessOrMore(v-int(g.Minutes)))
					return []repair{out}
				}
			}
		}
	}
	if d.fits(0, &change{group: groupGiven, given: g, dropped: true}) {
		out.minutes, out.what = int(g.Minutes), "without "+out.what
		return []repair{out}
	}
	return nil
}

// windowOf is the most that a given session may last on its day.
func (d *diagnosis) windowOf(g *plan.Given) int {
	on := d.block.Athlete.DayOn(g.Date)
	if !g.Apart {
		return limitOf(on)
	}
	if on.Second != nil && on.Second.Way == 0 {
		return limitOf(*on.Second)
	}
	return dayLong
}

// rideRepairs changes the bounds of a ride.
func (d *diagnosis) rideRepairs(r *plan.Ride, in groups) (out []repair) {
	if in&groupAtLeast != 0 {
		from := int(r.AtLeast)
		if v, ok := d.nearestTo(up(from), min(up(from), int(physiology.MinimumRide.Value)), func(v int) *change {
			return &change{group: groupAtLeast, ride: r, value: v}
		}); ok {
			mended := repair{group: groupAtLeast, minutes: from - v, what: fmt.Sprintf("%q from %s on", r.Key, units.Minutes(v))}
			if v >= int(r.Session.AtLeast) {
				mended.edits = edit(r.AtLeastRange, "%q", units.Minutes(v))
			}
			out = append(out, mended)
		}
	}
	if in&groupAtMost != 0 {
		from := int(r.AtMost)
		if v, ok := d.nearestTo(down(from), max(down(from), int(physiology.MaximumRide.Value)), func(v int) *change {
			return &change{group: groupAtMost, ride: r, value: v}
		}); ok {
			mended := repair{group: groupAtMost, minutes: v - from, what: fmt.Sprintf("%q up to %s", r.Key, units.Minutes(v))}
			if v <= int(r.Session.AtMost) {
				mended.edits = edit(r.AtMostRange, "%q", units.Minutes(v))
			}
			out = append(out, mended)
		}
	}
	if in&groupPerWeek != 0 {
		try := func(v int) *change { return &change{group: groupPerWeek, ride: r, value: v} }
		add := func(v int, format string) {
			out = append(out, repair{
				group: groupPerWeek, minutes: noMinutes, what: fmt.Sprintf(format, r.Key, times(v)),
				edits: edit(r.PerWeekRange, "%s", countText(widened(r.PerWeek, v))),
			})
		}
		if v, ok := d.smallest(r.PerWeek.Low-1, 0, -1, try); ok {
			add(v, "%q %s a week at the least")
		} else if v, ok := d.smallest(r.PerWeek.High+1, daysInWeek, 1, try); ok {
			add(v, "%q up to %s a week")
		}
	}
	if in&groupDays != 0 && len(r.Days) > 0 {
		for i := range daysInWeek {
			day := d.week.Start.Add(i).Weekday()
			if !slices.Contains(r.Days, day) && d.fits(0, &change{group: groupDays, ride: r, weekday: day}) {
				out = append(out, repair{group: groupDays, minutes: noMinutes, what: fmt.Sprintf("%q on %s too", r.Key, day)})
			}
		}
	}
	return out
}

// blockRepairs changes what holds for the whole block.
func (d *diagnosis) blockRepairs(in groups) (out []repair) {
	b := d.block
	add := func(g groups, edits []diag.Edit, format string, args ...any) {
		out = append(out, repair{group: g, minutes: noMinutes, edits: edits, what: fmt.Sprintf(format, args...)})
	}
	count := func(g groups) func(int) *change { return func(v int) *change { return &change{group: g, value: v} } }
	if in&groupRiding != 0 {
		rides := func(v int) []diag.Edit { return edit(b.RidesRange, "%s", countText(widened(b.RidesPerWeek, v))) }
		if v, ok := d.smallest(b.RidesPerWeek.High+1, daysInWeek, 1, count(groupRiding)); ok {
			add(groupRiding, rides(v), "rides on up to %d days", v)
		} else if v, ok := d.smallest(b.RidesPerWeek.Low-1, 0, -1, count(groupRiding)); ok {
			add(groupRiding, rides(v), "rides on %d days at the least", v)
		}
	}
	if in&groupLong != 0 && d.fits(0, &change{group: groupLong}) {
		add(groupLong, edit(b.Limits.LongDaysApart.Range, "false"), "long days next to each other allowed (long_days_apart)")
	}
	if in&groupRest != 0 {
		if v, ok := d.smallest(b.Limits.RestDays.Value-1, 0, -1, count(groupRest)); ok {
			add(groupRest, edit(b.Limits.RestDays.Range, "%d", v), "%d instead of %d rest days (rest_days)", v, b.Limits.RestDays.Value)
		}
	}
	if in&groupRun != 0 {
		if v, ok := d.smallest(b.Limits.RidingDaysInARow.Value+1, daysInWeek+b.Limits.RidingDaysInARow.Value, 1, count(groupRun)); ok {
			add(groupRun, edit(b.Limits.RidingDaysInARow.Range, "%d", v), "up to %d riding days in a row (riding_days_in_a_row)", v)
		}
	}
	return out
}

func lessOrMore(by int) string {
	if by < 0 {
		return fmt.Sprintf("%s less", units.Minutes(-by))
	}
	return fmt.Sprintf("%s more", units.Minutes(by))
}

func times(n int) string {
	if n == 1 {
		return "once"
	}
	return fmt.Sprintf("%d times", n)
}
