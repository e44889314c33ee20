package physiology

import (
	"math"

	"towpath/internal/units"
)

// MeanOfTests is the mean of thresholds that as many tests gave, with its standard error: the
// larger of what the tests' own errors give, sqrt(sum of SE^2) / n, and what the tests differ by,
// their sample standard deviation / sqrt(n). Tests that agree by luck do not make a threshold surer
// than their errors allow; tests that differ say by how much. Own choice, no source.
func MeanOfTests(of, errors []units.Power) (mean, se units.Power) {
	n := float64(len(of))
	var sum, squares, spread float64
	for i, p := range of {
		sum += float64(p)
		squares += float64(errors[i] * errors[i])
	}
	for _, p := range of {
		d := float64(p) - sum/n
		spread += float64(d * d)
	}
	own, apart := math.Sqrt(squares)/n, 0.0
	if n > 1 {
		apart = math.Sqrt(spread/(n-1)) / math.Sqrt(n)
	}
	return units.Power(sum / n), units.Power(max(own, apart))
}
