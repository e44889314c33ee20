package rules

import (
	"fmt"

	"towpath/internal/diag"
	"towpath/internal/plan"
	"towpath/internal/prescription"
	"towpath/internal/units"
)

var screeningMissing = Rule{
	Code:  "screening-missing",
	Title: "No statement that the rider may ride, or may go to the limit",
	Why: "Whether somebody may ride, and ride to the limit, is for a licensed practitioner to say, not for a plan. " +
		"The plan holds one statement with its date and what it allows, never a reason or a finding. Towpath clears nobody.",
	Mend:     "After the screening write in the athlete: screening { on = \"2026-08-28\"  allows = \"maximal\" }. Without it choose a submaximal test: protocol.lactate_step_submaximal or protocol.talk_test.",
	Default:  "Error for a maximal test on a day without a statement that allows it; warning where there is no statement at all.",
	Evidence: "Consensus of experts: activity so far, known disease, signs and symptoms, and the intensity that is wanted decide whether somebody is sent for clearance. That a maximal test is vigorous, and wants its own line, is our reading. Local rules may ask for more.",
	Sources:  []string{"riebe2015"},
	basis:    "Consensus of experts; local rules may ask for more",
	source:   "riebe2015",
	check:    checkScreening,
}

func checkScreening(p *prescription.Prescription) (out []finding) {
	a := p.Block.Athlete
	for _, r := range rides(p) {
		test := r.protocol()
		if test == nil || !test.Maximal || !isAhead(p, r.Date) {
			continue
		}
		if lacking := lacks(a.Screening, r.Date); lacking != "" {
			f := finding{
				weeks: []int{r.Week}, severity: diag.Error, subject: r.at,
				summary: fmt.Sprintf("%s is maximal, and %s", r, lacking),
				brief:   r.String(),
				detail:  "A maximal test wants the statement of a licensed practitioner that allows it on its day: in the athlete, a block screening with the lines on = \"…\" and allows = \"maximal\". Or choose a submaximal test",
				related: []diag.Related{{Message: "the athlete", Range: a.Range}},
			}
			if a.Screening != nil {
				f.related = []diag.Related{{Message: "the statement", Range: a.Screening.Range}}
			}
			out = append(out, f)
		}
	}
	if a.Screening == nil && out == nil {
		out = append(out, finding{
			severity: diag.Warning, subject: a.Range,
			summary: fmt.Sprintf("Athlete %q has no screening statement", a.Key),
			detail:  "Write when somebody licensed has looked at the rider, and what they allow, never why: in the athlete, a block screening with the lines on = \"…\" and allows = \"easy riding only\"",
		})
	}
	return out
}

// isAhead reports whether a date is not past.
func isAhead(p *prescription.Prescription, d units.Date) bool { return p.AsOf.IsZero() || d >= p.AsOf }

// lacks says what a statement lacks for a maximal test on a date; "" where it lacks nothing.
func lacks(s *plan.Screening, d units.Date) string {
	switch {
	case s == nil:
		return "the athlete has no screening statement"
	case s.Allows != "maximal":
		return fmt.Sprintf("the screening statement allows %q", s.Allows)
	case d < s.On:
		return fmt.Sprintf("the screening statement is of a later day, %s", s.On)
	case !s.Until.IsZero() && d > s.Until:
		return fmt.Sprintf("the screening statement ended on %s", s.Until)
	}
	return ""
}
