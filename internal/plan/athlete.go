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

// Athlete is who rides, with defaults filled in.
type Athlete struct {
	Key, Name   string
	Range       diag.Range
	Born        int
	Sex         string // "female", "male" or ""
	Mass        units.Mass
	Zone        string // IANA name
	Background  string
	Recent      []units.Minutes // weeks before the block, oldest first
	RecentRange diag.Range
	RecentUntil units.Date    // last day of the last recent week
	Longest     units.Minutes // longest ride of the last 30 days; 0 unknown
	PowerMeter  bool
	Meters      *Meters // nil for one meter, and for two that nobody has compared
	HeartRate   HeartRate
	Screening   *Screening
	ByClinician bool
	Days        [7]Day             // Monday first
	Exceptions  map[units.Date]Day // of the block's dates
	// Rostered holds the dates of the block on which a roster rules in place of Days; nil without.
	Rostered map[units.Date]Day
	Travels  []Travel
	Other    []*Other
	Device   Device
	Calendar Calendar
}

// Travel is a time in another time zone, both dates included.
type Travel struct {
	From, To units.Date
	Zone     string // IANA name
	Range    diag.Range
}

// AwayOn is the journey that holds d, or nil.
func (a *Athlete) AwayOn(d units.Date) *Travel {
	for i, t := range a.Travels {
		if t.From <= d && d <= t.To {
			return &a.Travels[i]
		}
	}
	return nil
}

// ZoneOn is the time zone that the athlete is in on d.
func (a *Athlete) ZoneOn(d units.Date) string {
	if t := a.AwayOn(d); t != nil {
		return t.Zone
	}
	return a.Zone
}

// OtherOn is the other sport of d. What is weekly pauses on a journey.
func (a *Athlete) OtherOn(d units.Date) (out []*Other) {
	for _, o := range a.Other {
		if o.On(d) && (!o.Date.IsZero() || a.AwayOn(d) == nil) {
			out = append(out, o)
		}
	}
	return out
}

// Other is sport that is not cycling, on its days. It counts in no total.
type Other struct {
	Key, Title string
	Days       []time.Weekday // each week; nil where Date is set
	Date       units.Date
	Minutes    units.Minutes // 0 unknown
	Start      units.Clock
	Demanding  bool // only light rides stand beside it, and it counts as a demanding neighbour
	Range      diag.Range
}

// On reports whether it falls on d.
func (o *Other) On(d units.Date) bool {
	return o.Date == d && !d.IsZero() || slices.Contains(o.Days, d.Weekday())
}

// Device says what the head unit takes; the zero value is what all of them take.
type Device struct {
	Leads       string // "power", "heart_rate", or "" for what leads the session
	Plain       bool   // ASCII only
	MostSteps   int    // 0: as many as most head units take
	NoHeartRate bool
	// MostStepsRange is where MostSteps was written.
	MostStepsRange diag.Range
}

// Calendar says how entries look.
type Calendar struct {
	AllDay   bool          // no hours
	Reminder units.Minutes // before a session; 0 none
}

// HeartRate holds resting and maximal heart rate; zero values are unknown.
type HeartRate struct {
	Resting, Maximum units.HeartRate
	Usable           bool // false where heart rate means nothing for this rider
	Range            diag.Range
}

// Screening is the statement that somebody licensed has looked at the rider.
type Screening struct {
	On, Until units.Date
	By        string
	Allows    string // "maximal", "submaximal", "easy riding only"
	Range     diag.Range
}

// DayOn is what the athlete has on d.
func (a *Athlete) DayOn(d units.Date) Day {
	if day, ok := a.Exceptions[d]; ok {
		return day
	}
	return a.OrdinaryOn(d)
}

// OrdinaryOn is what the athlete has on d by roster or weekday, exceptions aside.
func (a *Athlete) OrdinaryOn(d units.Date) Day {
	if day, ok := a.Rostered[d]; ok {
		return day
	}
	return a.Days[(int(d.Weekday())+6)%7]
}

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
	header := a.DaysBlock
	if header.Filename == "" { // all days are those of a roster
		header = a.Header
	}
	for i, d := range a.Days {
		out.Days[i] = day(d, header)
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
	if unknown := new(zone.Error); errors.As(err, &unknown) && unknown.Nearest != "" {
		offer(&d, unknown.Nearest, `"`)
	} else {
		d.Detail += " Not every city has one: take one whose clocks are the same, often the country's capital."
	}
	r.diags.Add(d)
}

// weekdayOf gives the first date from start on that falls on a weekday.
func weekdayOf(start units.Date, d time.Weekday) units.Date {
	return start.Add((int(d) - int(start.Weekday()) + 7) % 7)
}
