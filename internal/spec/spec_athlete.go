package spec

import (
	"time"

	"github.com/hashicorp/hcl/v2"

	"towpath/internal/units"
)

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

// Shift names what a day can hold: shifts = { early = "70 min, 15:20" }.
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

// Day is what a day can hold: "3 h 40 min, 09:15, outdoor or 2 h indoor", "40 min, easy", "none".
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
