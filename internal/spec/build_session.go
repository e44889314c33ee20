package spec

import (
	"fmt"

	"towpath/internal/units"
)

func (d *decoder) session(n *node) *Session {
	s := &Session{
		Protocol:   n.block == &protocolBlock,
		Title:      get[string](n, "title"),
		Purpose:    get[string](n, "purpose"),
		AtLeast:    get[units.Duration](n, "at_least"),
		AtMost:     get[units.Duration](n, "at_most"),
		Usual:      get[units.Duration](n, "usual"),
		Minutes:    get[units.Duration](n, "minutes"),
		Demand:     get[string](n, "demand"),
		Stop:       get[string](n, "stop"),
		KeepsWatts: get[bool](n, "keeps_watts"),
		RPE:        get[units.Effort](n, "rpe"),
		Feel:       get[string](n, "feel"),
		IfWrong:    get[string](n, "if_wrong"),
		Steps:      d.steps(n, false),
	}
	d.ordered(n, "at_least", "at_most")
	d.ordered(n, "at_least", "usual")
	d.ordered(n, "usual", "at_most")
	if len(n.nodes) == 0 && !n.Broken {
		d.refuse(n, codeMissingBlock, n.Header, fmt.Sprintf("%s has no steps", n.title()), `It needs one at least: step "work" { duration = "fill" … }.`)
	}
	d.oneSpare(n, nil)
	n.Broken = n.Broken || anyBroken(n)
	s.Label = n.Label
	return s
}

// steps builds the steps and repeats of a session or repeat, in the order of the text.
func (d *decoder) steps(n *node, repeated bool) []Step {
	var out []Step
	for _, c := range n.nodes {
		if c.block.Kind == "repeat" {
			out = append(out, d.repeat(c, repeated))
		} else {
			out = append(out, d.step(c, repeated))
		}
	}
	return out
}

// written is what a step says; of a repeat, whose step it is as well, it holds the place only.
func written(n *node) Step {
	return Step{
		Name:        n.Key,
		Range:       n.Header,
		Duration:    get[units.Duration](n, "duration"),
		Fill:        says(n, "duration", "fill"),
		Shape:       get[string](n, "shape"),
		Position:    get[units.Range[units.Share]](n, "position"),
		Below:       says(n, "position", "below"),
		OfThreshold: get[units.Range[units.Share]](n, "of_threshold"),
		Power:       get[units.Range[units.Power]](n, "power"),
		AllOut:      get[bool](n, "all_out"),
		Over:        get[string](n, "over"),
		Cadence:     get[units.Range[units.Cadence]](n, "cadence"),
		Spare:       get[bool](n, "spare"),
		Note:        get[string](n, "note"),
	}
}

func (d *decoder) step(n *node, repeated bool) Step {
	s := written(n)
	d.exclusive(n, "A step has one target.", "position", "of_threshold", "power", "all_out", "over")
	if s.Fill && repeated {
		d.refuse(n, codeOneOf, n.place("duration"), "A step in a repeat cannot fill", `Give it a duration, and let the repeat fill: times = "fill".`)
	}
	if s.Fill && s.Spare.V {
		d.refuse(n, codeOneOf, s.Spare.Range, "A step that fills takes all minutes that are left already", "Leave out spare.", diagRelated("it fills here", n.place("duration")))
	}
	for _, share := range []Value[units.Range[units.Share]]{s.Position, s.OfThreshold} {
		if share.Set && share.V.Low < 0 {
			d.refuse(n, codeOutOfRange, share.Range, fmt.Sprintf("%s begins below 0 %%", share.V), `Below the band is position = "below".`)
		}
	}
	if s.Position.Set && s.Position.V.High > 1 {
		d.refuse(n, codeOutOfRange, s.Position.Range, fmt.Sprintf("%s ends above 100 %%", s.Position.V), "In the band 0 % is the floor and 100 % the ceiling; nothing but a test goes above.")
	}
	return s
}

func (d *decoder) repeat(n *node, repeated bool) Step {
	r := &Repeat{
		Times:  get[int](n, "times"),
		Fill:   says(n, "times", "fill"),
		Rising: get[units.Power](n, "rising"),
		Steps:  d.steps(n, true),
	}
	if len(n.nodes) == 0 && !n.Broken {
		d.refuse(n, codeMissingBlock, n.Header, "The repeat has no steps", `It needs one at least: step "work" { duration = "10 min" … }.`)
	}
	if r.Fill && repeated {
		d.refuse(n, codeOneOf, n.place("times"), "A repeat within a repeat cannot fill", "Write how many rounds it has.")
	}
	s := written(n)
	s.Repeat = r
	return s
}

// oneSpare refuses a second step that takes the minutes that are left.
func (d *decoder) oneSpare(n, first *node) *node {
	for _, c := range n.nodes {
		if c.block.Kind == "repeat" {
			first = d.oneSpare(c, first)
			continue
		}
		if !get[bool](c, "spare").V {
			continue
		}
		if first != nil {
			d.report(codeOneOf, c.place("spare"), "Two steps take the minutes that are left", "Keep spare in one of them.", diagRelated("the first one", first.place("spare")))
			c.Broken = true
			continue
		}
		first = c
	}
	return first
}
