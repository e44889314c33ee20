package prescription

import (
	"towpath/internal/physiology"
	"towpath/internal/schedule"
	"towpath/internal/units"
)

// slice is the longest part of a ramp that is reckoned at one power.
const slice = units.Duration(60)

// cost sums up a session's steps at the low, middle and high end of their targets.
type cost struct {
	*aim
	work, impulse     Three[float64]
	noWork, noImpulse bool // a step whose work or impulse cannot be told
}

// load predicts what a session costs; the steps are those of the pieces, the rating is the coach's
// or 0. Work is unknown where a step has no watts; the training impulse where the heart rate cannot be
// expected, the resting or maximal heart rate or the sex is unknown, or heart rate means nothing for
// this rider. A heart rate that the band's line puts above the maximum counts as the maximum. Seconds
// that an allowance lets the rider go all out are reckoned like riding at the ceiling: what they cost
// beyond it is small, and nobody can tell it beforehand.
func (a *aim) load(laid []piece, steps []Step, maximal bool, rating units.Effort) Load {
	c := &cost{aim: a}
	c.add(laid, steps, 1)
	out := Load{}
	if !c.noWork && len(steps) > 0 {
		out.Work = &Three[units.Energy]{units.Energy(c.work.Low), units.Energy(c.work.Mid), units.Energy(c.work.High)}
	}
	if !c.noImpulse && len(steps) > 0 {
		impulse := c.impulse
		out.TRIMP = &impulse
	}
	rpe := physiology.SessionLoad(a.minutes, physiology.SessionRating(a.minutes, maximal))
	out.SessionRPE = &rpe
	if rating > 0 {
		coach := physiology.SessionLoad(a.minutes, float64(rating))
		out.Coach = &coach
	}
	return out
}

func (c *cost) add(laid []piece, steps []Step, times int) {
	for i := range steps {
		s := &steps[i]
		if s.Kind == Rounds {
			c.add(laid[i].rounds, s.Steps, times*s.Times)
			continue
		}
		easy := s.Role != Work || c.below(&laid[i])
		for _, part := range c.parts(s) {
			c.addWork(part, times)
			c.addImpulse(s, part, easy, times)
		}
	}
}

// part is a stretch at one expected power; watts is nil where there is none.
type part struct {
	length units.Duration
	watts  *Three[float64]
}

// parts cuts a ramp into stretches at the power of their middle; other steps are one part. A
// falling ramp costs what the rising one does.
func (c *cost) parts(s *Step) []part {
	p := s.Targets.Power
	if s.Over != "" && s.AllOut && c.hasPower() {
		top := float64(c.band.Power.High)
		return []part{{s.Duration, &Three[float64]{top, top, top}}}
	}
	if p == nil {
		return []part{{length: s.Duration}}
	}
	low, high := float64(p.Low), float64(p.High)
	if s.Kind != Ramp {
		return []part{{s.Duration, &Three[float64]{low, (low + high) / 2, high}}}
	}
	var out []part
	for at := units.Duration(0); at < s.Duration; at += slice {
		length := min(slice, s.Duration-at)
		w := low + float64((high-low)*(float64(at)+float64(length)/2)/float64(s.Duration))
		out = append(out, part{length, &Three[float64]{w, w, w}})
	}
	return out
}

// addWork adds power times time, in kilojoules.
func (c *cost) addWork(p part, times int) {
	if p.watts == nil {
		c.noWork = true
		return
	}
	const joulesPerKilojoule = 1000
	k := float64(int(p.length)*times) / joulesPerKilojoule
	c.work.Low += float64(k * p.watts.Low)
	c.work.Mid += float64(k * p.watts.Mid)
	c.work.High += float64(k * p.watts.High)
}

func (c *cost) addImpulse(s *Step, p part, easy bool, times int) {
	beats, ok := c.beats(s, p, easy)
	if !ok {
		c.noImpulse = true
		return
	}
	length := p.length * units.Duration(times)
	for _, end := range []struct {
		sum   *float64
		beats float64
	}{{&c.impulse.Low, beats.Low}, {&c.impulse.Mid, beats.Mid}, {&c.impulse.High, beats.High}} {
		x, ok := physiology.HeartRateReserve(units.HeartRate(end.beats), c.athlete.HeartRate.Resting, c.athlete.HeartRate.Maximum)
		load, known := physiology.Impulse(c.athlete.Sex, x, length)
		if !ok || !known {
			c.noImpulse = true
			return
		}
		*end.sum += load
	}
}

