package export

import (
	"fmt"
	"io"
	"maps"
	"slices"
	"strings"
	"time"

	"towpath/internal/plan"
	"towpath/internal/prescription"
	"towpath/internal/record"
	"towpath/internal/units"
	"towpath/internal/words"
	"towpath/internal/zone"
)

const (
	productID = "-//towpath//towpath//EN"

	// refreshInterval is the shortest time after which a subscribed calendar should ask again
	// (RFC 7986 section 5.7); a plan changes on some days, not within hours.
	refreshInterval = "PT12H"
)

// undelivered is the DTSTAMP of sessions that no record knows: earlier than any delivery, so
// that a delivered form of the same event always wins.
var undelivered = time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC)

// Calendar writes a snapshot of the block as iCalendar (RFC 5545, no METHOD): one event per session
// and one per day that is trained for, under stable UIDs. Revision numbers and times come from rec;
// what was never delivered has SEQUENCE 0. A session without an hour is an event of the whole day,
// as all are where the athlete's calendar shall show no hours; it has no reminder, for there is no
// time to count from.
func Calendar(w io.Writer, p *prescription.Prescription, rec *record.Athlete) error {
	file := &calendarFile{}
	file.property("VERSION", "2.0")
	file.property("PRODID", productID)
	file.property("CALSCALE", "GREGORIAN")
	if name := cleanLine(p.Block.Title); name != "" {
		file.property("NAME", name)
		file.property("X-WR-CALNAME", name)
	}
	file.property("REFRESH-INTERVAL", refreshInterval, param("VALUE", "DURATION"))
	file.property("X-PUBLISHED-TTL", refreshInterval)

	options := p.Block.Athlete.Calendar
	spans := make([]span, len(p.Sessions))
	if !options.AllDay {
		var err error
		if spans, err = spansOf(p.Sessions); err != nil {
			return err
		}
	}
	addTimezones(file, p.Sessions, spans)
	for i := range p.Sessions {
		if err := addSession(file.event(), &p.Sessions[i], spans[i], options.Reminder, delivered(rec, p.Sessions[i].UID)); err != nil {
			return err
		}
	}
	for _, e := range p.Block.Events {
		uid := prescription.EventUID(p.Block, e)
		if err := addTrainedFor(file.event(), e, uid, delivered(rec, uid)); err != nil {
			return err
		}
	}
	return file.write(w)
}

// span is when a session takes place; loc is nil where it has no hour.
type span struct {
	start, end time.Time
	loc        *time.Location
}

func spansOf(sessions []prescription.Session) ([]span, error) {
	spans := make([]span, len(sessions))
	zones := map[string]*time.Location{}
	for i := range sessions {
		s := &sessions[i]
		if s.Start.IsZero() {
			continue
		}
		loc := zones[s.Zone]
		if loc == nil {
			var err error
			if loc, err = zone.Load(s.Zone); err != nil {
				return nil, fmt.Errorf("session %s: %w", s.Key, err)
			}
			zones[s.Zone] = loc
		}
		var err error
		if spans[i], err = spanOf(s, loc); err != nil {
			return nil, err
		}
	}
	return spans, nil
}

func spanOf(s *prescription.Session, loc *time.Location) (span, error) {
	start, ok := s.Date.At(s.Start, loc)
	if !ok {
		return span{}, fmt.Errorf("session %s: clocks in %s change on %s and show %s twice or never; give it another hour",
			s.Key, s.Zone, s.Date, s.Start)
	}
	return span{start, start.Add(time.Duration(s.Minutes) * time.Minute), loc}, nil
}

// addTimezones describes each zone that a timed event uses, by name.
func addTimezones(file *calendarFile, sessions []prescription.Session, spans []span) {
	zones := map[string]span{}
	for i, s := range spans {
		name := sessions[i].Zone
		if s.loc == nil || isUTC(name) {
			continue
		}
		known, ok := zones[name]
		if !ok {
			known = s
		}
		if s.start.Before(known.start) {
			known.start = s.start
		}
		if s.end.After(known.end) {
			known.end = s.end
		}
		zones[name] = known
	}
	for _, name := range slices.Sorted(maps.Keys(zones)) {
		z := zones[name]
		file.timezone(name, observances(z.loc, z.start, z.end))
	}
}

