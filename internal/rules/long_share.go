package rules

import (
	"fmt"

	"towpath/internal/physiology"
	"towpath/internal/prescription"
	"towpath/internal/units"
)

var longShare = Rule{
	Code:  "long-share",
	Title: "One ride takes a large part of its week",
	Why: "A week that hangs on one ride is lost when that ride is, and the days around it hold little. Tests are not counted as the long ride, " +
		"but their minutes are part of the week.",
	Mend: "Give the long ride a smaller share, or the other days more minutes.",
	Default: fmt.Sprintf("Advice above %s, warning above %s, in weeks of %d rides and more: with fewer, one of them is long by arithmetic. A limit of your own holds in every week in which it can be kept at all.",
		physiology.LongShareAdvice.Value, physiology.LongShareWarning.Value, physiology.LongShareRides.Value),
	Limit:    "long_share",
	Evidence: "Common practice, no source; the levels are our own choice.",
	basis:    "Common practice, no source",
	check:    checkLongShare,
}

func checkLongShare(p *prescription.Prescription) (out []finding) {
	limit := p.Block.Limits.LongShare
	totals, byWeek := weekTotals(p), map[int][]ride{}
	for _, r := range rides(p) {
		byWeek[r.Week] = append(byWeek[r.Week], r)
	}
	for i, w := range p.Schedule.Weeks {
		longest, ok := longestOf(byWeek[w.Number])
		n := len(byWeek[w.Number])
		if !ok || !limit.Written && n < physiology.LongShareRides.Value || limit.Written && float64(n)*float64(limit.Value) <= 1+slack {
			continue
		}
		share := units.Share(longest.Minutes) / units.Share(totals[i])
		if share <= limit.Value+slack {
			continue
		}
		judged, second := limit.Value, !limit.Written && share > physiology.LongShareWarning.Value+slack
		if second {
			judged = physiology.LongShareWarning.Value
		}
		most := floor5(float64(totals[i]) * float64(limit.Value))
		out = append(out, finding{
			weeks: []int{w.Number}, severity: level(limit, second), own: limit.Written, subject: longest.at,
			summary: fmt.Sprintf("%s takes %s of its week", longest, percent(share, judged)),
			brief:   fmt.Sprintf("week %d: %s of %s, %s", w.Number, longest.Minutes, totals[i], percent(share, judged)),
			detail: fmt.Sprintf("%s of %s; %s. Of the same week at most %s keeps it", longest.Minutes, totals[i],
				allowed(limit, "long_share", "up to "+limit.Value.String()), most),
			related: theLimit(limit),
		})
	}
	return out
}

// longestOf is the longest ride that is no test; of equal ones the first.
func longestOf(all []ride) (longest ride, ok bool) {
	for _, r := range all {
		if !r.isTest() && (!ok || r.Minutes > longest.Minutes) {
			longest, ok = r, true
		}
	}
	return longest, ok
}
