// Package words holds every sentence that a rider reads: step lines, titles, allowances, what an
// effort number means, food and drink, cautions. Numbers go in, English comes out; another
// language is another package of the same functions. It computes nothing: each number is given.
package words

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"

	"towpath/internal/units"
)

// Targets are the targets of a step or a session as the rider sees them; nil where there is none.
type Targets struct {
	Power        *units.Range[int] // watts
	HeartRateLow *int              // bpm; nil: "at most" HeartRate
	HeartRate    *int              // bpm
	Effort       *int              // at most, 6 to 20
}

// The separator between the parts of a title.
const dot = " · "

// Title names a session in a calendar: "75 min steady · 102-112 W". The target is the one that
// leads; a session without targets has none.
func Title(length units.Minutes, name string, t Targets, leads string) string {
	title := length.String()
	if name = lowerFirst(name); name != "" {
		title += " " + name
	}
	if target := Leading(t, leads); target != "" {
		title += dot + target
	}
	return title
}

// Leading is the one target that leads: "power", "heart_rate" or "effort".
func Leading(t Targets, leads string) string {
	switch {
	case leads == "power" && t.Power != nil:
		return Power(*t.Power)
	case leads == "heart_rate" && t.HeartRate != nil:
		return HeartRate(t)
	case leads == "effort" && t.Effort != nil:
		return Effort(*t.Effort)
	}
	return ""
}

// Power says watts: "102-112 W".
func Power(w units.Range[int]) string {
	return units.Map(w, func(n int) units.Power { return units.Power(n) }).String()
}

// HeartRate says beats: "118-131 bpm", or "at most 127 bpm".
func HeartRate(t Targets) string {
	switch {
	case t.HeartRate == nil:
		return ""
	case t.HeartRateLow == nil:
		return fmt.Sprintf("at most %d bpm", *t.HeartRate)
	case *t.HeartRateLow == *t.HeartRate:
		return fmt.Sprintf("%d bpm", *t.HeartRate)
	}
	return fmt.Sprintf("%d-%d bpm", *t.HeartRateLow, *t.HeartRate)
}

// Effort says the cap of effort: "effort at most 11".
func Effort(n int) string { return fmt.Sprintf("effort at most %d", n) }

// HarderStage is the note of a test's stage for which nothing gives watts.
const HarderStage = "a little harder than the stage before"

// Step is a step, or a repeat, as the rider reads it.
type Step struct {
	Duration units.Duration // of one round for a repeat
	Targets  Targets
	Rising   bool // from the lower power to the higher
	Falling  bool
	AllOut   bool
	AtMost   bool              // the higher power is allowed, no lower one asked for
	Cadence  *units.Range[int] // rpm
	Note     string
	Times    int // rounds; 0 for a step
	Steps    []Step
}

// StepLines says a step in one line, a repeat in a line for each of its steps beneath its head.
func StepLines(s Step) []string {
	if s.Times == 0 {
		return []string{StepLine(s)}
	}
	lines := []string{fmt.Sprintf("%d times:", s.Times)}
	for _, inner := range s.Steps {
		for _, line := range StepLines(inner) {
			lines = append(lines, "- "+line)
		}
	}
	return lines
}

// StepLine says a step: "55 min at 102-112 W, at most 127 bpm and effort 11".
func StepLine(s Step) string {
	parts := []string{s.Duration.String() + how(s)}
	switch beats, effort := s.Targets.HeartRate, s.Targets.Effort; {
	case beats != nil && effort != nil && s.Targets.HeartRateLow == nil:
		parts = append(parts, fmt.Sprintf("%s and effort %d", HeartRate(s.Targets), *effort))
	case beats != nil && effort != nil:
		parts = append(parts, HeartRate(s.Targets), Effort(*effort))
	case beats != nil:
		parts = append(parts, HeartRate(s.Targets))
	case effort != nil:
		parts = append(parts, Effort(*effort))
	}
	if s.Cadence != nil {
		parts = append(parts, units.Map(*s.Cadence, func(n int) units.Cadence { return units.Cadence(n) }).String())
	}
	if s.Note != "" {
		parts = append(parts, strings.TrimSpace(s.Note))
	}
	return strings.Join(parts, ", ")
}

func how(s Step) string {
	p := s.Targets.Power
	switch {
	case s.AllOut:
		return " as hard as you can"
	case p == nil && s.Targets.HeartRate == nil && s.Targets.Effort == nil && s.Note == "":
		return " as you like"
	case p == nil && s.Rising:
		return " rising gently"
	case p == nil && s.Falling:
		return " falling gently"
	case p == nil:
		return ""
	case s.AtMost:
		return fmt.Sprintf(" at most %d W", p.High)
	case s.Rising && p.Low < p.High:
		return fmt.Sprintf(" rising from %d to %d W", p.Low, p.High)
	case s.Falling && p.Low < p.High:
		return fmt.Sprintf(" falling from %d to %d W", p.High, p.Low)
	}
	return " at " + Power(*p)
}

// upperFirst writes a text's first letter as a capital.
func upperFirst(s string) string {
	first, n := utf8.DecodeRuneInString(s)
	if n == 0 {
		return s
	}
	return string(unicode.ToUpper(first)) + s[n:]
}

// lowerFirst writes a name's first letter small, unless the next one is a capital too.
func lowerFirst(s string) string {
	first, n := utf8.DecodeRuneInString(s)
	if n == 0 {
		return s
	}
	next, _ := utf8.DecodeRuneInString(s[n:])
	if unicode.IsUpper(next) {
		return s
	}
	return string(unicode.ToLower(first)) + s[n:]
}
