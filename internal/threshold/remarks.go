package threshold

import (
	"fmt"
	"math"
	"strings"

	"towpath/internal/diag"
	"towpath/internal/physiology"
	"towpath/internal/units"
)

// remarks are the findings about a test that was read.
func remarks(c *cleaned, r *Result) (found diag.List) {
	found.Add(c.onProtocol()...)
	found.Add(c.onStages()...)
	found.Add(c.onBaseline(r)...)
	found.Add(c.onFirst(r)...)
	found.Add(c.onOrder(r)...)
	found.Add(c.onLine(r)...)
	return found
}

// onProtocol questions wide steps and short stages.
func (c *cleaned) onProtocol() (found diag.List) {
	widest, at := units.Power(0), 0
	for i := 1; i < len(c.exercise); i++ {
		if step := c.exercise[i].Power - c.exercise[i-1].Power; step > widest {
			widest, at = step, i
		}
	}
	if s := c.exercise[at]; widest > physiology.StepWide.Value {
		found.Add(remark("step-wide", s.place(s.Places.Power), fmt.Sprintf("A step of %s, from stage %d to stage %d", watts(widest), at, at+1),
			fmt.Sprintf("Beyond %s no first threshold can be placed well. Keep to these steps at the retest, so that both can be compared, or begin anew with smaller ones.", physiology.StepWide.Value)))
	}
	if c.length > 0 && c.length < physiology.StageShort.Value {
		found.Add(remark("stage-short", c.where(), fmt.Sprintf("Stages of %s", c.length),
			fmt.Sprintf("Below %s lactate lags behind power, and thresholds come out high. Keep to this length at the retest, so that both can be compared.", physiology.StageShort.Value)))
	}
	return found
}

// onStages questions heart rate and effort that fall while power rises.
func (c *cleaned) onStages() (found diag.List) {
	heart, effort := -1, -1
	for i, s := range c.exercise {
		if s.HeartRate != nil {
			if heart >= 0 {
				before := c.exercise[heart]
				if *before.HeartRate-*s.HeartRate > physiology.HeartRateFall.Value {
					d := remark("heart-rate-falls", s.place(s.Places.HeartRate),
						fmt.Sprintf("Heart rate falls from %s in stage %d to %s in stage %d", *before.HeartRate, heart+1, *s.HeartRate, i+1),
						"It rises with power. A strap that lost contact, a typing error? Leave the wrong one out. If it is true and comes again, it is a matter for a physician.")
					d.Related = []diag.Related{{Message: fmt.Sprintf("stage %d", heart+1), Range: before.place(before.Places.HeartRate)}}
					found.Add(d)
				}
			}
			heart = i
		}
		if s.Effort != nil {
			if effort >= 0 && *c.exercise[effort].Effort > *s.Effort {
				before := c.exercise[effort]
				d := remark("effort-falls", s.place(s.Places.Effort),
					fmt.Sprintf("Effort falls from %s in stage %d to %s in stage %d", *before.Effort, effort+1, *s.Effort, i+1),
					"It rises with power. Two values changed over? Leave out the one that is wrong.")
				d.Related = []diag.Related{{Message: fmt.Sprintf("stage %d", effort+1), Range: before.place(before.Places.Effort)}}
				found.Add(d)
			}
			effort = i
		}
	}
	return found
}

// onBaseline tells of readings that the meter cut off.
func (c *cleaned) onBaseline(r *Result) (found diag.List) {
	n := 0
	for _, p := range r.Curve {
		if p.Lactate == r.Lowest {
			n++
		}
	}
	if n >= 2 && r.Lowest <= physiology.AnalyserLowest.Value {
		found.Add(remark("lactate-censored", c.where(), fmt.Sprintf("%d stages have the same lowest lactate, %s", n, r.Lowest),
			"That looks like the least that the meter shows: the true baseline may be lower, and the first thresholds with it. Note what the meter's lowest reading is."))
	}
	return found
}

