// Package syntax is the step from text to tree and back: a guard against hostile input, parsing,
// the canonical format, and edits that keep comments. Bytes go in, trees with ranges come out. It
// knows no block and no name of the language.
package syntax

import (
	"github.com/hashicorp/hcl/v2"
	"github.com/hashicorp/hcl/v2/hclsyntax"

	"towpath/internal/diag"
)

// File is one parsed file of a plan.
type File struct {
	Name    string // path from the root, with "/"
	Bytes   []byte
	Body    *hclsyntax.Body // nil where nothing could be read
	Broken  bool            // syntax errors were reported: the tree may lack parts
	Library bool            // part of the library that comes with the tool
}

// Parse reads src as a file of a plan. The text is guarded first, so that no input can exhaust
// the machine: a text that the guard refuses gives a file without a Body. The file is never nil.
func Parse(name string, src []byte) (*File, diag.List) {
	file := &File{Name: name, Bytes: src}
	if diags := guard(name, src); diags.HasErrors() {
		file.Broken = true
		return file, diags
	}
	parsed, problems := hclsyntax.ParseConfig(src, name, hcl.InitialPos)
	file.Body, _ = parsed.Body.(*hclsyntax.Body)
	diags := translated(problems)
	file.Broken = diags.HasErrors()
	return file, diags
}
