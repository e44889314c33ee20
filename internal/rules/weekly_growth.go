package rules

import (
	"fmt"

	"towpath/internal/diag"
	"towpath/internal/physiology"
	"towpath/internal/plan"
	"towpath/internal/prescription"
	"towpath/internal/units"
)

var weeklyGrowth = Rule{
	Code:  "weekly-growth",
	Title: "A week holds much more than the weeks before it",
	Why: "Hours are the first thing that grows in a low-intensity block. Small steps leave time to see how a rider takes them. " +
		"A week is compared with the largest of the four before it, whether ridden before the block or planned in it: " +
		"a recovery week is never the measure, and coming back from one is no leap. The first week has a rule of its own, start-volume.",
	Mend:       "Let the hours grow by less, or write the week's hours out: week \"5\" { hours = \"6 h\" }.",
	Default:    fmt.Sprintf("Advice above %s, warning above %s; %s more are always allowed.", physiology.WeeklyGrowthAdvice.Value, physiology.WeeklyGrowthWarning.Value, physiology.WeeklyGrowthLeast.Value),
	Limit:      "weekly_growth",
	Evidence:   "10 % is common practice, no source. A trial found as many complaints in novice runners whose plan kept to 10 % a week as in those with a shorter, steeper one. For 30 % the evidence is weak: a cohort of novice runners, growth over two weeks, and a difference for some complaints alone that chance could explain. No study of cyclists was found.",
	Sources:    []string{"nielsen2014", "buist2008"},
	Population: "novice runners",
	basis:      "Common practice; a trial in novice runners found no gain from 10 %",
	check:      checkWeeklyGrowth,
}

func checkWeeklyGrowth(p *prescription.Prescription) (out []finding) {
	totals := weekTotals(p)
	for i := firstWeek(totals) + 1; i < len(totals); i++ {
		if ref, of := largestBefore(p.Block, totals, i); ref > 0 {
			if f, ok := grown(p.Block, p.Schedule.Weeks[i].Week, totals[i], ref, of); ok {
				out = append(out, f)
			}
		}
	}
	return out
}

// largestBefore is the largest of the last weeks before week i (from 0), and which it was: of the
// block, or of those that the athlete rode before. Of equal weeks it is the latest.
func largestBefore(b *plan.Block, totals []units.Minutes, i int) (most units.Minutes, of string) {
	reach := physiology.RecentWeeks.Value
	for j := i - 1; j >= max(0, i-reach); j-- {
		if totals[j] > most {
			most, of = totals[j], fmt.Sprintf("week %d", b.Weeks[j].Number)
		}
	}
	earliest := b.Start.Add(7 * (i - reach))
	recent := b.Athlete.Recent
	for k := range recent {
		start := recentEnd(b).Add(-7*k - 6)
		if m := recent[len(recent)-1-k]; start >= earliest && m > most {
			most, of = m, fmt.Sprintf("the week from %s", start)
		}
	}
	return most, of
}

// recentEnd is the last day of the last week that was ridden before the block.
func recentEnd(b *plan.Block) units.Date {
	if b.Athlete.RecentUntil.IsZero() {
		return b.Start.Add(-1)
	}
	return b.Athlete.RecentUntil
}

// grown judges one week against the largest before it.
func grown(b *plan.Block, w *plan.Week, total, ref units.Minutes, of string) (finding, bool) {
	limit := b.Limits.WeeklyGrowth
	most := float64(ref) * (1 + float64(limit.Value))
	if !limit.Written {
		most = max(most, float64(ref+physiology.WeeklyGrowthLeast.Value))
	}
	if !above(total, most) {
		return finding{}, false
	}
	warning := max(float64(ref)*(1+float64(physiology.WeeklyGrowthWarning.Value)), float64(ref+physiology.WeeklyGrowthLeast.Value))
	judged, basis, source := limit.Value, "", ""
	if !limit.Written && above(total, warning) {
		judged, source = physiology.WeeklyGrowthWarning.Value, physiology.WeeklyGrowthWarning.Source
		basis = fmt.Sprintf("Above %s weak evidence, from novice runners", judged)
	}
	more := percent(units.Share(total)/units.Share(ref)-1, judged)
	usual := fmt.Sprintf("up to %s more", limit.Value)
	if !limit.Written {
		usual = fmt.Sprintf("up to %s or %s more", limit.Value, physiology.WeeklyGrowthLeast.Value)
	}
	return finding{
		weeks: []int{w.Number}, severity: level(limit, above(total, warning)), own: limit.Written, subject: w.Range,
		summary: fmt.Sprintf("Week %d grows by %s over %s", w.Number, more, of),
		brief:   fmt.Sprintf("week %d: %s to %s, %s", w.Number, ref, total, more),
		detail:  fmt.Sprintf("%s to %s; %s. At most %s keeps it", ref, total, allowed(limit, "weekly_growth", usual), floor5(most)),
		related: theLimit(limit), fix: smallerGrowth(b, w, ref, floor5(most)),
		basis: basis, source: source,
	}, true
}

// smallerGrowth mends the line that made the week: the block's growth, or the week's own hours.
func smallerGrowth(b *plan.Block, w *plan.Week, ref, most units.Minutes) *diag.Fix {
	limit, least := b.Limits.WeeklyGrowth, physiology.WeeklyGrowthLeast.Value
	switch w.Range {
	case b.VolumeRange, b.FirstVolumeRange, b.Range:
		return nil
	case b.GrowthRange:
		if !limit.Written && above(ref+least, float64(ref)*(1+float64(limit.Value))) {
			return write(w.Range, least.String())
		}
		return write(w.Range, limit.Value.String())
	}
	if w.Kind == plan.Recovery {
		return nil
	}
	return write(w.Range, most.String())
}
