// Package prescription lowers scheduled sessions to steps with rounded targets in power, heart
// rate and effort, and predicts their load. A schedule goes in, a Prescription comes out: all
// that a rider and a coach see, in whole watts and beats. It judges nothing and writes nothing.
package prescription

import (
	"towpath/internal/diag"
	"towpath/internal/plan"
	"towpath/internal/schedule"
	"towpath/internal/units"
)

// Prescription is one athlete's block, ready to hand over.
type Prescription struct {
	Block    *plan.Block
	Schedule *schedule.Schedule
	AsOf     units.Date // zero: no date is past
	Weeks    []Week
	Sessions []Session // by date
}

// Week sums up a week.
type Week struct {
	*schedule.Week
	Load Load
	// Monotony is the mean of seven daily loads over their sample standard deviation (n-1), on
	// MonotonyScale; nil where undefined: a load unknown, all days equal.
	Monotony      *float64
	MonotonyScale Scale
}

// Scale names a scale of load. Loads of two scales are never added nor compared.
type Scale string

// The scales. A block keeps to one of them for monotony: the coach's own ratings where each session
// of the block has one, else the training impulse where it is known for each, else the rating that
// is usual for its length.
const (
	CoachRating     Scale = "session_rpe_6_20" // minutes times the coach's rating from 6 to 20
	TrainingImpulse Scale = "trimp_banister"   // arbitrary units
	SessionRPE      Scale = "session_rpe_cr10" // minutes times a rating from 0 to 10
)

// Load is what a session or a week costs, predicted at the low, middle and high end of its
// targets. The scales are never added. Nil where it cannot be told.
type Load struct {
	Work       *Three[units.Energy] // mechanical work
	TRIMP      *Three[float64]      // training impulse after Banister, arbitrary units
	SessionRPE *float64             // minutes times a session rating from 0 to 10 (CR10)
	Coach      *float64             // minutes times the coach's own rating from 6 to 20
}

// Three holds the low, middle and high prediction.
type Three[T any] struct{ Low, Mid, High T }

// Session is one session as the rider gets it.
type Session struct {
	Key     string // "autumn/w03/long-1": block, week and slot, never the date
	UID     string // UUID, version 5, of the plan's id and the key
	Week    int
	Date    units.Date
	Start   units.Clock
	Zone    string
	Place   string
	Ride    string // key in the mix; "" for tests and sessions outside it
	Session string // key of the session or protocol
	Title   string // "75 min steady · 102-112 W"
	Name    string // the session's own title
	Minutes units.Minutes
	Leads   string // "power", "heart_rate" or "effort"
	Why     string // the purpose
	Feel    string
	IfWrong string
	Stop    string
	Note    string
	Given   bool   // pinned, fixed or a test, against chosen by the scheduler
	Fixed   string // label of the fixed ride that it is; "" for others
	Test    bool   // a protocol
	Meter   string // tests: label of the power meter to use; "" where none is named
	Maximal bool
	Band    *plan.Band
	Targets Targets // of the work steps together
	Steps   []Step
	// Drift says how far the heart rate may rise over its cap late in the ride: an allowance told
	// in words, never a change of the cap. In order of time; nil on shorter rides.
	Drift []Drift
	// LateEffort is the allowance of effort at the end of a long ride; nil on shorter rides.
	LateEffort *LateEffort
	// Provisional: the week comes only if the block takes its longer form, which is settled by the
	// date DecidedBy.
	Provisional bool
	DecidedBy   units.Date
	// Allowed is what the rider may do above the band for a short time, anywhere in this ride; nil
	// indoors and in tests. Steps that are ridden by an allowance name it themselves.
	Allowed []Allowance
	// Instead is the same session at the day's other place, with the minutes, the band, the steps
	// and the targets that it has there; nil where the day has one place. Its key, UID and date are
	// the session's own; it has no load and no Instead.
	Instead *Session
	Load    Load
	Origin  diag.Origin // why this date and these minutes
}

// Allowance lets the rider above the band for a short time.
type Allowance struct {
	Name     string         // the coach's word
	Duration units.Duration // the longest at a time
	Power    *int           // watts at most; nil where AllOut
	AllOut   bool
	Origin   diag.Origin
}

// Drift allows a heart rate of Beats over the cap once After minutes have been ridden.
type Drift struct {
	After units.Minutes
	Beats int
}

// LateEffort allows Effort in the last Minutes of a ride.
type LateEffort struct {
	Last   units.Minutes
	Effort int
}

// Targets are rounded as the rider sees them; nil where there is none.
type Targets struct {
	Power     *units.Range[int] // watts
	HeartRate *Bounds           // bpm; where power leads, "at most" High
	Effort    *int              // at most, 6 to 20
	// Origins of the three, nil where there is no target.
	PowerOrigin, HeartRateOrigin, EffortOrigin *diag.Origin
}

// Bounds is a target with an upper end and, where heart rate leads, a lower one.
type Bounds struct {
	Low  *int // nil: "at most High"
	High int
}

// StepKind tells how a step is ridden.
type StepKind string

// The kinds of step.
const (
	Steady StepKind = "steady" // inside a range
	Ramp   StepKind = "ramp"   // from Power.Low to Power.High (or down) over the step
	Open   StepKind = "open"   // no target
	Rounds StepKind = "repeat" // steps ridden several times
)

// Role tells what a step is for.
type Role string

// The roles.
const (
	WarmUp   Role = "warm_up"
	Work     Role = "work"
	Ease     Role = "ease" // between work steps
	CoolDown Role = "cool_down"
)

// Step is one step, or a repeat.
type Step struct {
	Name     string // the coach's word, "warm_up"
	Kind     StepKind
	Role     Role
	Duration units.Duration // of one round for a repeat
	Falling  bool           // a ramp from high to low
	Targets  Targets
	AllOut   bool
	// Over is the allowance of the band that the step is ridden by, "" for other steps. Unless it is
	// all out, Targets.Power goes from the band's floor to what is allowed, and is said as "at most".
	Over    string
	Cadence *units.Range[int]
	Note    string
	Times   int         // repeats
	Steps   []Step      // repeats
	Origin  diag.Origin // where its minutes come from
}
