package threshold

import (
	"fmt"
	"slices"
	"strings"

	"towpath/internal/diag"
	"towpath/internal/physiology"
	"towpath/internal/units"
)

// cleaned is a step test whose stages are in order, with what is used of them for what.
type cleaned struct {
	test     StepTest
	rest     *Stage
	exercise []Stage        // stages above 0 W; the last one's power prorated where it was cut short
	length   units.Duration // of a whole stage, 0 where nobody says
	share    units.Share    // how much of the last stage was ridden, 1 when whole
	curve    curve
	suspect  map[int]bool // indices in exercise
}

// curve is lactate by power, as the methods see it.
type curve struct {
	p, l  []float64
	stage []int // index in exercise
}

// n is how many stages count.
func (c curve) n() int { return len(c.p) }

// clean puts a test in order: rest apart, rising powers, a last stage that was cut short, lactate
// that cannot be right. ok is false where the test is refused.
func clean(t StepTest) (c *cleaned, found diag.List) {
	c = &cleaned{test: t, share: 1, suspect: map[int]bool{}}
	c.exercise = slices.Clone(t.Stages)
	for len(c.exercise) > 0 && c.exercise[0].Power == 0 {
		rest := c.exercise[0]
		c.rest, c.exercise = &rest, c.exercise[1:]
	}
	found.Add(c.checkOrder()...)
	if found.HasErrors() {
		return nil, found
	}
	c.findLength()
	found.Add(c.checkLengths()...)
	if found.HasErrors() {
		return nil, found
	}
	found.Add(c.prorate()...)
	c.collect()
	found.Add(c.leaveOutSuspects()...)
	found.Add(c.checkDelay()...)
	if found.HasErrors() {
		return nil, found
	}
	return c, found
}

// where is what to point at when the whole test is meant.
func (c *cleaned) where() diag.Range {
	if c.test.Where == (diag.Range{}) && len(c.test.Stages) > 0 {
		return c.test.Stages[0].Where
	}
	return c.test.Where
}

// checkOrder refuses powers that do not rise. Repeats are not merged: that would hide typing
// errors.
func (c *cleaned) checkOrder() (found diag.List) {
	if len(c.exercise) == 0 {
		found.Add(problem("stage-order", c.where(), "The test has no stage above 0 W",
			"A step test is a row of stages of rising watts, each with the lactate at its end."))
		return found
	}
	for i := 1; i < len(c.exercise); i++ {
		a, b := &c.exercise[i-1], &c.exercise[i]
		if b.Power > a.Power {
			continue
		}
		d := problem("stage-order", b.place(b.Places.Power),
			fmt.Sprintf("Stage %d has %s, and stage %d before it %s", i+1, b.Power, i, a.Power),
			"The watts of a step test rise from stage to stage. Correct the one that is mistyped, or take a stage that was ridden twice out.")
		if b.Power == 0 {
			d.Summary = fmt.Sprintf("A reading at 0 W follows stage %d, %s", i, a.Power)
			d.Detail = "Lactate goes on rising for minutes after the work has ended, so a reading taken then is never put on the curve. Take the line out; rest before the test stands first."
			d.SourceKey = "goodwin2007"
		}
		d.Related = []diag.Related{{Message: fmt.Sprintf("stage %d", i), Range: a.place(a.Places.Power)}}
		found.Add(d)
		if b.Power == 0 {
			return found
		}
	}
	return found
}

// findLength takes the declared length of a stage, else the median.
func (c *cleaned) findLength() {
	c.length = c.test.StageLength
	if c.length == 0 {
		c.length = median(durations(c.exercise))
	}
}

// durations are those that are known.
func durations(stages []Stage) (out []units.Duration) {
	for _, s := range stages {
		if s.Duration > 0 {
			out = append(out, s.Duration)
		}
	}
	return out
}

// median is the upper one of the two middle values where there are two, so that a short last
// stage does not pull it down.
func median(v []units.Duration) units.Duration {
	if len(v) == 0 {
		return 0
	}
	v = slices.Sorted(slices.Values(v))
	return v[len(v)/2]
}

// short reports whether a stage was not ridden to its end.
func (c *cleaned) short(s Stage) bool {
	return s.Duration > 0 && float64(s.Duration) < float64(float64(physiology.StageComplete.Value)*float64(c.length))
}

func (c *cleaned) checkLengths() (found diag.List) {
	whole := c.exercise[:len(c.exercise)-1]
	if m := median(durations(whole)); m > 0 && c.test.StageLength > 0 {
		if r := float64(m) / float64(c.length); r < float64(physiology.StageComplete.Value) || 1/r < float64(physiology.StageComplete.Value) {
			found.Add(problem("stage-length", c.where(),
				fmt.Sprintf("The stages last %s in the data and %s in the plan", m, c.length),
				fmt.Sprintf("Both tell how long one stage was. Write stage = %q in the test, or correct the durations.", m)))
			return found
		}
	}
	for i, s := range whole {
		if c.short(s) {
			found.Add(problem("stage-incomplete", s.place(s.Places.Duration),
				fmt.Sprintf("Stage %d was ridden for %s of %s", i+1, s.Duration, c.length),
				"Only the last stage may be cut short: lactate needs the whole stage. A typing error? Else take this stage out."))
		}
	}
	return found
}

