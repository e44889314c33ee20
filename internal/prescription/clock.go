package prescription

import (
	"fmt"
	"time"

	"towpath/internal/diag"
	"towpath/internal/plan"
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
		begins, ok := s.Date.At(s.Start, loc)
		if !ok {
			out.Add(clockFault(s, "begins", s.Date, s.Start, athlete))
			continue
		}
		ends := begins.Add(time.Duration(s.Minutes) * time.Minute).In(loc)
		date, at := units.DateOf(ends), units.NewClock(ends.Hour(), ends.Minute())
		if _, ok := date.At(at, loc); !ok {
			out.Add(clockFault(s, "ends", date, at, athlete))
		}
	}
	return out
}

func clockFault(s Session, what string, date units.Date, at units.Clock, athlete string) diag.Diagnostic {
	d := diag.Diagnostic{
		Code: "clock-change", Severity: diag.Error, Subject: s.Origin.Range,
		Summary: fmt.Sprintf("The %s of %s %s at %s, when the clocks of %s change", s.Name, s.Date, what, at, s.Zone),
		Detail:  fmt.Sprintf("That time does not exist or comes twice on %s. ", date),
	}
	if s.Given && s.Fixed != plan.WayToWork {
		d.Detail += `Give it another hour, for example at = "10:00".`
	} else {
		d.Detail += fmt.Sprintf(`Give the date an hour of its own, for example on = { %q = "%s, 10:00" } in athlete %q.`, s.Date, s.Minutes, athlete)
	}
	return d
}
