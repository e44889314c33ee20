package spec

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"github.com/hashicorp/hcl/v2"

	"towpath/internal/units"
)

// asList reads [a, b]. One value where a list belongs is reported with the brackets to add.
func (d *decoder) asList(v value, t *Type, name string) (item, bool) {
	if v.form != sequence {
		diagnostic := d.diagnostic(codeWrongType, v.at, fmt.Sprintf("%s is a list; this is %s", name, v.form), "Write it in [ ], with commas between the entries.")
		if src := string(d.source(v.at)); src != "" && (v.form == text || v.form == pointer) {
			diagnostic.Fix = replace("Write ["+src+"]", v.at, "["+src+"]")
		}
		diagnostic.Related = d.origin(v)
		d.diags.Add(diagnostic)
		return item{}, false
	}
	out, good := make([]item, 0, len(v.items)), true
	for _, e := range v.items {
		e = d.inherit(e, v)
		e.entry = true
		it, ok := d.convert(e, t.Elem, name)
		if !ok {
			good = false
			continue
		}
		out = append(out, it)
	}
	// What could be read is kept, so that one wrong entry does not make the others unknown.
	return item{at: v.at, v: out}, good || len(out) > 0
}

// asSome reads one value, or a list of some.
func (d *decoder) asSome(v value, t *Type, name string) (item, bool) {
	if v.form != sequence {
		it, ok := d.convert(v, t.Elem, name)
		return item{at: v.at, v: []item{it}}, ok
	}
	if len(v.items) > t.Max || len(v.items) == 0 {
		d.report(codeOutOfRange, v.at, fmt.Sprintf("%s has %d entries", name, len(v.items)), fmt.Sprintf("Write 1 to %d, or leave the line out.", t.Max), d.origin(v)...)
		return item{}, false
	}
	return d.asList(v, t, name)
}

// part names what a value is a part of.
func (v value) part(name string) string {
	if v.entry {
		return "Each entry of " + name
	}
	return name
}

// inherit tells an entry of a list that came through let where the list is used.
func (d *decoder) inherit(e, whole value) value {
	if whole.from != (hcl.Range{}) && whole.from != whole.at {
		e.from, e.at, e.literal = d.writtenAt(e), whole.at, false
	}
	return e
}

// asRow reads { name = value }.
func (d *decoder) asRow(v value, t *Type, name string) (item, bool) {
	if v.form != table {
		d.report(codeWrongType, v.at, fmt.Sprintf("%s is written in braces; this is %s", v.part(name), v.form), fmt.Sprintf("Write { %s = %s }.", t.Names[0].Name, t.Names[0].Example), d.origin(v)...)
		return item{}, false
	}
	before := len(d.diags)
	n := &node{Label: Label{Header: v.at, Range: v.at}, items: map[string]item{}, written: map[string]hcl.Range{}}
	misspelt := map[string]bool{}
	for i, key := range v.keys {
		key, val := d.inherit(key, v), d.inherit(v.items[i], v)
		entry := nameIn(t.Names, key.text)
		if entry == nil {
			d.unknownEntry(key, t, name, misspelt)
			continue
		}
		n.written[key.text] = key.at
		if it, ok := d.convert(val, &entry.Type, key.text); ok {
			n.items[key.text] = it
		} else {
			n.Broken = true
		}
	}
	for _, entry := range t.Names {
		if entry.Required && !n.wrote(entry.Name) && !misspelt[entry.Name] {
			d.report(codeMissingValue, v.at, fmt.Sprintf("This row of %s lacks %s", name, entry.Name), fmt.Sprintf("%s Write, for example, %s = %s.", entry.Doc, entry.Name, entry.Example))
		}
	}
	n.Broken = n.Broken || d.diags[before:].HasErrors()
	return item{at: v.at, v: n}, true
}

func (d *decoder) unknownEntry(key value, t *Type, name string, misspelt map[string]bool) {
	var known []string
	for _, entry := range t.Names {
		known = append(known, entry.Name)
	}
	near := d.nearest(key.text, known)
	diagnostic := d.diagnostic(codeUnknownName, key.at, fmt.Sprintf("A row of %s has no %s", name, key.text), seen(near, "It can hold ", known))
	if near != "" {
		misspelt[near] = true
		diagnostic.Fix = replace("Write "+near, key.at, near)
	}
	diagnostic.Related = d.origin(key)
	d.diags.Add(diagnostic)
}