// beats is the heart rate expected of a part: from its power where there is one, else that of the
// band. An easy step, one below the floor or beside the work, is then expected between half-way up
// from rest to the floor, and the floor.
func (c *cost) beats(s *Step, p part, easy bool) (h Three[float64], ok bool) {
	if !c.athlete.HeartRate.Usable || c.band == nil || s.Over == "" && (s.AllOut || s.Kind == Open) {
		return h, false
	}
	if p.watts != nil {
		low, ok := c.beatsAt(p.watts.Low)
		mid, _ := c.beatsAt(p.watts.Mid)
		high, _ := c.beatsAt(p.watts.High)
		return Three[float64]{low, mid, high}, ok
	}
	r := c.band.HeartRate
	if r == nil || c.leads == "power" {
		return h, false
	}
	low, high := float64(r.Low), float64(r.High)
	if easy {
		rest := float64(c.athlete.HeartRate.Resting)
		low, high = rest+float64(float64(physiology.EasyFrom.Value)*(float64(r.Low)-rest)), float64(r.Low)
	}
	return Three[float64]{low, (low + high) / 2, high}, true
}

// beatsAt is the heart rate expected at a power: from the test's line, else from the straight
// line through the band's two ends.
func (c *cost) beatsAt(watts float64) (float64, bool) {
	if h, ok := c.band.HeartRateAt(units.Power(watts)); ok {
		return float64(h), true
	}
	r, p := c.band.HeartRate, c.band.Power
	if r == nil || p.High <= p.Low {
		return 0, false
	}
	slope := float64(r.High-r.Low) / float64(p.High-p.Low)
	return float64(r.Low) + float64(slope*(watts-float64(p.Low))), true
}

// sumLoads adds up loads; what is unknown of one is unknown of the sum.
func sumLoads(sessions []Session) (total Load) {
	if len(sessions) == 0 {
		return total
	}
	total = Load{Work: &Three[units.Energy]{}, TRIMP: &Three[float64]{}, SessionRPE: new(float64), Coach: new(float64)}
	for i := range sessions {
		l := &sessions[i].Load
		total.Work = addThree(total.Work, l.Work)
		total.TRIMP = addThree(total.TRIMP, l.TRIMP)
		total.SessionRPE = addOne(total.SessionRPE, l.SessionRPE)
		total.Coach = addOne(total.Coach, l.Coach)
	}
	return total
}

func addOne(a, b *float64) *float64 {
	if a == nil || b == nil {
		return nil
	}
	sum := *a + *b
	return &sum
}

func addThree[T ~float64](a, b *Three[T]) *Three[T] {
	if a == nil || b == nil {
		return nil
	}
	return &Three[T]{a.Low + b.Low, a.Mid + b.Mid, a.High + b.High}
}

// sumWeeks gives each week its load and its monotony.
func sumWeeks(weeks []schedule.Week, sessions []Session) []Week {
	scale := scaleOf(sessions)
	out := make([]Week, 0, len(weeks))
	for i := range weeks {
		w := Week{Week: &weeks[i]}
		var in []Session
		for _, s := range sessions {
			if s.Week == weeks[i].Number {
				in = append(in, s)
			}
		}
		w.Load = sumLoads(in)
		if m, ok := monotony(&w, in, scale); ok {
			w.Monotony, w.MonotonyScale = &m, scale
		}
		out = append(out, w)
	}
	return out
}

// scaleOf is the scale on which the monotony of all of a block's weeks is reckoned.
func scaleOf(sessions []Session) Scale {
	all := sumLoads(sessions)
	switch {
	case all.Coach != nil:
		return CoachRating
	case all.TRIMP != nil:
		return TrainingImpulse
	}
	return SessionRPE
}

// monotony is reckoned over the week's seven dates, days without a ride at 0.
func monotony(w *Week, in []Session, scale Scale) (float64, bool) {
	daily := make([]float64, physiology.DaysOfMonotony.Value)
	for i := range in {
		day, l := in[i].Date.Sub(w.Start), in[i].Load
		switch {
		case day < 0 || day >= len(daily):
			return 0, false
		case scale == CoachRating && l.Coach != nil:
			daily[day] += *l.Coach
		case scale == TrainingImpulse && l.TRIMP != nil:
			daily[day] += l.TRIMP.Mid
		case scale == SessionRPE && l.SessionRPE != nil:
			daily[day] += *l.SessionRPE
		default:
			return 0, false
		}
	}
	return physiology.Monotony(daily)
}
