// Package spec turns syntax trees into a typed specification: every value with its unit and with
// its range in the text. Trees go in (from source and syntax), a Spec comes out, and one
// diagnostic for each cause. It knows the language's blocks and names, evaluates expressions and
// binds references to the blocks they name; it applies no default that needs two blocks, computes
// nothing, and reads no clock.
package spec

import (
	"time"

	"github.com/hashicorp/hcl/v2"

	"towpath/internal/units"
)

// Value is something the coach wrote, with its place. Set is false where it was left out; then V
// is the zero value and Range is the header of the block that could hold it.
type Value[T any] struct {
	V     T
	Range hcl.Range
	Set   bool
}

// Or gives the value, or def where it was left out.
func (v Value[T]) Or(def T) T {
	if v.Set {
		return v.V
	}
	return def
}

// Label is a block's name: `athlete "signe"` has Key "signe".
type Label struct {
	Key    string
	Range  hcl.Range // the label
	Header hcl.Range // the block's type and labels
	// BuiltIn is true for definitions of the library that comes with the tool.
	BuiltIn bool
	// Replaces is the built-in definition of the same name that this one replaces; zero where
	// there is none.
	Replaces hcl.Range
	// Broken is true where something in the block was reported as an error: values that seem to
	// be missing may be the ones that could not be read.
	Broken bool
}

// Ref names another block: `session.steady` is {"session", "steady"}.
type Ref struct{ Kind, Key string }

// Spec is a whole plan as written, library and includes in one, in the order of the text: files by
// name, then position.
type Spec struct {
	ID       Value[string]
	Language Value[int]

	Athletes  []*Athlete
	Squads    []*Squad
	Events    []*Event
	Meters    []*Meter
	Tests     []*Test
	Bands     []*Band
	Protocols []*Session // protocol blocks; Session.Protocol is true
	Sessions  []*Session
	Blocks    []*Block

	// Broken is true where a part of the text could not be read: what seems to be missing may
	// stand there, so later stages do not complain of its absence.
	Broken bool
}

// Athlete is who rides.
type Athlete struct {
	Label
	Name          Value[string]
	Born          Value[int]
	Sex           Value[string] // "female", "male"
	Mass          Value[units.Mass]
	TimeZone      Value[string] // IANA name
	Background    Value[string] // "new", "returning", "regular", "trained"
	Recent        []Value[units.Duration]
	RecentSet     bool
	RecentRange   hcl.Range
	RecentUntil   Value[units.Date]
	Longest       Value[units.Duration]
	PowerMeter    Value[bool]
	Meters        []PlaceMeter
	HeartRate     *HeartRate
	Screening     *Screening
	Days          [7]Value[Day] // Monday first
	DaysBlock     hcl.Range     // zero where there is no days block
	On            []DatedDay
	GuardianAgree Value[bool] // guardian_consent
	ByClinician   Value[bool] // led_by_clinician
	Shifts        []Shift
	Rosters       []*Roster
	Travels       []*Travel
	Fixed         []*Fixed
	Other         []*Other
	Device        *Device
	Calendar      *Calendar
}

// Shift names what a day can hold: shifts = { early = "75 min, 16:00" }.
type Shift struct {
	Key Value[string]
	Day Value[Day]
}

// Roster says which shift is worked on which day from a date on.
type Roster struct {
	Range    hcl.Range
	From     Value[units.Date]
	Until    Value[units.Date] // the last day; not set: it goes on
	Days     []Value[string]   // keys of shifts, repeated
	File     Value[string]     // or a CSV file of dates and shifts
	FileText []byte
	FileName string // its path from the plan's root
}

// Travel is a time in another time zone.
type Travel struct {
	Range    hcl.Range
	From, To Value[units.Date] // first and last day
	TimeZone Value[string]
}

// Fixed is a ride whose days are given: the way to work, a group ride.
type Fixed struct {
	Label
	Session  Value[Ref]
	Minutes  Value[units.Duration]
	Days     []Value[time.Weekday] // each week; or
	Date     Value[units.Date]     // once
	At       Value[units.Clock]
	Place    Value[string]
	Weeks    Value[[]int] // in a block only
	Athletes []Value[Ref] // in a squad or a block: who takes part; nil: all
	Note     Value[string]
}

