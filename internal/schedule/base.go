package schedule

import (
	"cmp"
	"slices"

	"towpath/internal/plan"
	"towpath/internal/units"
)

// baseWeek places the block's ordinary week, the reference that keeps weekdays the same: the
// weekly limits, the ordinary mix, and the fixed rides and other sport of each week only, without
// dates away, tests, pins or a record. No week refers to its neighbour, so that one disturbed week
// does not disturb the next. The total is the lower median of the loading weeks, or the next smaller
// one that fits. Who works by a roster has no ordinary week.
func (pl *placer) baseWeek() *[daysInWeek]string {
	var loading []*plan.Week
	for _, w := range pl.block.Weeks {
		if w.Kind == plan.Loading && w.Asked > 0 && len(w.Rides) > 0 {
			loading = append(loading, w)
		}
	}
	if len(loading) == 0 || pl.block.Athlete.Rostered != nil {
		return nil
	}
	rides, given := ordinaryMix(loading), regular(loading, pl.block.Start)
	slices.SortStableFunc(loading, func(a, b *plan.Week) int { return cmp.Compare(a.Asked, b.Asked) })

	athlete := *pl.block.Athlete
	athlete.Exceptions, athlete.Travels = nil, nil
	athlete.Other = slices.DeleteFunc(slices.Clone(athlete.Other), func(o *plan.Other) bool { return !o.Date.IsZero() })
	block := *pl.block
	block.Athlete, block.Weeks, block.Events = &athlete, nil, nil
	alone := &placer{block: &block, longDay: pl.longDay, percent: pl.percent}
	for i := (len(loading) - 1) / 2; i >= 0; i-- {
		w := &plan.Week{Start: block.Start, Kind: plan.Loading, Asked: loading[i].Asked, Rides: rides, Given: given}
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

// regular are the fixed rides that stand on the same day in at least half of the weeks, as they
// stand in the week from start on.
func regular(weeks []*plan.Week, start units.Date) (out []*plan.Given) {
	type standing struct {
		label string
		day   int
	}
	counts := map[standing]int{}
	for _, w := range weeks {
		for _, g := range w.Given {
			at := standing{g.Fixed, g.Date.Sub(w.Start)}
			if counts[at]++; g.Fixed == "" || counts[at] != (len(weeks)+1)/2 {
				continue
			}
			again := *g
			again.Date = start.Add(at.day)
			out = append(out, &again)
		}
	}
	return out
}
