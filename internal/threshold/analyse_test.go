package threshold_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"towpath/internal/diag"
	"towpath/internal/threshold"
	"towpath/internal/units"
)

var missing = math.NaN()

func codes(found diag.List) (out []string) {
	for _, d := range found {
		out = append(out, d.Code)
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// statusOf reads a made-up test and gives the status of one method.
func statusOf(t *testing.T, powers, lactate []float64, id string) threshold.Status {
	t.Helper()
	r, found := threshold.Analyse(stepTest(powers, lactate, nil, nil))
	noErrors(t, found)
	m := r.Method(id)
	if m == nil {
		t.Fatalf("no method %s", id)
	}
	if m.Status.Usable() && m.Power == nil {
		t.Errorf("%s is %s without a power", id, m.Status)
	}
	return m.Status
}

func TestStatuses(t *testing.T) {
	t.Parallel()
	rising := []float64{1.0, 1.0, 1.1, 1.3, 1.9, 3.1, 5.2, 8.0}
	p := steps(100, 25, 8)
	for _, c := range []struct {
		name    string
		lactate []float64
		id      string
		want    threshold.Status
	}{
		{"clear rise", rising, "baseline_plus_0.3", threshold.OK},
		{"level never reached", []float64{1, 1, 1.1, 1.3, 1.9, 2.2, 2.4, 2.6}, "obla_4", threshold.NotReached},
		{"no rise at all", []float64{1, 1, 1.1, 1.1, 1.1, 1.2, 1.2, 1.2}, "baseline_plus_0.3", threshold.NotReached},
		{"no rise at all", []float64{1, 1, 1.1, 1.1, 1.1, 1.2, 1.2, 1.2}, "first_rise_0.3", threshold.NotReached},
		{"starts above 2", []float64{2.3, 2.2, 2.3, 2.4, 2.8, 3.4, 4.8, 7.0}, "obla_2", threshold.AlreadyAbove},
		{"stopped early", []float64{1, 1, 1, 1, 1.1, 1.2, 1.5, 1.8}, "dmax_exp", threshold.StoppedEarly},
		{"rises from the start", []float64{1, 1.5, 2.1, 2.9, 3.8, 4.9, 6.2, 7.8}, "min_lactate_per_watt_cubic", threshold.Edge},
		{"straight line", []float64{1, 2, 3, 4, 5, 6, 7, 8}, "exp_baseline_plus_0.5", threshold.NoFit},
		{"straight line", []float64{1, 2, 3, 4, 5, 6, 7, 8}, "segmented_linear", threshold.NoBreak},
		{"no rise of 0.4", []float64{1, 1, 1.1, 1.3, 1.55, 1.9, 2.2, 2.5}, "moddmax_cubic_curve_ends", threshold.NoStart},
		{"four stages, straight lines", []float64{1, missing, 1.1, missing, 1.9, missing, 5, missing}, "baseline_plus_0.5", threshold.OK},
		{"four stages, cubic", []float64{1, missing, 1.1, missing, 1.9, missing, 5, missing}, "dmax_cubic_curve_ends", threshold.TooFewStages},
		{"four stages, exponential", []float64{1, missing, 1.1, missing, 1.9, missing, 5, missing}, "dmax_exp", threshold.OK},
		{"three stages", []float64{1, missing, missing, 1.1, missing, missing, 3, missing}, "baseline_plus_0.3", threshold.TooFewStages},
	} {
		t.Run(c.name+"/"+c.id, func(t *testing.T) {
			t.Parallel()
			if got := statusOf(t, p, c.lactate, c.id); got != c.want {
				t.Errorf("got %s, want %s", got, c.want)
			}
		})
	}
}

// TestLastStageCutShort: powers by hand, 200 W and then 220 W for 150 of 240 s: 212.5 W.
func TestLastStageCutShort(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		seconds units.Duration
		peak    units.Power
		used    int
	}{
		{240, 220, 9}, {230, 220, 9}, {150, 212.5, 9}, {120, 210, 9}, {119, 200 + 20*119./240, 8}, {60, 205, 8},
	} {
		test := stepTest(invented.power, invented.lactate, invented.heartRate, invented.effort)
		test.Stages[8].Duration = c.seconds
		r, found := threshold.Analyse(test)
		noErrors(t, found)
		if math.Abs(float64(r.PeakPower-c.peak)) > 1e-9 || r.StagesUsed != c.used {
			t.Errorf("%d s: got %s and %d stages, want %s and %d", c.seconds, r.PeakPower, r.StagesUsed, c.peak, c.used)
		}
		if last := r.Curve[len(r.Curve)-1].Power; c.used == 9 && last != r.PeakPower {
			t.Errorf("%d s: the last lactate stands at %s", c.seconds, last)
		}
	}
}

func TestRestIsApart(t *testing.T) {
	t.Parallel()
	p, l := append([]float64{0}, invented.power...), append([]float64{0.7}, invented.lactate...)
	h, e := append([]float64{58}, invented.heartRate...), append([]float64{6}, invented.effort...)
	with, found := threshold.Analyse(stepTest(p, l, h, e))
	noErrors(t, found)
	without, _ := threshold.Analyse(stepTest(invented.power, invented.lactate, invented.heartRate, invented.effort))
	if with.Rest == nil || *with.Rest.Lactate != 0.7 {
		t.Fatal("the rest is not kept")
	}
	with.Rest = nil
	if diff := cmp.Diff(without, with); diff != "" {
		t.Errorf("the rest changes the reading:\n%s", diff)
	}
}

// TestSpoiltReading: one lactate is left out, its heart rate is not.
func TestSpoiltReading(t *testing.T) {
	t.Parallel()
	l := slices.Clone(invented.lactate)
	l[2] = 6.8
	r, found := threshold.Analyse(stepTest(invented.power, l, invented.heartRate, nil))
	noErrors(t, found)
	if r.StagesUsed != 8 || !slices.Contains(codes(found), "lactate-suspect") {
		t.Errorf("used %d stages, said %v", r.StagesUsed, codes(found))
	}
	if r.Line.N != 7 { // the seven up to 2.9 mmol/L, the spoilt one among them
		t.Errorf("line over %d stages, want 7", r.Line.N)
	}
}

func TestSampleDelay(t *testing.T) {
	t.Parallel()
	for delay, want := range map[units.Duration]diag.Severity{0: -1, 30: -1, 45: diag.Warning, 60: diag.Warning, 61: diag.Error} {
		test := stepTest(invented.power, invented.lactate, invented.heartRate, nil)
		test.SampleDelay = delay
		_, found := threshold.Analyse(test)
		got := diag.Severity(-1)
		for _, d := range found {
			if d.Code == "sample-delay" {
				got = d.Severity
			}
		}
		if got != want {
			t.Errorf("%d s: got %d, want %d", delay, got, want)
		}
	}
}

func TestDeclaredLength(t *testing.T) {
	t.Parallel()
	test := stepTest(invented.power, invented.lactate, nil, nil)
	test.StageLength = 300
	if _, found := threshold.Analyse(test); !slices.Contains(codes(found), "stage-length") {
		t.Errorf("5 min declared, 4 min ridden: %v", codes(found))
	}
	for i := range test.Stages {
		test.Stages[i].Duration = 0 // not given: whole stages of the declared length
	}
	r, found := threshold.Analyse(test)
	noErrors(t, found)
	if r.PeakPower != 220 {
		t.Errorf("peak %s", r.PeakPower)
	}
	test.StageLength, test.Stages[8].Duration = 240, 150 // only the one that was cut short
	r, found = threshold.Analyse(test)
	noErrors(t, found)
	if r.PeakPower != 212.5 {
		t.Errorf("a last stage cut short, the others not told: peak %s", r.PeakPower)
	}
}

// TestLevelOnAStage: a stage that is exactly at a level is not yet above it, also where the sum of
// binary fractions is not: 0.6 + 0.3 is a little less than 0.9 there.
func TestLevelOnAStage(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name   string
		rest   []float64 // lactate after two stages of 0.6
		status threshold.Status
		want   units.Power
	}{
		{"one stage", []float64{0.9, 1.5, 2.6}, threshold.OK, 140},
		{"the last of two", []float64{0.9, 0.9, 1.5, 2.6}, threshold.OK, 160},
		{"the last stage of all", []float64{0.7, 0.9}, threshold.NotReached, 0},
	} {
		lactate := append([]float64{0.6, 0.6}, c.rest...)
		powers := make([]float64, len(lactate))
		for i := range powers {
			powers[i] = float64(100 + 20*i)
		}
		r, _ := threshold.Analyse(stepTest(powers, lactate, nil, nil))
		m := r.Method("baseline_plus_0.3")
		if m.Status != c.status || m.Power != nil && math.Abs(float64(*m.Power-c.want)) > 1e-6 {
			t.Errorf("%s: got %s, %v; want %s, %s", c.name, m.Status, m.Power, c.status, c.want)
		}
	}
}

