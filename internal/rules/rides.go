package rules

import (
	"cmp"
	"fmt"
	"iter"
	"slices"

	"towpath/internal/diag"
	"towpath/internal/plan"
	"towpath/internal/prescription"
	"towpath/internal/schedule"
	"towpath/internal/units"
)

// ride is a session on its date, with the text that put it there.
type ride struct {
	*schedule.Session
	at   diag.Range
	name string
}

// rides lists all sessions of a block by date.
func rides(p *prescription.Prescription) []ride {
	var out []ride
	for i := range p.Schedule.Weeks {
		w := &p.Schedule.Weeks[i]
		for k := range w.Sessions {
			out = append(out, newRide(&w.Sessions[k]))
		}
	}
	slices.SortStableFunc(out, func(a, b ride) int {
		return cmp.Or(cmp.Compare(a.Date, b.Date), cmp.Compare(a.Start, b.Start))
	})
	return out
}

// ways yields each session as it can be ridden: at its place, and then at the day's other one.
func ways(p *prescription.Prescription) iter.Seq[*prescription.Session] {
	return func(yield func(*prescription.Session) bool) {
		for i := range p.Sessions {
			for s := &p.Sessions[i]; s != nil; s = s.Instead {
				if !yield(s) {
					return
				}
			}
		}
	}
}

// ridingDays is one ride for each date with riding, by date: a given one where there is one. The day
// of an event is one of them.
func ridingDays(p *prescription.Prescription) (out []ride) {
	all := rides(p)
	for _, e := range p.Block.Events {
		if w := p.Block.WeekOn(e.Date); w != nil {
			all = append(all, ride{Session: &schedule.Session{Week: w.Number, Date: e.Date}, at: e.Range, name: e.Title})
		}
	}
	slices.SortStableFunc(all, func(a, b ride) int { return cmp.Compare(a.Date, b.Date) })
	for _, r := range all {
		switch n := len(out); {
		case n == 0 || out[n-1].Date != r.Date:
			out = append(out, r)
		case out[n-1].Given == nil:
			out[n-1] = r
		}
	}
	return out
}

func newRide(s *schedule.Session) ride {
	r := ride{Session: s, name: "Ride"}
	if s.Session != nil {
		r.at, r.name = s.Session.Range, s.Session.Title
	}
	if s.Ride != nil {
		r.at = s.Ride.Range
	}
	if s.Given != nil {
		r.at = s.Given.Range
	}
	return r
}

// isTest reports whether the ride is a protocol.
func (r ride) isTest() bool { return r.protocol() != nil }

// protocol is the test that is ridden; nil for other rides.
func (r ride) protocol() *plan.Session {
	if s := r.Session.Session; s != nil && s.Protocol {
		return s
	}
	return nil
}

// String prints "Long ride on Saturday 2026-10-17 (week 6)".
func (r ride) String() string {
	return fmt.Sprintf("%s on %s (week %d)", r.name, onDay(r.Date), r.Week)
}

// weekTotals is the minutes of each week as placed.
func weekTotals(p *prescription.Prescription) []units.Minutes {
	out := make([]units.Minutes, len(p.Schedule.Weeks))
	for i, w := range p.Schedule.Weeks {
		out[i] = w.Placed
	}
	return out
}

// firstWeek is the index of the first week with riding: a block may begin with a week off. It is the
// number of weeks where there is none.
func firstWeek(totals []units.Minutes) int {
	i := slices.IndexFunc(totals, func(m units.Minutes) bool { return m > 0 })
	if i < 0 {
		return len(totals)
	}
	return i
}

// dayTotals is the minutes of each date of the block, from its start on.
func dayTotals(p *prescription.Prescription) []units.Minutes {
	out := make([]units.Minutes, 7*len(p.Schedule.Weeks))
	for _, r := range rides(p) {
		if n := r.Date.Sub(p.Block.Start); n >= 0 && n < len(out) {
			out[n] += r.Minutes
		}
	}
	return out
}
