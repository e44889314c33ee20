package spec

import (
	"crypto/sha256"
	"encoding/base32"
	"errors"
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"github.com/hashicorp/hcl/v2"

	"towpath/internal/units"
)

// convert turns a value into the Go value of a type: units.Power, Ref, []item, *node for a row.
// Where it cannot, it says what stands there and what to write; after a failed value it is silent.
func (d *decoder) convert(v value, t *Type, name string) (item, bool) {
	if v.form == failed {
		if t.Kind == Reference && v.ref.Key != "" {
			d.sameName(v, t.Blocks[0])
		}
		return item{}, false
	}
	if v.form == text && t.Kind != Choice && slices.Contains(t.Words, v.text) {
		return item{v.at, v.text, true}, true
	}
	switch t.Kind {
	case List:
		return d.asList(v, t, name)
	case OneOrMore:
		return d.asSome(v, t, name)
	case DayText:
		return d.asDay(v, t, name)
	case Row:
		return d.asRow(v, t, name)
	case RowOrRows:
		return d.asRows(v, t, name)
	case Table:
		return d.asTable(v, t, name)
	case Reference:
		return d.asReference(v, t, name)
	case Truth:
		return d.asTruth(v, name)
	case Count, EffortNumber:
		return d.asCount(v, t, name)
	case CountRange, WeekList:
		return d.asCounts(v, t, name)
	}
	return d.asText(v, t, name)
}

// reader reads a text of one kind.
type reader struct {
	what    string // "a duration"
	example string
	unit    string // what a bare number most likely lacks
	read    func(string) (any, error)
}

func read[T any](f func(string) (T, error)) func(string) (any, error) {
	return func(s string) (any, error) { return f(s) }
}

var readers = map[Kind]reader{
	DateText:       {"a date", `"2026-10-05"`, "", read(units.ParseDate)},
	DateSpan:       {"a date or several days in a row", `"2026-10-05 to 2026-10-09"`, "", read(units.ParseDates)},
	ClockText:      {"a time of day", `"18:30"`, "", read(units.ParseClock)},
	WeekdayText:    {"a day of the week", `"saturday"`, "", read(units.ParseWeekday)},
	PowerText:      {"a power", `"142 W"`, "W", read(units.ParsePower)},
	PowerRange:     {"a power or a range of it", `"118-142 W"`, "W", read(units.ParsePowerRange)},
	HeartRateText:  {"a heart rate", `"128 bpm"`, "bpm", read(units.ParseHeartRate)},
	HeartRateRange: {"a range of heart rate", `"112-128 bpm"`, "bpm", read(units.ParseHeartRateRange)},
	LactateText:    {"a lactate concentration", `"1.8 mmol/L"`, "mmol/L", read(units.ParseLactate)},
	EffortRange:    {"a range of effort from 6 to 20", `"9-12"`, "", read(units.ParseEffortRange)},
	CadenceRange:   {"a cadence or a range of it", `"85-95 rpm"`, "rpm", read(units.ParseCadenceRange)},
	MassText:       {"a body mass", `"58 kg"`, "kg", read(units.ParseMass)},
	ShareText:      {"a share", `"8 %"`, "%", read(units.ParseShare)},
	ShareRange:     {"a share or a range of it", `"67-100 %"`, "%", read(units.ParseShareRange)},
	DurationText:   {"a duration", `"1 h 15 min"`, "min", read(parsePositive)},
	WeekText:       {"a duration", `"1 h 15 min"`, "min", read(parseWeek)},
	AmountText:     {"a duration or a share", `"25 min" or "8 %"`, "", read(parseAmount)},
	FirstAmount:    {"a duration or a share of the recent weeks", `"5 h" or "100 % of recent"`, "", read(parseFirst)},
	RampText:       {"a ramp in watts per minute", `"20 W/min"`, "W/min", read(units.ParseRampRate)},
	KeyText:        {"a plain name", `"long"`, "", read(parseKey)},
	AllowanceText:  {"an allowance", `"climbs: 3 min, 115 %"`, "", read(parseAllowance)},
	DayText:        {"what a day can hold", `"75 min, 18:30, indoor"`, "min", read(parseDay)},
}

// asText reads free text, a word, or a quantity.
func (d *decoder) asText(v value, t *Type, name string) (item, bool) {
	if v.form != text {
		d.notText(v, t, name)
		return item{}, false
	}
	switch t.Kind {
	case Text:
		if strings.TrimSpace(v.text) == "" {
			d.report(codeWrongValue, v.at, name+" is empty", "Write something, or leave the line out.", d.origin(v)...)
			return item{}, false
		}
		return item{at: v.at, v: v.text}, true
	case PlanKey:
		return d.asKey(v, t, name)
	case Choice:
		if slices.Contains(t.Words, v.text) {
			return item{at: v.at, v: v.text}, true
		}
		d.wrongWord(v, t.Words, name)
		return item{}, false
	}
	r := readers[t.Kind]
	out, err := r.read(v.text)
	if err == nil {
		return item{at: v.at, v: out}, true
	}
	d.unreadable(v, t, r, name, err)
	return item{}, false
}

