package spec

import (
	"fmt"
	"slices"
	"strings"

	"github.com/hashicorp/hcl/v2"

	"towpath/internal/diag"
)

// traversal computes what a name with dots means: a reference, a value of let, or a name of a
// for expression.
func (d *decoder) traversal(t hcl.Traversal, at hcl.Range, in *scope) value {
	root := t.RootName()
	if v, ok := in.find(root); ok {
		return d.into(d.used(v, at), t[1:], at)
	}
	if root == letBlock.Kind {
		return d.letValue(t, at)
	}
	if !slices.Contains(referable, root) {
		d.unknownRoot(root, t, at)
		return value{at: at}
	}
	label, where, ok := step(t, 1)
	if !ok {
		d.report(codeUnknownRef, at, fmt.Sprintf("%s alone names no block", root),
			fmt.Sprintf("Write %s.%s with the name of one. %s", root, "…", d.existing(root)))
		return value{at: at}
	}
	if _, isIndex := t[1].(hcl.TraverseIndex); isIndex {
		d.reportFix(codeUnknownRef, at, fmt.Sprintf("%s is named with a dot", capital(an(root))), fmt.Sprintf("The dot stands between the kind and the name. Write %s.%s.", root, label),
			replace(fmt.Sprintf("Write %s.%s", root, label), hcl.RangeBetween(t[0].SourceRange(), where), root+"."+label))
		return value{at: at}
	}
	ref := Ref{root, label}
	if _, known := d.labels[ref]; !known {
		d.unknownReference(ref, at, where)
		return value{at: at, ref: ref}
	}
	return d.into(value{form: pointer, ref: ref, at: at, leaves: 1}, t[2:], at)
}

// step reads the name or text at position i of a traversal.
func step(t hcl.Traversal, i int) (name string, at hcl.Range, ok bool) {
	if i >= len(t) {
		return "", hcl.Range{}, false
	}
	switch s := t[i].(type) {
	case hcl.TraverseAttr:
		at := s.SrcRange
		if at.End.Byte-at.Start.Byte == len(s.Name)+1 { // without the dot
			at.Start.Byte++
			at.Start.Column++
		}
		return s.Name, at, true
	case hcl.TraverseIndex:
		if v := keyValue(s.Key); v.form == text {
			return v.text, s.SrcRange, true
		}
	}
	return "", t[i].SourceRange(), false
}

// into follows the rest of a traversal through lists and tables. References are not looked into.
func (d *decoder) into(v value, rest hcl.Traversal, at hcl.Range) value {
	for i := range rest {
		if v.form == failed {
			return value{at: at}
		}
		if v.form == pointer {
			d.opaque(v, at)
			return value{at: at}
		}
		switch s := rest[i].(type) {
		case hcl.TraverseAttr:
			v = d.entry(v, s.Name, at, s.SrcRange)
		case hcl.TraverseIndex:
			k := keyValue(s.Key)
			k.at = s.SrcRange
			v = d.index(v, k, at)
		default:
			d.report(codeUnknownName, at, "Picking with * is not part of the language", "Write it with for: [for x in list : x].")
			return value{at: at}
		}
	}
	return v
}

func (d *decoder) opaque(v value, at hcl.Range) {
	d.report(codeUnknownRef, at, fmt.Sprintf("%s.%s cannot be looked into", v.ref.Kind, v.ref.Key),
		fmt.Sprintf("A reference names %s as a whole. For a value that is needed twice, use let { name = … } and let.name in both places.", an(v.ref.Kind)), d.origin(v)...)
}

// entry picks from a table by name.
func (d *decoder) entry(v value, name string, at, where hcl.Range) value {
	if v.form != table {
		if v.form != failed {
			d.report(codeUnknownName, where, fmt.Sprintf("%s has no part named %s", capital(v.form.String()), name), "Only a table in braces has named parts.", d.origin(v)...)
		}
		return value{at: at}
	}
	var known []string
	for i, k := range v.keys {
		if k.text == name {
			return d.used(v.items[i], at)
		}
		known = append(known, k.text)
	}
	d.report(codeUnknownName, where, fmt.Sprintf("The table has no part named %s", name), seen(d.nearest(name, known), "It has ", known), d.origin(v)...)
	return value{at: at}
}

// item picks from a list by number.
func (d *decoder) item(v value, n float64, at hcl.Range) value {
	if n < 0 || n >= float64(len(v.items)) || n != float64(int(n)) {
		d.report(codeOutOfRange, at, fmt.Sprintf("The list has no entry [%s]", spell(n)), fmt.Sprintf("It has %d; the first is [0].", len(v.items)), d.origin(v)...)
		return value{at: at}
	}
	return d.used(v.items[int(n)], at)
}

// used is a value asked for at a place other than where it was written.
func (d *decoder) used(v value, at hcl.Range) value {
	v.from = d.writtenAt(v)
	v.at, v.literal = at, false
	return v
}

func (d *decoder) writtenAt(v value) hcl.Range {
	if v.from != (hcl.Range{}) {
		return v.from
	}
	return v.at
}

// origin points to where a value that came through let was written.
func (d *decoder) origin(v value) []diag.Related {
	if v.from == (hcl.Range{}) || v.from == v.at {
		return nil
	}
	return []diag.Related{{Message: "the value comes from here", Range: v.from}}
}