// Other is sport that is not cycling: it counts in no total, but its days are not free.
type Other struct {
	Label
	Title   Value[string]
	Days    []Value[time.Weekday] // each week; or
	Date    Value[units.Date]     // once
	Minutes Value[units.Duration]
	At      Value[units.Clock]
	Demand  Value[string] // "light" (default), "demanding"
}

// Device says what the rider's head unit can take.
type Device struct {
	Range     hcl.Range
	Leads     Value[string] // "power", "heart rate"
	Letters   Value[string] // "any" (default), "plain"
	MostSteps Value[int]
	HeartRate Value[bool] // false: no target of heart rate in workout files
}

// Calendar says what the rider's calendar shows.
type Calendar struct {
	Range    hcl.Range
	Hours    Value[bool]           // false: entries last all day
	Reminder Value[units.Duration] // so long before a session; not set: none
}

// Squad is a group of athletes: what they share, and the rides that they share.
type Squad struct {
	Label
	Title    Value[string]
	Athletes []Value[Ref]
	Defaults *Athlete // what holds where an athlete says nothing; its Label has no key
	Fixed    []*Fixed
}

// Event is a day that is trained for.
type Event struct {
	Label
	Title    Value[string]
	Athletes []Value[Ref] // nil: the plan's only athlete
	Date     Value[units.Date]
	Lasts    Value[units.Duration]
}

// PlaceMeter says which meter is used where: { outdoor = meter.pedals }.
type PlaceMeter struct {
	Place string
	Meter Value[Ref]
}

// HeartRate holds an athlete's resting and maximal heart rate.
type HeartRate struct {
	Range    hcl.Range
	Resting  Value[units.HeartRate]
	Maximum  Value[units.HeartRate]
	From     Value[string] // "measured", "estimated", or the key of a test
	FromTest Value[Ref]
	Usable   Value[bool]
}

// Screening is a statement that somebody licensed has looked at the rider; it never says why.
type Screening struct {
	Range  hcl.Range
	On     Value[units.Date]
	Until  Value[units.Date]
	By     Value[string]
	Allows Value[string] // "maximal", "submaximal", "easy riding only"
}

// Day is what a day can hold: "4 h 30 min, 08:30, outdoor or 2 h indoor", "40 min, easy", "none".
type Day struct {
	Closed bool // "none"
	Limit  units.Minutes
	Start  units.Clock // zero where the rider chooses
	Place  string      // "outdoor", "indoor", or ""
	Easy   bool        // only light rides
	// Commute: the window is the way to work, ridden each time; nothing else is placed in it.
	Commute bool
	// Second alternative, after "or": the limit at the other place; zero where there is none.
	OrLimit units.Minutes
	OrPlace string
	// Second is the other window of a day that has two; nil where it has one.
	Second *Day
}

// DatedDay is an exception: on = { "2026-10-06" = "40 min, easy" }, also for several days:
// on = { "2026-10-06 to 2026-10-09" = "none" }.
type DatedDay struct {
	Date  Value[units.Date]
	Until units.Date // the last day; Date's own for a single one
	Day   Value[Day]
}

// Meter is a power meter.
type Meter struct {
	Label
	Kind     Value[string]
	Reads    Value[units.Share] // against another meter
	Against  Value[Ref]
	Compared Value[units.Date]
}

// Test is a test that was done.
type Test struct {
	Label
	Athlete     Value[Ref]
	Date        Value[units.Date]
	Protocol    Value[Ref]
	Meter       Value[Ref]
	Place       Value[string]
	Stage       Value[units.Duration]
	Site        Value[string] // "earlobe", "fingertip"
	Analyser    Value[string] // "bench", "hand-held"
	SampleDelay Value[units.Duration]
	Data        Value[string] // path relative to the file that names it
	DataText    []byte        // the data file's content, read through source
	DataName    string        // its path from the plan's root
	Stages      []Stage
	ReadByLab   *LabReading
	WarmUp      Value[units.Duration] // ramps: before the ramp began
	Ramp        Value[units.RampRate]
	RampStep    Value[units.Power] // ramps in steps
}

