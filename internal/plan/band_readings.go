package plan

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"towpath/internal/diag"
	"towpath/internal/physiology"
	"towpath/internal/spec"
	"towpath/internal/threshold"
	"towpath/internal/units"
)

// readTests fills in what the band's tests say: each is read by itself, by the band's method; those
// of lactate and those of gas exchange are averaged, and then joined. The heart-rate line and the
// ratings are those of the newest step test. It is false where a test cannot be used.
func (r *resolver) readTests(b *spec.Band, a *Athlete, out *Band) bool {
	whole := true
	for _, ref := range b.Tests {
		t := r.tests[ref.V.Key]
		if t == nil || !r.mayBeRead(b, ref, t, a) {
			whole = false
			continue
		}
		if slices.ContainsFunc(out.Tests, func(x *TestReading) bool { return x.Key == t.Key }) {
			r.add(diag.Error, "band-tests", ref.Range, fmt.Sprintf("Band %q names test %q twice", b.Key, t.Key), "A test counts once. Leave one of them out.")
			whole = false
			continue
		}
		x := r.readForBand(b, t)
		if x == nil {
			whole = false
			continue
		}
		out.Tests = append(out.Tests, x)
	}
	if !whole || len(out.Tests) == 0 {
		return whole
	}
	slices.SortStableFunc(out.Tests, func(x, y *TestReading) int { return cmp.Compare(x.Date, y.Date) })
	for _, x := range out.Tests {
		out.TestDate, out.ThresholdRange, out.Meter = x.Date, x.Range, cmp.Or(x.Meter, out.Meter)
		if x.Result == nil {
			continue
		}
		out.Result, out.Line = x.Result, x.Result.Line
	}
	if len(out.Tests) > 1 {
		out.ThresholdRange = b.Tests[0].Range
	}
	switch {
	case out.Result == nil && b.Line != nil:
		r.withoutStepTest(b, "heart_rate_line", b.Line.Range)
	case out.Result == nil && b.Method.Set && b.Method.V != "lab":
		r.withoutStepTest(b, "method", b.Method.Range)
	case b.Line != nil && b.Line.UpTo.Set:
		r.shortenLine(b, out)
	}
	lactate, gas := out.byKind()
	var agree bool
	out.Estimate, agree = threshold.Join(lactate, gas)
	out.Threshold, out.ThresholdKnown = out.Estimate.Power, true
	if b.Threshold.Set {
		return true // which then holds, whatever the tests say
	}
	if !agree {
		r.disagree(b, out, lactate, gas)
	}
	r.farApart(b, out)
	return true
}

// withoutStepTest says that a value needs a step test.
func (r *resolver) withoutStepTest(b *spec.Band, name string, at diag.Range) {
	r.add(diag.Error, "value-without-effect", at, fmt.Sprintf("%s changes nothing in band %q", name, b.Key),
		"It says how a step test is read, and this band has none: of its tests the laboratory's own reading is taken. Leave it out.")
}

// mayBeRead refuses a test that is not the rider's own, and one of which nothing can be read.
func (r *resolver) mayBeRead(b *spec.Band, ref spec.Value[spec.Ref], t *spec.Test, a *Athlete) bool {
	test := diag.Related{Message: "the test", Range: t.Header}
	protocol := t.Protocol.V.Key
	switch {
	case !r.rides(t.Athlete, a):
		r.add(diag.Error, "other-athletes-test", ref.Range, fmt.Sprintf("Test %q was ridden by another athlete than band %q is for", t.Key, b.Key),
			fmt.Sprintf("A band comes from the rider's own test. The band is for %s.", a.Key), test)
	case protocol == gasProtocol && (t.ReadByLab == nil || !t.ReadByLab.FirstThreshold.Set):
		r.add(diag.Error, "no-lab-reading", ref.Range, fmt.Sprintf("Test %q holds no first threshold that the laboratory read", t.Key),
			"Of a test with breath gas a band takes what the laboratory read. Write it in the test, read_by_lab { first_threshold = \"…\" }, or leave the test out of the band.", test)
	case protocol != gasProtocol && !stepProtocols[protocol]:
		r.add(diag.Error, "band-protocol", ref.Range, fmt.Sprintf("Test %q is a %s: no band is read from one", t.Key, protocol),
			"A band is derived from a lactate step test. From another test, type what it showed: power = \"…\".", test)
	default:
		return true
	}
	return false
}

