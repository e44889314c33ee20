// Package plan resolves a specification into training blocks, one per athlete and block:
// references bound, defaults filled in, weeks' totals computed, tests analysed, bands and limits
// in force on each date. A Spec goes in (with the record of what was delivered), a Plan comes
// out. It never chooses a date for a session.
package plan

import (
	"slices"
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

// Session is a kind of ride, or a test protocol.
type Session struct {
	Key        string
	Title      string
	Purpose    string
	Feel       string
	IfWrong    string
	Stop       string
	Range      diag.Range
	BuiltIn    bool
	Protocol   bool
	Maximal    bool // protocols: a maximal effort
	KeepsWatts bool // protocols: targets of the block's first band
	// Rating is what the coach expects the whole of it to be rated with, 6 to 20; 0 where nothing
	// was written.
	Rating  units.Effort
	AtLeast units.Minutes
	AtMost  units.Minutes
	Usual   units.Minutes
	Minutes units.Minutes // protocols: planned minutes
	// Demanding: a long ride, a group ride, or a step above two thirds of the band.
	// Light: no step above the first third.
	Demanding, Light bool
	Steps            []Step
}

// TargetKind tells how a step's power is written.
type TargetKind int

// The kinds of target.
const (
	Free        TargetKind = iota // no target
	Position                      // share of the way from floor to ceiling
	Below                         // from half of the threshold to the floor
	OfThreshold                   // share of the threshold
	Watts                         // protocols: given watts
	Over                          // an allowance of the band, by its name
	AllOut                        // protocols: as hard as the rider can
)

// Step is a piece of a session: a step, or a repeat.
type Step struct {
	Name     string
	Range    diag.Range
	Repeat   *Repeat
	Duration units.Duration
	Fill     bool // takes what the others leave
	Rising   bool // from low to high over the step
	Falling  bool
	Target   TargetKind
	Share    units.Range[units.Share] // Position, OfThreshold
	Power    units.Range[units.Power] // Watts
	Cadence  *units.Range[units.Cadence]
	Over     string // Over: the allowance's name
	Spare    bool
	Note     string
}

// Repeat is a group of steps ridden several times.
type Repeat struct {
	Times  int
	Fill   bool        // as many whole rounds as fit
	Rising units.Power // each round this much higher
	Steps  []Step
}

// Athlete is who rides, with defaults filled in.
type Athlete struct {
	Key, Name   string
	Range       diag.Range
	Born        int
	Sex         string // "female", "male" or ""
	Mass        units.Mass
	Zone        string // IANA name
	Background  string
	Recent      []units.Minutes // weeks before the block, oldest first
	RecentRange diag.Range
	RecentUntil units.Date    // last day of the last recent week
	Longest     units.Minutes // longest ride of the last 30 days; 0 unknown
	PowerMeter  bool
	Meters      *Meters // nil for one meter, and for two that nobody has compared
	HeartRate   HeartRate
	Screening   *Screening
	ByClinician bool
	Days        [7]Day             // Monday first
	Exceptions  map[units.Date]Day // of the block's dates
	// Rostered holds the dates of the block on which a roster rules in place of Days; nil without.
	Rostered map[units.Date]Day
	Travels  []Travel
	Other    []*Other
	Device   Device
	Calendar Calendar
}

// Travel is a time in another time zone, both dates included.
type Travel struct {
	From, To units.Date
	Zone     string // IANA name
	Range    diag.Range
}

// AwayOn is the journey that holds d, or nil.
func (a *Athlete) AwayOn(d units.Date) *Travel {
	for i, t := range a.Travels {
		if t.From <= d && d <= t.To {
			return &a.Travels[i]
		}
	}
	return nil
}

// ZoneOn is the time zone that the athlete is in on d.
func (a *Athlete) ZoneOn(d units.Date) string {
	if t := a.AwayOn(d); t != nil {
		return t.Zone
	}
	return a.Zone
}

// Other is sport that is not cycling, on its days. It counts in no total.
type Other struct {
	Key, Title string
	Days       []time.Weekday // each week; nil where Date is set
	Date       units.Date
	Minutes    units.Minutes // 0 unknown
	Start      units.Clock
	Demanding  bool // only light rides stand beside it, and it counts as a demanding neighbour
	Range      diag.Range
}

// On reports whether it falls on d.
func (o *Other) On(d units.Date) bool {
	return o.Date == d && !d.IsZero() || slices.Contains(o.Days, d.Weekday())
}

// Device says what the head unit takes; the zero value is what all of them take.
type Device struct {
	Leads       string // "power", "heart_rate", or "" for what leads the session
	Plain       bool   // ASCII only
	MostSteps   int    // 0: as many as most head units take
	NoHeartRate bool
	// MostStepsRange is where MostSteps was written.
	MostStepsRange diag.Range
}

// Calendar says how entries look.
type Calendar struct {
	AllDay   bool          // no hours
	Reminder units.Minutes // before a session; 0 none
}

// Event is a day that is trained for. Nothing is placed on it.
type Event struct {
	Key, Title string
	Date       units.Date
	Lasts      units.Minutes
	Range      diag.Range
}

// HeartRate holds resting and maximal heart rate; zero values are unknown.
type HeartRate struct {
	Resting, Maximum units.HeartRate
	Usable           bool // false where heart rate means nothing for this rider
	Range            diag.Range
}

// Screening is the statement that somebody licensed has looked at the rider.
type Screening struct {
	On, Until units.Date
	By        string
	Allows    string // "maximal", "submaximal", "easy riding only"
	Range     diag.Range
}

// Day is what a date can hold.
type Day struct {
	Limit   units.Minutes // 0 where closed
	Start   units.Clock
	Place   string
	Easy    bool
	OrLimit units.Minutes
	OrPlace string
	// Way is how long the way to work takes, where the window is that: nothing is placed in it, and
	// its Limit is 0.
	Way   units.Minutes
	Range diag.Range
	// Squad is the squad whose defaults the day comes from, "" where it is the athlete's own.
	Squad string
	Row   bool // an exception whose text holds for several days in a row
	// Second is the smaller window of a day that has two: for given sessions only. Nil without.
	Second *Day
	// secondFirst: Second comes before the other window, by hour or as they are written.
	secondFirst bool
}

// DayOn is what the athlete has on d.
func (a *Athlete) DayOn(d units.Date) Day {
	if day, ok := a.Exceptions[d]; ok {
		return day
	}
	return a.OrdinaryOn(d)
}

// OrdinaryOn is what the athlete has on d by roster or weekday, exceptions aside.
func (a *Athlete) OrdinaryOn(d units.Date) Day {
	if day, ok := a.Rostered[d]; ok {
		return day
	}
	return a.Days[(int(d.Weekday())+6)%7]
}

// Band is a low-intensity band in force from a date.
type Band struct {
	Key       string
	Range     diag.Range
	From      units.Date
	Power     units.Range[units.Power] // floor and ceiling, not rounded; zero where nothing gives watts
	Threshold units.Power              // band threshold; ceiling / 0.95 where unknown
	// ThresholdKnown is false where Threshold was only derived from the ceiling.
	ThresholdKnown bool
	ThresholdRange diag.Range
	Tests          []*TestReading      // what the band is derived from, in order of date; nil for a typed one
	Result         *threshold.Result   // reading of the newest step test; nil without one
	Estimate       *threshold.Estimate // of all tests together; nil for a typed band
	Line           *threshold.HeartRateLine
	Scale          units.Share                   // raised bands: watts are this times those of the test
	HeartRate      *units.Range[units.HeartRate] // at floor and ceiling; nil where unknown
	// HeartRateCap is the line at the band threshold, or the top of a typed range; nil unknown.
	HeartRateCap *units.HeartRate
	Effort       *units.Range[units.Effort] // at floor and ceiling; nil where unknown
	Leads        string                     // "power", "heart_rate", "effort"
	Caution      string                     // "usual", "strict"
	// TypedPower and TypedHeartRate are where the coach typed the range itself; zero where it is
	// derived or inherited.
	TypedPower, TypedHeartRate diag.Range
	TestDate                   units.Date // of the newest test behind it; zero for a typed one
	Meter                      string     // that of the newest test that names one; "" unknown
	Raises                     *Band
	By                         units.Share
	ByRange                    diag.Range
	Origin                     diag.Origin // of the ceiling, with the floor and the threshold beneath
	Place                      string      // "outdoor", "indoor"; "" wherever no other band holds
	Allowances                 []Allowance
	// LongRides is the coach's own share of the threshold for the upper watts of long rides; nil
	// where the usual ones hold.
	LongRides *Limit[units.Share]
}

// Allowance lets the rider above the band for a short time.
type Allowance struct {
	Name     string
	Duration units.Duration // at a time
	Power    units.Power    // at most; 0 where AllOut or where the band has no watts
	Share    units.Share    // of the ceiling; 0 where AllOut
	AllOut   bool
	Range    diag.Range
}

// HeartRateAt is the expected heart rate at p, from the line of the test; ok is false without one.
func (b *Band) HeartRateAt(p units.Power) (h units.HeartRate, ok bool) {
	if b.Line == nil {
		return 0, false
	}
	return b.Line.At(p / units.Power(b.Scale)), true
}

// EffortAt is the test's rating at p; ok is false outside the ratings.
func (b *Band) EffortAt(p units.Power) (e units.Effort, ok bool) {
	if b.Result == nil {
		return 0, false
	}
	return b.Result.EffortAt(p / units.Power(b.Scale))
}

// Limit is a limit of the rule book as it holds here: the coach's where written, else the
// default. A limit that the coach wrote is kept, or it is an error; a warning with WarnOnly.
type Limit[T any] struct {
	Value    T
	Written  bool
	WarnOnly bool       // limits.when_broken = "warn"
	Range    diag.Range // where it was written
}

// Limits are the limits in force.
type Limits struct {
	WeeklyGrowth     Limit[units.Share]
	StartVolume      Limit[units.Minutes] // 0 where not written: the default depends on the athlete
	SessionSpike     Limit[Increase]
	LongShare        Limit[units.Share]
	BigWeekend       Limit[Increase]
	LongDaysApart    Limit[bool]
	RestDays         Limit[int]
	RidingDaysInARow Limit[int]
	LoadingWeeks     Limit[int]
	RecoveryDepth    Limit[units.Range[units.Share]]
	TwoDays          Limit[units.Share] // off where not written
}

// Increase is a rise by a share or by minutes, whichever is set.
type Increase struct {
	Share   units.Share
	Minutes units.Minutes
}

// Waiver accepts a finding of a rule.
type Waiver struct {
	Code   string
	Weeks  []int // nil: every week
	Reason string
	Range  diag.Range // header
}
