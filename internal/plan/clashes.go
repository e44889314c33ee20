package plan

import (
	"fmt"
	"slices"

	"towpath/internal/diag"
	"towpath/internal/units"
)

// checkGiven looks at the dates for which several sessions are given: a test has its date to
// itself, and rides follow each other within what a window of the day can hold. Told are the places
// of which that was said for a week before.
func (r *resolver) checkGiven(w *Week, a *Athlete, told map[diag.Range]bool) {
	for d := w.Start; d < w.Start.Add(daysInWeek); d++ {
		var on []*Given
		for _, g := range w.Given { // by hour
			if g.Date == d {
				on = append(on, g)
			}
		}
		if len(on) < 2 {
			continue
		}
		found := tooMany(on)
		if found == nil {
			found = besideATest(on)
		}
		if found == nil {
			found = tooMuch(w, a.DayOn(d), on)
		}
		if found == nil {
			found = atOnce(on)
		}
		for _, d := range found {
			if !told[d.Subject] {
				told[d.Subject] = true
				r.diags.Add(d)
			}
		}
	}
}

func clash(code string, at diag.Range, summary, detail string, related ...diag.Related) diag.Diagnostic {
	return diag.Diagnostic{Code: code, Severity: diag.Error, Subject: at, Summary: summary, Detail: detail, Related: related}
}

// mostOnADate bounds what is given for one date: the way to work and back, a ride at noon and a group
// ride are four.
const mostOnADate = 6

func tooMany(on []*Given) diag.List {
	if len(on) <= mostOnADate {
		return nil
	}
	x := on[mostOnADate]
	return diag.List{clash("day-taken", x.Range, fmt.Sprintf("%d rides are given for %s %s", len(on), x.Date.Weekday(), x.Date),
		fmt.Sprintf("A date has at most %d. Take some of them out, or move them to other days.", mostOnADate), diag.Related{Message: "one of the others", Range: on[0].Range})}
}

func besideATest(on []*Given) diag.List {
	i := slices.IndexFunc(on, func(g *Given) bool { return g.Test != nil })
	if i < 0 {
		return nil
	}
	x, y := on[0], on[max(i, 1)]
	return diag.List{clash("day-taken", y.Range, fmt.Sprintf("Two sessions are given for %s %s", x.Date.Weekday(), x.Date),
		fmt.Sprintf("%s and %s cannot share a day: a test has its day to itself. Move one of them.", x.name(), y.name()),
		diag.Related{Message: "the other one", Range: x.Range})}
}

// tooMuch finds rides that only together are more than their window holds.
func tooMuch(w *Week, day Day, on []*Given) (found diag.List) {
	for _, window := range day.windows() {
		var sum, longest units.Minutes
		var names []string
		var related []diag.Related
		at := day.Range
		for _, g := range on {
			if g.Apart == (window != &day) {
				sum, longest = sum+g.Minutes, max(longest, g.Minutes)
				names = append(names, g.name())
				related, at = append(related, diag.Related{Message: "the other one", Range: g.Range}), g.Range
			}
		}
		if limit := window.most(); sum > limit && longest <= limit {
			related[len(related)-1] = diag.Related{Message: "what the day can hold", Range: day.Range}
			found.Add(clash("day-too-short", at, fmt.Sprintf("%s of week %d last %s together, but %s can hold %s", inWords(names), w.Number, sum, on[0].Date.Weekday(), limit),
				"Shorten one of them, move it, or give the day more time.", related...))
		}
	}
	return found
}

// atOnce finds rides that begin before another one is over.
func atOnce(on []*Given) (found diag.List) {
	var last *Given
	for _, g := range on {
		if g.Start.IsZero() {
			continue
		}
		if last != nil && last.Start.Minute()+int(last.Minutes) > g.Start.Minute() {
			found.Add(clash("day-taken", g.Range, fmt.Sprintf("%s begins at %s on %s, when %s, begun at %s, is not over", g.name(), g.Start, g.Date, last.name(), last.Start),
				"Give each an hour of its own: at = \"…\".", diag.Related{Message: "the other one", Range: last.Range}))
			continue // the one that lasts longer stays the one to look at
		}
		last = g
	}
	return found
}

// name is what a message calls it.
func (g *Given) name() string {
	if g.Fixed == "" || g.Fixed == WayToWork {
		return g.Session.Title
	}
	return fmt.Sprintf("%s (fixed %q)", g.Session.Title, g.Fixed)
}
