package prescription

import (
	"math"

	"towpath/internal/diag"
	"towpath/internal/physiology"
	"towpath/internal/plan"
	"towpath/internal/units"
)

// aim holds what the targets of one session are made from.
type aim struct {
	band    *plan.Band // nil where none is known
	athlete *plan.Athlete
	meter   bool // watts can be read: on the rider's own meter, or on the one of the test
	minutes units.Minutes
	test    bool   // a protocol: no cap for long rides
	beyond  bool   // beyond the band: a protocol whose work is not all inside it
	leads   string // "power", "heart_rate" or "effort"
}

// slack forgives the rounding errors of binary fractions: values are compared to a millionth.
const slack = 1e-6

// newAim settles what leads: what the band says, as far as the rider has it.
func newAim(athlete *plan.Athlete, of *Session, s *plan.Session, test *plan.TestDay) *aim {
	band := of.Band
	a := &aim{band: band, athlete: athlete, meter: athlete.PowerMeter, minutes: of.Minutes, test: s.Protocol, beyond: s.Protocol && !inBand(s.Steps), leads: "power"}
	if band != nil && band.Leads != "" {
		a.leads = band.Leads
	}
	if test != nil && (test.Meter != "" || of.Place == plan.Laboratory) { // there, whoever has no meter rides by watts
		a.meter = true
	}
	beats := band != nil && band.HeartRate != nil && athlete.HeartRate.Usable
	if a.leads == "power" && !a.hasPower() {
		a.leads = "heart_rate"
	}
	if a.leads == "heart_rate" && !beats {
		a.leads = "effort"
		if a.hasPower() {
			a.leads = "power"
		}
	}
	return a
}

func (a *aim) hasPower() bool {
	return a.band != nil && a.band.Power.High > 0 && a.meter
}

// targets gives the targets of a step: power, heart rate, effort, each with its origin.
func (a *aim) targets(p *piece) Targets {
	var t Targets
	if p.step.Target == plan.AllOut || p.step.Target == plan.Free {
		return t
	}
	t.Power, t.PowerOrigin = a.power(p)
	switch {
	case a.band == nil || p.step.Target == plan.Over || a.beyond && (t.Power != nil || p.role == Work && !p.first):
		return t // what leaves the band has its watts, and nothing that would hold it back
	case a.beyond:
		easy := *p
		if p.first {
			easy.step = &plan.Step{Target: plan.Below}
		}
		t.Effort, t.EffortOrigin = a.effort(&easy, nil)
		return t
	}
	t.HeartRate, t.HeartRateOrigin = a.heartRate(p)
	t.Effort, t.EffortOrigin = a.effort(p, a.fresh(p, t.Power))
	return t
}

// fresh is the power that a step would have in the first hours of the ride: the cap of effort
// does not fall when the watts of a very long ride do.
func (a *aim) fresh(p *piece, power *units.Range[int]) *units.Range[int] {
	if !p.late || power == nil {
		return power
	}
	early := *p
	early.late = false
	w, _ := a.power(&early)
	return w
}

// power gives the watts of a step; nil where there are none.
func (a *aim) power(p *piece) (*units.Range[int], *diag.Origin) {
	if p.stage != nil || p.step.Target == plan.Watts {
		r := p.step.Power
		if p.stage != nil {
			r = units.One(*p.stage)
		}
		w := Inwards(r, r.High)
		return &w, a.givenOrigin(p, w)
	}
	if !a.hasPower() {
		return nil, nil
	}
	if p.step.Target == plan.Over {
		return a.overPower(p)
	}
	ends, ceiling := a.watts(p)
	w := Inwards(ends, ceiling)
	ramp := p.step.Rising || p.step.Falling
	single := p.step.Target == plan.OfThreshold && p.step.Share.Low == p.step.Share.High
	widened := false
	if !ramp && !single {
		w, widened = widen(w)
	}
	return &w, a.powerOrigin(p, w, ends.High, widened)
}

// watts gives the ends of a step's power before rounding, and the highest value that they may
// take.
func (a *aim) watts(p *piece) (ends units.Range[units.Power], ceiling units.Power) {
	b := a.band
	floor, top := b.Power.Low, b.Power.High
	switch p.step.Target {
	case plan.Below:
		from := units.Power(float64(b.Threshold) * float64(physiology.BelowFrom.Value))
		return units.Range[units.Power]{Low: min(from, floor), High: floor}, top
	case plan.OfThreshold:
		ends = units.Map(p.step.Share, func(s units.Share) units.Power {
			return units.Power(float64(s) * float64(b.Threshold))
		})
		return ends, max(ends.High, top) // a share above the band is for a rule to judge, not for us to hide
	}
	ends = units.Map(p.step.Share, func(s units.Share) units.Power {
		return floor + units.Power(float64(s)*float64(top-floor))
	})
	if !a.test {
		top = a.cap(p.late)
	}
	ends.High = min(ends.High, max(top, 0))
	ends.Low = min(ends.Low, ends.High)
	return ends, top
}

