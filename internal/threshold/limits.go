package threshold

import (
	"fmt"

	"towpath/internal/diag"
	"towpath/internal/physiology"
	"towpath/internal/units"
)

// checkValues refuses what no stage can hold and questions what it hardly can. The lactate of the
// stages leftOut, by their index among the exercise stages, is not questioned: that it is left out
// was said.
func checkValues(t StepTest, leftOut map[int]bool) (found diag.List) {
	number := 0
	for i := range t.Stages {
		s := &t.Stages[i]
		name := "Rest"
		if s.Power != 0 || number > 0 {
			number++
			name = fmt.Sprintf("Stage %d", number)
		}
		found.Add(checkPower(s, name)...)
		found.Add(checkDuration(s, name)...)
		found.Add(checkHeartRate(s, name)...)
		if !leftOut[number-1] {
			found.Add(checkLactate(s, name, number)...)
		}
		found.Add(checkEffort(s, name)...)
	}
	return found.OncePerCause()
}

// place is where a value stands, or its stage where that is not known.
func (s *Stage) place(value diag.Range) diag.Range {
	if value == (diag.Range{}) {
		return s.Where
	}
	return value
}

func within[T ~float64 | ~int](r units.Range[T], v T) bool { return v >= r.Low && v <= r.High }

func refused(at diag.Range, name, what, detail string) diag.List {
	return diag.List{problem("test-value", at, fmt.Sprintf("%s: %s is not possible in a step test", name, what), detail)}
}

func questioned(at diag.Range, name, what, detail string) diag.List {
	return diag.List{remark("test-value-unusual", at, fmt.Sprintf("%s: %s is unusual in a step test", name, what), detail)}
}

func remark(code string, at diag.Range, summary, detail string) diag.Diagnostic {
	return diag.Diagnostic{Code: code, Severity: diag.Warning, Subject: at, Summary: summary, Detail: detail}
}

func checkPower(s *Stage, name string) diag.List {
	possible, usual := physiology.StagePowerPossible.Value, physiology.StagePowerUsual.Value
	at, what := s.place(s.Places.Power), "power "+s.Power.String()
	switch {
	case !within(possible, s.Power):
		detail := "Read are " + possible.String() + "."
		if tenth := s.Power / 10; within(usual, tenth) {
			detail += fmt.Sprintf(" A typing error for %s?", tenth)
		}
		return refused(at, name, what, detail)
	case s.Power > 0 && !within(usual, s.Power):
		return questioned(at, name, what, "Usual are "+usual.String()+"; it is used as it stands.")
	}
	return nil
}

func checkDuration(s *Stage, name string) diag.List {
	possible := physiology.StageDurationPossible.Value
	at, what := s.place(s.Places.Duration), fmt.Sprintf("a duration of %d s", s.Duration)
	if s.Duration == 0 || within(possible, s.Duration) {
		return nil
	}
	detail := fmt.Sprintf("Read are %d to %d s.", possible.Low, possible.High)
	if s.Duration > 0 && s.Duration < possible.Low {
		detail += fmt.Sprintf(" Minutes? %d min are %d s.", s.Duration, 60*s.Duration)
	}
	return refused(at, name, what, detail)
}

func checkHeartRate(s *Stage, name string) diag.List {
	if s.HeartRate == nil {
		return nil
	}
	possible, usual := physiology.HeartRatePossible.Value, physiology.HeartRateUsual.Value
	h := *s.HeartRate
	at, what := s.place(s.Places.HeartRate), "heart rate "+h.String()
	switch {
	case !within(possible, h):
		return refused(at, name, what, fmt.Sprintf("Read are %s. Leave it out if it was not measured.", possible))
	case s.Power > 0 && !within(usual, h):
		return questioned(at, name, what, fmt.Sprintf("In exercise %s are usual. A strap that lost contact? Then leave it out.", usual))
	}
	return nil
}

func checkLactate(s *Stage, name string, number int) diag.List {
	if s.Lactate == nil {
		return nil
	}
	possible, usual := physiology.LactatePossible.Value, physiology.LactateUsual.Value
	l := *s.Lactate
	at, what := s.place(s.Places.Lactate), "lactate "+l.String()
	otherUnit := ""
	if converted := l / units.Lactate(physiology.LactateMgPerDl.Value); within(usual, converted) {
		otherUnit = fmt.Sprintf(" In mg/dL? %.4g mg/dL are %.1f mmol/L.", float64(l), float64(converted))
	}
	switch {
	case l > possible.High:
		return refused(at, name, what, fmt.Sprintf("Read are %s.%s", possible, otherUnit))
	case !within(possible, l):
		return refused(at, name, what, fmt.Sprintf("Read are %s. Leave it out if it was not measured.", possible))
	case s.Power > 0 && !within(usual, l):
		return questioned(at, name, what, fmt.Sprintf("In exercise %s are usual; it is used as it stands.", usual))
	case number == 1 && l > physiology.FirstStageLactateUsual.Value:
		return questioned(at, name, what, fmt.Sprintf("A first stage that is easy stays below %s. Too hard a start, or a test after hard days?%s", physiology.FirstStageLactateUsual.Value, otherUnit))
	}
	return nil
}

func checkEffort(s *Stage, name string) diag.List {
	if s.Effort == nil {
		return nil
	}
	scale := physiology.EffortScale.Value
	e := *s.Effort
	if within(scale, e) {
		return nil
	}
	detail := "Effort is rated from 6 to 20. Leave it out if it was not asked."
	if e >= 0 && e < scale.Low {
		detail = fmt.Sprintf("Effort is rated from 6 to 20; %s looks like a scale from 0 to 10, which cannot be converted. Leave it out.", e)
	}
	return refused(s.place(s.Places.Effort), name, "effort "+e.String(), detail)
}
