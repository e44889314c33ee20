package plan

import (
	"towpath/internal/physiology"
	"towpath/internal/spec"
	"towpath/internal/units"
)

// session resolves a session or a protocol, with its defaults and what the scheduler must know of
// it: how long it may be, and whether it is demanding or light.
func (r *resolver) session(s *spec.Session) *Session {
	out := &Session{
		Key: s.Key, Title: s.Title.Or(s.Key), Purpose: s.Purpose.V, Feel: s.Feel.V, IfWrong: s.IfWrong.V, Stop: s.Stop.V,
		Range: s.Header, BuiltIn: s.BuiltIn, Protocol: s.Protocol,
		Maximal:    s.Demand.V == "maximal",
		KeepsWatts: s.KeepsWatts.V,
		Rating:     s.RPE.V,
		AtLeast:    max(s.AtLeast.V.Minutes(), physiology.MinimumRide.Value),
		AtMost:     physiology.MaximumRide.Value,
		Usual:      physiology.UsualRide.Value,
		Steps:      steps(s.Steps),
	}
	if s.AtMost.Set {
		out.AtMost = s.AtMost.V.Minutes()
	}
	if s.Usual.Set {
		out.Usual = s.Usual.V.Minutes()
	}
	out.Usual = min(max(out.Usual, out.AtLeast), out.AtMost)
	if s.Protocol {
		out.Minutes = s.Minutes.V.Minutes()
		if !s.Minutes.Set {
			out.Minutes = (length(out.Steps) + 59).Minutes()
		}
		return out
	}
	top := highest(out.Steps)
	out.Demanding = s.Demand.V == "demanding" || out.Usual >= physiology.LongDay.Value || top > physiology.UpperThird.Value
	out.Light = !out.Demanding && (s.Demand.V == "light" || top <= physiology.LowerThird.Value)
	return out
}

func steps(in []spec.Step) []Step {
	out := make([]Step, 0, len(in))
	for _, s := range in {
		step := Step{
			Name: s.Name, Range: s.Range, Duration: s.Duration.V, Fill: s.Fill,
			Rising: s.Shape.V == "rising", Falling: s.Shape.V == "falling",
			Spare: s.Spare.V, Note: s.Note.V,
		}
		if s.Cadence.Set {
			step.Cadence = &s.Cadence.V
		}
		switch {
		case s.Repeat != nil:
			step.Repeat = &Repeat{Times: s.Repeat.Times.V, Fill: s.Repeat.Fill, Rising: s.Repeat.Rising.V, Steps: steps(s.Repeat.Steps)}
		case s.Over.Set:
			step.Target, step.Over = Over, s.Over.V
		case s.AllOut.V:
			step.Target = AllOut
		case s.Below:
			step.Target = Below
		case s.Position.Set:
			step.Target, step.Share = Position, s.Position.V
		case s.OfThreshold.Set:
			step.Target, step.Share = OfThreshold, s.OfThreshold.V
		case s.Power.Set:
			step.Target, step.Power = Watts, s.Power.V
		}
		out = append(out, step)
	}
	return out
}

// highest is the highest position in the band that a session asks for; steps below the band
// count as 0. A share of the threshold above the usual floor counts as the middle of the band,
// and so does a step without a target; an allowance lies above all of it.
func highest(steps []Step) units.Share {
	var top units.Share
	for _, s := range steps {
		switch {
		case s.Repeat != nil:
			top = max(top, highest(s.Repeat.Steps))
		case s.Target == Position:
			top = max(top, s.Share.High)
		case s.Target == OfThreshold && s.Share.High > physiology.FloorShare.Value:
			top = max(top, physiology.BandMiddle.Value)
		case s.Target == Free:
			top = max(top, physiology.BandMiddle.Value)
		case s.Target == Over:
			top = 1
		}
	}
	return top
}

// length is the time that the steps take, without those that fill.
func length(steps []Step) units.Duration {
	var total units.Duration
	for _, s := range steps {
		if s.Repeat != nil {
			total += units.Duration(s.Repeat.Times) * length(s.Repeat.Steps)
		} else {
			total += s.Duration
		}
	}
	return total
}
