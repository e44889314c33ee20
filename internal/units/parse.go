package units

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"unicode/utf8"
)

// Error says where in a text a quantity goes wrong, and what would mend it. Offset and Length
// are in bytes of the text that was parsed.
type Error struct {
	Offset, Length int
	Found          string // the part that was found
	Wanted         string // what was expected, with an example
	Repair         string // the whole text as it should read, or "" where nobody can tell
}

func (e *Error) Error() string {
	msg := fmt.Sprintf("found %q, expected %s", e.Found, e.Wanted)
	if e.Repair != "" {
		msg += fmt.Sprintf("; write %q", e.Repair)
	}
	return msg
}

// dimension is one kind of quantity: its units with the factor to the base unit, canonical first.
type dimension struct {
	name    string
	example string
	units   []unit
	min     float64
	max     float64
}

type unit struct {
	name   string
	factor float64
}

// The limits here are what a text can sensibly say, not what a body can do; science has its own.
var (
	power     = dimension{"power in watts", `"142 W"`, []unit{{"W", 1}}, 0, 3000}
	heartRate = dimension{"a heart rate in beats per minute", `"128 bpm"`, []unit{{"bpm", 1}}, 0, 260}
	lactate   = dimension{"lactate in mmol/L", `"1.8 mmol/L"`, []unit{{"mmol/L", 1}}, 0, 50}
	effort    = dimension{"perceived effort from 6 to 20", `"11"`, []unit{{"", 1}}, 6, 20}
	cadence   = dimension{"cadence in rpm", `"90 rpm"`, []unit{{"rpm", 1}}, 0, 250}
	mass      = dimension{"mass in kilograms", `"64 kg"`, []unit{{"kg", 1}}, 20, 250}
	share     = dimension{"a share in percent", `"8 %"`, []unit{{"%", 0.01}}, -1000, 1000}
	rampRate  = dimension{"a ramp in watts per minute", `"20 W/min"`, []unit{{"W/min", 1}}, 0, 200}
	duration  = dimension{"a duration in h, min or s", `"1 h 15 min"`, []unit{{"h", 3600}, {"min", 60}, {"s", 1}}, -1e7, 1e7}
)

// commonMistakes maps what people write to the unit they mean, where that is beyond doubt.
var commonMistakes = map[string]string{
	"w": "W", "watt": "W", "watts": "W", "Watt": "W", "Watts": "W",
	"BPM": "bpm", "Bpm": "bpm", "beats": "bpm", "beats/min": "bpm", "/min": "bpm",
	"mmol/l": "mmol/L", "mmol": "mmol/L", "mM": "mmol/L",
	"RPM": "rpm", "Kg": "kg", "KG": "kg", "kilo": "kg", "kgs": "kg",
	"percent": "%", "pct": "%",
	"m": "min", "mins": "min", "minute": "min", "minutes": "min", "Min": "min", "'": "min",
	"hour": "h", "hours": "h", "hr": "h", "hrs": "h", "H": "h",
	"sec": "s", "secs": "s", "second": "s", "seconds": "s", "\"": "s",
	"w/min": "W/min", "W/m": "W/min",
}

// ParsePower reads "142 W".
func ParsePower(s string) (Power, error) { return one[Power](s, power) }

// ParsePowerRange reads "118-142 W"; one value is a range of its own.
func ParsePowerRange(s string) (Range[Power], error) { return many[Power](s, power) }

// ParseHeartRate reads "128 bpm".
func ParseHeartRate(s string) (HeartRate, error) { return one[HeartRate](s, heartRate) }

// ParseHeartRateRange reads "112-128 bpm".
func ParseHeartRateRange(s string) (Range[HeartRate], error) { return many[HeartRate](s, heartRate) }

// ParseLactate reads "1.8 mmol/L".
func ParseLactate(s string) (Lactate, error) { return one[Lactate](s, lactate) }

// ParseEffortRange reads "9-12".
func ParseEffortRange(s string) (Range[Effort], error) { return many[Effort](s, effort) }

// ParseCadenceRange reads "85-95 rpm".
func ParseCadenceRange(s string) (Range[Cadence], error) { return many[Cadence](s, cadence) }

// ParseMass reads "64 kg".
func ParseMass(s string) (Mass, error) { return one[Mass](s, mass) }

// ParseShare reads "8 %".
func ParseShare(s string) (Share, error) { return one[Share](s, share) }

// ParseShareRange reads "67-100 %".
func ParseShareRange(s string) (Range[Share], error) { return many[Share](s, share) }

// ParseRampRate reads "20 W/min".
func ParseRampRate(s string) (RampRate, error) { return one[RampRate](s, rampRate) }

