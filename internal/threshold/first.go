package threshold

import (
	"math"

	"towpath/internal/physiology"
	"towpath/internal/units"
)

// outcome is what a method makes of a curve.
type outcome struct {
	status   Status
	power    float64 // 0: none
	interval *units.Range[units.Power]
	se       float64 // 0: none
}

func found(p float64) outcome  { return outcome{status: OK, power: p} }
func failed(s Status) outcome  { return outcome{status: s} }
func (o outcome) usable() bool { return o.status.Usable() }

// method is one way to read a curve.
type method struct {
	id     string
	source string // key in physiology.Sources, "" for common practice
	stages int    // fewest stages with lactate
	read   func(*reading) outcome
}

// reading is a curve with what several methods share: baseline and fits.
type reading struct {
	curve
	pair        baseline
	sigma       float64      // standard error of one lactate reading
	cubic       *cubic       // nil below five stages
	exponential *Exponential // nil where it does not fit
	loglog      outcome
}

func newReading(c curve, sigma units.Lactate) *reading {
	r := &reading{curve: c, pair: c.lowestPair(), sigma: float64(sigma), loglog: failed(TooFewStages)}
	if c.n() >= physiology.StagesForThreshold.Value {
		r.exponential = fitExponential(c.p, c.l)
	}
	if c.n() >= physiology.StagesForCurve.Value {
		r.cubic = fitCubic(c.p, c.l)
		r.loglog = r.breakOnLogs()
	}
	return r
}

// The IDs that the band threshold is made of.
const (
	idFirstRise   = "first_rise_0.3"
	idPlus03      = "baseline_plus_0.3"
	idPlus10      = "baseline_plus_1.0"
	idLogLog      = "loglog_continuous"
	idSegmented   = "segmented_linear"
	idPerWatt     = "min_lactate_per_watt_stage"
	idPerWattCube = "min_lactate_per_watt_cubic"
	idPerWattExp  = "min_lactate_per_watt_exp"
	idLogMod      = "log_moddmax_cubic"
	idOnset4      = "obla_4"
)

// firstMethods are the readings of the first threshold, in the order in which they are shown.
func firstMethods() []method {
	few, curved := physiology.StagesForThreshold.Value, physiology.StagesForCurve.Value
	return []method{
		{idFirstRise, "pallares2016", few, (*reading).firstRise},
		{idPlus03, "", few, plus(physiology.FirstRise.Value)},
		{"baseline_plus_0.4", "", few, plus(physiology.Rise04.Value)},
		{"baseline_plus_0.5", "pallares2016", few, plus(physiology.Rise05.Value)},
		{idPlus10, "coyle1983", few, plus(physiology.Rise10.Value)},
		{"min_baseline_plus_0.5", "", few, (*reading).plusOnLowest},
		{"exp_baseline_plus_0.5", "hughson1987", few, (*reading).plusOnExponential},
		{idLogLog, "beaver1985", curved, func(r *reading) outcome { return r.loglog }},
		{"loglog_split", "beaver1985", curved, (*reading).splitOnLogs},
		{idPerWatt, "berg1990", few, (*reading).perWattStage},
		{idPerWattCube, "dickhuth1999", curved, (*reading).perWattCubic},
		{idPerWattExp, "dickhuth1999", few, (*reading).perWattExponential},
		{idSegmented, "", curved, (*reading).segmented},
	}
}

// run reads the curve by a method.
func (m method) run(r *reading) outcome {
	if r.n() < m.stages {
		return failed(TooFewStages)
	}
	return m.read(r)
}

// firstRise is the highest stage that is not yet 0.3 mmol/L above the baseline; the threshold
// lies between it and the next.
func (r *reading) firstRise() outcome {
	limit := r.pair.level + float64(physiology.FirstRise.Value)
	for k := r.n() - 1; k >= 0; k-- {
		if above(r.l[k], limit) {
			continue
		}
		if k == r.n()-1 {
			return failed(NotReached)
		}
		o := found(r.p[k])
		o.interval = &units.Range[units.Power]{Low: units.Power(r.p[k]), High: units.Power(r.p[k+1])}
		return o
	}
	return failed(AlreadyAbove)
}

// plus is the last upward crossing of the baseline plus a rise, on straight lines between stages.
func plus(rise units.Lactate) func(*reading) outcome {
	return func(r *reading) outcome { return r.crossing(r.pair.level+float64(rise), r.pair.stages) }
}

func (r *reading) plusOnLowest() outcome {
	low := r.lowestStage()
	return r.crossing(low.level+float64(physiology.Rise05.Value), low.stages)
}

// crossing is the last upward crossing of a level, with the standard error that the lactate of
// the two stages around it, and of those behind the level, gives.
func (r *reading) crossing(level float64, behind []int) outcome {
	at := -1
	for i := range r.n() - 1 {
		if r.passes(i, level) {
			at = i
		}
	}
	if at < 0 {
		return r.beyond(level)
	}
	w := max(0, (level-r.l[at])/(r.l[at+1]-r.l[at]))
	o := found(r.p[at] + float64(w*(r.p[at+1]-r.p[at])))
	o.se = r.crossingError(at, w, o.power, behind)
	return o
}

// beyond tells on which side of the tested powers a level lies.
func (r *reading) beyond(level float64) outcome {
	if above(r.l[r.n()-1], level) {
		return failed(AlreadyAbove)
	}
	return failed(NotReached)
}

