package rules

import (
	"fmt"

	"towpath/internal/diag"
	"towpath/internal/plan"
	"towpath/internal/prescription"
)

var retestLoaded = Rule{
	Code:  "retest-loaded",
	Title: "A maximal test stands in a loading week",
	Why: "A test shows what a block did only when the rider comes to it rested, as to the test before. " +
		"In a loading week it measures the week. A test in the block's first week is not judged: no loading week comes before it.",
	Mend:     "Make the test's week a recovery week, or move the test into one.",
	Default:  "Warning.",
	Evidence: "Common practice, no source.",
	basis:    "Common practice, no source",
	check:    checkRetestLoaded,
}

func checkRetestLoaded(p *prescription.Prescription) (out []finding) {
	for i, w := range p.Schedule.Weeks {
		if i == 0 || w.Kind == plan.Recovery {
			continue
		}
		for k := range w.Sessions {
			r := newRide(&w.Sessions[k])
			if test := r.protocol(); test == nil || !test.Maximal {
				continue
			}
			out = append(out, finding{
				weeks: []int{w.Number}, severity: diag.Warning, subject: r.at,
				summary: fmt.Sprintf("%s is in a loading week", r),
				brief:   r.String(),
				detail:  fmt.Sprintf("The week asks for %s. Make week %d a recovery week, recovery { weeks = %s }, or move the test into one%s", w.Asked, w.Number, recoveryWith(p.Block.Weeks, w.Number), nearestRecovery(p, w.Number)),
			})
		}
	}
	return out
}

// nearestRecovery names the recovery week that is nearest to week n, the later of two.
func nearestRecovery(p *prescription.Prescription, n int) string {
	best, distance := 0, len(p.Schedule.Weeks)
	for _, w := range p.Schedule.Weeks {
		d := max(w.Number-n, n-w.Number)
		if w.Kind == plan.Recovery && d <= distance {
			best, distance = w.Number, d
		}
	}
	if best == 0 {
		return ""
	}
	return fmt.Sprintf(": week %d is the nearest", best)
}
