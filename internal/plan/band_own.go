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
	out := &Band{Key: b.Key, Range: b.Header, From: b.From.V, Place: b.Place.V, Scale: 1, Caution: b.Caution.V}
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
	r.allowances(b, a, out)
	out.LongRides = longRides(b)
	out.Leads = leading(b, a, out)
	r.checkLeads(b, a, out)
	return out
}

// longRides is the coach's own cap of long rides, nil where the usual ones hold.
func longRides(b *spec.Band) *Limit[units.Share] {
	if !b.LongRides.Set {
		return nil
	}
	return &Limit[units.Share]{Value: b.LongRides.V, Written: true, Range: b.LongRides.Range}
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
		if b.HeartRate.Set {
			out.Origin = diag.Origin{What: fmt.Sprintf("band %s: %s, as the coach wrote it, and no watts", b.Key, b.HeartRate.V), Range: b.HeartRate.Range}
		} else if b.Effort.Set {
			out.Origin = diag.Origin{What: fmt.Sprintf("band %s: effort %s, as the coach wrote it, and no watts", b.Key, b.Effort.V), Range: b.Effort.Range}
		}
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
