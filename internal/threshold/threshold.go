// Package threshold reads a step test: stages go in (from a data file or from a plan), the first
// and second lactate thresholds by each method, the heart-rate line, and the low-intensity band
// with its standard error come out. It knows neither plans nor the text they are written in.
package threshold

import (
	"towpath/internal/diag"
	"towpath/internal/units"
)

// Stage is one stage of a step test. A nil value was not measured.
type Stage struct {
	Where     diag.Range // line of the data file, or the row in the plan
	Power     units.Power
	Duration  units.Duration
	HeartRate *units.HeartRate
	Lactate   *units.Lactate
	Effort    *units.Effort
}

// StepTest is a step test as measured.
type StepTest struct {
	Name        string // file name, for messages
	Where       diag.Range // where the plan names the test; zero for a file alone
	Stages      []Stage
	StageLength units.Duration // declared; 0: the median of the stages
	SampleDelay units.Duration // blood drawn this long after the stage's end, while riding on
	BenchMeter  bool           // laboratory analyser: smaller error of one reading
	LineUpTo    units.Power    // heart-rate line: leave out stages above; 0: by lactate
}

// Status tells how a method fared.
type Status string

// Method is one threshold estimate. Power is nil unless Status is OK.
type Method struct {
	ID        string // "baseline_plus_0.3", "loglog_continuous", ...
	Status    Status
	Power     *units.Power
	HeartRate *units.HeartRate // on the line, nil where there is none
	Interval  *units.Range[units.Power]
}

// Estimate is the band threshold: the median of three methods, or one named method.
type Estimate struct {
	Method  string // "median_of_three" or a method's ID
	Power   units.Power
	SE      units.Power // standard error
	Spread  units.Power // range over the methods that were used
	Quality string      // "good", "fair", "poor"
	Used    []string    // IDs of the methods used
}

// HeartRateLine is HR = Intercept + Slope * P, by least squares over complete stages.
type HeartRateLine struct {
	Intercept  units.HeartRate
	Slope      float64 // bpm per watt
	ResidualSE units.HeartRate
	N          int
	From, To   units.Power // the powers that carried the fit
}

// At is the line at p, without any clamp.
func (l HeartRateLine) At(p units.Power) units.HeartRate {
	return l.Intercept + units.HeartRate(float64(l.Slope*float64(p)))
}

// Result is all that a step test says.
type Result struct {
	Baseline   units.Lactate
	StagesUsed int
	First      []Method // first-threshold methods, in a fixed order
	Second     []Method // second-threshold methods, in a fixed order
	Estimate   *Estimate
	Line       *HeartRateLine
	PeakPower  units.Power
	Efforts    []EffortPoint // rated effort by power, rising
}

// EffortPoint is a stage's rating.
type EffortPoint struct {
	Power  units.Power
	Effort units.Effort
}

// EffortAt interpolates the test's ratings at p; ok is false outside them or without any.
func (r *Result) EffortAt(p units.Power) (e units.Effort, ok bool) {
	for i := 1; i < len(r.Efforts); i++ {
		a, b := r.Efforts[i-1], r.Efforts[i]
		if p >= a.Power && p <= b.Power {
			w := float64((p - a.Power) / (b.Power - a.Power))
			return a.Effort + units.Effort(w*float64(b.Effort-a.Effort)), true
		}
	}
	return 0, false
}
