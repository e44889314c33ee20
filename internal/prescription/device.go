package prescription

import (
	"cmp"
	"fmt"
	"slices"

	"towpath/internal/diag"
	"towpath/internal/physiology"
	"towpath/internal/plan"
	"towpath/internal/units"
)

// A head unit takes a flat list: steps, and after the steps of a loop one that says how often to
// ride them. It knows no ramp and, safely, no loop within a loop. This file lowers a session's
// steps to such a list.

// DeviceStep is one entry of a head unit's list.
type DeviceStep struct {
	Step      *Step
	Seconds   int
	Power     *units.Range[int] // watts
	HeartRate *Bounds
	Stair     bool // one of the stairs of a ramp

	// A loop: ride the entries from First on, Rounds times in all; 0 rounds for a step.
	First, Rounds int
}

// DeviceSteps lowers steps to the entries that a device holds. Where they are too many, what comes
// several times in a row becomes a loop, and then ramps lose stairs, down to one step that holds
// their whole range. Where that is not enough there is no list, but the number that is needed.
func DeviceSteps(steps []Step, d plan.Device) (list []DeviceStep, need int) {
	most := MostSteps(d)
	for stairs := maxStairs(steps); ; stairs-- {
		list = sequence(nil, steps, stairs)
		if len(list) > most {
			list = looped(list)
		}
		if len(list) <= most {
			return list, len(list)
		}
		if stairs <= 1 {
			return nil, len(list)
		}
	}
}

// MostSteps is how many entries a device holds.
func MostSteps(d plan.Device) int { return cmp.Or(d.MostSteps, physiology.HeadUnitSteps.Value) }

// sequence appends steps with their loops.
func sequence(out []DeviceStep, steps []Step, stairs int) []DeviceStep {
	for i := range steps {
		if s := &steps[i]; s.Kind == Rounds {
			out = rounds(out, s, stairs)
		} else {
			out = single(out, s, stairs)
		}
	}
	return out
}

// rounds appends a repeat in the shorter of two forms: as a loop whose inner repeats are written
// out, or written out itself so that the inner repeats stay loops.
func rounds(out []DeviceStep, s *Step, stairs int) []DeviceStep {
	if s.Times == 1 {
		return sequence(out, s.Steps, stairs)
	}
	body := writtenOut(nil, s.Steps, stairs)
	if len(body) == 0 || s.Times < 1 {
		return out
	}
	if slices.ContainsFunc(s.Steps, func(inner Step) bool { return inner.Kind == Rounds }) {
		// The limit on rounds keeps a mistyped count from filling memory; the caller refuses
		// a list of that length.
		var long []DeviceStep
		most := physiology.HeadUnitSteps.Value
		for range min(s.Times, most) {
			long = shifted(long, sequence(nil, s.Steps, stairs))
		}
		if s.Times <= most && len(long) < len(body)+1 {
			return shifted(out, long)
		}
	}
	first := len(out)
	out = append(out, body...)
	return append(out, DeviceStep{Step: s, First: first, Rounds: s.Times})
}

// shifted appends a list whose loops count from its own start.
func shifted(out, list []DeviceStep) []DeviceStep {
	base := len(out)
	for _, d := range list {
		d.First += base
		out = append(out, d)
	}
	return out
}

// writtenOut appends steps without any loop. It stops soon after the limit that its caller has.
func writtenOut(out []DeviceStep, steps []Step, stairs int) []DeviceStep {
	for i := range steps {
		s := &steps[i]
		if s.Kind != Rounds {
			out = single(out, s, stairs)
			continue
		}
		for range s.Times {
			if len(out) > physiology.HeadUnitSteps.Value {
				break
			}
			out = writtenOut(out, s.Steps, stairs)
		}
	}
	return out
}

// single appends one step, or the stairs of a ramp, each with the cap of the whole.
func single(out []DeviceStep, s *Step, stairs int) []DeviceStep {
	n := min(stairsOf(s), stairs)
	if n <= 1 {
		d := DeviceStep{Step: s, Seconds: int(s.Duration)}
		if s.Kind != Open && !s.AllOut {
			d.Power, d.HeartRate = s.Targets.Power, s.Targets.HeartRate
		}
		return append(out, d)
	}
	low, rise, seconds := s.Targets.Power.Low, s.Targets.Power.High-s.Targets.Power.Low, int(s.Duration)
	for i := range n {
		k := i
		if s.Falling {
			k = n - 1 - i
		}
		out = append(out, DeviceStep{
			Step:      s,
			Seconds:   (i+1)*seconds/n - i*seconds/n,
			Power:     &units.Range[int]{Low: low + k*rise/n, High: low + (k+1)*rise/n},
			HeartRate: s.Targets.HeartRate,
			Stair:     true,
		})
	}
	return out
}

