// Package record holds what was delivered to an athlete: one JSON file per athlete, one line per
// session. It decides nothing about deliveries.
package record

import "towpath/internal/units"

// Athlete is the record of one athlete's deliveries.
type Athlete struct {
	AsOf     units.Date
	Tool     string // version that wrote it
	Sessions []Session
}

// PastUntil is the day before which everything is past: the one asked for, else that of the record,
// which may be nil. Zero where no day is past.
func (a *Athlete) PastUntil(asked units.Date) units.Date {
	if asked.IsZero() && a != nil {
		return a.AsOf
	}
	return asked
}

// Session is one delivered session.
type Session struct {
	Block     string // key of the block
	Key       string // stable: block, week and slot, never the date
	UID       string
	Sequence  int
	RevisedAt string // UTC, RFC 3339
	Hash      string // of the delivered content
	Date      units.Date
	Start     units.Clock
	Zone      string
	Ride      string // key of the ride of the mix; "" for tests and sessions outside it
	Session   string
	Minutes   units.Minutes
	Title     string
	// WeekAsked is the total that the session's week had when it was delivered.
	WeekAsked units.Minutes
}
