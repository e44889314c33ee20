package rules

import (
	"fmt"
	"slices"

	"towpath/internal/physiology"
	"towpath/internal/plan"
	"towpath/internal/prescription"
)

var runLength = Rule{
	Code:  "run-length",
	Title: "Too many riding days in a row",
	Why: "Days in a row add up across the end of a week, where no weekly figure shows them. Placement keeps the limit; " +
		"a finding comes only where tests and rides with a given day break it.",
	Mend: "Move or leave out one of the fixed or pinned rides or tests in the middle of the run.",
	Default: fmt.Sprintf("Advice above %s, warning above %s. Where fixed rides alone fill as many days of a week, such as the way to work, all days but the rest days may be in a row. A run that holds a whole week is left to rest-day.",
		count(physiology.RidingDaysInARow.Value, "day", "days"), count(physiology.RidingDaysWarning.Value, "day", "days")),
	Limit:    "riding_days_in_a_row",
	Evidence: "Common practice, no source.",
	basis:    "Common practice, no source",
	check:    checkRunLength,
}

func checkRunLength(p *prescription.Prescription) (out []finding) {
	var run []ride
	for _, r := range ridingDays(p) {
		if n := len(run); n > 0 && r.Date != run[n-1].Date.Add(1) {
			out = append(out, tooLong(p, run)...)
			run = nil
		}
		run = append(run, r)
	}
	return append(out, tooLong(p, run)...)
}

// tooLong judges one run of riding days.
func tooLong(p *prescription.Prescription, run []ride) []finding {
	limit := p.Block.Limits.RidingDaysInARow
	if len(run) <= limit.Value || !limit.Written && fillsAWeek(p, run) {
		return nil
	}
	blamed := run[limit.Value] // the first day that is one too many, or the last given one
	for _, r := range run {
		if r.Given != nil {
			blamed = r
		}
	}
	var others []ride
	var weeks []int
	for _, r := range run {
		if r.Given != nil && r.Date != blamed.Date {
			others = append(others, r)
		}
		if n := len(weeks); n == 0 || weeks[n-1] != r.Week {
			weeks = append(weeks, r.Week)
		}
	}
	first, last := run[0].Date, run[len(run)-1].Date
	return []finding{{
		weeks: weeks, severity: level(limit, len(run) > physiology.RidingDaysWarning.Value), own: limit.Written, subject: blamed.at,
		summary: fmt.Sprintf("%d riding days in a row, from %s to %s", len(run), onDay(first), onDay(last)),
		brief:   fmt.Sprintf("%d days from %s to %s", len(run), onDay(first), onDay(last)),
		detail:  capital(allowed(limit, "riding_days_in_a_row", "up to "+count(limit.Value, "day", "days"))) + ". A free day in between keeps it",
		related: append(pointers(others, blamed.at), theLimit(limit)...),
	}}
}

// fillsAWeek reports whether a run holds all days of a week, of which rest-day speaks: one cause, one
// message.
func fillsAWeek(p *prescription.Prescription, run []ride) bool {
	first, last := run[0].Date, run[len(run)-1].Date
	return p.Block.Limits.RestDays.Value > 0 && slices.ContainsFunc(p.Block.Weeks, func(w *plan.Week) bool {
		return first <= w.Start && w.Start.Add(6) <= last
	})
}
