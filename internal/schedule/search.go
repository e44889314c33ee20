package schedule

import (
	"slices"

	"towpath/internal/physiology"
)

// search goes depth first over a week's dates. At each date it takes one option after the other,
// cuts a branch when a constraint fails, when the minutes can no longer come out, or when it is
// already worse than the best found; at the end it divides the minutes over the boxes.
type search struct {
	*problem
	options [daysInWeek][]option
	bounds  *bounds
	accept  func(carry) bool // whether the weeks that follow can still be placed
	first   bool             // stop at the first placement
	dead    map[deadEnd]bool // where a search for the first placement has been in vain
	best    *placement
	done    bool
	slack   int
	grain   int // minutes, of which all wishes and all that is placed are multiples

	// The branch so far.
	chosen    [daysInWeek]option
	counts    []int
	low, high []int // of each ride, what is given included
	sumLow    int
	sumHigh   int
	riding    int   // riding dates, given ones included
	wishes    []int // the rides' wishes

	// Scratch.
	found                            placement // at a leaf
	mix                              []int
	wish, divide                     [daysInWeek]int
	most, lost, lostCoarse, lostFine []int
}

// before is what a date sees of those before it.
type before struct {
	carry
	riding  bool // within the week
	cost    [dateTerms]int
	spacing int
}

func newSearch(p *problem, accept func(carry) bool) *search {
	s := &search{problem: p, options: p.options(), accept: accept, slack: int(physiology.MixSlack.Value), grain: quantum}
	s.bounds = p.bounds(&s.options)
	n := len(p.rides)
	s.counts, s.low, s.high, s.wishes = make([]int, n), make([]int, n), make([]int, n), make([]int, n)
	s.mix, s.found.mix = make([]int, n), make([]int, n)
	s.most = make([]int, n)
	s.lost, s.lostCoarse, s.lostFine = make([]int, n), make([]int, n), make([]int, n)
	for k, r := range p.rides {
		s.counts[k], s.low[k], s.high[k], s.wishes[k] = r.given, 0, 0, r.wished-r.givenMinutes
		if s.wishes[k]%quantum != 0 {
			s.grain = 1
		}
	}
	return s
}

// solve gives the best placement of a week after what the week before left, such that accept holds
// of what it leaves itself; nil where there is none.
func solve(p *problem, in carry, accept func(carry) bool) *placement {
	if p.free() < 0 {
		return nil
	}
	s := newSearch(p, accept)
	s.date(0, before{carry: in})
	return s.best
}

// possible reports whether a week has any placement that accept holds of.
func possible(p *problem, in carry, accept func(carry) bool) bool {
	if p.free() < 0 {
		return false
	}
	s := newSearch(p, accept)
	s.first, s.dead = true, map[deadEnd]bool{}
	s.dropDominated()
	s.date(0, before{carry: in})
	return s.done
}

// possibleAfter reports whether it is after any of the carries.
func (p *problem) possibleAfter(carries []carry, accept func(carry) bool) bool {
	return slices.ContainsFunc(carries, func(in carry) bool { return possible(p, in, accept) })
}

// date tries the options of a date.
func (s *search) date(i int, b before) {
	if s.hopeless(i) || s.best != nil && s.worse(i, b) {
		return
	}
	if i == daysInWeek {
		s.leaf(b)
		return
	}
	if s.first {
		here := s.deadEnd(i, b)
		if s.dead[here] {
			return
		}
		s.dead[here] = true // unless it ends the search
	}
	for _, o := range s.options[i] {
		next, ok := s.after(i, o, b)
		if !ok || o.ride >= 0 && s.counts[o.ride] >= s.rides[o.ride].high {
			continue
		}
		s.take(i, o, 1)
		s.date(i+1, next)
		s.take(i, o, -1)
		if s.done {
			return
		}
	}
}

// deadEnd is all of a branch that decides whether it can still become a placement.
type deadEnd struct {
	date, riding    int
	sumLow, sumHigh int
	carry           carry
	counts          uint64 // of each ride, four bits each: physiology.MostRides of them fit
}

func (s *search) deadEnd(i int, b before) deadEnd {
	out := deadEnd{date: i, riding: s.riding, sumLow: s.sumLow, sumHigh: s.sumHigh, carry: b.feasibility()}
	for k, n := range s.counts {
		// Of a count without an upper bound only matters whether the lower one is reached.
		if s.rides[k].high >= daysInWeek {
			n = min(n, s.rides[k].low)
		}
		out.counts |= uint64(n) << (4 * k)
	}
	return out
}

