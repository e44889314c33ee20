package plan

import (
	"cmp"
	"slices"

	"towpath/internal/diag"
	"towpath/internal/units"
)

// Event is a day that is trained for. Nothing is placed on it.
type Event struct {
	Key, Title string
	Date       units.Date
	Lasts      units.Minutes
	Range      diag.Range
}

// eventsOf are an athlete's events from a date on, by date.
func (r *resolver) eventsOf(a *Athlete, start units.Date) (out []*Event) {
	for _, e := range r.spec.Events {
		if e.Date.V < start || !names(e.Athletes, a.Key) && (e.Athletes != nil || len(r.spec.Athletes) > 1) {
			continue
		}
		out = append(out, &Event{Key: e.Key, Title: e.Title.Or(e.Key), Date: e.Date.V, Lasts: e.Lasts.V.Minutes(), Range: e.Header})
	}
	slices.SortStableFunc(out, func(x, y *Event) int { return cmp.Compare(x.Date, y.Date) })
	return out
}
