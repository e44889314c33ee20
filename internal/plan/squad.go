package plan

import (
	"cmp"
	"fmt"
	"slices"

	"towpath/internal/diag"
	"towpath/internal/spec"
	"towpath/internal/units"
)

// withDefaults is an athlete as written, with what the squad's defaults add. Each value keeps its
// place in the text, so that what comes from the squad is told at the squad's line.
func (r *resolver) withDefaults(a *spec.Athlete) *spec.Athlete {
	d := r.defaultsFor(a)
	if d == nil {
		return a
	}
	out := *a
	inherit(&out.TimeZone, d.TimeZone)
	inherit(&out.Background, d.Background)
	inherit(&out.PowerMeter, d.PowerMeter)
	inherit(&out.RecentUntil, d.RecentUntil)
	inherit(&out.Longest, d.Longest)
	if !a.RecentSet {
		out.Recent, out.RecentSet, out.RecentRange = d.Recent, d.RecentSet, d.RecentRange
	}
	if out.Screening == nil {
		out.Screening = d.Screening
	}
	for i := range out.Days {
		inherit(&out.Days[i], d.Days[i])
	}
	if a.DaysBlock.Filename == "" {
		out.DaysBlock = d.DaysBlock
	}
	out.On = withDates(a.On, d.On)
	out.Meters = together(a.Meters, d.Meters, func(m spec.PlaceMeter) string { return m.Place })
	out.Shifts = together(a.Shifts, d.Shifts, func(s spec.Shift) string { return s.Key.V })
	if len(a.Rosters) == 0 {
		out.Rosters = d.Rosters
	}
	out.Travels = slices.Concat(a.Travels, d.Travels)
	out.Other = together(a.Other, d.Other, func(o *spec.Other) string { return o.Key })
	out.Device, out.Calendar = device(a.Device, d.Device), calendar(a.Calendar, d.Calendar)
	out.Broken = a.Broken || d.Broken
	return &out
}

// defaultsFor are those of the one squad that gives the athlete some; nil where none does.
func (r *resolver) defaultsFor(a *spec.Athlete) *spec.Athlete {
	var from *spec.Squad
	var at diag.Range
	for _, s := range r.spec.Squads {
		i := slices.IndexFunc(s.Athletes, func(ref spec.Value[spec.Ref]) bool { return ref.V.Key == a.Key })
		switch {
		case i < 0 || s.Defaults == nil:
		case from == nil:
			from, at = s, s.Athletes[i].Range
		default:
			r.ofAthlete("", a.Key, "two-defaults", s.Athletes[i].Range, fmt.Sprintf("Squads %q and %q both have defaults for athlete %q", from.Key, s.Key, a.Key),
				fmt.Sprintf("An athlete takes defaults from one squad. Take athlete.%s out of one of them, or write what the two share in only one.", a.Key),
				diag.Related{Message: "the other squad", Range: at})
			r.unclear[a.Key] = true
		}
	}
	if from == nil {
		return nil
	}
	return from.Defaults
}

// squadOf is the squad in whose defaults a day is written, "" for none.
func (r *resolver) squadOf(at diag.Range) string {
	for _, s := range r.spec.Squads {
		if d := s.Defaults; d != nil && (slices.ContainsFunc(d.Days[:], func(v spec.Value[spec.Day]) bool { return v.Set && v.Range == at }) ||
			slices.ContainsFunc(d.On, func(on spec.DatedDay) bool { return on.Day.Range == at })) {
			return s.Key
		}
	}
	return ""
}

// inherit fills in what was left out.
func inherit[T any](own *spec.Value[T], from spec.Value[T]) {
	if !own.Set {
		*own = from
	}
}

// together is what is written nearer to the rider, and from the wider text what has another key.
func together[T any](near, wide []T, key func(T) string) []T {
	out := slices.Clone(near)
	for _, w := range wide {
		if !slices.ContainsFunc(near, func(n T) bool { return key(n) == key(w) }) {
			out = append(out, w)
		}
	}
	return out
}

