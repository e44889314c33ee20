package source

import (
	"errors"
	"fmt"
	"io/fs"

	"towpath/internal/syntax"
)

// ReadData reads a data file named in a plan's file: its path is relative to that file and may
// not leave the root. Name is the path from the root. The error's text says what is wrong in
// words for the coach.
func (s *Set) ReadData(from *syntax.File, path string) (data []byte, name string, err error) {
	name, problem := resolve(from.Name, path)
	if problem != "" {
		return nil, "", fmt.Errorf("%w: it %s", errRefused, problem)
	}
	if from.Library {
		return nil, name, fmt.Errorf("%w: built-in files have no data", errRefused)
	}
	data, err = read(s.fsys, name, maxDataBytes+1)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, name, fmt.Errorf("there is no file %s: %w", name, fs.ErrNotExist)
	case errors.Is(err, errOutside):
		return nil, name, fmt.Errorf("%w: %s is a link that leads out of the repository", errRefused, name)
	case err != nil:
		return nil, name, fmt.Errorf("%s cannot be read: %w", name, cause(err))
	case len(data) > maxDataBytes:
		return nil, name, fmt.Errorf("%w: %s is larger than %d MiB", errRefused, name, maxDataBytes>>20)
	}
	return data, name, nil
}

// errRefused marks a file that exists perhaps, but that a plan may not read.
var errRefused = errors.New("this file is not read")
