package plan

import (
	"fmt"
	"math"
	"slices"

	"towpath/internal/diag"
	"towpath/internal/physiology"
	"towpath/internal/record"
	"towpath/internal/spec"
	"towpath/internal/units"
)

// totals makes the weeks with their kinds and totals: the first is what the block says, each
// loading week grows on the last loading week, recovery weeks keep a share of it and are no
// reference, a week in the coach's own hand is as written. A week of which every date is closed by
// a line of its own is off. A week off, of no minutes, is no reference either. It is false where
// there is nothing to go by.
func (r *resolver) totals(e *entry, b *Block, rec *record.Athlete, asOf units.Date) bool {
	s, v, first := e.block, e.block.Volume, e.fromWeek.Or(1)
	if v == nil {
		if len(s.WeekNotes) == 0 {
			return false // spec has said that the hours are missing
		}
		v = &spec.Volume{Range: s.Header} // each week has its own hours
	}
	b.TakeWhatFits, b.Tolerance = v.WhenShort.V == "take what fits", v.Tolerance.V
	b.VolumeRange, b.FirstVolumeRange, b.GrowthRange = v.Range, place(v.First, v.Range), place(v.Growth, v.Range)
	amount, ok := r.firstWeek(s, v, b)
	if !ok {
		return false
	}
	for n := first; n <= s.Weeks.V; n++ {
		w := &Week{Number: n, Start: b.Start.Add(daysInWeek * (n - first)), Kind: Loading, Provisional: s.Shortest.Set && n > s.Shortest.V}
		if recovery(s.Recovery, n) {
			w.Kind = Recovery
		}
		w.Light = w.Kind == Recovery
		b.Weeks = append(b.Weeks, w)
	}
	b.totals = totals{spec: s, athlete: b.Athlete, volume: v, first: amount, rec: rec, asOf: asOf}
	if long, asked := b.reckon(); long != nil {
		r.tooLong(b, long.Number, asked)
	}
	return true
}

// reckon gives each week its total. Long is the first week that would hold more than a week has.
func (b *Block) reckon() (long *Week, asked total) {
	t := b.totals
	for _, w := range b.Weeks {
		is := t.week(w)
		if delivered, ok := deliveredTotal(t.rec, b, w, t.asOf); ok {
			is = total{delivered, diag.Range{}, diag.Origin{What: "as delivered"}}
		}
		if is.minutes > wholeWeek {
			if long == nil {
				long, asked = w, is
			}
			is.minutes = wholeWeek
		}
		w.Asked, w.Range, w.Origin = is.minutes, is.at, is.origin
		w.Origin.What = fmt.Sprintf("week %d: %s, %s", w.Number, w.Asked, w.Origin.What)
		if w.Kind == Loading && w.Asked > 0 && !slices.Contains(t.cut, w.Number) {
			t.base = w
		}
	}
	return long, asked
}

// NoReference says that a week could not hold its total, which only placing it shows. Weeks after
// it grow on the loading week before it instead.
func (b *Block) NoReference(week int) {
	b.totals.cut = append(b.totals.cut, week)
	b.reckon()
}

// wholeWeek is all the minutes that a week has.
const wholeWeek units.Minutes = 7 * 24 * 60

func (r *resolver) tooLong(b *Block, week int, t total) {
	r.add(diag.Error, "week-too-long", t.at, fmt.Sprintf("Week %d of block %q would hold more than the %s that a week has", week, b.Key, wholeWeek),
		"Let the weeks grow by less, or bound them: at_most = \"…\" in volume.")
}

// total is a week's minutes, with the text that set them and where they come from.
type total struct {
	minutes units.Minutes
	at      diag.Range
	origin  diag.Origin
}

// because is a total that a piece of the text caused.
func because(m units.Minutes, at diag.Range, from []diag.Origin, format string, args ...any) total {
	return total{m, at, diag.Origin{What: fmt.Sprintf(format, args...), Range: at, From: from}}
}

// totals is the reckoning of a block's weeks, one after the other.
type totals struct {
	spec    *spec.Block
	athlete *Athlete
	volume  *spec.Volume
	first   total // of the first loading week
	rec     *record.Athlete
	asOf    units.Date
	cut     []int // weeks that could not hold their total: no reference
	base    *Week // the last loading week; nil before the first
}

// week gives what the plan asks of a week.
func (t *totals) week(w *Week) total {
	own := weekOf(t.spec, w.Number)
	switch {
	case own != nil && own.Hours.Set:
		return because(own.Hours.V.Minutes(), own.Hours.Range, nil, "as the coach wrote it")
	case t.athlete.away(w):
		return because(0, t.athlete.Exceptions[w.Start].Range, nil, "a week off: every day is closed by its date")
	case w.Kind == Recovery:
		return t.lighter()
	case t.base == nil:
		return t.first
	}
	return t.grown()
}

// lighter is a recovery week: a share of the last loading week.
func (t *totals) lighter() total {
	keep, base, from := physiology.RecoveryKeep.Value, t.first.minutes, t.first.origin
	at, why := t.spec.Recovery.Range, fixed(fmt.Sprintf("recovery weeks keep %s", keep), physiology.RecoveryKeep)
	if k := t.spec.Recovery.Keep; k.Set {
		keep, at = k.V, k.Range
		why = diag.Origin{What: fmt.Sprintf("recovery weeks keep %s, as the coach wrote it", keep), Range: at}
	}
	from.What = fmt.Sprintf("the first loading week: %s, %s", base, from.What)
	if t.base != nil {
		base, from = t.base.Asked, t.baseOrigin()
	}
	return because(floor5(float64(base)*float64(keep)), at, []diag.Origin{why, from}, "a recovery week: %s of the last loading week's %s", keep, base)
}