// ParseDuration reads "75 min", "4 h 30 min", "90 s".
func ParseDuration(s string) (Duration, error) {
	v, rest, err := scan(s, 0, duration)
	if err == nil && strings.TrimSpace(s[rest:]) != "" {
		err = &Error{Offset: rest, Length: len(s) - rest, Found: strings.TrimSpace(s[rest:]), Wanted: duration.wanted()}
	}
	if err != nil {
		return 0, repaired(err, s, duration)
	}
	if v != math.Trunc(v) {
		return 0, &Error{Length: len(s), Found: s, Wanted: "whole seconds"}
	}
	return Duration(v), nil
}

// Canonical rewrites a text that is a quantity, or a range of one, to the form in which it is
// printed here: one space before the unit, a hyphen in ranges. Other texts come back as they are.
func Canonical(s string) string {
	for _, d := range []dimension{power, heartRate, lactate, cadence, mass, share, rampRate, duration} {
		if parts, ok := split(s); ok && len(parts) == 2 {
			if low, high, unit, err := scanRange(s, d); err == nil && low != high {
				f := d.factor(unit)
				return number(low/f) + "-" + number(high/f) + " " + unit
			}
		}
		if out, ok := respaced(s, d); ok {
			return out
		}
	}
	return s
}

func one[T ~float64](s string, d dimension) (T, error) {
	v, rest, err := scan(s, 0, d)
	if err == nil && strings.TrimSpace(s[rest:]) != "" {
		if _, _, _, rangeErr := scanRange(s, d); rangeErr == nil {
			err = &Error{Length: len(s), Found: s, Wanted: "one value, not a range: " + d.wanted()}
			return 0, err
		}
		err = &Error{Offset: rest, Length: len(s) - rest, Found: strings.TrimSpace(s[rest:]), Wanted: d.wanted()}
	}
	if err != nil {
		return 0, repaired(err, s, d)
	}
	return T(v), d.check(v, s)
}

func many[T ~float64](s string, d dimension) (Range[T], error) {
	low, high, _, err := scanRange(s, d)
	if err != nil {
		return Range[T]{}, repaired(err, s, d)
	}
	if low > high {
		r := Range[T]{T(high), T(low)}
		return Range[T]{}, &Error{Length: len(s), Found: s, Wanted: "the lower value first", Repair: r.String()}
	}
	if err := d.check(low, s); err != nil {
		return Range[T]{}, err
	}
	return Range[T]{T(low), T(high)}, d.check(high, s)
}

func (d dimension) wanted() string { return d.name + ", such as " + d.example }

func (d dimension) factor(name string) float64 {
	for _, u := range d.units {
		if u.name == name {
			return u.factor
		}
	}
	return 1
}

func (d dimension) check(v float64, s string) error {
	if v < d.min || v > d.max {
		f := d.units[0]
		return &Error{
			Length: len(s), Found: s,
			Wanted: strings.TrimSpace(fmt.Sprintf("%s between %s and %s %s", d.name, number(d.min/f.factor), number(d.max/f.factor), f.name)),
		}
	}
	return nil
}

// split cuts a text at the dash of a range. A leading minus sign is no dash.
func split(s string) ([]string, bool) {
	for i, r := range s {
		if (r == '-' || r == '–' || r == '—' || r == '−') && strings.TrimSpace(s[:i]) != "" {
			return []string{s[:i], s[i+utf8.RuneLen(r):]}, true
		}
	}
	return []string{s}, false
}

// scanRange reads "low-high unit", "low unit - high unit" or "value unit".
func scanRange(s string, d dimension) (low, high float64, name string, err error) {
	parts, ok := split(s)
	if !ok {
		low, rest, err := scan(s, 0, d)
		if err == nil && strings.TrimSpace(s[rest:]) != "" {
			err = &Error{Offset: rest, Length: len(s) - rest, Found: strings.TrimSpace(s[rest:]), Wanted: d.wanted()}
		}
		return low, low, d.units[0].name, err
	}
	offset := len(s) - len(parts[1])
	high, rest, err := scan(s, offset, d)
	if err != nil {
		return 0, 0, "", err
	}
	if tail := strings.TrimSpace(s[rest:]); tail != "" {
		return 0, 0, "", &Error{Offset: rest, Length: len(s) - rest, Found: tail, Wanted: d.wanted()}
	}
	name = lastUnit(parts[1], d)
	first := strings.TrimSpace(parts[0])
	if v, end, ok := leadingNumber(first); ok && end == len(first) {
		return v * d.factor(name), high, name, nil
	}
	low, rest, err = scan(parts[0], 0, d)
	if err == nil && strings.TrimSpace(parts[0][rest:]) != "" {
		err = &Error{Offset: rest, Length: len(parts[0]) - rest, Found: strings.TrimSpace(parts[0][rest:]), Wanted: d.wanted()}
	}
	return low, high, name, err
}