// Stage is one row of an inline step test.
type Stage struct {
	Range     hcl.Range
	Power     Value[units.Power]
	Duration  Value[units.Duration]
	HeartRate Value[units.HeartRate]
	Lactate   Value[units.Lactate]
	Effort    Value[units.Effort]
}

// LabReading is what the laboratory itself read from the test.
type LabReading struct {
	Range          hcl.Range
	FirstThreshold Value[units.Power]
	HeartRate      Value[units.HeartRate] // at the first threshold
	Method         Value[string]
	// What follows is kept beside our own reading; nothing is made of it.
	SecondThreshold  Value[units.Power]
	SecondHeartRate  Value[units.HeartRate]
	MaximumHeartRate Value[units.HeartRate]
	PeakPower        Value[units.Power]
}

// Band is a low-intensity band: derived from tests, typed, or raised from another.
type Band struct {
	Label
	Athlete   Value[Ref]
	From      Value[units.Date]
	Tests     []Value[Ref]
	Method    Value[string]
	Caution   Value[string] // "usual", "strict"
	Ceiling   Value[units.Share]
	Floor     Value[units.Share]
	Threshold Value[units.Power] // typed first threshold
	Power     Value[units.Range[units.Power]]
	HeartRate Value[units.Range[units.HeartRate]]
	Effort    Value[units.Range[units.Effort]]
	Leads     Value[string] // "power", "heart rate", "effort"
	Raises    Value[Ref]
	By        Value[units.Share]
	Evidence  Value[string]
	Line      *HeartRateLine
	Place     Value[string] // "outdoor", "indoor"; not set: wherever no other band holds
	Over      []Value[Allowance]
	LongRides Value[units.Share] // upper watts of long rides as a share of the threshold, in place of the usual ones
}

// Allowance lets the rider above the band for a short time: over = "climbs: 3 min, 115 %".
type Allowance struct {
	Name     string
	Duration units.Duration // at a time
	Share    units.Share    // of the ceiling; 0 where AllOut
	AllOut   bool
}

// HeartRateLine sets how the heart-rate line is fitted.
type HeartRateLine struct {
	Range hcl.Range
	UpTo  Value[units.Power] // stages above are left out
}

// Session is a kind of ride, or, with Protocol, a test as a session to ride.
type Session struct {
	Label
	Protocol   bool
	Title      Value[string]
	Purpose    Value[string]
	AtLeast    Value[units.Duration]
	AtMost     Value[units.Duration]
	Usual      Value[units.Duration]
	Minutes    Value[units.Duration] // protocols: the time to plan for
	Demand     Value[string]         // protocols: "maximal", "submaximal"
	Stop       Value[string]         // protocols: when to stop
	KeepsWatts Value[bool]           // protocols: the watts of the first band, so that weeks compare
	RPE        Value[units.Effort]   // expected rating of the whole of it
	Feel       Value[string]         // one sentence on how it should feel
	IfWrong    Value[string]         // what to do when it goes wrong
	Steps      []Step
}

// Step is a piece of a session: a step, or a repeat with steps of its own.
type Step struct {
	Name        string // label of the step; "" for a repeat
	Range       hcl.Range
	Repeat      *Repeat
	Duration    Value[units.Duration]
	Fill        bool                            // duration = "fill": takes what the others leave
	Shape       Value[string]                   // "steady" (default), "rising", "falling"
	Position    Value[units.Range[units.Share]] // of the way from floor to ceiling
	Below       bool                            // position = "below"
	OfThreshold Value[units.Range[units.Share]]
	Power       Value[units.Range[units.Power]] // protocols only
	AllOut      Value[bool]                     // protocols only: as hard as you can
	Cadence     Value[units.Range[units.Cadence]]
	Over        Value[string] // an allowance of the band, by its name
	Spare       Value[bool]   // takes the minutes that are left
	Note        Value[string]
}

// Repeat is a group of steps ridden several times.
type Repeat struct {
	Times  Value[int]
	Fill   bool               // times = "fill"
	Rising Value[units.Power] // protocols: each round this much higher
	Steps  []Step
}
