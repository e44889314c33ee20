package threshold

import (
	"math"

	"towpath/internal/physiology"
)

// broken is two straight lines that meet at x = at.
type broken struct {
	at        float64
	s1, s2    float64 // slopes before and after
	rss       float64
	knot      int  // index of the stage the break lies on, -1 between stages
	ambiguous bool // another break fits almost as well
}

// fitBroken finds the continuous broken line of least squares with its break between the second
// and the last but one x, exactly. While the break stays between two neighbouring x, the same
// points lie on either side, and the least squares are either where the two separate lines of
// those points meet, if that is between the two x, or at one of them (Hudson 1966, J Am Stat
// Assoc 61:1097; from memory). So it is enough to try the meeting points and the x themselves.
func fitBroken(x, y []float64) broken {
	n := len(x)
	best := broken{rss: math.Inf(1), knot: -1}
	var tried []broken
	for k := 1; k <= n-2; k++ {
		tried = append(tried, breakAt(x, y, x[k], k))
		if k+1 <= n-2 {
			if b := meeting(x, y, k+1); b.at > x[k] && b.at < x[k+1] {
				tried = append(tried, b)
			}
		}
	}
	for _, b := range tried {
		if less(b.rss, best.rss) {
			best = b
		}
	}
	for _, b := range tried {
		apart := math.Abs(b.at-best.at) > same*(x[n-1]-x[0])
		if apart && b.rss-best.rss < float64(physiology.AmbiguousFit.Value)*best.rss && turnsAt(x, y, b) {
			best.ambiguous = true
		}
	}
	return best
}

// bends reports whether the second line is the steeper one, by more than the last bits of flat
// readings make it.
func (b broken) bends(x []float64) bool {
	return float64((b.s2-b.s1)*(x[len(x)-1]-x[0])) > tolerance
}

// same is how close two breaks lie, as a share of the tested range, to be one.
const same = 1e-6

// less reports whether a, at least 0, is smaller than b by more than the last bits: of equals the first stays.
func less(a, b float64) bool { return a < float64(b*(1-equal))-nothing }

// equal is the relative distance below which two sums count as one, nothing the absolute one.
const (
	equal   = 1e-9
	nothing = 1e-15
)

// meeting fits separate lines to the first k points and to the rest.
func meeting(x, y []float64, k int) broken {
	left, right := fitLine(x[:k], y[:k]), fitLine(x[k:], y[k:])
	return broken{
		at: (left.a - right.a) / (right.b - left.b), s1: left.b, s2: right.b,
		rss: left.rss + right.rss, knot: -1,
	}
}

// breakAt fits y = a + s1 x + c max(x - t, 0) for a given t.
func breakAt(x, y []float64, t float64, knot int) broken {
	width := x[len(x)-1] - x[0]
	one, u, h := make([]float64, len(x)), make([]float64, len(x)), make([]float64, len(x))
	for i := range x {
		one[i], u[i], h[i] = 1, (x[i]-x[0])/width, max(x[i]-t, 0)/width
	}
	c, ok := regress([][]float64{one, u, h}, y)
	if !ok {
		return broken{at: t, rss: math.Inf(1), knot: knot}
	}
	b := broken{at: t, s1: c[1] / width, s2: (c[1] + c[2]) / width, knot: knot}
	for i := range x {
		r := y[i] - c[0] - float64(c[1]*u[i]) - float64(c[2]*h[i])
		b.rss += float64(r * r)
	}
	return b
}

// turnsAt reports whether the sum of squares has a minimum of its own at b: at a meeting point it
// always has; at a stage, a look to either side tells.
func turnsAt(x, y []float64, b broken) bool {
	if b.knot < 0 {
		return true
	}
	if atEdge(x, b) {
		return false
	}
	const near = 1e-3 // of the way to the neighbouring stage
	left := b.at - float64(near*(b.at-x[b.knot-1]))
	right := b.at + float64(near*(x[b.knot+1]-b.at))
	return breakAt(x, y, left, -1).rss >= b.rss && breakAt(x, y, right, -1).rss >= b.rss
}

// atEdge reports whether the break is the first or the last that was allowed.
func atEdge(x []float64, b broken) bool {
	n := len(x)
	near := same * (x[n-1] - x[0])
	return b.at <= x[1]+near || b.at >= x[n-2]-near
}

// fitSplit divides the points where two separate lines have the least sum of squares; ok is false
// where these do not meet between the two points they part, or the second is not steeper.
func fitSplit(x, y []float64) (b broken, ok bool) {
	best, at := broken{rss: math.Inf(1)}, 0
	for k := 2; k <= len(x)-2; k++ {
		if b := meeting(x, y, k); less(b.rss, best.rss) {
			best, at = b, k
		}
	}
	near := same * (x[len(x)-1] - x[0])
	ok = at > 0 && best.bends(x) && best.at >= x[at-1]-near && best.at <= x[at]+near
	return best, ok
}
