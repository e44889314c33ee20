package plan

import (
	"fmt"
	"slices"

	"towpath/internal/diag"
	"towpath/internal/spec"
	"towpath/internal/units"
)

// merger writes a block for one athlete, from what holds for all and what is for the athlete.
type merger struct {
	athlete  string
	of, out  *spec.Block
	fromWeek spec.Value[int]
	said     map[string]diag.Range // what was written for the athlete, and where
	without  []string              // labels of rides that the athlete leaves out
	diags    diag.List
}

func (m *merger) fault(code string, at diag.Range, summary, detail string, related ...diag.Related) {
	m.diags.Add(diag.Diagnostic{Code: code, Severity: diag.Error, Subject: at, Summary: summary, Detail: detail, Related: related})
}

// say notes where something is written for the athlete; it is false where it was written before.
func (m *merger) say(what string, at diag.Range) bool {
	before, twice := m.said[what]
	if twice {
		m.fault("said-twice", at, fmt.Sprintf("%s is written twice for the same athlete", what),
			"Nothing tells which of them holds. Take one out, or take the athlete out of one for_athlete.", diag.Related{Message: "the other place", Range: before})
		return false
	}
	m.said[what] = at
	return true
}

// override writes a value over another.
func override[T any](m *merger, what string, value *spec.Value[T], by spec.Value[T]) {
	if by.Set && m.say(what, by.Range) {
		*value = by
	}
}

// own keeps of a block what is for the athlete, in copies that can be written over.
func (m *merger) own() {
	m.out.Rides = m.taking(m.of.Rides)
	m.out.WeekNotes = slices.Clone(m.of.WeekNotes)
	m.out.TestDays = slices.Clone(m.of.TestDays)
	m.out.Fixed = slices.Clone(m.of.Fixed) // fixedRides sees to who takes part
	m.out.Waivers = slices.Clone(m.of.Waivers)
	if m.of.Recovery != nil {
		rec := *m.of.Recovery
		rec.Rides = m.taking(rec.Rides)
		m.out.Recovery = &rec
	}
}

func (m *merger) taking(rides []*spec.Ride) []*spec.Ride {
	return slices.DeleteFunc(slices.Clone(rides), func(r *spec.Ride) bool { return r.Athletes != nil && !names(r.Athletes, m.athlete) })
}

// override writes what a for_athlete holds over what the block holds.
func (m *merger) override(f *spec.ForAthlete) {
	own := f.Block
	override(m, "start", &m.out.Start, own.Start)
	override(m, "from_week", &m.fromWeek, f.FromWeek)
	override(m, "rides_per_week", &m.out.RidesPerWeek, own.RidesPerWeek)
	override(m, "note", &m.out.Note, own.Note)
	m.volume(own.Volume)
	m.limits(own.Limits)
	for _, t := range own.TestDays {
		if m.say(fmt.Sprintf("test_day %q", t.Key), t.Label.Range) {
			m.out.TestDays = instead(m.out.TestDays, t, func(t *spec.TestDay) string { return t.Key })
		}
	}
	for _, x := range own.Fixed {
		if at, left := m.said[fmt.Sprintf("ride %q", x.Key)]; left && slices.Contains(m.without, x.Key) {
			m.fault("said-twice", x.Label.Range, fmt.Sprintf("fixed %q is left out and written for the same athlete", x.Key),
				"Nothing tells which of them holds. Take one out.", diag.Related{Message: "it is left out here", Range: at})
		} else if m.say(fmt.Sprintf("fixed %q", x.Key), x.Label.Range) {
			m.out.Fixed = instead(m.out.Fixed, x, func(x *spec.Fixed) string { return x.Key })
		}
	}
	for _, w := range own.WeekNotes {
		m.week(w)
	}
	m.out.Waivers = append(m.out.Waivers, own.Waivers...)
}

