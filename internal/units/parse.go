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
	OutOfRange     bool   // it can be read, and lies outside of what its kind can be
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
	name     string // as in "expected power in watts"
	example  string
	units    []unit
	min, max float64 // in the base unit
	wholes   string  // what there must be a whole number of, "" where fractions are fine
}

type unit struct {
	name   string
	factor float64
}

// The limits here are what a text can sensibly say, not what a body can do; science has its own.
var (
	power     = dimension{"power in watts", `"142 W"`, []unit{{"W", 1}}, 0, 3000, ""}
	heartRate = dimension{"a heart rate in beats per minute", `"128 bpm"`, []unit{{"bpm", 1}}, 0, 260, ""}
	lactate   = dimension{"lactate in mmol/L", `"1.8 mmol/L"`, []unit{{"mmol/L", 1}}, 0, 50, ""}
	effort    = dimension{"a perceived effort", `"11"`, []unit{{"", 1}}, 6, 20, "points"}
	cadence   = dimension{"cadence in rpm", `"90 rpm"`, []unit{{"rpm", 1}}, 0, 250, ""}
	mass      = dimension{"mass in kilograms", `"64 kg"`, []unit{{"kg", 1}}, 20, 250, ""}
	share     = dimension{"a share in percent", `"8 %"`, []unit{{"%", 0.01}}, -1000, 1000, ""}
	rampRate  = dimension{"a ramp in watts per minute", `"20 W/min"`, []unit{{"W/min", 1}}, 0, 200, ""}
	duration  = dimension{"a duration in h, min or s", `"1 h 15 min"`, []unit{{"h", 3600}, {"min", 60}, {"s", 1}}, -1e7, 1e7, "seconds"}
)

// withUnits are the kinds that a text shows by its units alone.
var withUnits = []dimension{power, heartRate, lactate, cadence, mass, share, rampRate, duration}

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
func ParseDuration(s string) (Duration, error) { return one[Duration](s, duration) }

// Canonical rewrites a text that is a quantity with its unit, or a range of one, to the form in
// which it is printed here: one space before the unit, a hyphen in ranges. Other texts come back
// as they are, faulty ones too.
func Canonical(s string) string {
	for _, d := range withUnits {
		if r, err := d.read(s); err == nil {
			return r.String()
		}
	}
	return s
}

func one[T ~int | ~float64](s string, d dimension) (T, error) {
	r, err := d.read(s)
	switch {
	case err == nil && r.high != nil:
		err = &Error{Length: len(s), Found: s, Wanted: "one value, not a range: " + d.wanted()}
	case err == nil:
		err = d.check(s, r)
	}
	if err != nil {
		return 0, d.mended(err, s, true)
	}
	return T(d.sum(r.low)), nil
}

func many[T ~float64](s string, d dimension) (Range[T], error) {
	r, err := d.read(s)
	if err == nil {
		err = d.check(s, r)
	}
	if err != nil {
		return Range[T]{}, d.mended(err, s, false)
	}
	low := T(d.sum(r.low))
	if r.high == nil {
		return One(low), nil
	}
	return Range[T]{low, T(d.sum(r.high))}, nil
}

func (d dimension) wanted() string { return d.name + ", such as " + d.example }

// reading is a text taken apart: a value, or the two of a range.
type reading struct{ low, high []term }

// term is a number with its unit; only a duration has several.
type term struct {
	digits string // as written, with its sign
	unit   string
}

// String prints the reading as Parse reads it, with the numbers as they were written.
func (r reading) String() string {
	low, high := joined(r.low), joined(r.high)
	switch {
	case r.high == nil:
		return low
	case len(r.low) == 1 && len(r.high) == 1 && r.low[0].unit == r.high[0].unit:
		return r.low[0].digits + "-" + high
	}
	return low + "-" + high
}

func joined(terms []term) string {
	var parts []string
	for _, t := range terms {
		parts = append(parts, strings.TrimSpace(t.digits+" "+t.unit))
	}
	return strings.Join(parts, " ")
}

// sum is the value of terms in the base unit.
func (d dimension) sum(terms []term) float64 {
	if d.wholes != "" {
		return math.Round(d.exact(terms)) // 1.1 h is 3960.0000000000005 s
	}
	return d.exact(terms)
}

// exact is the value without rounding. A sign before the first term holds for all.
func (d dimension) exact(terms []term) float64 {
	total := 0.0
	for _, t := range terms {
		v, _ := strconv.ParseFloat(strings.TrimLeft(t.digits, "+-"), 64) // digits were checked
		total += float64(v * d.factor(t.unit))
	}
	if strings.HasPrefix(terms[0].digits, "-") {
		total = -total
	}
	return total
}

