package plan

import (
	"fmt"
	"slices"
	"strings"

	"towpath/internal/diag"
	"towpath/internal/physiology"
	"towpath/internal/spec"
	"towpath/internal/threshold"
)

// ceilingOrigin tells how ceiling and floor follow from the threshold.
func ceilingOrigin(b *spec.Band, out *Band) diag.Origin {
	e, ceiling := out.Estimate, float64(out.Power.High)
	o := diag.Origin{
		What:  fmt.Sprintf("ceiling %.0f W: %s of the threshold %.0f W, as the coach wrote it", ceiling, b.Ceiling.V, float64(e.Power)),
		Range: b.Ceiling.Range,
	}
	if !b.Ceiling.Set {
		number, word := physiology.CautionUsual, "usual"
		if out.Caution == "strict" {
			number, word = physiology.CautionStrict, "strict"
		}
		o = diag.Origin{
			What: fmt.Sprintf("ceiling %.0f W: threshold %.0f W less %.2f of its standard error %.0f W", ceiling, float64(e.Power), number.Value, float64(e.SE)),
			// The text that caused it is the band's, where no line of it speaks of the ceiling.
			Range: place(b.Caution, b.Header),
			From:  []diag.Origin{fixed(fmt.Sprintf("%s caution: %.2f standard errors", word, number.Value), number)},
		}
		o.From[0].Range = place(b.Caution, diag.Range{})
	}
	o.From = append(o.From, floorOrigin(b, out), thresholdOrigin(b, out))
	return o
}

func floorOrigin(b *spec.Band, out *Band) diag.Origin {
	floor := float64(out.Power.Low)
	if b.Floor.Set {
		return diag.Origin{What: fmt.Sprintf("floor %.0f W: %s of the threshold, as the coach wrote it", floor, b.Floor.V), Range: b.Floor.Range}
	}
	return fixed(fmt.Sprintf("floor %.0f W: %s of the ceiling", floor, physiology.FloorShare.Value), physiology.FloorShare)
}

// thresholdOrigin tells where the band threshold comes from.
func thresholdOrigin(b *spec.Band, out *Band) diag.Origin {
	e, p := out.Estimate, float64(out.Threshold)
	switch {
	case e == nil:
		o := fixed(fmt.Sprintf("threshold %.0f W: ceiling / %s, since no test says more", p, physiology.CeilingOfThreshold.Value), physiology.CeilingOfThreshold)
		o.Range = b.Power.Range
		return o
	case e.Method == "typed":
		return diag.Origin{
			What: fmt.Sprintf("threshold %.0f W, as the coach wrote it; standard error %.0f W", p, float64(e.SE)), Range: out.ThresholdRange,
			From: []diag.Origin{assumedError(e)},
		}
	case len(out.Tests) == 1:
		o := testOrigin(out.Tests[0])
		o.What = "threshold" + strings.TrimPrefix(o.What, testWords(out.Tests[0]))
		return o
	}
	return testsOrigin(out)
}

// testsOrigin tells how the threshold of several tests was put together.
func testsOrigin(out *Band) diag.Origin {
	e := out.Estimate
	o := diag.Origin{Range: out.ThresholdRange}
	for _, x := range out.Tests {
		o.From = append(o.From, testOrigin(x))
	}
	o.What = fmt.Sprintf("threshold %.0f W: mean of %d tests, standard error %.0f W, quality %s; %s", float64(e.Power), len(out.Tests), float64(e.SE), e.Quality,
		"the error is the larger of what the tests' errors give and what the tests differ by (own choice, no source)")
	if lactate, gas := out.byKind(); lactate != nil && gas != nil {
		how, within := "mean of", "which agree within"
		if e.Method != threshold.LactateAndGas {
			how, within = "the lower of", "which lie farther apart than"
		}
		o.What = fmt.Sprintf("threshold %.0f W: %s %.0f W from lactate and %.0f W from breath gas, %s %s (%s); standard error %.0f W, quality %s", float64(e.Power), how,
			float64(lactate.Power), float64(gas.Power), within, physiology.LactateGasAgree.Value, physiology.LactateGasAgree.Note, float64(e.SE), e.Quality)
	}
	return o
}

func testWords(x *TestReading) string { return fmt.Sprintf("test %s of %s:", x.Key, x.Date) }

// testOrigin tells what one test says.
func testOrigin(x *TestReading) diag.Origin {
	e := x.Estimate
	if e.Method == "lab" {
		return diag.Origin{
			What:  fmt.Sprintf("%s %.0f W, as the laboratory read it; standard error %.0f W", testWords(x), float64(e.Power), float64(e.SE)),
			Range: x.Range, From: []diag.Origin{assumedError(e)},
		}
	}
	o := diag.Origin{
		What:  fmt.Sprintf("%s %.0f W by %s, standard error %.0f W, quality %s", testWords(x), float64(e.Power), e.Method, float64(e.SE), e.Quality),
		Range: x.Range,
	}
	for _, m := range x.Result.First {
		if m.Power != nil && slices.Contains(e.Used, m.ID) {
			o.From = append(o.From, diag.Origin{What: fmt.Sprintf("%s: %.1f W", m.ID, float64(*m.Power)), Range: x.Range, SourceKey: m.Source})
		}
	}
	return o
}

// assumedError tells of the error of a threshold that came without one.
func assumedError(e *threshold.Estimate) diag.Origin {
	return fixed(fmt.Sprintf("standard error %.0f W: %s of a threshold that came without one", float64(e.SE), physiology.SingleError.Value), physiology.SingleError)
}

// fixed is a value that rests on a number of the trade or of science.
func fixed[T any](what string, n physiology.Number[T]) diag.Origin {
	if n.Source == "" && n.Note != "" {
		what += " (" + n.Note + ")"
	}
	return diag.Origin{What: what, SourceKey: n.Source}
}
