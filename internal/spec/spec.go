// Package spec turns syntax trees into a typed specification: every value with its unit and with
// its range in the text. Trees go in (from source and syntax), a Spec comes out, and one
// diagnostic for each cause. It knows the language's blocks and names, evaluates expressions and
// binds references to the blocks they name; it applies no default that needs two blocks, computes
// nothing, and reads no clock.
package spec

import (
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
