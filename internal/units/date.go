package units

import (
	"errors"
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"
)

// Date is a civil date, counted in days; the zero value is no date at all. A plan is made of
// dates: adding a day never adds 24 hours.
type Date int32

// secondsPerDay is exact in UTC, where days are counted. Date(1) is the first of January 1970.
const secondsPerDay = 24 * 60 * 60

// NewDate gives the date of a year, month and day, normalised as time.Date does.
func NewDate(year int, month time.Month, day int) Date {
	return Date(time.Date(year, month, day, 0, 0, 0, 0, time.UTC).Unix()/secondsPerDay) + 1
}

// DateOf gives the civil date that t shows in its own zone.
func DateOf(t time.Time) Date { return NewDate(t.Date()) }

// UTC is the date's midnight in UTC, for calendar arithmetic only.
func (d Date) UTC() time.Time { return time.Unix(int64(d-1)*secondsPerDay, 0).UTC() }

// IsZero reports whether d is no date.
func (d Date) IsZero() bool { return d == 0 }

// Add moves by whole days.
func (d Date) Add(days int) Date { return d + Date(days) }

// Sub counts the days from other to d.
func (d Date) Sub(other Date) int { return int(d - other) }

// Weekday is the day of the week.
func (d Date) Weekday() time.Weekday { return d.UTC().Weekday() }

// At is the instant at which clocks in loc show c on d. Where that time does not exist or comes
// twice on that day, ok is false.
func (d Date) At(c Clock, loc *time.Location) (t time.Time, ok bool) {
	y, m, day := d.UTC().Date()
	t = time.Date(y, m, day, c.Minute()/60, c.Minute()%60, 0, 0, loc)
	if DateOf(t) != d || t.Hour()*60+t.Minute() != c.Minute() {
		return t, false
	}
	// A clock set back shows the same time twice: look for a twin on either side.
	for _, shift := range []time.Duration{-30, -60, -120, 30, 60, 120} {
		u := t.Add(shift * time.Minute)
		if DateOf(u) == d && u.Hour() == t.Hour() && u.Minute() == t.Minute() {
			return t, false
		}
	}
	return t, true
}

// String prints the ISO 8601 form, "2026-09-14".
func (d Date) String() string {
	if d.IsZero() {
		return ""
	}
	return d.UTC().Format(time.DateOnly)
}

// The years that a plan can speak of.
const firstYear, lastYear = 1970, 2199

// ParseDate reads "2026-09-14". A day that the month does not have is refused.
func ParseDate(s string) (Date, error) {
	t, err := time.Parse(time.DateOnly, s)
	switch {
	case err != nil:
		return 0, dateError(s)
	case t.Year() < firstYear || t.Year() > lastYear:
		return 0, &Error{Length: len(s), Found: s, Wanted: fmt.Sprintf("a year from %d to %d", firstYear, lastYear), OutOfRange: true}
	}
	return DateOf(t), nil
}

// dateRanges find what stands between two dates: the word, then other signs that people write.
var dateRanges = []*regexp.Regexp{
	regexp.MustCompile(`^(.*\S)(\s+to\s+)(\S.*)$`),
	regexp.MustCompile(`^(.*\S)(\s+(?:until|till|-)\s+|\s*(?:–|—|−)\s*)(\S.*)$`),
	regexp.MustCompile(`^(\d{4}-\d\d-\d\d)(\s*(?:\.\.+|/)\s*)(\d{4}-\d\d-\d\d)$`),
}

// dayOnly is the end of a range that names the day of the month alone: "2026-12-24 to 27".
var dayOnly = regexp.MustCompile(`^\d\d?$`)

// ParseDates reads "2026-12-21 to 2027-01-03", both included; one date is a range of its own.
func ParseDates(s string) (Range[Date], error) {
	var m []string
	for _, r := range dateRanges {
		if m = r.FindStringSubmatch(s); m != nil {
			break
		}
	}
	if m == nil {
		d, err := ParseDate(s)
		return One(d), err
	}
	first, between, last := m[1], m[2], m[3]
	low, err := ParseDate(strings.TrimSpace(first))
	if err != nil {
		return Range[Date]{}, datesError(err, s, 0, len(first))
	}
	high, err := ParseDate(strings.TrimSpace(last))
	if err != nil && dayOnly.MatchString(last) {
		e := &Error{Wanted: "a whole date after to"}
		day, _ := strconv.Atoi(last)
		y, month, from := low.UTC().Date()
		if end := NewDate(y, month, day); day > from && end.UTC().Month() == month {
			e.Repair = end.String()
		}
		err = e
	}
	switch {
	case err != nil:
		return Range[Date]{}, datesError(err, s, len(first)+len(between), len(last))
	case strings.TrimSpace(between) != "to":
		return Range[Date]{}, &Error{Offset: len(first), Length: len(between), Found: strings.TrimSpace(between), Wanted: "the word to between two dates", Repair: datesString(Range[Date]{low, high})}
	case low > high:
		return Range[Date]{}, &Error{Length: len(s), Found: s, Wanted: "the earlier date first", Repair: datesString(Range[Date]{high, low})}
	}
	return Range[Date]{low, high}, nil
}

// datesError lays the error of a part of s on the whole. Where the other part needs a repair as
// well, both are mended.
func datesError(err error, s string, offset, length int) error {
	var e *Error
	if !errors.As(err, &e) {
		return err
	}
	e.Offset, e.Length, e.Found = offset, length, s[offset:offset+length]
	if e.Repair == "" {
		return e
	}
	e.Repair = s[:offset] + e.Repair + s[offset+length:]
	var left *Error
	if _, err := ParseDates(e.Repair); errors.As(err, &left) {
		e.Repair = left.Repair
	}
	return e
}