func TestEstimates(t *testing.T) {
	t.Parallel()
	r, found := threshold.Analyse(stepTest(invented.power, invented.lactate, invented.heartRate, invented.effort))
	noErrors(t, found)
	for _, id := range threshold.BandMethods() {
		e, err := r.EstimateBy(id)
		if err != nil {
			t.Errorf("%s: %v", id, err)
			continue
		}
		if e.Method != id || e.HeartRate == nil || math.Abs(float64(*e.HeartRate-r.Line.At(e.Power))) > 1e-9 {
			t.Errorf("%s: %+v", id, e)
		}
		m := r.Method(id)
		switch {
		case id == threshold.MedianOfThree:
			if len(e.Used) != 3 {
				t.Errorf("%s uses %v", id, e.Used)
			}
			if diff := cmp.Diff(r.Estimate, e); diff != "" {
				t.Errorf("the result's own estimate differs:\n%s", diff)
			}
		case m.SE != nil && e.SE != *m.SE:
			t.Errorf("%s: error %s, its own is %s", id, e.SE, *m.SE)
		case m.SE == nil && math.Abs(float64(e.SE-0.08*e.Power)) > 1e-9:
			t.Errorf("%s: error %s, want 8 %%", id, e.SE)
		}
	}
}

func TestEstimatesRefused(t *testing.T) {
	t.Parallel()
	p := steps(100, 25, 8)
	flat := []float64{1, 1, 1.1, 1.1, 1.1, 1.2, 1.2, 1.2}
	climbing := []float64{1, 1.5, 2.1, 2.9, 3.8, 4.9, 6.2, 7.8}
	for _, c := range []struct {
		lactate []float64
		method  string
		want    string
	}{
		{flat, threshold.MedianOfThree, "the test ended at 275 W"},
		{flat, "first_rise_0.3", "nothing is extrapolated"},
		{climbing, "min_lactate_per_watt_stage", "no turning point"},
		{climbing, "segmented_linear", "far above the first threshold"},
		{climbing, "obla_4", "far above the first threshold"},
		{climbing, "lab", `No method is called "lab"`},
		{[]float64{1, 1.2, 3, missing, missing, missing, missing, missing}, threshold.MedianOfThree, "more stages"},
	} {
		r, found := threshold.Analyse(stepTest(p, c.lactate, nil, nil))
		noErrors(t, found)
		e, err := r.EstimateBy(c.method)
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: got %v, %v; want words with %q", c.method, e, err, c.want)
		}
	}
	var none *threshold.Result
	if _, err := none.EstimateBy(threshold.MedianOfThree); err == nil {
		t.Error("an estimate of nothing")
	}
	// The break on logarithms of this open test lies above the baseline + 1.0.
	r := analyseFile(t, testdata+"/published/exscidata/rider-1-pre.csv")
	if _, err := r.EstimateBy("loglog_continuous"); err == nil || !strings.Contains(err.Error(), "second bend") {
		t.Errorf("guarded: %v", err)
	}
}

