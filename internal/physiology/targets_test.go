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
		own     units.Share
		want    units.Share
	}{
		{"short", 60, 0.95, false, 0, 0.95},
		{"last without a cap", 105, 0.95, false, 0, 0.95},
		{"half-way in", 120, 0.95, false, 0, 0.925},
		{"whole", 135, 0.95, false, 0, 0.90},
		{"at three hours", 180, 0.95, true, 0, 0.90},
		{"over three hours, first part", 185, 0.95, false, 0, 0.90},
		{"over three hours, later", 185, 0.95, true, 0, 0.85},
		{"a low ceiling stays", 240, 0.80, true, 0, 0.80},
		{"a low ceiling stays on the way in", 120, 0.88, false, 0, 0.88},
		{"the coach's own, half-way in", 120, 0.95, false, 0.85, 0.90},
		{"the coach's own, whole", 170, 0.95, false, 0.85, 0.85},
		{"the coach's own has no second step", 240, 0.95, true, 0.93, 0.93},
		{"the coach's own above the ceiling", 240, 0.90, true, 0.95, 0.90},
	} {
		if got := physiology.TargetCap(tt.ride, tt.ceiling, tt.late, tt.own); math.Abs(float64(got-tt.want)) > 1e-12 {
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
		before, after := physiology.TargetCap(ride, ceiling, false, 0), physiology.TargetCap(ride+5, ceiling, false, 0)
		if after > before || float64(before-after)*threshold >= 5 || before > ceiling {
			t.Fatalf("%v min: %v, %v min: %v of %v W", ride, before, ride+5, after, threshold)
		}
	})
}
