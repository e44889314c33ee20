package main

import (
	"cmp"
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"

	"towpath/internal/export"
)

// tempName is what a file is called until it is whole. A build that was cut off may leave one; the
// next build takes it over.
const tempName = ".towpath.tmp"

// bundle is the files of one athlete's block with their folder, relative to the output folder.
type bundle struct {
	dir   string // with "/"
	files []export.File
}

// what names the files of a bundle; those of a sub-folder are counted, and the list of files is left
// out.
func (b bundle) what() string {
	var parts []string
	inside := map[string]int{}
	for _, f := range b.files {
		sub, _, ok := strings.Cut(f.Name, "/")
		switch {
		case f.Name == export.ManifestName:
		case !ok:
			parts = append(parts, f.Name)
		default:
			inside[sub]++
		}
	}
	for _, sub := range slices.Sorted(maps.Keys(inside)) {
		parts = append(parts, fmt.Sprintf("%d in %s", inside[sub], sub))
	}
	return strings.Join(parts, ", ")
}

// folders lists the folders that the files of a bundle lie in, from the output folder.
func (b bundle) folders() []string {
	var out []string
	for _, f := range b.files {
		if dir := path.Dir(path.Join(b.dir, f.Name)); !slices.Contains(out, dir) {
			out = append(out, dir)
		}
	}
	return out
}

// written is what a build did to a folder.
type written struct {
	dir     string
	what    string // "calendar.ics, plan.json, sessions.csv, 48 in workouts"
	removed int
}

// writeBundles writes every bundle below the folder out. First everything that can be refused is
// looked at, and then only is anything changed: no file of a plan (inputs) is overwritten, no link is
// followed, and in a folder with a list of files only those that it names are removed.
func writeBundles(out string, bundles []bundle, inputs []string) ([]written, error) {
	if err := os.MkdirAll(out, 0o777); err != nil {
		return nil, fmt.Errorf("make the folder %s: %w", out, reason(err))
	}
	root, err := os.OpenRoot(out)
	if err != nil {
		return nil, fmt.Errorf("open the folder %s: %w", out, reason(err))
	}
	defer root.Close()
	w := writer{out: out, root: root}
	old := make([]export.Manifest, len(bundles))
	for i, b := range bundles {
		if err := w.refuse(b, inputs); err != nil {
			return nil, err
		}
		if old[i], err = w.manifest(b.dir); err != nil {
			return nil, err
		}
	}
	var done []written
	for i, b := range bundles {
		removed, err := w.replace(b, old[i])
		if err != nil {
			return done, err
		}
		done = append(done, written{filepath.Join(out, filepath.FromSlash(b.dir)), b.what(), removed})
	}
	return done, nil
}

type writer struct {
	out  string
	root *os.Root
}

// shown is a name below the output folder as the reader knows it.
func (w *writer) shown(name string) string { return filepath.Join(w.out, filepath.FromSlash(name)) }

// refuse finds what stands in the way of a bundle: files of the plan, links, folders where a file
// belongs.
func (w *writer) refuse(b bundle, inputs []string) error {
	for _, dir := range b.folders() {
		if err := w.plain(dir); err != nil {
			return err
		}
	}
	for _, f := range b.files {
		name := path.Join(b.dir, f.Name)
		info, err := w.root.Lstat(name)
		switch {
		case errors.Is(err, fs.ErrNotExist):
			continue
		case err != nil:
			return fmt.Errorf("look at %s: %w", w.shown(name), reason(err))
		case !info.Mode().IsRegular():
			return fmt.Errorf("%s is no ordinary file: move it away, and build again", w.shown(name))
		}
		for _, input := range inputs {
			if of, err := os.Stat(input); err == nil && os.SameFile(info, of) {
				return fmt.Errorf("%s belongs to the plan and is not overwritten: name another folder with --out", w.shown(name))
			}
		}
	}
	return nil
}

// plain demands that every folder on the way to dir, as far as it exists, is a folder and no link.
func (w *writer) plain(dir string) error {
	at := ""
	for part := range strings.SplitSeq(dir, "/") {
		at = path.Join(at, part)
		info, err := w.root.Lstat(at)
		switch {
		case errors.Is(err, fs.ErrNotExist):
			return nil
		case err != nil:
			return fmt.Errorf("look at %s: %w", w.shown(at), reason(err))
		case !info.IsDir():
			return fmt.Errorf("%s is no folder, or a link to one: move it away, and build again", w.shown(at))
		}
	}
	return nil
}

// manifest reads the list of files that an earlier build left in dir; none is an empty list.
func (w *writer) manifest(dir string) (export.Manifest, error) {
	name := path.Join(dir, export.ManifestName)
	data, err := w.root.ReadFile(name)
	if errors.Is(err, fs.ErrNotExist) {
		return export.Manifest{}, nil
	}
	if err != nil {
		return export.Manifest{}, fmt.Errorf("read %s: %w", w.shown(name), reason(err))
	}
	m, err := export.ReadManifest(data)
	if err != nil {
		return export.Manifest{}, fmt.Errorf("%s was not written by this program (%w): remove it, and build again", w.shown(name), err)
	}
	return m, nil
}

