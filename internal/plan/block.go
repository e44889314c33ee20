package plan

import (
	"fmt"
	"slices"

	"towpath/internal/diag"
	"towpath/internal/physiology"
	"towpath/internal/record"
	"towpath/internal/spec"
	"towpath/internal/units"
)

// block resolves one block for one athlete, who rode before in another block or, where that is nil,
// in none; nil where it lacks something essential. Of an athlete who joins in a later week the
// block begins there: what is pinned or tested before is not theirs.
func (r *resolver) block(e *entry, before *Block, rec *record.Athlete, asOf units.Date) *Block {
	s, who := e.block, e.athlete
	if e.fromWeek.V > s.Weeks.V || !s.Start.Set || !s.Weeks.Set || s.Weeks.V < 1 {
		return nil // spec has said what is missing
	}
	b := &Block{
		Key: s.Key, Title: s.Title.Or(s.Key), Aim: s.Aim.V, Note: s.Note.V, Range: s.Header,
		Start: e.start(), Shortest: s.Shortest.Or(s.Weeks.V), Decide: s.Decide.V, RidesPerWeek: s.RidesPerWeek.V, RidesRange: place(s.RidesPerWeek, s.Header),
		Limits: limits(s.Limits),
	}
	end := s.Start.V.Add(daysInWeek*s.Weeks.V - 1)
	b.Athlete = r.athlete(who, b.Start, end, s.Fixed)
	if !who.RecentUntil.Set {
		b.Athlete.follow(before, b.Start)
	}
	b.Bands = r.bandsOf(b.Athlete, b.Start, end)
	b.Events = r.eventsOf(b.Athlete, b.Start)
	for _, w := range s.Waivers {
		b.Waivers = append(b.Waivers, &Waiver{Code: w.Key, Weeks: w.Weeks.V, Reason: w.Reason.V, Range: w.Header})
	}
	mix := r.mix(s)
	if !r.totals(e, b, rec, asOf) || mix == nil {
		return nil
	}
	r.weeks(s, b, mix, asOf)
	b.Limits.usualDays(b.Weeks)
	r.checkClocks(who, b)
	if len(b.Bands) == 0 {
		r.noBand(s, b)
		return nil
	}
	return b
}

// follow takes the weeks of the block before as the recent ones, where it ends less than a week
// before start: what the plan says of earlier weeks was written for that block.
func (a *Athlete) follow(before *Block, start units.Date) {
	if before == nil || before.End() >= start || start.Sub(before.End()) > daysInWeek {
		return
	}
	recent := slices.Clone(before.Athlete.Recent)
	for _, w := range before.Weeks {
		recent = append(recent, w.Asked)
	}
	a.Recent = recent[max(0, len(recent)-physiology.RecentWeeks.Value):]
	a.RecentUntil, a.RecentRange = before.End(), before.VolumeRange
}

const daysInWeek = 7

// noBand says that nothing tells how hard to ride, unless the reason was said before.
func (r *resolver) noBand(s *spec.Block, b *Block) {
	for _, band := range r.spec.Bands {
		if r.rides(band.Athlete, b.Athlete) {
			return
		}
	}
	if !r.spec.Broken {
		r.add(diag.Error, "no-band", s.Header, fmt.Sprintf("Athlete %q has no band for block %q", b.Athlete.Key, b.Key),
			fmt.Sprintf(`A band says how hard to ride. Write band %[1]q { athlete = athlete.%[1]s … }, on lines of their own, with tests = [test.…], or with what is known in their place: power = "105-140 W", heart_rate = "108-128 bpm" or rpe = "9-12".`, b.Athlete.Key),
			diag.Related{Message: "the athlete", Range: b.Athlete.Range})
	}
}
