package prescription

import (
	"slices"

	"towpath/internal/diag"
	"towpath/internal/units"
)

// together gives the targets of those work steps together that count: from the lowest to the
// highest power and heart rate, and the highest cap.
func together(steps []Step, at diag.Range, counts func(*Step) bool) (t Targets) {
	var powers, beats, efforts origins
	eachWork(steps, func(s *Step) {
		of := s.Targets
		if !counts(s) {
			return
		}
		powers.add(of.PowerOrigin)
		beats.add(of.HeartRateOrigin)
		efforts.add(of.EffortOrigin)
		if of.Power != nil {
			w := *of.Power
			if t.Power != nil {
				w = units.Range[int]{Low: min(w.Low, t.Power.Low), High: max(w.High, t.Power.High)}
			}
			t.Power = &w
		}
		if of.HeartRate != nil {
			b := *of.HeartRate
			if t.HeartRate != nil {
				b.High = max(b.High, t.HeartRate.High)
				if b.Low == nil || t.HeartRate.Low != nil && *t.HeartRate.Low < *b.Low {
					b.Low = t.HeartRate.Low
				}
			}
			t.HeartRate = &b
		}
		if of.Effort != nil {
			n := *of.Effort
			if t.Effort != nil {
				n = max(n, *t.Effort)
			}
			t.Effort = &n
		}
	})
	t.PowerOrigin, t.HeartRateOrigin, t.EffortOrigin = powers.together(at), beats.together(at), efforts.together(at)
	return t
}

// eachWork calls f for each step of work, also inside repeats.
func eachWork(steps []Step, f func(*Step)) {
	for i := range steps {
		switch s := &steps[i]; {
		case s.Kind == Rounds:
			eachWork(s.Steps, f)
		case s.Role == Work:
			f(s)
		}
	}
}

// origins gathers the origins of several steps, each once.
type origins []diag.Origin

func (o *origins) add(of *diag.Origin) {
	if of != nil && !slices.ContainsFunc(*o, func(have diag.Origin) bool { return have.What == of.What && have.Range == of.Range }) {
		*o = append(*o, *of)
	}
}

func (o origins) together(at diag.Range) *diag.Origin {
	switch len(o) {
	case 0:
		return nil
	case 1:
		return &o[0]
	}
	return &diag.Origin{What: "the work steps together, from the lowest to the highest", Range: at, From: o}
}
