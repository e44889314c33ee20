package physiology_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"towpath/internal/physiology"
	"towpath/internal/units"
)

func TestTargetCap(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct {
		name    string
		ride    units.Minutes
		ceiling units.Share
		late    bool
		want    units.Share
	}{
		{"short", 60, 0.95, false, 0.95},
		{"last without a cap", 105, 0.95, false, 0.95},
		{"half-way in", 120, 0.95, false, 0.925},
		{"whole", 135, 0.95, false, 0.90},
		{"at three hours", 180, 0.95, true, 0.90},
		{"over three hours, first part", 185, 0.95, false, 0.90},
		{"over three hours, later", 185, 0.95, true, 0.85},
		{"a low ceiling stays", 240, 0.80, true, 0.80},
		{"a low ceiling stays on the way in", 120, 0.88, false, 0.88},
	} {
		if got := physiology.TargetCap(tt.ride, tt.ceiling, tt.late); math.Abs(float64(got-tt.want)) > 1e-12 {
			t.Errorf("%s: got %v, want %v", tt.name, got, tt.want)
		}
	}
}

// Five minutes more never cost five watts, for any threshold up to 400 W.
func TestTargetCapIsGentle(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		threshold := rapid.Float64Range(60, 400).Draw(t, "threshold")
		ceiling := units.Share(rapid.Float64Range(0.7, 0.97).Draw(t, "ceiling"))
		ride := units.Minutes(rapid.IntRange(30, 400).Draw(t, "ride"))
		before, after := physiology.TargetCap(ride, ceiling, false), physiology.TargetCap(ride+5, ceiling, false)
		if after > before || float64(before-after)*threshold >= 5 || before > ceiling {
			t.Fatalf("%v min: %v, %v min: %v of %v W", ride, before, ride+5, after, threshold)
		}
	})
}
