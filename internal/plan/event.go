package plan

import (
	"slices"

	"towpath/internal/units"
)

// eventsOf are an athlete's events from a date on, by date.
func (r *resolver) eventsOf(a *Athlete, start units.Date) (out []*Event) {
	for _, e := range r.spec.Events {
		if e.Date.V < start || !names(e.Athletes, a.Key) && (e.Athletes != nil || len(r.spec.Athletes) > 1) {
			continue
		}
		out = append(out, &Event{Key: e.Key, Title: e.Title.Or(e.Key), Date: e.Date.V, Lasts: e.Lasts.V.Minutes(), Range: e.Header})
	}
	slices.SortStableFunc(out, func(x, y *Event) int { return int(x.Date - y.Date) })
	return out
}
