package plan

import (
	"cmp"
	"fmt"
	"slices"
	"time"

	"towpath/internal/diag"
	"towpath/internal/spec"
	"towpath/internal/units"
)

// giveFixed gives the weeks their fixed rides and the way to work, once pins and tests stand. One
// of each week pauses where its day has no place for it, and that is kept; a dated one never does.
func (r *resolver) giveFixed(s *spec.Block, b *Block) {
	for _, f := range s.Fixed {
		session := r.sessions[f.Session.V.Key]
		if session == nil || !f.Minutes.Set {
			continue // spec has said what is missing
		}
		ride := fixedRide{Fixed: f, session: session}
		for _, w := range b.Weeks {
			if f.Weeks.Set && !slices.Contains(f.Weeks.V, w.Number) {
				continue
			}
			if d := f.Date.V; f.Date.Set && d >= w.Start && d < w.Start.Add(daysInWeek) {
				r.onDate(&ride, b, w)
			}
			without := withoutIn(s.Recovery, w, f.Key)
			for _, day := range f.Days {
				if without != nil {
					w.pause(ride.given(w, weekdayOf(w.Start, day.V), day.Range), "recovery weeks go without it", without.Range)
				} else {
					ride.onWeekday(b, w, day)
				}
			}
		}
		r.tooLongForItsDay(&ride, b)
	}
	if way := r.sessions[WayToWork]; way != nil {
		for _, w := range b.Weeks {
			for d := w.Start; d < w.Start.Add(daysInWeek); d++ {
				wayToWork(way, b, w, d)
			}
		}
	}
	for _, w := range b.Weeks {
		slices.SortStableFunc(w.Paused, func(x, y Paused) int { return cmp.Compare(x.Date, y.Date) })
	}
}

// withoutIn is where recovery leaves a ride out of a week; nil where it does not.
func withoutIn(rec *spec.Recovery, w *Week, label string) *spec.Value[string] {
	if rec == nil || w.Kind != Recovery {
		return nil
	}
	i := slices.IndexFunc(rec.Without, func(out spec.Value[string]) bool { return out.V == label })
	if i < 0 {
		return nil
	}
	return &rec.Without[i]
}

// checkFixed refuses a ride that a block puts on a date which lies outside of it, wherever the block
// begins.
func (r *resolver) checkFixed() {
	for _, b := range r.spec.Blocks {
		rides, starts := b.Fixed, []units.Date{b.Start.V}
		for _, f := range b.ForAthletes {
			rides = slices.Concat(rides, f.Block.Fixed)
			if f.Block.Start.Set {
				starts = append(starts, f.Block.Start.V)
			}
		}
		if !b.Start.Set || !b.Weeks.Set {
			continue // spec has said what is missing
		}
		for _, f := range rides {
			d := f.Date.V
			if !f.Date.Set || slices.ContainsFunc(starts, func(s units.Date) bool { return d >= s && d < s.Add(daysInWeek*b.Weeks.V) }) {
				continue
			}
			r.add(diag.Error, "date-outside-block", f.Date.Range, fmt.Sprintf("The fixed ride %q is on %s, outside of block %q", f.Key, d, b.Key),
				fmt.Sprintf("The block lasts from %s to %s. Choose a date within, or put the ride into the block that has it.", b.Start.V, b.Start.V.Add(daysInWeek*b.Weeks.V-1)),
				diag.Related{Message: "the block begins here", Range: b.Start.Range})
		}
	}
}

// fixedRide is a fixed ride on its way into a block's weeks.
type fixedRide struct {
	*spec.Fixed
	session *Session
	short   []units.Date // ordinary days that cannot hold it
}

func (f *fixedRide) minutes() units.Minutes { return f.Minutes.V.Minutes() }

// given is the fixed ride on a date.
func (f *fixedRide) given(w *Week, d units.Date, at diag.Range) *Given {
	return &Given{
		Date: d, Minutes: f.minutes(), Session: f.session, Ride: w.rideOf(f.session), Fixed: f.Key,
		Start: f.At.V, Place: f.Place.V, Note: f.Note.V, Range: at,
	}
}

// onDate gives a dated fixed ride; a day that cannot hold it is an error.
func (r *resolver) onDate(f *fixedRide, b *Block, w *Week) {
	g := f.given(w, f.Date.V, f.Header)
	on := b.Athlete.DayOn(g.Date)
	if room := on.roomFor(g.Place); room < g.Minutes {
		summary := fmt.Sprintf("The fixed ride %q lasts %s, but %s %s can hold %s", f.Key, g.Minutes, g.Date.Weekday(), g.Date, room)
		if room == 0 {
			summary = fmt.Sprintf("The fixed ride %q is on %s %s, a day without riding", f.Key, g.Date.Weekday(), g.Date)
		}
		r.add(diag.Error, "day-too-short", f.Date.Range, summary,
			b.Athlete.toOpen(g.Date, g.Minutes)+", or choose another one.",
			diag.Related{Message: "what the day can hold", Range: on.Range})
		return
	}
	w.seat(g, b.Athlete, true)
}

