package schedule

import (
	"towpath/internal/plan"
)

const million = 1_000_000

// wishes sets what the week wishes of each ride: minutes where they are written, shares of what is
// not given outside the mix, and the rest to one ride. Shares become whole quanta by largest
// remainder; a tie goes to the ride written first.
func (pl *placer) wishes(w *plan.Week, p *problem) {
	forMix := p.total - p.givenTotal
	for _, r := range p.rides {
		forMix += r.givenMinutes
	}
	quanta := max(forMix, 0) / quantum
	quotas := make([]int, len(p.rides)) // in millionths of a quantum
	left, restful := quanta*million, rest
	for k, r := range w.Rides {
		switch {
		case r.Minutes > 0:
			p.rides[k].wished = down(int(r.Minutes))
			left -= p.rides[k].wished / quantum * million
		case r.Rest:
			restful = k
		default:
			quotas[k] = quanta * r.Share.PerMillion()
			left -= quotas[k]
		}
	}
	if restful >= 0 {
		quotas[restful] = max(left, 0)
	}
	for k, n := range largestRemainder(quotas) {
		p.rides[k].wished += n * quantum
	}
}

// largestRemainder rounds quotas, in millionths, to whole numbers with their rounded sum.
func largestRemainder(quotas []int) []int {
	out := make([]int, len(quotas))
	sum, whole := 0, 0
	for k, q := range quotas {
		out[k] = q / million
		sum += q
		whole += out[k]
	}
	for n := (sum+million/2)/million - whole; n > 0; n-- {
		most := 0
		for k := range quotas {
			if quotas[k]-out[k]*million > quotas[most]-out[most]*million {
				most = k
			}
		}
		out[most]++
	}
	return out
}

// spread divides a total over boxes with the least sum of squares of the distances to the wishes;
// ties go to the first. The total must lie between the sums of the boxes' ends, which are whole
// quanta, as is the total; wishes may be any minutes.
//
// It starts from the wishes, rounded down to quanta and brought into the boxes, then raises the
// one furthest below its wish or lowers the one furthest above it, a quantum at a time. Each step
// is the cheapest there is, and the cost is convex, so the end is the least. For the same reason
// it is the least for any other convex cost of the distance that all share.
func spread(total int, low, high, wish, out []int) {
	sum := 0
	for i := range out {
		out[i] = min(max(floorQuantum(wish[i]), low[i]), high[i])
		sum += out[i]
	}
	for ; sum < total; sum += quantum {
		best := -1
		for i := range out {
			if out[i] < high[i] && (best < 0 || out[i]-wish[i] < out[best]-wish[best]) {
				best = i
			}
		}
		out[best] += quantum
	}
	for ; sum > total; sum -= quantum {
		best := -1
		for i := range out {
			if out[i] > low[i] && (best < 0 || out[i]-wish[i] >= out[best]-wish[best]) {
				best = i
			}
		}
		out[best] -= quantum
	}
}

// floorQuantum rounds down, below zero as well.
func floorQuantum(m int) int {
	if m < 0 {
		return -up(-m)
	}
	return down(m)
}
