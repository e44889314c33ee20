package rules

import (
	"embed"
	"io/fs"
	"path"
)

// examples holds for each rule a plan that keeps it, one that does not, and what is said of that
// one. They are the rule's documentation and its tests.
//
//go:embed examples
var examples embed.FS

// The files of an example.
const (
	keeps  = "ok.hcl"
	breaks = "bad.hcl"
	says   = "bad.out"
)

// Good is a whole plan that keeps the rule.
func (r Rule) Good() string { return r.example(keeps) }

// Bad is a whole plan that does not.
func (r Rule) Bad() string { return r.example(breaks) }

// Finding is what the rule says of Bad, as a terminal shows it.
func (r Rule) Finding() string { return r.example(says) }

// example reads a file of the rule's example; a missing one is empty, and a test finds it.
func (r Rule) example(name string) string {
	text, err := fs.ReadFile(examples, path.Join("examples", r.Code, name))
	if err != nil {
		return ""
	}
	return string(text)
}
