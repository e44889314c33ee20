package schedule

import (
	"fmt"
	"slices"

	"towpath/internal/diag"
	"towpath/internal/plan"
	"towpath/internal/units"
)

// Explain tells why a session stands on its date and has its minutes, and what would come of its
// week without it there: the ride is forbidden on the date and the week placed again. Where that
// can be, the term that gets worse first is told; else the lines that leave nothing else. Given
// sessions and those of the past have the first part only; a date without a session has none.
func Explain(s *Schedule, date units.Date) []diag.Origin {
	w := s.Block.WeekOn(date)
	if w == nil || s.chain == nil || len(s.Weeks) == 0 {
		return nil
	}
	n := date.Sub(s.Block.Start) / daysInWeek
	var out []diag.Origin
	for _, x := range s.Weeks[n].Sessions {
		if x.Date == date {
			out = append(out, x.Origin)
		}
	}
	is := s.placements[n]
	if k := is.pattern[date.Sub(w.Start)]; k >= 0 {
		out = append(out, s.chain.without(n, date, w.Rides[k], s.problems[n].total, s.placements))
	}
	return out
}

// without places week n again with a ride forbidden on a date, and says what gets worse.
func (c *chain) without(n int, date units.Date, r *plan.Ride, total int, placements []*placement) diag.Origin {
	var in carry
	if n > 0 {
		in = placements[n-1].carry
	}
	w, is := c.block.Weeks[n], placements[n]
	forbidding := *c.placer
	forbidding.change = &change{group: groupForbidden, ride: r, date: date}
	p := forbidding.problem(w, total, 0)
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