// passes reports whether the straight line from stage i to the next passes a level upwards: stage
// i is not yet above it, the next one is.
func (c curve) passes(i int, level float64) bool {
	return !above(c.l[i], level) && above(c.l[i+1], level)
}

// crossings counts how often straight lines between stages pass a level upwards.
func (c curve) crossings(level float64) (n int) {
	for i := range c.n() - 1 {
		if c.passes(i, level) {
			n++
		}
	}
	return n
}

// crossingError carries the error of single readings over to a crossing between stages at and
// at+1, w of the way along. The slope is the mean of the chord there and the exponential's
// derivative: the chord alone is too flat just after a bend and too steep just before.
func (r *reading) crossingError(at int, w, power float64, behind []int) float64 {
	g := make([]float64, r.n())
	g[at] += 1 - w
	g[at+1] += w
	for _, i := range behind {
		g[i] -= 1 / float64(len(behind))
	}
	slope := (r.l[at+1] - r.l[at]) / (r.p[at+1] - r.p[at])
	if r.exponential != nil {
		slope = (slope + r.exponential.slopeAt(power)) / 2
	}
	return r.sigma * math.Sqrt(dot(g, g)) / slope
}

// plusOnExponential is where the exponential comes to the baseline + 0.5.
func (r *reading) plusOnExponential() outcome {
	return r.onExponential(r.pair.level + float64(physiology.Rise05.Value))
}

// onExponential is where the exponential comes to a level, within the tested powers.
func (r *reading) onExponential(level float64) outcome {
	if r.exponential == nil {
		return failed(NoFit)
	}
	p, ok := r.exponential.where(level)
	switch {
	case !ok || p < r.p[0]:
		return failed(AlreadyAbove)
	case p > r.p[r.n()-1]:
		return failed(NotReached)
	}
	return found(p)
}

func (r *reading) logs() (x, y []float64) {
	x, y = make([]float64, r.n()), make([]float64, r.n())
	for i := range r.p {
		x[i], y[i] = math.Log10(r.p[i]), math.Log10(r.l[i])
	}
	return x, y
}

// breakOnLogs is the break of a continuous broken line through the logarithms.
func (r *reading) breakOnLogs() outcome {
	x, y := r.logs()
	o := bend(x, y)
	if o.usable() {
		o.power = math.Pow(10, o.power)
	}
	return o
}

// splitOnLogs is where two separate lines through the logarithms meet.
func (r *reading) splitOnLogs() outcome {
	b, ok := fitSplit(r.logs())
	if !ok {
		return failed(NoBreak)
	}
	return found(math.Pow(10, b.at))
}

// segmented is the break of a broken line through the readings themselves. It finds the steep
// part of the curve, far above the first threshold, and is shown beside the others only.
func (r *reading) segmented() outcome { return bend(r.p, r.l) }

// bend is the break of the continuous broken line of least squares.
func bend(x, y []float64) outcome {
	b := fitBroken(x, y)
	switch {
	case !b.bends(x):
		return failed(NoBreak)
	case atEdge(x, b):
		return failed(Edge)
	}
	o := found(b.at)
	if b.ambiguous {
		o.status = Ambiguous
	}
	return o
}

// perWattStage is the stage with the least lactate per watt.
func (r *reading) perWattStage() outcome {
	k := r.lowestPerWatt()
	o := found(r.p[k])
	if k == 0 || k == r.n()-1 {
		o.status = Edge
		return o
	}
	o.interval = &units.Range[units.Power]{Low: units.Power(r.p[k-1]), High: units.Power(r.p[k+1])}
	return o
}

func (r *reading) perWattCubic() outcome {
	if r.cubic == nil {
		return failed(NoFit)
	}
	return r.lowestPerWattOn(r.cubic.at)
}

func (r *reading) perWattExponential() outcome {
	if r.exponential == nil {
		return failed(NoFit)
	}
	return r.lowestPerWattOn(func(p float64) float64 { return float64(r.exponential.At(units.Power(p))) })
}

// curveSteps is how finely a fitted curve is searched before a point is refined.
const curveSteps = 128

// lowestPerWattOn is the lowest lactate per watt of a fitted curve within the tested powers.
func (r *reading) lowestPerWattOn(f func(float64) float64) outcome {
	ratio := func(p float64) float64 { return f(p) / p }
	a, b := r.p[0], r.p[r.n()-1]
	k := lowest(ratio, a, b, curveSteps)
	if k == 0 || k == curveSteps {
		return failed(Edge)
	}
	step := (b - a) / curveSteps
	return found(golden(ratio, a+float64(float64(k-1)*step), a+float64(float64(k+1)*step)))
}

// guard takes a break, or a lowest lactate per watt, that lies above the baseline + 1.0 for what
// it is: the second bend of the curve. It is shown and not used.
func guard(methods []method, outcomes []outcome) {
	limit := 0.0
	for i, m := range methods {
		if m.id == idPlus10 && outcomes[i].usable() {
			limit = outcomes[i].power
		}
	}
	if limit == 0 {
		return
	}
	for i, m := range methods {
		switch m.id {
		case idLogLog, "loglog_split", idPerWatt, idPerWattCube, idPerWattExp:
			if outcomes[i].usable() && above(outcomes[i].power, limit) {
				outcomes[i].status = Guarded
			}
		}
	}
}