// stairsOf is the number of stairs a ramp is worth; 1 for every other step.
func stairsOf(s *Step) int {
	if s.Kind != Ramp || s.Targets.Power == nil {
		return 1
	}
	rise := s.Targets.Power.High - s.Targets.Power.Low
	return max(1, min(int(s.Duration/physiology.StairTime.Value), rise/int(physiology.StairRise.Value)))
}

func maxStairs(steps []Step) int {
	most := 1
	for i := range steps {
		most = max(most, stairsOf(&steps[i]), maxStairs(steps[i].Steps))
	}
	return most
}

// looped writes entries that come several times in a row as a loop, wherever that is shorter.
// Loops that are there already keep their entries to themselves.
func looped(list []DeviceStep) []DeviceStep {
	inLoop := make([]bool, len(list))
	for i, d := range list {
		for k := d.First; d.Rounds > 0 && k <= i; k++ {
			inLoop[k] = true
		}
	}
	var out []DeviceStep
	at := make([]int, len(list)) // where an entry of a loop stands in out
	for i := 0; i < len(list); {
		if inLoop[i] {
			d := list[i]
			at[i], d.First = len(out), at[d.First]
			out = append(out, d)
			i++
			continue
		}
		end := i
		for end < len(list) && !inLoop[end] {
			end++
		}
		length, times := longestRun(list[i:end])
		out = append(out, list[i:i+length]...)
		if times > 1 {
			out = append(out, DeviceStep{Step: list[i].Step, First: len(out) - length, Rounds: times})
		}
		i += length * times
	}
	return out
}

// longestRun finds what the list begins with several times, where a loop saves most; one entry,
// once, where none does.
func longestRun(list []DeviceStep) (length, times int) {
	length, times = 1, 1
	saved := 0
	for n := 1; 2*n <= len(list); n++ {
		k := n
		for k < len(list) && asks(&list[k]) == asks(&list[k-n]) {
			k++
		}
		if more := (k/n-1)*n - 1; more > saved {
			length, times, saved = n, k/n, more
		}
	}
	return length, times
}

// asks tells all that an entry asks of the rider, to compare it with another.
func asks(d *DeviceStep) string {
	s := d.Step
	text := fmt.Sprint(d.Seconds, d.Stair, s.Kind, s.Role, s.Falling, s.AllOut, s.Name, "\x00", s.Over, "\x00", s.Note)
	for _, r := range []*units.Range[int]{d.Power, s.Cadence} {
		if r != nil {
			text += fmt.Sprint(*r)
		}
		text += ";"
	}
	if b := d.HeartRate; b != nil {
		if b.Low != nil {
			text += fmt.Sprint(*b.Low)
		}
		text += fmt.Sprint("-", b.High)
	}
	if s.Targets.Effort != nil {
		text += fmt.Sprint(";", *s.Targets.Effort)
	}
	return text
}

// deviceFaults refuses sessions that the athlete's head unit cannot hold: one fault for each
// limit, which tells of the session that needs most.
func deviceFaults(sessions []Session, athlete *plan.Athlete) diag.List {
	most := MostSteps(athlete.Device)
	var worst *Session
	need, names := most, map[string]bool{}
	for i := range sessions {
		for s := &sessions[i]; s != nil; s = s.Instead {
			_, n := DeviceSteps(s.Steps, athlete.Device)
			if n > most {
				names[s.Session] = true
			}
			if n > need {
				worst, need = s, n
			}
		}
	}
	if worst == nil {
		return nil
	}
	d := diag.Diagnostic{
		Code: "too-many-steps", Severity: diag.Error, Subject: worst.Origin.Range,
		Summary: fmt.Sprintf("%s on %s needs %d steps in a workout file; head units take %d", worst.Name, worst.Date, need, most),
		Detail:  "Fewer rounds, or rounds that are all alike, make it fit: those are written once, with the number of times.",
	}
	if at := athlete.Device.MostStepsRange; at.Filename != "" {
		d.Subject = at
		d.Summary = fmt.Sprintf("%s on %s needs %d steps in a workout file; the device takes %d", worst.Name, worst.Date, need, most)
		d.Detail = fmt.Sprintf("That is with repeats written once and ramps as one step. Write most_steps = %d if the device takes as many, or give the session fewer steps.", need)
		if need > physiology.HeadUnitSteps.Value {
			d.Detail = "That is with repeats written once and ramps as one step. Give the session fewer steps."
		}
		d.Related = []diag.Related{{Message: "the ride", Range: worst.Origin.Range}}
	}
	if n := len(names) - 1; n == 1 {
		d.Detail += " Another kind of ride needs too many as well."
	} else if n > 1 {
		d.Detail += fmt.Sprintf(" %d other kinds of ride need too many as well.", n)
	}
	return diag.List{d}
}
