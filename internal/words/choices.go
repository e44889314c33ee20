package words

import (
	"fmt"
	"strings"

	"towpath/internal/units"
)

// This file says what a plan leaves to the rider, to the weather or to later: what may be done above
// the band, the same session at another place, weeks that are not settled; and what stands beside the
// sessions.

// ProvisionalNote says until when it is open whether a session is ridden; "" where it is settled.
func (s Session) ProvisionalNote() string {
	if !s.Provisional {
		return ""
	}
	return "Provisional: by " + s.DecidedBy.UTC().Format("2 January 2006") + " it is settled whether the block goes on this long."
}

// AllowedNote says what may be done above the band, anywhere in a ride; "" where nothing may.
func AllowedNote(allowed []Allowance) string {
	var parts []string
	for _, a := range allowed {
		parts = append(parts, a.String())
	}
	if parts == nil {
		return ""
	}
	return "Allowed above the band: " + strings.Join(parts, "; ") + "."
}

// String says an allowance: "climbs, up to 3 min at a time, at most 155 W".
func (a Allowance) String() string {
	line := fmt.Sprintf("%s, up to %s at a time", strings.Join(strings.Fields(a.Name), " "), a.Duration)
	switch {
	case a.AllOut:
		line += ", as hard as you can"
	case a.Power != nil:
		line += fmt.Sprintf(", at most %d W", *a.Power)
	}
	return line
}

// There names the other place of a day: "indoors".
func There(place string) string {
	switch place {
	case "indoor", "outdoor":
		return place + "s"
	case "":
		return "elsewhere"
	}
	return "at " + place
}

// InsteadNote says the same session at the day's other place, with its steps in a line; "" where
// there is none.
func (s Session) InsteadNote() string {
	there := s.Instead
	if there == nil {
		return ""
	}
	line := fmt.Sprintf("%s instead: %s", upperFirst(There(there.Place)), there.Minutes)
	if steps := inLine(there.Steps); steps != "" {
		line += ", ridden as " + steps
	}
	line = strings.TrimRight(line, ". ") + "."
	if allowed := AllowedNote(there.Allowed); allowed != "" {
		line += " " + allowed
	}
	return line
}

// inLine says steps in one line: "10 min rising from 71 to 99 W; 3 times (12 min at 123-137 W; …)".
func inLine(steps []Step) string {
	var parts []string
	for _, s := range steps {
		if s.Times > 0 {
			parts = append(parts, fmt.Sprintf("%d times (%s)", s.Times, inLine(s.Steps)))
			continue
		}
		parts = append(parts, strings.TrimRight(StepLine(s), ". "))
	}
	return strings.Join(parts, "; ")
}

// Event is the text of a calendar entry for a day that is trained for; lasts is 0 where nobody knows.
func Event(lasts units.Minutes) string {
	var t text
	t.lines("The day that the training is for.")
	if lasts > 0 {
		t.lines("It lasts about " + lasts.String() + ".")
	}
	t.gap()
	t.lines(StopSigns())
	return t.String()
}
