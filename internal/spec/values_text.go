package spec

import (
	"errors"
	"fmt"
	"regexp"
	"strconv"
	"strings"

	"towpath/internal/units"
)

// These read the texts of the language that are more than one quantity. Like units, they report
// the place of a mistake as an offset into the text.

// parsePositive reads a duration above 0.
func parsePositive(s string) (units.Duration, error) {
	v, err := units.ParseDuration(s)
	if err == nil && v <= 0 {
		err = &units.Error{Length: len(s), Found: s, Wanted: "a duration above 0", OutOfRange: true}
	}
	return v, err
}

// parseWeek reads a week's time, which may be nothing: a week off.
func parseWeek(s string) (units.Duration, error) {
	v, err := units.ParseDuration(s)
	if err == nil && v < 0 {
		err = &units.Error{Length: len(s), Found: s, Wanted: "a duration from 0 min", OutOfRange: true}
	}
	return v, err
}

// parseAmount reads "25 min" or "8 %".
func parseAmount(s string) (Amount, error) {
	if strings.Contains(s, "%") {
		share, err := units.ParseShare(s)
		return Amount{Share: share, IsShare: true}, err
	}
	v, err := units.ParseDuration(s)
	if err != nil { // "8 percent" is a share that went wrong
		if e := partError(wrongShare(s)); e.Repair != "" && partError(err).Repair == "" {
			return Amount{}, e
		}
	}
	return Amount{Duration: v}, err
}

func wrongShare(s string) error {
	_, err := units.ParseShare(s)
	return err
}

const ofRecent = "of recent"

// parseFirst reads "5 h" or "100 % of recent".
func parseFirst(s string) (Amount, error) {
	share, rest, found := strings.Cut(s, "%")
	if !found {
		v, err := parsePositive(s)
		return Amount{Duration: v}, err
	}
	offset := len(share) + 1
	blanks := len(rest) - len(strings.TrimLeft(rest, " "))
	if strings.Join(strings.Fields(rest), " ") != ofRecent {
		e := &units.Error{Offset: offset + blanks, Length: len(rest) - blanks, Found: strings.TrimSpace(rest), Wanted: `"of recent" after the share: it is a share of the recent weeks`}
		if e.Found == "" {
			e.Offset, e.Length = 0, len(s)
			e.Found = s
		}
		if v, err := units.ParseShare(s[:offset]); err == nil {
			e.Repair = v.String() + " " + ofRecent
		}
		return Amount{}, e
	}
	v, err := units.ParseShare(s[:offset])
	if err == nil && v <= 0 {
		err = &units.Error{Length: len(s), Found: s, Wanted: "a share above 0", OutOfRange: true}
	}
	return Amount{Share: v, IsShare: true, OfRecent: true}, err
}

// span is a run of counts, both ends included. For weeks 0 is the block's last, which is known
// once the block is.
type span struct{ low, high int }

// lastWord names the block's last week.
const lastWord = "last"

// spanInWords is how people write a count or a range of counts: "8 to 12 weeks", "week 4".
var spanInWords = regexp.MustCompile(`^(?:weeks?\s+)?(\d{1,2})\s*(?:(?:-|–|to|until|till)\s*(\d{1,2}))?(?:\s*(?:weeks?|rides?|times))?$`)

// readSpans reads "4", "4-5" and, for week numbers, "3, 5-7, last".
func readSpans(s string, t *Type, example string) ([]span, error) {
	var out []span
	offset := 0
	for _, part := range strings.Split(s, ",") {
		one, err := readSpan(part, t, example)
		if err != nil {
			err.Offset += offset
			if err.Repair != "" {
				err.Repair = s[:err.Offset] + err.Repair + s[err.Offset+err.Length:]
			}
			return nil, err
		}
		out = append(out, one)
		offset += len(part) + 1
	}
	if t.Kind == CountRange && len(out) > 1 {
		return nil, &units.Error{Length: len(s), Found: s, Wanted: "one count or range, such as " + example}
	}
	return out, nil
}

