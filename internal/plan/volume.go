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
// reference, a week in the coach's own hand is as written. It is false where there is nothing to
// go by.
func (r *resolver) totals(s *spec.Block, b *Block, rec *record.Athlete, asOf units.Date) bool {
	v := s.Volume
	if v == nil {
		return false // a missing volume is spec's to say
	}
	b.TakeWhatFits = v.WhenShort.V == "take what fits"
	b.VolumeRange, b.FirstVolumeRange, b.GrowthRange = v.Range, place(v.First, v.Range), place(v.Growth, v.Range)
	first, from, ok := r.firstWeek(v, b)
	if !ok {
		return false
	}
	var base units.Minutes // the last loading week; 0 before the first
	for n := 1; n <= s.Weeks.V; n++ {
		w := &Week{Number: n, Start: b.Start.Add(7 * (n - 1)), Kind: Loading}
		if recovery(s.Recovery, n) {
			w.Kind = Recovery
		}
		r.total(s, b, w, base, first, from)
		if delivered := deliveredTotal(rec, b, w, asOf); delivered > 0 {
			w.Asked = delivered
			w.Origin = diag.Origin{What: fmt.Sprintf("week %d: %s, as delivered", n, delivered)}
		}
		if w.Kind == Loading {
			base = w.Asked
		}
		w.Light = w.Kind == Recovery
		b.Weeks = append(b.Weeks, w)
	}
	return true
}

// total sets a week's minutes and says where they come from.
func (r *resolver) total(s *spec.Block, b *Block, w *Week, base, first units.Minutes, from diag.Origin) {
	v := s.Volume
	set := func(m units.Minutes, at diag.Range, format string, args ...any) {
		w.Asked, w.Range = m, at
		w.Origin = diag.Origin{What: fmt.Sprintf("week %d: %s, ", w.Number, m) + fmt.Sprintf(format, args...), Range: at}
	}
	own := weekOf(s, w.Number)
	switch {
	case own != nil && own.Hours.Set:
		set(own.Hours.V.Minutes(), own.Hours.Range, "as the coach wrote it")
	case w.Kind == Recovery:
		reference, keep := base, physiology.RecoveryKeep.Value
		if reference == 0 {
			reference = first
		}
		at := v.Range
		if s.Recovery != nil {
			keep, at = s.Recovery.Keep.Or(keep), place(s.Recovery.Keep, s.Recovery.Range)
		}
		set(floor5(float64(reference)*float64(keep)), at, "a recovery week: %s of the last loading week's %s", keep, reference)
	case base == 0:
		set(first, from.Range, "the first loading week: %s", from.What)
		w.Origin.From = from.From
	default:
		r.grown(v, base, set)
	}
}

// grown is a loading week on the one before.
func (r *resolver) grown(v *spec.Volume, base units.Minutes, set func(units.Minutes, diag.Range, string, ...any)) {
	grown, by := base, "no growth was written"
	switch g := v.Growth.V; {
	case v.Growth.Set && g.IsShare:
		grown, by = floor5(float64(base)*(1+float64(g.Share))), fmt.Sprintf("%s more than the last loading week's %s", g.Share, base)
	case v.Growth.Set:
		grown, by = base+g.Duration.Minutes(), fmt.Sprintf("%s more than the last loading week's %s", g.Duration, base)
	}
	if most := v.AtMost.V.Minutes(); v.AtMost.Set && grown > most {
		set(max(floor5(float64(most)), 0), v.AtMost.Range, "the most that the block allows; growth would give %s", grown)
		return
	}
	set(grown, place(v.Growth, v.Range), "%s", by)
}

// firstWeek is the first loading week's total.
func (r *resolver) firstWeek(v *spec.Volume, b *Block) (units.Minutes, diag.Origin, bool) {
	a := v.First.V
	at := place(v.First, v.Range)
	if !v.First.Set {
		return 0, diag.Origin{}, false
	}
	if !a.IsShare {
		return floor5(float64(a.Duration.Minutes())), diag.Origin{What: "as the coach wrote it", Range: at}, true
	}
	recent := b.Athlete.Recent
	if len(recent) == 0 {
		r.add(diag.Error, "recent-unknown", at, fmt.Sprintf("The first week is a share of recent weeks, but athlete %q has none", b.Athlete.Key),
			`Write what was ridden in each of the last four weeks, oldest first: recent = ["4 h", "4 h 30 min", "3 h 45 min", "4 h 15 min"], or write the first week in hours.`,
			diag.Related{Message: "the athlete", Range: b.Athlete.Range})
		return 0, diag.Origin{}, false
	}
	var sum units.Minutes
	for _, m := range recent {
		sum += m
	}
	mean := float64(sum) / float64(len(recent))
	first := floor5(mean * float64(a.Share))
	return first, diag.Origin{
		What:  fmt.Sprintf("%s of the mean of %d recent weeks, %s", a.Share, len(recent), units.Minutes(math.Round(mean))),
		Range: at, From: []diag.Origin{{What: "recent weeks", Range: b.Athlete.RecentRange}},
	}, true
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
func deliveredTotal(rec *record.Athlete, b *Block, w *Week, asOf units.Date) units.Minutes {
	if rec == nil || asOf.IsZero() || w.Start.Add(7) > asOf {
		return 0
	}
	for _, s := range rec.Sessions {
		if s.Block == b.Key && s.Date >= w.Start && s.Date < w.Start.Add(7) {
			return s.WeekAsked
		}
	}
	return 0
}

// floor5 rounds down to whole quanta of 5 min. A product that misses a quantum by less than a
// millionth of a minute has only lost it to binary fractions.
func floor5(minutes float64) units.Minutes {
	quantum := float64(physiology.Quantum.Value)
	return units.Minutes(math.Floor(minutes/quantum+1e-6)) * physiology.Quantum.Value
}