// dropPins takes out what is pinned of rides that the athlete does not have.
func (m *merger) dropPins() {
	has := allRides(m.out)
	gone := func(p spec.Pin) bool {
		return p.Ride.Set && !slices.ContainsFunc(has, func(r *spec.Ride) bool { return r.Key == p.Ride.V }) &&
			slices.ContainsFunc(allRides(m.of), func(r *spec.Ride) bool { return r.Key == p.Ride.V })
	}
	for i, w := range m.out.WeekNotes {
		if slices.ContainsFunc(w.Pins, gone) {
			own := *w
			own.Pins = slices.DeleteFunc(slices.Clone(w.Pins), gone)
			m.out.WeekNotes[i] = &own
		}
	}
}

// instead puts something in the place of what has the same key, or behind all.
func instead[T any](list []T, by T, key func(T) string) []T {
	if i := slices.IndexFunc(list, func(t T) bool { return key(t) == key(by) }); i >= 0 {
		list[i] = by
		return list
	}
	return append(list, by)
}

// mix takes rides out of the mix, and puts in those of the athlete's own.
func (m *merger) mix(f *spec.ForAthlete) {
	for _, ride := range f.Block.Rides {
		if m.say(fmt.Sprintf("ride %q", ride.Key), ride.Label.Range) {
			m.out.Rides = instead(m.out.Rides, ride, func(r *spec.Ride) string { return r.Key })
		}
	}
	for _, label := range f.Without {
		if m.say(fmt.Sprintf("ride %q", label.V), label.Range) {
			m.without = append(m.without, label.V)
			m.out.Rides = slices.DeleteFunc(m.out.Rides, func(r *spec.Ride) bool { return r.Key == label.V })
		}
	}
}

// fixed leaves out the fixed rides that the athlete is without.
func (m *merger) fixed(rides []*spec.Fixed) []*spec.Fixed {
	return slices.DeleteFunc(rides, func(f *spec.Fixed) bool { return slices.Contains(m.without, f.Key) })
}

func (m *merger) volume(by *spec.Volume) {
	if by == nil {
		return
	}
	v := spec.Volume{Range: by.Range}
	if m.out.Volume != nil {
		v = *m.out.Volume
	}
	override(m, "volume.first", &v.First, by.First)
	override(m, "volume.growth", &v.Growth, by.Growth)
	override(m, "volume.at_most", &v.AtMost, by.AtMost)
	override(m, "volume.when_short", &v.WhenShort, by.WhenShort)
	override(m, "volume.tolerance", &v.Tolerance, by.Tolerance)
	if by.Tolerance.Set { // either says how much may be left out: the block's own word falls
		v.WhenShort = by.WhenShort
	} else if by.WhenShort.V == "take what fits" {
		v.Tolerance = by.Tolerance
	}
	m.out.Volume = &v
}

// recovery writes over which weeks are lighter and how: the weeks are named in one of two ways,
// and so are the rides.
func (m *merger) recovery(by *spec.Recovery) {
	if by == nil {
		return
	}
	rec := spec.Recovery{Range: by.Range}
	if m.out.Recovery != nil {
		rec = *m.out.Recovery
	}
	if (by.Weeks.Set || by.Every.Set) && m.say("recovery.weeks", place(by.Weeks, place(by.Every, by.Range))) {
		rec.Weeks, rec.Every = by.Weeks, by.Every
	}
	override(m, "recovery.keep", &rec.Keep, by.Keep)
	if (len(by.Rides) > 0 || len(by.Without) > 0) && m.say("recovery.ride", by.Range) {
		rec.Rides, rec.Without = by.Rides, by.Without
	}
	m.out.Recovery = &rec
}

