// Package threshold reads a step test: stages go in (from a data file or from a plan), the first
// and second lactate thresholds by each method, the heart-rate line, and the low-intensity band
// with its standard error come out. It knows neither plans nor the text they are written in.
//
// The way through a test: ParseCSV (stages.go, cells.go) reads a file; Analyse checks the values
// (limits.go), cleans the stages (clean.go), finds the baseline (baseline.go), runs the methods
// (first.go, second.go over fit.go and broken.go), fits the heart-rate line (line.go) and makes
// its remarks (remarks.go); EstimateBy and Band (band.go) turn that into a band.
package threshold

import (
	"towpath/internal/diag"
	"towpath/internal/units"
)

// Stage is one stage of a step test. A nil value was not measured. A stage of 0 W at the head of
// the test is the rest before it.
type Stage struct {
	Where     diag.Range // line of the data file, or the row in the plan
	Places    Places     // of its values, where they are known
	Power     units.Power
	Duration  units.Duration // 0: not given, taken as whole
	HeartRate *units.HeartRate
	Lactate   *units.Lactate
	Effort    *units.Effort
}

// Places tells where in the text the values of a stage stand. A zero range falls back to the
// stage's own place.
type Places struct {
	Power, Duration, HeartRate, Lactate, Effort diag.Range
}

// StepTest is a step test as measured.
type StepTest struct {
	Name        string     // file name, for messages
	Where       diag.Range // what to point at when the test as a whole is meant; zero: its first stage
	Stages      []Stage
	StageLength units.Duration // declared; 0: the median of the stages
	SampleDelay units.Duration // blood drawn this long after the stage's end, while riding on
	BenchMeter  bool           // laboratory analyser: smaller error of one reading
	LineUpTo    units.Power    // heart-rate line: leave out stages above; 0: by lactate
}

// Status tells how a method fared.
type Status string

// The status words, all of them.
const (
	// OK: the method found its threshold.
	OK Status = "ok"
	// Ambiguous: found, but a second place in the curve fits almost as well. Power is set.
	Ambiguous Status = "ambiguous"
	// Guarded: what was found lies above the baseline + 1.0 mmol/L and is the second bend of the
	// curve. Power is set, to be shown and not to be used.
	Guarded Status = "guarded"
	// Edge: the best place is the first or the last one that was possible, so it is no turning
	// point. Power is set only where the method picks a stage.
	Edge Status = "edge"
	// NotReached: the test ended before lactate came so high. Nothing is extrapolated.
	NotReached Status = "not_reached"
	// AlreadyAbove: lactate was higher from the first stage on.
	AlreadyAbove Status = "already_above"
	// TooFewStages: not enough stages with lactate for this method.
	TooFewStages Status = "too_few_stages"
	// StoppedEarly: the last lactate is less than 1.0 mmol/L above the baseline, too low for any
	// second threshold.
	StoppedEarly Status = "stopped_early"
	// NoFit: the curve that the method needs does not fit these stages.
	NoFit Status = "no_fit"
	// NoBreak: the two lines do not meet between the stages they part, or the second is not
	// steeper.
	NoBreak Status = "no_break"
	// NoStart: the point from which the method's chord starts does not exist.
	NoStart Status = "no_start"
)

// Usable reports whether the status comes with a power that may be used.
func (s Status) Usable() bool { return s == OK || s == Ambiguous }

// Method is one threshold by one method. Power is nil where there is no number; only with a
// usable Status may it set a band.
type Method struct {
	ID        string // "baseline_plus_0.3", "loglog_continuous", ...
	Status    Status
	Power     *units.Power
	HeartRate *units.HeartRate // on the line, nil where there is none
	// Interval is the two stages between which a method that picks a stage places the threshold;
	// elsewhere the 95 % interval from SE, within the tested powers; nil where SE is.
	Interval *units.Range[units.Power]
	// SE is the standard error that the error of the lactate readings gives, for methods that
	// read the straight lines between stages; nil elsewhere.
	SE     *units.Power
	Source string // key in physiology.Sources, "" for common practice without one
}

// Estimate is the band threshold: the median of three methods, or one named method.
type Estimate struct {
	Method    string           // "median_of_three" or a method's ID
	Power     units.Power      //
	HeartRate *units.HeartRate // on the line, nil where there is none
	SE        units.Power      // standard error
	Spread    units.Power      // range over the methods that were used
	Quality   string           // "good", "fair", "poor"
	Used      []string         // IDs of the methods used; one alone supports it weakly
}

// Result is all that a step test says.
type Result struct {
	Baseline   units.Lactate
	Lowest     units.Lactate // lowest reading of a stage
	LastStage  units.Power   // power of the last stage with a lactate that counts
	StagesUsed int           // stages with a lactate that counts
	ReadError  units.Lactate // standard error of one lactate reading
	First      []Method      // first-threshold methods, in a fixed order
	Second     []Method      // second-threshold methods, in a fixed order
	Estimate   *Estimate     // median_of_three; nil where the test does not carry it
	Line       *HeartRateLine
	PeakPower  units.Power
	Efforts    []EffortPoint // rated effort by power, rising
	Curve      []CurvePoint  // lactate by power, rising, as it was used
	Rest       *Stage        // the reading at rest, nil without one
	// Exponential is lactate = A + B e^(C (P - From)), nil where it does not fit.
	Exponential *Exponential
}

// CurvePoint is a stage's lactate as the methods saw it.
type CurvePoint struct {
	Power   units.Power // prorated where the last stage was cut short
	Lactate units.Lactate
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

// Method finds a method's reading by its ID, nil where there is none of that name.
func (r *Result) Method(id string) *Method {
	for _, list := range [][]Method{r.First, r.Second} {
		for i := range list {
			if list[i].ID == id {
				return &list[i]
			}
		}
	}
	return nil
}
