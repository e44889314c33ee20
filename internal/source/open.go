package source

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
)

// Open finds the root of the plan at path, which is a folder or one .hcl file: the nearest folder
// at or above it that holds .git, else the folder that holds the plan's folder. Fsys reads only
// what lies in that root, links included, until it is closed; dir is the plan, from the root, with
// "/". The error wraps fs.ErrNotExist where there is no such path.
func Open(path string) (fsys fs.FS, dir string, close func() error, err error) {
	full, err := filepath.Abs(path)
	if err != nil {
		return nil, "", nil, fmt.Errorf("open plan %s: %w", path, err)
	}
	// A plan reached through a link belongs to the repository in which it lies.
	if full, err = filepath.EvalSymlinks(full); err != nil {
		return nil, "", nil, fmt.Errorf("open plan %s: %w", path, cause(err))
	}
	info, err := os.Stat(full)
	if err != nil {
		return nil, "", nil, fmt.Errorf("open plan %s: %w", path, cause(err))
	}
	folder := full
	if !info.IsDir() {
		folder = filepath.Dir(full)
	}
	top := repository(folder)
	root, err := os.OpenRoot(top)
	if err != nil {
		return nil, "", nil, fmt.Errorf("open plan %s: %w", path, cause(err))
	}
	rel, err := filepath.Rel(top, full)
	if err != nil {
		root.Close()
		return nil, "", nil, fmt.Errorf("open plan %s: %w", path, err)
	}
	return rooted{root.FS()}, filepath.ToSlash(rel), root.Close, nil
}

// repository gives the nearest folder that holds .git (a folder, or a file in a linked working
// tree), else the parent.
func repository(folder string) string {
	for at := folder; ; {
		if _, err := os.Lstat(filepath.Join(at, ".git")); err == nil {
			return at
		}
		up := filepath.Dir(at)
		if up == at {
			return filepath.Dir(folder)
		}
		at = up
	}
}

// cause is the system's reason without the path, which the message names.
func cause(err error) error {
	if p := (*fs.PathError)(nil); errors.As(err, &p) {
		return p.Err
	}
	return err
}

// errOutside is the refusal to follow a link out of the root.
var errOutside = errors.New("it leads out of the repository")

// rooted gives os.Root's refusals, whose type is not exported, a name.
type rooted struct{ fsys fs.FS }

func (r rooted) Open(name string) (fs.File, error) {
	f, err := r.fsys.Open(name)
	return f, named(err)
}

func (r rooted) ReadDir(name string) ([]fs.DirEntry, error) {
	entries, err := fs.ReadDir(r.fsys, name)
	return entries, named(err)
}

func (r rooted) Stat(name string) (fs.FileInfo, error) {
	info, err := fs.Stat(r.fsys, name)
	return info, named(err)
}

func named(err error) error {
	if p := (*fs.PathError)(nil); errors.As(err, &p) && strings.Contains(p.Err.Error(), "escapes") {
		return &fs.PathError{Op: p.Op, Path: p.Path, Err: errOutside}
	}
	return err
}