func (m *merger) limits(by *spec.Limits) {
	if by == nil {
		return
	}
	l := spec.Limits{Range: by.Range}
	if m.out.Limits != nil {
		l = *m.out.Limits
	}
	override(m, "limits.weekly_growth", &l.WeeklyGrowth, by.WeeklyGrowth)
	override(m, "limits.start_volume", &l.StartVolume, by.StartVolume)
	override(m, "limits.session_spike", &l.SessionSpike, by.SessionSpike)
	override(m, "limits.long_share", &l.LongShare, by.LongShare)
	override(m, "limits.big_weekend", &l.BigWeekend, by.BigWeekend)
	override(m, "limits.long_days_apart", &l.LongDaysApart, by.LongDaysApart)
	override(m, "limits.rest_days", &l.RestDays, by.RestDays)
	override(m, "limits.riding_days_in_a_row", &l.RidingDaysInARow, by.RidingDaysInARow)
	override(m, "limits.loading_weeks", &l.LoadingWeeks, by.LoadingWeeks)
	override(m, "limits.recovery_depth", &l.RecoveryDepth, by.RecoveryDepth)
	override(m, "limits.two_days", &l.TwoDays, by.TwoDays)
	override(m, "limits.when_broken", &l.WhenBroken, by.WhenBroken)
	m.out.Limits = &l
}

// week writes over a week's hours and note, and over what is pinned, day by day.
func (m *merger) week(by *spec.Week) {
	w := spec.Week{Label: by.Label, Number: by.Number}
	if has := weekOf(m.out, by.Number.V); has != nil {
		w = *has
	}
	name := func(of string) string { return fmt.Sprintf("week %q: %s", fmt.Sprint(by.Number.V), of) }
	override(m, name("hours"), &w.Hours, by.Hours)
	override(m, name("note"), &w.Note, by.Note)
	var pins []spec.Pin
	for _, p := range w.Pins {
		if !slices.ContainsFunc(by.Pins, func(o spec.Pin) bool { return o.Day == p.Day }) {
			pins = append(pins, p)
		}
	}
	for i, p := range by.Pins {
		if i > 0 && by.Pins[i-1].Day == p.Day || m.say(name(units.WeekdayKey(p.Day)), p.Range) {
			pins = append(pins, p)
		}
	}
	w.Pins = pins
	m.out.WeekNotes = instead(m.out.WeekNotes, &w, func(w *spec.Week) string { return fmt.Sprint(w.Number.V) })
}

// check looks at what only the whole shows.
func (m *merger) check(theirs []*spec.ForAthlete) {
	if at, moved := m.said["start"]; moved && m.fromWeek.Set {
		m.fault("start-and-join", m.fromWeek.Range, fmt.Sprintf("The same athlete has another start and joins in week %d", m.fromWeek.V),
			"start moves the block whole; from_week lets the athlete join it while it runs. Keep one of them.", diag.Related{Message: "the start", Range: at})
	}
	if m.out.Weeks.Set && m.fromWeek.V > m.out.Weeks.V {
		m.fault("no-week-to-join", m.fromWeek.Range, fmt.Sprintf("The block has no week %d", m.fromWeek.V),
			fmt.Sprintf("It has weeks 1 to %d. Join in one of these.", m.out.Weeks.V), diag.Related{Message: "its weeks stand here", Range: m.out.Weeks.Range})
	}
	for _, f := range theirs {
		for _, w := range f.Block.WeekNotes {
			if w.Number.Set && w.Number.V < m.fromWeek.V {
				m.fault("week-before-joining", w.Number.Range, fmt.Sprintf("Week %d comes before week %d, in which the same athlete joins", w.Number.V, m.fromWeek.V),
					"Take it out, or write it for a later week.", diag.Related{Message: "the athlete joins here", Range: m.fromWeek.Range})
			}
		}
	}
	if m.of.Broken {
		return // what follows may have been said of the parts
	}
	if v := m.out.Volume; v != nil && v.First.Set && !v.First.V.IsShare && v.AtMost.Set && v.AtMost.V < v.First.V.Duration {
		m.fault("first-above-most", v.AtMost.Range, fmt.Sprintf("at_most = %q is below first = %q of the same athlete", v.AtMost.V, v.First.V.Duration),
			"Write both in the same for_athlete, or change one of the two.", diag.Related{Message: "first stands here", Range: v.First.Range})
	}
	if rec := m.out.Recovery; rec != nil && !rec.Weeks.Set && !rec.Every.Set {
		m.fault("no-recovery-weeks", rec.Range, "Neither the block nor this recovery says which weeks are recovery weeks", "Write weeks = [4, 8] or every = 4.")
	}
}
