package spec

import (
	"time"

	"github.com/hashicorp/hcl/v2"

	"towpath/internal/units"
)

// Block is a training block.
type Block struct {
	Label
	Title        Value[string]
	Aim          Value[string]
	Note         Value[string]
	Athletes     []Value[Ref]
	Start        Value[units.Date]
	Weeks        Value[int] // the longest, where a range is written
	Shortest     Value[int] // weeks = "8-12": 8; not set without a range
	Decide       Value[int] // the week in which the length is decided
	Squads       []Value[Ref]
	ForAthletes  []*ForAthlete
	Fixed        []*Fixed
	RidesPerWeek Value[units.Range[int]]
	Volume       *Volume
	Recovery     *Recovery
	Rides        []*Ride
	TestDays     []*TestDay
	WeekNotes    []*Week
	Limits       *Limits
	Waivers      []*Waiver
}

// ForAthlete is what differs in a block for some of its athletes.
type ForAthlete struct {
	Range    hcl.Range // header
	Athletes []Value[Ref]
	FromWeek Value[int]      // they join in this week
	Without  []Value[string] // rides of the mix and fixed rides that they leave out
	// Block holds what they have of their own: only what was written is set. Its Label is that of
	// the block; Start moves the block whole.
	Block *Block
}

// Volume says how many hours there are and how they grow.
type Volume struct {
	Range     hcl.Range
	First     Value[Amount]
	Growth    Value[Amount] // minutes, or a share
	AtMost    Value[units.Duration]
	WhenShort Value[string]      // "stop" (default), "take what fits"
	Tolerance Value[units.Share] // how much of a week may be cut where its days hold less
}

// Amount is a duration, a share, or a share of the recent weeks' mean ("100 % of recent").
type Amount struct {
	Duration units.Duration
	Share    units.Share
	IsShare  bool
	OfRecent bool
}

// Recovery says which weeks are lighter.
type Recovery struct {
	Range hcl.Range
	Weeks Value[[]int]
	Every Value[int]
	Keep  Value[units.Share]
	Rides []*Ride // replace the mix in recovery weeks
	// Without are the rides of the mix that recovery weeks leave out, by their labels.
	Without []Value[string]
}

// Ride is one kind of ride in the mix.
type Ride struct {
	Label
	Session Value[Ref]
	PerWeek Value[units.Range[int]]
	Share   Value[units.Share]
	Rest    bool // share = "rest"
	Minutes Value[units.Duration]
	AtLeast Value[units.Duration]
	AtMost  Value[units.Duration]
	Days    []Value[time.Weekday]
	Weeks   Value[[]int]
	// Athletes are who has this ride in the mix; nil: all.
	Athletes []Value[Ref]
}

// TestDay puts a protocol on a day.
type TestDay struct {
	Label
	Protocol Value[Ref]
	Weeks    Value[[]int] // week = 8, or weeks = "1-7"
	Day      Value[time.Weekday]
	At       Value[units.Clock]
	Place    Value[string]
	Meter    Value[Ref]
}

// Week is a week in the coach's own hand.
type Week struct {
	Label  // Key is the number as text
	Number Value[int]
	Hours  Value[units.Duration]
	Note   Value[string]
	Pins   []Pin
}

// Pin fixes a ride or a session to a day: saturday = { ride = "long", minutes = "2 h 30 min" }.
type Pin struct {
	Day     time.Weekday
	Range   hcl.Range
	Ride    Value[string] // name of a ride of the mix
	Session Value[Ref]    // or a session outside the mix
	Minutes Value[units.Duration]
	At      Value[units.Clock]
	Note    Value[string]
}

// Limits are the coach's own; a limit that is written is kept, or it is an error.
type Limits struct {
	Range            hcl.Range
	WeeklyGrowth     Value[units.Share]
	StartVolume      Value[units.Duration]
	SessionSpike     Value[Amount]
	LongShare        Value[units.Share]
	BigWeekend       Value[Amount]
	LongDaysApart    Value[bool]
	RestDays         Value[int]
	RidingDaysInARow Value[int]
	LoadingWeeks     Value[int]
	RecoveryDepth    Value[units.Range[units.Share]]
	TwoDays          Value[units.Share]
	WhenBroken       Value[string] // "stop" (default): an error; "warn": a warning
}

// Waiver accepts a finding: waive "session-spike" { weeks = "6-7"  reason = "..." }.
type Waiver struct {
	Label  // Key is the rule's code
	Weeks  Value[[]int]
	Reason Value[string]
}