func lastUnit(s string, d dimension) string {
	s = strings.TrimSpace(s)
	for _, u := range d.units {
		if u.name != "" && strings.HasSuffix(s, u.name) {
			return u.name
		}
	}
	return d.units[0].name
}

// scan reads one value with its unit from offset on; a duration may have several parts. The
// units of such parts must fall: "30 min 4 h" is refused.
func scan(s string, offset int, d dimension) (v float64, rest int, err error) {
	rest, parts, last := offset, 0, math.Inf(1)
	for {
		at := rest + spaces(s[rest:])
		n, end, ok := leadingNumber(s[at:])
		if !ok {
			if parts > 0 {
				return v, rest, nil
			}
			return 0, at, &Error{Offset: at, Length: len(s) - at, Found: s[at:], Wanted: d.wanted()}
		}
		word := at + end + spaces(s[at+end:])
		name := unitWord(s[word:])
		f, known := 0.0, false
		for _, u := range d.units {
			if u.name == name {
				f, known = u.factor, true
			}
		}
		if !known {
			e := &Error{Offset: at, Length: word + len(name) - at, Found: s[at : word+len(name)], Wanted: d.wanted()}
			if name == "" {
				e.Wanted = "a unit: " + d.wanted()
			}
			return 0, at, e
		}
		if f >= last {
			return 0, at, &Error{Offset: at, Length: word + len(name) - at, Found: s[at : word+len(name)], Wanted: "hours before minutes before seconds, each once"}
		}
		v, rest, last, parts = v+float64(n*f), word+len(name), f, parts+1
		if len(d.units) == 1 {
			return v, rest, nil
		}
	}
}

func spaces(s string) int { return len(s) - len(strings.TrimLeft(s, " \t\u00a0\u202f")) }

// leadingNumber reads a plain decimal with an optional sign: no exponent, no thousands mark.
func leadingNumber(s string) (v float64, end int, ok bool) {
	i := 0
	if strings.HasPrefix(s, "-") || strings.HasPrefix(s, "+") {
		i = 1
	} else if strings.HasPrefix(s, "−") {
		i = len("−")
	}
	start, dots := i, 0
	for i < len(s) && (s[i] >= '0' && s[i] <= '9' || s[i] == '.' && dots == 0) {
		if s[i] == '.' {
			dots++
		}
		i++
	}
	digits := s[start:i]
	if digits == "" || digits == "." || len(digits) > 15 || digits[len(digits)-1] == '.' || digits[0] == '.' {
		return 0, 0, false
	}
	v, err := strconv.ParseFloat(digits, 64)
	if err != nil {
		return 0, 0, false
	}
	if start > 0 && s[0] != '+' {
		v = -v
	}
	return v, i, true
}

// unitWord reads letters, %, / and the marks people use for minutes and seconds.
func unitWord(s string) string {
	end := strings.IndexFunc(s, func(r rune) bool {
		return !(r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r == '%' || r == '/' || r == '\'' || r == '"')
	})
	if end < 0 {
		return s
	}
	return s[:end]
}

// repaired adds to err the text as it should read, where one reading is beyond doubt.
func repaired(err error, s string, d dimension) error {
	e, ok := err.(*Error)
	if !ok || e.Repair != "" {
		return err
	}
	if t, ok := respaced(s, d); ok && t != s {
		e.Repair = t
		return e
	}
	t := strings.ReplaceAll(s, ",", ".") // a decimal comma
	if _, end, ok := leadingNumber(strings.TrimSpace(t)); ok && end == len(strings.TrimSpace(t)) && len(d.units) == 1 {
		t = strings.TrimSpace(t) + " " + d.units[0].name
	}
	if u, ok := respaced(t, d); ok {
		e.Repair = u
	}
	return e
}

// respaced prints s with single spaces and right units, if that makes it a quantity of d.
func respaced(s string, d dimension) (string, bool) {
	var out []string
	rest, last := s, math.Inf(1)
	for strings.TrimSpace(rest) != "" {
		rest = rest[spaces(rest):]
		_, end, ok := leadingNumber(rest)
		if !ok {
			return s, false
		}
		digits := rest[:end]
		rest = rest[end:]
		rest = rest[spaces(rest):]
		name := unitWord(rest)
		rest = rest[len(name):]
		if right, ok := commonMistakes[name]; ok {
			name = right
		}
		f, known := 0.0, false
		for _, u := range d.units {
			if u.name == name {
				f, known = u.factor, true
			}
		}
		if !known || name == "" || f >= last || len(d.units) == 1 && out != nil {
			return s, false
		}
		last = f
		out = append(out, digits+" "+name)
	}
	return strings.Join(out, " "), out != nil
}
