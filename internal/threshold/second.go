package threshold

import (
	"towpath/internal/physiology"
	"towpath/internal/units"
)

// secondMethods are the readings of the second threshold, in the order in which they are shown.
func secondMethods() []method {
	few, curved := physiology.StagesForThreshold.Value, physiology.StagesForCurve.Value
	return []method{
		{"obla_2", "", few, onset(physiology.Onset2.Value)},
		{"obla_3", "", few, onset(physiology.Onset3.Value)},
		{idOnset4, "heck1985", few, onset(physiology.Onset4.Value)},
		{"obla_4_cubic", "heck1985", curved, (*reading).onsetOnCubic},
		{"obla_4_exp", "heck1985", few, (*reading).onsetOnExponential},
		{"baseline_plus_1.5", "", few, plus(physiology.Rise15.Value)},
		{"min_equivalent_plus_1.5", "dickhuth1999", few, (*reading).plusOnEquivalent},
		{"dmax_cubic_curve_ends", "cheng1992", curved, chordOnCubic(fromFirst, curveEnds)},
		{"dmax_cubic_data_ends", "cheng1992", curved, chordOnCubic(fromFirst, dataEnds)},
		{"moddmax_cubic_curve_ends", "bishop1998", curved, chordOnCubic(fromRise, curveEnds)},
		{"moddmax_cubic_data_ends", "bishop1998", curved, chordOnCubic(fromRise, dataEnds)},
		{"dmax_exp", "hughson1987", few, chordOnExponential(fromFirst)},
		{idLogMod, "jamnick2018", curved, chordOnCubic(fromLogLog, curveEnds)},
		{"log_moddmax_exp", "jamnick2018", curved, chordOnExponential(fromLogLog)},
	}
}

// stoppedEarly reports whether the test ended too low for any second threshold.
func (r *reading) stoppedEarly() bool {
	return above(r.pair.level+float64(physiology.Rise10.Value), r.l[r.n()-1])
}

// onset is the last upward crossing of a fixed lactate, on straight lines between stages.
func onset(level units.Lactate) func(*reading) outcome {
	return func(r *reading) outcome { return r.crossing(float64(level), nil) }
}

// plusOnEquivalent is the crossing of 1.5 mmol/L above the stage of least lactate per watt.
func (r *reading) plusOnEquivalent() outcome {
	k := r.lowestPerWatt()
	return r.crossing(r.l[k]+float64(physiology.Rise15.Value), []int{k})
}

// onsetOnCubic is the last crossing of 4 mmol/L right of the curve's lowest point.
func (r *reading) onsetOnCubic() outcome {
	if r.cubic == nil {
		return failed(NoFit)
	}
	over := func(p float64) float64 { return r.cubic.at(p) - float64(physiology.Onset4.Value) }
	a, b := r.p[0], r.p[r.n()-1]
	step := (b - a) / curveSteps
	for k := curveSteps; k > lowest(r.cubic.at, a, b, curveSteps); k-- {
		low, high := a+float64(float64(k-1)*step), a+float64(float64(k)*step)
		if over(low) <= 0 && over(high) > 0 {
			return found(bisect(over, low, high))
		}
	}
	if over(b) > 0 {
		return failed(AlreadyAbove)
	}
	return failed(NotReached)
}

func (r *reading) onsetOnExponential() outcome {
	return r.onExponential(float64(physiology.Onset4.Value))
}

// start is where a chord begins: a power, and the stage there or -1 between stages.
type start func(r *reading) (p float64, stage int, ok bool)

func fromFirst(r *reading) (float64, int, bool) { return r.p[0], 0, true }

// fromRise is the stage before the first rise of 0.4 mmol/L from stage to stage.
func fromRise(r *reading) (float64, int, bool) {
	for i := 0; i+1 < r.n(); i++ {
		if !above(float64(physiology.ChordStartRise.Value), r.l[i+1]-r.l[i]) {
			return r.p[i], i, true
		}
	}
	return 0, 0, false
}

func fromLogLog(r *reading) (float64, int, bool) { return r.loglog.power, -1, r.loglog.usable() }

// ends gives the lactate at the ends of a chord: of the curve, or as measured.
type ends func(r *reading, stage int, p float64) float64

func curveEnds(r *reading, _ int, p float64) float64    { return r.cubic.at(p) }
func dataEnds(r *reading, stage int, _ float64) float64 { return r.l[stage] }

// chordOnCubic is where the cubic lies furthest below its chord to the last stage.
func chordOnCubic(from start, end ends) func(*reading) outcome {
	return func(r *reading) outcome {
		if r.cubic == nil {
			return failed(NoFit)
		}
		a, stage, ok := from(r)
		if !ok {
			return failed(NoStart)
		}
		last := r.n() - 1
		p, ok := r.cubic.furthestBelow(a, end(r, stage, a), r.p[last], end(r, last, r.p[last]))
		if !ok {
			return failed(Edge)
		}
		return found(p)
	}
}

// chordOnExponential is where the exponential lies furthest below its chord to the last stage.
func chordOnExponential(from start) func(*reading) outcome {
	return func(r *reading) outcome {
		if r.exponential == nil {
			return failed(NoFit)
		}
		a, _, ok := from(r)
		if !ok {
			return failed(NoStart)
		}
		return found(r.exponential.furthestBelow(a, r.p[r.n()-1]))
	}
}
