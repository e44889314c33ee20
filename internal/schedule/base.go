package schedule

import (
	"cmp"
	"slices"

	"towpath/internal/plan"
)

// baseWeek places the block's ordinary week, the reference that keeps weekdays the same: the
// weekly limits and the ordinary mix only, without dates away, tests, pins or a record. No week
// refers to its neighbour, so that one disturbed week does not disturb the next. The total is the
// lower median of the loading weeks, or the next smaller one that fits.
func (pl *placer) baseWeek() *[daysInWeek]string {
	var loading []*plan.Week
	for _, w := range pl.block.Weeks {
		if w.Kind == plan.Loading {
			loading = append(loading, w)
		}
	}
	if len(loading) == 0 {
		return nil
	}
	rides := ordinaryMix(loading)
	slices.SortStableFunc(loading, func(a, b *plan.Week) int { return cmp.Compare(a.Asked, b.Asked) })

	athlete := *pl.block.Athlete
	athlete.Exceptions = nil
	block := *pl.block
	block.Athlete, block.Weeks = &athlete, nil
	alone := &placer{block: &block, longDay: pl.longDay, percent: pl.percent}
	for i := (len(loading) - 1) / 2; i >= 0; i-- {
		w := &plan.Week{Start: block.Start, Kind: plan.Loading, Asked: loading[i].Asked, Rides: rides}
		got := solve(alone.problem(w, int(w.Asked), 0), carry{}, func(carry) bool { return true })
		if got == nil {
			continue
		}
		var keys [daysInWeek]string
		for d, k := range got.pattern {
			if k >= 0 {
				keys[d] = rides[k].Key
			}
		}
		return &keys
	}
	return nil
}

// ordinaryMix is the mix that most of the weeks have, the earliest of equals.
func ordinaryMix(weeks []*plan.Week) []*plan.Ride {
	best, most := weeks[0].Rides, 0
	for _, w := range weeks {
		n := 0
		for _, other := range weeks {
			if slices.Equal(w.Rides, other.Rides) {
				n++
			}
		}
		if n > most {
			best, most = w.Rides, n
		}
	}
	return best
}
