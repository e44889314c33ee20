package plan

import (
	"fmt"
	"slices"

	"towpath/internal/diag"
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

// checkEvents wants to know whose day it is.
func (r *resolver) checkEvents() {
	if len(r.spec.Athletes) < 2 {
		return
	}
	for _, e := range r.spec.Events {
		if e.Athletes == nil && !e.Broken {
			r.add(diag.Error, "event-without-athlete", e.Header, fmt.Sprintf("Event %q does not say who takes part", e.Key),
				fmt.Sprintf("The plan has %d athletes; name them: athletes = [athlete.…].", len(r.spec.Athletes)))
		}
	}
}
