package plan

import (
	"cmp"
	"slices"

	"towpath/internal/units"
)

// A day has one window for rides, or two. Something given takes its minutes from one of them: from
// the one in which sessions are placed, or from the other, and then it stands apart.

// most is the longest ride that a window holds, wherever it is ridden.
func (d *Day) most() units.Minutes { return max(d.Limit, d.OrLimit) }

// holds is the longest ride that a window holds at a place; "" stands for any.
func (d *Day) holds(place string) units.Minutes {
	switch {
	case d.OrLimit == 0 || place == "":
		return d.most()
	case place == d.OrPlace:
		return d.OrLimit
	}
	return d.Limit
}

// second is the other window for given sessions, nil where there is none.
func (d *Day) second() *Day {
	if d.Second == nil || d.Second.Way > 0 {
		return nil
	}
	return d.Second
}

// ways are the windows of the day that are the way to work, in its order.
func (d *Day) ways() (out []*Day) {
	both := []*Day{d, d.Second}
	if d.secondFirst {
		both = []*Day{d.Second, d}
	}
	for _, w := range both {
		if w != nil && w.Way > 0 {
			out = append(out, w)
		}
	}
	return out
}

// roomFor is the longest ride that a window of the day holds at a place.
func (d *Day) roomFor(place string) units.Minutes {
	room := d.holds(place)
	if s := d.second(); s != nil {
		room = max(room, s.holds(place))
	}
	return room
}

// windows are those of the day in its order.
func (d *Day) windows() []*Day {
	switch s := d.second(); {
	case s == nil:
		return []*Day{d}
	case d.secondFirst:
		return []*Day{s, d}
	default:
		return []*Day{d, s}
	}
}

// far is how far a session's hour is from that of a window, where both windows have one to go by.
func (d *Day) far(window *Day, at units.Clock) int {
	if at.IsZero() || slices.ContainsFunc(d.windows(), func(w *Day) bool { return w.Start.IsZero() }) {
		return 0
	}
	return max(at.Minute()-window.Start.Minute(), window.Start.Minute()-at.Minute())
}

// seat gives a session in the window of its day that suits it best.
func (w *Week) seat(g *Given, a *Athlete, preferOther bool) {
	on := a.DayOn(g.Date)
	window := w.windowFor(g, &on, preferOther)
	w.give(g, window, window != &on)
}

// windowFor is the window of a day that suits a session best: of those that hold it beside what is
// given there already, the one nearest to its hour, then one that is not for light rides only where it
// is none, then the other window where that is to be preferred. What no window holds goes into the one
// in which sessions are placed, and is refused there.
func (w *Week) windowFor(g *Given, on *Day, preferOther bool) *Day {
	best, least := on, []int{}
	for _, window := range on.windows() {
		cost := []int{on.far(window, g.Start), truth(window.Easy && !g.Session.Light), truth((window == on) == preferOther)}
		if w.used(g.Date, window != on)+g.Minutes <= window.holds(g.Place) && (len(least) == 0 || slices.Compare(cost, least) < 0) {
			best, least = window, cost
		}
	}
	return best
}

// seatPins gives the pinned sessions of a date; open are those whose minutes the coach left to their
// window. Two on a day with two windows take one each, in the order of their hours or of the text,
// unless only another way holds them.
func (w *Week) seatPins(pins []*Given, open map[*Given]bool, a *Athlete) {
	on := a.DayOn(pins[0].Date)
	if pins = w.seatWays(pins, open, on.ways()); len(pins) == 0 {
		return
	}
	slices.SortStableFunc(pins, func(x, y *Given) int {
		if x.Start.IsZero() || y.Start.IsZero() {
			return 0
		}
		return cmp.Compare(x.Start, y.Start)
	})
	together := slices.Repeat([]*Day{&on}, len(pins))
	ways := [][]*Day{together} // in which windows they could be, the first of equals preferred
	switch windows := on.windows(); {
	case len(windows) == 2 && len(pins) == 1:
		ways = [][]*Day{together, {on.second()}}
	case len(windows) == 2 && len(pins) == 2:
		ways = [][]*Day{windows, {windows[1], windows[0]}, together}
	}
	best, least := together, -1
	for _, way := range ways {
		far := 0
		need := map[*Day]units.Minutes{}
		for k, g := range pins {
			minutes := g.Minutes
			if open[g] {
				minutes, _ = g.bounds()
			}
			need[way[k]] += minutes
			far += on.far(way[k], g.Start)
		}
		fits := true
		for window, minutes := range need {
			fits = fits && minutes <= window.most()
		}
		if fits && (least < 0 || far < least) {
			best, least = way, far
		}
	}
	for _, withHour := range []bool{true, false} { // the others go round what has an hour
		for k, g := range pins {
			if g.Start.IsZero() == withHour {
				continue
			}
			if open[g] {
				g.Minutes = pinnedMinutes(g, best[k])
			}
			w.give(g, best[k], best[k] != &on)
		}
	}
}

// seatWays gives what is pinned as the way to work in the windows that are one, and leaves the others.
func (w *Week) seatWays(pins []*Given, open map[*Given]bool, ways []*Day) (others []*Given) {
	for _, g := range pins {
		if len(ways) == 0 || g.Session.Key != WayToWork {
			others = append(others, g)
			continue
		}
		if open[g] {
			g.Minutes = ways[0].Way
		}
		w.give(g, ways[0], true)
		ways = ways[1:]
	}
	return others
}

// give enters a session with the hour and the place that its window has, unless it has its own. One
// without an hour begins where what is given in the window before it ends.
func (w *Week) give(g *Given, window *Day, apart bool) {
	g.Apart = apart
	if g.Start.IsZero() && !window.Start.IsZero() {
		g.Start = w.free(g, window.Start)
	}
	if g.Place == "" {
		g.Place = window.Place
		if window.OrLimit > 0 && g.Minutes > window.Limit {
			g.Place = window.OrPlace
		}
	}
	w.Given = append(w.Given, g)
}

// free is the first hour from start on at which nothing else is given on the date; start itself
// where the day has none.
func (w *Week) free(g *Given, start units.Clock) units.Clock {
	at := start.Minute()
	for moved := true; moved; {
		moved = false
		for _, other := range w.Given {
			if other.Date != g.Date || other.Start.IsZero() {
				continue
			}
			if from, to := other.Start.Minute(), other.Start.Minute()+int(other.Minutes); at < to && from < at+int(g.Minutes) {
				at, moved = to, true
			}
		}
	}
	if at >= dayLong {
		return start
	}
	return units.NewClock(0, at)
}

// dayLong are the minutes of a day.
const dayLong = 24 * 60

// used are the minutes that are given in a window of a date.
func (w *Week) used(d units.Date, apart bool) (sum units.Minutes) {
	for _, g := range w.Given {
		if g.Date == d && g.Apart == apart {
			sum += g.Minutes
		}
	}
	return sum
}

func truth(b bool) int {
	if b {
		return 1
	}
	return 0
}
