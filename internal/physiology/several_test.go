package physiology_test

import (
	"math"
	"testing"

	"towpath/internal/physiology"
	"towpath/internal/units"
)

func TestMeanOfTests(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct {
		name       string
		of, errors []units.Power
		mean, se   float64
	}{
		{"one test keeps its error", []units.Power{140}, []units.Power{9}, 140, 9},
		{"tests that agree", []units.Power{140, 140}, []units.Power{9, 12}, 140, 7.5},                   // sqrt(81 + 144) / 2
		{"tests that differ", []units.Power{130, 154}, []units.Power{3, 4}, 142, 12},                    // SD 16.97, / sqrt 2
		{"three, by their errors", []units.Power{139, 140, 141}, []units.Power{6, 6, 3}, 140, 3},        // 9 / 3
		{"three, by their distance", []units.Power{130, 140, 150}, []units.Power{6, 6, 3}, 140, 5.7735}, // 10 / sqrt 3
	} {
		mean, se := physiology.MeanOfTests(tt.of, tt.errors)
		if math.Abs(float64(mean)-tt.mean) > 1e-4 || math.Abs(float64(se)-tt.se) > 1e-4 {
			t.Errorf("%s: got %v, SE %v, want %v, %v", tt.name, mean, se, tt.mean, tt.se)
		}
	}
}