// unknownRoot reports a bare name that means nothing here.
func (d *decoder) unknownRoot(root string, t hcl.Traversal, at hcl.Range) {
	first := t[0].SourceRange()
	diagnostic := d.diagnostic(codeUnknownName, first, fmt.Sprintf("%s is not known here", root), "")
	kind := d.nearest(root, append([]string{letBlock.Kind}, referable...))
	var owners []string
	for _, k := range referable {
		if _, ok := d.labels[Ref{k, root}]; ok {
			owners = append(owners, k+"."+root)
		}
	}
	switch {
	case d.lets[root] != nil:
		diagnostic.Detail = fmt.Sprintf("A value of let is written let.%s.", root)
		diagnostic.Fix = replace("Write let."+root, first, "let."+root)
	case len(owners) > 0:
		diagnostic.Detail = "A block is named with its kind: " + inWords(owners, "or") + "."
		if len(owners) == 1 {
			diagnostic.Fix = replace("Write "+owners[0], first, owners[0])
		}
	case kind != "" && len(t) > 1:
		diagnostic.Detail = strings.TrimSpace(didYouMean(kind))
		diagnostic.Fix = replace("Write "+kind, first, kind)
	case len(t) > 1:
		diagnostic.Detail = "References begin with " + some(referable) + ", values of the plan with let."
	default:
		diagnostic.Detail = fmt.Sprintf("Text stands in quotes: %s.", quoted(root))
		diagnostic.Fix = replace("Write "+quoted(root), first, quoted(root))
	}
	d.diags.Add(diagnostic)
}

// unknownReference reports a reference to a block that does not exist. In a plan with syntax
// errors nothing is said: the block may stand in the part that could not be read.
func (d *decoder) unknownReference(ref Ref, at, where hcl.Range) {
	if d.broken {
		return
	}
	diagnostic := d.diagnostic(codeUnknownRef, at, fmt.Sprintf("There is no %s named %s", ref.Kind, ref.Key), "")
	near := d.nearest(ref.Key, d.keys(ref.Kind))
	if near == "" && d.searches <= maxSearches && len(d.keys(ref.Kind)) <= maxItems {
		near = onlyPart(ref.Key, d.keys(ref.Kind))
	}
	for _, kind := range referable {
		if _, ok := d.labels[Ref{kind, ref.Key}]; ok && near == "" {
			diagnostic.Detail += fmt.Sprintf("There is %s of that name: %s.%s. ", an(kind), kind, ref.Key)
		}
	}
	if near != "" {
		diagnostic.Detail = didYouMean(near)
		diagnostic.Fix = replace("Write "+ref.Kind+"."+near, where, near)
	}
	if keys := d.keys(ref.Kind); len(keys) == 0 {
		diagnostic.Detail += d.existing(ref.Kind)
	} else {
		diagnostic.Detail += ifHelpful(diagnostic.Detail, "The plan has ", keys[:min(len(keys), maxShown+1)])
	}
	diagnostic.Detail = strings.TrimSpace(diagnostic.Detail)
	d.diags.Add(diagnostic)
}

// sameName offers the block of the kind that is wanted where the reference named one of another
// kind, which does not exist.
func (d *decoder) sameName(v value, wanted string) {
	last := len(d.diags) - 1
	right := Ref{wanted, v.ref.Key}
	if last >= 0 && d.diags[last].Subject == v.at && d.diags[last].Fix == nil && d.labels[right] != nil {
		d.diags[last].Fix = replace("Write "+right.String(), v.at, right.String())
	}
}

// onlyPart is the one label of which a word is the first or the last part, "" where there is none or
// several: "long" for "long_ride".
func onlyPart(word string, keys []string) (found string) {
	for _, key := range keys {
		if !strings.HasPrefix(key, word+"_") && !strings.HasSuffix(key, "_"+word) {
			continue
		}
		if found != "" {
			return ""
		}
		found = key
	}
	return found
}

// existing lists the blocks of a kind.
func (d *decoder) existing(kind string) string {
	keys := d.keys(kind)
	if len(keys) == 0 {
		return fmt.Sprintf("The plan has no %s yet.", kind)
	}
	return fmt.Sprintf("The plan has %s.", first(keys))
}

// keys gives the labels of a kind, sorted.
func (d *decoder) keys(kind string) []string { return d.byKind[kind] }

func (d *decoder) sortKeys() {
	d.byKind = map[string][]string{}
	for ref := range d.labels {
		d.byKind[ref.Kind] = append(d.byKind[ref.Kind], ref.Key)
	}
	for _, keys := range d.byKind {
		slices.Sort(keys)
	}
}

// maxSearches bounds how often a word is searched for that was probably meant.
const maxSearches = 300

// nearest is the word that was probably meant. In a text with hundreds of unknown words no more
// are searched for.
func (d *decoder) nearest(got string, words []string) string {
	if d.searches++; d.searches > maxSearches || len(words) > maxItems {
		return ""
	}
	return Nearest(got, words)
}

// seen offers the nearest of some words, and lists them where that helps.
func seen(near, lead string, words []string) string {
	said := didYouMean(near)
	return strings.TrimSpace(said + ifHelpful(said, lead, words))
}

func didYouMean(word string) string {
	if word == "" {
		return ""
	}
	return "The nearest is " + word + ". "
}

func capital(s string) string { return strings.ToUpper(s[:1]) + s[1:] }
