package spec

import (
	"fmt"
	"regexp"
	"strings"

	"github.com/hashicorp/hcl/v2"

	"towpath/internal/units"
)

// asDay reads what a day can hold: one window, or a list of two.
func (d *decoder) asDay(v value, t *Type, name string) (item, bool) {
	if v.form != sequence {
		return d.asText(v, t, name)
	}
	switch len(v.items) {
	case 1:
		diagnostic := d.diagnostic(codeWrongType, v.at, name+" is a list of one", "A day with one window is written without [ ].")
		if one := v.items[0]; one.form == text && one.literal && v.from == (hcl.Range{}) {
			diagnostic.Fix = replace("Write "+quoted(one.text), v.at, quoted(one.text))
		}
		diagnostic.Related = d.origin(v)
		d.diags.Add(diagnostic)
		return item{}, false
	case 2:
	default:
		d.tooManyWindows(v, name)
		return item{}, false
	}
	first, ok := d.window(v, 0, t, name)
	second, ok2 := d.window(v, 1, t, name)
	if !ok || !ok2 {
		return item{}, false
	}
	if earlier, later := first, second; !first.Start.IsZero() && !second.Start.IsZero() {
		if later.Start < earlier.Start {
			earlier, later = later, earlier
		}
		if end := earlier.Start.Minute() + int(earlier.Limit); end > later.Start.Minute() {
			d.report(codeOneOf, v.at, fmt.Sprintf("The two windows of %s overlap", name),
				fmt.Sprintf("The one from %s lasts %s, and the other begins at %s. Shorten the first, or begin the second later.", earlier.Start, earlier.Limit, later.Start), d.origin(v)...)
			return item{}, false
		}
	}
	first.Second = &second
	return item{at: v.at, v: first}, true
}

// tooManyWindows reports a day that is no day of one or two windows. The way to work and the way home
// are written as one.
func (d *decoder) tooManyWindows(v value, name string) {
	diagnostic := d.diagnostic(codeOutOfRange, v.at, fmt.Sprintf("%s has %d windows", name, len(v.items)), `A day has one window or two, such as ["25 min, 07:30, commute", "75 min, 18:30"]; a day without a ride is "none".`)
	diagnostic.Related = d.origin(v)
	var ways []Day
	var others []string
	for _, e := range v.items {
		switch day, err := parseDay(e.text); {
		case err == nil && day.Commute:
			ways = append(ways, day)
		case err == nil && !day.Closed:
			others = append(others, quoted(e.text))
		}
	}
	if len(ways) == 2 {
		both := []string{(ways[0].Limit + ways[1].Limit).String()}
		if at := ways[0].Start; !at.IsZero() {
			both = append(both, at.String())
		}
		windows := append([]string{quoted(strings.Join(append(both, "commute"), ", "))}, others...)
		written := fmt.Sprintf("[%s]", strings.Join(windows, ", "))
		diagnostic.Detail = "A day has one window or two: both ways to work are one, with the minutes of both."
		if len(windows) == 2 && len(v.items) == 3 && d.origin(v) == nil {
			diagnostic.Detail += fmt.Sprintf(" Write %s.", written)
			diagnostic.Fix = replace("Write "+written, v.at, written)
		}
	}
	d.diags.Add(diagnostic)
}

// window reads one of the two windows of a day.
func (d *decoder) window(v value, i int, t *Type, name string) (Day, bool) {
	e := d.inherit(v.items[i], v)
	if e.form == failed {
		return Day{}, false
	}
	it, ok := d.asText(e, t, name)
	if !ok {
		return Day{}, false
	}
	day, _ := it.v.(Day)
	if day.Closed {
		d.report(codeWrongValue, e.at, "A window of a day cannot be \"none\"", "Leave out the window and the [ ]; for a day without a ride write \"none\" alone.", d.origin(e)...)
		return Day{}, false
	}
	return day, true
}

