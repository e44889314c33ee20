package prescription

import (
	"fmt"
	"math"

	"towpath/internal/diag"
	"towpath/internal/schedule"
	"towpath/internal/units"
)

// faults gathers what cannot be prescribed, one diagnostic for each cause.
type faults struct {
	short []shortage
	more  diag.List
	told  map[string]bool
}

// once reports a cause that has not been reported.
func (f *faults) once(cause string, d diag.Diagnostic) {
	if f.told == nil {
		f.told = map[string]bool{}
	}
	if !f.told[cause] {
		f.told[cause] = true
		f.more.Add(d)
	}
}

// shortage is a session that is too short for its steps.
type shortage struct {
	in    *schedule.Session
	need  units.Duration
	count int
}

func (f *faults) add(in *schedule.Session, need units.Duration) {
	for i := range f.short {
		if s := &f.short[i]; s.in.Session == in.Session && place(s.in) == place(in) {
			s.count++
			return
		}
	}
	at := *in
	f.short = append(f.short, shortage{in: &at, need: need, count: 1})
}

// place is the text that gave the session its minutes.
func place(in *schedule.Session) diag.Range {
	switch {
	case in.Given != nil:
		return in.Given.Range
	case in.Ride != nil:
		return in.Ride.Range
	}
	return in.Session.Range
}

func (f *faults) list() (out diag.List) {
	for _, s := range f.short {
		need := units.Minutes(math.Ceil(float64(s.need) / float64(units.Minutes(1).Duration())))
		d := diag.Diagnostic{
			Code: "session-too-short", Severity: diag.Error, Subject: place(s.in),
			Summary: fmt.Sprintf("%s on %s has %s; its steps need %s", s.in.Session.Title, s.in.Date, s.in.Minutes, need),
			Detail: fmt.Sprintf("Give it %s or more, or shorten its steps. A warm-up and a cool-down were already shortened as far as they go.",
				need),
			Related: []diag.Related{{Message: "the steps", Range: s.in.Session.Range}},
		}
		if s.in.Session.Protocol {
			d.Detail = fmt.Sprintf("Give the test %s or more: minutes = \"%s\". The steps of a test are never shortened.", need, need)
		}
		if s.count > 1 {
			d.Detail += fmt.Sprintf(" The same holds for %d more.", s.count-1)
		}
		out.Add(d)
	}
	out.Add(f.more...)
	return out
}