// asRows reads one row, or a list of a few.
func (d *decoder) asRows(v value, t *Type, name string) (item, bool) {
	row := *t
	row.Kind = Row
	return d.asSome(v, &Type{Kind: OneOrMore, Elem: &row, Max: t.Max}, name)
}

// asTable reads { key = value } into pairs, in the order of the text.
func (d *decoder) asTable(v value, t *Type, name string) (item, bool) {
	if v.form != table {
		d.report(codeWrongType, v.at, fmt.Sprintf("%s is a table in braces; this is %s", v.part(name), v.form), fmt.Sprintf("Write { name = value, name = value }; each name is %s, each value %s.", t.Key.Describe(), t.Elem.Describe()), d.origin(v)...)
		return item{}, false
	}
	out, good := []pair{}, true
	for i := range v.keys {
		key, ok := d.convert(d.inherit(v.keys[i], v), t.Key, "the left side in "+name)
		val, ok2 := d.convert(d.inherit(v.items[i], v), t.Elem, v.keys[i].text)
		good = good && ok && ok2
		if ok && ok2 {
			out = append(out, pair{key, val})
		}
	}
	return item{at: v.at, v: out}, good || len(out) > 0
}

// asReference reads a reference to a block of the right kind.
func (d *decoder) asReference(v value, t *Type, name string) (item, bool) {
	wanted := inWords(t.Blocks, "or")
	if v.form == pointer {
		if slices.Contains(t.Blocks, v.ref.Kind) {
			return item{at: v.at, v: v.ref}, true
		}
		diagnostic := d.diagnostic(codeUnknownRef, v.at, fmt.Sprintf("%s names %s; %s.%s is %s", v.part(name), an(wanted), v.ref.Kind, v.ref.Key, an(v.ref.Kind)), d.existing(t.Blocks[0]))
		if v.ref.Kind == "squad" && wanted == "athlete" {
			diagnostic.Detail += fmt.Sprintf(" A block takes a whole squad in with squads = [squad.%s].", v.ref.Key)
		}
		if same := (Ref{t.Blocks[0], v.ref.Key}); d.labels[same] != nil {
			diagnostic.Fix = replace("Write "+same.Kind+"."+same.Key, v.at, same.Kind+"."+same.Key)
		}
		diagnostic.Related = d.origin(v)
		d.diags.Add(diagnostic)
		return item{}, false
	}
	repair := fmt.Sprintf("Write %s.name. ", t.Blocks[0])
	if v.form == text {
		repair = fmt.Sprintf("Write %s.name, without quotes. ", t.Blocks[0])
	}
	diagnostic := d.diagnostic(codeWrongType, v.at, fmt.Sprintf("%s names %s; this is %s", v.part(name), an(wanted), v.form), repair+d.existing(t.Blocks[0]))
	if v.form == text && len(t.Words) > 0 {
		d.wrongWord(v, t.Words, name)
		last := &d.diags[len(d.diags)-1]
		last.Detail += fmt.Sprintf(" Or write %s.name without quotes.", t.Blocks[0])
		return item{}, false
	}
	ref := Ref{t.Blocks[0], strings.TrimPrefix(v.text, t.Blocks[0]+".")}
	if v.form == text && d.labels[ref] != nil {
		diagnostic.Detail = fmt.Sprintf("Write %s.%s, without quotes.", ref.Kind, ref.Key)
		if v.literal {
			diagnostic.Fix = replace("Write "+ref.Kind+"."+ref.Key, v.at, ref.Kind+"."+ref.Key)
		}
	}
	diagnostic.Related = d.origin(v)
	d.diags.Add(diagnostic)
	return item{}, false
}

func (d *decoder) asTruth(v value, name string) (item, bool) {
	if v.form == truth {
		return item{at: v.at, v: v.truth}, true
	}
	diagnostic := d.diagnostic(codeWrongType, v.at, fmt.Sprintf("%s is true or false; this is %s", v.part(name), v.form), "Write true or false, without quotes.")
	if right := truthWord(v.text); right != "" && v.literal {
		diagnostic.Fix = replace("Write "+right, v.at, right)
	}
	diagnostic.Related = d.origin(v)
	d.diags.Add(diagnostic)
	return item{}, false
}

