package diag

import (
	"bytes"
	"cmp"
	"fmt"
	"io"
	"slices"
	"strings"
)

// The layout of a printed diagnostic.
const (
	defaultWidth = 80 // columns
	narrowest    = 24 // columns; below, nothing could be laid out
	mostPrinted  = 50 // diagnostics printed
	relatedLimit = 5  // other places printed of one diagnostic
	fixLimit     = 12 // lines printed of one fix
	indent       = "   "
)

// TextOptions say how diagnostics are printed for a reader. The zero value prints 80 columns wide,
// without colour.
type TextOptions struct {
	Width  int                      // columns of the reader's terminal; 0: 80
	Color  bool                     // escapes for bold and red; nothing depends on seeing them
	Path   func(name string) string // how a file is named to the reader; nil: as it is
	Source func(key string) string  // how a source is cited, "" where it is not; nil: never
}

// WriteText prints a list of diagnostics, in its order, with the lines of the text that they speak
// of, and ends with their count. Of a list of more than 50 the gravest are printed. files holds the texts by name. What a coach wrote cannot reach the
// terminal as anything but letters. The error is the writer's.
func WriteText(w io.Writer, list List, files map[string][]byte, o TextOptions) error {
	p := newPrinter(files, o)
	shown := gravest(list, mostPrinted)
	for _, d := range shown {
		p.diagnostic(d)
		p.out.WriteByte('\n')
	}
	if n := len(list) - len(shown); n > 0 {
		p.line("%d more not shown; check --format json lists all", n)
	}
	p.line("%s", Counts(list))
	_, err := w.Write(p.out.Bytes())
	return err
}

// Counts tells in words how many errors, warnings and advices a list holds: "1 error, 2 warnings,
// 1 waived".
func Counts(list List) string {
	var n [Advice + 1]int
	waived := 0
	for _, d := range list {
		if d.Waived != nil {
			waived++
		} else {
			n[d.Severity]++
		}
	}
	var parts []string
	for _, c := range []struct {
		n         int
		one, many string
	}{
		{n[Error], "error", "errors"},
		{n[Warning], "warning", "warnings"},
		{n[Advice], "piece of advice", "pieces of advice"},
		{waived, "waived", "waived"},
	} {
		switch {
		case c.n == 1:
			parts = append(parts, "1 "+c.one)
		case c.n > 1:
			parts = append(parts, fmt.Sprintf("%d %s", c.n, c.many))
		}
	}
	if parts == nil {
		return "no findings"
	}
	return strings.Join(parts, ", ")
}

// gravest picks at most limit diagnostics, errors before warnings before advice before what was
// waived, and leaves them in the order of the list.
func gravest(list List, limit int) List {
	if len(list) <= limit {
		return list
	}
	rank := func(i int) int {
		if list[i].Waived != nil {
			return int(Advice) + 1
		}
		return int(list[i].Severity)
	}
	order := make([]int, len(list))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return rank(a) - rank(b) })
	order = order[:limit]
	slices.Sort(order)
	out := make(List, limit)
	for i, n := range order {
		out[i] = list[n]
	}
	return out
}

type printer struct {
	texts
	out   bytes.Buffer
	o     TextOptions
	width int
}

func newPrinter(files map[string][]byte, o TextOptions) *printer {
	return &printer{texts: newTexts(files), o: o, width: max(narrowest, cmp.Or(o.Width, defaultWidth))}
}

func (p *printer) line(format string, args ...any) {
	fmt.Fprintf(&p.out, format+"\n", args...)
}

// wrapped prints a text between the indent and the width.
func (p *printer) wrapped(indent, text string) {
	for _, l := range Wrap(text, p.width-len(indent)) {
		p.line("%s", strings.TrimRight(indent+l, " "))
	}
}

func (p *printer) diagnostic(d Diagnostic) {
	place := p.place(d.Subject)
	if place != "" {
		place += ": "
	}
	if d.Waived != nil {
		p.line("%s%s, waived: %s%s", place, d.Severity, Printable(d.Summary), bracketed(d.Code))
		p.wrapped(indent, "reason: "+d.Waived.Reason)
		return
	}
	p.line("%s%s: %s%s", place, p.paint(d.Severity, d.Severity.String()), Printable(d.Summary), bracketed(d.Code))

	related := d.Related[:min(len(d.Related), relatedLimit)]
	gutter := p.gutter(d.Subject, related)
	p.snippet(d.Subject, gutter, d.Severity)
	if detail := d.Detail; detail != "" {
		if d.Fix != nil && len(d.Fix.Edits) == 1 { // printed below, as a whole line
			detail = strings.TrimSuffix(detail, "Write "+d.Fix.Edits[0].Text+".")
		}
		p.wrapped(indent, detail)
	}
	for _, r := range related {
		if place := p.place(r.Range); place != "" {
			p.wrapped(indent, place+": "+r.Message)
			p.sourceLine(r.Range, gutter)
		} else {
			p.wrapped(indent, r.Message)
		}
	}
	if n := len(d.Related) - len(related); n > 0 {
		places := "places"
		if n == 1 {
			places = "place"
		}
		p.line("%sand %d more such %s", indent, n, places)
	}
	if d.Fix != nil {
		p.fix(d.Fix, d.Subject)
	}
	p.source(indent, d.SourceKey)
}

