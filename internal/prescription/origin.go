package prescription

import (
	"fmt"
	"math"

	"towpath/internal/diag"
	"towpath/internal/physiology"
	"towpath/internal/plan"
	"towpath/internal/units"
)

// These are the coach's sentences: where a target comes from, with the place in the text and the
// source of each number.

// givenOrigin tells of watts that stand in the plan, or in the test that is repeated.
func (a *aim) givenOrigin(p *piece, w units.Range[int]) *diag.Origin {
	o := &diag.Origin{What: fmt.Sprintf("%s: as written", watts(w)), Range: p.step.Range}
	switch {
	case p.stage != nil && p.step.Target == plan.OfThreshold && p.why == "":
		o.What = fmt.Sprintf("%s: stages rise from %s of the threshold, rounded to %s", watts(w), p.step.Share, physiology.StageRounding.Value)
	case p.stage != nil:
		o.What = fmt.Sprintf("%s: %s", watts(w), "a stage of the earlier test, repeated as it was")
		if p.stageAt.Filename != "" {
			o.Range = p.stageAt
		}
	}
	return o
}

// powerOrigin tells how a power target was made.
func (a *aim) powerOrigin(p *piece, w units.Range[int], upper units.Power, widened bool) *diag.Origin {
	b := a.band
	o := &diag.Origin{Range: p.step.Range, From: []diag.Origin{b.Origin}}
	floor, ceiling := oneDecimal(b.Power.Low), oneDecimal(b.Power.High)
	switch p.step.Target {
	case plan.Below:
		o.What = fmt.Sprintf("%s: below the floor, from %s of the threshold %s to the floor %s", watts(w), physiology.BelowFrom.Value, oneDecimal(b.Threshold), floor)
	case plan.OfThreshold:
		o.What = fmt.Sprintf("%s: %s of the threshold %s", watts(w), p.step.Share, oneDecimal(b.Threshold))
		if !b.ThresholdKnown {
			o.What += ", which no test gave: it was taken from the ceiling"
		}
	default:
		o.What = fmt.Sprintf("%s: %s", watts(w), position(p.step.Share, floor, ceiling))
		if written := b.Power.Low + units.Power(float64(p.step.Share.High)*float64(b.Power.High-b.Power.Low)); written > upper+slack {
			o.What += fmt.Sprintf("; held to %s because the ride takes %s", oneDecimal(upper), a.minutes)
			o.From = append(o.From, a.capOrigin(p.late))
		}
	}
	if widened {
		o.What += fmt.Sprintf("; widened downwards to %d W, so that it can be ridden", w.High-w.Low)
	}
	return o
}

// capOrigin tells why the upper watts of a long ride are lower.
func (a *aim) capOrigin(late bool) diag.Origin {
	share := units.Share(math.Round(float64(a.cap(late)/a.band.Threshold)*1000) / 1000)
	n := physiology.LongRideCap
	if own := a.band.LongRides; own != nil {
		return diag.Origin{What: fmt.Sprintf("in a ride of %s at most %s of the threshold: the coach allows %s in long rides", a.minutes, share, own.Value), Range: own.Range}
	}
	o := diag.Origin{What: fmt.Sprintf("in a ride of %s at most %s of the threshold: it sinks while one rides; how far is our reading", a.minutes, share), SourceKey: n.Source}
	if late && a.minutes > physiology.VeryLongRide.Value {
		o.What = fmt.Sprintf("after the first %s of a ride over %s at most %s of the threshold: it sinks while one rides; how far is our reading", physiology.FreshTime.Value, physiology.VeryLongRide.Value, share)
		o.SourceKey = physiology.VeryLongRideCap.Source
	}
	return o
}

// position says a part of the band in words.
func position(s units.Range[units.Share], floor, ceiling string) string {
	low, high := fraction(s.Low), fraction(s.High)
	switch {
	case s.Low == 0 && s.High == 1:
		return fmt.Sprintf("the whole band, from the floor %s to the ceiling %s", floor, ceiling)
	case s.Low == s.High:
		return fmt.Sprintf("%s of the way from the floor %s to the ceiling %s", high, floor, ceiling)
	case s.Low == 0:
		return fmt.Sprintf("from the floor %s to %s of the way to the ceiling %s", floor, high, ceiling)
	case s.High == 1:
		return fmt.Sprintf("from %s of the way between the floor %s and the ceiling %s up to the ceiling", low, floor, ceiling)
	}
	return fmt.Sprintf("%s to %s of the way from the floor %s to the ceiling %s", low, high, floor, ceiling)
}

// fraction says a share the way a coach does: 33 % is a third.
func fraction(s units.Share) string {
	switch math.Round(float64(s) * 100) {
	case 25:
		return "a quarter"
	case 33:
		return "a third"
	case 50:
		return "half"
	case 67:
		return "two thirds"
	case 75:
		return "three quarters"
	}
	return s.String()
}

func (a *aim) heartRateOrigin(what string, n int) *diag.Origin {
	return &diag.Origin{
		What:  fmt.Sprintf("at most %d bpm: %s, rounded down", n, what),
		Range: a.band.Range, From: []diag.Origin{a.band.Origin},
	}
}

func (a *aim) heartRateRangeOrigin(r units.Range[int]) *diag.Origin {
	return &diag.Origin{
		What:  fmt.Sprintf("%d-%d bpm: the heart rates at the floor and at the ceiling, rounded inwards; the whole band, because a heart rate cannot be held to a part of it", r.Low, r.High),
		Range: a.band.Range, From: []diag.Origin{a.band.Origin},
	}
}

func (a *aim) ratedOrigin(rated units.Effort, upper, n int) *diag.Origin {
	shown := units.Effort(math.Round(float64(rated)*100) / 100)
	return &diag.Origin{
		What: fmt.Sprintf("effort at most %d: the test's rating at %d W is %s, rounded up and kept between %s and %s",
			n, upper, shown, physiology.LowestEffortCap.Value, physiology.HighestEffortCap.Value),
		Range: a.band.Range, SourceKey: physiology.HighestEffortCap.Source,
	}
}

func (a *aim) bandEffortOrigin(r units.Range[units.Effort], n int) *diag.Origin {
	tenth := units.Map(r, func(e units.Effort) units.Effort { return units.Effort(math.Round(float64(e)*10) / 10) })
	return &diag.Origin{What: fmt.Sprintf("effort at most %d: the band's efforts are %s", n, tenth), Range: a.band.Range}
}

func usualEffortOrigin(n int) *diag.Origin {
	return &diag.Origin{
		What:      fmt.Sprintf("effort at most %d: usual at the first threshold, as the rider's own test has no ratings there", n),
		SourceKey: physiology.UsualEffortCap.Source,
	}
}

func watts(w units.Range[int]) string {
	return units.Map(w, func(n int) units.Power { return units.Power(n) }).String()
}

// oneDecimal prints watts to a tenth, so that a coach can follow the sum.
func oneDecimal(p units.Power) string { return units.Power(math.Round(float64(p)*10) / 10).String() }
