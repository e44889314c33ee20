package schedule

import (
	"slices"
	"strings"

	"towpath/internal/plan"
	"towpath/internal/record"
	"towpath/internal/units"
)

// oracle places weeks by trying every ride and every number of minutes on every date, with
// constraints and terms written from their definitions. It shares nothing with the solver but the
// order of the terms.
type oracle struct {
	b       *plan.Block
	rec     []record.Session
	asOf    units.Date
	longDay int
	percent int
	base    *[7]string
}

// cell is a date as it is ridden.
type cell struct {
	ride             int // of the week's mix; -1 for none
	placed           int
	given            int
	window           int // what is given in the window of the placed session
	long, demanding  bool
	longGiven        bool
	givenDem, closed bool
	lightOnly, event bool
	taken            bool // by a test or a pinned session
}

func (c cell) riding() bool { return c.placed+c.given > 0 }

// busy dates are no rest, though an event is no riding that is planned.
func (c cell) busy() bool { return c.riding() || c.event }

// answer is a week with its value.
type answer struct {
	total   int
	terms   [9]int
	mix     []int
	pattern [7]int
	minutes [7]int
	cells   [7]cell
}

func newOracle(b *plan.Block, rec *record.Athlete, asOf units.Date, longDay, percent int) *oracle {
	o := &oracle{b: b, longDay: longDay, percent: percent}
	if rec != nil && len(rec.Sessions) > 0 {
		o.rec, o.asOf = rec.Sessions, asOf
	}
	o.base = o.baseWeek()
	return o
}

func (o *oracle) baseWeek() *[7]string {
	athlete := *o.b.Athlete
	athlete.Exceptions, athlete.Other = nil, nil
	for _, other := range o.b.Athlete.Other {
		if len(other.Days) > 0 {
			athlete.Other = append(athlete.Other, other)
		}
	}
	var loading []*plan.Week
	for _, w := range o.b.Weeks {
		if w.Kind == plan.Loading && w.Asked > 0 {
			loading = append(loading, w)
		}
	}
	if len(loading) == 0 || o.b.Athlete.Rostered != nil {
		return nil
	}
	var totals []int
	for _, w := range loading {
		totals = append(totals, int(w.Asked))
	}
	slices.Sort(totals)
	for i := (len(totals) - 1) / 2; i >= 0; i-- {
		b := *o.b
		b.Athlete, b.Events = &athlete, nil
		b.Weeks = []*plan.Week{{Number: 1, Start: o.b.Start, Kind: plan.Loading, Asked: 1, Rides: loading[0].Rides, Given: o.regular(loading)}}
		alone := &oracle{b: &b, longDay: o.longDay, percent: o.percent}
		if best := alone.best(0, totals[i], nil); best != nil {
			var keys [7]string
			for d, k := range best.pattern {
				if k >= 0 {
					keys[d] = b.Weeks[0].Rides[k].Key
				}
			}
			return &keys
		}
	}
	return nil
}

// regular finds the fixed rides that half of the weeks have on a day.
func (o *oracle) regular(weeks []*plan.Week) (out []*plan.Given) {
	for day := range 7 {
		for _, label := range []string{"f0", "f1"} {
			var of []plan.Given
			for _, w := range weeks {
				for _, g := range w.Given {
					if g.Fixed == label && g.Date == w.Start.Add(day) {
						of = append(of, *g)
					}
				}
			}
			if len(of) > 0 && 2*len(of) >= len(weeks) {
				of[0].Date = o.b.Start.Add(day)
				out = append(out, &of[0])
			}
		}
	}
	return out
}