// parseDay reads what a day can hold: "3 h 40 min, 09:15, outdoor or 2 h indoor", "40 min, easy",
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
			} else if with := behindDuration.ReplaceAllString(s, ", $1"); with != s {
				if _, wrong := parseDay(with); wrong == nil {
					err.Repair = with // "45 min 18:30 easy"
				}
			}
			return Day{}, err
		}
		offset += len(part) + 1
	}
	if day.Limit == 0 {
		return Day{}, &units.Error{Length: len(s), Found: s, Wanted: `how long the ride can be, such as "75 min, 18:30", or "none"`}
	}
	if day.Commute && (day.Easy || day.OrLimit != 0 || day.Place == "indoor") {
		word, at := "easy", strings.Index(s, "easy")
		switch {
		case day.OrLimit != 0:
			word, at = "or", strings.Index(s, " or ")+1
		case day.Place == "indoor":
			word, at = "indoor", strings.Index(s, "indoor")
		}
		return Day{}, &units.Error{Offset: at, Length: len(word), Found: word, Wanted: "commute without " + word + ": the way to work is ridden as it is"}
	}
	if day.OrLimit != 0 && day.Place == "" {
		day.Place = other(day.OrPlace)
	}
	if day.OrPlace != "" && day.OrPlace == day.Place {
		return Day{}, &units.Error{Length: len(s), Found: s, Wanted: "two different places around or, outdoor and indoor"}
	}
	return day, nil
}

// behindDuration are the parts of a day's text before which a comma is easily forgotten.
var behindDuration = regexp.MustCompile(`,?\s+(easy|commute|indoor|outdoor|\d{1,2}:\d{2})\b`)

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
	first, second, choice := strings.Cut(word, " or ")
	if strings.Contains(word, " and ") || choice && (strings.Contains(first, ":") || strings.Contains(second, ":")) {
		return &units.Error{Found: word, Wanted: `one window; a day with two is a list of two texts, such as ["25 min, 07:30, commute", "75 min, 18:30"]`}
	}
	if choice {
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
	case word == "commute":
		if day.Commute {
			return twice(word, "commute")
		}
		day.Commute = true
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
			return behind(length, partError(err))
		}
		return &units.Error{
			Length: len(word), Found: word, Wanted: "a duration, an hour such as 18:30, outdoor or indoor, easy or commute",
			Repair: Nearest(word, []string{"outdoor", "indoor", "easy", "commute"}),
		}
	}
	const day24 = 24 * 60
	if *limit != 0 {
		err := &units.Error{Length: len(word), Found: word, Wanted: `the duration once, and an hour with its minutes, as in "75 min, 18:30"`}
		if hour, short := strings.CutSuffix(strings.ReplaceAll(word, " ", ""), "h"); short { // "60 min, 18h"
			if _, wrong := units.ParseClock(hour + ":00"); wrong == nil {
				err.Repair = hour + ":00"
			}
		}
		return err
	}
	if v%60 != 0 || v <= 0 || v.Minutes() > day24 {
		return &units.Error{Length: len(word), Found: word, Wanted: `whole minutes, from 1 min to 24 h; a day without a ride is "none"`}
	}
	*limit = v.Minutes()
	return nil
}

// behind points at what follows a duration where that can be read by itself.
func behind(word string, err *units.Error) *units.Error {
	fields := strings.Fields(word)
	for n := len(fields) - 1; n > 0 && err.Repair == ""; n-- {
		if _, wrong := units.ParseDuration(strings.Join(fields[:n], " ")); wrong == nil {
			rest := strings.Join(fields[n:], " ")
			return &units.Error{
				Offset: max(0, strings.LastIndex(word, rest)), Length: len(rest), Found: rest,
				Wanted: "behind the duration and a comma an hour such as 18:30, outdoor or indoor, easy or commute",
			}
		}
	}
	return err
}

func twice(word, what string) *units.Error {
	return &units.Error{Length: len(word), Found: word, Wanted: what + " once"}
}
