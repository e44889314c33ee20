package source

import (
	"bytes"
	"io/fs"
	"maps"
	"path"
	"slices"
	"strings"
	"time"
)

// Overlay gives fsys with some files' text replaced or added, such as the unsaved text of an
// editor. Names are paths from the root, with "/". A text added to a folder shows in fs.ReadDir,
// which is how this package lists folders.
func Overlay(fsys fs.FS, texts map[string][]byte) fs.FS {
	return overlay{fsys, maps.Clone(texts)}
}

type overlay struct {
	fsys  fs.FS
	texts map[string][]byte
}

func (o overlay) Open(name string) (fs.File, error) {
	if text, ok := o.texts[name]; ok {
		return &textFile{text: textInfo{path.Base(name), int64(len(text))}, Reader: bytes.NewReader(text)}, nil
	}
	return o.fsys.Open(name)
}

func (o overlay) Stat(name string) (fs.FileInfo, error) {
	if text, ok := o.texts[name]; ok {
		return textInfo{path.Base(name), int64(len(text))}, nil
	}
	return fs.Stat(o.fsys, name)
}

// ReadDir lists the folder with the texts that are to stand in it.
func (o overlay) ReadDir(name string) ([]fs.DirEntry, error) {
	entries, err := fs.ReadDir(o.fsys, name)
	if err != nil {
		return nil, err
	}
	byName := map[string]fs.DirEntry{}
	for _, e := range entries {
		byName[e.Name()] = e
	}
	for file, text := range o.texts {
		if path.Dir(file) == path.Clean(name) {
			byName[path.Base(file)] = fs.FileInfoToDirEntry(textInfo{path.Base(file), int64(len(text))})
		}
	}
	return slices.SortedFunc(maps.Values(byName), func(a, b fs.DirEntry) int {
		return strings.Compare(a.Name(), b.Name())
	}), nil
}

// textFile is an open text of an overlay.
type textFile struct {
	text textInfo
	*bytes.Reader
}

func (f *textFile) Stat() (fs.FileInfo, error) { return f.text, nil }
func (f *textFile) Close() error               { return nil }

type textInfo struct {
	name string
	size int64
}

func (i textInfo) Name() string       { return i.name }
func (i textInfo) Size() int64        { return i.size }
func (i textInfo) Mode() fs.FileMode  { return 0o444 }
func (i textInfo) ModTime() time.Time { return time.Time{} }
func (i textInfo) IsDir() bool        { return false }
func (i textInfo) Sys() any           { return nil }
