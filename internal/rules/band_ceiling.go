package rules

import (
	"fmt"
	"math"
	"slices"

	"towpath/internal/diag"
	"towpath/internal/plan"
	"towpath/internal/prescription"
	"towpath/internal/units"
)

var bandCeiling = Rule{
	Code:  "band-ceiling",
	Title: "A target lies above the band",
	Why: "A low-intensity block is what its ceiling makes of it. Nothing but a test, or what the coach allows in the band, rises above it; " +
		"a step that is written as a share of the threshold can, because the ceiling lies below the threshold by a part of its error.",
	Mend: "Write the step as a position in the band, position = \"67-100 %\", or a smaller share of the threshold. " +
		"Where it is meant, allow it in the band, over = \"climbs: 3 min, 115 %\": then steps up to that time and those watts are accepted.",
	Default:  "Error; it cannot be waived.",
	Evidence: "By definition of the band.",
	check:    checkBandCeiling,
}

func checkBandCeiling(p *prescription.Prescription) (out []finding) {
	for i := range p.Sessions {
		s := &p.Sessions[i]
		if s.Test || s.Band == nil || s.Band.Power.High <= 0 {
			continue
		}
		out = append(out, aboveCeiling(s, s.Steps)...)
		if s.Instead != nil && s.Instead.Band != nil && s.Instead.Band != s.Band {
			out = append(out, aboveCeiling(s.Instead, s.Instead.Steps)...)
		}
	}
	return out
}

// aboveCeiling finds the steps of a session with watts above its band, repeats included.
func aboveCeiling(s *prescription.Session, steps []prescription.Step) (out []finding) {
	for i := range steps {
		step := &steps[i]
		if step.Kind == prescription.Rounds {
			out = append(out, aboveCeiling(s, step.Steps)...)
			continue
		}
		w, ceiling := step.Targets.Power, float64(s.Band.Power.High)
		if w == nil || float64(w.High) <= ceiling+slack || covered(s.Band, step) {
			continue
		}
		out = append(out, finding{
			weeks: []int{s.Week}, severity: diag.Error, subject: step.Origin.Range,
			summary: fmt.Sprintf("Step %q of %s asks for %s, above the ceiling of %s", step.Name, s.Name, units.Power(w.High), wholeWatts(ceiling)),
			brief:   fmt.Sprintf("%s, week %d: %s", onDay(s.Date), s.Week, units.Power(w.High)),
			detail:  fmt.Sprintf("Band %q ends at %s. %s", s.Band.Key, wholeWatts(ceiling), lower(s.Band)),
			related: []diag.Related{{Message: fmt.Sprintf("band %q", s.Band.Key), Range: s.Band.Range}},
		})
	}
	return out
}

// covered reports whether an allowance of the band covers a step: as short, and as few watts.
func covered(b *plan.Band, step *prescription.Step) bool {
	return slices.ContainsFunc(b.Allowances, func(a plan.Allowance) bool {
		return step.Duration <= a.Duration && (a.AllOut || float64(step.Targets.Power.High) <= float64(a.Power)+slack)
	})
}

// lower says what keeps a step inside the band.
func lower(b *plan.Band) string {
	inside := "Write it as a position in the band, position = \"67-100 %\""
	if b.Threshold <= 0 {
		return inside
	}
	const whole = 100
	share := units.Share(math.Floor(float64(b.Power.High/b.Threshold)*whole+slack)) / whole
	return fmt.Sprintf("%s, or as at most %s of the threshold, of_threshold = \"%s\"", inside, share, share)
}

// wholeWatts prints a power as a rider can use it, rounded down.
func wholeWatts(p float64) string { return units.Power(math.Floor(p + slack)).String() }
