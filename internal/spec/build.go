package spec

import (
	"fmt"
	"path"
	"slices"
	"strings"

	"github.com/hashicorp/hcl/v2"

	"towpath/internal/diag"
	"towpath/internal/syntax"
	"towpath/internal/units"
)

// The build files turn decoded blocks into the typed specification, and hold what is written in
// one block against the rest of that block.

// get is the value of a name; one that is missing or could not be read points at the header.
func get[T any](n *node, name string) Value[T] {
	it, ok := n.items[name]
	if !ok || it.word {
		return Value[T]{Range: n.Header}
	}
	v, ok := it.v.(T)
	if !ok {
		return Value[T]{Range: n.Header}
	}
	return Value[T]{V: v, Range: it.at, Set: true}
}

// many is the values of a list.
func many[T any](n *node, name string) []Value[T] {
	var out []Value[T]
	for _, it := range get[[]item](n, name).V {
		if v, ok := it.v.(T); ok {
			out = append(out, Value[T]{V: v, Range: it.at, Set: true})
		}
	}
	return out
}

// weeks are the numbers of a list of weeks, where "last" is the last week of the block at hand.
func (d *decoder) weeks(n *node, name string) Value[[]int] {
	written := get[[]span](n, name)
	out := Value[[]int]{Range: written.Range}
	for _, s := range written.V {
		if s.low == 0 {
			s.low = d.lastWeek
		}
		if s.high == 0 {
			s.high = max(s.low, d.lastWeek)
		}
		if s.low == 0 {
			continue // the block's length could not be read
		}
		for week := s.low; week <= s.high; week++ {
			if slices.Contains(out.V, week) {
				detail := "Name each week once."
				if week == d.lastWeek {
					detail = fmt.Sprintf("The block's last week is week %d. %s", week, detail)
				}
				d.refuse(n, codeDoubleName, out.Range, fmt.Sprintf("%s names week %d twice", name, week), detail)
				return Value[[]int]{Range: written.Range}
			}
			out.V, out.Set = append(out.V, week), true
		}
	}
	slices.Sort(out.V)
	return out
}

// says tells whether a name holds a word in place of its value: share = "rest".
func says(n *node, name, word string) bool {
	it := n.items[name]
	return it.word && it.v == word
}

// place is where a name's value stands, or where the name stands if that could not be read.
func (n *node) place(name string) hcl.Range {
	if it, ok := n.items[name]; ok {
		return it.at
	}
	if at, ok := n.written[name]; ok {
		return at
	}
	return n.Header
}

// exclusive reports names that cannot stand together, if more than one of them is written.
func (d *decoder) exclusive(n *node, detail string, names ...string) {
	first := ""
	for _, name := range names {
		switch {
		case !n.wrote(name):
		case first == "":
			first = name
		default:
			d.refuse(n, codeOneOf, n.written[name], fmt.Sprintf("%s and %s cannot stand together", first, name), detail, diagRelated(first+" stands here", n.written[first]))
			return
		}
	}
}

// needsOne wants at least one of some names.
func (d *decoder) needsOne(n *node, summary, detail string, names ...string) {
	for _, name := range names {
		if n.wrote(name) {
			return
		}
	}
	if !n.Broken {
		d.refuse(n, codeOneOf, n.Header, summary, detail)
	}
}

// notEmpty wants an entry at least in a list that is written.
func (d *decoder) notEmpty(n *node, name string, entries int, summary, detail string) {
	if n.wrote(name) && entries == 0 && !n.Broken {
		d.refuse(n, codeOneOf, n.place(name), summary, detail)
	}
}

// ordered reports two durations of which the first must not be above the second.
func (d *decoder) ordered(n *node, low, high string) {
	a, b := get[units.Duration](n, low), get[units.Duration](n, high)
	if a.Set && b.Set && a.V > b.V {
		d.refuse(n, codeOutOfRange, b.Range, fmt.Sprintf("%s = %s is below %s = %s", high, quoted(b.V.String()), low, quoted(a.V.String())), "Change one of the two.", diagRelated(low+" stands here", a.Range))
	}
}

