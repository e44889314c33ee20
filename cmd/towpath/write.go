package main

import (
	"bytes"
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

// The names of what a build that was cut off may leave in a folder; the next build clears it up.
const (
	tempName = ".towpath.tmp" // a file until it is whole
	newName  = ".towpath.new" // the list of the files that are being written, until they all are
	oldName  = ".towpath.old" // the list of files of the build before, until then
)

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

// folders lists the folders that the files of a bundle lie in, from the output folder, each after
// the one that holds it.
func (b bundle) folders() []string {
	var out []string
	for _, f := range b.files {
		if dir := path.Dir(path.Join(b.dir, f.Name)); !slices.Contains(out, dir) {
			out = append(out, dir)
		}
	}
	slices.Sort(out)
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
	for _, name := range inputs {
		if info, err := os.Stat(name); err == nil {
			w.inputs = append(w.inputs, info)
		}
	}
	before := make([]lists, len(bundles))
	for i, b := range bundles {
		if err := w.refuse(b); err != nil {
			return nil, err
		}
		if before[i], err = w.lists(b.dir); err != nil {
			return nil, err
		}
	}
	var done []written
	for i, b := range bundles {
		removed, err := w.replace(b, before[i])
		if err != nil {
			return done, err
		}
		done = append(done, written{filepath.Join(out, filepath.FromSlash(b.dir)), b.what(), removed})
	}
	return done, nil
}

type writer struct {
	out    string
	root   *os.Root
	inputs []fs.FileInfo // the files of the plan
}

// shown is a name below the output folder as the reader knows it.
func (w *writer) shown(name string) string { return filepath.Join(w.out, filepath.FromSlash(name)) }

// refuse finds what stands in the way of a bundle: files of the plan, links, folders where a file
// belongs.
func (w *writer) refuse(b bundle) error {
	for _, dir := range b.folders() {
		if err := w.plain(dir); err != nil {
			return err
		}
		folder, err := w.root.OpenRoot(dir)
		if errors.Is(err, fs.ErrNotExist) {
			continue
		}
		if err != nil {
			return fmt.Errorf("open the folder %s: %w", w.shown(dir), reason(err))
		}
		err = w.refuseIn(folder, b, dir)
		folder.Close() // it was only read
		if err != nil {
			return err
		}
	}
	return nil
}

func (w *writer) refuseIn(folder *os.Root, b bundle, dir string) error {
	for _, f := range b.files {
		name := path.Join(b.dir, f.Name)
		if path.Dir(name) != dir {
			continue
		}
		info, err := folder.Lstat(path.Base(name))
		switch {
		case errors.Is(err, fs.ErrNotExist):
			continue
		case err != nil:
			return fmt.Errorf("look at %s: %w", w.shown(name), reason(err))
		case !info.Mode().IsRegular():
			return fmt.Errorf("%s is no ordinary file: move it away, and build again", w.shown(name))
		}
		for _, input := range w.inputs {
			if os.SameFile(info, input) {
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

// lists is what earlier builds left in a folder.
type lists struct {
	old    export.Manifest // the files of the last build that came to its end
	cutOff export.Manifest // the files that a later build was about to write when it was cut off
}

func (w *writer) lists(dir string) (l lists, err error) {
	found := false
	if l.old, found, err = w.manifest(path.Join(dir, export.ManifestName)); err == nil && !found {
		l.old, _, err = w.manifest(path.Join(dir, oldName))
	}
	if err == nil {
		l.cutOff, _, err = w.manifest(path.Join(dir, newName))
	}
	return l, err
}

// manifest reads a list of files, empty where there is none.
func (w *writer) manifest(name string) (m export.Manifest, found bool, err error) {
	data, err := w.root.ReadFile(name)
	if errors.Is(err, fs.ErrNotExist) {
		return export.Manifest{}, false, nil
	}
	if err != nil {
		return export.Manifest{}, false, fmt.Errorf("read %s: %w", w.shown(name), reason(err))
	}
	if m, err = export.ReadManifest(data); err != nil {
		return m, false, fmt.Errorf("%s was not written by this program (%w): remove it, and build again", w.shown(name), err)
	}
	return m, true, nil
}

// replace puts a bundle in its folder. The list of files goes first and comes back last, so a
// folder without it is not whole; until then the old list and the new one are kept beside the
// files, so that a build that is cut off leaves nothing that the next one does not know.
func (w *writer) replace(b bundle, before lists) (removed int, err error) {
	keep := map[string]*export.File{}
	for i := range b.files {
		keep[b.files[i].Name] = &b.files[i]
	}
	list := keep[export.ManifestName]
	if list == nil {
		return 0, fmt.Errorf("%s: there is no list of files to write", w.shown(path.Join(b.dir, export.ManifestName)))
	}
	for _, f := range before.cutOff.Files {
		if name := path.Join(b.dir, f.Name); keep[f.Name] == nil && w.holds(name, f.SHA256) {
			gone, err := w.removeOld(name)
			if err != nil {
				return removed, err
			}
			removed += gone
		}
	}
	for _, dir := range b.folders() {
		if err := w.fill(dir, b, list); err != nil {
			return removed, err
		}
	}
	for _, f := range before.old.Files {
		if keep[f.Name] != nil {
			continue
		}
		gone, err := w.removeOld(path.Join(b.dir, f.Name))
		if err != nil {
			return removed, err
		}
		removed += gone
	}
	folder, err := w.root.OpenRoot(b.dir)
	if err == nil {
		defer folder.Close()
		err = folder.Rename(newName, export.ManifestName)
	}
	if err != nil {
		return removed, fmt.Errorf("write %s: %w", w.shown(path.Join(b.dir, export.ManifestName)), reason(err))
	}
	return removed, w.remove(folder, b.dir, oldName)
}

// fill writes those files of a bundle that belong into dir itself. The bundle's own folder comes
// first and gets the lists before anything else.
func (w *writer) fill(dir string, b bundle, list *export.File) error {
	if err := w.root.MkdirAll(dir, 0o777); err != nil {
		return fmt.Errorf("make the folder %s: %w", w.shown(dir), reason(err))
	}
	folder, err := w.root.OpenRoot(dir)
	if err != nil {
		return fmt.Errorf("open the folder %s: %w", w.shown(dir), reason(err))
	}
	defer folder.Close()
	if err := w.remove(folder, dir, tempName); err != nil {
		return err
	}
	if dir == b.dir {
		if err := w.write(folder, dir, newName, list.Bytes); err != nil {
			return err
		}
		if err := folder.Rename(export.ManifestName, oldName); err != nil && !errors.Is(err, fs.ErrNotExist) {
			return fmt.Errorf("move %s away: %w", w.shown(path.Join(dir, export.ManifestName)), reason(err))
		}
	}
	for _, f := range b.files {
		if path.Dir(path.Join(b.dir, f.Name)) != dir || f.Name == export.ManifestName {
			continue
		}
		if err := w.write(folder, dir, path.Base(f.Name), f.Bytes); err != nil {
			return err
		}
	}
	return nil
}

// write writes one file whole, under another name first and then renamed, unless its content stands
// there already.
func (w *writer) write(folder *os.Root, dir, name string, content []byte) error {
	if now, err := folder.ReadFile(name); err == nil && bytes.Equal(now, content) {
		return nil
	}
	wrong := func(err error) error {
		return fmt.Errorf("write %s: %w", w.shown(path.Join(dir, name)), reason(err))
	}
	if err := create(folder, tempName, content); err != nil {
		return wrong(err)
	}
	if err := folder.Rename(tempName, name); err != nil {
		return wrong(errors.Join(err, w.remove(folder, dir, tempName)))
	}
	return nil
}

// create writes a file that is not there yet.
func create(folder *os.Root, name string, content []byte) error {
	f, err := folder.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666)
	if err != nil {
		return err
	}
	_, err = f.Write(content)
	return cmp.Or(err, f.Close())
}

// holds reports whether a file has the content that a list says.
func (w *writer) holds(name, sum string) bool {
	if info, err := w.root.Lstat(name); err != nil || !info.Mode().IsRegular() {
		return false
	}
	data, err := w.root.ReadFile(name)
	return err == nil && export.NewManifest([]export.File{{Name: name, Bytes: data}}).Files[0].SHA256 == sum
}

// removeOld removes a file of an earlier build, and its folder where that is empty now. What is
// there no more, or is something else by now, stays as it is.
func (w *writer) removeOld(name string) (removed int, err error) {
	if w.plain(path.Dir(name)) != nil {
		return 0, nil
	}
	if info, err := w.root.Lstat(name); err != nil || !info.Mode().IsRegular() {
		return 0, nil
	}
	if err := w.root.Remove(name); err != nil {
		return 0, fmt.Errorf("remove %s: %w", w.shown(name), reason(err))
	}
	_ = w.root.Remove(path.Dir(name)) // succeeds only where it is empty, and matters to nobody
	return 1, nil
}

// remove removes a file of a folder that may not be there.
func (w *writer) remove(folder *os.Root, dir, name string) error {
	if err := folder.Remove(name); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return fmt.Errorf("remove %s: %w", w.shown(path.Join(dir, name)), reason(err))
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
