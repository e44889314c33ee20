// Package syntax is the step from text to tree and back: a guard against hostile input, parsing,
// the canonical format, and edits that keep comments. Bytes go in, trees with ranges come out. It
// knows no block and no name of the language.
package syntax

import "github.com/hashicorp/hcl/v2/hclsyntax"

// File is one parsed file of a plan.
type File struct {
	Name    string // path from the root, with "/"
	Bytes   []byte
	Body    *hclsyntax.Body // nil where nothing could be read
	Broken  bool            // syntax errors were reported: the tree may lack parts
	Library bool            // part of the library that comes with the tool
}
