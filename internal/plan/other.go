package plan

import (
	"cmp"
	"fmt"
	"slices"

	"towpath/internal/diag"
	"towpath/internal/spec"
)

// travels are the journeys to other time zones, by date. Two at once, of which one may be the squad's,
// are refused: nobody can tell whose clock is meant.
func (r *resolver) travels(a *spec.Athlete) (out []Travel) {
	for _, t := range a.Travels {
		if t.From.Set && t.To.V >= t.From.V { // else spec has said what is wrong
			out = append(out, Travel{From: t.From.V, To: t.To.V, Zone: t.TimeZone.V, Range: t.Range})
		}
	}
	slices.SortStableFunc(out, func(x, y Travel) int { return cmp.Compare(x.From, y.From) })
	for i := range out {
		for _, before := range out[:i] {
			if before.To >= out[i].From {
				r.add(diag.Error, "travels-overlap", out[i].Range, fmt.Sprintf("Two journeys hold %s", out[i].From),
					fmt.Sprintf("The other journey lasts to %s, and both dates of a journey belong to it. Let it end on %s, or this one begin later.", before.To, out[i].From.Add(-1)),
					diag.Related{Message: "the other journey", Range: before.Range})
				break
			}
		}
	}
	return out
}

// otherSport is sport that is not cycling.
func otherSport(in []*spec.Other) (out []*Other) {
	for _, o := range in {
		out = append(out, &Other{
			Key: o.Key, Title: o.Title.Or(o.Key), Days: weekdays(o.Days), Date: o.Date.V,
			Minutes: o.Minutes.V.Minutes(), Start: o.At.V, Demanding: o.Demand.V == "demanding", Range: o.Header,
		})
	}
	return out
}

// deviceOf is what the head unit takes. The athlete's own words and those of the squad may only together
// leave workout files nothing to lead by.
func (r *resolver) deviceOf(d *spec.Device) (out Device) {
	if d == nil {
		return out
	}
	if d.Leads.V == "heart rate" && d.HeartRate.Set && !d.HeartRate.V {
		r.add(diag.Error, "device-without-target", d.HeartRate.Range, "Heart rate leads on the device, and its targets are left out of workout files",
			`Take one of the two out: leads = "heart rate", or heart_rate = false.`, diag.Related{Message: "what leads", Range: d.Leads.Range})
	}
	out = Device{
		Plain: d.Letters.V == "plain", MostSteps: d.MostSteps.V, NoHeartRate: d.HeartRate.Set && !d.HeartRate.V,
		MostStepsRange: place(d.MostSteps, d.Range),
	}
	switch d.Leads.V {
	case "power":
		out.Leads = "power"
	case "heart rate":
		out.Leads = "heart_rate"
	}
	return out
}

func calendarOf(c *spec.Calendar) (out Calendar) {
	if c == nil {
		return out
	}
	return Calendar{AllDay: c.Hours.Set && !c.Hours.V, Reminder: c.Reminder.V.Minutes()}
}
