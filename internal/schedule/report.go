package schedule

import (
	"fmt"
	"slices"
	"strings"

	"towpath/internal/diag"
	"towpath/internal/physiology"
	"towpath/internal/plan"
	"towpath/internal/units"
)

// shownRepairs is how many repairs a message tells in full.
const shownRepairs = 3

// report makes one diagnostic for each cause: weeks that fail for the same lines are told in one.
func (pl *placer) report(found []*conflict) (out diag.List) {
	type told struct{ lines, related string }
	var seen []told
	also := map[int][]string{}
	for _, c := range found {
		d := pl.diagnostic(c)
		key := told{pl.names(c), fmt.Sprint(d.Related)}
		if i := slices.Index(seen, key); i >= 0 {
			also[i] = append(also[i], fmt.Sprintf("week %d (%s)", c.week.Number, c.week.Asked))
			continue
		}
		seen = append(seen, key)
		out = append(out, d)
	}
	for i, weeks := range also {
		out[i].Detail += fmt.Sprintf(" The same lines stop %s.", list(weeks, "and"))
	}
	return out
}

func (pl *placer) diagnostic(c *conflict) diag.Diagnostic {
	w := c.week
	d := diag.Diagnostic{Code: "week-does-not-fit", Severity: diag.Error, Subject: w.Range, Weeks: []int{w.Number}, Block: pl.block.Key}
	if d.Subject == (diag.Range{}) {
		d.Subject = pl.block.Range
	}
	names := pl.names(c)
	switch {
	case c.groups&groupTotal == 0:
		d.Summary = fmt.Sprintf("Week %d cannot be placed: %s leave no room for it", w.Number, names)
	case c.allowed < 0:
		d.Summary = fmt.Sprintf("Week %d cannot hold %s: %s leave no room", w.Number, w.Asked, names)
	case c.allowed < int(w.Asked):
		d.Summary = fmt.Sprintf("Week %d cannot hold %s: %s allow %s", w.Number, w.Asked, names, units.Minutes(c.allowed))
	default:
		d.Summary = fmt.Sprintf("Week %d has only %s: %s need %s", w.Number, w.Asked, names, units.Minutes(c.allowed))
	}
	if c.groups&groupTotal != 0 && c.nearest >= 0 && c.nearest != c.allowed {
		d.Summary += fmt.Sprintf(", all lines together %s", units.Minutes(c.nearest))
	}
	if least := pl.least(w); c.groups&groupTotal != 0 && least < int(w.Asked) {
		d.Detail = fmt.Sprintf("The tolerance of %s reaches down to %s. ", pl.block.Tolerance, units.Minutes(up(least)))
	}
	if c.easy && c.groups&groupEasy == 0 {
		d.Detail += "More would fit if the easy days held other rides than light ones; a light one is session.recovery_spin. "
	}
	d.Detail += pl.daysMissing(c) + repairsText(c.repairs)
	if i := slices.IndexFunc(c.repairs, func(r repair) bool { return r.edits != nil }); i >= 0 {
		r := c.repairs[i]
		d.Fix = &diag.Fix{Title: strings.ToUpper(r.what[:1]) + r.what[1:] + r.day, Edits: r.edits}
	}
	d.Related = pl.lines(c)
	return d
}

// daysMissing tells where it is not that the days are short, but that there are none: a roster that
// ends too soon, or a rider of whom no day was written. Else it is "".
func (pl *placer) daysMissing(c *conflict) string {
	athlete, end := pl.block.Athlete, c.week.Start.Add(daysInWeek-1)
	for d := c.week.Start; d <= end; d++ {
		if _, away := pl.dayOn(d); away || c.groups&groupLimits == 0 {
			return ""
		}
	}
	without := c.week.Start // the first date of those of which nothing is written
	for d := range athlete.Rostered {
		without = max(without, d.Add(1))
	}
	for d := without; d <= end; d++ {
		if on := athlete.DayOn(d); limitOf(on) > 0 || on.Way > 0 {
			return ""
		}
	}
	switch {
	case without > end:
		return ""
	case len(athlete.Rostered) > 0:
		return fmt.Sprintf("The roster says nothing from %s on: add what comes next, or write days { … } for the dates that it leaves out. ", without)
	}
	return `No day of the week can hold a ride that is placed: write in the athlete days { tuesday = "75 min, 18:30" … }. `
}

