package diag

import (
	"bytes"
	"cmp"
	"fmt"
	"slices"
	"strings"
)

// fix prints what a text should read after the edits: whole lines, so that they can be typed.
func (p *printer) fix(f *Fix, subject Range) {
	groups := p.rewritten(f.Edits)
	here := 0
	if at := p.jsonRange(subject); at != nil {
		here = at.Start.Line
	}
	long := len(groups) > 1 || len(groups) == 1 && strings.Contains(groups[0].after, "\n")
	if long && f.Title != "" {
		p.wrapped(indent, f.Title+":")
	}
	for i, g := range groups {
		if i == fixLimit {
			p.line("%s… %d more lines", indent, len(groups)-i)
			break
		}
		where := ""
		switch {
		case g.file != subject.Filename:
			where = " in " + p.place(g.at)
		case g.line != here:
			where = fmt.Sprintf(" in line %d", g.line)
		}
		lines := dedented(g.after)
		switch {
		case len(lines) == 0:
			p.line("%sremove%s: %s", indent, where, Printable(strings.Join(strings.Fields(g.before), " ")))
		case len(lines) == 1:
			p.line("%swrite%s: %s", indent, where, lines[0])
		default:
			p.line("%swrite%s:", indent, where)
			for _, l := range lines[:min(len(lines), fixLimit)] {
				p.line("%s", strings.TrimRight(indent+"    "+l, " "))
			}
			if n := len(lines) - fixLimit; n > 0 {
				p.line("%s    … %d more lines", indent, n)
			}
		}
	}
}

// rewrite is a run of lines before and after edits.
type rewrite struct {
	file          string
	at            Range
	line          int
	before, after string
}

// rewritten applies edits and gives the lines that they touch. Edits of texts that are not at hand,
// or that overlap, are given as they stand.
func (p *printer) rewritten(edits []Edit) []rewrite {
	edits = slices.Clone(edits)
	slices.SortStableFunc(edits, func(a, b Edit) int {
		return cmp.Or(cmp.Compare(a.Range.Filename, b.Range.Filename), cmp.Compare(a.Range.Start.Byte, b.Range.Start.Byte))
	})
	var out []rewrite
	for i := 0; i < len(edits); {
		e := edits[i]
		src, known := p.files[e.Range.Filename]
		if !known || e.Range.Start.Byte > len(src) || e.Range.Start.Byte < 0 {
			out = append(out, rewrite{file: e.Range.Filename, at: e.Range, line: e.Range.Start.Line, after: e.Text})
			i++
			continue
		}
		start, _ := p.lineAt(e.Range.Filename, e.Range.Start.Byte)
		g := rewrite{file: e.Range.Filename, at: e.Range, line: p.position(e.Range.Filename, e.Range.Start.Byte).Line}
		var after bytes.Buffer
		done, end := start, start
		for first := true; i < len(edits) && edits[i].Range.Filename == g.file; i++ {
			from := max(edits[i].Range.Start.Byte, start)
			if !first && (from < done || from > end) {
				break // overlaps, or stands in a later line
			}
			first = false
			to := min(max(from, edits[i].Range.End.Byte), len(src))
			after.Write(src[done:from])
			after.WriteString(edits[i].Text)
			_, end = p.lineAt(e.Range.Filename, to)
			done, end = to, max(end, to)
		}
		after.Write(src[done:end])
		g.before, g.after = string(src[start:end]), after.String()
		out = append(out, g)
	}
	return out
}

// dedented cuts a text into printable lines without the indentation that they share, and without
// empty lines at either end.
func dedented(text string) []string {
	lines := strings.Split(strings.ReplaceAll(text, "\t", strings.Repeat(" ", tabStop)), "\n")
	blank := func(l string) bool { return strings.TrimSpace(l) == "" }
	for len(lines) > 0 && blank(lines[0]) {
		lines = lines[1:]
	}
	for len(lines) > 0 && blank(lines[len(lines)-1]) {
		lines = lines[:len(lines)-1]
	}
	shared := -1
	for _, l := range lines {
		if n := len(l) - len(strings.TrimLeft(l, " ")); !blank(l) && (shared < 0 || n < shared) {
			shared = n
		}
	}
	for i, l := range lines {
		lines[i] = Printable(strings.TrimRight(l[min(max(shared, 0), len(l)):], " \r"))
	}
	return lines
}
