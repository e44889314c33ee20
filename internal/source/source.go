// Package source finds a plan's files: the root of the repository, the plan's folder, what it
// includes, and the data files it names, within limits of size and number. A file system and a
// folder go in, parsed files come out. It decodes nothing.
package source

import (
	"cmp"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"path"
	"slices"
	"strings"

	"github.com/hashicorp/hcl/v2"

	"towpath/internal/diag"
	"towpath/internal/syntax"
)

// limits bound what is read for one plan with all that it includes.
type limits struct{ files, bytes int }

// Far above what a plan needs.
var sensible = limits{files: 1_000, bytes: 16 << 20}

// maxDataBytes bounds one data file.
const maxDataBytes = 64 << 20

// extension of the files that make a plan.
const extension = ".hcl"

// Set is the files of one plan, read and parsed.
type Set struct {
	Dir   string         // the plan's folder, or its one file, from the root
	Files []*syntax.File // library first, then included folders, then the plan, by name
	fsys  fs.FS
}

// Load reads the plan in dir of fsys with its includes, and the library. Dir is a folder, all of
// whose .hcl files make the plan (its sub-folders do not), or one such file. The set is never nil;
// what cannot be read is left out of it and told of.
func Load(fsys fs.FS, dir string, library fs.FS) (*Set, diag.List) {
	return load(fsys, dir, library, sensible)
}

func load(fsys fs.FS, dir string, library fs.FS, most limits) (*Set, diag.List) {
	dir = path.Clean(dir)
	l := loader{fsys: fsys, most: most, seen: map[string]bool{}}
	set := &Set{Dir: dir, fsys: fsys, Files: l.library(library)}

	plan := l.folder(dir, nil)
	for queue := plan; len(queue) > 0; {
		var next []*syntax.File
		for _, from := range queue {
			next = append(next, l.includes(from)...)
		}
		queue = next
	}
	set.Files = append(set.Files, inOrder(l.files, plan)...)
	return set, l.diags
}

// inOrder puts included files before the plan's own, both by name.
func inOrder(files, plan []*syntax.File) []*syntax.File {
	rank := func(f *syntax.File) int {
		if slices.Contains(plan, f) {
			return 1
		}
		return 0
	}
	slices.SortFunc(files, func(a, b *syntax.File) int {
		return cmp.Or(cmp.Compare(rank(a), rank(b)), cmp.Compare(a.Name, b.Name))
	})
	return files
}

// loader collects the files of one plan.
type loader struct {
	fsys  fs.FS
	most  limits
	seen  map[string]bool // folders and files that were read or refused
	files []*syntax.File
	bytes int
	full  bool // a limit is reached, and was told of
	diags diag.List
}

// library reads the files that come with the tool.
func (l *loader) library(library fs.FS) []*syntax.File {
	if library == nil {
		return nil
	}
	names, err := fs.Glob(library, "*"+extension)
	if err != nil {
		return nil // only a malformed pattern can fail
	}
	var out []*syntax.File
	for _, name := range names {
		src, err := fs.ReadFile(library, name)
		if err != nil {
			l.diags.Add(fault("unreadable", wholeFile("built-in/"+name), fmt.Sprintf("The built-in file %s cannot be read", name), because(err)))
			continue
		}
		file, diags := syntax.Parse("built-in/"+name, src)
		file.Library = true
		l.diags.Add(diags...)
		out = append(out, file)
	}
	return out
}

// asker is the text that names a folder: the place to which a complaint belongs.
type asker struct {
	at   diag.Range
	text string
}