// grown is a loading week on the one before.
func (t *totals) grown() total {
	v, base := t.volume, t.base.Asked
	out := because(base, v.Range, []diag.Origin{t.baseOrigin()}, "no growth was written: as the last loading week")
	switch g := v.Growth.V; {
	case v.Growth.Set && g.IsShare:
		out = because(floor5(float64(base)*(1+float64(g.Share))), v.Growth.Range, out.origin.From, "%s more than the last loading week's %s", g.Share, base)
	case v.Growth.Set:
		out = because(floor5(float64(base+g.Duration.Minutes())), v.Growth.Range, out.origin.From, "%s more than the last loading week's %s", g.Duration, base)
	}
	return t.atMost(out, "growth")
}

// atMost keeps to the most that the block allows.
func (t *totals) atMost(in total, what string) total {
	most := t.volume.AtMost
	if !most.Set || in.minutes <= most.V.Minutes() {
		return in
	}
	return because(floor5(float64(most.V.Minutes())), most.Range, []diag.Origin{in.origin}, "the most that the block allows; %s would give %s", what, in.minutes)
}

// baseOrigin is where the reference comes from, one week back: the weeks before have their own.
func (t *totals) baseOrigin() diag.Origin {
	o := t.base.Origin
	o.From = nil
	return o
}

// firstWeek is the first loading week's total.
func (r *resolver) firstWeek(s *spec.Block, v *spec.Volume, b *Block) (total, bool) {
	a, at := v.First.V, place(v.First, v.Range)
	t := totals{volume: v}
	switch {
	case !v.First.Set:
		// Spec has seen to it that the weeks have hours of their own, or said what is missing.
		return because(0, at, nil, "no first week was written"), !s.Broken
	case !a.IsShare:
		return r.notNothing(because(floor5(float64(a.Duration.Minutes())), at, nil, "the first loading week, as the coach wrote it"))
	}
	recent := b.Athlete.Recent
	if len(recent) == 0 {
		r.add(diag.Error, "recent-unknown", at, fmt.Sprintf("The first week is a share of recent weeks, but athlete %q has none", b.Athlete.Key),
			`Write what was ridden in each of the last four weeks, oldest first: recent = ["4 h", "4 h 30 min", "3 h 45 min", "4 h 15 min"], or write the first week in hours.`,
			diag.Related{Message: "the athlete", Range: b.Athlete.Range})
		return total{}, false
	}
	var sum units.Minutes
	for _, m := range recent {
		sum += m
	}
	mean := float64(sum) / float64(len(recent))
	from := []diag.Origin{{What: fmt.Sprintf("recent weeks: %s on the mean of %d", units.Minutes(math.Round(mean)), len(recent)), Range: b.Athlete.RecentRange}}
	return r.notNothing(t.atMost(because(floor5(mean*float64(a.Share)), at, from,
		"the first loading week: %s of the mean of %d recent weeks, %s", a.Share, len(recent), units.Minutes(math.Round(mean))), "the share of recent weeks"))
}

// notNothing refuses a first week without a minute to ride: weeks could not grow on it.
func (r *resolver) notNothing(t total) (total, bool) {
	if t.minutes > 0 {
		return t, true
	}
	r.add(diag.Error, "first-week-empty", t.at, fmt.Sprintf("The first week is less than %s", physiology.Quantum.Value),
		"Weeks are reckoned in whole steps of that size, and each grows on the one before. Write a longer first week; a week off is written as week \"1\" { hours = \"0 min\" }.")
	return t, false
}

func recovery(rec *spec.Recovery, n int) bool {
	switch {
	case rec == nil:
		return false
	case rec.Weeks.Set:
		return slices.Contains(rec.Weeks.V, n)
	}
	return rec.Every.V > 0 && n%rec.Every.V == 0
}

func weekOf(s *spec.Block, n int) *spec.Week {
	for _, w := range s.WeekNotes {
		if w.Number.V == n {
			return w
		}
	}
	return nil
}

// deliveredTotal is what was asked of a week that lies wholly before asOf, as it was delivered.
func deliveredTotal(rec *record.Athlete, b *Block, w *Week, asOf units.Date) (units.Minutes, bool) {
	if rec == nil || asOf.IsZero() || w.Start.Add(7) > asOf {
		return 0, false
	}
	for _, s := range rec.Sessions {
		if s.Block == b.Key && s.Date >= w.Start && s.Date < w.Start.Add(7) {
			return s.WeekAsked, true
		}
	}
	return 0, false
}

// floor5 rounds down to whole quanta of 5 min. A product that misses a quantum by less than a
// millionth of a minute has only lost it to binary fractions. What is more than a week holds is
// one quantum more, however much it is.
func floor5(minutes float64) units.Minutes {
	quantum := float64(physiology.Quantum.Value)
	minutes = min(minutes, float64(wholeWeek+physiology.Quantum.Value))
	return units.Minutes(math.Floor(minutes/quantum+1e-6)) * physiology.Quantum.Value
}
