package plan

import (
	"cmp"
	"fmt"
	"slices"

	"towpath/internal/diag"
	"towpath/internal/spec"
	"towpath/internal/units"
)

// entry is one athlete in a block: both as they hold for the two together. What a block has
// for some athletes, and what a squad gives to its own, is put in its place here, so that nothing
// behind has to know of it.
type entry struct {
	block    *spec.Block
	athlete  *spec.Athlete
	fromWeek spec.Value[int] // the week in which the athlete joins; not set: the first
	diags    diag.List       // what was found wrong while they were put together
}

// mostWeeks bounds the weeks of all riders together: a hundred riders for a year. Each takes memory,
// and time to be placed.
const mostWeeks = 5200

// entries are who rides which block, in order of start.
func (r *resolver) entries() []*entry {
	var out []*entry
	weeks := 0
	for _, b := range r.spec.Blocks {
		athletes := r.athletesOf(b)
		if weeks += len(athletes) * b.Weeks.V; weeks > mostWeeks {
			r.add(diag.Error, "too-many-weeks", b.Header, fmt.Sprintf("The riders of this plan have %d weeks together with those of block %q; at most %d can be compiled at once", weeks, b.Key, mostWeeks),
				"The weeks of each block are counted for each of its athletes. Give some of the athletes a plan of their own, in another folder.")
			return nil
		}
		r.checkNamed(b, athletes)
		r.checkWithout(b, athletes)
		for _, a := range athletes {
			out = append(out, r.entry(b, a))
		}
	}
	slices.SortStableFunc(out, func(x, y *entry) int { return cmp.Compare(x.start(), y.start()) })
	return out
}

// start is the athlete's first day in the block.
func (e *entry) start() units.Date {
	return e.block.Start.V.Add(daysInWeek * (e.fromWeek.Or(1) - 1))
}

// checkNamed wants those who are named in a block to ride it.
func (r *resolver) checkNamed(b *spec.Block, athletes []*spec.Athlete) {
	rides := func(key string) bool {
		return slices.ContainsFunc(athletes, func(a *spec.Athlete) bool { return a.Key == key })
	}
	check := func(refs []spec.Value[spec.Ref]) { r.outsiders(refs, rides, fmt.Sprintf("block %q", b.Key), b.Header) }
	for _, f := range b.ForAthletes {
		check(f.Athletes)
	}
	for _, ride := range allRides(b) {
		check(ride.Athletes)
	}
	for _, f := range b.Fixed {
		check(f.Athletes)
	}
}

// checkWithout wants the rides that some athletes, or recovery weeks, leave out to be theirs: of the
// mix, or fixed.
func (r *resolver) checkWithout(b *spec.Block, athletes []*spec.Athlete) {
	if b.Broken || r.spec.Broken {
		return
	}
	var fixed []string
	for _, a := range athletes {
		for _, ride := range r.fixedRides(b, a) {
			fixed = append(fixed, ride.Key)
		}
	}
	check := func(without []spec.Value[string], mix ...*spec.Ride) {
		labels := slices.Clone(fixed)
		for _, ride := range mix {
			labels = append(labels, ride.Key)
		}
		slices.Sort(labels)
		labels = slices.Compact(labels)
		for _, w := range without {
			if !slices.Contains(labels, w.V) {
				r.noSuchRide(w, labels)
			}
		}
	}
	if b.Recovery != nil {
		check(b.Recovery.Without, b.Rides...)
	}
	for _, f := range b.ForAthletes {
		check(f.Without, b.Rides...)
		if f.Block.Recovery != nil {
			check(f.Block.Recovery.Without, slices.Concat(b.Rides, f.Block.Rides)...)
		}
	}
}

// noSuchRide says which rides there are.
func (r *resolver) noSuchRide(written spec.Value[string], labels []string) {
	d := diag.Diagnostic{
		Code: "unknown-ride", Severity: diag.Error, Subject: written.Range,
		Summary: fmt.Sprintf("There is no ride %q to leave out", written.V), Detail: "The block has no ride.",
	}
	if len(labels) > 0 {
		d.Detail = fmt.Sprintf("There are the rides %s.", quotedList(labels))
	}
	offer(&d, spec.Nearest(written.V, labels), `"`)
	r.diags.Add(d)
}

// quotedList prints "easy", "long" and "upper".
func quotedList(labels []string) string {
	words := make([]string, len(labels))
	for i, l := range labels {
		words[i] = fmt.Sprintf("%q", l)
	}
	return inWords(words)
}

// allRides are those of the mix and of the recovery weeks.
func allRides(b *spec.Block) []*spec.Ride {
	if b.Recovery == nil {
		return b.Rides
	}
	return slices.Concat(b.Rides, b.Recovery.Rides)
}

// entry puts together what holds for one athlete in a block.
func (r *resolver) entry(b *spec.Block, a *spec.Athlete) *entry {
	out := *b
	m := &merger{athlete: a.Key, of: b, out: &out, said: map[string]diag.Range{}}
	m.own()
	var theirs []*spec.ForAthlete
	for _, f := range b.ForAthletes {
		if names(f.Athletes, a.Key) {
			theirs = append(theirs, f)
			m.mix(f)
			m.recovery(f.Block.Recovery)
		}
	}
	m.dropPins()
	for _, f := range theirs {
		m.override(f)
	}
	m.check(theirs)
	out.Fixed = m.fixed(r.fixedRides(&out, a))
	return &entry{block: &out, athlete: a, fromWeek: m.fromWeek, diags: m.diags}
}