// cap is the highest power of this ride: the ceiling, or less on a long one.
func (a *aim) cap(late bool) units.Power {
	b := a.band
	if b.Threshold <= 0 {
		return b.Power.High
	}
	var own units.Share
	if b.LongRides != nil {
		own = b.LongRides.Value
	}
	share := physiology.TargetCap(a.minutes, units.Share(b.Power.High/b.Threshold), late, own)
	return min(b.Power.High, units.Power(float64(share)*float64(b.Threshold)))
}

// Inwards rounds to the whole numbers inside a range, to a millionth. Where none lies inside, it is the
// nearest whole number that is not above the ceiling.
func Inwards[T ~float64](r units.Range[T], ceiling T) units.Range[int] {
	low, high := int(math.Ceil(float64(r.Low)-slack)), down(r.High)
	if low <= high {
		return units.Range[int]{Low: low, High: high}
	}
	middle := int(math.Floor((float64(r.Low)+float64(r.High))/2 + 0.5))
	return units.One(min(middle, down(ceiling)))
}

// down rounds down to a whole number.
func down[T ~float64](v T) int { return int(math.Floor(float64(v) + slack)) }

// widen moves the lower end of a range that is too narrow to ride in; the upper end stays.
func widen(w units.Range[int]) (units.Range[int], bool) {
	least := max(float64(physiology.NarrowestPower.Value), float64(physiology.NarrowestPowerShare.Value)*float64(w.High))
	low := max(1, int(math.Floor(float64(w.High)-least+slack)))
	if low >= w.Low {
		return w, false
	}
	return units.Range[int]{Low: low, High: w.High}, true
}

// below reports whether a step lies below the floor.
func (a *aim) below(p *piece) bool {
	switch p.step.Target {
	case plan.Below:
		return true
	case plan.OfThreshold:
		if a.band != nil && a.band.Power.Low > 0 && a.band.Threshold > 0 {
			return float64(p.step.Share.High)*float64(a.band.Threshold) <= float64(a.band.Power.Low)+slack
		}
		return p.role != Work
	}
	return false
}

// heartRate gives the beats of a step; nil where there are none. Where heart rate leads, work has
// the range of the whole band; everywhere else it is one number, at most.
func (a *aim) heartRate(p *piece) (*Bounds, *diag.Origin) {
	b := a.band
	if !a.athlete.HeartRate.Usable || b.HeartRate == nil || p.length < physiology.ShortestHeartRateStep.Value {
		return nil, nil
	}
	atMost := func(h units.HeartRate, what string) (*Bounds, *diag.Origin) {
		n := down(h)
		return &Bounds{High: n}, a.heartRateOrigin(what, n)
	}
	middle := b.HeartRate.Low + units.HeartRate(float64(physiology.BelowHeartRate.Value)*float64(b.HeartRate.High-b.HeartRate.Low))
	switch {
	case a.below(p):
		return atMost(middle, "the middle of the band's heart rates, for riding below the floor")
	case a.leads == "heart_rate" && p.role != Work:
		return atMost(middle, "the middle of the band's heart rates, for what is not the work")
	case a.leads == "heart_rate":
		r := Inwards(*b.HeartRate, b.HeartRate.High)
		return &Bounds{Low: &r.Low, High: r.High}, a.heartRateRangeOrigin(r)
	case b.Line == nil || b.TypedHeartRate.Filename != "" || b.HeartRateCap == nil:
		return atMost(b.HeartRate.High, "the top of the band's heart rates")
	}
	return atMost(*b.HeartRateCap, "the heart rate expected at the band threshold")
}

// effort gives the cap of effort: the rider's own rating at the upper watts, rounded up; where
// the test has none, the band's efforts; where that has none, what is usual.
func (a *aim) effort(p *piece, power *units.Range[int]) (*int, *diag.Origin) {
	lowest, highest := physiology.LowestEffortCap.Value, physiology.HighestEffortCap.Value
	if power != nil {
		if e, ok := a.band.EffortAt(units.Power(power.High)); ok {
			n := effortUp(min(max(e, lowest), highest))
			return &n, a.ratedOrigin(e, power.High, n)
		}
	}
	if r := a.band.Effort; r != nil {
		e := r.Low + units.Effort(a.place(p, power)*float64(r.High-r.Low))
		if a.band.Result != nil {
			e = min(max(e, lowest), highest)
		}
		n := effortUp(e)
		return &n, a.bandEffortOrigin(*r, n)
	}
	n := int(physiology.UsualEffortCap.Value)
	if a.below(p) {
		n = int(lowest)
	}
	return &n, usualEffortOrigin(n)
}

func effortUp(e units.Effort) int { return int(math.Ceil(float64(e) - slack)) }

// place is where the upper end of a step lies in the band, from 0 at the floor to 1 at the
// ceiling.
func (a *aim) place(p *piece, power *units.Range[int]) float64 {
	width := float64(a.band.Power.High - a.band.Power.Low)
	switch {
	case a.below(p):
		return 0
	case power != nil && width > 0:
		return min(max((float64(power.High)-float64(a.band.Power.Low))/width, 0), 1)
	case p.step.Target == plan.Position:
		return min(max(float64(p.step.Share.High), 0), 1)
	}
	return 1
}