// namedOnce refuses a list that names the same thing twice.
func namedOnce[T comparable](d *decoder, n *node, list []Value[T], shown func(T) string) {
	for i, v := range list {
		if first := slices.IndexFunc(list[:i], func(e Value[T]) bool { return e.V == v.V }); first >= 0 {
			diagnostic := d.diagnostic(codeDoubleName, v.Range, shown(v.V)+" is named twice", "Keep one of the two.")
			diagnostic.Related = []diag.Related{diagRelated("the first one", list[first].Range)}
			gap := hcl.Range{Filename: v.Range.Filename, Start: list[i-1].Range.End, End: v.Range.Start}
			if strings.TrimSpace(string(d.source(gap))) == "," {
				gap.End = v.Range.End
				diagnostic.Fix = &diag.Fix{Title: "Take the second one out", Edits: []diag.Edit{{Range: gap}}}
			}
			d.diags.Add(diagnostic)
			n.Broken = true
		}
	}
}

// references are the blocks that a list names: one at least, each once.
func (d *decoder) references(n *node, name string) []Value[Ref] {
	out := many[Ref](n, name)
	detail := "Name one at least, or leave the line out."
	if row := n.block.name(name); row != nil && row.Required {
		detail = fmt.Sprintf("Name one at least, such as %s = %s.", name, row.Example)
	}
	d.notEmpty(n, name, len(out), name+" names nobody", detail)
	namedOnce(d, n, out, Ref.String)
	return out
}

func (r Ref) String() string { return r.Kind + "." + r.Key }

// root decodes the names of the top level.
func (d *decoder) root(out *Spec) {
	var language, id *node
	var first *syntax.File
	misspelt := map[string]bool{}
	for _, f := range d.in.Files {
		if f.Library || f.Body == nil {
			continue
		}
		if first == nil {
			first = f
		}
		if f.Broken {
			continue
		}
		n := newNode(Language(), Label{Header: topOf(f)}, f)
		n.names = f.Body.Attributes
		for _, a := range syntax.InOrder(f.Body.Attributes) {
			if a.Name == "include" {
				continue // source has read it, and told of its mistakes
			}
			d.attribute(n, a, misspelt)
		}
		language = d.once(language, n, "language")
		id = d.once(id, n, "id")
	}
	if first == nil {
		return
	}
	out.Language, out.ID = Value[int]{Range: topOf(first)}, Value[string]{Range: topOf(first)}
	if language != nil {
		out.Language = get[int](language, "language")
	} else if !d.broken && !misspelt["language"] {
		fix := &diag.Fix{Title: "Add language = 1", Edits: []diag.Edit{{Range: start(first), Text: fmt.Sprintf("language = %d\n", languageVersion)}}}
		d.reportFix(codeMissingValue, topOf(first), "The plan does not say its language", fmt.Sprintf("Write language = %d once, in any of its files.", languageVersion), fix)
	}
	if id != nil {
		out.ID = get[string](id, "id")
	} else if !d.broken && !misspelt["id"] {
		line := fmt.Sprintf("id = %q", d.madeUpID())
		fix := &diag.Fix{Title: "Add " + line, Edits: []diag.Edit{{Range: start(first), Text: line + "\n"}}}
		d.reportFix(codeMissingValue, topOf(first), "The plan has no id", "Write one once, in any of its files: eight small letters and digits, made up, such as "+line+". Calendar entries are recognised by it, so it must never change.", fix)
	}
}

// once keeps the first of two files that set a name which a plan sets once. An included folder may
// say the language again.
func (d *decoder) once(first, n *node, name string) *node {
	switch {
	case !n.wrote(name):
		return first
	case first == nil:
		return n
	case name == "language" && path.Dir(first.file.Name) != path.Dir(n.file.Name):
		return first
	}
	d.report(codeDoubleName, n.written[name], fmt.Sprintf("The plan says its %s twice", name), "Keep one of the two.", diagRelated("the first one", first.written[name]))
	return first
}

// topOf is the first word of a file, where what the file lacks is reported.
func topOf(f *syntax.File) hcl.Range {
	var words []hcl.Range
	for _, b := range f.Body.Blocks {
		words = append(words, b.TypeRange)
	}
	for _, a := range f.Body.Attributes {
		words = append(words, a.NameRange)
	}
	if len(words) == 0 {
		return start(f)
	}
	return slices.MinFunc(words, func(a, b hcl.Range) int { return a.Start.Byte - b.Start.Byte })
}

// start is the place before the first letter of a file.
func start(f *syntax.File) hcl.Range {
	return hcl.Range{Filename: f.Name, Start: hcl.InitialPos, End: hcl.InitialPos}
}
