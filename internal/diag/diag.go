// Package diag holds what the compiler says about a plan: diagnostics with their place in the
// text, lists of them, and origins, which tell where a value that reaches a rider comes from.
// It prints them as text and as JSON. It never decides whether something is wrong.
package diag

import (
	"cmp"
	"slices"

	"github.com/hashicorp/hcl/v2"
)

// Range is a place in the text of a plan: file, and start and end with line, column and byte.
type Range = hcl.Range

// Severity orders diagnostics: an error means that no correct plan can be made and nothing is
// written; a warning and an advice are findings about a plan that can be carried out.
type Severity int

// The severities, worst first.
const (
	Error Severity = iota
	Warning
	Advice
)

func (s Severity) String() string { return [...]string{"error", "warning", "advice"}[s] }

// Diagnostic is one thing said about a plan.
type Diagnostic struct {
	Code      string // kebab-case, stable, never reused
	Severity  Severity
	Summary   string // one line: what was found, with its unit
	Detail    string // what was expected, the other half of the conflict, what would mend it
	Subject   Range
	Related   []Related
	Fix       *Fix   // the edit that mends it, where one value does
	SourceKey string // key in physiology.Sources, "" where the matter needs none
	Weeks     []int  // the block's weeks that a rule's finding speaks of; waivers match on them
	Block     string // key of the block that a rule's finding speaks of
	Waived    *Waiver
}

// Related points at another place that takes part in the matter.
type Related struct {
	Message string
	Range   Range
}

// Fix is a change of the text that would mend a diagnostic.
type Fix struct {
	Title string
	Edits []Edit
}

// Edit replaces the bytes of a range.
type Edit struct {
	Range Range
	Text  string
}

// Waiver says that the coach accepts a finding, and why.
type Waiver struct {
	Reason string
	Range  Range
}

// List collects diagnostics.
type List []Diagnostic

// Add appends.
func (l *List) Add(d ...Diagnostic) { *l = append(*l, d...) }

// HasErrors reports whether nothing may be written.
func (l List) HasErrors() bool {
	return slices.ContainsFunc(l, func(d Diagnostic) bool { return d.Severity == Error })
}

// Active leaves out what the coach waived.
func (l List) Active() List {
	return slices.DeleteFunc(slices.Clone(l), func(d Diagnostic) bool { return d.Waived != nil })
}

// Sorted orders by file, place, severity, code and summary, and drops repeats.
func (l List) Sorted() List {
	out := slices.Clone(l)
	slices.SortStableFunc(out, func(a, b Diagnostic) int {
		return cmp.Or(
			cmp.Compare(a.Subject.Filename, b.Subject.Filename),
			cmp.Compare(a.Subject.Start.Byte, b.Subject.Start.Byte),
			cmp.Compare(a.Severity, b.Severity),
			cmp.Compare(a.Code, b.Code),
			cmp.Compare(a.Summary, b.Summary),
			cmp.Compare(a.Detail, b.Detail),
		)
	})
	return slices.CompactFunc(out, func(a, b Diagnostic) bool {
		return a.Subject == b.Subject && a.Code == b.Code && a.Summary == b.Summary && a.Detail == b.Detail
	})
}

// Origin says where a value that reaches a rider comes from: in words, with the place in the
// coach's text or the source of the number, and what it was made from.
type Origin struct {
	What      string // "ceiling 134 W: threshold 142 W less 0.67 of its standard error 12 W"
	Range     Range  // the text that caused it; zero where none did
	SourceKey string // key in physiology.Sources, "" where none applies
	From      []Origin
}