// datesString prints a range of dates as ParseDates reads it.
func datesString(r Range[Date]) string {
	if r.Low == r.High {
		return r.Low.String()
	}
	return r.Low.String() + " to " + r.High.String()
}

// otherDates are the forms of a date that can be read in one way only.
var otherDates = []string{
	"2006-1-2", "2006/1/2", "2006.1.2", "20060102", "2.1.2006", "2 January 2006", "2 Jan 2006", "January 2, 2006", "Jan 2, 2006", "January 2 2006",
}

func dateError(s string) error {
	e := &Error{Length: len(s), Found: s, Wanted: `a date as year-month-day, such as "2026-09-14"`}
	var y, m, d int
	if n, _ := fmt.Sscanf(s, "%d-%d-%d", &y, &m, &d); n == 3 && m >= 1 && m <= 12 && y >= firstYear && y <= lastYear && d > 28 && d <= 31 {
		last := NewDate(y, time.Month(m)+1, 0)
		if NewDate(y, time.Month(m), d) > last {
			e.Wanted = fmt.Sprintf("a day that exists: %s %d ends on %s", time.Month(m), y, last)
			e.Repair = last.String()
			return e
		}
	}
	text := strings.TrimSpace(s)
	layouts := otherDates
	// With slashes the order of day and month differs by country: only a day past 12 tells.
	_, american := time.Parse("1/2/2006", text)
	_, european := time.Parse("2/1/2006", text)
	switch {
	case american == nil && european != nil:
		layouts = []string{"1/2/2006"}
	case european == nil && american != nil:
		layouts = []string{"2/1/2006"}
	}
	for _, layout := range layouts {
		if t, err := time.Parse(layout, text); err == nil && t.Year() >= firstYear && t.Year() <= lastYear {
			e.Repair = DateOf(t).String()
			break
		}
	}
	return e
}

// Clock is a time of day in whole minutes; the zero value is no time at all.
type Clock int16

// NewClock gives the time of an hour and a minute.
func NewClock(hour, minute int) Clock { return Clock(hour*60 + minute + 1) }

// IsZero reports whether c is no time.
func (c Clock) IsZero() bool { return c == 0 }

// Minute counts from midnight.
func (c Clock) Minute() int { return int(c) - 1 }

// String prints "18:30".
func (c Clock) String() string {
	if c.IsZero() {
		return ""
	}
	return fmt.Sprintf("%02d:%02d", c.Minute()/60, c.Minute()%60)
}

// otherClocks are the forms of a time of day that can be read in one way only.
var otherClocks = []string{"15:04", "15.04", "15h04", "3:04 pm", "3:04pm", "3.04 pm", "3 pm", "3pm", "15 uhr", "15:04 uhr", "15.04 uhr"}

// ParseClock reads "18:30" on the 24-hour clock.
func ParseClock(s string) (Clock, error) {
	if t, err := time.Parse("15:04", s); err == nil {
		return NewClock(t.Hour(), t.Minute()), nil
	}
	e := &Error{Length: len(s), Found: s, Wanted: `a time of day on the 24-hour clock, such as "18:30"`}
	text := strings.ToLower(strings.TrimSpace(s))
	for _, layout := range otherClocks {
		if t, err := time.Parse(layout, text); err == nil {
			e.Repair = t.Format("15:04")
			break
		}
	}
	return 0, e
}

// Weekdays runs from Monday to Sunday, the order of ISO 8601.
var Weekdays = [7]time.Weekday{
	time.Monday, time.Tuesday, time.Wednesday, time.Thursday, time.Friday, time.Saturday, time.Sunday,
}

// WeekdayKey is the word that a plan uses: "monday" to "sunday".
func WeekdayKey(d time.Weekday) string {
	return [...]string{"sunday", "monday", "tuesday", "wednesday", "thursday", "friday", "saturday"}[d]
}

// ParseWeekday reads "monday" to "sunday".
func ParseWeekday(s string) (time.Weekday, error) {
	for _, d := range Weekdays {
		if WeekdayKey(d) == s {
			return d, nil
		}
	}
	return 0, &Error{Length: len(s), Found: s, Wanted: "a day of the week: monday to sunday", Repair: WeekdayMeant(s)}
}

// otherDays are the days of the week as they are written in German, Spanish and French, in the order
// of Weekdays, the German ones shortened as well.
var otherDays = [7][]string{
	{"montag", "lunes", "lundi"},
	{"dienstag", "di", "martes", "mardi"},
	{"mittwoch", "mi", "miércoles", "miercoles", "mercredi"},
	{"donnerstag", "do", "jueves", "jeudi"},
	{"freitag", "viernes", "vendredi"},
	{"samstag", "sonnabend", "sábado", "sabado", "samedi"},
	{"sonntag", "so", "domingo", "dimanche"},
}

// WeekdayMeant gives the word for a day of the week that is shortened or of another language: "Mon.",
// "mondays", "Mo", "Montag", "lunes". It is "" for other words.
func WeekdayMeant(s string) string {
	word := strings.TrimRight(strings.ToLower(strings.TrimSpace(s)), ".")
	short := strings.TrimSuffix(word, "s")
	for i, d := range Weekdays {
		if len(short) >= 2 && strings.HasPrefix(WeekdayKey(d), short) || slices.Contains(otherDays[i], word) {
			return WeekdayKey(d)
		}
	}
	return ""
}
