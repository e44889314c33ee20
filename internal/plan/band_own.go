package plan

import (
	"fmt"

	"towpath/internal/diag"
	"towpath/internal/physiology"
	"towpath/internal/spec"
	"towpath/internal/threshold"
	"towpath/internal/units"
)

// ownBand is a band that is derived from a test, or typed.
func (r *resolver) ownBand(b *spec.Band, a *Athlete) *Band {
	out := &Band{Key: b.Key, Range: b.Header, From: b.From.V, Scale: 1, Caution: b.Caution.V}
	if !r.readTests(b, a, out) {
		return nil
	}
	if out.From.IsZero() && !out.TestDate.IsZero() {
		out.From = out.TestDate.Add(1)
	}
	if b.Threshold.Set {
		out.Threshold, out.ThresholdKnown, out.ThresholdRange = b.Threshold.V, true, b.Threshold.Range
		out.Estimate = givenThreshold("typed", b.Threshold.V)
	}
	edges(b, a, out)
	beats(b, a, out)
	effort(b, out)
	out.Leads = leading(b, a, out)
	r.checkLeads(b, a, out)
	return out
}

// readTests fills in what the band's test says. It is false where the test cannot be used.
func (r *resolver) readTests(b *spec.Band, a *Athlete, out *Band) bool {
	if len(b.Tests) > 1 {
		r.add(diag.Error, "band-tests", b.Tests[1].Range, fmt.Sprintf("Band %q names %d tests", b.Key, len(b.Tests)),
			"A band is derived from one step test. Name the newest one; the others stay in the plan as history.")
		return false
	}
	for _, ref := range b.Tests {
		t := r.tests[ref.V.Key]
		if t == nil {
			return false
		}
		if !r.rides(t.Athlete, a) {
			r.add(diag.Error, "other-athletes-test", ref.Range, fmt.Sprintf("Test %q was ridden by another athlete than band %q is for", t.Key, b.Key),
				fmt.Sprintf("A band comes from the rider's own test. The band is for %s.", a.Key), diag.Related{Message: "the test", Range: t.Header})
			return false
		}
		if !stepProtocols[t.Protocol.V.Key] {
			r.add(diag.Error, "band-protocol", ref.Range, fmt.Sprintf("Test %q is a %s: no band is read from one", t.Key, t.Protocol.V.Key),
				"A band is derived from a lactate step test. From another test, type what it showed: power = \"…\".", diag.Related{Message: "the test", Range: t.Header})
			return false
		}
		reading := r.read(t)
		if reading.result == nil {
			return false
		}
		out.Result, out.TestDate = reading.result, t.Date.V
		if b.Line != nil && b.Line.UpTo.Set {
			out.Result = r.shorterLine(b, reading)
		}
		out.Line = out.Result.Line
		if !r.estimate(b, t, a, out) {
			return false
		}
	}
	return true
}

// estimate fills in the band threshold by the band's method.
func (r *resolver) estimate(b *spec.Band, t *spec.Test, a *Athlete, out *Band) bool {
	method := b.Method.Or("median_of_three")
	if method == "lab" {
		if t.ReadByLab == nil || !t.ReadByLab.FirstThreshold.Set {
			r.add(diag.Error, "no-lab-reading", place(b.Method, b.Header), fmt.Sprintf("Test %q holds no reading of the laboratory", t.Key),
				"Write it in the test, read_by_lab { first_threshold = \"…\" }, or leave method out.", diag.Related{Message: "the test", Range: t.Header})
			return false
		}
		out.Estimate = givenThreshold("lab", t.ReadByLab.FirstThreshold.V)
		out.ThresholdRange = t.ReadByLab.FirstThreshold.Range
	} else {
		e, err := out.Result.EstimateBy(method)
		if err != nil {
			r.add(diag.Error, "no-threshold", place(b.Method, b.Header), fmt.Sprintf("Test %q gives no first threshold by %s", t.Key, method),
				err.Error()+" Type the band instead, power = \"…\", or test again.", diag.Related{Message: "the test", Range: t.Header})
			return false
		}
		out.Estimate, out.ThresholdRange = e, place(t.Data, t.Header)
	}
	out.Threshold, out.ThresholdKnown = out.Estimate.Power, true
	return true
}

// givenThreshold is a threshold that nobody gave an error for: it has that of a single method.
func givenThreshold(method string, p units.Power) *threshold.Estimate {
	return &threshold.Estimate{
		Method: method, Power: p, Quality: "unknown",
		SE: units.Power(float64(p) * float64(physiology.SingleError.Value)),
	}
}