// prorate places a last stage that was cut short: the stage before plus that share of the step.
func (c *cleaned) prorate() (found diag.List) {
	n := len(c.exercise)
	if n < 2 || c.length == 0 || !c.short(c.exercise[n-1]) {
		return nil
	}
	before, last := c.exercise[n-2], &c.exercise[n-1]
	c.share = units.Share(float64(last.Duration) / float64(c.length))
	full := last.Power
	last.Power = before.Power + units.Power(float64(c.share)*float64(full-before.Power))
	d := diag.Diagnostic{
		Code: "stage-incomplete", Severity: diag.Advice, Subject: last.place(last.Places.Duration), SourceKey: "kuipers1985",
		Summary: fmt.Sprintf("The last stage, %s, was ridden for %s of %s and counts as %s", full, last.Duration, c.length, watts(last.Power)),
		Detail:  "That is the stage before plus this share of the step; it is also the test's peak power. Its lactate is placed there.",
	}
	if c.share < physiology.LactateOfIncomplete.Value {
		last.Lactate = nil
		d.Detail = fmt.Sprintf("That is the stage before plus this share of the step; it is also the test's peak power. Less than %s of the stage was ridden, so its lactate is left out of the curve.", physiology.LactateOfIncomplete.Value)
	}
	found.Add(d)
	return found
}

// collect makes the curve of the stages with a lactate.
func (c *cleaned) collect() {
	c.curve = curve{}
	for i, s := range c.exercise {
		if s.Lactate != nil && !c.suspect[i] {
			c.curve.p = append(c.curve.p, float64(s.Power))
			c.curve.l = append(c.curve.l, float64(*s.Lactate))
			c.curve.stage = append(c.curve.stage, i)
		}
	}
}

// leaveOutSuspects finds lactate that is higher than a later one by more than error explains
// (sweat in the drop, a typing error). One such reading is left out, more are refused.
func (c *cleaned) leaveOutSuspects() (found diag.List) {
	var suspects []int // positions in the curve
	lowestLater := map[int]int{}
	later := -1
	for i := c.curve.n() - 1; i >= 0; i-- {
		drop := physiology.SuspectDrop.Value
		if i == 0 {
			drop = physiology.SuspectDropFirst.Value
		}
		if later >= 0 && above(c.curve.l[i], c.curve.l[later]+float64(drop)) {
			suspects = append(suspects, i)
			lowestLater[i] = later
		}
		if later < 0 || c.curve.l[i] < c.curve.l[later] {
			later = i
		}
	}
	if len(suspects) == 0 {
		return nil
	}
	slices.Reverse(suspects)
	var names []string
	for _, i := range suspects {
		names = append(names, c.reading(i))
	}
	first, low := suspects[0], lowestLater[suspects[0]]
	at := c.exercise[c.curve.stage[first]]
	related := []diag.Related{{
		Message: "the later reading it is compared with: " + c.reading(low),
		Range:   c.exercise[c.curve.stage[low]].place(c.exercise[c.curve.stage[low]].Places.Lactate),
	}}
	if len(suspects) > 1 || float64(len(suspects)) > float64(float64(physiology.SuspectShare.Value)*float64(c.curve.n())) {
		d := problem("lactate-suspect", at.place(at.Places.Lactate),
			fmt.Sprintf("Lactate falls while power rises: %s, then %s", strings.Join(names, ", "), c.reading(low)),
			"At most one reading, and one in five, is left out as spoilt. Sweat in the drop, a typing error, the one low reading? Correct it or leave it out yourself, or repeat the test.")
		d.Related = related
		found.Add(d)
		return found
	}
	d := remark("lactate-suspect", at.place(at.Places.Lactate),
		fmt.Sprintf("The lactate of %s is left out: %s comes after it", names[0], c.reading(low)),
		"Lactate does not fall by so much while power rises: sweat in the drop, or a typing error. Heart rate and effort of the stage are used.")
	d.Related = related
	found.Add(d)
	c.suspect[c.curve.stage[first]] = true
	c.collect()
	return found
}

// reading names the stage of a point of the curve with its lactate.
func (c *cleaned) reading(i int) string {
	return fmt.Sprintf("stage %d (%s)", c.curve.stage[i]+1, units.Lactate(c.curve.l[i]))
}

func (c *cleaned) checkDelay() (found diag.List) {
	d := c.test.SampleDelay
	fine, most := physiology.SampleDelayFine.Value, physiology.SampleDelayMost.Value
	switch {
	case d > most:
		found.Add(problem("sample-delay", c.where(), fmt.Sprintf("The blood was drawn %d s after each stage, while riding the next one", d),
			fmt.Sprintf("Such a reading belongs to no stage, and no correction for it has been shown to hold. Up to %d s are read; draw at the stage's end, or stop for the drop.", most)))
	case d > fine:
		found.Add(remark("sample-delay", c.where(), fmt.Sprintf("The blood was drawn %d s after each stage, while riding the next one", d),
			fmt.Sprintf("Within %d s it belongs to the stage; later it reads high. The thresholds come out somewhat low.", fine)))
	}
	return found
}

// tolerance keeps decisions between stages from hanging on the last bits of a sum: 0.9 + 0.3 is
// 1.2 in the coach's head.
const tolerance = 1e-6

func above(a, b float64) bool { return a > b+tolerance }

func watts(p units.Power) string { return fmt.Sprintf("%.0f W", float64(p)) }
