package physiology_test

import (
	"math"
	"testing"

	"towpath/internal/physiology"
	"towpath/internal/units"
)

// The formula and its coefficients are Banister's (banister1991, page 408). The numbers were worked
// out by hand calculator from that formula, not taken from the chapter: the examples in the legends
// of its figures 9.5 and 9.6 do not follow its own equation, as others who quote them found. For
// the first number a public page prints 75.36, which is a slip of rounding.
func TestImpulse(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct {
		name              string
		minutes           units.Minutes
		beats, rest, most units.HeartRate
		sex               string
		want              float64
	}{
		{"45 min at 150 of 60-190, man", 45, 150, 60, 190, "male", 75.3302},
		{"60 min at 155 of 55-190, man", 60, 155, 55, 190, "male", 117.9399},
		{"120 min at 128 of 50-185, man", 120, 128, 50, 185, "male", 134.5549},
		{"120 min at 128 of 50-185, woman", 120, 128, 50, 185, "female", 156.4899},
		{"90 min at 122 of 52-174, woman", 90, 122, 52, 174, "female", 115.78},
	} {
		x, ok := physiology.HeartRateReserve(tt.beats, tt.rest, tt.most)
		got, known := physiology.Impulse(tt.sex, x, tt.minutes.Duration())
		if !ok || !known || math.Abs(got-tt.want) > 0.005 {
			t.Errorf("%s: got %.4f (%v, %v), want %.4f", tt.name, got, ok, known, tt.want)
		}
	}
}

// A mean heart rate loses load, because the function bends upwards: 30 min at 0.4 of the reserve
// and 30 min at 0.8 are 87.916, one hour at 0.6 is 72.9104.
func TestImpulseBends(t *testing.T) {
	t.Parallel()
	a, _ := physiology.Impulse("male", 0.4, 1800)
	b, _ := physiology.Impulse("male", 0.8, 1800)
	mean, _ := physiology.Impulse("male", 0.6, 3600)
	if math.Abs(a+b-87.916) > 0.001 || math.Abs(mean-72.9104) > 0.001 {
		t.Errorf("got %.4f and %.4f, want 87.9160 and 72.9104", a+b, mean)
	}
}

func TestImpulseUnknown(t *testing.T) {
	t.Parallel()
	if got, ok := physiology.Impulse("", 0.5, 3600); ok {
		t.Errorf("no sex: got %v, want none", got)
	}
	for _, tt := range []struct{ rest, most units.HeartRate }{{0, 180}, {60, 0}, {60, 60}, {180, 60}} {
		if x, ok := physiology.HeartRateReserve(120, tt.rest, tt.most); ok {
			t.Errorf("rest %v, maximum %v: got %v, want none", tt.rest, tt.most, x)
		}
	}
	for _, tt := range []struct {
		beats units.HeartRate
		want  units.Share
	}{{40, 0}, {60, 0}, {200, 1}} {
		if got, _ := physiology.HeartRateReserve(tt.beats, 60, 180); got != tt.want {
			t.Errorf("%v: got %v, want %v", tt.beats, got, tt.want)
		}
	}
}

// The definition is that of foster1998: the daily mean over its standard deviation; which standard
// deviation the paper does not say. The weeks are of our own invention and were worked out by hand
// with the sample's.
func TestMonotony(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct {
		name  string
		daily []float64
		want  float64
		ok    bool
	}{
		{"two rest days", []float64{0, 180, 270, 180, 0, 540, 360}, 1.13, true},
		{"too even", []float64{180, 240, 210, 240, 180, 300, 240}, 5.4187, true},
		{"another week", []float64{0, 660, 990, 660, 0, 1320, 825}, 1.300, true},
		{"all days equal", []float64{60, 60, 60, 60, 60, 60, 60}, 0, false},
		{"equal but for rounding errors", []float64{0.3, 0.1 + 0.2, 0.3, 0.3, 0.3, 0.3, 0.3}, 0, false},
		{"no ride", make([]float64, 7), 0, false},
		{"six days", []float64{0, 1, 2, 3, 4, 5}, 0, false},
	} {
		got, ok := physiology.Monotony(tt.daily)
		if ok != tt.ok || math.Abs(got-tt.want) > 0.0005 {
			t.Errorf("%s: got %.4f, %v, want %.4f, %v", tt.name, got, ok, tt.want, tt.ok)
		}
	}
}

func TestSessionRating(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct {
		minutes units.Minutes
		maximal bool
		want    float64
	}{{30, false, 2}, {60, false, 2}, {65, false, 3}, {150, false, 3}, {155, false, 4}, {75, true, 7}} {
		if got := physiology.SessionRating(tt.minutes, tt.maximal); got != tt.want {
			t.Errorf("%s, maximal %v: got %v, want %v", tt.minutes, tt.maximal, got, tt.want)
		}
	}
	if got := physiology.SessionLoad(75, 7); got != 525 {
		t.Errorf("75 min rated 7: got %v, want 525", got)
	}
}