// onWeekday gives a fixed ride on its day of a week, or lets it pause. A weekday that the athlete's
// days leave closed has its own time for it.
func (f *fixedRide) onWeekday(b *Block, w *Week, day spec.Value[time.Weekday]) {
	g := f.given(w, weekdayOf(w.Start, day.V), day.Range)
	on, usual := b.Athlete.usualOn(g.Date)
	if why, at := w.pauses(g, b); why != "" {
		w.pause(g, why, at)
		return
	}
	switch room := on.roomFor(g.Place); {
	case usual && room == 0:
		g.Apart = true
		w.Given = append(w.Given, g)
	case usual && room < g.Minutes:
		f.short = append(f.short, g.Date)
	case room == 0:
		w.pause(g, "no riding on this date", on.Range)
	case room < g.Minutes:
		w.pause(g, fmt.Sprintf("this date can hold %s", room), on.Range)
	case !usual && !g.Session.Light && w.windowFor(g, &on, true).Easy:
		w.pause(g, "this date takes light rides only", on.Range)
	default:
		w.seat(g, b.Athlete, true)
	}
}

// tooLongForItsDay refuses, once, a fixed ride that its ordinary day cannot hold.
func (r *resolver) tooLongForItsDay(f *fixedRide, b *Block) {
	if f.short == nil {
		return
	}
	day, on := f.short[0].Weekday(), b.Athlete.DayOn(f.short[0])
	room := on.roomFor(f.Place.V)
	r.add(diag.Error, "day-too-short", f.Minutes.Range, fmt.Sprintf("The fixed ride %q lasts %s, but %s can hold %s", f.Key, f.minutes(), day, room),
		fmt.Sprintf("Give the day more time, shorten the ride to %s, or choose another day.", room),
		diag.Related{Message: fmt.Sprintf("what %s can hold", day), Range: on.Range})
	text := fmt.Sprintf("%q", room)
	r.diags[len(r.diags)-1].Fix = &diag.Fix{Title: "Write " + text, Edits: []diag.Edit{{Range: f.Minutes.Range, Text: text}}}
}

// wayToWork gives what the windows of a date are as the way to work. They pause like a fixed ride
// of each week, but that a date which names them while the rider travels means them.
func wayToWork(session *Session, b *Block, w *Week, d units.Date) {
	on := b.Athlete.DayOn(d)
	for _, window := range on.ways() {
		g := &Given{
			Date: d, Minutes: window.Way, Session: session, Ride: w.rideOf(session), Fixed: WayToWork, Apart: true,
			Start: window.Start, Place: window.Place, Range: window.Range,
		}
		if why, at := w.pauses(g, b); why != "" {
			w.pause(g, why, at)
		} else {
			w.Given = append(w.Given, g)
		}
	}
}

// pauses tells why a fixed ride of each week is left out on its day, whatever that can hold; "" where
// it is ridden.
func (w *Week) pauses(g *Given, b *Block) (why string, at diag.Range) {
	if w.Asked == 0 {
		return fmt.Sprintf("week %d has no minutes", w.Number), w.Range
	}
	_, exception := b.Athlete.Exceptions[g.Date]
	if away := b.Athlete.AwayOn(g.Date); away != nil && !(exception && g.Fixed == WayToWork) {
		return fmt.Sprintf("away, in %s", away.Zone), away.Range
	}
	for _, other := range w.Given {
		switch {
		case other.Date != g.Date:
		case other.Test != nil:
			return "the day belongs to a test: " + other.Session.Title, other.Range
		case other.Fixed == "" && other.Session == g.Session:
			return fmt.Sprintf("week %d has its own on this date", w.Number), other.Range
		}
	}
	for _, e := range b.Events {
		if e.Date == g.Date {
			return "the day of an event: " + e.Title, e.Range
		}
	}
	return "", diag.Range{}
}

// pause keeps that a fixed ride is left out; the way to work and the way back are told together.
func (w *Week) pause(g *Given, why string, at diag.Range) {
	if at.Filename == "" {
		at = g.Range
	}
	if n := len(w.Paused); n > 0 && g.Fixed == WayToWork && w.Paused[n-1].Fixed == WayToWork && w.Paused[n-1].Date == g.Date {
		w.Paused[n-1].Minutes += g.Minutes
		return
	}
	w.Paused = append(w.Paused, Paused{Date: g.Date, Fixed: g.Fixed, Minutes: g.Minutes, Session: g.Session, Why: why, Range: at})
}

// rideOf is the ride of the week's mix that a session counts for, nil where none does.
func (w *Week) rideOf(s *Session) *Ride {
	for _, ride := range w.Rides {
		if ride.Session == s {
			return ride
		}
	}
	return nil
}

// usualOn is what a date can hold, and whether only the usual week says so: neither a dated day nor
// a roster.
func (a *Athlete) usualOn(d units.Date) (on Day, usual bool) {
	_, exception := a.Exceptions[d]
	_, rostered := a.Rostered[d]
	return a.DayOn(d), !exception && !rostered
}
