package spec

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"github.com/hashicorp/hcl/v2/hclsyntax"

	"towpath/internal/units"
)

// Function is a function of the language.
type Function struct {
	Name    string
	Use     string // how it is written
	Doc     string
	Example string // a use and its result
	args    []form
	apply   func(args []value) (string, *argError)
}

// argError is a mistake in one argument.
type argError struct {
	arg            int
	found, meaning string
}

// Functions lists the functions of the language: quantities are computed by these alone.
func Functions() []Function { return functions }

var functions = []Function{
	{"scale", "scale(quantity, factor)", "A quantity, or a range of one, times a number.", `scale("60 min", 1.5) is "90 min"`, []form{text, number}, scale},
	{"plus", "plus(a, b)", "The sum of two quantities of one kind.", `plus("1 h", "45 min") is "105 min"`, []form{text, text}, sum(1)},
	{"minus", "minus(a, b)", "The difference of two quantities of one kind.", `minus("142 W", "10 W") is "132 W"`, []form{text, text}, sum(-1)},
	{"least", "least(a, b)", "The smaller of two quantities of one kind.", `least("60 min", "1 h 15 min") is "60 min"`, []form{text, text}, pick(-1)},
	{"most", "most(a, b)", "The larger of two quantities of one kind.", `most("60 min", "1 h 15 min") is "75 min"`, []form{text, text}, pick(1)},
	{"total", "total(list)", "The sum of the quantities in a list.", `total(["1 h", "30 min"]) is "90 min"`, []form{sequence}, total},
	{"date_add", "date_add(date, days)", "A date some days or weeks later.", `date_add("2026-10-05", "7 days") is "2026-10-12"`, []form{text, text}, dateAdd},
	{"weekday", "weekday(date)", "The day of the week of a date.", `weekday("2026-10-05") is "monday"`, []form{text}, weekday},
}

func functionNames() []string {
	var out []string
	for _, f := range functions {
		out = append(out, f.Name)
	}
	return out
}

// call computes a function.
func (d *decoder) call(x *hclsyntax.FunctionCallExpr, in *scope) value {
	out := value{at: x.Range()}
	args := make([]value, len(x.Args))
	bad := false
	for i, a := range x.Args {
		args[i] = d.eval(a, in)
		bad = bad || args[i].form == failed || slices.ContainsFunc(args[i].items, func(v value) bool { return v.form == failed })
	}
	which := slices.IndexFunc(functions, func(f Function) bool { return f.Name == x.Name })
	if which < 0 {
		near := d.nearest(x.Name, functionNames())
		diagnostic := d.diagnostic(codeUnknownName, x.NameRange, fmt.Sprintf("There is no function %s", x.Name), seen(near, "The functions are ", functionNames()))
		if near != "" {
			diagnostic.Fix = replace("Write "+near, x.NameRange, near)
		}
		d.diags.Add(diagnostic)
		return out
	}
	f := functions[which]
	if len(args) != len(f.args) || x.ExpandFinal {
		d.report(codeWrongType, x.Range(), fmt.Sprintf("%s takes %d values; %d are given", f.Name, len(f.args), len(args)), fmt.Sprintf("It is written %s: %s.", f.Use, f.Example))
		return out
	}
	for i := range args {
		if args[i].form != f.args[i] && args[i].form != failed {
			d.report(codeWrongType, args[i].at, fmt.Sprintf("%s needs %s here; this is %s", f.Name, wordFor(f.args[i]), args[i].form), fmt.Sprintf("It is written %s: %s.", f.Use, f.Example), d.origin(args[i])...)
			bad = true
		}
	}
	for _, a := range args {
		bad = !d.spend(len(a.items), out.at) || bad
	}
	if bad {
		return out
	}
	result, wrong := f.apply(args)
	if wrong != nil {
		v := args[wrong.arg]
		d.report(codeWrongValue, v.at, wrong.found, wrong.meaning, d.origin(v)...)
		return out
	}
	return d.text(result, x.Range())
}

func wordFor(f form) string {
	if f == text {
		return "text in quotes"
	}
	return f.String()
}

// quantity is a value with a unit, or a range of one, of any kind.
type quantity struct {
	kind      string // "power", "duration", ...
	low, high float64
}

// readings lists how texts become quantities. Kinds whose texts carry no unit are left out.
var readings = []struct {
	kind  string
	read  func(string) (low, high float64, err error)
	print func(low, high float64) string
}{
	{"power", asRange(units.ParsePowerRange), printRange[units.Power]},
	{"heart rate", asRange(units.ParseHeartRateRange), printRange[units.HeartRate]},
	{"lactate", one(units.ParseLactate), printRange[units.Lactate]},
	{"cadence", asRange(units.ParseCadenceRange), printRange[units.Cadence]},
	{"mass", one(units.ParseMass), printRange[units.Mass]},
	{"share", asRange(units.ParseShareRange), printRange[units.Share]},
	{"duration", oneDuration, func(low, _ float64) string { return units.Duration(math.Round(low)).String() }},
}

func asRange[T ~float64](parse func(string) (units.Range[T], error)) func(string) (float64, float64, error) {
	return func(s string) (float64, float64, error) {
		r, err := parse(s)
		return float64(r.Low), float64(r.High), err
	}
}

func one[T ~float64](parse func(string) (T, error)) func(string) (float64, float64, error) {
	return func(s string) (float64, float64, error) {
		v, err := parse(s)
		return float64(v), float64(v), err
	}
}

func oneDuration(s string) (float64, float64, error) {
	v, err := units.ParseDuration(s)
	return float64(v), float64(v), err
}

