// Package plan resolves a specification into training blocks, one per athlete and block:
// references bound, defaults filled in, weeks' totals computed, tests analysed, bands and limits
// in force on each date. A Spec goes in (with the record of what was delivered), a Plan comes
// out. It never chooses a date for a session.
package plan

import (
	"time"

	"towpath/internal/diag"
	"towpath/internal/threshold"
	"towpath/internal/units"
)

// Plan is all that a specification prescribes.
type Plan struct {
	ID     string
	Blocks []*Block // by athlete, then start, then key
	// Parts are what was said of single athletes, each block by itself; diag.Among joins them.
	Parts []diag.Part
}

// Block is one training block of one athlete.
type Block struct {
	PlanID string
	Key    string
	Title  string
	Aim    string
	Note   string
	Range  diag.Range // the block's header in the text

	Athlete      *Athlete
	Start        units.Date // of the first of Weeks
	Weeks        []*Week
	Shortest     int              // weeks that are settled; those after are provisional. All of them without a range
	Decide       int              // the week in which the length is decided; 0 without a range
	Events       []*Event         // of the athlete, by date, from the block's start on
	Next         units.Date       // start of the athlete's next block; zero where this is the last
	RidesPerWeek units.Range[int] // zero where it was not written
	RidesRange   diag.Range
	TakeWhatFits bool        // volume.when_short
	Tolerance    units.Share // volume.tolerance: how much of a week may be cut
	totals       totals      // how the weeks were reckoned
	Bands        []*Band     // in force during the block, by From; see BandOn
	Limits       Limits
	Waivers      []*Waiver
	VolumeRange  diag.Range
	// Faulty is true where errors were reported: nothing should be placed.
	Faulty bool
	// FirstVolumeRange and GrowthRange point at the lines that made the weeks' totals.
	FirstVolumeRange diag.Range
	GrowthRange      diag.Range
}

// End is the last date of the block.
func (b *Block) End() units.Date { return b.Start.Add(7*len(b.Weeks) - 1) }

// DecidedBy is the last date of the week in which the block's length is decided; zero where the
// length is settled.
func (b *Block) DecidedBy() units.Date {
	if b.Decide == 0 {
		return 0
	}
	return b.Start.Add(7*(b.Decide-b.FirstWeek()+1) - 1)
}

// FirstWeek is the number of the first of Weeks: above 1 for an athlete who joins the block while
// it runs.
func (b *Block) FirstWeek() int { return b.Weeks[0].Number }

// LastWeek is the number of the last of Weeks.
func (b *Block) LastWeek() int { return b.Weeks[len(b.Weeks)-1].Number }

// WeekOn is the week that holds d, or nil.
func (b *Block) WeekOn(d units.Date) *Week {
	if n := d.Sub(b.Start); n >= 0 && n/7 < len(b.Weeks) {
		return b.Weeks[n/7]
	}
	return nil
}

// Week is the week of a number, or nil.
func (b *Block) Week(number int) *Week {
	for _, w := range b.Weeks {
		if w.Number == number {
			return w
		}
	}
	return nil
}

// WeekKind tells loading weeks from recovery weeks.
type WeekKind string

// The kinds of week.
const (
	Loading  WeekKind = "loading"
	Recovery WeekKind = "recovery"
)

// Week is one week of a block, seven dates from Start.
type Week struct {
	Number int // from 1
	Start  units.Date
	Kind   WeekKind
	// Light is a recovery week, or one that holds a maximal test: counts of rides are "at most".
	Light bool
	// Provisional weeks come after the shortest length that the block may have.
	Provisional bool
	Asked       units.Minutes // the week's total
	Origin      diag.Origin   // where Asked comes from
	Range       diag.Range    // the text that set Asked
	Note        string
	Rides       []*Ride  // the mix of this week, in the order written
	Given       []*Given // tests, pinned sessions and fixed rides, by date
	Paused      []Paused // fixed rides that are left out on their day, by date
}

// Ride is one kind of ride in the mix.
type Ride struct {
	Key     string
	Range   diag.Range
	Session *Session
	Share   units.Share   // of the week's minutes; meaningless where Rest or Minutes is set
	Rest    bool          // takes what the others leave
	Minutes units.Minutes // wished per week; 0 where Share or Rest rules
	// PerWeek bounds the count per week; {0, 7} where nothing was written.
	PerWeek units.Range[int]
	AtLeast units.Minutes // of one session, never under 30
	AtMost  units.Minutes
	Usual   units.Minutes
	Days    []time.Weekday // allowed, in order of preference; nil: any
	// Places of the text that set a bound, for conflicts; zero where it is a default.
	PerWeekRange, AtLeastRange, AtMostRange, DaysRange diag.Range
}

// Given is a session whose date is given: a test, a pinned session, or a fixed ride.
type Given struct {
	Date    units.Date
	Minutes units.Minutes
	Session *Session // for a test, the protocol as a session
	Ride    *Ride    // the ride of the mix that it counts for; nil outside the mix
	Test    *TestDay // nil unless a test
	// Fixed is the label of the fixed ride that it comes from, WayToWork for a window of the day that
	// is one; "" for tests and pins. A fixed ride leaves its date open for one placed session.
	Fixed string
	// Apart: it has a window of the day for itself, and takes no minutes of the one in which a
	// session can be placed. It leaves its date open as well.
	Apart bool
	Start units.Clock
	Place string
	Note  string
	Range diag.Range
	// Written is where the minutes of a pin stand, zero where the coach left them open.
	Written diag.Range
}

// WayToWork stands as the label of the fixed ride that a day's own window is.
const WayToWork = "commute"

// Paused is a fixed ride of each week, or the way to work, that is left out on one of its days.
type Paused struct {
	Date    units.Date
	Fixed   string // its label, or WayToWork
	Minutes units.Minutes
	Session *Session
	Why     string     // "no riding on this date"
	Range   diag.Range // the text that says so; the fixed ride's own where none does
}

// LeavesOpen reports whether a session can be placed on the same date.
func (g *Given) LeavesOpen() bool { return g.Test == nil && (g.Fixed != "" || g.Apart) }

// TestDay is a test_day of the block.
type TestDay struct {
	Key   string
	Range diag.Range
	Meter string
	// Like is the earlier test of the same protocol whose stages are repeated; nil where none.
	Like *threshold.StepTest
}

// Waiver accepts a finding of a rule.
type Waiver struct {
	Code   string
	Weeks  []int // nil: every week
	Reason string
	Range  diag.Range // header
}
