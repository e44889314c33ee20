package export

import (
	"testing"

	"towpath/internal/units"
)

// Days and nights at which the calendar turns over, worked by hand.
func TestTurns(t *testing.T) {
	var noHour units.Clock
	for _, c := range []struct {
		name, zone, start, end string
		date                   units.Date
		at                     units.Clock
	}{
		{"a whole leap day", "Europe/Oslo", "20280229", "20280301", units.NewDate(2028, 2, 29), noHour},
		{"the day before a leap day", "Europe/Oslo", "20280228", "20280229", units.NewDate(2028, 2, 28), noHour},
		{"the last day of February", "Europe/Oslo", "20270228", "20270301", units.NewDate(2027, 2, 28), noHour},
		{"the last day of a year", "Europe/Oslo", "20271231", "20280101", units.NewDate(2027, 12, 31), noHour},
		{"a day of 23 hours", "Europe/Oslo", "20270328", "20270329", units.NewDate(2027, 3, 28), noHour},
		{"a day of 25 hours", "Europe/Oslo", "20271031", "20271101", units.NewDate(2027, 10, 31), noHour},
		{"into a leap day", "Asia/Kathmandu", "20280228T233000", "20280229T004500", units.NewDate(2028, 2, 28), units.NewClock(23, 30)},
		{"out of a leap day", "Asia/Kathmandu", "20280229T233000", "20280301T004500", units.NewDate(2028, 2, 29), units.NewClock(23, 30)},
		{"into a year", "America/St_Johns", "20271231T233000", "20280101T004500", units.NewDate(2027, 12, 31), units.NewClock(23, 30)},
		{"across the hour that is left out", "Europe/Oslo", "20270328T013000", "20270328T034500", units.NewDate(2027, 3, 28), units.NewClock(1, 30)},
		{"across the half hour that is left out", "Australia/Lord_Howe", "20271003T013000", "20271003T031500", units.NewDate(2027, 10, 3), units.NewClock(1, 30)},
		{"at midnight that is left out", "America/Santiago", "20270904T233000", "20270905T014500", units.NewDate(2027, 9, 4), units.NewClock(23, 30)},
	} {
		p := spring()
		p.Sessions = p.Sessions[:1]
		p.Sessions[0].Zone, p.Sessions[0].Date, p.Sessions[0].Start = c.zone, c.date, c.at
		e := calendarOf(t, p, nil).components("VEVENT")[0]
		if e.value("DTSTART") != c.start || e.value("DTEND") != c.end {
			t.Errorf("%s: from %s to %s, want %s to %s", c.name, e.value("DTSTART"), e.value("DTEND"), c.start, c.end)
		}
	}
}
