package threshold

import (
	"math"

	"towpath/internal/physiology"
	"towpath/internal/units"
)

// Products are rounded before they are added, float64(a*b) + c, so that no processor fuses the
// two and prints another last digit.

// straight is y = a + b x with its residual sum of squares.
type straight struct{ a, b, rss float64 }

// fitLine is ordinary least squares; it needs two different x.
func fitLine(x, y []float64) straight {
	n := float64(len(x))
	mx, my := sum(x)/n, sum(y)/n
	var sxx, sxy float64
	for i := range x {
		dx := x[i] - mx
		sxx += float64(dx * dx)
		sxy += float64(dx * (y[i] - my))
	}
	f := straight{b: sxy / sxx}
	f.a = my - float64(f.b*mx)
	for i := range x {
		r := y[i] - f.at(x[i])
		f.rss += float64(r * r)
	}
	return f
}

func (f straight) at(x float64) float64 { return f.a + float64(f.b*x) }

func sum(v []float64) (s float64) {
	for _, x := range v {
		s += x
	}
	return s
}

// regress solves the normal equations of y on the columns, at most four of them, with partial
// pivoting. ok is false where the columns do not determine the coefficients.
func regress(columns [][]float64, y []float64) (coef [4]float64, ok bool) {
	m := len(columns)
	var a [4][5]float64
	for r := range m {
		for c := range m {
			a[r][c] = dot(columns[r], columns[c])
		}
		a[r][m] = dot(columns[r], y)
	}
	for c := range m {
		pivot := c
		for r := c + 1; r < m; r++ {
			if math.Abs(a[r][c]) > math.Abs(a[pivot][c]) {
				pivot = r
			}
		}
		a[c], a[pivot] = a[pivot], a[c]
		if math.Abs(a[c][c]) < singular {
			return coef, false
		}
		for r := c + 1; r < m; r++ {
			f := a[r][c] / a[c][c]
			for k := c; k <= m; k++ {
				a[r][k] -= float64(f * a[c][k])
			}
		}
	}
	for r := m - 1; r >= 0; r-- {
		v := a[r][m]
		for k := r + 1; k < m; k++ {
			v -= float64(a[r][k] * coef[k])
		}
		coef[r] = v / a[r][r]
	}
	return coef, true
}

// singular is where a pivot of columns scaled to about 1 counts as nothing.
const singular = 1e-12

func dot(a, b []float64) (s float64) {
	for i := range a {
		s += float64(a[i] * b[i])
	}
	return s
}

// cubic is a third-degree polynomial in u, the power scaled to [-1, 1] over the tested range.
type cubic struct {
	c        [4]float64
	from, to float64
}

// fitCubic is least squares; nil where the stages do not determine it.
func fitCubic(p, l []float64) *cubic {
	f := &cubic{from: p[0], to: p[len(p)-1]}
	columns := make([][]float64, 4)
	for k := range columns {
		columns[k] = make([]float64, len(p))
	}
	for i, x := range p {
		u := f.scale(x)
		columns[0][i], columns[1][i], columns[2][i] = 1, u, float64(u*u)
		columns[3][i] = float64(float64(u*u) * u)
	}
	c, ok := regress(columns, l)
	if !ok {
		return nil
	}
	f.c = c
	return f
}

func (f *cubic) scale(p float64) float64   { return 2*(p-f.from)/(f.to-f.from) - 1 }
func (f *cubic) unscale(u float64) float64 { return f.from + float64((u+1)/2*(f.to-f.from)) }

func (f *cubic) at(p float64) float64 {
	u := f.scale(p)
	v := f.c[3]
	for k := 2; k >= 0; k-- {
		v = float64(v*u) + f.c[k]
	}
	return v
}

// furthestBelow is the point between a and b where the curve lies furthest below the straight
// line from (a, la) to (b, lb). The perpendicular distance has its maximum at the same point as
// the vertical one: where the curve is as steep as the chord.
func (f *cubic) furthestBelow(a, la, b, lb float64) (p float64, ok bool) {
	slope := (lb - la) / (f.scale(b) - f.scale(a))
	best := 0.0
	for _, u := range quadraticRoots(3*f.c[3], 2*f.c[2], f.c[1]-slope) {
		x := f.unscale(u)
		if x <= a || x >= b {
			continue
		}
		if depth := la + float64(slope*(u-f.scale(a))) - f.at(x); depth > best {
			p, best, ok = x, depth, true
		}
	}
	return p, ok
}

