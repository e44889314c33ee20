package rules

import (
	"fmt"

	"towpath/internal/diag"
	"towpath/internal/physiology"
	"towpath/internal/plan"
	"towpath/internal/prescription"
	"towpath/internal/units"
)

var narrowTarget = Rule{
	Code:  "narrow-target",
	Title: "A typed range is too narrow to be ridden",
	Why: "A rider on a road moves by more than a few watts or beats from minute to minute, and a range that cannot be held teaches to ignore ranges. " +
		"Only ranges that a coach typed are judged, and only of the number that leads; targets made from positions in the band are widened as they are made.",
	Mend:     "Lower the lower end. The floor is where work begins to count, not a limit.",
	Default:  fmt.Sprintf("Warning under %s of the upper end or under %s, and under %s.", physiology.NarrowPowerShare.Value, physiology.NarrowPower.Value, physiology.NarrowHeartRate.Value),
	Evidence: "Common practice, no source.",
	basis:    "Common practice, no source",
	check:    checkNarrowTarget,
}

func checkNarrowTarget(p *prescription.Prescription) (out []finding) {
	for _, b := range p.Block.Bands {
		switch {
		case b.Leads == "power" && b.TypedPower.Filename != "":
			for _, f := range narrowWatts(fmt.Sprintf("Band %q", b.Key), b.Power, b.TypedPower) {
				f.fix = write(f.subject, wideWatts(b.Power).String())
				out = append(out, f)
			}
		case b.Leads == "heart_rate" && b.TypedHeartRate.Filename != "" && b.HeartRate != nil:
			out = append(out, narrowBeats(b)...)
		}
	}
	for _, r := range rides(p) {
		if test := r.protocol(); test != nil {
			for _, f := range narrowSteps(test, test.Steps) {
				f.weeks, f.brief = []int{r.Week}, r.String()
				out = append(out, f)
			}
		}
	}
	return out
}

// narrowSteps judges the watts that a protocol gives as a range.
func narrowSteps(s *plan.Session, steps []plan.Step) (out []finding) {
	for _, step := range steps {
		switch {
		case step.Repeat != nil:
			out = append(out, narrowSteps(s, step.Repeat.Steps)...)
		case step.Target == plan.Watts && !step.Rising && !step.Falling && step.Power.Low < step.Power.High:
			out = append(out, narrowWatts(fmt.Sprintf("Step %q of %s", step.Name, s.Title), step.Power, step.Range)...)
		}
	}
	return out
}

func narrowWatts(what string, r units.Range[units.Power], at diag.Range) []finding {
	least, width := leastWatts(r), r.High-r.Low
	if width >= least-slack {
		return nil
	}
	return []finding{{
		severity: diag.Warning, subject: at,
		summary: fmt.Sprintf("%s is %s wide: %s", what, width, r),
		detail: fmt.Sprintf("At least %s and %s of the upper end can be ridden, here %s. Write %s or wider",
			physiology.NarrowPower.Value, physiology.NarrowPowerShare.Value, tenths(least), wideWatts(r)),
	}}
}

// leastWatts is how wide a range must be: the larger of both measures.
func leastWatts(r units.Range[units.Power]) units.Power {
	return max(physiology.NarrowPower.Value, units.Power(float64(physiology.NarrowPowerShare.Value)*float64(r.High)))
}

// wideWatts is the range with a lower end that makes it wide enough, in whole watts.
func wideWatts(r units.Range[units.Power]) units.Range[units.Power] {
	low := units.Power(int(r.High - leastWatts(r) + slack))
	return units.Range[units.Power]{Low: max(0, low), High: r.High}
}

func narrowBeats(b *plan.Band) []finding {
	r, least := *b.HeartRate, physiology.NarrowHeartRate.Value
	width := r.High - r.Low
	if width >= least-slack {
		return nil
	}
	wide := units.Range[units.HeartRate]{Low: r.High - least, High: r.High}
	return []finding{{
		severity: diag.Warning, subject: b.TypedHeartRate,
		summary: fmt.Sprintf("Band %q is %s wide: %s", b.Key, width, r),
		detail:  fmt.Sprintf("At least %s can be held. Write %s or wider", least, wide),
		fix:     write(b.TypedHeartRate, wide.String()),
	}}
}
