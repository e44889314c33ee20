package schedule

import (
	"fmt"

	"towpath/internal/diag"
	"towpath/internal/plan"
	"towpath/internal/units"
)

// why tells in short why a session stands on its date and has its minutes: the strongest reason
// that the terms know of, without a search of its own.
func (pl *placer) why(w *plan.Week, p *problem, got *placement, i int) diag.Origin {
	k, d := got.pattern[i], &p.days[i]
	r, weekday := w.Rides[k], w.Start.Add(i).Weekday()
	o := diag.Origin{Range: r.Range}
	var reason string
	switch {
	case d.recorded == k && d.held:
		reason = "already in the rider's hand"
	case d.recorded == k:
		reason = "as delivered"
	case len(r.Days) > 1 && p.rides[k].rank[i] == 0:
		reason = fmt.Sprintf("first of the days of %q", r.Key)
	case len(r.Days) == 1:
		reason = fmt.Sprintf("the day of %q", r.Key)
	case p.hasBase && d.base == k:
		reason = "as in the block's ordinary week"
	case len(r.Days) > 1:
		reason = fmt.Sprintf("choice %d among the days of %q: the better ones could not hold it, or the mix would have missed more", p.rides[k].rank[i]+1, r.Key)
	default:
		reason = "the day that fits the mix and the other days best"
	}
	total := units.Minutes(got.mix[k])
	o.What = fmt.Sprintf("%s: %s; %s of the week's %s are %q, %s wished",
		weekday, reason, total, units.Minutes(p.total), r.Key, units.Minutes(p.rides[k].wished))
	beside := ""
	if d.used > 0 {
		beside = fmt.Sprintf(" beside the %s that are given", units.Minutes(d.used))
	}
	if m := got.minutes[i]; m == d.room && m > 0 && got.minutes[i] == got.chosen[i].high {
		o.From = append(o.From, diag.Origin{
			What:  fmt.Sprintf("%s is all that %s can hold%s", units.Minutes(m), weekday, beside),
			Range: pl.block.Athlete.DayOn(w.Start.Add(i)).Range,
		})
	} else if m == got.chosen[i].low && m == p.rides[k].atLeast {
		o.From = append(o.From, diag.Origin{What: fmt.Sprintf("at least %s for one ride", units.Minutes(m)), Range: r.AtLeastRange})
	}
	o.From = append(o.From, w.Origin)
	return o
}
