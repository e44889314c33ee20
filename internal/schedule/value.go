package schedule

import "slices"

// The terms of the objective, in order of weight: each counts only among the plans that are best
// in all before it. The last ones, equal mixes and the order of rides, are not sums and are
// compared by placement.before.
const (
	termHeld    = iota // recorded sessions in the rider's hand that lose their date or their ride
	termCoarse         // minutes by which rides miss their wish beyond a slack
	termMoved          // later recorded sessions that lose their date or their ride
	termResized        // recorded sessions that change their minutes only
	termBase           // dates that differ from the base week
	termWish           // places in the rides' order of days, and neighbouring demanding dates
	termFine           // squares of the minutes by which rides miss their wish
	termLengths        // squares of the distances from the usual lengths
	termSpacing        // neighbouring riding dates
	terms
)

// placement is a week as the search places it.
type placement struct {
	terms   [terms]int
	mix     []int              // minutes of each ride, those given included
	pattern [daysInWeek]int    // ride on each date, or rest
	minutes [daysInWeek]int    // placed on each date
	chosen  [daysInWeek]option // what the search took
	carry   carry
}

// before tells which of two placements is better; they are never equal unless they are the same.
func (a *placement) before(b *placement) bool {
	if c := slices.Compare(a.terms[:termLengths], b.terms[:termLengths]); c != 0 {
		return c < 0
	}
	if c := slices.Compare(b.mix, a.mix); c != 0 { // more for the ride written first
		return c < 0
	}
	if c := slices.Compare(a.terms[termLengths:], b.terms[termLengths:]); c != 0 {
		return c < 0
	}
	for i := range a.pattern {
		if a.pattern[i] != b.pattern[i] { // the ride written first, rest last
			return uint(a.pattern[i]) < uint(b.pattern[i])
		}
	}
	return slices.Compare(b.minutes[:], a.minutes[:]) < 0 // more on the earlier date
}
