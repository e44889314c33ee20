package plan

import (
	"towpath/internal/diag"
	"towpath/internal/physiology"
	"towpath/internal/spec"
	"towpath/internal/units"
)

// Session is a kind of ride, or a test protocol.
type Session struct {
	Key        string
	Title      string
	Purpose    string
	Feel       string
	IfWrong    string
	Stop       string
	Range      diag.Range
	BuiltIn    bool
	Protocol   bool
	Maximal    bool // protocols: a maximal effort
	KeepsWatts bool // protocols: targets of the block's first band
	// Rating is what the coach expects the whole of it to be rated with, 6 to 20; 0 where nothing
	// was written.
	Rating  units.Effort
	AtLeast units.Minutes
	AtMost  units.Minutes
	Usual   units.Minutes
	Minutes units.Minutes // protocols: planned minutes
	// Demanding: a long ride, a group ride, or a step above two thirds of the band.
	// Light: no step above the first third.
	Demanding, Light bool
	Steps            []Step
}

// TargetKind tells how a step's power is written.
type TargetKind int

// The kinds of target.
const (
	Free        TargetKind = iota // no target
	Position                      // share of the way from floor to ceiling
	Below                         // from half of the threshold to the floor
	OfThreshold                   // share of the threshold
	Watts                         // protocols: given watts
	Over                          // an allowance of the band, by its name
	AllOut                        // protocols: as hard as the rider can
)

// Step is a piece of a session: a step, or a repeat.
type Step struct {
	Name     string
	Range    diag.Range
	Repeat   *Repeat
	Duration units.Duration
	Fill     bool // takes what the others leave
	Rising   bool // from low to high over the step
	Falling  bool
	Target   TargetKind
	Share    units.Range[units.Share] // Position, OfThreshold
	Power    units.Range[units.Power] // Watts
	Cadence  *units.Range[units.Cadence]
	Over     string // Over: the allowance's name
	Spare    bool
	Note     string
}

// Repeat is a group of steps ridden several times.
type Repeat struct {
	Times  int
	Fill   bool        // as many whole rounds as fit
	Rising units.Power // each round this much higher
	Steps  []Step
}

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