// TestFourStages: the exponential stands in for the cubic, and there is no break on logarithms.
func TestFourStages(t *testing.T) {
	t.Parallel()
	r, found := threshold.Analyse(stepTest([]float64{100, 130, 160, 190}, []float64{1.1, 1.1, 1.6, 3.6}, nil, nil))
	noErrors(t, found)
	if want := []string{"baseline_plus_0.3", "min_lactate_per_watt_exp"}; r.Estimate == nil || !slices.Equal(r.Estimate.Used, want) {
		t.Errorf("got %+v, want one made from %v", r.Estimate, want)
	}
	if r.Line != nil {
		t.Error("a line without heart rates")
	}
}

func TestBand(t *testing.T) {
	t.Parallel()
	e := &threshold.Estimate{Power: 200, SE: 10}
	share := func(v float64) *units.Share { s := units.Share(v); return &s }
	for _, c := range []struct {
		name           string
		strict         bool
		ceiling, floor *units.Share
		low, high      float64
	}{
		{"default", false, nil, nil, 0.75 * 193.255, 193.255},
		{"strict", true, nil, nil, 142.5, 190},
		{"ceiling as a share", false, share(0.95), nil, 142.5, 190},
		{"the coach's ceiling holds when strict", true, share(0.95), nil, 142.5, 190},
		{"floor as a share of the threshold", false, share(0.9), share(0.8), 160, 180},
		{"ceiling above the threshold", false, share(1.2), nil, 150, 200},
		{"floor above the ceiling", false, share(0.9), share(1.3), 180, 180},
	} {
		b := threshold.Band(e, c.strict, c.ceiling, c.floor)
		if math.Abs(float64(b.Low)-c.low) > 1e-9 || math.Abs(float64(b.High)-c.high) > 1e-9 {
			t.Errorf("%s: got %s, want %g to %g", c.name, b, c.low, c.high)
		}
	}
	if b := threshold.Band(&threshold.Estimate{Power: 100, SE: 500}, true, nil, nil); b.Low != 0 || b.High != 0 {
		t.Errorf("an error beyond the threshold: %s", b)
	}
}

