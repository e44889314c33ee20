// Package compile drives the stages: a plan's folder goes in, prescriptions and findings come
// out. It is a function of its input: no clock, no environment, no network, and it reads only
// through the file system that it is given.
package compile

import (
	"io/fs"

	"towpath/internal/diag"
	"towpath/internal/plan"
	"towpath/internal/prescription"
	"towpath/internal/record"
	"towpath/internal/spec"
	"towpath/internal/syntax"
	"towpath/internal/units"
)

// Input is all that a compilation depends on.
type Input struct {
	FS       fs.FS                      // rooted at the repository
	Dir      string                     // the plan's folder or file, from the root
	Library  fs.FS                      // built-in sessions and protocols
	Records  map[string]*record.Athlete // what was delivered, by athlete
	AsOf     units.Date                 // zero: the records' date, and without records no day is past
	Athletes []string                   // keys; nil: all
}

// Result is all that a compilation yields. Prescriptions are whole only where Findings holds no
// error.
type Result struct {
	Files         []*syntax.File
	Spec          *spec.Spec
	Plan          *plan.Plan
	Prescriptions []*prescription.Prescription // by athlete, then start of the block
	Findings      diag.List                    // sorted; waived ones included
}

// Compile runs every stage.
func Compile(in Input) Result { return Result{} }
