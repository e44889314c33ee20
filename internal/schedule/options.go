package schedule

import (
	"cmp"
	"slices"
)

// option is what one date may hold: rest, or a ride with a box of minutes. A date has one option
// for each ride, twice where it may be long or not, and once more where it keeps what was
// delivered: so an option settles all costs but those that the minutes decide.
type option struct {
	ride      int
	low, high int
	long      bool // given and placed together
	cost      [dateTerms]int
}

// The terms of the objective that the option of a date settles, in their order among each other.
const (
	costHeld = iota
	costMoved
	costResized
	costBase
	costWish
	dateTerms
)

// options lists what each date may hold, likely ones first.
func (p *problem) options() [daysInWeek][]option {
	var out [daysInWeek][]option
	for i := range p.days {
		out[i] = p.optionsOf(i)
	}
	return out
}

func (p *problem) optionsOf(i int) []option {
	d := &p.days[i]
	var out []option
	if d.open {
		for k := range p.rides {
			r := &p.rides[k]
			if r.rank[i] < 0 || d.lightOnly && !r.light {
				continue
			}
			low, high := r.atLeast, min(r.atMost, d.room)
			shortest := up(max(p.longFrom-d.given, 0)) // of the placed minutes that make the date long
			if d.notLong {
				high = min(high, shortest-quantum)
			}
			if !p.longApart {
				out = p.boxes(out, i, k, low, high, false)
				continue
			}
			out = p.boxes(out, i, k, low, min(high, shortest-quantum), false)
			out = p.boxes(out, i, k, max(low, shortest), high, true)
		}
	}
	out = append(out, option{ride: rest, long: p.longApart && d.given >= p.longFrom, cost: p.costs(i, rest, false)})
	slices.SortStableFunc(out, func(a, b option) int { return slices.Compare(a.cost[:], b.cost[:]) })
	return out
}

// boxes adds a ride in a box of minutes, and before it the box of the delivered minutes alone.
func (p *problem) boxes(out []option, i, k, low, high int, long bool) []option {
	if low > high {
		return out
	}
	d := &p.days[i]
	if d.recorded != k {
		return append(out, option{k, low, high, long, p.costs(i, k, false)})
	}
	if m := d.recordedMin; m >= low && m <= high && m%quantum == 0 {
		out = append(out, option{k, m, m, long, p.costs(i, k, true)})
		if low == high {
			return out
		}
	}
	return append(out, option{k, low, high, long, p.costs(i, k, false)})
}

// costs are those of a ride on a date; kept tells that its minutes are the delivered ones.
func (p *problem) costs(i, k int, kept bool) (c [dateTerms]int) {
	d := &p.days[i]
	switch {
	case d.recorded == rest:
	case d.recorded != k && d.held:
		c[costHeld] = 1
	case d.recorded != k:
		c[costMoved] = 1
	case !kept:
		c[costResized] = 1
	}
	if p.hasBase && !d.taken && d.base != k {
		c[costBase] = 1
	}
	if k >= 0 {
		c[costWish] = p.rides[k].rank[i]
	}
	return c
}

// bounds says for each date what it and the later ones can still hold, so that the search need
// not go where nothing can come of it.
type bounds struct {
	all   [daysInWeek + 1][daysInWeek + 1]int   // by date and number of placed sessions: the most minutes
	rides [daysInWeek + 1][][daysInWeek + 1]int // the same for each ride
	dates [daysInWeek + 1][]int                 // dates on which each ride may stand
	cost  [daysInWeek + 1][dateTerms]int        // the least cost, term by term
	given [daysInWeek + 1]int                   // dates on which something is given
	// Dates on which something may be placed: beside what is given, and where nothing is.
	beside, fresh [daysInWeek + 1]int
}

func (p *problem) bounds(options *[daysInWeek][]option) *bounds {
	b := &bounds{}
	var all []int
	rides := make([][]int, len(p.rides))
	for i := daysInWeek; i >= 0; i-- {
		b.rides[i] = make([][daysInWeek + 1]int, len(p.rides))
		b.dates[i] = make([]int, len(p.rides))
		if i < daysInWeek {
			b.given[i], b.beside[i], b.fresh[i] = b.given[i+1], b.beside[i+1], b.fresh[i+1]
			b.cost[i] = least(options[i], b.cost[i+1])
			most := 0
			for k := range p.rides {
				high := 0
				for _, o := range options[i] {
					if o.ride == k {
						high = max(high, o.high)
					}
				}
				rides[k] = insert(rides[k], high)
				most = max(most, high)
			}
			all = insert(all, most)
			given := p.days[i].given > 0
			if given {
				b.given[i]++
			}
			switch {
			case most > 0 && given:
				b.beside[i]++
			case most > 0:
				b.fresh[i]++
			}
		}
		b.all[i] = sums(all)
		for k := range rides {
			b.rides[i][k] = sums(rides[k])
			b.dates[i][k] = len(rides[k])
		}
	}
	return b
}

func least(options []option, later [dateTerms]int) [dateTerms]int {
	for t := range later {
		m := options[0].cost[t]
		for _, o := range options {
			m = min(m, o.cost[t])
		}
		later[t] += m
	}
	return later
}

// insert keeps a list in descending order; nothing is added for 0.
func insert(list []int, v int) []int {
	if v == 0 {
		return list
	}
	i, _ := slices.BinarySearchFunc(list, v, func(e, v int) int { return cmp.Compare(v, e) })
	return slices.Insert(list, i, v)
}

// sums gives the sum of the first n of a descending list, for each n.
func sums(list []int) (out [daysInWeek + 1]int) {
	for n := 1; n <= daysInWeek; n++ {
		out[n] = out[n-1]
		if n <= len(list) {
			out[n] += list[n-1]
		}
	}
	return out
}
