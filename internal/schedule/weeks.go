package schedule

import (
	"iter"
	"slices"

	"towpath/internal/plan"
)

// chain places a block's weeks in order of date. Each takes its best plan among those from which
// all later weeks can still be placed, so that an edit of a late week leaves the early ones alone
// unless it must not, and no week runs into a dead end.
type chain struct {
	*placer
	viable   map[link]bool
	problems map[weekTotal]*problem
}

// link is a week with what the one before left to it.
type link struct {
	week int
	in   carry
}

type weekTotal struct{ week, total int }

func newChain(pl *placer) *chain {
	return &chain{placer: pl, viable: map[link]bool{}, problems: map[weekTotal]*problem{}}
}

// place gives a problem and a placement for each week, or false where there are none.
func (c *chain) place() ([]*problem, []*placement, bool) {
	n := len(c.block.Weeks)
	problems, placements := make([]*problem, n), make([]*placement, n)
	var in carry
	for i, w := range c.block.Weeks {
		for total := range c.totals(i) {
			p := c.problemOf(i, total)
			if c.tolerant(w) && !possible(p, in, c.accept(i)) {
				continue // told sooner than by looking for the best
			}
			if got := solve(p, in, c.accept(i)); got != nil {
				problems[i], placements[i], in = p, got, got.carry
				break
			}
		}
		if placements[i] == nil {
			return nil, nil, false
		}
	}
	return problems, placements, true
}

// accept tells whether the weeks after week i can follow on what it leaves.
func (c *chain) accept(i int) func(carry) bool {
	return func(out carry) bool { return c.canFollow(i+1, out.feasibility()) }
}

// canFollow tells whether week i and all later ones can be placed after in.
func (c *chain) canFollow(i int, in carry) bool {
	if i == len(c.block.Weeks) {
		return true
	}
	at := link{i, in}
	if known, ok := c.viable[at]; ok {
		return known
	}
	c.viable[at] = c.conceivable(i, c.accept(i), in) && c.possibleAt(i, in)
	return c.viable[at]
}

// possibleAt tells whether week i can be placed after in at one of its totals.
func (c *chain) possibleAt(i int, in carry) bool {
	for total := range c.totals(i) {
		if possible(c.problemOf(i, total), in, c.accept(i)) {
			return true
		}
	}
	return false
}

// conceivable is false where a week that may be cut has no total that can be placed after any of
// the carries: one search in place of one for each total.
func (c *chain) conceivable(i int, accept func(carry) bool, carries ...carry) bool {
	w := c.block.Weeks[i]
	if !c.tolerant(w) {
		return true
	}
	p, _ := c.within(w, int(w.Asked), c.least(w), 0)
	return p.possibleAfter(carries, accept)
}

// within is the problem of a week with any total from most down to least. Where it cannot be placed,
// no such total can; sure tells that where it can, one of them can: days are long from the same
// minutes.
func (pl *placer) within(w *plan.Week, most, least int, without groups) (p *problem, sure bool) {
	p = pl.problem(w, most, without)
	p.unasked += down(most - least)
	kept := p.longApart || slices.ContainsFunc(p.days[:], func(d day) bool { return d.notLong })
	return p, !kept || p.longFrom == pl.longFrom(least)
}

func (c *chain) problemOf(i, total int) *problem {
	key := weekTotal{i, total}
	p := c.problems[key]
	if p == nil {
		p = c.problem(c.block.Weeks[i], total, 0)
		c.problems[key] = p
	}
	return p
}

// totals yields the totals that a week may have, the one to be tried first in front: for a past
// week what was delivered; for the running week the asked one, then the nearest, less before more;
// where the coach takes what fits, the asked one and then less; else the asked one and as much less
// as the tolerance allows.
func (c *chain) totals(i int) iter.Seq[int] {
	w := c.block.Weeks[i]
	asked := int(w.Asked)
	return func(yield func(int) bool) {
		switch {
		case c.past(w):
			yield(c.delivered(w))
		case c.running(w):
			nearest(asked, c.problemOf(i, asked), true, yield)
		case c.block.TakeWhatFits:
			nearest(asked, c.problemOf(i, asked), false, yield)
		default:
			for t := asked; t >= c.least(w) && yield(t); t -= quantum {
			}
		}
	}
}

// tolerant tells the weeks that may be cut by the block's tolerance.
func (pl *placer) tolerant(w *plan.Week) bool {
	return pl.block.Tolerance > 0 && !pl.block.TakeWhatFits && !pl.running(w)
}

// least is the smallest total that a week may be cut to.
func (pl *placer) least(w *plan.Week) int {
	asked := int(w.Asked)
	if !pl.tolerant(w) {
		return asked
	}
	return (asked*(million-pl.block.Tolerance.PerMillion()) + million - 1) / million
}

// nearest yields a total and then those around it, or below it, that what is given and the limits
// of the days leave room for. It goes through all of them: that a total fits does not mean that a
// smaller one does.
func nearest(asked int, p *problem, above bool, yield func(int) bool) {
	least, most := p.givenTotal, p.givenTotal+p.unasked
	for _, d := range p.days {
		if d.open {
			most += d.room
		}
	}
	for by := 0; asked-by >= least || above && asked+by < most+quantum; by += quantum {
		for _, t := range []int{asked - by, asked + by} {
			if t > asked && !above || t == asked && by > 0 || t < least || t >= most+quantum {
				continue
			}
			if !yield(t) {
				return
			}
			if by == 0 {
				break
			}
		}
	}
}

// delivered sums the minutes that were delivered for a week.
func (pl *placer) delivered(w *plan.Week) (sum int) {
	for i := range daysInWeek {
		for _, rec := range pl.recorded[w.Start.Add(i)] {
			sum += rec.minutes
		}
	}
	return sum
}
