package spec

import (
	"errors"
	"fmt"
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

// span is a run of counts, both ends included.
type span struct{ low, high int }

// readSpans reads "4", "4-5" and, for week numbers, "3, 5-7".
func readSpans(s string, t *Type, example string) ([]span, error) {
	var out []span
	offset := 0
	for _, part := range strings.Split(s, ",") {
		one, err := readSpan(part, t, example)
		if err != nil {
			err.Offset += offset
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
	a, err := strconv.Atoi(strings.TrimSpace(low))
	b, err2 := strconv.Atoi(strings.TrimSpace(high))
	switch {
	case err != nil || err2 != nil:
		return span{}, wrong("whole numbers, such as " + example)
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

// parseDay reads what a day can hold: "4 h 30 min, 08:30, outdoor or 2 h indoor", "40 min, easy",
// "none". The parts stand in any order.
func parseDay(s string) (Day, error) {
	if strings.TrimSpace(s) == "none" {
		return Day{Closed: true}, nil
	}
	var day Day
	offset := 0
	for _, part := range strings.Split(s, ",") {
		if err := day.add(part); err != nil {
			err.Offset += offset
			if err.Repair != "" {
				err.Repair = s[:offset] + strings.Replace(part, strings.TrimSpace(part), err.Repair, 1) + s[offset+len(part):]
			}
			return Day{}, err
		}
		offset += len(part) + 1
	}
	if day.Limit == 0 {
		return Day{}, &units.Error{Length: len(s), Found: s, Wanted: `how long the ride can be, such as "75 min, 18:30", or "none"`}
	}
	if day.OrLimit != 0 && day.Place == "" {
		day.Place = other(day.OrPlace)
	}
	if day.OrPlace != "" && day.OrPlace == day.Place {
		return Day{}, &units.Error{Length: len(s), Found: s, Wanted: "two different places around or, outdoor and indoor"}
	}
	return day, nil
}

func other(place string) string {
	if place == "indoor" {
		return "outdoor"
	}
	return "indoor"
}

// add reads one part of a day's text into it.
func (day *Day) add(part string) *units.Error {
	word := strings.TrimSpace(part)
	offset := strings.Index(part, word)
	err := day.addWord(word)
	if err != nil {
		err.Offset += offset
		if err.Length == 0 {
			err.Length = len(word)
		}
	}
	return err
}

func (day *Day) addWord(word string) *units.Error {
	if first, second, ok := strings.Cut(word, " or "); ok {
		return day.addChoice(first, second, len(word)-len(second))
	}
	switch {
	case word == "":
		return &units.Error{Wanted: "a part before and after each comma"}
	case word == "easy":
		if day.Easy {
			return twice(word, "easy")
		}
		day.Easy = true
		return nil
	case word == "none":
		return &units.Error{Found: word, Wanted: `"none" alone, or what the day can hold`}
	case strings.Contains(word, ":"):
		clock, err := units.ParseClock(word)
		if err != nil {
			return partError(err)
		}
		if !day.Start.IsZero() {
			return &units.Error{Length: len(word), Found: word, Wanted: `the hour once; how long the ride can be is written with its unit, such as "60 min" or "1 h 15 min"`}
		}
		day.Start = clock
		return nil
	}
	return day.addRoom(word, &day.Limit, &day.Place)
}

// addChoice reads "outdoor or 2 h indoor": at the second place the day holds less or more.
func (day *Day) addChoice(first, second string, at int) *units.Error {
	if day.OrLimit != 0 {
		return twice(first+" or "+second, "or")
	}
	if err := day.addRoom(strings.TrimSpace(first), &day.Limit, &day.Place); err != nil {
		err.Repair = ""
		return err
	}
	second = strings.TrimSpace(second)
	err := day.addRoom(second, &day.OrLimit, &day.OrPlace)
	if err == nil && (day.OrLimit == 0 || day.OrPlace == "") {
		err = &units.Error{Length: len(second), Found: second, Wanted: `a duration and a place after or, such as "outdoor or 2 h indoor"`}
	}
	if err != nil {
		err.Offset += at
		err.Repair = "" // it would repair this side alone
	}
	return err
}

// partError makes the error of a part its own.
func partError(err error) *units.Error {
	var e *units.Error
	if !errors.As(err, &e) {
		return &units.Error{Wanted: err.Error()}
	}
	return e
}

// addRoom reads a duration, a place, or both.
func (day *Day) addRoom(word string, limit *units.Minutes, place *string) *units.Error {
	length := word
	for _, p := range []string{"outdoor", "indoor"} {
		if rest, ok := strings.CutSuffix(word, p); ok && (rest == "" || strings.HasSuffix(rest, " ")) {
			if *place != "" {
				return twice(word, "the place")
			}
			*place, length = p, strings.TrimSpace(rest)
		}
	}
	if length == "" {
		return nil
	}
	v, err := units.ParseDuration(length)
	if err != nil {
		if _, clock := units.ParseClock(length); clock != nil && partError(clock).Repair != "" && partError(err).Repair == "" {
			return partError(clock) // "6.30 pm" is an hour, though not as it is written here
		}
		if word[0] >= '0' && word[0] <= '9' {
			return partError(err)
		}
		return &units.Error{
			Length: len(word), Found: word, Wanted: "a duration, an hour such as 18:30, outdoor or indoor, or easy",
			Repair: Nearest(word, []string{"outdoor", "indoor", "easy"}),
		}
	}
	const day24 = 24 * 60
	if *limit != 0 {
		return twice(word, "the duration")
	}
	if v%60 != 0 || v <= 0 || v.Minutes() > day24 {
		return &units.Error{Length: len(word), Found: word, Wanted: `whole minutes, from 1 min to 24 h; a day without a ride is "none"`}
	}
	*limit = v.Minutes()
	return nil
}

func twice(word, what string) *units.Error {
	return &units.Error{Length: len(word), Found: word, Wanted: what + " once"}
}
