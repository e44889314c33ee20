package main

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"towpath/internal/physiology"
	"towpath/internal/plan"
	"towpath/internal/prescription"
	"towpath/internal/threshold"
	"towpath/internal/units"
	"towpath/internal/words"
)

// bands tells each band with where it comes from, and once how to try a ceiling by talk. No
// probability is given: it would leave out the bias of the method.
func (s *sheet) bands(block *plan.Block) {
	take, edges := "", false
	for i, b := range block.Bands {
		s.wrapped("", "", bandLine(b, i == 0 || b.From <= block.Start))
		s.derivation(b)
		s.allowances(b)
		if b.Leads == "power" {
			take = physiology.TalkCheckStep.Value.String()
		}
		edges = edges || b.Power.High > 0 || b.HeartRate != nil || b.Effort != nil
	}
	if edges {
		s.wrapped("", "", words.AtCeiling(take))
	}
}

// bandLine tells a band's edges, first those of what leads: in whole watts and beats inside its
// edges, and in effort. One that does not hold from the start says from when.
func bandLine(b *plan.Band, start bool) string {
	var power, beats, effort string
	if b.Power.High > 0 && b.Leads == "power" {
		power = words.Power(prescription.Inwards(b.Power, b.Power.High))
	}
	if b.HeartRate != nil {
		whole := prescription.Inwards(*b.HeartRate, b.HeartRate.High)
		beats = words.HeartRate(words.Targets{HeartRateLow: &whole.Low, HeartRate: &whole.High})
	}
	if b.Effort != nil {
		effort = fmt.Sprintf("effort %s", units.Range[units.Effort]{
			Low: units.Effort(math.Floor(float64(b.Effort.Low))), High: units.Effort(math.Ceil(float64(b.Effort.High))),
		})
	}
	parts := []string{power, beats, effort}
	if b.Leads == "effort" {
		parts = []string{effort, beats}
	}
	parts = slices.DeleteFunc(parts, func(part string) bool { return part == "" })
	line := "Band"
	if b.Place != "" {
		line += " " + words.There(b.Place)
	}
	if len(parts) > 0 {
		line += " " + strings.Join(parts, dot)
	} else {
		line += " by easy talk"
	}
	if start {
		return line
	}
	return line + dot + "from " + longDate(b.From)
}

// allowances tells what may be done above a band: on any ride that is not indoors, and all out where
// a step says so. The watts of an indoor band hold in steps alone, which say them.
func (s *sheet) allowances(b *plan.Band) {
	const indent = "  "
	var anywhere, inSteps []words.Allowance
	for _, a := range b.Allowances {
		allowed := words.Allowance{Name: a.Name, Duration: a.Duration, AllOut: a.AllOut}
		if a.Power > 0 {
			watts := prescription.Inwards(units.One(a.Power), a.Power)
			allowed.Power = &watts.High
		}
		switch {
		case a.AllOut:
			inSteps = append(inSteps, allowed)
		case b.Place != plan.Indoor:
			anywhere = append(anywhere, allowed)
		}
	}
	s.wrapped(indent, indent, words.AllowedNote(anywhere))
	for _, a := range inSteps {
		s.wrapped(indent, indent, "Allowed in steps that say so: "+a.String()+".")
	}
}

// The separator between the parts of a line.
const dot = " · "

// derivation tells how a band was made: the threshold with its method, error and quality, the
// step from there to the ceiling, what each of several tests and the laboratory say, and the newest
// test's readings by all methods side by side; nothing for a band that the coach typed.
func (s *sheet) derivation(b *plan.Band) {
	const indent = "  "
	e := b.Estimate
	switch {
	case b.Raises != nil:
		s.wrapped(indent, indent, ceilingLine(b))
		return
	case e == nil:
		return
	}
	s.wrapped(indent, indent, fmt.Sprintf("Threshold %.0f W by %s%sstandard error %.0f W%squality %s",
		float64(e.Power), e.Method, dot, float64(e.SE), dot, e.Quality))
	s.wrapped(indent, indent, ceilingLine(b))
	for _, x := range b.Tests {
		if len(b.Tests) > 1 {
			s.wrapped(indent, indent+indent, fmt.Sprintf("Test %s of %s: %.0f W by %s%sstandard error %.0f W",
				x.Key, longDate(x.Date), float64(x.Estimate.Power), x.Estimate.Method, dot, float64(x.Estimate.SE)))
		}
		if x.Lab != nil {
			s.wrapped(indent, indent+indent, fmt.Sprintf("Of test %s %s", x.Key, x.Lab))
		}
	}
	if b.Result != nil {
		s.readings(b.Result.First, e.Used)
	}
}

// readings lists the first thresholds of a test by method, in columns and by rising watts, with a
// star at those that were used; then the methods that give none.
func (s *sheet) readings(methods []threshold.Method, used []string) {
	const indent, gap = "  ", "   "
	legend := "Readings by all methods"
	var cells, without []string
	longest := 0
	for _, m := range sorted(methods) {
		if m.Power == nil {
			without = append(without, m.ID)
			continue
		}
		cell := fmt.Sprintf("%3.0f W %s", float64(*m.Power), m.ID)
		switch {
		case slices.Contains(used, m.ID):
			cell += " *"
			legend = "Readings by all methods, * used"
		case m.Status == threshold.Guarded:
			cell += " (second bend)"
		case m.Status == threshold.Ambiguous:
			cell += " (ambiguous)"
		}
		cells = append(cells, cell)
		longest = max(longest, len(cell))
	}
	if len(cells) > 0 {
		s.wrapped(indent, indent, legend+":")
		columns := min(2, max(1, (s.width-len(indent)+len(gap))/(longest+len(gap))))
		rows := (len(cells) + columns - 1) / columns
		for row := range rows {
			line := indent
			for i := row; i < len(cells); i += rows {
				line += fmt.Sprintf("%-*s%s", longest, cells[i], gap)
			}
			s.line("%s", line)
		}
	}
	if len(without) > 0 {
		s.wrapped(indent, indent, "No reading by "+strings.Join(without, ", "))
	}
}

// sorted orders methods by watts; those without come last.
func sorted(methods []threshold.Method) []threshold.Method {
	out := slices.Clone(methods)
	slices.SortStableFunc(out, func(a, b threshold.Method) int {
		if a.Power != nil && b.Power != nil {
			return cmp.Compare(*a.Power, *b.Power)
		}
		return cmp.Compare(rank(a), rank(b))
	})
	return out
}

// rank puts methods without a reading behind the others.
func rank(m threshold.Method) int {
	if m.Power == nil {
		return 1
	}
	return 0
}

// ceilingLine tells how the ceiling was made. Its watts stand in the line above, rounded inwards;
// here they would be rounded to the nearest and could differ by one.
func ceilingLine(b *plan.Band) string {
	what := b.Origin.What
	if head, how, ok := strings.Cut(what, ": "); ok && strings.HasPrefix(head, "ceiling ") {
		return "Ceiling: " + how
	}
	if what == "" {
		return ""
	}
	return strings.ToUpper(what[:1]) + what[1:]
}