// delivered finds a session in the record, nil where it was never delivered.
func delivered(rec *record.Athlete, uid string) *record.Session {
	if rec == nil {
		return nil
	}
	for i := range rec.Sessions {
		if rec.Sessions[i].UID == uid {
			return &rec.Sessions[i]
		}
	}
	return nil
}

func addSession(e component, s *prescription.Session, at span, reminder units.Minutes, before *record.Session) error {
	if err := addIdentity(e, s.UID, before); err != nil {
		return fmt.Errorf("session %s: %w", s.Key, err)
	}
	if at.loc == nil {
		addWholeDay(e, s.Date)
	} else {
		e.instant("DTSTART", at.start, s.Zone)
		addEnd(e, s, at)
		e.raw("TRANSP", "OPAQUE")
	}
	e.text("SUMMARY", cleanLine(s.Title))
	e.text("DESCRIPTION", strings.TrimSpace(words.Description(s.Words())))
	if place := cleanLine(s.Place); place != "" {
		e.text("LOCATION", place)
	}
	if name := cleanLine(s.Name); name != "" {
		e.text("CATEGORIES", name)
	}
	status := "CONFIRMED"
	if s.Provisional {
		status = "TENTATIVE"
	}
	e.raw("STATUS", status)
	if at.loc != nil && reminder > 0 {
		e.alarm(reminder, cleanLine(s.Title))
	}
	return nil
}

// addTrainedFor writes the day that the block is for.
func addTrainedFor(e component, event *plan.Event, uid string, before *record.Session) error {
	if err := addIdentity(e, uid, before); err != nil {
		return fmt.Errorf("event %s: %w", event.Key, err)
	}
	addWholeDay(e, event.Date)
	e.text("SUMMARY", cleanLine(event.Title))
	e.text("DESCRIPTION", strings.TrimSpace(words.Event(event.Lasts)))
	e.raw("STATUS", "CONFIRMED")
	return nil
}

// addIdentity writes what tells events and their revisions apart.
func addIdentity(e component, uid string, before *record.Session) error {
	revised, sequence := undelivered, 0
	if before != nil {
		var err error
		if revised, err = time.Parse(time.RFC3339, before.RevisedAt); err != nil {
			return fmt.Errorf("the record says that it was revised at %q; expected a time as in 2026-09-14T06:00:00Z", before.RevisedAt)
		}
		sequence = before.Sequence
	}
	e.raw("UID", uidToken(uid))
	e.instant("DTSTAMP", revised, "UTC")
	e.number("SEQUENCE", sequence)
	if before != nil {
		e.instant("LAST-MODIFIED", revised, "UTC")
	}
	return nil
}

func addWholeDay(e component, d units.Date) {
	e.date("DTSTART", d)
	e.date("DTEND", d.Add(1)) // exclusive
	e.raw("TRANSP", "TRANSPARENT")
}

// addEnd writes the end as a time, or as a duration where clocks show that time twice: readers
// do not agree on which of the two is meant.
func addEnd(e component, s *prescription.Session, at span) {
	date, clock := units.DateOf(at.end), units.NewClock(at.end.Hour(), at.end.Minute())
	if _, once := date.At(clock, at.loc); once {
		e.instant("DTEND", at.end, s.Zone)
		return
	}
	e.raw("DURATION", fmt.Sprintf("PT%dM", int(s.Minutes)))
}

// uidToken keeps what an identifier needs, letters, digits and hyphens, so that no UID can break
// a line.
func uidToken(uid string) string {
	return strings.Map(func(r rune) rune {
		if r == '-' || r >= '0' && r <= '9' || r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' {
			return r
		}
		return -1
	}, uid)
}
