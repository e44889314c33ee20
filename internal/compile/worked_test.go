package compile_test

import (
	"math"
	"path/filepath"
	"testing"
)

// TestWorkedReading holds the archive named-method against figures that a script of ours worked
// out, which shares no code with the program: lowest lactate + 0.5 mmol/L by straight lines, the
// line of heart rate over power by least squares through the stages of 60 to 160 W.
func TestWorkedReading(t *testing.T) {
	_, res := planOf(t, filepath.Join("..", "..", "testdata", "compile", "named-method.txtar"))
	if len(res.Prescriptions) != 1 {
		t.Fatalf("got %d prescriptions: %v", len(res.Prescriptions), res.Findings)
	}
	band := res.Prescriptions[0].Block.Bands[0]
	rating, _ := band.Result.EffortAt(band.Threshold)
	for _, figure := range []struct {
		name      string
		got, want float64
		tolerance float64 // half of the last digit that was printed
	}{
		{"threshold, W", float64(band.Threshold), 141.8, 0.05},
		{"ceiling, W", float64(band.Power.High), 135, 0.5},
		{"floor, 70 % of the threshold, W", float64(band.Power.Low), 0.70 * 141.8, 0.05},
		{"line at 0 W, bpm", float64(band.Line.Intercept), 65.87, 0.005},
		{"line, bpm per W", band.Line.Slope, 0.4300, 0.00005},
		{"residual error, bpm", float64(band.Line.ResidualSE), 0.37, 0.005},
		{"heart rate at the threshold, bpm", float64(*band.HeartRateCap), 126.8, 0.05},
		{"heart rate at the ceiling, bpm", float64(band.HeartRate.High), 124, 0.5},
		{"effort at the threshold", float64(rating), 11.1, 0.05},
	} {
		if math.Abs(figure.got-figure.want) > figure.tolerance {
			t.Errorf("%s: got %.4f, want %.4f", figure.name, figure.got, figure.want)
		}
	}
}