// replace puts a bundle in its folder. The list of files goes first and comes back last, so a
// folder without it is not whole.
func (w *writer) replace(b bundle, old export.Manifest) (removed int, err error) {
	manifest := path.Join(b.dir, export.ManifestName)
	for _, dir := range b.folders() {
		if err := w.root.MkdirAll(dir, 0o777); err != nil {
			return 0, fmt.Errorf("make the folder %s: %w", w.shown(dir), reason(err))
		}
	}
	if err := w.remove(manifest); err != nil {
		return 0, err
	}
	var last *export.File
	keep := map[string]bool{}
	for i, f := range b.files {
		keep[f.Name] = true
		if f.Name == export.ManifestName {
			last = &b.files[i]
			continue
		}
		if err := w.write(b.dir, f); err != nil {
			return 0, err
		}
	}
	for _, f := range old.Files {
		if keep[f.Name] {
			continue
		}
		gone, err := w.removeOld(path.Join(b.dir, f.Name))
		if err != nil {
			return removed, err
		}
		removed += gone
	}
	if last == nil {
		return removed, fmt.Errorf("%s: there is no list of files to write", w.shown(manifest))
	}
	return removed, w.write(b.dir, *last)
}

// write writes one file whole: under another name first, then renamed.
func (w *writer) write(dir string, f export.File) error {
	name, temp := path.Join(dir, f.Name), path.Join(dir, tempName)
	wrong := func(err error) error { return fmt.Errorf("write %s: %w", w.shown(name), reason(err)) }
	if err := w.create(temp, f.Bytes); err != nil {
		return wrong(err)
	}
	if err := w.root.Rename(temp, name); err != nil {
		return wrong(errors.Join(err, w.remove(temp)))
	}
	return nil
}

// create writes a new file; one of that name is left from a build that was cut off, and goes.
func (w *writer) create(name string, content []byte) error {
	f, err := w.root.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666)
	if errors.Is(err, fs.ErrExist) {
		if err = w.root.Remove(name); err == nil {
			f, err = w.root.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666)
		}
	}
	if err != nil {
		return err
	}
	_, err = f.Write(content)
	return cmp.Or(err, f.Close())
}

// removeOld removes a file of an earlier build, and its folder where that is empty now. What is
// there no more, or is something else by now, stays as it is.
func (w *writer) removeOld(name string) (removed int, err error) {
	if w.plain(path.Dir(name)) != nil {
		return 0, nil
	}
	info, err := w.root.Lstat(name)
	if err != nil || !info.Mode().IsRegular() {
		return 0, nil
	}
	if err := w.remove(name); err != nil {
		return 0, err
	}
	_ = w.root.Remove(path.Dir(name)) // succeeds only where it is empty, and matters to nobody
	return 1, nil
}

// remove removes a file that may not be there.
func (w *writer) remove(name string) error {
	if err := w.root.Remove(name); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return fmt.Errorf("remove %s: %w", w.shown(name), reason(err))
	}
	return nil
}

// reason is a system error without the path that the message around it names.
func reason(err error) error {
	if p := (*fs.PathError)(nil); errors.As(err, &p) {
		return p.Err
	}
	if l := (*os.LinkError)(nil); errors.As(err, &l) {
		return l.Err
	}
	return err
}

// replaceFile gives an existing file a new content at once: readers see the old one or the new. A
// link stays a link, the permissions stay, and the content is on the disk before it counts.
func replaceFile(name string, content []byte) error {
	target, err := filepath.EvalSymlinks(name)
	if err != nil {
		return fmt.Errorf("write %s: %w", name, reason(err))
	}
	info, err := os.Stat(target)
	if err != nil {
		return fmt.Errorf("write %s: %w", name, reason(err))
	}
	f, err := os.CreateTemp(filepath.Dir(target), ".towpath-*.tmp")
	if err != nil {
		return fmt.Errorf("write %s: %w", name, reason(err))
	}
	_, err = f.Write(content)
	err = cmp.Or(err, f.Chmod(info.Mode().Perm()), f.Sync())
	err = cmp.Or(err, f.Close())
	if err == nil {
		err = os.Rename(f.Name(), target)
	}
	if err != nil {
		return fmt.Errorf("write %s: %w", name, reason(errors.Join(err, os.Remove(f.Name()))))
	}
	return nil
}

// inputs lists the files that a plan was read from, as paths of this machine.
func (c *compiled) inputs() []string {
	var out []string
	for name := range c.texts {
		out = append(out, filepath.Join(c.root, filepath.FromSlash(name)))
	}
	slices.Sort(out)
	return out
}
