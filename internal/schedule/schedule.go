// Package schedule places a block's rides and minutes on days, exactly and deterministically. A
// plan.Block goes in with the record of what was delivered, a Schedule comes out, or the smallest
// conflict with repairs where a week cannot hold what was asked. It produces no target and holds
// no float.
package schedule

import (
	"towpath/internal/diag"
	"towpath/internal/plan"
	"towpath/internal/units"
)

// Schedule is a block with its sessions on dates.
type Schedule struct {
	Block *plan.Block
	Weeks []Week

	// What Explain needs to place a week again.
	chain      *chain
	problems   []*problem
	placements []*placement
}

// Week is a week with its sessions, by date.
type Week struct {
	*plan.Week
	Sessions []Session
	Mix      []Mix // one entry per ride of the week's mix, in the order written
	Placed   units.Minutes
	// Stated says what was not met though no constraint was broken: a mix more than 15 min off,
	// a total that was cut.
	Stated []string
}

// Mix compares what was wished of a ride with what was placed.
type Mix struct {
	Ride           *plan.Ride
	Wished, Placed units.Minutes
}

// Session is a session on a date.
type Session struct {
	Week    int // number
	Slot    int // tells sessions of one name in a week apart, from 1: part of the key, kept once delivered
	Date    units.Date
	Minutes units.Minutes
	Start   units.Clock // zero where the rider chooses
	Place   string
	Ride    *plan.Ride    // nil for tests and sessions outside the mix
	Session *plan.Session // what is ridden
	Given   *plan.Given   // nil for placed sessions
	Origin  diag.Origin   // why this date and these minutes
}

// Name is what the session is called in its key: the test day, the fixed ride, the ride of the mix, or
// the session.
func (s *Session) Name() string {
	switch {
	case s.Given != nil && s.Given.Fixed != "":
		return fixedName(s.Given)
	case s.Given != nil && s.Given.Test != nil:
		return s.Given.Test.Key
	case s.Ride != nil:
		return s.Ride.Key
	case s.Session != nil:
		return s.Session.Key
	}
	return ""
}