// withDates adds the squad's dates to those of the athlete, who has the word on each date that
// both name: what is left of the squad's days in a row stays.
func withDates(own, squads []spec.DatedDay) []spec.DatedDay {
	byDate := slices.SortedFunc(slices.Values(own), func(x, y spec.DatedDay) int { return cmp.Compare(x.Date.V, y.Date.V) })
	out := slices.Clone(own)
	length := func(x, y spec.DatedDay) int { return cmp.Compare(lastDay(x)-x.Date.V, lastDay(y)-y.Date.V) }
	for _, s := range slices.SortedStableFunc(slices.Values(squads), length) { // a date alone before a row that is cut to one
		next, last := s.Date.V, lastDay(s)
		add := func(until units.Date) {
			if piece := s; next <= until {
				piece.Date.V, piece.Until = next, until
				out = append(out, piece)
			}
		}
		for _, o := range byDate {
			if lastDay(o) >= next && o.Date.V <= last {
				add(o.Date.V - 1)
				next = lastDay(o) + 1
			}
		}
		add(last)
	}
	return out
}

func lastDay(d spec.DatedDay) units.Date { return max(d.Date.V, d.Until) }

func device(own, from *spec.Device) *spec.Device {
	switch {
	case own == nil:
		return from
	case from == nil:
		return own
	}
	out := *own
	inherit(&out.Leads, from.Leads)
	inherit(&out.Letters, from.Letters)
	inherit(&out.MostSteps, from.MostSteps)
	inherit(&out.HeartRate, from.HeartRate)
	return &out
}

func calendar(own, from *spec.Calendar) *spec.Calendar {
	switch {
	case own == nil:
		return from
	case from == nil:
		return own
	}
	out := *own
	inherit(&out.Hours, from.Hours)
	inherit(&out.Reminder, from.Reminder)
	return &out
}

// fixedRides are all that hold for an athlete in a block: of squads, of the athlete, of the block,
// each nearer one in place of a wider one of the same label. The block of an entry has them all.
func (r *resolver) fixedRides(b *spec.Block, a *spec.Athlete) []*spec.Fixed {
	label := func(f *spec.Fixed) string { return f.Key }
	var squads, block []*spec.Fixed
	for _, s := range r.spec.Squads {
		if names(s.Athletes, a.Key) {
			squads = append(squads, taking(s.Fixed, a.Key)...)
		}
	}
	block = taking(b.Fixed, a.Key)
	return together(block, together(a.Fixed, squads, label), label)
}

// taking are the fixed rides in which an athlete takes part.
func taking(rides []*spec.Fixed, athlete string) []*spec.Fixed {
	return slices.DeleteFunc(slices.Clone(rides), func(f *spec.Fixed) bool { return f.Athletes != nil && !names(f.Athletes, athlete) })
}

func names(refs []spec.Value[spec.Ref], key string) bool {
	return slices.ContainsFunc(refs, func(ref spec.Value[spec.Ref]) bool { return ref.V.Key == key })
}

// outsiders reports those who are named in a part of something without taking part in the whole.
func (r *resolver) outsiders(refs []spec.Value[spec.Ref], among func(key string) bool, whole string, header diag.Range) {
	for _, ref := range refs {
		if r.athletes[ref.V.Key] != nil && !among(ref.V.Key) {
			r.add(diag.Error, "not-among-them", ref.Range, fmt.Sprintf("Athlete %q is not among the athletes of %s", ref.V.Key, whole),
				fmt.Sprintf("Take athlete.%s out of this list, or add it to the athletes of %s.", ref.V.Key, whole),
				diag.Related{Message: whole, Range: header})
		}
	}
}

// checkSquads looks at who is named in the rides that squads share.
func (r *resolver) checkSquads() {
	for _, s := range r.spec.Squads {
		for _, f := range s.Fixed {
			r.outsiders(f.Athletes, func(key string) bool { return names(s.Athletes, key) }, fmt.Sprintf("squad %q", s.Key), s.Header)
		}
	}
}