func (p *printer) source(indent, key string) {
	if key == "" || p.o.Source == nil {
		return
	}
	if cited := p.o.Source(key); cited != "" {
		p.wrapped(indent, "source: "+cited)
	}
}

func bracketed(code string) string {
	if code == "" {
		return ""
	}
	return " [" + Printable(code) + "]"
}

// place names a position as editors and terminals understand it, "" for the zero range.
func (p *printer) place(r Range) string {
	at := p.jsonRange(r)
	if at == nil {
		return ""
	}
	name := at.File
	if p.o.Path != nil {
		name = p.o.Path(name)
	}
	name = Printable(name)
	if _, known := p.files[r.Filename]; !known && r.Start == r.End {
		return name // a folder, or a file as a whole
	}
	return fmt.Sprintf("%s:%d:%d", name, at.Start.Line, at.Start.Column)
}

// paint sets a word apart on terminals with colour: errors in bold red, the rest in bold.
func (p *printer) paint(s Severity, word string) string {
	switch {
	case !p.o.Color:
		return word
	case s == Error:
		return "\x1b[1;31m" + word + "\x1b[0m"
	}
	return "\x1b[1m" + word + "\x1b[0m"
}

// gutter is how many columns the line numbers of a diagnostic take.
func (p *printer) gutter(subject Range, related []Related) int {
	n := 2
	for _, r := range append([]Related{{Range: subject}}, related...) {
		if at := p.jsonRange(r.Range); at != nil {
			n = max(n, len(fmt.Sprint(at.Start.Line)))
		}
	}
	return n
}

// snippet prints the line in which r begins, with a marker under it.
func (p *printer) snippet(r Range, gutter int, s Severity) {
	if _, ok := p.files[r.Filename]; !ok || r.Filename == "" {
		return
	}
	n, text, marker := p.excerpt(r, gutter)
	p.line("%*s |", gutter, "")
	p.line("%s", strings.TrimRight(fmt.Sprintf("%*d | %s", gutter, n, text), " "))
	space := marker[:strings.IndexByte(marker, '^')]
	p.line("%*s | %s%s", gutter, "", space, p.paint(s, marker[len(space):]))
}

// sourceLine prints the line in which r begins.
func (p *printer) sourceLine(r Range, gutter int) {
	if _, ok := p.files[r.Filename]; ok {
		n, text, _ := p.excerpt(r, gutter)
		p.line("%s", strings.TrimRight(fmt.Sprintf("%*d | %s", gutter, n, text), " "))
	}
}

// excerpt gives the line in which r begins, its number, and a line of the same width with "^" under
// what r covers of it.
func (p *printer) excerpt(r Range, gutter int) (n int, text, marker string) {
	at := p.position(r.Filename, r.Start.Byte)
	start, end := p.lineAt(r.Filename, at.Byte)
	from := max(at.Byte, start) - start
	to := min(max(p.position(r.Filename, r.End.Byte).Byte, at.Byte), end) - start
	text, marker = excerpt(string(p.files[r.Filename][start:end]), from, to, p.width-gutter-len(" | "))
	return at.Line, text, marker
}

// excerpt lays out one line of source: printable, tabs as spaces, cut to limit columns around the
// bytes from..to, and the marker for them. The marker has at least one "^".
func excerpt(line string, from, to, limit int) (text, marker string) {
	var cells []string // one for each column or wide character
	first, last := -1, -1
	at, column := 0, 0
	for _, c := range clusters(line) {
		shown := Printable(c)
		if c == "\t" {
			shown = strings.Repeat(" ", tabStop-column%tabStop)
		}
		if first < 0 && at+len(c) > from {
			first = column
		}
		w := Columns(shown)
		if at < to {
			last = column + w
		}
		cells, at, column = append(cells, shown), at+len(c), column+w
	}
	if first < 0 {
		first = column
	}
	last = max(last, first+1)
	skip := 0
	if column > limit {
		skip = max(0, min(first-limit/3, column-limit))
	}
	text, skip = window(cells, skip, limit)
	first, last = min(max(0, first-skip), limit-1), min(last-skip, limit)
	return text, strings.Repeat(" ", first) + strings.Repeat("^", max(1, last-first))
}

// window shows the columns of cells from skip on, at most limit of them, with an ellipsis for what
// is left out on either side. It may skip one column more, to begin with a whole character.
func window(cells []string, skip, limit int) (string, int) {
	rest, column := cells, 0
	for skip > 0 && len(rest) > 0 && column < skip+1 { // one more makes room for the ellipsis
		column += Columns(rest[0])
		rest = rest[1:]
	}
	if column == 0 {
		return Clip(strings.Join(rest, ""), limit), 0
	}
	return "…" + Clip(strings.Join(rest, ""), limit-1), column - 1
}
