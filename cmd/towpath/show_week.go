package main

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"towpath/internal/plan"
	"towpath/internal/prescription"
	"towpath/internal/units"
	"towpath/internal/words"
)

// entry is a line of a week: a session, other sport, or a day that is trained for.
type entry struct {
	date  units.Date
	start units.Clock
	zone  string // of the hour
	text  string
	below string // a further line
}

// entries lists what stands on the days of a week, by date and hour.
func entries(w *prescription.Week, p *prescription.Prescription) []entry {
	var out []entry
	b := p.Block
	for _, e := range b.Events {
		if b.WeekOn(e.Date) == w.Week.Week {
			out = append(out, entry{date: e.Date, text: eventLine(e) + dot + "event"})
		}
	}
	for i := range p.Sessions {
		if p.Sessions[i].Week == w.Number {
			out = append(out, sessionEntry(&p.Sessions[i]))
		}
	}
	for d := w.Start; d < w.Start.Add(7); d++ {
		for _, o := range b.Athlete.OtherOn(d) {
			out = append(out, otherEntry(o, d, b.Athlete))
		}
	}
	slices.SortStableFunc(out, func(a, b entry) int {
		return cmp.Or(cmp.Compare(a.date, b.date), cmp.Compare(a.start, b.start))
	})
	return out
}

func sessionEntry(x *prescription.Session) entry {
	e := entry{date: x.Date, start: x.Start, zone: x.Zone, text: x.Title}
	if there := x.Instead; there != nil {
		w := there.Words()
		e.below = "or " + words.There(w.Place) + ": " + words.Title(w.Minutes, "", w.Targets, w.Leads)
	}
	return e
}

// otherEntry tells sport that is not cycling: it has no targets and counts in no total.
func otherEntry(o *plan.Other, d units.Date, a *plan.Athlete) entry {
	text := o.Title
	if o.Minutes > 0 {
		text += dot + o.Minutes.String()
	}
	text += dot + "other sport"
	if o.Demanding {
		text += ", demanding"
	}
	return entry{date: d, start: o.Start, zone: a.ZoneOn(d), text: text}
}

func eventLine(e *plan.Event) string {
	line := e.Title
	if e.Lasts > 0 {
		line += dot + "about " + e.Lasts.String()
	}
	return line
}

func (s *sheet) week(w *prescription.Week, p *prescription.Prescription) {
	title := fmt.Sprintf("Week %d", w.Number)
	if w.Kind == plan.Recovery {
		title += dot + "recovery"
	}
	title += dot + s.span(w.Start, w.Start.Add(6)) + dot + hours(w.Placed)
	if w.Placed != w.Asked {
		title += fmt.Sprintf(" of %s asked", hours(w.Asked))
	}
	s.heading(title)
	if w.Provisional {
		s.wrapped("", "", "provisional: decided by "+s.dayMonth(p.Block.DecidedBy()))
	}
	if s.roomy() {
		s.wrapped("", "", strings.Join(loads(w.Load), dot))
	} else {
		for _, load := range loads(w.Load) {
			s.wrapped("", "", load)
		}
	}
	s.wrapped("", "", w.Note)
	s.days(entries(w, p), p.Block.Athlete.Zone)
	for _, said := range slices.Concat(leftOut(w.Paused), w.Stated) {
		s.wrapped("- ", "  ", said)
	}
}

// days prints entries in a line each: day, hour where there is room, text. A date that has several
// stands once. Where the hours are those of another zone, a line says so.
func (s *sheet) days(list []entry, home string) {
	zone := home
	var last units.Date
	for _, e := range list {
		if s.roomy() && !e.start.IsZero() && e.zone != zone {
			zone = e.zone
			s.line("  Hours of %s:", zone)
		}
		d := e.date.UTC()
		day := fmt.Sprintf("%s %2d ", d.Format("Mon")[:2], d.Day())
		if s.roomy() {
			day = fmt.Sprintf("  %s %2d %s  ", d.Format("Mon"), d.Day(), d.Format("Jan"))
		}
		if e.date == last {
			day = strings.Repeat(" ", len(day))
		}
		last = e.date
		if s.roomy() {
			day += fmt.Sprintf("%5s  ", e.start)
		}
		hanging := strings.Repeat(" ", len(day))
		s.wrapped(day, hanging, e.text)
		s.wrapped(hanging, hanging, e.below)
	}
}

// leftOut tells the fixed rides that pause, those of one cause together.
func leftOut(paused []plan.Paused) (out []string) {
	said := map[[2]string]bool{}
	for _, p := range paused {
		cause := [2]string{p.Fixed, p.Why}
		if said[cause] {
			continue
		}
		said[cause] = true
		var days []string
		for _, same := range paused {
			if same.Fixed == p.Fixed && same.Why == p.Why {
				days = append(days, same.Date.UTC().Format("Mon 2 Jan"))
			}
		}
		out = append(out, fmt.Sprintf("%s on %s left out: %s", p.Session.Title, strings.Join(days, ", "), p.Why))
	}
	return out
}

// dayMonth prints a date without its year: "25 October", "25 Oct" where room is short.
func (s *sheet) dayMonth(d units.Date) string {
	if s.roomy() {
		return d.UTC().Format("2 January")
	}
	return d.UTC().Format("2 Jan")
}
