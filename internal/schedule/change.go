package schedule

import (
	"time"

	"towpath/internal/plan"
	"towpath/internal/units"
)

// change is what is being tried: one value of a week, changed, or a ride forbidden on a date.
type change struct {
	group   groups
	ride    *plan.Ride
	given   *plan.Given
	date    units.Date
	weekday time.Weekday
	value   int
	dropped bool // the given session is left out
}

// with is the placer that tries a change.
func (pl *placer) with(c *change) *placer {
	out := *pl
	out.change = c
	return &out
}

// changed is the value that a repair gives a group, for a ride where the group has one per ride; 0
// where no repair of it is tried.
func (pl *placer) changed(g groups, r *plan.Ride) int {
	if c := pl.change; c != nil && c.group == g && c.ride == r {
		return c.value
	}
	return 0
}

// opens tells whether a weekday is added to a ride's days.
func (c *change) opens(r *plan.Ride, d time.Weekday) bool {
	return c != nil && c.group == groupDays && c.ride == r && c.weekday == d
}

// opensDate tells whether a date's limit is changed.
func (c *change) opensDate(d units.Date, away bool) bool {
	return c != nil && c.date == d && (c.group == groupLimits && !away || c.group == groupAway && away)
}

// unburdens tells whether a date is no longer for light rides only.
func (c *change) unburdens(d units.Date) bool {
	return c != nil && c.group == groupEasy && c.date == d
}

// drops tells whether a given session is left out.
func (c *change) drops(g *plan.Given) bool { return c != nil && c.given == g && c.dropped }

// forbids tells whether a ride may not stand on a date.
func (c *change) forbids(r *plan.Ride, d units.Date) bool {
	return c != nil && c.group == groupForbidden && c.ride == r && c.date == d
}