// folder reads the plan files of a folder, or one file. From is nil for the plan itself.
func (l *loader) folder(name string, from *asker) []*syntax.File {
	if l.seen[name] {
		return nil
	}
	l.seen[name] = true
	info, err := fs.Stat(l.fsys, name)
	if err != nil {
		l.cannotOpen(name, from, err)
		return nil
	}
	if !info.IsDir() {
		if path.Ext(name) != extension {
			l.complain(name, from, "no-plan-file", fmt.Sprintf("%s is not a plan's file", name),
				fmt.Sprintf("The names of a plan's files end in %s.", extension))
			return nil
		}
		return l.one(name, from)
	}
	entries, err := fs.ReadDir(l.fsys, name)
	if err != nil {
		l.cannotOpen(name, from, err)
		return nil
	}
	var out []*syntax.File
	var found bool
	for _, e := range entries {
		if path.Ext(e.Name()) == extension && !e.IsDir() && !strings.HasPrefix(e.Name(), ".") {
			found = true
			file := path.Join(name, e.Name())
			if !l.seen[file] {
				l.seen[file] = true
				out = append(out, l.one(file, from)...)
			}
		}
	}
	if !found {
		l.complain(name, from, "no-plan-file", fmt.Sprintf("There is no plan in %s", folderName(name)),
			fmt.Sprintf("A plan is a folder with files whose names end in %s; its sub-folders are not looked into.", extension))
	}
	return out
}

// one reads and parses a file.
func (l *loader) one(name string, from *asker) []*syntax.File {
	if l.full {
		return nil
	}
	src, err := read(l.fsys, name, syntax.MaxFileBytes+1) // one byte more: the guard tells of the size
	if err != nil {
		l.cannotOpen(name, from, err)
		return nil
	}
	if l.bytes += len(src); l.bytes > l.most.bytes || len(l.files) == l.most.files {
		l.full = true
		l.complain(name, from, "plan-too-large", fmt.Sprintf("The plan is larger than %d files or %d KiB", l.most.files, l.most.bytes>>10),
			"This file and those after it were not read. Name the folder of one plan, not one that holds many.")
		return nil
	}
	file, diags := syntax.Parse(name, src)
	l.diags.Add(diags...)
	l.files = append(l.files, file)
	return []*syntax.File{file}
}

// cannotOpen tells why a file or folder was not read.
func (l *loader) cannotOpen(name string, from *asker, err error) {
	switch {
	case errors.Is(err, fs.ErrNotExist) && from == nil:
		l.complain(name, from, "missing-file", fmt.Sprintf("There is no %s", folderName(name)), "Name the plan's folder, or its one file.")
	case errors.Is(err, fs.ErrNotExist):
		l.complain(name, from, "missing-file", fmt.Sprintf("There is no folder %q", from.text),
			fmt.Sprintf("Paths start from the file that names them: this one leads to %s.", folderName(name)))
	case errors.Is(err, errOutside):
		l.complain(name, from, "outside-repository", fmt.Sprintf("%s is a link that leads out of the repository", name),
			"A plan reads only what lies in its repository. Put a copy there instead of the link.")
	default:
		l.complain(name, from, "unreadable", fmt.Sprintf("%s cannot be read", folderName(name)), because(err))
	}
}

func (l *loader) complain(name string, from *asker, code, summary, detail string) {
	at := wholeFile(name)
	if from != nil {
		at = from.at
	}
	l.diags.Add(fault(code, at, summary, detail))
}

func fault(code string, at diag.Range, summary, detail string) diag.Diagnostic {
	return diag.Diagnostic{Code: code, Severity: diag.Error, Summary: summary, Detail: detail, Subject: at}
}

func wholeFile(name string) diag.Range {
	return diag.Range{Filename: name, Start: hcl.InitialPos, End: hcl.InitialPos}
}

func folderName(name string) string {
	if name == "." {
		return "the repository's own folder"
	}
	return name
}

// because gives the system's reason without the path, which the summary names.
func because(err error) string {
	return "The system says: " + cause(err).Error() + "."
}

// read reads a file up to limit bytes. What is no ordinary file is refused: a pipe could block.
func read(fsys fs.FS, name string, limit int64) ([]byte, error) {
	info, err := fs.Stat(fsys, name)
	if err != nil {
		return nil, err
	}
	if !info.Mode().IsRegular() {
		return nil, &fs.PathError{Op: "read", Path: name, Err: errors.New("it is not an ordinary file")}
	}
	f, err := fsys.Open(name)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return io.ReadAll(io.LimitReader(f, limit))
}
