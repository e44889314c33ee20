package threshold_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"towpath/internal/diag"
	"towpath/internal/threshold"
	"towpath/internal/units"
)

// hinge is lactate that is flat up to a power and then rises as a power of it: on logarithms two
// straight lines, without noise.
func hinge(powers []float64, level, at, exponent float64) (l []float64) {
	for _, p := range powers {
		l = append(l, level*math.Pow(max(p/at, 1), exponent))
	}
	return l
}

func steps(first, step float64, n int) (p []float64) {
	for k := range n {
		p = append(p, first+step*float64(k))
	}
	return p
}

func TestHingeIsFound(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		step := rapid.Float64Range(10, 35).Draw(t, "step")
		powers := steps(rapid.Float64Range(60, 120).Draw(t, "first"), step, 9)
		at := rapid.Float64Range(powers[2], powers[5]).Draw(t, "hinge")
		level := rapid.Float64Range(0.7, 1.6).Draw(t, "level")
		// As steep as ends the test between 5 and 25 mmol/L.
		end := rapid.Float64Range(5, 25).Draw(t, "end")
		exponent := math.Log(end/level) / math.Log(powers[8]/at)
		l := hinge(powers, level, at, exponent)
		r, found := threshold.Analyse(stepTest(powers, l, nil, nil))
		if r == nil {
			t.Fatalf("refused: %v", found)
		}
		m := r.Method("loglog_continuous")
		if m.Power == nil || math.Abs(float64(*m.Power)-at) > 1e-4 {
			t.Errorf("break on logarithms: got %v (%s), want %.3f", m.Power, m.Status, at)
		}
		if first := r.Method("first_rise_0.3"); first.Interval != nil &&
			(float64(first.Interval.High) < at || float64(first.Interval.Low) > at+3*step) {
			t.Errorf("first rise %v, hinge %.1f", *first.Interval, at)
		}
	})
}

// TestHingeWithinAStep: an exponential after the hinge, as real curves have, without noise, ridden
// until 8 mmol/L: the band threshold is at most one step off.
func TestHingeWithinAStep(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		const step = 20.0
		powers := steps(80, step, 10)
		at := rapid.Float64Range(130, 200).Draw(t, "hinge")
		rate := rapid.Float64Range(0.04, 0.05).Draw(t, "rate")
		var l []float64
		for len(l) < len(powers) && (l == nil || l[len(l)-1] < 8) {
			l = append(l, 1+0.3*(math.Exp(rate*max(powers[len(l)]-at, 0))-1))
		}
		powers = powers[:len(l)]
		r, found := threshold.Analyse(stepTest(powers, l, nil, nil))
		if r == nil || r.Estimate == nil {
			t.Fatalf("no threshold: %v", found)
		}
		if off := float64(r.Estimate.Power) - at; math.Abs(off) > step {
			t.Errorf("hinge %.1f, band threshold %.1f by %v", at, float64(r.Estimate.Power), r.Estimate.Used)
		}
	})
}

// TestUnitsOfLactateDoNotMatter: methods that look at the curve's form alone stay where they are
// when all lactate is multiplied.
func TestUnitsOfLactateDoNotMatter(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		powers, l := curve(t)
		factor := rapid.Float64Range(0.8, 1.25).Draw(t, "factor")
		var scaled []float64
		for _, v := range l {
			scaled = append(scaled, v*factor)
		}
		a, foundA := threshold.Analyse(stepTest(powers, l, nil, nil))
		b, foundB := threshold.Analyse(stepTest(powers, scaled, nil, nil))
		if foundA.HasErrors() || foundB.HasErrors() || a.StagesUsed != len(l) || b.StagesUsed != len(l) {
			return // a spoilt reading is judged in mmol/L, so other stages may be left
		}
		for _, id := range []string{"loglog_continuous", "loglog_split", "segmented_linear", "min_lactate_per_watt_stage"} {
			x, y := a.Method(id), b.Method(id)
			if (x.Power == nil) != (y.Power == nil) || x.Power != nil && math.Abs(float64(*x.Power-*y.Power)) > 1e-3 {
				t.Errorf("%s: %v and %v", id, x.Power, y.Power)
			}
		}
	})
}

