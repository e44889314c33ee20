package rules

import (
	"fmt"
	"slices"

	"towpath/internal/physiology"
	"towpath/internal/prescription"
)

var longDaysApart = Rule{
	Code:  "long-days-apart",
	Title: "Two long days are neighbours",
	Why: "A coach who keeps long days apart leaves a day on which the first can be slept off and eaten back. Placement keeps them apart, across the end of a week as well; " +
		"a finding comes only where rides with a given day stand next to each other.",
	Mend:  "Move one of the two fixed or pinned rides, or shorten it.",
	Limit: "long_days_apart",
	Default: fmt.Sprintf("Off. With long_days_apart = true a day is long from %s on, or from %d %% of its week where that is more.",
		physiology.LongDay.Value, physiology.LongDayPercent.Value),
	Evidence: "Common practice, no source.",
	check:    checkLongDaysApart,
}

func checkLongDaysApart(p *prescription.Prescription) (out []finding) {
	limit := p.Block.Limits.LongDaysApart
	if !limit.Value {
		return nil
	}
	days, totals := dayTotals(p), weekTotals(p)
	isLong := func(d int) bool { return days[d] >= longDay(totals, d/7+1) }
	for d := 0; d+1 < len(days); d++ {
		if !isLong(d) || !isLong(d+1) {
			continue
		}
		day := p.Block.Start.Add(d)
		longer, weeks := longerOf(p, day), slices.Compact([]int{d/7 + 1, (d+1)/7 + 1})
		out = append(out, finding{
			weeks: weeks, severity: level(limit, true), own: limit.Written, subject: longer.at,
			summary: fmt.Sprintf("%s and %s are both long: %s and %s", onDay(day), onDay(day.Add(1)), days[d], days[d+1]),
			brief:   fmt.Sprintf("%s and the day after: %s and %s", onDay(day), days[d], days[d+1]),
			detail: capital(allowed(limit, "long_days_apart", fmt.Sprintf("a day from %s on has no neighbour as long", longDay(totals, d/7+1)))) +
				". A day between them keeps it, or a shorter ride on one of them",
			related: append(theOther(p, day, longer), theLimit(limit)...),
		})
	}
	return out
}
