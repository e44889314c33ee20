package threshold

import (
	"towpath/internal/diag"
	"towpath/internal/physiology"
	"towpath/internal/units"
)

// Analyse reads a step test. Where the test is refused the result is nil and the list says why;
// where a threshold was not reached or too few stages have a lactate, its status does.
func Analyse(t StepTest) (*Result, diag.List) {
	found := checkValues(t, nil)
	if found.HasErrors() {
		return nil, found
	}
	c, more := clean(t)
	if c != nil {
		found = checkValues(t, c.suspect)
	}
	found.Add(more...)
	if c == nil {
		return nil, found
	}
	res := c.read()
	found.Add(remarks(c, res)...)
	if found.HasErrors() {
		return nil, found
	}
	return res, found
}

// read runs all methods over a cleaned test.
func (c *cleaned) read() *Result {
	sigma := physiology.LactateErrorHandheld.Value
	if c.test.BenchMeter {
		sigma = physiology.LactateErrorBench.Value
	}
	res := &Result{
		StagesUsed: c.curve.n(), ReadError: sigma, Rest: c.rest, Line: c.fitHeartRate(),
		PeakPower: c.exercise[len(c.exercise)-1].Power, Efforts: c.efforts(), Curve: c.curve.points(),
	}
	if n := c.curve.n(); n > 0 {
		res.Lowest = units.Lactate(c.curve.lowestStage().level)
		res.LastStage = units.Power(c.curve.p[n-1])
	}
	r := newReading(c.curve, sigma)
	if c.curve.n() > 1 {
		res.Baseline = units.Lactate(r.pair.level)
	}
	res.Exponential = r.exponential

	methods := firstMethods()
	outcomes := make([]outcome, len(methods))
	for i, m := range methods {
		outcomes[i] = m.run(r)
	}
	guard(methods, outcomes)
	for i, m := range methods {
		res.First = append(res.First, res.shown(m, outcomes[i]))
	}
	early := c.curve.n() >= physiology.StagesForThreshold.Value && r.stoppedEarly()
	for _, m := range secondMethods() {
		o := failed(StoppedEarly)
		if !early {
			o = m.run(r)
		}
		res.Second = append(res.Second, res.shown(m, o))
	}
	if e, err := res.EstimateBy(MedianOfThree); err == nil {
		res.Estimate = e
	}
	return res
}

// shown is a method's outcome with the heart rate on the line.
func (r *Result) shown(m method, o outcome) Method {
	out := Method{ID: m.id, Status: o.status, Source: m.source, Interval: o.interval}
	if o.power == 0 {
		return out
	}
	p := units.Power(o.power)
	out.Power, out.HeartRate = &p, r.heartRateAt(p)
	if o.se > 0 {
		se := units.Power(o.se)
		out.SE = &se
		wide := units.Power(normalQuantile(float64(physiology.LineInterval.Value))) * se
		out.Interval = &units.Range[units.Power]{
			Low: max(p-wide, r.Curve[0].Power), High: min(p+wide, r.LastStage),
		}
	}
	return out
}

func (r *Result) heartRateAt(p units.Power) *units.HeartRate {
	if r.Line == nil {
		return nil
	}
	h := r.Line.At(p)
	return &h
}

// efforts are the ratings of the stages; one of a last stage too short to count is left out with
// its lactate.
func (c *cleaned) efforts() (out []EffortPoint) {
	for i, s := range c.exercise {
		if s.Effort == nil || i == len(c.exercise)-1 && c.share < physiology.LactateOfIncomplete.Value {
			continue
		}
		out = append(out, EffortPoint{s.Power, *s.Effort})
	}
	return out
}

func (c curve) points() (out []CurvePoint) {
	for i := range c.p {
		out = append(out, CurvePoint{units.Power(c.p[i]), units.Lactate(c.l[i])})
	}
	return out
}
