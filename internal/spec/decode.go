package spec

import (
	"fmt"
	"strings"

	"github.com/hashicorp/hcl/v2"
	"github.com/hashicorp/hcl/v2/hclsyntax"

	"towpath/internal/diag"
	"towpath/internal/syntax"
)

// Input is what Decode works on.
type Input struct {
	Files []*syntax.File // the library's files first, then the plan's and its includes'
	// ReadData reads a data file that a plan's file names; the name is its path from the root.
	ReadData func(from *syntax.File, path string) (data []byte, name string, err error)
	// Partial is true where a file of the plan could not be read: what seems to be missing may stand
	// there.
	Partial bool
}

// decoder holds what the steps of one decoding share.
type decoder struct {
	in       Input
	diags    diag.List
	bytes    map[string][]byte // by file name
	labels   map[Ref]*Label    // all blocks that a reference can name
	lets     map[string]*let
	letOrder []*let
	letStack []*let
	loops    int                 // rounds of for so far
	work     int                 // expressions computed so far
	made     int                 // bytes of texts put together so far
	searches int                 // searches for a nearest word so far
	byKind   map[string][]string // keys of labels, sorted, once labels are complete
	lastWeek int                 // of the block that is being built, 0 where unknown
	broken   bool                // some file is not there or has syntax errors: what is missing may stand in the unread part
}

// Decode reads the files as one specification: labels and let values first, since blocks may name
// what stands further down or in another file; then each block by the table of the language; last
// the typed structs.
//
// Files with syntax errors are not decoded, since most of what could be said of them would be an
// echo of those errors. Their labels count as existing.
func Decode(in Input) (*Spec, diag.List) {
	d := &decoder{in: in, bytes: map[string][]byte{}, labels: map[Ref]*Label{}, lets: map[string]*let{}, broken: in.Partial}
	for _, f := range in.Files {
		d.bytes[f.Name] = f.Bytes
		d.broken = d.broken || f.Broken || f.Body == nil
	}
	out := &Spec{}
	if d.newerLanguage() {
		out.Broken = true
		return out, d.diags.Sorted()
	}
	extra := d.collect()
	d.sortKeys()
	for _, l := range d.letOrder {
		d.compute(l)
	}
	d.root(out)
	for _, f := range in.Files {
		if f.Body == nil || f.Broken {
			continue
		}
		for _, b := range f.Body.Blocks {
			d.topBlock(out, f, b, extra[b])
		}
	}
	d.checkRosters(out)
	out.Broken = d.broken || d.diags.HasErrors()
	return out, d.diags.Sorted()
}

// newerLanguage looks first for the version of the language: a plan of a newer one would earn
// nothing but echoes.
func (d *decoder) newerLanguage() bool {
	for _, f := range d.in.Files {
		if f.Body == nil {
			continue
		}
		a := f.Body.Attributes["language"]
		if a == nil {
			continue
		}
		lit, ok := a.Expr.(*hclsyntax.LiteralValueExpr)
		if !ok {
			continue
		}
		if v := keyValue(lit.Val); v.form == number && v.number > languageVersion {
			d.report(codeLanguage, lit.SrcRange, fmt.Sprintf("The plan is written in version %s of the language", spell(v.number)),
				fmt.Sprintf("This program reads version %d. A newer one is needed for this plan.", languageVersion))
			return true
		}
	}
	return false
}

// collect gathers what can be named from elsewhere: labels and values of let. It gives the blocks
// that repeat a label, which are checked but not used.
func (d *decoder) collect() map[*hclsyntax.Block]bool {
	extra := map[*hclsyntax.Block]bool{}
	for _, f := range d.in.Files {
		if f.Body == nil {
			continue
		}
		for _, b := range f.Body.Blocks {
			if b.Type == letBlock.Kind {
				d.collectLets(b, f.Broken)
				continue
			}
			t := language.block(b.Type)
			if t == nil || t.Label != KeyLabel || len(b.Labels) == 0 {
				continue
			}
			ref, label := Ref{t.Kind, b.Labels[0]}, labelOf(b, f)
			switch {
			case !f.Broken:
				extra[b] = !d.define(ref, label)
			case d.labels[ref] == nil:
				d.labels[ref] = label
			}
		}
	}
	return extra
}

