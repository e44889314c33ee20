package rules

import (
	"fmt"

	"towpath/internal/plan"
	"towpath/internal/prescription"
	"towpath/internal/units"
)

var twoDays = Rule{
	Code:  "two-days",
	Title: "Two days in a row hold most of their week",
	Why: "When days are lost, the minutes of a week gather on what is left of it. The total still looks smooth then, and so do the longest ride and monotony. " +
		"The share that the two largest neighbouring riding days take shows it.",
	Mend:     "Move one of the two rides, shorten it, or let the week hold less.",
	Limit:    "two_days",
	Default:  "Off: a rider with a free weekend and little else has no other choice. A share of your own holds in every week. Both days lie in the same week, for a share is of one week; across the end of a week big-weekend looks.",
	Evidence: "Common practice, no source.",
	check:    checkTwoDays,
}

func checkTwoDays(p *prescription.Prescription) (out []finding) {
	limit := p.Block.Limits.TwoDays
	if !limit.Written {
		return nil
	}
	days := dayTotals(p)
	for i, total := range weekTotals(p) {
		most, at := units.Minutes(0), 0
		for d := 7 * i; d < 7*i+6; d++ {
			if pair := days[d] + days[d+1]; days[d] > 0 && days[d+1] > 0 && pair > most {
				most, at = pair, d
			}
		}
		if above(most, float64(total)*float64(limit.Value)) {
			out = append(out, crowded(p, limit, at, most, total))
		}
	}
	return out
}

// crowded says what is to be said of the pair that begins on day d of the block.
func crowded(p *prescription.Prescription, limit plan.Limit[units.Share], d int, pair, total units.Minutes) finding {
	day := p.Block.Start.Add(d)
	week := p.Block.WeekOn(day).Number
	longer, share := longerOf(p, day), percent(units.Share(pair)/units.Share(total), limit.Value)
	return finding{
		weeks: []int{week}, severity: level(limit, true), own: true, subject: longer.at,
		summary: fmt.Sprintf("%s and %s of week %d hold %s of the week", day.Weekday(), day.Add(1).Weekday(), week, share),
		brief:   fmt.Sprintf("week %d: %s of %s, %s", week, pair, total, share),
		detail: fmt.Sprintf("%s of %s; %s. Of the same week at most %s keeps it", pair, total,
			allowed(limit, "two_days", "up to "+limit.Value.String()), floor5(float64(total)*float64(limit.Value))),
		related: append(theOther(p, day, longer), theLimit(limit)...),
	}
}