// take enters an option of a date into the branch, or with sign -1 removes it.
func (s *search) take(i int, o option, sign int) {
	s.chosen[i] = o
	if s.days[i].given > 0 || o.ride >= 0 {
		s.riding += sign
	}
	if o.ride < 0 {
		return
	}
	s.counts[o.ride] += sign
	s.low[o.ride] += sign * o.low
	s.high[o.ride] += sign * o.high
	s.sumLow += sign * o.low
	s.sumHigh += sign * o.high
}

// after is what the dates behind see once an option was taken; ok is false where a rule between
// neighbouring dates forbids it.
func (s *search) after(i int, o option, b before) (before, bool) {
	d := &s.days[i]
	riding := d.given > 0 || d.event || o.ride >= 0
	next := before{riding: riding, cost: b.cost, spacing: b.spacing}
	for t := range next.cost {
		next.cost[t] += o.cost[t]
	}
	if riding {
		next.run = b.run + 1
		next.runGiven = (b.run == 0 || b.runGiven) && (d.given+d.lifted > 0 || d.event)
		if next.run > s.inARow {
			if !next.runGiven {
				return before{}, false
			}
			next.run = s.inARow
		}
		if b.riding {
			next.spacing++
		}
	}
	next.long = o.long
	next.longGiven = o.long && d.given+d.lifted >= s.longFrom
	if s.longApart && next.long && b.long && !(next.longGiven && b.longGiven) {
		return before{}, false
	}
	next.demanding = d.givenDemanding || o.ride >= 0 && s.rides[o.ride].demanding
	if next.demanding && b.demanding {
		next.cost[costWish]++
	}
	return next, true
}

// hopeless tells that from date i on no choice can bring the minutes and the counts together.
func (s *search) hopeless(i int) bool {
	riding := s.riding + s.bounds.given[i]
	left := s.toCome(i)
	if riding > s.ridingHigh || riding+s.bounds.fresh[i] < s.ridingLow {
		return true
	}
	free := s.free()
	if s.sumLow > free || s.sumHigh+s.bounds.all[i][left] < free-s.unasked {
		return true
	}
	missing := 0
	for k := range s.rides {
		if n := s.rides[k].low - s.counts[k]; n > 0 {
			if n > s.bounds.dates[i][k] {
				return true
			}
			missing += n
		}
	}
	return missing > left
}

// toCome is how many sessions may be placed from date i on: beside what is given, and on as many
// further dates as may be ridden on.
func (s *search) toCome(i int) int {
	return s.bounds.beside[i] + min(s.bounds.fresh[i], s.ridingHigh-s.riding-s.bounds.given[i])
}

// worse tells that whatever follows date i, the outcome is worse than the best found: each term
// is at least what it is so far and what the later dates cannot avoid.
func (s *search) worse(i int, b before) bool {
	best, more := &s.best.terms, &s.bounds.cost[i]
	if c := b.cost[costHeld] + more[costHeld] - best[termHeld]; c != 0 {
		return c > 0
	}
	coarse, fine := s.leastMix(i)
	if c := coarse - best[termCoarse]; c != 0 {
		return c > 0
	}
	for t := costMoved; t < dateTerms; t++ {
		if c := b.cost[t] + more[t] - best[termMoved+t-costMoved]; c != 0 {
			return c > 0
		}
	}
	if fine != best[termFine] {
		return fine > best[termFine]
	}
	return s.lessFirst()
}

// lessFirst tells that of equally good mixes this branch can only end in one with less for the rides
// written first. It goes by what leastMix found that each ride can have.
func (s *search) lessFirst() bool {
	for k, most := range s.most {
		if c := most + s.rides[k].givenMinutes - s.best.mix[k]; c != 0 {
			return c < 0
		}
	}
	return false
}

// leastMix bounds the two terms of the mix from below. A ride falls short of its wish where its
// dates cannot hold it, and no more rides can get another session than there are sessions to come.
// What some rides fall short of, others must have too much.
func (s *search) leastMix(i int) (coarse, fine int) {
	var short, over, isOver, canBeOver int // minutes, minutes, rides, rides
	excess, toCome := s.free(), s.toCome(i)
	for k := range s.rides {
		most := s.high[k] + s.bounds.rides[i][k][min(max(s.rides[k].high-s.counts[k], 0), daysInWeek)]
		with, without := max(0, s.wishes[k]-most), max(0, s.wishes[k]-s.high[k])
		s.most[k] = most
		short += with
		coarse += max(0, with-s.slack)
		fine += with * with
		s.lost[k], s.lostCoarse[k], s.lostFine[k] = without-with, max(0, without-s.slack)-max(0, with-s.slack), without*without-with*with
		excess -= s.wishes[k]
		if s.high[k] > s.wishes[k] {
			isOver++
		} else if most > s.wishes[k] {
			canBeOver++
		}
		if o := s.low[k] - s.wishes[k]; o > 0 {
			over += o
			fine += o * o
		}
	}
	if n := len(s.rides) - toCome; n > 0 {
		short += leastOf(n, s.lost)
		coarse += leastOf(n, s.lostCoarse)
		fine += leastOf(n, s.lostFine)
	}
	// All minutes are placed: what is too much is what falls short and what nobody wishes. A ride that
	// has not enough for it takes another session.
	canBeOver = isOver + min(canBeOver, toCome)
	coarse += max(0, excess+short-canBeOver*s.slack)
	if more := excess + short - over; more > 0 && canBeOver > 0 {
		fine += evenly(more, canBeOver, s.grain)
	}
	return coarse, fine
}

