package rules

import (
	"fmt"

	"towpath/internal/physiology"
	"towpath/internal/plan"
	"towpath/internal/prescription"
	"towpath/internal/units"
)

var recoveryDepth = Rule{
	Code:  "recovery-depth",
	Title: "A recovery week takes off too little, or too much",
	Why: "A recovery week that is hardly lighter than the weeks before lets nobody catch up, and one that is all but empty is time off. " +
		"It is compared with the last loading week before it. A week of 0 min is not judged.",
	Mend:       "Write another share in recovery, such as keep = \"60 %\", or the week's own hours.",
	Default:    fmt.Sprintf("Advice where less than %s or more than %s is taken off.", physiology.RecoveryDepth.Value.Low, physiology.RecoveryDepth.Value.High),
	Limit:      "recovery_depth",
	Evidence:   "Common practice, no source for endurance sport; the levels are our own choice. Coaches of strength sports, asked in three rounds, agreed that such weeks are lighter; that is opinion.",
	Sources:    []string{"bell2023"},
	Population: "21-34 coaches of strength and physique sports",
	basis:      "Common practice, no source",
	check:      checkRecoveryDepth,
}

func checkRecoveryDepth(p *prescription.Prescription) (out []finding) {
	limit := p.Block.Limits.RecoveryDepth
	var ref units.Minutes // of the last loading week
	of := ""
	for i, total := range weekTotals(p) {
		w := p.Schedule.Weeks[i].Week
		switch {
		case total == 0:
			continue
		case w.Kind != plan.Recovery:
			ref, of = total, fmt.Sprintf("week %d", w.Number)
			continue
		case ref == 0:
			continue
		}
		// Totals are whole quanta: what rounding takes or leaves is no fault.
		least := floor5(float64(ref) * (1 - float64(limit.Value.High)))
		most := ceil5(float64(ref) * (1 - float64(limit.Value.Low)))
		if total >= least && total <= most {
			continue
		}
		judged := limit.Value.Low
		if total < least {
			judged = limit.Value.High
		}
		off := percent(1-units.Share(total)/units.Share(ref), judged) + " off"
		if total >= ref {
			off = "nothing off"
		}
		out = append(out, finding{
			weeks: []int{w.Number}, severity: level(limit, false), own: limit.Written, subject: w.Range,
			summary: fmt.Sprintf("Recovery week %d takes %s %s", w.Number, off, of),
			brief:   fmt.Sprintf("week %d: %s to %s, %s", w.Number, ref, total, off),
			detail:  fmt.Sprintf("%s to %s; %s. From %s to %s keeps it", ref, total, allowed(limit, "recovery_depth", limit.Value.String()+" off"), least, most),
			related: theLimit(limit),
		})
	}
	return out
}