// onFirst tells where the first threshold could not be read, or not clearly.
func (c *cleaned) onFirst(r *Result) (found diag.List) {
	last := c.where()
	if n := c.curve.n(); n > 0 {
		s := c.exercise[c.curve.stage[n-1]]
		last = s.place(s.Places.Lactate)
	}
	rise := r.Method(idPlus03)
	switch {
	case rise.Status == TooFewStages:
		found.Add(remark("few-stages", c.where(), fmt.Sprintf("%s with a lactate", count(r.StagesUsed, "stage")),
			fmt.Sprintf("A threshold needs at least %d, a fitted curve %d. The heart-rate line is read all the same.", physiology.StagesForThreshold.Value, physiology.StagesForCurve.Value)))
		return found
	case rise.Status == NotReached:
		found.Add(remark("threshold-not-reached", last, fmt.Sprintf("Lactate does not rise %s above its baseline of %.2f mmol/L", physiology.FirstRise.Value, float64(r.Baseline)),
			fmt.Sprintf("The first threshold lies above %s, the last stage with a lactate; nothing is extrapolated. Test further.", watts(r.LastStage))))
		return found
	case r.Second[0].Status == StoppedEarly:
		found.Add(remark("test-stopped-early", last, fmt.Sprintf("The last lactate is less than %s above the baseline of %.2f mmol/L", physiology.Rise10.Value, float64(r.Baseline)),
			"Too low for any second threshold; the first is read. Ride the next test one or two stages further, as far as the rider is cleared for."))
	}
	var twice []string
	for _, rise := range []units.Lactate{physiology.FirstRise.Value, physiology.Rise05.Value, physiology.Rise10.Value} {
		if c.curve.crossings(float64(r.Baseline+rise)) > 1 {
			twice = append(twice, fmt.Sprintf("%.2f", float64(r.Baseline+rise)))
		}
	}
	if twice != nil {
		found.Add(remark("lactate-crosses-twice", c.where(), fmt.Sprintf("Lactate rises through %s mmol/L more than once", strings.Join(twice, " and ")),
			"The last time counts. A reading that is off by a few tenths does this; look at the lower stages."))
	}
	if m := r.Method(idLogLog); m.Status == Ambiguous {
		found.Add(remark("threshold-ambiguous", c.where(), fmt.Sprintf("The curve bends almost as well at another place than at %s", watts(*m.Power)),
			"The break on logarithms cannot tell the two apart; look at the methods side by side."))
	}
	return found
}

// onOrder compares the first threshold with the second and with the test's peak.
func (c *cleaned) onOrder(r *Result) (found diag.List) {
	if r.Estimate == nil {
		return nil
	}
	first := r.Estimate.Power
	for _, id := range []string{idLogMod, idOnset4} {
		m := r.Method(id)
		if !m.Status.Usable() {
			continue
		}
		ratio, usual := units.Share(first / *m.Power), physiology.ThresholdRatio.Value
		between := fmt.Sprintf("The first threshold reads %s and the second %s (%s)", watts(first), watts(*m.Power), id)
		if ratio >= 1 {
			found.Add(problem("threshold-order", c.where(), between, "The first lies below the second in every rider. Look for a mistyped lactate in the lower stages, or repeat the test."))
		} else if !within(usual, ratio) {
			found.Add(remark("threshold-order", c.where(), fmt.Sprintf("%s: %.0f %%", between, float64(ratio)*100),
				fmt.Sprintf("Usual are %s. Look at the methods side by side before trusting either.", usual)))
		}
		break
	}
	if share, usual := units.Share(first/r.PeakPower), physiology.ThresholdOfPeak.Value; !within(usual, share) {
		d := remark("threshold-of-peak", c.where(), fmt.Sprintf("The first threshold, %s, is %.0f %% of the test's last power, %s", watts(first), float64(share)*100, watts(r.PeakPower)),
			fmt.Sprintf("Usual are %s of a test ridden to the end; a test stopped before that reads higher.", usual))
		d.Severity = diag.Advice
		found.Add(d)
	}
	return found
}

// onLine questions a heart-rate line that the stages do not carry.
func (c *cleaned) onLine(r *Result) (found diag.List) {
	l := r.Line
	if l == nil {
		return nil
	}
	if l.ResidualSE > physiology.LineError.Value {
		found.Add(remark("heart-rate-line", c.where(), fmt.Sprintf("The heart rates lie %.1f bpm about their line", float64(l.ResidualSE)),
			fmt.Sprintf("Beyond %s the beats of a target are uncertain. A strap that lost contact, or stages before heart rate had settled?", physiology.LineError.Value)))
	}
	if slope := physiology.LineSlope.Value; !within(slope, l.Slope) {
		found.Add(remark("heart-rate-line", c.where(), fmt.Sprintf("Heart rate rises by %.2f bpm per watt", l.Slope),
			fmt.Sprintf("Usual are %g to %g. Look for a mistyped heart rate, or for medicine that slows the heart: then heart rate is no guide.", slope.Low, slope.High)))
	}
	if r.Estimate != nil {
		line := l.At(r.Estimate.Power)
		if h, ok := c.between(r.Estimate.Power); ok && math.Abs(float64(h-line)) > float64(physiology.LineError.Value) {
			found.Add(remark("heart-rate-line", c.where(), fmt.Sprintf("At the threshold the heart-rate line reads %.0f bpm, the stages on either side %.0f bpm", float64(line), float64(h)),
				"The beats of a target are read off the line. Leave out a wrong heart rate, or fit the line only up to the watts that matter (heart_rate_line { up_to })."))
		}
	}
	return found
}