// asCount reads a whole number within its bounds.
func (d *decoder) asCount(v value, t *Type, name string) (item, bool) {
	low, high := t.Min, t.Max
	if v.form != number {
		diagnostic := d.diagnostic(codeWrongType, v.at, fmt.Sprintf("%s is a whole number; this is %s", v.part(name), v.form), fmt.Sprintf("Write a number from %d to %d, without quotes.", low, high))
		digits := v.text
		if m := spanInWords.FindStringSubmatch(digits); m != nil && m[2] == "" { // "4 weeks"
			digits = m[1]
		}
		if n, err := strconv.Atoi(digits); err == nil && v.literal && n >= low && n <= high {
			diagnostic.Fix = replace("Write "+strconv.Itoa(n), v.at, strconv.Itoa(n))
		}
		for _, w := range t.Words {
			diagnostic.Detail += fmt.Sprintf(" The word %s is possible as well.", quoted(w))
		}
		diagnostic.Related = d.origin(v)
		d.diags.Add(diagnostic)
		return item{}, false
	}
	n := int(v.number)
	switch {
	case float64(n) != v.number:
		d.report(codeOutOfRange, v.at, fmt.Sprintf("%s = %s is not a whole number", name, spell(v.number)), fmt.Sprintf("Write a whole number from %d to %d.", low, high), d.origin(v)...)
	case n < low || n > high:
		d.report(codeOutOfRange, v.at, fmt.Sprintf("%s = %d is out of range", name, n), fmt.Sprintf("It is a whole number from %d to %d.", low, high), d.origin(v)...)
	case t.Kind == EffortNumber:
		return item{at: v.at, v: units.Effort(n)}, true
	default:
		return item{at: v.at, v: n}, true
	}
	return item{}, false
}

// asCounts reads a range of counts, "4-5" or 4, or a list of week numbers, "3, 5-7" or [4, 8].
func (d *decoder) asCounts(v value, t *Type, name string) (item, bool) {
	what, example := "a count or a range of counts", `4 or "4-5"`
	if t.Kind == WeekList {
		what, example = "a list of weeks", `8, "3, 5-7", [4, 8] or "last"`
	}
	if d.subtraction(v) {
		return item{}, false
	}
	var spans []span
	entries := []value{v}
	if v.form == sequence && t.Kind == WeekList {
		entries = v.items
	}
	for _, e := range entries {
		e = d.inherit(e, v)
		if v.form == sequence && t.Kind == WeekList {
			e.entry, what, example = true, "the number of a week, or a range of them", `8 or "5-7"`
		}
		switch {
		case e.form == failed:
			return item{}, false
		case e.form == number && d.fits(e, t, name):
			spans = append(spans, span{low: int(e.number), high: int(e.number)})
		case e.form == number:
			return item{}, false
		case e.form == text:
			found, wrong := readSpans(e.text, t, example)
			if wrong != nil {
				spans := func(s string) ([]span, error) { return readSpans(s, t, example) }
				d.unreadable(e, t, reader{what: what, example: example, read: read(spans)}, name, wrong)
				return item{}, false
			}
			spans = append(spans, found...)
		default:
			repair := "Write whole numbers."
			if t.Kind == CountRange {
				repair = "Write one number, or a range in quotes."
			}
			d.report(codeWrongType, e.at, fmt.Sprintf("%s is %s, such as %s; this is %s", e.part(name), what, example, e.form), repair, d.origin(e)...)
			return item{}, false
		}
	}
	if t.Kind == CountRange {
		return item{at: v.at, v: units.Range[int]{Low: spans[0].low, High: spans[0].high}}, true
	}
	if len(spans) == 0 {
		d.report(codeWrongValue, v.at, name+" names no week", "Name at least one, or leave the line out.", d.origin(v)...)
		return item{}, false
	}
	return item{at: v.at, v: spans}, true
}

func (d *decoder) fits(v value, t *Type, name string) bool {
	_, ok := d.asCount(v, &Type{Kind: Count, Min: t.Min, Max: t.Max}, name)
	return ok
}
