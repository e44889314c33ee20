package plan

import (
	"errors"
	"fmt"
	"slices"
	"time"

	"towpath/internal/diag"
	"towpath/internal/spec"
	"towpath/internal/units"
	"towpath/internal/zone"
)

// athlete resolves who rides, for a block that starts on a date. Days without an entry are closed.
func (r *resolver) athlete(a *spec.Athlete, start units.Date) *Athlete {
	out := &Athlete{
		Key: a.Key, Name: a.Name.Or(a.Key), Range: a.Header,
		Born: a.Born.V, Sex: a.Sex.V, Mass: a.Mass.V, Zone: a.TimeZone.V,
		Background:  a.Background.Or("regular"),
		RecentUntil: a.RecentUntil.Or(start.Add(-1)), RecentRange: a.Header,
		Longest: a.Longest.V.Minutes(), LongestRange: place(a.Longest, a.Header),
		PowerMeter: a.PowerMeter.Or(true), ByClinician: a.ByClinician.V,
		Exceptions: map[units.Date]Day{},
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
			Estimated: h.From.V != "measured" && !h.FromTest.Set,
			Usable:    h.Usable.Or(true), Range: h.Range,
		}
	} else {
		out.HeartRate.Usable = true
	}
	if s := a.Screening; s != nil {
		out.Screening = &Screening{On: s.On.V, Until: s.Until.V, By: s.By.V, Allows: s.Allows.V, Range: s.Range}
	}
	for i, d := range a.Days {
		out.Days[i] = day(d, a.DaysBlock)
	}
	for _, on := range a.On {
		out.Exceptions[on.Date.V] = day(on.Day, on.Date.Range)
	}
	r.checkAthlete(a, out)
	return out
}

func day(v spec.Value[spec.Day], header diag.Range) Day {
	d := Day{Start: v.V.Start, Place: v.V.Place, Easy: v.V.Easy, Range: place(v, header)}
	if v.Set && !v.V.Closed {
		d.Limit, d.OrLimit, d.OrPlace = v.V.Limit, v.V.OrLimit, v.V.OrPlace
	}
	return d
}

// checkAthlete says what is missing or cannot be. It runs for each block, so that each is held
// back; the repeats are dropped at the end.
func (r *resolver) checkAthlete(a *spec.Athlete, out *Athlete) {
	if out.Zone != "" {
		if _, err := zone.Load(out.Zone); err != nil {
			r.unknownZone(a.TimeZone, err)
			out.Zone = ""
		}
	} else if clock := firstClock(a, out); !clock.Start.IsZero() {
		r.noZone(a, clock.Start, clock.Range)
	}
	if !out.hasDay() && !r.spec.Broken {
		r.add(diag.Error, "no-days", a.Header, fmt.Sprintf("Athlete %q has no day to ride on", a.Key),
			`Write what each day can hold: days { tuesday = "75 min, 18:30" … }. Days that are left out are rest days.`)
	}
}

// hasDay reports whether any day can hold a ride.
func (a *Athlete) hasDay() bool {
	for _, d := range a.Exceptions {
		if d.Limit > 0 {
			return true
		}
	}
	return slices.ContainsFunc(a.Days[:], func(d Day) bool { return d.Limit > 0 })
}

// noZone refuses an hour of the day where nothing tells whose clock is meant.
func (r *resolver) noZone(a *spec.Athlete, at units.Clock, where diag.Range) {
	if a.TimeZone.Set || a.Broken {
		return
	}
	r.add(diag.Error, "missing-time-zone", a.Header, fmt.Sprintf("Athlete %q has rides at a time of day but no time zone", a.Key),
		`A calendar needs to know whose clock is meant; write for example time_zone = "Europe/Paris".`,
		diag.Related{Message: fmt.Sprintf("a ride at %s", at), Range: where})
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
		d.Fix = &diag.Fix{Title: fmt.Sprintf("write %q", unknown.Nearest), Edits: []diag.Edit{{Range: written.Range, Text: fmt.Sprintf("%q", unknown.Nearest)}}}
	}
	r.diags.Add(d)
}

// firstClock finds a day that has a time of day: one of the week, else one of the dates, in the
// order of the text.
func firstClock(a *spec.Athlete, out *Athlete) Day {
	for _, d := range out.Days {
		if !d.Start.IsZero() {
			return d
		}
	}
	for _, on := range a.On {
		if d := out.Exceptions[on.Date.V]; !d.Start.IsZero() {
			return d
		}
	}
	return Day{}
}

// WeekdayOf gives the first date from start on that falls on a weekday.
func WeekdayOf(start units.Date, d time.Weekday) units.Date {
	return start.Add((int(d) - int(start.Weekday()) + 7) % 7)
}