// evenly is the least sum of squares of n numbers that add up to a total, all of whole grains.
func evenly(total, n, grain int) int {
	grains := total / grain
	each, more := grains/n, grains%n
	return (each*each*(n-more) + (each+1)*(each+1)*more) * grain * grain
}

// leastOf sums the n least of a list, which it sorts.
func leastOf(n int, list []int) (sum int) {
	slices.Sort(list)
	for _, v := range list[:min(n, len(list))] {
		sum += v
	}
	return sum
}

// leaf judges a choice of options for all dates.
func (s *search) leaf(b before) {
	free := s.free()
	if s.riding < s.ridingLow || s.riding > s.ridingHigh || s.sumLow > free || s.sumHigh < free-s.unasked {
		return
	}
	for k := range s.rides {
		if s.counts[k] < s.rides[k].low {
			return
		}
	}
	if s.first {
		s.done = s.accept(b.carry)
		return
	}
	got := &s.found
	*got = placement{carry: b.carry, mix: got.mix}
	spread(free, s.low, s.high, s.wishes, s.mix)
	s.mixTerms(got, b)
	if s.best != nil && slices.Compare(got.terms[:termLengths], s.best.terms[:termLengths]) > 0 {
		return
	}
	for k := range s.rides {
		got.mix[k] = s.mix[k] + s.rides[k].givenMinutes
	}
	s.lengths(got)
	got.terms[termSpacing] = b.spacing
	for i, o := range s.chosen {
		got.pattern[i] = o.ride
	}
	got.chosen = s.chosen
	if s.best != nil && !got.before(s.best) || !s.accept(b.carry) {
		return
	}
	best := *got
	best.mix = slices.Clone(got.mix)
	s.best = &best
}

// mixTerms enters the terms that are known once the rides have their minutes.
func (s *search) mixTerms(got *placement, b before) {
	t := &got.terms
	t[termHeld], t[termMoved], t[termResized] = b.cost[costHeld], b.cost[costMoved], b.cost[costResized]
	t[termBase], t[termWish] = b.cost[costBase], b.cost[costWish]
	for k, m := range s.mix {
		miss := max(m-s.wishes[k], s.wishes[k]-m)
		t[termCoarse] += max(0, miss-s.slack)
		t[termFine] += miss * miss
	}
}

// lengths divides the minutes of each ride over its dates.
func (s *search) lengths(got *placement) {
	for k := range s.rides {
		n := 0
		var dates [daysInWeek]int
		var low, high [daysInWeek]int
		for i, o := range s.chosen {
			if o.ride == k {
				dates[n], low[n], high[n], s.wish[n] = i, o.low, o.high, s.rides[k].usual
				n++
			}
		}
		if n == 0 {
			continue
		}
		spread(s.mix[k], low[:n], high[:n], s.wish[:n], s.divide[:n])
		for j := range n {
			m := s.divide[j]
			got.minutes[dates[j]] = m
			got.terms[termLengths] += (m - s.rides[k].usual) * (m - s.rides[k].usual)
		}
	}
}

// dropDominated leaves out options that never decide whether a week is possible: those whose ride
// has no count to keep and whose box lies within that of another such ride on the date.
func (s *search) dropDominated() {
	free := func(k int) bool { return s.rides[k].low <= s.rides[k].given && s.rides[k].high >= daysInWeek }
	for i, options := range s.options {
		var out []option
		for _, o := range options {
			covered := o.ride >= 0 && free(o.ride) && slices.ContainsFunc(out, func(p option) bool {
				return p.ride >= 0 && free(p.ride) && p.long == o.long && p.low <= o.low && p.high >= o.high
			})
			if !covered {
				out = append(out, o)
			}
		}
		s.options[i] = out
	}
}