// readForBand reads one test by the band's method; nil where that gives no threshold.
func (r *resolver) readForBand(b *spec.Band, t *spec.Test) *TestReading {
	x := &TestReading{Key: t.Key, Meter: t.Meter.V.Key, Date: t.Date.V, Protocol: t.Protocol.V.Key, Range: place(t.Data, t.Header), Lab: labReading(t.ReadByLab)}
	if x.Protocol == gasProtocol {
		x.Estimate, x.Range = givenThreshold("lab", x.Lab.First), t.ReadByLab.FirstThreshold.Range
		return x
	}
	read := r.read(t)
	if read.result == nil {
		return nil
	}
	x.Result = read.result
	test := diag.Related{Message: "the test", Range: t.Header}
	method := b.Method.Or(threshold.MedianOfThree)
	if method == "lab" {
		if x.Lab == nil || x.Lab.First == 0 {
			r.add(diag.Error, "no-lab-reading", place(b.Method, b.Header), fmt.Sprintf("Test %q holds no reading of the laboratory", t.Key),
				"Write it in the test, read_by_lab { first_threshold = \"…\" }, or leave method out.", test)
			return nil
		}
		x.Estimate, x.Range = givenThreshold("lab", x.Lab.First), t.ReadByLab.FirstThreshold.Range
		return x
	}
	e, err := x.Result.EstimateBy(method)
	if err != nil {
		r.add(diag.Error, "no-threshold", place(b.Method, b.Header), fmt.Sprintf("Test %q gives no first threshold by %s", t.Key, method),
			err.Error()+" Type the band instead, power = \"…\", or test again.", test)
		return nil
	}
	x.Estimate = e
	return x
}

// disagree shows two kinds of test that lie too far apart for their mean to be used.
func (r *resolver) disagree(b *spec.Band, out *Band, lactate, gas *threshold.Estimate) {
	within := physiology.LactateGasAgree.Value
	r.add(diag.Advice, "thresholds-disagree", b.Tests[0].Range, fmt.Sprintf("The tests of band %q disagree: %.0f W from lactate, %.0f W from breath gas", b.Key, float64(lactate.Power), float64(gas.Power)),
		fmt.Sprintf("They lie more than %s apart, so the lower one holds, %.0f W. Ask which of them is in doubt, let talk decide on the road, or name the one that you trust alone: tests = [test.%s]. Own choice, no source for the %s.",
			within, float64(out.Estimate.Power), out.Tests[len(out.Tests)-1].Key, within))
}

// farApart remarks on tests between which a rider has become another.
func (r *resolver) farApart(b *spec.Band, out *Band) {
	first, last := out.Tests[0], out.Tests[len(out.Tests)-1]
	days, weeks := last.Date.Sub(first.Date), physiology.TestsTogether.Value/daysInWeek
	if days <= physiology.TestsTogether.Value {
		return
	}
	var newer []string
	for _, x := range out.Tests {
		if last.Date.Sub(x.Date) <= physiology.TestsTogether.Value {
			newer = append(newer, "test."+x.Key)
		}
	}
	r.add(diag.Advice, "tests-far-apart", b.Tests[0].Range, fmt.Sprintf("The tests of band %q lie %d weeks apart: %s on %s, %s on %s", b.Key, days/daysInWeek, first.Key, first.Date, last.Key, last.Date),
		fmt.Sprintf("Over more than %d weeks a rider changes, and a mean tells of neither day. Leave the older ones out: tests = [%s]. Own choice, no source for the %d weeks.",
			weeks, strings.Join(newer, ", "), weeks))
}

// byKind is the threshold of all tests of lactate and that of all tests with breath gas; nil where
// there is none.
func (b *Band) byKind() (lactate, gas *threshold.Estimate) {
	var l, g []*threshold.Estimate
	for _, x := range b.Tests {
		if x.Protocol == gasProtocol {
			g = append(g, x.Estimate)
		} else {
			l = append(l, x.Estimate)
		}
	}
	return threshold.Mean(l), threshold.Mean(g)
}

// givenThreshold is a threshold that nobody gave an error for: it has that of a single method.
func givenThreshold(method string, p units.Power) *threshold.Estimate {
	return &threshold.Estimate{
		Method: method, Power: p, Quality: "unknown",
		SE: units.Power(float64(p) * float64(physiology.SingleError.Value)),
	}
}

// shortenLine reads the newest step test again with the heart-rate line through the stages that the
// coach named. What else there is to say of the test was said with the first reading.
func (r *resolver) shortenLine(b *spec.Band, out *Band) {
	i := slices.IndexFunc(out.Tests, func(x *TestReading) bool { return x.Result == out.Result })
	first := r.readings[out.Tests[i].Key]
	steps := first.steps
	steps.LineUpTo = b.Line.UpTo.V
	out.Result, _ = threshold.Analyse(steps)
	out.Line, out.Tests[i].Result = out.Result.Line, out.Result
	if out.Line == nil {
		r.add(diag.Error, "no-heart-rate-line", b.Line.UpTo.Range, fmt.Sprintf("The stages of test %q up to %s give no line of heart rate over power", first.test.Key, b.Line.UpTo.V),
			fmt.Sprintf("A line needs %d complete stages with a heart rate, and it must rise. Write a higher power, or leave heart_rate_line out.", physiology.LineStages.Value),
			diag.Related{Message: "the test", Range: first.test.Header})
	}
}