// shorterLine reads a test again with the heart-rate line through the stages that the coach
// named. What else there is to say of the test was said with the first reading.
func (r *resolver) shorterLine(b *spec.Band, first *reading) *threshold.Result {
	steps := first.steps
	steps.LineUpTo = b.Line.UpTo.V
	result, _ := threshold.Analyse(steps)
	if result.Line == nil {
		r.add(diag.Error, "no-heart-rate-line", b.Line.UpTo.Range, fmt.Sprintf("The stages of test %q up to %s give no line of heart rate over power", first.test.Key, b.Line.UpTo.V),
			fmt.Sprintf("A line needs %d complete stages with a heart rate, and it must rise. Write a higher power, or leave heart_rate_line out.", physiology.LineStages.Value),
			diag.Related{Message: "the test", Range: first.test.Header})
	}
	return result
}

// caution is the default: strict for riders whose figures say less.
func caution(a *Athlete, e *threshold.Estimate) string {
	if a.Background == "new" || a.Background == "returning" || e.Quality == "poor" {
		return "strict"
	}
	return "usual"
}

// edges sets floor and ceiling, and says where they come from.
func edges(b *spec.Band, a *Athlete, out *Band) {
	switch {
	case b.Power.Set:
		out.Power, out.TypedPower = b.Power.V, b.Power.Range
		out.Origin = diag.Origin{What: fmt.Sprintf("band %s: %s, as the coach wrote it", b.Key, b.Power.V), Range: b.Power.Range}
		if !out.ThresholdKnown {
			out.Threshold = units.Power(float64(out.Power.High) / float64(physiology.CeilingOfThreshold.Value))
		}
		out.Origin.From = []diag.Origin{thresholdOrigin(b, out)}
	case out.Estimate != nil:
		if out.Caution == "" {
			out.Caution = caution(a, out.Estimate)
		}
		out.Power = threshold.Band(out.Estimate, out.Caution == "strict", written(b.Ceiling), written(b.Floor))
		out.Origin = ceilingOrigin(b, out)
	default:
		out.Origin = diag.Origin{What: fmt.Sprintf("band %s has no watts", b.Key), Range: b.Header}
	}
}

// written is a share that the coach wrote, nil where the default holds.
func written(v spec.Value[units.Share]) *units.Share {
	if !v.Set {
		return nil
	}
	return &v.V
}

// beats sets the heart rates that belong to the band.
func beats(b *spec.Band, a *Athlete, out *Band) {
	if !a.HeartRate.Usable {
		out.Line = nil
		return
	}
	switch {
	case b.HeartRate.Set:
		out.HeartRate, out.TypedHeartRate = &b.HeartRate.V, b.HeartRate.Range
		out.HeartRateCap = &b.HeartRate.V.High
	case out.Line != nil && out.Power.High > 0:
		edges := units.Map(out.Power, out.Line.At)
		limit := out.Line.At(out.Threshold)
		out.HeartRate, out.HeartRateCap = &edges, &limit
	}
}

// effort sets the ratings that belong to the band.
func effort(b *spec.Band, out *Band) {
	if b.Effort.Set {
		out.Effort = &b.Effort.V
		return
	}
	if out.Result == nil {
		return
	}
	low, ok := out.Result.EffortAt(max(out.Power.Low, firstRated(out.Result)))
	high, ok2 := out.Result.EffortAt(out.Power.High)
	if ok && ok2 {
		out.Effort = &units.Range[units.Effort]{Low: low, High: high}
	}
}

// firstRated is the power of the first stage with a rating: below it the rating can only be lower,
// so the first one stands for a floor that the test did not reach down to. Above the last rating
// there is none.
func firstRated(r *threshold.Result) units.Power {
	if len(r.Efforts) == 0 {
		return 0
	}
	return r.Efforts[0].Power
}

// leads turns the plan's words to the key that goes with them.
func leads(words string) string {
	if words == "heart rate" {
		return "heart_rate"
	}
	return words
}

// leading decides which number rules: the coach's word, else watts where there is a meter, else
// beats, else effort.
func leading(b *spec.Band, a *Athlete, out *Band) string {
	switch {
	case b.Leads.Set:
		return leads(b.Leads.V)
	case a.PowerMeter && out.Power.High > 0:
		return "power"
	case out.HeartRate != nil:
		return "heart_rate"
	}
	return "effort"
}
