package plan

import (
	"errors"
	"fmt"
	"time"

	"towpath/internal/diag"
	"towpath/internal/spec"
	"towpath/internal/units"
	"towpath/internal/zone"
)

// athlete resolves who rides, for the dates of a block from start to end, which has fixed rides of
// its own. Days without an entry are closed.
func (r *resolver) athlete(a *spec.Athlete, start, end units.Date, rides []*spec.Fixed) *Athlete {
	found := len(r.diags)
	out := &Athlete{
		Key: a.Key, Name: a.Name.Or(a.Key), Range: a.Header,
		Born: a.Born.V, Sex: a.Sex.V, Mass: a.Mass.V, Zone: a.TimeZone.V,
		Background:  a.Background.Or("regular"),
		RecentUntil: a.RecentUntil.Or(start.Add(-1)), RecentRange: a.Header,
		Longest:    a.Longest.V.Minutes(),
		PowerMeter: a.PowerMeter.Or(true), Meters: r.compared(a.Meters), ByClinician: a.ByClinician.V,
		Exceptions: exceptions(a.On, start, end), Rostered: r.rostered(a, start, end),
		Travels: r.travels(a), Other: otherSport(a.Other), Device: r.deviceOf(a.Device), Calendar: calendarOf(a.Calendar),
	}
	for _, week := range a.Recent {
		out.Recent = append(out.Recent, week.V.Minutes())
	}
	if a.RecentSet {
		out.RecentRange = a.RecentRange
	}
	if h := a.HeartRate; h != nil {
		out.HeartRate = HeartRate{
			Resting: h.Resting.V, Maximum: h.Maximum.V,
			Usable: h.Usable.Or(true), Range: h.Range,
		}
	} else {
		out.HeartRate.Usable = true
	}
	if s := a.Screening; s != nil {
		out.Screening = &Screening{On: s.On.V, Until: s.Until.V, By: s.By.V, Allows: s.Allows.V, Range: s.Range}
	}
	for i, d := range a.Days {
		out.Days[i] = day(d, a.DaysBlock)
		out.Days[i].Squad = r.squadOf(out.Days[i].Range)
	}
	for date, on := range out.Exceptions {
		on.Squad = r.squadOf(on.Range)
		out.Exceptions[date] = on
	}
	if len(rides) == 0 && !r.spec.Broken && !r.diags[found:].HasErrors() { // a roster that cannot be read is told already
		r.checkDays(a, out, start, end)
	}
	r.checkZones(a)
	r.checkHours(a, out, start, end)
	return out
}

// checkZones refuses names that no time zone has.
func (r *resolver) checkZones(a *spec.Athlete) {
	written := []spec.Value[string]{a.TimeZone}
	for _, t := range a.Travels {
		written = append(written, t.TimeZone)
	}
	for _, z := range written {
		if z.V == "" {
			continue
		}
		if _, err := zone.Load(z.V); err != nil {
			r.unknownZone(z, err)
		}
	}
}

func (r *resolver) unknownZone(written spec.Value[string], err error) {
	d := diag.Diagnostic{
		Code: "unknown-time-zone", Severity: diag.Error, Subject: written.Range,
		Summary: fmt.Sprintf("There is no time zone %q", written.V),
		Detail:  `Time zones are named by continent and city, such as "Europe/Paris" or "America/New_York".`,
	}
	var unknown *zone.Error
	if errors.As(err, &unknown) && unknown.Nearest != "" {
		d.Detail += fmt.Sprintf(" The nearest name is %q.", unknown.Nearest)
		d.Fix = &diag.Fix{Title: fmt.Sprintf("Write %q", unknown.Nearest), Edits: []diag.Edit{{Range: written.Range, Text: fmt.Sprintf("%q", unknown.Nearest)}}}
	}
	if unknown == nil || unknown.Nearest == "" {
		d.Detail += " Not every city has one: take one whose clocks are the same, often the country's capital."
	}
	r.diags.Add(d)
}

// weekdayOf gives the first date from start on that falls on a weekday.
func weekdayOf(start units.Date, d time.Weekday) units.Date {
	return start.Add((int(d) - int(start.Weekday()) + 7) % 7)
}
