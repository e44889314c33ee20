package prescription

import (
	"towpath/internal/physiology"
	"towpath/internal/units"
	"towpath/internal/words"
)

// Words gives the session as the rider reads it, for words.Description and its companions.
func (s *Session) Words() words.Session {
	out := words.Session{
		Minutes: s.Minutes, Name: s.Name, Test: s.Test, Meter: s.Meter, Maximal: s.Maximal,
		Leads: s.Leads, Targets: s.Targets.words(), Steps: stepWords(s.Steps),
		Purpose: s.Why, Feel: s.Feel, IfWrong: s.IfWrong, Stop: s.Stop, Note: s.Note,
		Hot:  physiology.HotAir.Value,
		Food: foodOf(s.Minutes), Place: s.Place, Provisional: s.Provisional, DecidedBy: s.DecidedBy,
	}
	for _, d := range s.Drift {
		out.Drift = append(out.Drift, words.Drift(d))
	}
	if s.LateEffort != nil {
		out.LateEffort, out.LateMinutes = s.LateEffort.Effort, s.LateEffort.Last
	}
	for _, a := range s.Allowed {
		out.Allowed = append(out.Allowed, words.Allowance{Name: a.Name, Duration: a.Duration, Power: a.Power, AllOut: a.AllOut})
	}
	if s.Instead != nil {
		there := s.Instead.Words()
		out.Instead = &there
	}
	return out
}

// Words gives a step as the rider reads it, for words.StepLine.
func (s *Step) Words() words.Step {
	return words.Step{
		Duration: s.Duration, Targets: s.Targets.words(),
		Rising: s.Kind == Ramp && !s.Falling, Falling: s.Kind == Ramp && s.Falling,
		AllOut: s.AllOut, AtMost: s.Over != "" && !s.AllOut, Cadence: s.Cadence, Note: s.Note, Times: s.Times, Steps: stepWords(s.Steps),
	}
}

func stepWords(steps []Step) []words.Step {
	var out []words.Step
	for i := range steps {
		out = append(out, steps[i].Words())
	}
	return out
}

func (t Targets) words() words.Targets {
	out := words.Targets{Power: t.Power, Effort: t.Effort}
	if t.HeartRate != nil {
		high := t.HeartRate.High
		out.HeartRateLow, out.HeartRate = t.HeartRate.Low, &high
	}
	return out
}

func foodOf(ride units.Minutes) words.Food {
	f := words.Food{Optional: ride >= physiology.FoodOptionalFrom.Value, Grams: physiology.CarbohydratePerHour(ride)}
	if ride >= physiology.DrinkFrom.Value {
		f.Drink = physiology.Drink.Value
	}
	return f
}

// allowances gives what a long ride allows late: beats over the cap, and effort in its last part.
func allowances(s *Session) {
	if s.Targets.HeartRate != nil {
		if s.Minutes > physiology.FirstDriftFrom.Value {
			s.Drift = append(s.Drift, Drift{physiology.FirstDriftFrom.Value, int(physiology.FirstDrift.Value)})
		}
		if s.Minutes > physiology.SecondDriftFrom.Value {
			s.Drift = append(s.Drift, Drift{physiology.SecondDriftFrom.Value, int(physiology.SecondDrift.Value)})
		}
	}
	late := int(physiology.LateEffort.Value)
	if e := s.Targets.Effort; e != nil && *e < late && s.Minutes > physiology.LateEffortOver.Value {
		s.LateEffort = &LateEffort{Last: physiology.LateEffortLasts.Value, Effort: late}
	}
}
