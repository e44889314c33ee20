package schedule

import (
	"slices"

	"towpath/internal/physiology"
	"towpath/internal/plan"
	"towpath/internal/units"
)

// The problem of one week, in integers: minutes, of which every placed session has whole quanta.
// All that the search needs is here; nothing points back into the text.

const (
	daysInWeek = 7
	rest       = -1      // no placed session on a date
	unknown    = -2      // a ride that this week's mix does not have
	dayLong    = 24 * 60 // minutes in a day: what a date without a limit can hold
)

// quantum is the step in which minutes are placed.
var quantum = int(physiology.Quantum.Value)

// ride bounds a ride of the mix.
type ride struct {
	atLeast, atMost, usual int // minutes of one session
	low, high              int // sessions in the week, those given included
	given                  int // sessions given
	givenMinutes           int
	wished                 int             // minutes in the week
	rank                   [daysInWeek]int // place of a date in the coach's order of days; -1 where the ride may not stand
	demanding, light       bool
}

// day is one date of a week.
type day struct {
	given          int  // minutes that are given: tests, pinned sessions, fixed rides, the past
	lifted         int  // minutes that would be given, were they not lifted to find what conflicts
	used           int  // of those given those in the window in which a session may be placed
	taken          bool // something given takes the date's only place for a session
	givenDemanding bool // one of them is demanding, or other sport on the date is
	event          bool // an event is ridden, whose minutes count nowhere
	open           bool // a session may be placed here
	room           int  // minutes that may be placed on top of what is given
	lightOnly      bool // only light rides may be placed
	notLong        bool // given and placed together must not be long
	recorded       int  // ride that was delivered for this date; rest where none, unknown where the mix lacks it
	recordedMin    int
	held           bool // its recorded session is in the rider's hand
	base           int  // ride of the base week; rest, or unknown
}

// problem is a week to be placed.
type problem struct {
	total      int // minutes of the week, those given included
	rides      []ride
	days       [daysInWeek]day
	hasBase    bool
	ridingLow  int // riding dates
	ridingHigh int // the most, rest days taken into account; dates that are given never break it
	longFrom   int // a date is long from so many minutes
	longApart  bool
	inARow     int // riding dates in a row
	givenTotal int // minutes that are given
	unasked    int // minutes of the total that may be left out, to find what conflicts
}

// free are the minutes left to place, in whole quanta; negative where too much is given.
func (p *problem) free() int {
	if p.total < p.givenTotal {
		return -quantum
	}
	return down(p.total - p.givenTotal)
}

// carry is all that a week passes on to the next.
type carry struct {
	run       int  // riding dates in a row up to the last one, at most inARow
	runGiven  bool // all of them are given
	long      bool // the last date is long; false where long dates may be neighbours
	longGiven bool // by what is given alone
	demanding bool // the last date is demanding: for the wishes only
}

// feasibility leaves out what is only a wish.
func (c carry) feasibility() carry {
	c.demanding = false
	return c
}

// groups are the kinds of constraint that may be lifted to find out which of them conflict.
type groups uint

// The groups, in the order in which the search for a conflict lifts them: what a coach would least
// like to be blamed for comes off first.
const (
	groupRun groups = 1 << iota
	groupRest
	groupTests
	groupEasy
	groupLong
	groupAtMost
	groupDays
	groupPerWeek
	groupRiding
	groupAtLeast
	groupGiven
	groupLimits
	groupAway
	groupTotal
	groupEnd
	groupForbidden // a ride on a date, forbidden to see what would come of the week
)

// placer lowers a block's weeks to problems.
type placer struct {
	block    *plan.Block
	asOf     units.Date                        // zero where nothing is past
	recorded map[units.Date][]*recordedSession // in the order of the record
	base     *[daysInWeek]string               // keys of the base week's rides, "" for rest, from the block's first weekday; nil where there is none
	longDay  int                               // minutes from which a day is long, before the week's share
	percent  int                               // of the week from which a day is long
	// change is a repair that is being tried, nil for none.
	change *change
}

// running tells the week that has begun: some of its dates are past, others are not.
func (pl *placer) running(w *plan.Week) bool {
	return w.Start < pl.asOf && pl.asOf < w.Start.Add(daysInWeek)
}

// past tells weeks that lie wholly before the day of the plan.
func (pl *placer) past(w *plan.Week) bool {
	return !pl.asOf.IsZero() && w.Start.Add(daysInWeek) <= pl.asOf
}

