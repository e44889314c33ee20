package threshold

import "math"

// baseline is a resting level of the curve, with the stages it is the mean of.
type baseline struct {
	level  float64
	stages []int // positions in the curve
}

// lowestPair is the smallest mean of two neighbouring stages. It is steadier than the lowest
// stage, and a nervous first stage does not lift it.
func (c curve) lowestPair() (b baseline) {
	b.level = math.Inf(1)
	for i := 1; i < c.n(); i++ {
		if mean := (c.l[i-1] + c.l[i]) / 2; less(mean, b.level) {
			b = baseline{mean, []int{i - 1, i}}
		}
	}
	return b
}

// lowestStage is the lowest reading, the first of equals.
func (c curve) lowestStage() baseline {
	at := 0
	for i, l := range c.l {
		if l < c.l[at] {
			at = i
		}
	}
	return baseline{c.l[at], []int{at}}
}

// lowestPerWatt is the stage with the least lactate per watt, the first of equals.
func (c curve) lowestPerWatt() int {
	at := 0
	for i := range c.p {
		if less(c.l[i]/c.p[i], c.l[at]/c.p[at]) {
			at = i
		}
	}
	return at
}