// define enters a label. A plan's own session or protocol replaces the built-in one of its name;
// every other second definition is refused, with both places.
func (d *decoder) define(ref Ref, label *Label) bool {
	first := d.labels[ref]
	switch {
	case first == nil:
	case first.BuiltIn && !label.BuiltIn:
		label.Replaces = first.Header
	default:
		d.report(codeDoubleName, label.Range, fmt.Sprintf("There are two blocks %s %s", ref.Kind, quoted(ref.Key)), "Give one of them another name, or remove it.",
			diagRelated("the first one", first.Header))
		return false
	}
	d.labels[ref] = label
	return true
}

func labelOf(b *hclsyntax.Block, f *syntax.File) *Label {
	l := &Label{Header: b.TypeRange, Range: b.TypeRange, BuiltIn: f.Library}
	if len(b.Labels) > 0 {
		l.Key, l.Range = b.Labels[0], b.LabelRanges[0]
		l.Header = hcl.RangeBetween(b.TypeRange, b.LabelRanges[len(b.LabelRanges)-1])
	}
	return l
}

// topBlock decodes a block of the top level and adds it to the specification.
func (d *decoder) topBlock(out *Spec, f *syntax.File, b *hclsyntax.Block, extra bool) {
	if b.Type == letBlock.Kind {
		return
	}
	t := language.block(b.Type)
	if t == nil {
		d.unknownBlock(b, &language)
		return
	}
	n := d.block(f, b, t)
	known := d.labels[Ref{t.Kind, n.Key}]
	if known != nil && known.Header != n.Header { // replaced, or the second of a name
		return
	}
	if known != nil {
		n.Replaces = known.Replaces
	}
	if extra {
		return
	}
	switch t.Kind {
	case "athlete":
		out.Athletes = append(out.Athletes, d.athlete(n))
	case "squad":
		out.Squads = append(out.Squads, d.squad(n))
	case "event":
		out.Events = append(out.Events, d.event(n))
	case "meter":
		out.Meters = append(out.Meters, d.meter(n))
	case "test":
		out.Tests = append(out.Tests, d.test(n))
	case "band":
		out.Bands = append(out.Bands, d.band(n))
	case "session":
		out.Sessions = append(out.Sessions, d.session(n))
	case "protocol":
		out.Protocols = append(out.Protocols, d.session(n))
	case "block":
		out.Blocks = append(out.Blocks, d.trainingBlock(n))
	}
}

// node is a decoded block or row: what was written, by name.
type node struct {
	Label
	block    *BlockType // nil for a row
	file     *syntax.File
	items    map[string]item
	written  map[string]hcl.Range // every name that was written, readable or not
	names    hclsyntax.Attributes // what stands in the text
	nodes    []*node              // blocks within, in the order of the text
	siblings map[string]*node     // the same by kind, and label where there may be many
}

// item is a decoded value.
type item struct {
	at   hcl.Range
	v    any
	word bool // v is one of the words that may stand in place of the value
}

// pair is an entry of a table.
type pair struct{ key, value item }

// maxAlike bounds the blocks of one kind within another block: far more than a block of a year needs.
const maxAlike = 200

// block decodes one block by its entry in the table of the language.
func (d *decoder) block(f *syntax.File, b *hclsyntax.Block, t *BlockType) *node {
	before := len(d.diags)
	n := newNode(t, *labelOf(b, f), f)
	d.checkLabel(b, t)
	n.names = b.Body.Attributes
	misspelt := map[string]bool{} // names that an unknown one probably meant
	if t == &forAthleteBlock && len(b.Labels) > 0 {
		misspelt["athletes"] = true // it was written as the label
	}
	for _, a := range syntax.InOrder(b.Body.Attributes) {
		d.attribute(n, a, misspelt)
	}
	alike := map[string]int{}
	for _, inner := range b.Body.Blocks {
		switch alike[inner.Type]++; {
		case alike[inner.Type] <= maxAlike:
			d.innerBlock(n, inner, misspelt)
		case alike[inner.Type] == maxAlike+1:
			d.report(codeTooLarge, labelOf(inner, f).Header, fmt.Sprintf("%s holds more than %d blocks %s", n.title(), maxAlike, inner.Type), "This one and those after it were not read. Take some of them out.")
		}
	}
	d.missing(n, misspelt)
	n.Broken = n.Broken || d.diags[before:].HasErrors()
	return n
}

