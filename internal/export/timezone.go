package export

import (
	"fmt"
	"strings"
	"time"
)

// A VTIMEZONE says which offset clocks show. It holds two yearly rules where the zone changes by
// the same rule each year, else one block per change: lists of dates and rules with an end are
// read wrongly by widespread programs.

// observance is a STANDARD or DAYLIGHT part of a VTIMEZONE.
type observance struct {
	daylight bool
	start    time.Time // the clock before the change, held as UTC
	from, to int       // seconds east of Greenwich
	rule     string    // yearly recurrence, "" for a single change
	name     string
}

// The years around a block that its zone describes: a client may show the days before it, and a
// yearly rule is believed only when it holds for long enough.
const (
	zoneYearsBefore = 2
	zoneYearsAfter  = 8
)

// change is one change of the offset.
type change struct {
	at       time.Time // instant
	from, to int
	name     string // after the change
}

// local is the clock at the change, before it is set.
func (c change) local() time.Time { return c.at.UTC().Add(time.Duration(c.from) * time.Second) }

// observances describe loc for events from first to last.
func observances(loc *time.Location, first, last time.Time) []observance {
	begin := time.Date(first.Year()-zoneYearsBefore, 1, 1, 0, 0, 0, 0, time.UTC)
	end := time.Date(last.Year()+zoneYearsAfter+1, 1, 1, 0, 0, 0, 0, time.UTC)
	changes := changesOf(loc, begin, end)
	name, base := begin.In(loc).Zone()
	if len(changes) == 0 {
		start := time.Date(1970, 1, 1, 0, 0, 0, 0, time.UTC)
		return []observance{{start: start, from: base, to: base, name: name}}
	}
	if yearly := yearlyRules(changes, begin.Year(), end.Year()-1); yearly != nil {
		return yearly
	}
	// All years here as well: some readers keep the first description of a zone that they meet,
	// and use it for the next block too.
	out := []observance{{start: begin, from: base, to: base, name: name}}
	for _, c := range changes {
		out = append(out, observance{daylight: c.to > c.from, start: c.local(), from: c.from, to: c.to, name: c.name})
	}
	return out
}

// changesOf lists the changes of the offset in [begin, end), by time.
func changesOf(loc *time.Location, begin, end time.Time) []change {
	var out []change
	for t := begin.In(loc); ; {
		_, next := t.ZoneBounds()
		if !next.IsZero() && !next.After(t) {
			// Go ends the last stretch of a leap year on the 31st of December, and gives that
			// very instant when asked there (time.Time.ZoneBounds, Go 1.26).
			t = t.AddDate(0, 0, 1)
			continue
		}
		if next.IsZero() || !next.Before(end) {
			return out
		}
		_, from := t.Zone()
		name, to := next.Zone()
		if from != to {
			out = append(out, change{next, from, to, name})
		}
		t = next
	}
}

// yearlyRules gives two rules when the changes alternate between exactly two kinds, each once in
// every year, at the same time of day on the same weekday of the month; else nil.
func yearlyRules(changes []change, firstYear, lastYear int) []observance {
	years := lastYear - firstYear + 1
	if len(changes) != 2*years {
		return nil
	}
	var out []observance
	for k := range 2 {
		var kind []change
		for i := k; i < len(changes); i += 2 {
			kind = append(kind, changes[i])
		}
		rule := yearlyRule(kind, firstYear)
		if rule == "" {
			return nil
		}
		c := kind[0]
		out = append(out, observance{daylight: c.to > c.from, start: c.local(), from: c.from, to: c.to, rule: rule, name: c.name})
	}
	return out
}

// yearlyRule finds the recurrence that one kind of change follows, "" where there is none.
func yearlyRule(kind []change, firstYear int) string {
	first := kind[0]
	last, nth := true, (first.local().Day()-1)/7+1
	for i, c := range kind {
		t, f := c.local(), first.local()
		if c.from != first.from || c.to != first.to || c.name != first.name ||
			t.Year() != firstYear+i || t.Month() != f.Month() || t.Weekday() != f.Weekday() ||
			t.Format("150405") != f.Format("150405") {
			return ""
		}
		last = last && t.AddDate(0, 0, 7).Month() != t.Month()
		if (t.Day()-1)/7+1 != nth {
			nth = 0
		}
	}
	if last {
		nth = -1
	}
	if nth == 0 {
		return ""
	}
	day := strings.ToUpper(first.local().Weekday().String()[:2])
	return fmt.Sprintf("FREQ=YEARLY;BYMONTH=%d;BYDAY=%d%s", first.local().Month(), nth, day)
}