// quadraticRoots gives the real roots of a x^2 + b x + c, without cancellation; one where a is
// nothing beside b.
func quadraticRoots(a, b, c float64) []float64 {
	if math.Abs(a) <= singular*math.Abs(b) {
		if b == 0 {
			return nil
		}
		return []float64{-c / b}
	}
	d := float64(b*b) - float64(4*a*c)
	if d < 0 {
		return nil
	}
	q := -(b + math.Copysign(math.Sqrt(d), b)) / 2
	if q == 0 {
		return []float64{0}
	}
	return []float64{q / a, c / q}
}

// Exponential is lactate = A + B e^(C (P - From)).
type Exponential struct {
	A, B units.Lactate
	C    float64 // per watt
	From units.Power
}

// rateSteps is how finely the rate of the exponential is searched before it is refined.
const rateSteps = 64

// fitExponential searches the rate C on a logarithmic scale; for each rate the rest is a straight
// line. It is nil where the best rate lies at a bound or the curve does not rise.
func fitExponential(p, l []float64) *Exponential {
	bounds := physiology.ExponentialRate.Value
	low, high := math.Log(bounds.Low), math.Log(bounds.High)
	e := make([]float64, len(p))
	at := func(logC float64) straight {
		c := math.Exp(logC)
		for i := range p {
			e[i] = math.Exp(float64(c * (p[i] - p[0])))
		}
		return fitLine(e, l)
	}
	rss := func(logC float64) float64 { return at(logC).rss }
	k := lowest(rss, low, high, rateSteps)
	if k == 0 || k == rateSteps {
		return nil
	}
	step := (high - low) / rateSteps
	logC := golden(rss, low+float64(float64(k-1)*step), low+float64(float64(k+1)*step))
	f := at(logC)
	if !(f.b > 0) || math.IsInf(f.b, 0) {
		return nil
	}
	return &Exponential{A: units.Lactate(f.a), B: units.Lactate(f.b), C: math.Exp(logC), From: units.Power(p[0])}
}

func (e *Exponential) grow(p float64) float64 { return math.Exp(float64(e.C * (p - float64(e.From)))) }

// At is the curve at p.
func (e *Exponential) At(p units.Power) units.Lactate {
	return e.A + units.Lactate(float64(float64(e.B)*e.grow(float64(p))))
}

// slopeAt is the derivative at p, mmol/L per watt.
func (e *Exponential) slopeAt(p float64) float64 { return float64(e.B) * e.C * e.grow(p) }

// where is the power at which the curve comes to y; ok is false where it never does.
func (e *Exponential) where(y float64) (p float64, ok bool) {
	r := (y - float64(e.A)) / float64(e.B)
	if r <= 0 {
		return 0, false
	}
	return float64(e.From) + math.Log(r)/e.C, true
}

// furthestBelow is where the curve lies furthest below its own chord from a to b, in closed form.
func (e *Exponential) furthestBelow(a, b float64) float64 {
	mean := (e.grow(b) - e.grow(a)) / float64(e.C*(b-a))
	return float64(e.From) + math.Log(mean)/e.C
}

// lowest is the index from 0 to steps of the lowest of f's values at equal steps from a to b.
func lowest(f func(float64) float64, a, b float64, steps int) int {
	best, at := math.Inf(1), 0
	for k := 0; k <= steps; k++ {
		if v := f(a + float64(float64(k)/float64(steps)*(b-a))); v < best {
			best, at = v, k
		}
	}
	return at
}

// goldenSteps narrows an interval by a factor of about 10^8, where a flat minimum ends anyway.
const goldenSteps = 40

// golden finds the minimum of a function with one minimum between a and b.
func golden(f func(float64) float64, a, b float64) float64 {
	ratio := (math.Sqrt(5) - 1) / 2
	x1, x2 := b-float64(ratio*(b-a)), a+float64(ratio*(b-a))
	f1, f2 := f(x1), f(x2)
	for range goldenSteps {
		if f1 <= f2 {
			b, x2, f2 = x2, x1, f1
			x1 = b - float64(ratio*(b-a))
			f1 = f(x1)
		} else {
			a, x1, f1 = x1, x2, f2
			x2 = a + float64(ratio*(b-a))
			f2 = f(x2)
		}
	}
	return (a + b) / 2
}

// bisect finds where a function that is at most 0 at a and above 0 at b passes 0.
func bisect(f func(float64) float64, a, b float64) float64 {
	for range 60 {
		m := (a + b) / 2
		if f(m) <= 0 {
			a = m
		} else {
			b = m
		}
	}
	return (a + b) / 2
}
