package rules

import (
	"fmt"

	"towpath/internal/diag"
	"towpath/internal/physiology"
	"towpath/internal/plan"
	"towpath/internal/prescription"
	"towpath/internal/units"
)

var sessionSpike = Rule{
	Code:  "session-spike",
	Title: "A ride is much longer than any of the 30 days before",
	Why: "Weekly hours can look smooth while one ride leaps. Each ride is compared with the longest of the 30 days before it, planned and done: " +
		"longest in the athlete counts for the block's first 30 days. Where it is not known, the rides of the first week are not judged. A test is never a leap, but counts as a ride before.",
	Mend:  "Shorten the ride, or reach its length in two steps. Of a pinned ride change minutes, of the mix the ride's share or at_most.",
	Limit: "session_spike",
	Default: fmt.Sprintf("Advice above the largest of %s more, %s more and %s; warning above the largest of %s more, %s more and %s. A limit of your own is a share or minutes, and nothing beside it is free.",
		physiology.SpikeAdviceShare.Value, physiology.SpikeAdviceMinutes.Value, physiology.SpikeAdviceLeast.Value,
		physiology.SpikeWarningShare.Value, physiology.SpikeWarningMinutes.Value, physiology.SpikeWarningLeast.Value),
	Evidence:   "Weak for riders: one cohort of runners found more complaints after sessions more than 10 % longer in distance than the longest of 30 days, and the rate did not rise evenly with the leap. Minutes in place of distance, and riding in place of running, are our own transfer. The minutes are our own choice.",
	Sources:    []string{"frandsen2025"},
	Population: "5,205 runners, 78 % men",
	basis:      "Weak evidence: one cohort of runners, by distance; the transfer to riding is ours",
	source:     physiology.SpikeAdviceShare.Source,
	check:      checkSessionSpike,
}

func checkSessionSpike(p *prescription.Prescription) (out []finding) {
	all := rides(p)
	begins := p.Block.Start.Add(7 * firstWeek(weekTotals(p)))
	for i, r := range all {
		ref, of := longestBefore(p.Block, begins, all[:i], r)
		if ref == 0 || r.isTest() {
			continue
		}
		if f, ok := leap(p.Block.Limits.SessionSpike, r, ref, of); ok {
			out = append(out, f)
		}
	}
	return out
}

// longestBefore is the longest ride of the days before a ride, and which it was; 0 where it is not
// known. What was ridden before the athlete's first week counts as ridden on its eve.
func longestBefore(b *plan.Block, begins units.Date, earlier []ride, r ride) (longest units.Minutes, of string) {
	days := physiology.SpikeDays.Value
	first := r.Date.Add(-days)
	if first < begins {
		longest, of = b.Athlete.Longest, "before the block"
	}
	if longest == 0 && r.Date < begins.Add(7) {
		return 0, ""
	}
	for _, e := range earlier {
		if e.Date >= first && e.Date < r.Date && e.Minutes >= longest {
			longest, of = e.Minutes, "on "+onDay(e.Date)
		}
	}
	return longest, of
}

// leap judges one ride against the longest before it.
func leap(limit plan.Limit[plan.Increase], r ride, ref units.Minutes, of string) (finding, bool) {
	most, warning := increased(ref, limit.Value), 0.0
	size := "up to " + increaseText(limit.Value)
	if !limit.Written {
		most = max(most, float64(ref+physiology.SpikeAdviceMinutes.Value), float64(physiology.SpikeAdviceLeast.Value))
		warning = max(float64(ref)*(1+float64(physiology.SpikeWarningShare.Value)), float64(ref+physiology.SpikeWarningMinutes.Value), float64(physiology.SpikeWarningLeast.Value))
		size += fmt.Sprintf(" or %s more", physiology.SpikeAdviceMinutes.Value)
	}
	if !above(r.Minutes, most) {
		return finding{}, false
	}
	f := finding{
		weeks: []int{r.Week}, severity: level(limit, above(r.Minutes, warning)), own: limit.Written, subject: r.at,
		summary: fmt.Sprintf("%s is %s longer than any ride of the %d days before", r, r.Minutes-ref, physiology.SpikeDays.Value),
		brief:   fmt.Sprintf("%s: %s after %s", r, r.Minutes, ref),
		detail:  fmt.Sprintf("%s, and the longest was %s %s; %s. At most %s keeps it", r.Minutes, ref, of, allowed(limit, "session_spike", size), floor5(most)),
		related: theLimit(limit),
	}
	if r.Given != nil && r.Given.Written.Filename != "" {
		f.subject, f.fix = r.Given.Written, write(r.Given.Written, floor5(most).String())
	}
	if f.severity == diag.Advice {
		f.detail += fmt.Sprintf("; above %s it is a warning", floor5(warning))
	}
	return f, true
}

// increased is minutes with an increase: a share where there is one, else minutes.
func increased(m units.Minutes, by plan.Increase) float64 {
	if by.Share > 0 {
		return float64(m) * (1 + float64(by.Share))
	}
	return float64(m + by.Minutes)
}

// increaseText prints "10 % more" or "30 min more".
func increaseText(by plan.Increase) string {
	if by.Share > 0 {
		return by.Share.String() + " more"
	}
	return by.Minutes.String() + " more"
}
