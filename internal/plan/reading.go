package plan

import (
	"fmt"
	"strings"

	"towpath/internal/diag"
	"towpath/internal/spec"
	"towpath/internal/threshold"
	"towpath/internal/units"
)

// reading is a test with what was read from it; result is nil where that was refused.
type reading struct {
	test   *spec.Test
	steps  threshold.StepTest
	result *threshold.Result
	diags  diag.List // said again for each block that uses the test, so that each is held back
}

// TestReading is what one test says for a band.
type TestReading struct {
	Key      string
	Date     units.Date
	Protocol string
	Meter    string              // the power meter's label; "" unknown
	Range    diag.Range          // where its figures stand, for origins
	Result   *threshold.Result   // nil where only the laboratory read it
	Estimate *threshold.Estimate // first threshold by the band's method, or as the laboratory read it
	Lab      *LabReading         // nil where the plan holds none
}

// LabReading is what the laboratory itself read from a test; zero where it did not. Apart from a
// first threshold that a band's method asks for, or that a test with gas exchange gives, it is shown
// beside our own readings and nothing is made of it.
type LabReading struct {
	Method                            string
	First, Second, Peak               units.Power
	FirstBeats, SecondBeats, MaxBeats units.HeartRate
}

// String says it in one line.
func (l *LabReading) String() string {
	var parts []string
	point := func(name string, p units.Power, h units.HeartRate) {
		switch {
		case p > 0 && h > 0:
			parts = append(parts, fmt.Sprintf("%s %s at %s", name, p, h))
		case p > 0:
			parts = append(parts, name+" "+p.String())
		case h > 0:
			parts = append(parts, fmt.Sprintf("%s at %s", name, h))
		}
	}
	point("first threshold", l.First, l.FirstBeats)
	point("second threshold", l.Second, l.SecondBeats)
	point("peak", l.Peak, 0)
	if l.MaxBeats > 0 {
		parts = append(parts, "maximum "+l.MaxBeats.String())
	}
	said := "the laboratory read: " + strings.Join(parts, ", ")
	if l.Method != "" {
		said += " (" + l.Method + ")"
	}
	return said
}

func labReading(l *spec.LabReading) *LabReading {
	if l == nil {
		return nil
	}
	return &LabReading{
		Method: l.Method.V, First: l.FirstThreshold.V, Second: l.SecondThreshold.V, Peak: l.PeakPower.V,
		FirstBeats: l.HeartRate.V, SecondBeats: l.SecondHeartRate.V, MaxBeats: l.MaximumHeartRate.V,
	}
}

// stepProtocols are the protocols whose data is a table of stages with lactate.
var stepProtocols = map[string]bool{"lactate_step": true, "lactate_step_submaximal": true}

// gasProtocol is the protocol of which the laboratory's first threshold joins one from lactate.
const gasProtocol = "gas_ramp"

// read analyses a step test, once.
func (r *resolver) read(t *spec.Test) *reading {
	out, ok := r.readings[t.Key]
	if !ok {
		out = &reading{test: t}
		r.readings[t.Key] = out
		if out.steps, ok = r.stages(t, &out.diags); ok {
			result, diags := threshold.Analyse(out.steps)
			out.diags.Add(diags...)
			if !diags.HasErrors() {
				out.result = result
			}
		}
	}
	r.diags.Add(out.diags...)
	return out
}

// stages gathers a test's stages from its data file or from the rows in the plan.
func (r *resolver) stages(t *spec.Test, diags *diag.List) (threshold.StepTest, bool) {
	var steps threshold.StepTest
	switch {
	case t.Data.Set && t.DataText == nil && r.spec.Broken:
		return steps, false // the file could not be read, which spec has said
	case t.Data.Set:
		parsed, found := threshold.ParseCSV(t.DataName, t.DataText)
		diags.Add(found...)
		if found.HasErrors() {
			return steps, false
		}
		steps = parsed
	case len(t.Stages) > 0:
		steps.Name = t.Key
		for _, s := range t.Stages {
			steps.Stages = append(steps.Stages, inlineStage(t, s))
		}
	default:
		if !r.spec.Broken {
			diags.Add(diag.Diagnostic{
				Code: "test-without-data", Severity: diag.Error, Subject: t.Header, Summary: fmt.Sprintf("Test %q has no stages to read", t.Key),
				Detail: `Name the file that holds them, data = "tests/….csv", or write them as rows: stages = [ { power = "70 W", heart_rate = "95 bpm", lactate = "1.1 mmol/L" }, … ]. Where only a report's threshold is known, type it in the band: threshold = "…".`,
			})
		}
		return steps, false
	}
	steps.Where = place(t.Data, t.Header)
	steps.StageLength = t.Stage.V
	steps.SampleDelay = t.SampleDelay.V
	steps.BenchMeter = t.Analyser.V == "bench"
	return steps, true
}

func inlineStage(t *spec.Test, s spec.Stage) threshold.Stage {
	stage := threshold.Stage{
		Where: s.Range, Power: s.Power.V, Duration: s.Duration.Or(t.Stage.V),
		Places: threshold.Places{
			Power: place(s.Power, diag.Range{}), Duration: place(s.Duration, diag.Range{}),
			HeartRate: place(s.HeartRate, diag.Range{}), Lactate: place(s.Lactate, diag.Range{}), Effort: place(s.Effort, diag.Range{}),
		},
	}
	if s.HeartRate.Set {
		stage.HeartRate = &s.HeartRate.V
	}
	if s.Lactate.Set {
		stage.Lactate = &s.Lactate.V
	}
	if s.Effort.Set {
		stage.Effort = &s.Effort.V
	}
	return stage
}
