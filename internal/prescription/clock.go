package prescription

import (
	"fmt"

	"towpath/internal/diag"
	"towpath/internal/units"
	"towpath/internal/zone"
)

// clockFaults refuses sessions that begin or end at a time which a change of the clocks leaves
// out or shows twice: calendars do not agree on what such a time means.
func clockFaults(sessions []Session, athlete string) diag.List {
	var out diag.List
	for _, s := range sessions {
		if s.Start.IsZero() || s.Zone == "" {
			continue
		}
		loc, err := zone.Load(s.Zone)
		if err != nil {
			continue // the plan's stage has said so
		}
		end, date := s.Start.Minute()+int(s.Minutes), s.Date
		for ; end >= minutesPerDay; end -= minutesPerDay {
			date = date.Add(1)
		}
		for _, at := range []struct {
			what string
			date units.Date
			time units.Clock
		}{{"begins", s.Date, s.Start}, {"ends", date, units.NewClock(0, end)}} {
			if _, ok := at.date.At(at.time, loc); !ok {
				out.Add(diag.Diagnostic{
					Code: "clock-change", Severity: diag.Error, Subject: s.Origin.Range,
					Summary: fmt.Sprintf("The %s of %s %s at %s, when the clocks of %s change", s.Name, s.Date, at.what, at.time, s.Zone),
					Detail: fmt.Sprintf("That time does not exist or comes twice on %s. Give the date an hour of its own, for example on = { %q = \"%s, 10:00\" } in athlete %q.",
						at.date, s.Date, s.Minutes, athlete),
				})
				break
			}
		}
	}
	return out
}

const minutesPerDay = 24 * 60