func (d *decoder) wrongWord(v value, words []string, name string) {
	diagnostic := d.diagnostic(codeWrongValue, v.at, fmt.Sprintf("%s cannot be %s", name, shown(v.text)), "")
	near := d.nearest(v.text, words)
	diagnostic.Detail = didYouMean(quoted(near))
	if near == "" {
		diagnostic.Detail = ""
		if near = otherValues[strings.ToLower(v.text)]; slices.Contains(words, near) {
			diagnostic.Detail = "Its word here is " + quoted(near) + ". "
		} else {
			near = ""
		}
	}
	if at, written := d.written(v); written && near != "" {
		diagnostic.Fix = replace("Write "+quoted(near), at, quoted(near))
	}
	diagnostic.Detail += "It is " + quotedWords(words) + "."
	diagnostic.Related = d.origin(v)
	d.diags.Add(diagnostic)
}

var (
	planKey    = regexp.MustCompile(`^[a-z0-9]+$`)
	notPlanKey = regexp.MustCompile(`[^A-Za-z0-9]`)
)

// madeUpID proposes a plan's id, made out of its text: another plan is offered another one.
func (d *decoder) madeUpID() string {
	sum := sha256.New()
	for _, f := range d.in.Files {
		if !f.Library {
			sum.Write(f.Bytes)
		}
	}
	const letters = 8
	return strings.ToLower(base32.StdEncoding.EncodeToString(sum.Sum(nil)))[:letters]
}

func (d *decoder) asKey(v value, t *Type, name string) (item, bool) {
	fits := func(s string) bool { return len(s) >= t.Min && len(s) <= t.Max && planKey.MatchString(s) }
	if !fits(v.text) {
		diagnostic := d.diagnostic(codeWrongValue, v.at, fmt.Sprintf("%s cannot be %s", name, shown(v.text)), fmt.Sprintf("It is %d to %d small letters and digits, made up once.", t.Min, t.Max))
		right := strings.ToLower(notPlanKey.ReplaceAllString(v.text, ""))
		if !fits(right) {
			right = d.madeUpID()
		}
		diagnostic.Detail += fmt.Sprintf(" Write %s = %s.", name, quoted(right))
		if v.literal {
			diagnostic.Fix = replace("Write "+quoted(right), v.at, quoted(right))
		}
		diagnostic.Related = d.origin(v)
		d.diags.Add(diagnostic)
		return item{}, false
	}
	return item{at: v.at, v: v.text}, true
}

// unreadable reports a text that is not what it should be, underlining the part that is wrong.
func (d *decoder) unreadable(v value, t *Type, r reader, name string, err error) {
	if d.subtraction(v) {
		return
	}
	var e *units.Error
	if !errors.As(err, &e) {
		e = &units.Error{Length: len(v.text), Found: v.text, Wanted: r.what + ", such as " + r.example}
	}
	code := codeWrongUnit
	switch {
	case e.OutOfRange:
		code = codeOutOfRange
	case r.unit == "" || t.Kind == DayText:
		code = codeWrongValue
	}
	at := v.at
	if v.literal {
		at = within(v.at, d.source(v.at), v.text, e.Offset, e.Length)
	}
	diagnostic := d.diagnostic(code, at, fmt.Sprintf("%s is not %s", shown(v.text), r.what), "Expected "+strings.TrimSuffix(e.Wanted, ".")+".")
	if code == codeOutOfRange {
		diagnostic.Summary = shown(v.text) + " is out of range"
	}
	for _, w := range t.Words {
		diagnostic.Detail += fmt.Sprintf(" The word %s is possible as well.", quoted(w))
	}
	repair := e.Repair
	if m := minutesAndSeconds.FindStringSubmatch(v.text); m != nil && slices.Contains(shortTimes, name) {
		long, _ := units.ParseDuration(m[1] + " min " + m[2] + " s")
		repair = long.String()
	}
	if n, err := strconv.ParseFloat(strings.TrimSpace(v.text), 64); err == nil && repair == "" {
		repair, _ = withUnit(n, t, r, name)
	}
	if repair == "" {
		repair = d.nearest(v.text, append(weekdayWords(t), t.Words...))
	}
	if repair != "" && d.repairs(repair, t, r) {
		diagnostic.Detail += fmt.Sprintf(" Write %s.", quoted(repair))
		switch at, written := d.written(v); {
		case written:
			diagnostic.Fix = replace("Write "+quoted(repair), at, quoted(repair))
		case t.Kind == KeyText && string(d.source(v.at)) == v.text: // the left side of a table, without quotes
			diagnostic.Fix = replace("Write "+repair, v.at, repair)
		}
	}
	diagnostic.Related = d.origin(v)
	d.diags.Add(diagnostic)
}

// written is where a text stands in quotes: at hand, or as a value of let.
func (d *decoder) written(v value) (hcl.Range, bool) {
	if v.literal {
		return v.at, true
	}
	return v.from, v.from != (hcl.Range{}) && string(d.source(v.from)) == quoted(v.text)
}

