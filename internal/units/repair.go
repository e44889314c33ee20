package units

import (
	"fmt"
	"regexp"
	"strings"
)

// commonMistakes maps what people write to the unit they mean, where that is beyond doubt.
var commonMistakes = map[string]string{
	"w": "W", "watt": "W", "watts": "W", "Watt": "W", "Watts": "W",
	"BPM": "bpm", "Bpm": "bpm", "beats": "bpm", "beats/min": "bpm", "/min": "bpm",
	"mmol/l": "mmol/L", "mmol": "mmol/L", "mM": "mmol/L",
	"RPM": "rpm", "Kg": "kg", "KG": "kg", "kilo": "kg", "kgs": "kg",
	"percent": "%", "pct": "%", "percents": "%",
	"m": "min", "mins": "min", "minute": "min", "minutes": "min", "Min": "min", "'": "min", "′": "min",
	"hour": "h", "hours": "h", "hr": "h", "hrs": "h", "H": "h",
	"sec": "s", "secs": "s", "second": "s", "seconds": "s", "\"": "s", "″": "s",
	"w/min": "W/min", "W/m": "W/min",
}

// mended adds to an error what would mend the text, where one reading is beyond doubt, or says
// what the text is where it is another kind of quantity. Single is true where no range may stand.
func (d dimension) mended(e *Error, s string, single bool) error {
	if e.Repair != "" {
		return e
	}
	if watts, err := power.read(reworded(s)); err == nil && d.name == rampRate.name {
		rate := watts.String() + "/min"
		if r, err := d.read(rate); err == nil && d.check(rate, r) == nil && r.high == nil {
			e.Repair = rate
			return e
		}
	}
	for _, other := range withUnits {
		if _, err := other.read(reworded(s)); err == nil && other.name != d.name {
			return &Error{Length: len(s), Found: s, Wanted: d.wanted() + "; this is " + other.name}
		}
	}
	t := d.completed(reworded(s))
	if r, err := d.read(t); err == nil && d.check(t, r) == nil && r.String() != s && !(single && r.high != nil) {
		e.Repair = r.String()
		if comma := decimalComma.FindStringSubmatchIndex(s); comma != nil {
			e.Offset, e.Length, e.Found, e.Wanted = comma[3], 1, ",", "a point where the comma stands: "+d.wanted()
		}
	}
	if digits, length := decimal(t); length > 0 && length == len(t) && e.Repair == "" && len(d.units) > 1 {
		e.Wanted = fmt.Sprintf("a unit, as in %q or %q: %s", digits+" "+d.units[0].name, digits+" "+d.units[1].name, d.wanted())
	}
	return e
}

var (
	decimalComma = regexp.MustCompile(`(\d),(\d{1,2})([^\d]|$)`)
	inWords      = regexp.MustCompile(`\s+(to|until)\s+`)
	anyWord      = regexp.MustCompile(`[A-Za-z%/'"′″]+`)
	clockLike    = regexp.MustCompile(`^(\d{1,2}):([0-5]\d)(?::([0-5]\d))?(?:\s*h)?$`)
	hoursOnly    = regexp.MustCompile(`^(\d+)\s*h\s*([0-5]?\d)$`)
	bareEnd      = regexp.MustCompile(`\d$`)
)

// reworded rewrites what people write where we write something else: decimal commas, words for
// units and for the dash of a range.
func reworded(s string) string {
	s = decimalComma.ReplaceAllString(strings.TrimSpace(s), "$1.$2$3")
	s = inWords.ReplaceAllString(s, "-")
	return anyWord.ReplaceAllStringFunc(s, func(word string) string {
		if right, ok := commonMistakes[word]; ok {
			return right
		}
		return word
	})
}

// completed adds the unit that is left out where there is only one that can be meant.
func (d dimension) completed(s string) string {
	if d.name == duration.name {
		if m := clockLike.FindStringSubmatch(s); m != nil {
			s = m[1] + " h " + m[2] + " min"
			if m[3] != "" {
				s += " " + m[3] + " s"
			}
		}
		return hoursOnly.ReplaceAllString(s, "$1 h $2 min")
	}
	if len(d.units) == 1 && bareEnd.MatchString(s) {
		return s + " " + d.units[0].name
	}
	return s
}
