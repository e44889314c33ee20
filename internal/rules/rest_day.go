package rules

import (
	"fmt"

	"towpath/internal/diag"
	"towpath/internal/physiology"
	"towpath/internal/prescription"
)

var restDay = Rule{
	Code:  "rest-day",
	Title: "A week has too few days without riding",
	Why: "A day without riding each week leaves room for life and for what went wrong. Placement keeps it; " +
		"a finding comes only where tests and rides with a given day leave no room for it.",
	Mend:     "Take one of the fixed or pinned rides or tests of that week off its day.",
	Default:  fmt.Sprintf("At least %s a week; fewer is a warning.", count(physiology.RestDays.Value, "day", "days")),
	Limit:    "rest_days",
	Evidence: "Common practice, no source.",
	basis:    "Common practice, no source",
	check:    checkRestDay,
}

func checkRestDay(p *prescription.Prescription) (out []finding) {
	limit, riding := p.Block.Limits.RestDays, ridingDays(p)
	for _, w := range p.Schedule.Weeks {
		rest := 7
		var given []ride
		for _, r := range riding {
			if r.Week != w.Number {
				continue
			}
			rest--
			if r.Given != nil {
				given = append(given, r)
			}
		}
		if rest >= limit.Value {
			continue
		}
		f := finding{
			weeks: []int{w.Number}, severity: level(limit, true), own: limit.Written, subject: w.Range,
			summary: fmt.Sprintf("Week %d has %s without riding", w.Number, count(rest, "day", "days")),
			brief:   fmt.Sprintf("week %d: %s", w.Number, count(rest, "day", "days")),
			detail: fmt.Sprintf("%s. To keep it, free %s of a test or a ride with a given day",
				capital(allowed(limit, "rest_days", "at least "+count(limit.Value, "day", "days"))), count(limit.Value-rest, "day", "days")),
			related: theLimit(limit),
		}
		if n := len(given); n > 0 {
			f.subject = given[n-1].at
			f.related = append(pointers(given[:n-1], f.subject), f.related...)
		}
		out = append(out, f)
	}
	return out
}

// pointers points at rides, each text once, and not at one that is the subject already.
func pointers(all []ride, subject diag.Range) (out []diag.Related) {
	seen := map[diag.Range]bool{subject: true}
	for _, r := range all {
		if !seen[r.at] {
			out = append(out, diag.Related{Message: r.String(), Range: r.at})
		}
		seen[r.at] = true
	}
	return out
}
