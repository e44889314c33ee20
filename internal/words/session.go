package words

import (
	"fmt"
	"strings"

	"towpath/internal/units"
)

// Session is a session as the rider reads it. It holds no load, no position in the band, no
// error and no finding: those are the coach's.
type Session struct {
	Minutes units.Minutes
	Name    string
	Test    bool
	Maximal bool
	Leads   string // "power", "heart_rate" or "effort"
	Targets Targets
	Steps   []Step
	Purpose string
	Feel    string
	IfWrong string
	Stop    string
	Note    string
	Meter   string // the power meter to use; "" where none is named
	// Drift holds the allowances of heart rate late in the ride; Hot is the air temperature, in
	// degrees Celsius, above which they do not hold.
	Drift []Drift
	Hot   int
	// LateEffort may be reached in the last LateMinutes; 0 where there is no such allowance.
	LateEffort  int
	LateMinutes units.Minutes
	Food        Food
	// Allowed is what may be done above the band, anywhere in the ride.
	Allowed []Allowance
	// Provisional: the week comes only if the block takes its longer form, which is settled by the
	// date DecidedBy.
	Provisional bool
	DecidedBy   units.Date
	Place       string // "outdoor", "indoor", as the coach wrote it; "" where it does not matter
	// Instead is the same session at the day's other place; nil where there is none.
	Instead *Session
}

// Allowance lets the rider above the band for so long at a time.
type Allowance struct {
	Name     string
	Duration units.Duration
	Power    *int // watts at most; nil where AllOut
	AllOut   bool
}

// Drift allows Beats over the cap once After minutes have been ridden.
type Drift struct {
	After units.Minutes
	Beats int
}

// Food is what a ride of this length wants.
type Food struct {
	Optional bool             // something to eat may be welcome
	Grams    units.Range[int] // carbohydrate an hour; zero where none is needed
	Drink    units.Range[int] // tenths of a litre an hour; zero where none is needed
}

// Description is the text of a calendar entry: the steps first, then what else is allowed, then why
// and how, then short cautions. Lines end with a line feed; the text has no mark-up.
func Description(s Session) string {
	var t text
	t.para(s.ProvisionalNote())
	t.para(s.lead())
	for _, step := range s.Steps {
		t.lines(StepLines(step)...)
	}
	t.gap()
	t.lines(AllowedNote(s.Allowed), s.InsteadNote())
	t.gap()
	t.labelled("Power meter", s.Meter)
	t.labelled("Why", s.Purpose)
	t.labelled("Note", s.Note)
	t.labelled("How it feels", s.Feel)
	t.labelled("If it goes wrong", s.IfWrong)
	t.labelled("When to stop", s.Stop)
	t.gap()
	t.lines(s.HeartRateNote(), s.EffortNote(), s.TalkNote(), FoodNote(s.Food))
	t.gap()
	t.lines(StopSigns())
	t.lines(ShortCautions()...)
	return t.String()
}

// lead says what to look at.
func (s Session) lead() string {
	target := Leading(s.Targets, s.Leads)
	stages := s.Test && s.Targets.HeartRate == nil && s.Targets.Effort == nil
	if target == "" || stages { // the steps of such a test say it all
		return ""
	}
	line := map[string]string{"power": "Ride by watts", "heart_rate": "Ride by heart rate", "effort": "Ride by feel"}[s.Leads] + ": " + target + "."
	if g := guards(s); len(g) > 0 {
		line += " Slow down if " + strings.Join(g, " or ") + "."
	}
	return line
}

// guards are the targets that do not lead: they can only slow the rider down.
func guards(s Session) (out []string) {
	if s.Leads != "heart_rate" && s.Targets.HeartRate != nil {
		out = append(out, fmt.Sprintf("the heart rate passes %d bpm", *s.Targets.HeartRate))
	}
	if s.Leads != "power" && s.Targets.Power != nil {
		out = append(out, fmt.Sprintf("the power passes %d W", s.Targets.Power.High))
	}
	if s.Leads != "effort" && s.Targets.Effort != nil {
		out = append(out, fmt.Sprintf("the effort passes %d", *s.Targets.Effort))
	}
	return out
}

// HeartRateNote tells how far the heart rate may rise late in a ride; "" where it may not.
func (s Session) HeartRateNote() string {
	if len(s.Drift) == 0 || s.Targets.HeartRate == nil {
		return ""
	}
	var parts []string
	for _, d := range s.Drift {
		parts = append(parts, fmt.Sprintf("up to %d beats more after %s", d.Beats, d.After))
	}
	return fmt.Sprintf("Heart rate climbs on long rides: %s, unless it is hotter than %d °C. Late in the ride talk and effort decide.",
		strings.Join(parts, ", "), s.Hot)
}

// EffortNote says what the effort numbers mean, in words of our own.
func (s Session) EffortNote() string {
	if s.Targets.Effort == nil {
		return ""
	}
	n := *s.Targets.Effort
	line := fmt.Sprintf("Effort %d of 6 to 20: %s.", n, EffortMeans(n))
	if s.LateEffort > n {
		line += fmt.Sprintf(" In the last %s it may reach %d: %s.", s.LateMinutes, s.LateEffort, EffortMeans(s.LateEffort))
	}
	return line
}

// EffortMeans says one number of the 6 to 20 range in plain words of our own. They are no
// scale's official wording.
func EffortMeans(n int) string {
	switch {
	case n <= 8:
		return "you forget that you are riding"
	case n == 9:
		return "a stroll on wheels"
	case n == 10:
		return "relaxed, nothing pulls at you"
	case n == 11:
		return "you feel that you are at work, and could go on for hours"
	case n == 12:
		return "firm, and you still speak in whole sentences"
	case n == 13:
		return "tiring, with an eye on the end"
	case n <= 15:
		return "you would rather not talk"
	case n <= 17:
		return "you count the minutes"
	}
	return "as much as you have"
}

// TalkNote is the check that needs no device; tests that go to the limit have none.
func (s Session) TalkNote() string {
	if s.Maximal || s.Targets.Effort == nil {
		return ""
	}
	return "Check: whole sentences come easily. If not, ride more slowly, whatever the numbers say."
}

// FoodNote says what to eat and drink on the way.
func FoodNote(f Food) string {
	eat := "Food: not needed."
	if f.Optional {
		eat = "Food: as you like."
	}
	if f.Grams.High > 0 {
		eat = fmt.Sprintf("Food: %d-%d g of carbohydrate an hour, from the first half hour on.", f.Grams.Low, f.Grams.High)
	}
	drink := " Drink: to thirst."
	if f.Drink.High > 0 {
		drink = fmt.Sprintf(" Drink: to thirst, often %s-%s litres an hour, never so much that you gain weight.", tenths(f.Drink.Low), tenths(f.Drink.High))
	}
	return eat + drink
}

func tenths(n int) string { return fmt.Sprintf("%d.%d", n/10, n%10) }

// text gathers lines and paragraphs.
type text struct {
	b       strings.Builder
	pending bool // an empty line is due before the next one
}

func (t *text) gap() { t.pending = t.b.Len() > 0 }

func (t *text) para(line string) { t.lines(line); t.gap() }

func (t *text) lines(lines ...string) {
	for _, line := range lines {
		line = strings.TrimSpace(line)
		if line == "" {
			continue
		}
		if t.pending {
			t.b.WriteString("\n")
			t.pending = false
		}
		t.b.WriteString(line + "\n")
	}
}

func (t *text) labelled(label, s string) {
	if s = strings.Join(strings.Fields(s), " "); s != "" {
		t.lines(label + ": " + s)
	}
}

func (t *text) String() string { return t.b.String() }