func readSpan(s string, t *Type, example string) (span, *units.Error) {
	word := strings.TrimSpace(s)
	offset := strings.Index(s, word)
	wrong := func(wanted string) *units.Error {
		return &units.Error{Offset: offset, Length: len(word), Found: word, Wanted: wanted}
	}
	low, high, isRange := strings.Cut(strings.NewReplacer("–", "-", "—", "-", "−", "-").Replace(word), "-")
	if !isRange {
		high = low
	}
	if t.Kind == WeekList && strings.TrimSpace(high) == lastWord {
		if !isRange {
			return span{}, nil
		}
		if n, err := strconv.Atoi(strings.TrimSpace(low)); err == nil && n >= t.Min && n <= t.Max {
			return span{low: n}, nil
		}
	}
	a, err := strconv.Atoi(strings.TrimSpace(low))
	b, err2 := strconv.Atoi(strings.TrimSpace(high))
	switch {
	case err != nil || err2 != nil:
		e := wrong("whole numbers, such as " + example)
		if m := spanInWords.FindStringSubmatch(word); m != nil {
			e.Repair = strings.TrimSuffix(m[1]+"-"+m[2], "-")
		} else if t.Kind == WeekList {
			e.Repair = Nearest(word, []string{lastWord})
		}
		return span{}, e
	case a < t.Min || b > t.Max || b < t.Min || a > t.Max:
		e := wrong(fmt.Sprintf("whole numbers between %d and %d", t.Min, t.Max))
		e.OutOfRange = true
		return span{}, e
	case a > b:
		e := wrong("the lower number first")
		e.Repair = fmt.Sprintf("%d-%d", b, a)
		return span{}, e
	}
	return span{a, b}, nil
}

// parseKey reads a name that is given within a block: a shift, a ride, an allowance.
func parseKey(s string) (string, error) {
	if strings.Contains(s, ",") {
		return "", &units.Error{Length: len(s), Found: s, Wanted: "one name alone; where several can stand, each has quotes of its own"}
	}
	if right := rightLabel(s, KeyLabel); right != s || s == "" {
		return "", &units.Error{Length: len(s), Found: s, Wanted: "a small letter first, then small letters, digits and _", Repair: right}
	}
	return s, nil
}

const allOut = "all out"

// parseAllowance reads "climbs: 3 min, 115 %" or "sprints: 10 s, all out"; the parts behind the
// colon stand in any order.
func parseAllowance(s string) (Allowance, error) {
	const whole = `a name, a colon, how long at a time, and a share of the ceiling or all out, such as "climbs: 3 min, 115 %"`
	before, after, found := strings.Cut(s, ":")
	if !found {
		return Allowance{}, &units.Error{Length: len(s), Found: s, Wanted: whole}
	}
	name := strings.TrimSpace(before)
	key, err := parseKey(name)
	if err != nil {
		e := partError(err)
		e.Offset, e.Length = strings.Index(s, name), max(1, len(name))
		e.Wanted = "a name of small letters, digits and _ before the colon"
		if e.Repair != "" {
			e.Repair += ":" + after
		}
		return Allowance{}, e
	}
	a := Allowance{Name: key}
	offset := len(before) + 1
	for _, part := range strings.Split(after, ",") {
		word := strings.TrimSpace(part)
		if err := a.add(word); err != nil {
			at := offset + strings.Index(part, word)
			if err.Repair != "" {
				err.Repair = s[:at] + err.Repair + s[at+len(word):]
			}
			err.Offset += at
			err.Length = max(1, err.Length)
			return Allowance{}, err
		}
		offset += len(part) + 1
	}
	switch {
	case a.Duration == 0:
		return Allowance{}, &units.Error{Length: len(s), Found: s, Wanted: `how long at a time as well, such as "climbs: 3 min, 115 %"`}
	case a.Share == 0 && !a.AllOut:
		return Allowance{}, &units.Error{Length: len(s), Found: s, Wanted: fmt.Sprintf("a share of the ceiling or all out as well, such as %q or %q", s+", 115 %", s+", all out")}
	}
	return a, nil
}

// add reads one part behind the colon.
func (a *Allowance) add(word string) *units.Error {
	switch {
	case word == allOut || strings.Contains(word, "%"):
		if a.AllOut || a.Share != 0 {
			return twice(word, "a share or all out")
		}
		if word == allOut {
			a.AllOut = true
			return nil
		}
		v, err := units.ParseShare(word)
		if err == nil && v <= 1 {
			wanted := "a share of the ceiling above 100 %"
			if v > 0 && v <= 0.5 {
				wanted += fmt.Sprintf(": %s more is %q", v, (1 + v).String())
			}
			err = &units.Error{Length: len(word), Found: word, Wanted: wanted, OutOfRange: true}
		}
		if err != nil {
			return partError(err)
		}
		a.Share = v
		return nil
	case a.Duration != 0:
		return &units.Error{Length: len(word), Found: word, Wanted: `a share of the ceiling such as "115 %", or all out, behind the duration`, Repair: Nearest(word, []string{allOut})}
	}
	v, err := parsePositive(word)
	if err != nil {
		return partError(err)
	}
	a.Duration = v
	return nil
}

// partError makes the error of a part its own.
func partError(err error) *units.Error {
	var e *units.Error
	if !errors.As(err, &e) {
		return &units.Error{Wanted: err.Error()}
	}
	return e
}