// names lists what stands in a conflict, the total aside.
func (pl *placer) names(c *conflict) string {
	var words []string
	for _, n := range []struct {
		group groups
		word  string
	}{
		{groupLimits, "the days"},
		{groupAway, pl.awayWords(c.week)},
		{groupGiven, "the given sessions"},
		{groupAtLeast, "the rides' shortest lengths"},
		{groupAtMost, "the rides' longest lengths"},
		{groupPerWeek, "the rides' numbers per week"},
		{groupDays, "the rides' days"},
		{groupRiding, "rides_per_week"},
		{groupLong, "long_days_apart"},
		{groupEasy, "the easy days"},
		{groupTests, pl.quietWords(c.week)},
		{groupRest, "rest_days"},
		{groupRun, "riding_days_in_a_row"},
	} {
		if c.groups&n.group != 0 {
			words = append(words, n.word)
		}
	}
	if words == nil {
		return "its lines"
	}
	return list(words, "and")
}

// awayWords says what closes dates of a week: days away, an event, or both.
func (pl *placer) awayWords(w *plan.Week) string {
	var words []string
	for i := range daysInWeek {
		if _, away := pl.dayOn(w.Start.Add(i)); away {
			words = []string{"the days away"}
		}
	}
	for i := range daysInWeek {
		if pl.eventOn(w.Start.Add(i)) != nil {
			return list(append(words, "the event"), "and")
		}
	}
	return "the days away"
}

// quietWords says before what days of a week are kept quiet.
func (pl *placer) quietWords(w *plan.Week) string {
	for i := range daysInWeek {
		if pl.eventOn(w.Start.Add(i+1)) != nil {
			return "the quiet days before an event or a test"
		}
	}
	return "the quiet days before a test"
}

// repairsText tells the smallest repairs, those that differ only in the day together.
func repairsText(repairs []repair) string {
	type group struct {
		repair
		days []string
	}
	var groups []*group
	for _, r := range repairs {
		i := slices.IndexFunc(groups, func(g *group) bool {
			return r.day != "" && g.day != "" && g.group == r.group && g.what == r.what && g.after == r.after
		})
		if i >= 0 {
			groups[i].days = append(groups[i].days, r.day)
		} else {
			groups = append(groups, &group{r, []string{r.day}})
		}
	}
	if groups == nil {
		return "No single change mends it: change more than one of these lines."
	}
	var words []string
	for _, g := range groups[:min(shownRepairs, len(groups))] {
		words = append(words, g.what+list(g.days, "or")+g.after)
	}
	var text string
	if len(words) == 1 {
		text = fmt.Sprintf("This makes it fit: %s.", words[0])
	} else {
		text = fmt.Sprintf("Any one of these makes it fit: %s.", strings.Join(words, "; "))
	}
	if n := len(groups) - len(words); n == 1 {
		text += " One more change would do."
	} else if n > 1 {
		text += fmt.Sprintf(" %d more changes would do.", n)
	}
	for _, g := range groups[:len(words)] {
		if g.alone != "" {
			return text + " " + g.alone
		}
	}
	return text
}