// TestLineInterval: by hand for three stages on a line, 95 % of t with one degree of freedom
// (12.706), the least spread of 3 bpm, at the mean power: 12.706 * 3 * sqrt(1 + 1/3).
func TestLineInterval(t *testing.T) {
	t.Parallel()
	r, found := threshold.Analyse(stepTest([]float64{100, 120, 140, 160}, []float64{1, 1, 1.5, 4.5}, []float64{110, 118, 126, 140}, nil))
	noErrors(t, found)
	if r.Line.N != 3 || r.Line.From != 100 || r.Line.To != 140 || math.Abs(r.Line.Slope-0.4) > 1e-12 {
		t.Fatalf("line %+v", r.Line)
	}
	i := r.Line.Interval(120)
	if want := 12.7062 * 3 * math.Sqrt(4./3); math.Abs(float64(i.High-118)-want) > 0.001 || math.Abs(float64(118-i.Low)-want) > 0.001 {
		t.Errorf("got %v, want 118 ± %.3f", i, want)
	}
	p, se := r.Line.PowerAt(118)
	if want := 3 / 0.4 / math.Sqrt(3); math.Abs(float64(p)-120) > 1e-9 || math.Abs(float64(se)-want) > 1e-9 {
		t.Errorf("power at 118 bpm: %s ± %s, want 120 ± %.3f", p, se, want)
	}
}

// TestBenchMeterIsSurer: half the error of a reading, half the error of a crossing.
func TestBenchMeterIsSurer(t *testing.T) {
	t.Parallel()
	test := stepTest(invented.power, invented.lactate, nil, nil)
	hand, _ := threshold.Analyse(test)
	test.BenchMeter = true
	bench, _ := threshold.Analyse(test)
	a, b := hand.Method("baseline_plus_0.3").SE, bench.Method("baseline_plus_0.3").SE
	if math.Abs(float64(*a / *b)-2) > 1e-9 {
		t.Errorf("hand-held %s, bench %s", *a, *b)
	}
}

// TestLastCrossingCounts: 1.32 mmol/L is passed between 100 and 120 W and again between 140 and
// 160 W; by hand, the second time at 140 + 20 * 0.125 / 0.5.
func TestLastCrossingCounts(t *testing.T) {
	t.Parallel()
	r, found := threshold.Analyse(stepTest(steps(80, 20, 8), []float64{1.05, 1.00, 1.45, 1.20, 1.70, 2.6, 4.1, 6.6}, nil, nil))
	noErrors(t, found)
	if got := *r.Method("baseline_plus_0.3").Power; math.Abs(float64(got)-145) > 1e-9 {
		t.Errorf("got %s, want 145 W", got)
	}
	if !slices.Contains(codes(found), "lactate-crosses-twice") {
		t.Errorf("said %v", codes(found))
	}
}

// TestLineLeavesOutTheShortStage: its heart rate belongs to no power.
func TestLineLeavesOutTheShortStage(t *testing.T) {
	t.Parallel()
	test := stepTest(invented.power[:7], invented.lactate[:7], invented.heartRate[:7], nil)
	whole, _ := threshold.Analyse(test)
	test.Stages[6].Duration = 150
	short, _ := threshold.Analyse(test)
	if whole.Line.N != 7 || short.Line.N != 6 || short.Line.To != 160 {
		t.Errorf("lines over %d and %d stages", whole.Line.N, short.Line.N)
	}
}

// TestLineWithoutLactate: a stage of unknown lactate counts, but not above one that had too much.
func TestLineWithoutLactate(t *testing.T) {
	t.Parallel()
	for _, unknown := range []int{4, 6, 8} { // seven stages lie below 4 mmol/L
		lactate := slices.Clone(invented.lactate)
		lactate[unknown] = missing
		r, found := threshold.Analyse(stepTest(invented.power, lactate, invented.heartRate, nil))
		noErrors(t, found)
		if r.Line.N != 7 || r.Line.To != 180 {
			t.Errorf("stage %d without lactate: line over %d stages up to %s", unknown+1, r.Line.N, r.Line.To)
		}
	}
}

func TestSpacesInQuotes(t *testing.T) {
	t.Parallel()
	test, found := threshold.ParseCSV("q.csv", []byte("power_w,lactate_mmol_l\n100,\" 1,5 \"\n"))
	noErrors(t, found)
	if len(test.Stages) != 1 || test.Stages[0].Lactate == nil || *test.Stages[0].Lactate != 1.5 {
		t.Errorf("got %+v", test.Stages)
	}
}

// TestPlaces: a finding about a value of a plan's row points at the value where its place is known.
func TestPlaces(t *testing.T) {
	t.Parallel()
	test := stepTest(invented.power, invented.lactate, nil, nil)
	test.Stages[3].Power = 2200
	test.Stages[3].Places.Power.Filename = "test.hcl"
	test.Stages[3].Places.Power.Start.Line = 12
	_, found := threshold.Analyse(test)
	if len(found) != 1 || found[0].Subject.Start.Line != 12 || found[0].Subject.Filename != "test.hcl" {
		t.Errorf("got %+v", found)
	}
}
