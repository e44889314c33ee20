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
// the machine. Where the text has mistakes, all of them are told, and Body holds what could be
// read around them. The file is never nil.
func Parse(name string, src []byte) (*File, diag.List) {
	file := &File{Name: name, Bytes: src}
	tokens, diags := lex(name, src)
	if diags.HasErrors() {
		file.Broken = true
		return file, diags
	}
	var first *hcl.Diagnostic
	if !guard(tokens).HasErrors() {
		body, problems := parse(name, src, hcl.InitialPos)
		if !problems.HasErrors() {
			file.Body = body
			return file, nil
		}
		first = problems[0]
	}
	file.Broken = true
	file.Body, diags = salvage(name, src, tokens, first)
	return file, diags
}

// parse runs the parser on a text that the guard has passed and that starts at pos.
func parse(name string, src []byte, pos hcl.Pos) (*hclsyntax.Body, hcl.Diagnostics) {
	file, problems := hclsyntax.ParseConfig(src, name, pos)
	return file.Body.(*hclsyntax.Body), problems // the type that ParseConfig documents
}
