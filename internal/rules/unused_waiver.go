package rules

import (
	"fmt"
	"slices"

	"towpath/internal/diag"
	"towpath/internal/plan"
	"towpath/internal/spec"
)

var unusedWaiver = Rule{
	Code:  "unused-waiver",
	Title: "A waiver accepts nothing",
	Why: "A waiver that stays behind after its finding has gone would hide the next one, which may be another matter. " +
		"A code with a slip in it accepts nothing either.",
	Mend:     "Take the waiver out, or write the code and the weeks of the finding that it is for.",
	Default:  "Warning.",
	Evidence: "No matter of science.",
}

// unusedWaivers finds the waivers of a block that accept nothing; found is all that was found.
func unusedWaivers(b *plan.Block, w *waivers, found diag.List) (out []finding) {
	for _, v := range b.Waivers {
		if w.used[v] {
			continue
		}
		f := finding{weeks: v.Weeks, severity: diag.Warning, subject: v.Range}
		r, known := Find(v.Code)
		same := func(d diag.Diagnostic) bool { return d.Code == v.Code }
		isError := func(d diag.Diagnostic) bool { return same(d) && d.Severity == diag.Error }
		switch {
		case v.Code == unusedWaiver.Code:
			f.summary = fmt.Sprintf("Waiver %q accepts nothing", v.Code)
			f.detail = "A waiver that is not used cannot be waived: take it out"
		case !known:
			f.summary = fmt.Sprintf("There is no rule %q to waive", v.Code)
			f.detail = "`towpath rules` lists the codes"
			if near := spec.Nearest(v.Code, Codes()); near != "" {
				f.detail = fmt.Sprintf("The nearest is %q. ", near) + f.detail
			}
		case slices.ContainsFunc(found, isError):
			f.summary = fmt.Sprintf("Waiver %q is for an error, and an error cannot be waived", v.Code)
			f.detail = "Change what the error points at; then take the waiver out"
			if r.Limit != "" {
				f.detail = "Change what the error points at, or the limit that you wrote, and take the waiver out. With limits { when_broken = \"warn\" } it is a warning, which can be waived"
			}
		case slices.ContainsFunc(found, same) && v.Weeks == nil:
			f.summary = fmt.Sprintf("Waiver %q accepts nothing", v.Code)
			f.detail = "Another waiver accepts the finding already. Take one of them out"
		case slices.ContainsFunc(found, same):
			f.summary = fmt.Sprintf("Waiver %q accepts nothing in its weeks", v.Code)
			f.detail = fmt.Sprintf("It is for %s, and the finding is %s. Write those weeks, or leave weeks out for all", plan.WeeksText(v.Weeks), foundIn(found, same))
		default:
			f.summary = fmt.Sprintf("Waiver %q accepts nothing", v.Code)
			f.detail = "The block has no such finding. Take the waiver out"
		}
		out = append(out, f)
	}
	return out
}

// UsedBySome takes out, of what was found with several athletes, the waivers that accept nothing of
// one but something of another, and those that are also for somebody of whom nothing was found out.
func UsedBySome(parts []diag.Part, alsoFor func(diag.Range) bool) {
	used := map[diag.Range]bool{}
	for _, p := range parts {
		for _, d := range p.List {
			if d.Waived != nil {
				used[d.Waived.Range] = true
			}
		}
	}
	for i, p := range parts {
		parts[i].List = slices.DeleteFunc(p.List, func(d diag.Diagnostic) bool {
			return d.Code == unusedWaiver.Code && (used[d.Subject] || alsoFor(d.Subject))
		})
	}
}

// foundIn tells in which weeks findings lie.
func foundIn(found diag.List, same func(diag.Diagnostic) bool) string {
	var weeks []int
	for _, d := range found {
		if same(d) {
			weeks = append(weeks, d.Weeks...)
		}
	}
	if len(weeks) == 0 {
		return "about the whole block"
	}
	slices.Sort(weeks)
	return "in " + plan.WeeksText(slices.Compact(weeks))
}
