package threshold

import (
	"math"

	"towpath/internal/physiology"
	"towpath/internal/units"
)

// HeartRateLine is HR = Intercept + Slope * P, by least squares over complete stages.
type HeartRateLine struct {
	Intercept  units.HeartRate
	Slope      float64 // bpm per watt
	ResidualSE units.HeartRate
	N          int
	From, To   units.Power // the powers that carried the fit
	MeanPower  units.Power // their mean
	Sxx        float64     // sum of squared distances from that mean, W^2
}

// At is the line at p, without any clamp.
func (l HeartRateLine) At(p units.Power) units.HeartRate {
	return l.Intercept + units.HeartRate(float64(l.Slope*float64(p)))
}

// spread is the error of one reading about the line. A day's heart rate differs from another
// day's by more than a lucky line's residuals say, so it has a least value.
func (l HeartRateLine) spread() float64 {
	return float64(max(l.ResidualSE, physiology.LineErrorLeast.Value))
}

// Interval is the 95 % interval of one heart rate at p. With few stages it is very wide.
func (l HeartRateLine) Interval(p units.Power) units.Range[units.HeartRate] {
	d := float64(p - l.MeanPower)
	w := studentQuantile(float64(physiology.LineInterval.Value), l.N-2) * l.spread() *
		math.Sqrt(1+1/float64(l.N)+float64(d*d)/l.Sxx)
	h := l.At(p)
	return units.Range[units.HeartRate]{Low: h - units.HeartRate(w), High: h + units.HeartRate(w)}
}

// PowerAt is the power at which the line comes to h, with its standard error.
func (l HeartRateLine) PowerAt(h units.HeartRate) (p, se units.Power) {
	p = units.Power(float64(h-l.Intercept) / l.Slope)
	d := float64(p - l.MeanPower)
	se = units.Power(l.spread() / l.Slope * math.Sqrt(1/float64(l.N)+float64(d*d)/l.Sxx))
	return p, se
}

// fitHeartRate fits the line over complete stages: those up to LineUpTo where the coach set it,
// else those with at most 4 mmol/L, and those whose lactate is not known as long as no stage before
// them had more. Above, heart rate bends towards its maximum. It is nil with fewer than three, and
// where the line does not rise.
func (c *cleaned) fitHeartRate() *HeartRateLine {
	var x, y []float64
	high := false
	for i, s := range c.exercise {
		known := s.Lactate != nil && !c.suspect[i]
		over := known && *s.Lactate > physiology.LineLactate.Value
		high = high || over
		if s.HeartRate == nil || i == len(c.exercise)-1 && c.share < 1 {
			continue
		}
		if c.test.LineUpTo > 0 {
			if s.Power > c.test.LineUpTo {
				continue
			}
		} else if over || high && !known {
			continue
		}
		x, y = append(x, float64(s.Power)), append(y, float64(*s.HeartRate))
	}
	n := len(x)
	if n < physiology.LineStages.Value {
		return nil
	}
	f := fitLine(x, y)
	if !(f.b > 0) {
		return nil
	}
	l := &HeartRateLine{
		Intercept: units.HeartRate(f.a), Slope: f.b, N: n,
		ResidualSE: units.HeartRate(math.Sqrt(f.rss / float64(n-2))),
		From:       units.Power(x[0]), To: units.Power(x[n-1]),
		MeanPower: units.Power(sum(x) / float64(n)),
	}
	for _, p := range x {
		d := p - float64(l.MeanPower)
		l.Sxx += float64(d * d)
	}
	return l
}

// between interpolates the stages' heart rates at p; ok is false outside them.
func (c *cleaned) between(p units.Power) (h units.HeartRate, ok bool) {
	var before *Stage
	for i := range c.exercise {
		s := &c.exercise[i]
		if s.HeartRate == nil {
			continue
		}
		if before != nil && p >= before.Power && p <= s.Power {
			w := float64((p - before.Power) / (s.Power - before.Power))
			return *before.HeartRate + units.HeartRate(float64(w*float64(*s.HeartRate-*before.HeartRate))), true
		}
		before = s
	}
	return 0, false
}

// studentQuantile is the t with P(|T| < t) = share, for n degrees of freedom. The distribution
// for whole n is the finite sum of Abramowitz and Stegun, Handbook of Mathematical Functions,
// 26.7.3 and 26.7.4.
func studentQuantile(share float64, n int) float64 {
	low, high := 0.0, 1.0
	for studentWithin(high, n) < share {
		high *= 2
	}
	return bisect(func(t float64) float64 { return studentWithin(t, n) - share }, low, high)
}

// studentWithin is P(|T| < t) for n degrees of freedom.
func studentWithin(t float64, n int) float64 {
	theta := math.Atan(t / math.Sqrt(float64(n)))
	sin, cos := math.Sincos(theta)
	if n%2 == 0 {
		term, total := 1.0, 1.0
		for k := 2; k <= n-2; k += 2 {
			term *= cos * cos * float64(k-1) / float64(k)
			total += term
		}
		return sin * total
	}
	if n == 1 {
		return 2 * theta / math.Pi
	}
	term, total := cos, cos
	for k := 3; k <= n-2; k += 2 {
		term *= cos * cos * float64(k-1) / float64(k)
		total += term
	}
	return 2 / math.Pi * (theta + float64(sin*total))
}

// normalQuantile is the z with P(|Z| < z) = share.
func normalQuantile(share float64) float64 { return math.Sqrt2 * math.Erfinv(share) }