// dates gives the week's dates before anything is placed.
func (o *oracle) dates(week int) (cells [7]cell, pinned []int, pinnedMinutes []int) {
	w := o.b.Weeks[week]
	pinned, pinnedMinutes = make([]int, len(w.Rides)), make([]int, len(w.Rides))
	for i := range cells {
		c := &cells[i]
		c.ride = -1
		date := w.Start.Add(i)
		for _, other := range o.b.Athlete.Other {
			if other.Demanding && other.On(date) {
				c.givenDem, c.lightOnly = true, true
			}
		}
		if o.event(date) {
			c.closed, c.event, c.givenDem = true, true, true
		}
		if date < o.asOf {
			c.closed = true
			for _, s := range o.rec {
				if s.Date == date {
					c.given += int(s.Minutes)
					c.taken = true
					for k, r := range w.Rides {
						if r.Key == s.Ride {
							pinned[k]++
							pinnedMinutes[k] += int(s.Minutes)
							c.givenDem = c.givenDem || r.Session.Demanding
						}
					}
					for _, g := range w.Given { // a session outside the mix is known by what is given
						if s.Ride == "" && g.Session.Key == s.Session && (g.Session.Demanding || g.Session.Maximal) {
							c.givenDem = true
						}
					}
				}
			}
			continue
		}
		for _, g := range w.Given {
			if g.Date == date {
				hard := g.Session.Demanding || g.Session.Maximal
				c.givenDem = c.givenDem || hard
				c.given += int(g.Minutes)
				if !g.Apart {
					c.window += int(g.Minutes)
				}
				if g.Fixed == "" {
					c.closed, c.taken = true, true
				} else {
					c.lightOnly = c.lightOnly || hard
				}
				for k, r := range w.Rides {
					if g.Ride == r {
						pinned[k]++
						pinnedMinutes[k] += int(g.Minutes)
					}
				}
			}
		}
		if o.limit(date) == 0 {
			c.closed = true
		}
	}
	return cells, pinned, pinnedMinutes
}

func (o *oracle) limit(d units.Date) int {
	on := o.b.Athlete.DayOn(d)
	return int(max(on.Limit, on.OrLimit))
}

func (o *oracle) event(d units.Date) bool {
	for _, e := range o.b.Events {
		if e.Date == d {
			return true
		}
	}
	return false
}

// testOn is the protocol ridden on a date that is not past.
func (o *oracle) testOn(d units.Date) *plan.Session {
	for _, w := range o.b.Weeks {
		for _, g := range w.Given {
			if g.Date == d && d >= o.asOf && g.Session.Protocol {
				return g.Session
			}
		}
	}
	return nil
}

func (o *oracle) longFrom(total int) int {
	m := o.longDay
	for m*100 < o.percent*total {
		m++
	}
	return m
}

// each tries everything that the constraints allow in a week at a total, after what was ridden
// before, and hands it on until told to stop.
func (o *oracle) each(week, total int, past []cell, yield func(answer) bool) {
	w := o.b.Weeks[week]
	cells, pinned, pinnedMinutes := o.dates(week)
	sum := 0
	for _, c := range cells {
		sum += c.given
	}
	if total < sum {
		return
	}
	target := (total - sum) / 5 * 5
	stop := false
	var try func(i, left int)
	try = func(i, left int) {
		if stop || left < 0 {
			return
		}
		if i == 7 {
			if left == 0 && o.allowed(week, total, cells, past, pinned) {
				stop = !yield(o.judge(week, total, cells, past, pinnedMinutes))
			}
			return
		}
		try(i+1, left)
		if cells[i].closed {
			return
		}
		for k := range w.Rides {
			for m := 5; m <= min(left, o.limit(w.Start.Add(i))-cells[i].window); m += 5 {
				cells[i].ride, cells[i].placed = k, m
				if o.fits(w, i, k, m, cells[i]) {
					try(i+1, left-m)
				}
				cells[i].ride, cells[i].placed = -1, 0
			}
		}
	}
	try(0, target)
}

// fits checks one session by itself.
func (o *oracle) fits(w *plan.Week, i, k, m int, c cell) bool {
	r, date := w.Rides[k], w.Start.Add(i)
	if m < int(r.AtLeast) || m > int(r.AtMost) || len(r.Days) > 0 && !slices.Contains(r.Days, date.Weekday()) {
		return false
	}
	if (o.b.Athlete.DayOn(date).Easy || c.lightOnly) && !r.Session.Light {
		return false
	}
	if s := o.testOn(date.Add(1)); (s != nil && s.Maximal || o.event(date.Add(1))) && (m+c.given > 60 || !r.Session.Light) {
		return false
	}
	if s := o.testOn(date.Add(2)); s != nil && s.Maximal && m+c.given >= 120 {
		return false
	}
	return true
}

