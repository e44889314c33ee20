package prescription

import (
	"strings"

	"towpath/internal/plan"
)

// The role of a step follows from its name and, where the name says nothing, from its place:
//
//   - named warm_up or cool_down: that;
//   - a step inside the band, in given watts, all out or without a target: work;
//   - a share of the threshold: work, but a warm-up where it comes first and other work follows
//     that is not lower;
//   - a step below the floor: work where the whole session lies there; else a warm-up before the
//     first work step, a cool-down after the last, and ease between.
//
// A repeat is work where one of its steps is.

// warmUpName and coolDownName are what the built-in sessions call their ends.
const (
	warmUpName   = "warm_up"
	coolDownName = "cool_down"
)

// roles gives the role of each step of a session.
func roles(steps []plan.Step) []Role {
	out := make([]Role, len(steps))
	first, last := -1, -1
	for i := range steps {
		switch {
		case named(&steps[i], warmUpName):
			out[i] = WarmUp
		case named(&steps[i], coolDownName):
			out[i] = CoolDown
		case demands(&steps[i]) && !(i == 0 && opens(steps)):
			out[i] = Work
			last = i
			if first < 0 {
				first = i
			}
		}
	}
	for i := range steps {
		switch {
		case out[i] != "":
		case first < 0:
			out[i] = Work
		case i < first:
			out[i] = WarmUp
		case i > last:
			out[i] = CoolDown
		default:
			out[i] = Ease
		}
	}
	return out
}

func named(s *plan.Step, name string) bool {
	return s.Repeat == nil && strings.HasPrefix(s.Name, name)
}

// demands reports whether a step asks for more than riding below the floor.
func demands(s *plan.Step) bool {
	if s.Repeat == nil {
		return s.Target != plan.Below
	}
	for i := range s.Repeat.Steps {
		if demands(&s.Repeat.Steps[i]) {
			return true
		}
	}
	return false
}

// opens reports whether the first of the steps leads up to the others: a share of the threshold
// that rises, or that is lower than what follows.
func opens(steps []plan.Step) bool {
	s := &steps[0]
	if s.Repeat != nil || s.Target != plan.OfThreshold {
		return false
	}
	for i := range steps[1:] {
		next := &steps[i+1]
		if demands(next) && (s.Rising || next.Target != plan.OfThreshold || next.Share.High > s.Share.High) {
			return true
		}
	}
	return false
}

// rolesInRound gives the roles inside a repeat of role r: what lies below the floor is ease.
func rolesInRound(steps []plan.Step, r Role) []Role {
	out := make([]Role, len(steps))
	for i := range steps {
		out[i] = r
		if r == Work && !demands(&steps[i]) {
			out[i] = Ease
		}
	}
	if r == Work && !anyDemands(steps) {
		for i := range out {
			out[i] = Work
		}
	}
	return out
}

func anyDemands(steps []plan.Step) bool {
	for i := range steps {
		if demands(&steps[i]) {
			return true
		}
	}
	return false
}
