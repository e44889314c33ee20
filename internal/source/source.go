// Package source finds a plan's files: the root of the repository, the plan's folder, what it
// includes, and the data files it names, within limits of size and number. A file system and a
// folder go in, parsed files come out. It decodes nothing.
package source

import (
	"io/fs"

	"towpath/internal/diag"
	"towpath/internal/syntax"
)

// Set is the files of one plan, read and parsed.
type Set struct {
	Dir   string         // the plan's folder, or its one file, from the root
	Files []*syntax.File // library first, then included folders, then the plan, by name
	fsys  fs.FS
}

// Load reads the plan in dir of fsys with its includes, and the library.
func Load(fsys fs.FS, dir string, library fs.FS) (*Set, diag.List) {
	return &Set{Dir: dir, fsys: fsys}, nil
}

// ReadData reads a data file named in a plan's file: its path is relative to that file.
func (s *Set) ReadData(from *syntax.File, path string) (data []byte, name string, err error) {
	return nil, "", fs.ErrNotExist
}
