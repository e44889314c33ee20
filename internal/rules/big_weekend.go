package rules

import (
	"fmt"
	"slices"

	"towpath/internal/diag"
	"towpath/internal/physiology"
	"towpath/internal/plan"
	"towpath/internal/prescription"
	"towpath/internal/units"
)

var bigWeekend = Rule{
	Code:  "big-weekend",
	Title: "Two days in a row hold much more than any two before",
	Why: "When days are lost in the middle of a week, its minutes move to what is left of it, and neither the week nor the longest ride shows it. " +
		"Two days in a row are compared with any two in a row of the four weeks before. What was ridden before the block is not known by day, so two days that begin in the first week are not judged, and the others against what the block holds.",
	Mend: "Shorten one of the two, or write long_days_apart = true to keep long rides off neighbouring days.",
	Default: fmt.Sprintf("Advice where two days in a row hold more than %s, and both more than %s and more than %s above any two in a row of the last %d weeks: of a short weekend a share alone is soon exceeded, of a long one minutes. A limit of your own is a share or minutes, and nothing beside it is free.",
		physiology.BigWeekendLeast.Value, physiology.BigWeekendMinutes.Value, physiology.BigWeekendShare.Value, physiology.RecentWeeks.Value),
	Limit:    "big_weekend",
	Evidence: "Common practice, no source; the levels are our own choice.",
	basis:    "Common practice, no source",
	check:    checkBigWeekend,
}

func checkBigWeekend(p *prescription.Prescription) (out []finding) {
	days, limit := dayTotals(p), p.Block.Limits.BigWeekend
	for week := firstWeek(weekTotals(p)) + 1; week < len(p.Schedule.Weeks); week++ {
		var worst finding
		excess := 0.0
		for d := 7 * week; d < 7*week+7 && d+1 < len(days); d++ {
			pair := days[d] + days[d+1]
			ref, at := largestPair(days, d)
			most := pairLimit(ref, limit)
			if days[d] == 0 || days[d+1] == 0 || ref == 0 || !above(pair, most) || float64(pair)-most <= excess {
				continue
			}
			excess = float64(pair) - most
			worst = pairOfDays(p, d, pair, ref, at)
		}
		if excess > 0 {
			out = append(out, worst)
		}
	}
	return out
}

// largestPair is the most that two days in a row held in the weeks before day d, the pair wholly
// before it, and its first day.
func largestPair(days []units.Minutes, d int) (most units.Minutes, at int) {
	for i := max(0, d-7*physiology.RecentWeeks.Value); i+1 < d; i++ {
		if pair := days[i] + days[i+1]; pair > most {
			most, at = pair, i
		}
	}
	return most, at
}

// pairLimit is how much two days may hold after ref: by default the larger of both measures, and no
// less than what is big. Either measure alone would speak of every short weekend that grows, or of
// every long one.
func pairLimit(ref units.Minutes, limit plan.Limit[plan.Increase]) float64 {
	if limit.Written {
		return increased(ref, limit.Value)
	}
	return max(float64(ref)*(1+float64(limit.Value.Share)), float64(ref+limit.Value.Minutes), float64(physiology.BigWeekendLeast.Value))
}

// pairOfDays says what is to be said of the pair that begins on day d.
func pairOfDays(p *prescription.Prescription, d int, pair, ref units.Minutes, at int) finding {
	limit := p.Block.Limits.BigWeekend
	most, size := pairLimit(ref, limit), "up to "+increaseText(limit.Value)
	switch least := physiology.BigWeekendLeast.Value; {
	case !limit.Written && most <= float64(least):
		size = fmt.Sprintf("up to %s after any", least)
	case !limit.Written:
		size = fmt.Sprintf("up to %s or %s more, whichever is more", limit.Value.Minutes, limit.Value.Share)
	}
	day, before := p.Block.Start.Add(d), p.Block.Start.Add(at)
	longer, weeks := longerOf(p, day), slices.Compact([]int{p.Block.WeekOn(day).Number, p.Block.WeekOn(day.Add(1)).Number})
	first, second := day.Weekday().String(), day.Add(1).Weekday()
	if len(weeks) > 1 {
		first += fmt.Sprintf(" of week %d", weeks[0])
	}
	return finding{
		weeks: weeks, severity: level(limit, false), own: limit.Written, subject: longer.at,
		summary: fmt.Sprintf("%s and %s of week %d hold %s more than any two days in a row before", first, second, weeks[len(weeks)-1], pair-ref),
		brief:   fmt.Sprintf("%s: %s after %s", plan.WeeksText(weeks), pair, ref),
		detail: fmt.Sprintf("%s in two days; the most before was %s from %s on; %s. At most %s keeps it", pair, ref, onDay(before),
			allowed(limit, "big_weekend", size), floor5(most)),
		related: append(theOther(p, day, longer), theLimit(limit)...),
	}
}

// longerOf is the longest ride of a day and the next; of equal ones the first.
func longerOf(p *prescription.Prescription, day units.Date) (longest ride) {
	for _, r := range rides(p) {
		if (r.Date == day || r.Date == day.Add(1)) && (longest.Session == nil || r.Minutes > longest.Minutes) {
			longest = r
		}
	}
	return longest
}

// theOther points at the ride of the other day.
func theOther(p *prescription.Prescription, day units.Date, longer ride) []diag.Related {
	for _, r := range rides(p) {
		if (r.Date == day || r.Date == day.Add(1)) && r.Date != longer.Date && r.at != longer.at {
			return []diag.Related{{Message: fmt.Sprintf("%s, %s", r, r.Minutes), Range: r.at}}
		}
	}
	return nil
}
