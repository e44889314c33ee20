package diag

import (
	"bytes"
	"slices"
	"unicode/utf8"
)

var byteOrderMark = []byte("\uFEFF")

// texts are the texts that a list speaks of, with the beginnings of their lines: a list may be as
// long as a text.
type texts struct {
	files map[string][]byte
	lines map[string][]int // bytes at which lines begin, by name; filled when first asked for
}

func newTexts(files map[string][]byte) texts { return texts{files, map[string][]int{}} }

func (t texts) starts(name string) []int {
	if starts, ok := t.lines[name]; ok {
		return starts
	}
	starts := []int{0}
	for i, b := range t.files[name] {
		if b == '\n' {
			starts = append(starts, i+1)
		}
	}
	t.lines[name] = starts
	return starts
}

// jsonRange gives the form for programs of a range, nil for the zero range.
func (t texts) jsonRange(r Range) *JSONRange {
	if r.Filename == "" {
		return nil
	}
	if _, ok := t.files[r.Filename]; ok {
		return &JSONRange{
			File:  r.Filename,
			Start: t.position(r.Filename, r.Start.Byte),
			End:   t.position(r.Filename, max(r.Start.Byte, r.End.Byte)),
		}
	}
	return &JSONRange{
		File:  r.Filename,
		Start: JSONPos{max(1, r.Start.Line), max(1, r.Start.Column), r.Start.Byte},
		End:   JSONPos{max(1, r.End.Line), max(1, r.End.Column), r.End.Byte},
	}
}

// position counts the lines and the code points before a byte of a text. A byte outside the text
// counts as the nearest one inside, and the inside of a code point as its beginning.
func (t texts) position(name string, at int) JSONPos {
	src := t.files[name]
	at = min(max(at, 0), len(src))
	for at > 0 && at < len(src) && !utf8.RuneStart(src[at]) {
		at--
	}
	starts := t.starts(name)
	line, found := slices.BinarySearch(starts, at)
	if !found {
		line--
	}
	before := src[starts[line]:at]
	if line == 0 {
		before = bytes.TrimPrefix(before, byteOrderMark)
	}
	return JSONPos{Line: line + 1, Column: utf8.RuneCount(before) + 1, Byte: at}
}

// lineAt gives the bytes of the line around at: without its end, and without a byte order mark.
func (t texts) lineAt(name string, at int) (start, end int) {
	src, starts := t.files[name], t.starts(name)
	line := t.position(name, at).Line - 1
	start, end = starts[line], len(src)
	if line+1 < len(starts) {
		end = starts[line+1] - 1
	}
	if line == 0 && bytes.HasPrefix(src, byteOrderMark) {
		start = len(byteOrderMark)
	}
	if end > start && src[end-1] == '\r' {
		end--
	}
	return start, end
}
