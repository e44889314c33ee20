package plan

import (
	"fmt"
	"slices"

	"towpath/internal/diag"
	"towpath/internal/physiology"
	"towpath/internal/spec"
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
	case out.Result == nil || len(e.Used) == 0:
		by := "as the coach wrote it"
		if e.Method == "lab" {
			by = "as the laboratory read it"
		}
		return diag.Origin{
			What: fmt.Sprintf("threshold %.0f W, %s; standard error %.0f W", p, by, float64(e.SE)), Range: out.ThresholdRange,
			From: []diag.Origin{fixed(fmt.Sprintf("standard error %.0f W: %s of a threshold that came without one", float64(e.SE), physiology.SingleError.Value), physiology.SingleError)},
		}
	}
	o := diag.Origin{
		What:  fmt.Sprintf("threshold %.0f W by %s, standard error %.0f W, quality %s", p, e.Method, float64(e.SE), e.Quality),
		Range: out.ThresholdRange,
	}
	for _, m := range out.Result.First {
		if m.Power != nil && slices.Contains(e.Used, m.ID) {
			o.From = append(o.From, diag.Origin{What: fmt.Sprintf("%s: %.1f W", m.ID, float64(*m.Power)), Range: out.ThresholdRange, SourceKey: m.Source})
		}
	}
	return o
}

// fixed is a value that rests on a number of the trade or of science.
func fixed[T any](what string, n physiology.Number[T]) diag.Origin {
	if n.Source == "" && n.Note != "" {
		what += " (" + n.Note + ")"
	}
	return diag.Origin{What: what, SourceKey: n.Source}
}
