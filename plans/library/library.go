// Package library holds the built-in sessions and protocols, written in the language itself.
package library

import "embed"

// FS holds the library's files.
//
//go:embed *.hcl
var FS embed.FS