// problem lowers a week at a total, with some groups of constraints lifted.
func (pl *placer) problem(w *plan.Week, total int, without groups) *problem {
	b := pl.block
	p := &problem{
		total:      total,
		longApart:  b.Limits.LongDaysApart.Value && without&groupLong == 0 && (pl.change == nil || pl.change.group != groupLong),
		longFrom:   pl.longFrom(total),
		inARow:     b.Limits.RidingDaysInARow.Value,
		hasBase:    pl.base != nil,
		ridingHigh: daysInWeek,
	}
	if n := pl.changed(groupRun, nil); n > 0 {
		p.inARow = n
	}
	if without&groupRun != 0 {
		p.inARow = dayLong // never reached
	}
	loose := w.Light || w.Start < pl.asOf || w.Asked == 0 // counts are "at most", as in a week that has begun
	for i, r := range w.Rides {
		p.rides = append(p.rides, pl.ride(w, r, i, loose, without))
	}
	pl.given(w, p, without)
	for i := range p.days {
		pl.day(w, p, i, without)
	}
	pl.counts(p, loose, without)
	pl.wishes(w, p)
	return p
}

// longFrom is when a day is long in a week of a total.
func (pl *placer) longFrom(total int) int { return max(pl.longDay, (total*pl.percent+99)/100) }

// ride lowers the bounds of a ride.
func (pl *placer) ride(w *plan.Week, r *plan.Ride, i int, loose bool, without groups) ride {
	out := ride{
		atLeast: int(r.AtLeast), atMost: int(r.AtMost), usual: int(r.Usual),
		low: r.PerWeek.Low, high: r.PerWeek.High,
		demanding: r.Session.Demanding, light: r.Session.Light,
	}
	if n := pl.changed(groupAtLeast, r); n > 0 {
		out.atLeast = n
	}
	if n := pl.changed(groupAtMost, r); n > 0 {
		out.atMost = n
	}
	if c := pl.change; c != nil && c.group == groupPerWeek && c.ride == r {
		out.low, out.high = min(out.low, c.value), max(out.high, c.value)
	}
	if without&groupAtLeast != 0 {
		out.atLeast = quantum
	}
	if without&groupAtMost != 0 {
		out.atMost = dayLong
	}
	if without&groupPerWeek != 0 {
		out.low, out.high = 0, daysInWeek
	}
	if loose {
		out.low = 0
	}
	out.atLeast, out.atMost = up(out.atLeast), down(out.atMost)
	for d := range daysInWeek {
		weekday := w.Start.Add(d).Weekday()
		out.rank[d] = slices.Index(r.Days, weekday)
		switch {
		case len(r.Days) == 0:
			out.rank[d] = 0
		case out.rank[d] < 0 && (without&groupDays != 0 || pl.change.opens(r, weekday)):
			out.rank[d] = len(r.Days)
		}
		if pl.change.forbids(r, w.Start.Add(d)) {
			out.rank[d] = -1
		}
	}
	return out
}

// counts lowers the bounds on riding dates. Dates that are given never break them.
func (pl *placer) counts(p *problem, loose bool, without groups) {
	b := pl.block
	given, events := 0, 0
	for _, d := range p.days {
		if d.given+d.lifted > 0 {
			given++
		} else if d.event {
			events++
		}
	}
	if b.RidesPerWeek.High > 0 && without&groupRiding == 0 {
		low, high := b.RidesPerWeek.Low, b.RidesPerWeek.High
		if c := pl.change; c != nil && c.group == groupRiding {
			low, high = min(low, c.value), max(high, c.value)
		}
		p.ridingLow, p.ridingHigh = p.ridingLow+low, high
	}
	if loose {
		p.ridingLow = 0
	}
	if without&groupRest == 0 {
		restDays := b.Limits.RestDays.Value
		if c := pl.change; c != nil && c.group == groupRest {
			restDays = c.value
		}
		p.ridingHigh = min(p.ridingHigh, daysInWeek-restDays-events)
	}
	p.ridingHigh = max(p.ridingHigh, given)
	for k := range p.rides {
		p.rides[k].high = max(p.rides[k].high, p.rides[k].given)
	}
}

// rideIndex finds a ride of a week's mix.
func rideIndex(w *plan.Week, key string) int {
	for i, r := range w.Rides {
		if r.Key == key {
			return i
		}
	}
	return unknown
}

// down and up round minutes to whole quanta.
func down(m int) int { return m / quantum * quantum }
func up(m int) int   { return (m + quantum - 1) / quantum * quantum }
