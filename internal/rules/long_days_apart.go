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
	days := dayTotals(p)
	for d := 0; d+1 < len(days); d++ {
		day := p.Block.Start.Add(d)
		week, next := p.Block.WeekOn(day).Number, p.Block.WeekOn(day.Add(1)).Number
		long := longDay(p, week)
		if days[d] < long || days[d+1] < longDay(p, next) {
			continue
		}
		longer := longerOf(p, day)
		out = append(out, finding{
			weeks: slices.Compact([]int{week, next}), severity: level(limit, true), own: limit.Written, subject: longer.at,
			summary: fmt.Sprintf("%s and %s are both long: %s and %s", onDay(day), onDay(day.Add(1)), days[d], days[d+1]),
			brief:   fmt.Sprintf("%s and the day after: %s and %s", onDay(day), days[d], days[d+1]),
			detail: capital(allowed(limit, "long_days_apart", fmt.Sprintf("a day from %s on has no neighbour as long", long))) +
				". A day between them keeps it, or a shorter ride on one of them",
			related: append(theOther(p, day, longer), theLimit(limit)...),
		})
	}
	return out
}