// minutesAndSeconds is "3:20" where it cannot be hours: of a stage or a step, named in shortTimes.
var (
	minutesAndSeconds = regexp.MustCompile(`^\s*(\d{1,2}):([0-5]\d)\s*$`)
	shortTimes        = []string{"duration", "stage", "sample_delay"}
)

// repairs tells whether a text would be accepted.
func (d *decoder) repairs(s string, t *Type, r reader) bool {
	_, err := r.read(s)
	return err == nil || slices.Contains(t.Words, s)
}

func weekdayWords(t *Type) []string {
	var out []string
	if t.Kind == WeekdayText {
		for _, day := range units.Weekdays {
			out = append(out, units.WeekdayKey(day))
		}
	}
	return out
}

// notText reports a number, list or other thing where a text belongs.
func (d *decoder) notText(v value, t *Type, name string) {
	if d.subtraction(v) {
		return
	}
	r, isQuantity := readers[t.Kind]
	if !isQuantity {
		r = reader{what: "text in quotes", example: `"…"`}
		if t.Kind == Choice {
			r = reader{what: "one of its words", example: quoted(t.Words[0])}
		}
	}
	wrongType := fmt.Sprintf("%s is %s, such as %s; this is %s", v.part(name), r.what, r.example, v.form)
	if v.form != number {
		diagnostic := d.diagnostic(codeWrongType, v.at, wrongType, "Write text in quotes.")
		switch {
		case v.form == nothing && v.entry:
			diagnostic.Detail = "Leave it out."
		case v.form == nothing:
			diagnostic.Detail = "Leave the line out where there is no value."
		case v.form == sequence:
			diagnostic.Detail = "Write one value, without [ ]."
			if len(v.items) == 1 && v.items[0].literal && d.origin(v) == nil {
				one := string(d.source(v.items[0].at))
				diagnostic.Fix = replace("Write "+one, v.at, one)
			}
		}
		diagnostic.Related = d.origin(v)
		d.diags.Add(diagnostic)
		return
	}
	diagnostic := d.diagnostic(codeWrongUnit, v.at, fmt.Sprintf("%s = %s has no unit", name, spell(v.number)), fmt.Sprintf("It is %s, such as %s.", r.what, r.example))
	n := spell(v.number)
	switch {
	case t.Kind == AmountText:
		diagnostic.Detail += fmt.Sprintf(" Write \"%s min\" or \"%s %%\".", n, n)
	case t.Kind == FirstAmount:
	case r.unit == "":
		diagnostic.Code, diagnostic.Summary, diagnostic.Detail = codeWrongType, wrongType, "Write text in quotes."
	}
	diagnostic.Related = d.origin(v)
	if with, ok := withUnit(v.number, t, r, name); ok {
		diagnostic.Detail += fmt.Sprintf(" Write %s.", quoted(with))
		if d.origin(v) == nil {
			diagnostic.Fix = replace("Write "+quoted(with), v.at, quoted(with))
		}
	} else if t.Kind == DurationText || t.Kind == WeekText {
		diagnostic.Detail += fmt.Sprintf(" Write \"%s h\" or \"%s min\".", n, n)
	}
	d.diags.Add(diagnostic)
}

// withUnit guesses the text that a bare number stands for, where the guess is beyond doubt.
func withUnit(n float64, t *Type, r reader, name string) (string, bool) {
	const (
		few       = 10 // below, minutes could be hours
		mostHours = 40 // above, hours of a week are more likely a share in percent
	)
	unit := r.unit
	switch {
	case unit == "%" && n > -1 && n < 1 && n != 0:
		n *= 100
	case t.Kind == WeekText && name == "hours", t.Kind == FirstAmount && n <= mostHours:
		unit = "h"
	case t.Kind == FirstAmount:
		unit = "% " + ofRecent
	case unit == "min" && n < few && name != "duration" && (name != "minutes" || n != math.Trunc(n)):
		return "", false
	case t.Kind == Text || t.Kind == PlanKey:
		return spell(n), true
	}
	s := spell(rounded(n))
	if unit != "" {
		s += " " + unit
	}
	if r.read == nil {
		return "", false
	}
	_, err := r.read(s)
	return s, err == nil
}

var minusForm = regexp.MustCompile(`^[0-9]+ *- *[0-9]+( *- *[0-9]+)?$`)

// subtraction reports 2026-10-05 or 4-5 without quotes, which are 2003 and -1.
func (d *decoder) subtraction(v value) bool {
	src := string(d.source(v.at))
	if v.literal || !minusForm.MatchString(src) {
		return false
	}
	said := strings.ReplaceAll(src, " ", "")
	d.reportFix(codeWrongType, v.at, fmt.Sprintf("Without quotes %s is a subtraction", src), fmt.Sprintf("Dates and ranges stand in quotes. Write %s.", quoted(said)), replace("Write "+quoted(said), v.at, quoted(said)))
	return true
}