func newNode(t *BlockType, label Label, f *syntax.File) *node {
	return &node{Label: label, block: t, file: f, items: map[string]item{}, written: map[string]hcl.Range{}, siblings: map[string]*node{}}
}

// attribute decodes name = value.
func (d *decoder) attribute(n *node, a *hclsyntax.Attribute, misspelt map[string]bool) {
	name := n.block.name(a.Name)
	if name == nil {
		d.unknownName(a, n, misspelt)
		n.Broken = true
		return
	}
	n.written[a.Name] = a.NameRange
	if _, bare := a.Expr.(*hclsyntax.ScopeTraversalExpr); bare && name.Type.Kind == Truth {
		if word := hcl.ExprAsKeyword(a.Expr); truthWord(word) != "" { // power_meter = no
			right := truthWord(word)
			d.reportFix(codeWrongType, a.Expr.Range(), fmt.Sprintf("%s is true or false; this is %s", a.Name, word), fmt.Sprintf("Write %s.", right), replace("Write "+right, a.Expr.Range(), right))
			n.Broken = true
			return
		}
	}
	v := d.eval(a.Expr, nil)
	if it, ok := d.convert(v, &name.Type, a.Name); ok {
		n.items[a.Name] = it
	} else {
		n.Broken = true
	}
}

// innerBlock decodes a block within a block.
func (d *decoder) innerBlock(n *node, b *hclsyntax.Block, misspelt map[string]bool) {
	t := n.block.block(b.Type)
	if t == nil {
		if near := d.unknownBlock(b, n.block); near != "" {
			misspelt[near] = true
		}
		n.Broken = true
		return
	}
	inner := d.block(n.file, b, t)
	n.Broken = n.Broken || inner.Broken
	sibling := t.Kind
	if t.Many {
		sibling += " " + inner.Key
	}
	if other := n.siblings[sibling]; other != nil && !t.Many {
		d.report(codeDoubleBlock, inner.Header, fmt.Sprintf("%s is written twice", t.Kind), "Put both into one block.", diagRelated("the first one", other.Header))
		return
	} else if other != nil && t.Label != NoLabel && t.Label != StepLabel && inner.Key != "" {
		d.report(codeDoubleName, inner.Range, fmt.Sprintf("There are two blocks %s %s", t.Kind, quoted(inner.Key)), "Give one of them another name, or put both into one.", diagRelated("the first one", other.Header))
		return
	}
	n.siblings[sibling] = inner
	n.nodes = append(n.nodes, inner)
}

// missing reports what a block needs and does not have; what was misspelt is not missing.
func (d *decoder) missing(n *node, misspelt map[string]bool) {
	for i := range n.block.Names {
		name := &n.block.Names[i]
		if !name.Required || n.wrote(name.Name) || misspelt[name.Name] {
			continue
		}
		what, _, _ := strings.Cut(name.Doc, ". ")
		d.refuse(n, codeMissingValue, n.Header, fmt.Sprintf("%s lacks %s", n.title(), name.Name), fmt.Sprintf("%s. Write, for example, %s = %s.", strings.TrimSuffix(what, "."), name.Name, name.Example))
	}
}

// title names a block in a message.
func (n *node) title() string {
	if n.Key == "" {
		return n.block.Kind
	}
	return n.block.Kind + " " + quoted(n.Key)
}

// child gives the block of a kind, or nil.
func (n *node) child(kind string) *node {
	for _, c := range n.nodes {
		if c.block.Kind == kind {
			return c
		}
	}
	return nil
}

// wrote tells whether a name was written, readable or not.
func (n *node) wrote(name string) bool {
	_, ok := n.written[name]
	return ok
}