func printRange[T ~float64](low, high float64) string {
	return units.Range[T]{Low: T(low), High: T(high)}.String()
}

func readQuantity(s string) (quantity, bool) {
	if len(s) > longestQuantity {
		return quantity{}, false
	}
	for _, r := range readings {
		if low, high, err := r.read(s); err == nil {
			return quantity{r.kind, low, high}, true
		}
	}
	return quantity{}, false
}

func isQuantity(s string) bool {
	_, ok := readQuantity(s)
	return ok
}

// longestQuantity bounds what is tried as a quantity.
const longestQuantity = 100

// print gives the canonical text, if that can be read back.
func (q quantity) print() (string, bool) {
	for _, r := range readings {
		if r.kind == q.kind {
			s := r.print(q.low, q.high)
			_, _, err := r.read(s)
			return s, err == nil
		}
	}
	return "", false
}

// result prints what a function computed.
func result(q quantity, arg int) (string, *argError) {
	s, ok := q.print()
	if !ok {
		return "", &argError{arg, fmt.Sprintf("The result %s is outside of what a %s can be", s, q.kind), "Change the values that it is computed from."}
	}
	return s, nil
}

func argument(args []value, i int) (quantity, *argError) {
	q, ok := readQuantity(args[i].text)
	if !ok {
		return q, &argError{i, fmt.Sprintf("%s is no quantity", shown(args[i].text)), `A quantity is a number with its unit, such as "75 min", "142 W" or "8 %".`}
	}
	return q, nil
}

func two(args []value) (a, b quantity, err *argError) {
	if a, err = argument(args, 0); err != nil {
		return
	}
	if b, err = argument(args, 1); err != nil {
		return
	}
	if a.kind != b.kind {
		err = &argError{1, fmt.Sprintf("%s is a %s, %s is a %s", shown(args[1].text), b.kind, shown(args[0].text), a.kind), "The two must be of one kind."}
	}
	return
}

func scale(args []value) (string, *argError) {
	q, err := argument(args, 0)
	if err != nil {
		return "", err
	}
	f := args[1].number
	if f < 0 {
		return "", &argError{1, fmt.Sprintf("The factor %s is below 0", spell(f)), "Scale by 0 or more."}
	}
	q.low, q.high = q.low*f, q.high*f
	return result(q, 0)
}

func sum(sign float64) func([]value) (string, *argError) {
	return func(args []value) (string, *argError) {
		a, b, err := two(args)
		if err != nil {
			return "", err
		}
		a.low, a.high = a.low+float64(sign*b.low), a.high+float64(sign*b.high)
		if a.low > a.high {
			a.low, a.high = a.high, a.low
		}
		return result(a, 0)
	}
}

// pick compares the upper ends first, then the lower ones.
func pick(sign float64) func([]value) (string, *argError) {
	return func(args []value) (string, *argError) {
		a, b, err := two(args)
		if err != nil {
			return "", err
		}
		if by := b.high - a.high; sign*by > 0 || by == 0 && sign*(b.low-a.low) > 0 {
			a = b
		}
		return result(a, 0)
	}
}

func total(args []value) (string, *argError) {
	if len(args[0].items) == 0 {
		return "", &argError{0, "The list is empty: it has no total", `Write at least one quantity, such as ["1 h"].`}
	}
	var all quantity
	for i, item := range args[0].items {
		if item.form != text {
			return "", &argError{0, "Entry " + strconv.Itoa(i+1) + " of the list is " + item.form.String(), `Each entry is a quantity, such as "75 min".`}
		}
		q, err := argument([]value{item}, 0)
		if err != nil {
			return "", err
		}
		if i > 0 && q.kind != all.kind {
			return "", &argError{0, fmt.Sprintf("The list holds a %s and a %s (%s)", all.kind, q.kind, shown(item.text)), "All entries must be of one kind."}
		}
		all = quantity{q.kind, all.low + q.low, all.high + q.high}
	}
	return result(all, 0)
}

func dateAdd(args []value) (string, *argError) {
	date, wrong := dateArgument(args[0].text)
	if wrong != nil {
		return "", wrong
	}
	days, ok := readDays(args[1].text)
	if !ok {
		return "", &argError{1, fmt.Sprintf("%s is no number of days", shown(args[1].text)), `Write "7 days", "2 weeks" or "-1 day".`}
	}
	out := date.Add(days).String()
	if _, err := units.ParseDate(out); err != nil {
		return "", &argError{1, fmt.Sprintf("%s is beyond the years of a plan", out), "A plan's dates run from 1970 to 2199."}
	}
	return out, nil
}

func weekday(args []value) (string, *argError) {
	date, wrong := dateArgument(args[0].text)
	if wrong != nil {
		return "", wrong
	}
	return units.WeekdayKey(date.Weekday()), nil
}

func dateArgument(s string) (units.Date, *argError) {
	date, err := units.ParseDate(s)
	var e *units.Error
	if errors.As(err, &e) {
		return 0, &argError{0, fmt.Sprintf("%s is no date", shown(s)), "Expected: " + e.Wanted + "."}
	}
	return date, nil
}

// readDays reads "7 days", "1 day", "2 weeks", with a sign.
func readDays(s string) (int, bool) {
	number, unit, _ := strings.Cut(strings.TrimSpace(s), " ")
	n, err := strconv.Atoi(number)
	const most = 100_000
	if err != nil || n > most || n < -most {
		return 0, false
	}
	switch strings.TrimSpace(unit) {
	case "day", "days":
		return n, true
	case "week", "weeks":
		return 7 * n, true
	}
	return 0, false
}
