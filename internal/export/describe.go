package export

import (
	"fmt"
	"strings"

	"towpath/internal/prescription"
	"towpath/internal/units"
)

// The sentences of this file are what a rider reads in calendar and workout.

// description tells the rider what to do: targets, steps, how it should feel, why, and what to do
// when it goes wrong; then short cautions.
func description(s *prescription.Session) string {
	var lines []string
	add := func(format string, args ...any) { lines = append(lines, fmt.Sprintf(format, args...)) }
	gap := func() {
		if len(lines) > 0 && lines[len(lines)-1] != "" {
			lines = append(lines, "")
		}
	}
	add("%s", sentence(targets(s.Targets, "; ")))
	if s.Start.IsZero() {
		add("At the hour that suits you.")
	}
	gap()
	for i := range s.Steps {
		lines = append(lines, stepLines(&s.Steps[i], "")...)
	}
	for _, d := range s.Drift {
		add("After %s the heart rate may be %d bpm above its cap, unless it is hot; talk and effort decide.", d.After, d.Beats)
	}
	if late := s.LateEffort; late != nil {
		add("In the last %s an effort of %d is allowed.", late.Last, late.Effort)
	}
	gap()
	for _, part := range []struct{ head, text string }{
		{"Why", s.Why},
		{"How it feels", s.Feel},
		{"If it goes wrong", s.IfWrong},
		{"When to stop", s.Stop},
		{"Note", s.Note},
	} {
		if text := cleanLine(part.text); text != "" {
			add("%s: %s", part.head, text)
		}
	}
	gap()
	lines = append(lines, cautions...)
	return strings.TrimSpace(strings.Join(lines, "\n"))
}

// cautions stand below every session. The signs are those that any first-aid course names
// (common practice, no source); no line clears or diagnoses anybody.
var cautions = []string{
	"Not medical advice. Stop and get help for chest pain or pressure, faintness, an irregular heartbeat, breathlessness out of proportion, or confusion in heat.",
	"Ill or feverish: no ride. Hot day: shorter, with shade and drink, and no chasing of watts. Medicines that change the heart rate: go by effort and ask your clinician.",
}

func targets(t prescription.Targets, separator string) string {
	var parts []string
	if t.Power != nil {
		parts = append(parts, watts(*t.Power))
	}
	if t.HeartRate != nil {
		parts = append(parts, beats(*t.HeartRate))
	}
	if t.Effort != nil {
		parts = append(parts, effort(*t.Effort))
	}
	return strings.Join(parts, separator)
}

func watts(r units.Range[int]) string {
	if r.Low == r.High {
		return fmt.Sprintf("%d W", r.High)
	}
	return fmt.Sprintf("%d-%d W", r.Low, r.High)
}

func beats(b prescription.Bounds) string {
	if b.Low == nil {
		return fmt.Sprintf("at most %d bpm", b.High)
	}
	return fmt.Sprintf("%d-%d bpm", *b.Low, b.High)
}

func effort(cap int) string { return fmt.Sprintf("effort at most %d", cap) }

func sentence(s string) string {
	if s == "" {
		return ""
	}
	return strings.ToUpper(s[:1]) + s[1:] + "."
}

// stepLines lists a step, or a repeat with its steps indented beneath.
func stepLines(s *prescription.Step, indent string) []string {
	if s.Kind == prescription.Rounds {
		lines := []string{fmt.Sprintf("%s%d times:", indent, s.Times)}
		for i := range s.Steps {
			lines = append(lines, stepLines(&s.Steps[i], indent+"  ")...)
		}
		return lines
	}
	line := fmt.Sprintf("%s- %s %s", indent, s.Duration, stepName(s))
	var parts []string
	switch {
	case s.AllOut:
		parts = append(parts, "all out")
	case s.Kind == prescription.Ramp && s.Targets.Power != nil && s.Falling:
		parts = append(parts, fmt.Sprintf("falling from %d to %d W", s.Targets.Power.High, s.Targets.Power.Low))
	case s.Kind == prescription.Ramp && s.Targets.Power != nil:
		parts = append(parts, fmt.Sprintf("rising from %d to %d W", s.Targets.Power.Low, s.Targets.Power.High))
	case s.Targets.Power != nil:
		parts = append(parts, watts(*s.Targets.Power))
	}
	if s.Targets.HeartRate != nil {
		parts = append(parts, beats(*s.Targets.HeartRate))
	}
	if s.Targets.Effort != nil {
		parts = append(parts, effort(*s.Targets.Effort))
	}
	if s.Cadence != nil {
		parts = append(parts, cadence(*s.Cadence))
	}
	if note := cleanLine(s.Note); note != "" {
		parts = append(parts, note)
	}
	if len(parts) > 0 {
		line += ": " + strings.Join(parts, ", ")
	}
	return []string{line}
}

func cadence(r units.Range[int]) string {
	if r.Low == r.High {
		return fmt.Sprintf("%d rpm", r.High)
	}
	return fmt.Sprintf("%d-%d rpm", r.Low, r.High)
}

// stepName is the coach's word with spaces: "warm_up" becomes "warm up".
func stepName(s *prescription.Step) string {
	name := s.Name
	if name == "" {
		name = string(s.Role)
	}
	return cleanLine(strings.ReplaceAll(name, "_", " "))
}
