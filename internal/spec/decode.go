package spec

import (
	"towpath/internal/diag"
	"towpath/internal/syntax"
)

// Input is what Decode works on.
type Input struct {
	Files []*syntax.File // the library's files first, then the plan's and its includes'
	// ReadData reads a data file that a plan's file names; the name is its path from the root.
	ReadData func(from *syntax.File, path string) (data []byte, name string, err error)
}

// Decode reads the files as one specification.
func Decode(in Input) (*Spec, diag.List) {
	return &Spec{}, nil
}