// allowed checks a week against the constraints that need more than one session.
func (o *oracle) allowed(week, total int, cells [7]cell, past []cell, pinned []int) bool {
	w := o.b.Weeks[week]
	loose := w.Light || o.asOf > w.Start || w.Asked == 0
	long := o.longFrom(total)
	riding, busy, given := 0, 0, 0
	counts := slices.Clone(pinned)
	all := slices.Clone(past)
	for i, c := range cells {
		c.long, c.longGiven = c.placed+c.given >= long, c.given >= long
		if c.ride >= 0 {
			counts[c.ride]++
			if s := o.testOn(w.Start.Add(i + 1)); s != nil && s.KeepsWatts && !s.Maximal && !o.event(w.Start.Add(i+1)) && c.long {
				return false
			}
		}
		if c.riding() {
			riding++
		}
		if c.busy() {
			busy++
		}
		if c.given > 0 {
			given++
		}
		all = append(all, c)
	}
	for k, r := range w.Rides {
		if counts[k] > max(r.PerWeek.High, pinned[k]) || counts[k] < r.PerWeek.Low && !loose {
			return false
		}
	}
	if busy > 7-o.b.Limits.RestDays.Value && riding > given {
		return false
	}
	if h := o.b.RidesPerWeek.High; h > 0 && (riding > max(h, given) || riding < o.b.RidesPerWeek.Low && !loose) {
		return false
	}
	// Any stretch of riding dates, one longer than allowed, that ends in this week.
	n := o.b.Limits.RidingDaysInARow.Value + 1
	for end := max(len(past), n-1); end < len(all); end++ {
		stretch := all[end-n+1 : end+1]
		if !slices.ContainsFunc(stretch, func(c cell) bool { return !c.busy() }) &&
			slices.ContainsFunc(stretch, func(c cell) bool { return c.given == 0 && !c.event }) {
			return false
		}
	}
	if o.b.Limits.LongDaysApart.Value {
		for i := max(len(past), 1); i < len(all); i++ {
			x, y := all[i-1], all[i]
			if x.long && y.long && !(x.longGiven && y.longGiven) {
				return false
			}
		}
	}
	return true
}

// wished divides the week's minutes among the rides, by largest remainder.
func (o *oracle) wished(week, total int) []int {
	w := o.b.Weeks[week]
	cells, _, pinnedMinutes := o.dates(week)
	g := total
	for _, c := range cells {
		g -= c.given
	}
	for _, m := range pinnedMinutes {
		g += m
	}
	quanta := g / 5
	out := make([]int, len(w.Rides))
	exact := make([]int, len(w.Rides)) // in ten thousandths of a quantum
	left, sum := quanta*10000, 0
	for k, r := range w.Rides {
		if r.Minutes > 0 {
			out[k] = int(r.Minutes) / 5 * 5
			left -= out[k] / 5 * 10000
		} else if !r.Rest {
			exact[k] = quanta * int(float64(r.Share)*10000+0.5)
			left -= exact[k]
		}
	}
	for k, r := range w.Rides {
		if r.Rest && r.Minutes == 0 {
			exact[k] = max(left, 0)
		}
		sum += exact[k]
	}
	type part struct{ ride, remainder int }
	var parts []part
	given := 0
	for k, e := range exact {
		out[k] += e / 10000 * 5
		given += e / 10000
		parts = append(parts, part{k, e % 10000})
	}
	slices.SortStableFunc(parts, func(a, b part) int { return b.remainder - a.remainder })
	for i := range (sum+5000)/10000 - given {
		out[parts[i].ride] += 5
	}
	return out
}