// lines points at the coach's lines that take part in a conflict, once each: those of which there
// are many, the days, come last.
func (pl *placer) lines(c *conflict) (out []diag.Related) {
	add := func(at diag.Range, format string, args ...any) {
		if at.Filename == "" || slices.ContainsFunc(out, func(r diag.Related) bool { return r.Range == at }) {
			return
		}
		out = append(out, diag.Related{Message: fmt.Sprintf(format, args...), Range: at})
	}
	b, w, easy := pl.block, c.week, c.easy || c.groups&groupEasy != 0
	for _, g := range w.Given {
		if c.groups&groupGiven != 0 || c.groups&groupTests != 0 && g.Session != nil && g.Session.Protocol {
			add(g.Range, "%s is given on %s, %s", g.Session.Title, g.Date.Weekday(), g.Minutes)
		}
		if easy && g.LeavesOpen() && demanding(g.Session) {
			add(g.Range, "%s on %s is demanding: light rides only beside it", g.Session.Title, g.Date.Weekday())
		}
	}
	for _, e := range b.Events {
		if n := e.Date.Sub(w.Start); c.groups&groupAway != 0 && n >= 0 && n < daysInWeek || c.groups&groupTests != 0 && n > 0 && n <= daysInWeek {
			add(e.Range, "the event on %s %s", e.Date.Weekday(), e.Date)
		}
	}
	for i := range daysInWeek {
		date := w.Start.Add(i)
		for _, o := range b.Athlete.OtherOn(date) {
			if easy && o.Demanding {
				add(o.Range, "%s on %s is demanding: light rides only", o.Title, date.Weekday())
			}
		}
	}
	for _, r := range w.Rides {
		if c.groups&groupAtLeast != 0 {
			add(writtenOr(r.AtLeastRange, r.Range), "%q lasts at least %s%s", r.Key, r.AtLeast, bySession(r, r.AtLeast == r.Session.AtLeast))
		}
		if c.groups&groupAtMost != 0 {
			add(writtenOr(r.AtMostRange, r.Range), "%q lasts at most %s%s", r.Key, r.AtMost, bySession(r, r.AtMost == r.Session.AtMost))
		}
		if c.groups&groupPerWeek != 0 {
			add(r.PerWeekRange, "%q comes %s a week", r.Key, r.PerWeek)
		}
		if c.groups&groupDays != 0 {
			add(r.DaysRange, "the days of %q", r.Key)
		}
	}
	if c.groups&groupRiding != 0 {
		add(b.RidesRange, "rides on %s days", b.RidesPerWeek)
	}
	if c.groups&groupLong != 0 {
		add(b.Limits.LongDaysApart.Range, "days of %s and more are no neighbours", physiology.LongDay.Value)
	}
	if c.groups&groupRest != 0 {
		add(b.Limits.RestDays.Range, "rest days: %d", b.Limits.RestDays.Value)
	}
	if c.groups&groupRun != 0 {
		add(b.Limits.RidingDaysInARow.Range, "at most %d riding days in a row", b.Limits.RidingDaysInARow.Value)
	}
	for i := range daysInWeek {
		date := w.Start.Add(i)
		on, away := pl.dayOn(date)
		limit := limitOf(on)
		switch {
		case away && c.groups&groupAway != 0:
			add(on.Range, "no riding on %s %s", date.Weekday(), date)
		case limit > 0 && c.groups&groupLimits != 0:
			add(on.Range, "%s can hold %s", date.Weekday(), units.Minutes(limit))
		case on.Easy && easy:
			add(on.Range, "%s takes light rides only", date.Weekday())
		}
	}
	return out
}

// writtenOr is the place of a value, or where nobody wrote one that of what has it by default.
func writtenOr(at, otherwise diag.Range) diag.Range {
	if at.Filename == "" {
		return otherwise
	}
	return at
}

// bySession adds that a ride's length is bounded by its session.
func bySession(r *plan.Ride, bounds bool) string {
	if !bounds {
		return ""
	}
	return fmt.Sprintf(", as session %q does", r.Session.Key)
}

// list joins words with commas and a last word.
func list(words []string, last string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:len(words)-1], ", ") + " " + last + " " + words[len(words)-1]
}
