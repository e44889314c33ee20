package rules

import (
	"fmt"
	"slices"
	"strings"

	"towpath/internal/physiology"
	"towpath/internal/plan"
	"towpath/internal/prescription"
)

var recoveryGap = Rule{
	Code:  "recovery-gap",
	Title: "Too many loading weeks without a recovery week",
	Why: "A lighter week every few weeks leaves time to catch up with sleep and life, and to see what the loading weeks did. " +
		"Only recovery weeks end a run of loading weeks; a week that holds less because its days are short does not.",
	Mend:       "Make one of the weeks a recovery week: recovery { weeks = [4, 8] } or recovery { every = 4 }.",
	Default:    fmt.Sprintf("Advice above %d loading weeks in a row, warning above %d.", physiology.LoadingWeeksAdvice.Value, physiology.LoadingWeeksWarning.Value),
	Limit:      "loading_weeks",
	Evidence:   "Common practice, no source for endurance sport; the levels are our own choice. Coaches of strength sports, asked in three rounds, agreed on how such weeks are made; that is opinion, and no trial in endurance sport was found.",
	Sources:    []string{"bell2023"},
	Population: "21-34 coaches of strength and physique sports",
	basis:      "Common practice, no source",
	check:      checkRecoveryGap,
}

func checkRecoveryGap(p *prescription.Prescription) (out []finding) {
	limit, run := p.Block.Limits.LoadingWeeks, 0
	weeks := p.Block.Weeks
	for i, w := range weeks {
		if rests(w) {
			run = 0
			continue
		}
		run++
		ends := i+1 == len(weeks) || rests(weeks[i+1])
		if !ends || run <= limit.Value {
			continue
		}
		first := w.Number - run + 1
		var tooMany, lighter []int
		for n := first + limit.Value; n <= w.Number; n++ {
			tooMany = append(tooMany, n)
			if (n-first+1)%(limit.Value+1) == 0 {
				lighter = append(lighter, n)
			}
		}
		repair := plan.WeeksText(lighter) + " a recovery week"
		if len(lighter) > 1 {
			repair = plan.WeeksText(lighter) + " recovery weeks"
		}
		out = append(out, finding{
			weeks: tooMany, severity: level(limit, run > physiology.LoadingWeeksWarning.Value), own: limit.Written, subject: p.Block.Range,
			summary: fmt.Sprintf("Weeks %d to %d are %d loading weeks in a row", first, w.Number, run),
			brief:   fmt.Sprintf("weeks %d to %d: %d in a row", first, w.Number, run),
			detail: fmt.Sprintf("%s. Make %s: recovery { weeks = %s }",
				capital(allowed(limit, "loading_weeks", "up to "+fmt.Sprint(limit.Value))), repair, recoveryWith(weeks, lighter...)),
			related: theLimit(limit),
		})
	}
	return out
}

// rests reports whether a week ends a run of loading weeks: a recovery week, or one off.
func rests(w *plan.Week) bool { return w.Kind == plan.Recovery || w.Asked == 0 }

// recoveryWith writes the list of a block's recovery weeks with some more: "[4, 8]".
func recoveryWith(weeks []*plan.Week, more ...int) string {
	var list []string
	for _, w := range weeks {
		if w.Kind == plan.Recovery || slices.Contains(more, w.Number) {
			list = append(list, fmt.Sprint(w.Number))
		}
	}
	return "[" + strings.Join(list, ", ") + "]"
}
