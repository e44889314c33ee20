// Package rules is the rule book: what a coach would want to look at again in a finished
// prescription. A prescription goes in, findings come out; nothing is changed. A finding says how
// the plan stands to a limit, the coach's or a default; it foretells nothing about a rider.
//
// Each rule is a file of its own: what it is about as data, a function that looks, and two plans
// under examples that show it and are its tests.
package rules

import (
	"slices"

	"towpath/internal/diag"
	"towpath/internal/prescription"
)

// Rule is one rule with its documentation.
type Rule struct {
	Code  string
	Title string
	// Why says what a coach is afraid of, Mend what to do about a finding, Default what holds where
	// the coach writes no limit.
	Why, Mend, Default string
	Limit              string   // its name in limits { }; "" where it has none
	Evidence           string   // what stands behind the default, and how weak it is
	Sources            []string // keys in physiology.Sources; none: common practice, no source
	Population         string   // in whom the evidence was found; "" where there is none
	basis              string   // the evidence in half a sentence, for the end of a finding
	source             string   // the key of the number that a finding compares with; "" for a convention
	check              func(*prescription.Prescription) []finding
}

// All is the rule book, in the order of the work: hours, rides, days, tests, targets, waivers.
var All = []Rule{
	weeklyGrowth,
	startVolume,
	sessionSpike,
	longShare,
	bigWeekend,
	twoDays,
	longDaysApart,
	restDay,
	runLength,
	recoveryGap,
	recoveryDepth,
	retestLoaded,
	restBeforeTest,
	bandCeiling,
	metersDiffer,
	bandJump,
	durabilityCap,
	eventFar,
	screeningMissing,
	narrowTarget,
	unusedWaiver,
}

// Find is the rule with a code; ok is false where there is none.
func Find(code string) (r Rule, ok bool) {
	i := slices.IndexFunc(All, func(r Rule) bool { return r.Code == code })
	if i < 0 {
		return Rule{}, false
	}
	return All[i], true
}

// Codes lists the codes of the rule book, in its order.
func Codes() []string {
	out := make([]string, len(All))
	for i, r := range All {
		out[i] = r.Code
	}
	return out
}

// Check runs every rule on one athlete's block. Findings that the coach waived are among them, with
// Waived set; an error is never waived. One finding stands for all of one cause.
func Check(p *prescription.Prescription) diag.List {
	if p == nil || p.Block == nil || p.Block.Athlete == nil || p.Schedule == nil {
		return nil
	}
	var out diag.List
	w := newWaivers(p.Block)
	for _, r := range All {
		if r.check != nil {
			out.Add(r.merged(r.check(p), p.Block, w)...)
		}
	}
	out.Add(unusedWaiver.merged(unusedWaivers(p.Block, w, out), p.Block, newWaivers(nil))...)
	return out.Sorted()
}