// curve draws a test as one could be measured: a rise with noise, rounded as a meter does.
func curve(t *rapid.T) (powers, l []float64) {
	n := rapid.IntRange(3, 13).Draw(t, "stages")
	powers = steps(float64(rapid.IntRange(50, 120).Draw(t, "first")), float64(rapid.IntRange(10, 45).Draw(t, "step")), n)
	at := rapid.Float64Range(powers[0]-20, powers[n-1]+20).Draw(t, "hinge")
	rate := rapid.Float64Range(0.005, 0.05).Draw(t, "rate")
	for _, p := range powers {
		noise := rapid.Float64Range(-0.25, 0.25).Draw(t, "noise")
		v := 1.2 + 0.3*(math.Exp(min(rate*max(p-at, 0), 4))-1) + noise
		l = append(l, math.Round(10*v)/10)
	}
	return powers, l
}

func TestThresholdsAndBandsKeepTheirBounds(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		powers, l := curve(t)
		var heart, effort []float64
		for i, p := range powers {
			heart = append(heart, 70+0.4*p+float64(i%3))
			effort = append(effort, min(20, 6+float64(i)))
		}
		test := stepTest(powers, l, heart, effort)
		r, found := threshold.Analyse(test)
		if (r == nil) != found.HasErrors() {
			t.Fatalf("result %v with %v", r, found)
		}
		if r == nil {
			return
		}
		low, high := units.Power(powers[0]), units.Power(powers[len(powers)-1])
		for _, m := range slices.Concat(r.First, r.Second) {
			if m.Status.Usable() && m.Power == nil {
				t.Errorf("%s is %s and has no power", m.ID, m.Status)
			}
			if m.Power == nil {
				continue
			}
			if *m.Power < low || *m.Power > high {
				t.Errorf("%s gives %s outside %s to %s", m.ID, *m.Power, low, high)
			}
			if m.Interval != nil && (m.Interval.Low < low || m.Interval.High > high || m.Interval.Low > *m.Power || m.Interval.High < *m.Power) {
				t.Errorf("%s gives %s in %s", m.ID, *m.Power, m.Interval)
			}
			if m.SE != nil && !(*m.SE > 0) {
				t.Errorf("%s has the error %s", m.ID, *m.SE)
			}
		}
		for _, id := range threshold.BandMethods() {
			e, err := r.EstimateBy(id)
			if err == nil {
				checkBand(t, e)
			} else if err.Error() == "" {
				t.Errorf("%s: an error without words", id)
			}
		}
	})
}

func checkBand(t *rapid.T, e *threshold.Estimate) {
	ceiling := units.Share(rapid.Float64Range(0.3, 1.5).Draw(t, "ceiling"))
	floor := units.Share(rapid.Float64Range(0.1, 1.5).Draw(t, "floor"))
	for _, c := range []*units.Share{nil, &ceiling} {
		for _, f := range []*units.Share{nil, &floor} {
			usual, strict := threshold.Band(e, false, c, f), threshold.Band(e, true, c, f)
			for _, b := range []units.Range[units.Power]{usual, strict} {
				if !(b.Low >= 0 && b.Low <= b.High && b.High <= e.Power) {
					t.Errorf("band %s of a threshold of %s", b, e.Power)
				}
			}
			if strict.High > usual.High {
				t.Errorf("strict %s above usual %s", strict, usual)
			}
		}
	}
}