func (o *oracle) judge(week, total int, cells [7]cell, past []cell, pinnedMinutes []int) answer {
	w := o.b.Weeks[week]
	a := answer{total: total, mix: slices.Clone(pinnedMinutes)}
	before := cell{}
	if len(past) > 0 {
		before = past[len(past)-1]
	}
	for i := range cells {
		c := &cells[i]
		date := w.Start.Add(i)
		c.long, c.longGiven = c.placed+c.given >= o.longFrom(total), c.given >= o.longFrom(total)
		c.demanding = c.givenDem
		a.pattern[i], a.minutes[i] = c.ride, c.placed
		key := ""
		if c.ride >= 0 {
			r := w.Rides[c.ride]
			key = r.Key
			c.demanding = c.demanding || r.Session.Demanding
			a.mix[c.ride] += c.placed
			if len(r.Days) > 0 {
				a.terms[5] += slices.Index(r.Days, date.Weekday())
			}
			d := c.placed - int(r.Usual)
			a.terms[7] += d * d
		}
		if before.demanding && c.demanding {
			a.terms[5]++
		}
		if i > 0 && before.busy() && c.busy() {
			a.terms[8]++
		}
		if o.base != nil && !c.taken && o.base[i] != key {
			a.terms[4]++
		}
		o.record(w, date, c, key, &a)
		before = *c
	}
	for k, wish := range o.wished(week, total) {
		d := a.mix[k] - wish
		a.terms[1] += max(0, d-10, -d-10)
		a.terms[6] += d * d
	}
	a.cells = cells
	return a
}

// record compares a date with what was delivered for it.
func (o *oracle) record(w *plan.Week, date units.Date, c *cell, key string, a *answer) {
	for _, s := range o.rec {
		if s.Date != date || date < o.asOf || s.Ride == "" || strings.HasPrefix(s.Key, "block/w01/f") {
			continue // a key of a fixed ride says so
		}
		for _, g := range w.Given {
			if g.Date == date && g.Fixed == "" && g.Ride != nil && g.Ride.Key == s.Ride {
				return
			}
		}
		switch {
		case key == s.Ride && c.placed != int(s.Minutes):
			a.terms[3]++
		case key == s.Ride:
		case date.Sub(o.asOf) < 7:
			a.terms[0]++
		default:
			a.terms[2]++
		}
	}
}

// better compares two answers by the terms in their order.
func (a *answer) better(b *answer) bool {
	var x, y []int
	for _, p := range []struct {
		a *answer
		v *[]int
	}{{a, &x}, {b, &y}} {
		*p.v = append(*p.v, p.a.terms[:7]...)
		for _, m := range p.a.mix {
			*p.v = append(*p.v, -m)
		}
		*p.v = append(*p.v, p.a.terms[7:]...)
		for _, k := range p.a.pattern {
			if k < 0 {
				k = 99
			}
			*p.v = append(*p.v, k)
		}
		for _, m := range p.a.minutes {
			*p.v = append(*p.v, -m)
		}
	}
	return slices.Compare(x, y) < 0
}

func (o *oracle) best(week, total int, past []cell) *answer {
	var best *answer
	o.each(week, total, past, func(a answer) bool {
		if best == nil || a.better(best) {
			best = &a
		}
		return true
	})
	return best
}

// totals lists the totals of a week, the one to be tried first in front.
func (o *oracle) totals(week int) (out []int) {
	w := o.b.Weeks[week]
	asked := int(w.Asked)
	switch {
	case !o.asOf.IsZero() && w.Start.Add(7) <= o.asOf:
		sum := 0
		for _, s := range o.rec {
			if s.Date >= w.Start && s.Date < w.Start.Add(7) {
				sum += int(s.Minutes)
			}
		}
		return []int{sum}
	case w.Start < o.asOf:
		for by := 0; by < 1000; by += 5 {
			out = append(out, asked-by)
			if by > 0 {
				out = append(out, asked+by)
			}
		}
	case o.b.TakeWhatFits:
		for t := asked; t >= 0; t -= 5 {
			out = append(out, t)
		}
	case o.b.Tolerance > 0:
		percent := int(o.b.Tolerance*100 + 0.5)
		for t := asked; t*100 >= asked*(100-percent); t -= 5 {
			out = append(out, t)
		}
	default:
		out = []int{asked}
	}
	return out
}

// place places a block's weeks one after the other, each as well as the later ones allow.
func (o *oracle) place(week int, past []cell) ([]answer, bool) {
	if week == len(o.b.Weeks) {
		return nil, true
	}
	for _, total := range o.totals(week) {
		var all []answer
		o.each(week, total, past, func(a answer) bool { all = append(all, a); return true })
		slices.SortFunc(all, func(a, b answer) int {
			if a.better(&b) {
				return -1
			}
			return 1
		})
		for _, a := range all {
			if later, ok := o.place(week+1, append(slices.Clone(past), a.cells[:]...)); ok {
				return append([]answer{a}, later...), true
			}
		}
	}
	return nil, false
}
