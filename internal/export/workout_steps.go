package export

import (
	"fmt"
	"strings"

	"towpath/internal/prescription"
	"towpath/internal/units"
	"towpath/internal/words"
)

// A workout file holds a flat list: steps, and after the steps of a loop one that says how often
// to ride them. It knows no ramp and, safely, no loop within a loop. This file lowers a session's
// steps to such a list.

// maxWorkoutSteps is what devices are known to take; the format itself sets no limit.
const maxWorkoutSteps = 50

// stairSeconds is the length of the steps that stand for a ramp, and stairWatts the least rise
// from one to the next: finer stairs would only beep.
const (
	stairSeconds = 120
	stairWatts   = 5
)

// flatStep is one entry of a workout file.
type flatStep struct {
	step    *prescription.Step
	seconds int
	power   *units.Range[int] // watts
	beats   *prescription.Bounds
	stair   bool

	// A loop: ride the steps from position first on, rounds times in all.
	loop          bool
	first, rounds int
}

// flatten lowers steps to at most maxWorkoutSteps entries. Where they are too many, ramps lose
// stairs first, down to one step that holds their whole range.
func flatten(steps []prescription.Step) ([]flatStep, error) {
	for stairs := maxStairs(steps); ; stairs-- {
		flat := sequence(nil, steps, stairs)
		if len(flat) <= maxWorkoutSteps {
			return flat, nil
		}
		if stairs <= 1 {
			return nil, fmt.Errorf("needs %d steps in a workout file, which holds at most %d; fewer rounds or fewer steps in a round make it fit",
				len(flat), maxWorkoutSteps)
		}
	}
}

// sequence appends steps with their loops.
func sequence(out []flatStep, steps []prescription.Step, stairs int) []flatStep {
	for i := range steps {
		s := &steps[i]
		if s.Kind != prescription.Rounds {
			out = single(out, s, stairs)
			continue
		}
		out = rounds(out, s, stairs)
	}
	return out
}

// rounds appends a repeat in the shorter of two forms: as a loop whose inner repeats are written
// out, or written out itself so that the inner repeats stay loops.
func rounds(out []flatStep, s *prescription.Step, stairs int) []flatStep {
	if s.Times == 1 {
		return sequence(out, s.Steps, stairs)
	}
	body := writtenOut(nil, s.Steps, stairs)
	if len(body) == 0 || s.Times < 1 {
		return out
	}
	if nested(s.Steps) {
		// The limit on rounds keeps a mistyped count from filling memory; the caller refuses
		// a list of that length.
		var long []flatStep
		for range min(s.Times, maxWorkoutSteps) {
			long = shifted(long, sequence(nil, s.Steps, stairs))
		}
		if s.Times <= maxWorkoutSteps && len(long) < len(body)+1 {
			return shifted(out, long)
		}
	}
	first := len(out)
	out = append(out, body...)
	return append(out, flatStep{step: s, loop: true, first: first, rounds: s.Times})
}

// shifted appends a list whose loops count from its own start.
func shifted(out, list []flatStep) []flatStep {
	base := len(out)
	for _, f := range list {
		f.first += base
		out = append(out, f)
	}
	return out
}

// writtenOut appends steps without any loop. It stops soon after the limit that its caller has.
func writtenOut(out []flatStep, steps []prescription.Step, stairs int) []flatStep {
	for i := range steps {
		s := &steps[i]
		if s.Kind != prescription.Rounds {
			out = single(out, s, stairs)
			continue
		}
		for range s.Times {
			if len(out) > maxWorkoutSteps {
				break
			}
			out = writtenOut(out, s.Steps, stairs)
		}
	}
	return out
}

func nested(steps []prescription.Step) bool {
	for i := range steps {
		if steps[i].Kind == prescription.Rounds {
			return true
		}
	}
	return false
}

// single appends one step, or the stairs of a ramp, each with the cap of the whole.
func single(out []flatStep, s *prescription.Step, stairs int) []flatStep {
	n := min(stairsOf(s), stairs)
	if n <= 1 {
		f := flatStep{step: s, seconds: int(s.Duration)}
		if s.Kind != prescription.Open && !s.AllOut {
			f.power, f.beats = s.Targets.Power, s.Targets.HeartRate
		}
		return append(out, f)
	}
	low, rise, seconds := s.Targets.Power.Low, s.Targets.Power.High-s.Targets.Power.Low, int(s.Duration)
	for i := range n {
		k := i
		if s.Falling {
			k = n - 1 - i
		}
		out = append(out, flatStep{
			step:    s,
			seconds: (i+1)*seconds/n - i*seconds/n,
			power:   &units.Range[int]{Low: low + k*rise/n, High: low + (k+1)*rise/n},
			beats:   s.Targets.HeartRate,
			stair:   true,
		})
	}
	return out
}

// stairsOf is the number of stairs a ramp is worth; 1 for every other step.
func stairsOf(s *prescription.Step) int {
	if s.Kind != prescription.Ramp || s.Targets.Power == nil {
		return 1
	}
	rise := s.Targets.Power.High - s.Targets.Power.Low
	return max(1, min(int(s.Duration)/stairSeconds, rise/stairWatts))
}

func maxStairs(steps []prescription.Step) int {
	most := 1
	for i := range steps {
		most = max(most, stairsOf(&steps[i]), maxStairs(steps[i].Steps))
	}
	return most
}

// notes say the whole step in words, for what a device cannot show or may not, and for work why.
// Printable ASCII, at most maxNote bytes.
func (f *flatStep) notes(why string) string {
	text := words.StepLine(f.step.Words())
	if f.step.Role == prescription.Work && cleanLine(why) != "" {
		text = strings.TrimRight(text, ". ") + ". " + why
	}
	return cut(foldASCII(text), maxNote)
}

// stepName is the coach's word with spaces: "warm_up" becomes "warm up".
func stepName(s *prescription.Step) string {
	name := s.Name
	if name == "" {
		name = string(s.Role)
	}
	return cleanLine(strings.ReplaceAll(name, "_", " "))
}