func (d dimension) factor(name string) float64 {
	for _, u := range d.units {
		if u.name == name {
			return u.factor
		}
	}
	return 0
}

// read takes a text apart: "value unit", "low-high unit" or "low unit - high unit".
func (d dimension) read(s string) (reading, *Error) {
	at, after, isRange := dash(s)
	if !isRange {
		low, err := d.terms(s, 0, len(s), "")
		return reading{low: low}, err
	}
	high, err := d.terms(s, after, len(s), "")
	if err != nil {
		return reading{}, err
	}
	low, err := d.terms(s, 0, at, high[0].unit)
	return reading{low, high}, err
}

// dash finds the dash of a range. A sign at the start is none.
func dash(s string) (at, after int, ok bool) {
	for i, r := range s {
		if (r == '-' || r == '–' || r == '—' || r == '−') && strings.TrimSpace(s[:i]) != "" {
			return i, i + utf8.RuneLen(r), true
		}
	}
	return 0, 0, false
}

// terms reads s[from:to]. Without a unit of its own a single number takes the unit implied, if
// there is one. The units of a duration must fall: "30 min 4 h" is refused.
func (d dimension) terms(s string, from, to int, implied string) ([]term, *Error) {
	fail := func(start, end int, wanted string) ([]term, *Error) {
		found := strings.TrimSpace(s[start:end])
		return nil, &Error{Offset: start, Length: len(strings.TrimRight(s[start:end], blank)), Found: found, Wanted: wanted}
	}
	var out []term
	last := math.Inf(1)
	for at := from + blanks(s[from:to]); at < to || out == nil; at += blanks(s[at:to]) {
		digits, length := decimal(s[at:to])
		if length == 0 || out != nil && (len(d.units) == 1 || strings.ContainsAny(digits, "+-")) {
			return fail(at, to, d.wanted())
		}
		word := at + length + blanks(s[at+length:to])
		name := unitWord(s[word:to])
		if name == "" && implied != "" && out == nil && word == to {
			return []term{{digits, implied}}, nil
		}
		end := word + len(name)
		f := d.factor(name)
		switch {
		case f == 0 && name == "":
			return fail(at, at+length, "a unit: "+d.wanted())
		case f == 0:
			return fail(at, end, d.wanted())
		case f >= last:
			return fail(at, end, "hours before minutes before seconds, each once")
		}
		out, last, at = append(out, term{digits, name}), f, end
	}
	return out, nil
}

// check holds a reading to the limits of its kind.
func (d dimension) check(s string, r reading) *Error {
	for _, terms := range [][]term{r.low, r.high} {
		if terms == nil {
			continue
		}
		v, first := d.sum(terms), d.units[0]
		if v < d.min || v > d.max {
			bounds := fmt.Sprintf("%s between %s and %s %s", d.name, number(d.min/first.factor), number(d.max/first.factor), first.name)
			return &Error{Length: len(s), Found: s, Wanted: strings.TrimSpace(bounds), OutOfRange: true}
		}
		if d.wholes != "" && math.Abs(d.exact(terms)-v) > 1e-6 {
			return &Error{Length: len(s), Found: s, Wanted: "a whole number of " + d.wholes}
		}
	}
	if r.high != nil && d.sum(r.low) > d.sum(r.high) {
		return &Error{Length: len(s), Found: s, Wanted: "the lower value first", Repair: reading{r.high, r.low}.String()}
	}
	return nil
}

const blank = " \t\u00a0\u202f"

func blanks(s string) int { return len(s) - len(strings.TrimLeft(s, blank)) }

// decimal reads a plain decimal with an optional sign: no exponent, no thousands mark. Digits is
// what it read with a plain sign, length how many bytes of s that took.
func decimal(s string) (digits string, length int) {
	sign := ""
	switch {
	case strings.HasPrefix(s, "-"), strings.HasPrefix(s, "+"):
		sign, length = s[:1], 1
	case strings.HasPrefix(s, "−"):
		sign, length = "-", len("−")
	}
	start, dots := length, 0
	for length < len(s) && (s[length] >= '0' && s[length] <= '9' || s[length] == '.' && dots == 0) {
		if s[length] == '.' {
			dots++
		}
		length++
	}
	digits = s[start:length]
	if digits == "" || len(digits) > 15 || digits[0] == '.' || digits[len(digits)-1] == '.' {
		return "", 0
	}
	return strings.TrimPrefix(sign, "+") + digits, length
}

// unitWord reads letters, %, / and the marks that people use for minutes and seconds.
func unitWord(s string) string {
	end := strings.IndexFunc(s, func(r rune) bool {
		return !(r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || strings.ContainsRune("%/'\"′″", r))
	})
	if end < 0 {
		return s
	}
	return s[:end]
}