func TestOrderOfStagesIsKept(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		powers, l := curve(t)
		i := rapid.IntRange(1, len(powers)-1).Draw(t, "stage")
		test := stepTest(powers, l, nil, nil)
		test.Stages[i], test.Stages[i-1] = test.Stages[i-1], test.Stages[i]
		r, found := threshold.Analyse(test)
		if r != nil || !slices.ContainsFunc(found, func(d diag.Diagnostic) bool { return d.Code == "stage-order" }) {
			t.Errorf("stages %d and %d changed over: %v", i, i+1, found)
		}
	})
}

func TestAnyValuesAreSurvived(t *testing.T) {
	t.Parallel()
	value := rapid.OneOf(rapid.Float64(), rapid.SampledFrom([]float64{0, math.NaN(), math.Inf(1), math.Inf(-1), -1, 1e308}), rapid.Float64Range(0, 400))
	rapid.Check(t, func(t *rapid.T) {
		var test threshold.StepTest
		for range rapid.IntRange(0, 8).Draw(t, "stages") {
			h, l := units.HeartRate(value.Draw(t, "heart")), units.Lactate(value.Draw(t, "lactate"))
			s := threshold.Stage{Power: units.Power(value.Draw(t, "power")), Duration: units.Duration(rapid.Int().Draw(t, "duration"))}
			if rapid.Bool().Draw(t, "measured") {
				s.HeartRate, s.Lactate = &h, &l
			}
			test.Stages = append(test.Stages, s)
		}
		test.StageLength = units.Duration(rapid.Int().Draw(t, "length"))
		r, found := threshold.Analyse(test)
		if (r == nil) != found.HasErrors() {
			t.Fatalf("result %v with %v", r, found)
		}
	})
}

// TestWaysOfWriting: one test, written with each separator, decimal mark, line end and order of
// columns, reads the same.
func TestWaysOfWriting(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		powers, l := curve(t)
		sep := rapid.SampledFrom([]string{",", ";", "\t"}).Draw(t, "separator")
		comma := rapid.Bool().Draw(t, "decimal comma")
		end := rapid.SampledFrom([]string{"\n", "\r\n", "\r"}).Draw(t, "line end")
		order := rapid.Permutation([]string{"stage", "power_w", "duration_s", "lactate_mmol_l", "heart_rate_bpm", "remark"}).Draw(t, "columns")
		text := strings.Join(order, sep) + end
		for i := range powers {
			values := map[string]string{
				"stage": fmt.Sprint(i + 1), "power_w": fmt.Sprint(powers[i]), "duration_s": "240",
				"lactate_mmol_l": fmt.Sprint(l[i]), "heart_rate_bpm": "", "remark": `"legs, ""heavy"""`,
			}
			if comma {
				v := strings.Replace(values["lactate_mmol_l"], ".", ",", 1)
				if sep == "," {
					v = `"` + v + `"`
				}
				values["lactate_mmol_l"] = v
			}
			var row []string
			for _, c := range order {
				row = append(row, rapid.SampledFrom([]string{"", " "}).Draw(t, "space")+values[c])
			}
			text += strings.Join(row, sep) + end
		}
		if rapid.Bool().Draw(t, "mark") {
			text = "\ufeff" + text
		}
		got, found := threshold.ParseCSV("steps.csv", []byte(text))
		if found.HasErrors() {
			t.Fatalf("%q: %v", text, found)
		}
		type plain struct {
			Power    units.Power
			Duration units.Duration
			Lactate  units.Lactate
		}
		var a, b []plain
		for i, s := range got.Stages {
			if s.HeartRate != nil || s.Effort != nil || s.Lactate == nil {
				t.Fatalf("stage %d: %+v", i, s)
			}
			a = append(a, plain{s.Power, s.Duration, *s.Lactate})
		}
		for i := range powers {
			b = append(b, plain{units.Power(powers[i]), 240, units.Lactate(l[i])})
		}
		if diff := cmp.Diff(b, a); diff != "" {
			t.Errorf("%q (-want +got):\n%s", text, diff)
		}
	})
}
