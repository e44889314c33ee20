package spec

import (
	"bytes"
	"fmt"
	"slices"
	"strings"

	"github.com/hashicorp/hcl/v2"
	"github.com/hashicorp/hcl/v2/hclsyntax"

	"towpath/internal/diag"
	"towpath/internal/units"
)

// unknownName reports a name that the block does not have, with the nearest that it has.
func (d *decoder) unknownName(a *hclsyntax.Attribute, n *node, misspelt map[string]bool) {
	t := n.block
	if inner := t.block(a.Name); inner != nil {
		example, fix := exampleOf(inner), d.withoutEquals(a, inner)
		if meant := d.truthOf(a, inner); meant != "" {
			example = fmt.Sprintf("%s { %s }", inner.Kind, meant)
			fix = replace("Write "+example, hcl.RangeBetween(a.NameRange, a.Expr.Range()), example)
		}
		d.reportFix(codeUnknownName, a.NameRange, fmt.Sprintf("%s is a block", a.Name), fmt.Sprintf("Write %s, without =.", example), fix)
		misspelt[a.Name] = true
		return
	}
	for _, later := range t.Later {
		if later == a.Name {
			d.report(codeNotYet, a.NameRange, fmt.Sprintf("This version does not know %s in %s yet", a.Name, t.Kind), "Take it out, or use a later version of the program.")
			return
		}
	}
	near := d.nearest(a.Name, slices.DeleteFunc(t.words(), func(word string) bool { return n.names[word] != nil }))
	owners := elsewhere(a.Name, t, false)
	if owners != "" && t.name(near) == nil {
		near = "" // a block of a name like it is not meant
	}
	detail, ours := didYouMean(near), near
	if near == "" {
		if detail, ours = owners, d.ourWord(a.Name, t); ours != "" {
			detail = "Its name here is " + ours + ". "
		}
	}
	var fix *diag.Fix
	if ours != "" {
		misspelt[ours] = true
		switch name := t.name(ours); {
		case name == nil:
			detail = strings.Replace(detail, ours, ours+", a block: "+exampleOf(t.block(ours)), 1)
		case n.names[ours] == nil && (near != "" || d.holds(a.Expr, name)):
			fix = replace("Write "+ours, a.NameRange, ours)
		default:
			detail += fmt.Sprintf("Write, for example, %s = %s.", ours, name.Example)
		}
	}
	d.reportFix(codeUnknownName, a.NameRange, fmt.Sprintf("%s has no %s", whole(t), a.Name), detail+ifHelpful(detail, "It can hold ", t.words()), fix)
}

// truthOf writes what `heart_rate = false` means, where just one name of the block is true or false.
func (d *decoder) truthOf(a *hclsyntax.Attribute, t *BlockType) string {
	meant := ""
	for i := range t.Names {
		if name := &t.Names[i]; name.Type.Kind == Truth && d.holds(a.Expr, name) {
			if meant != "" {
				return ""
			}
			meant = fmt.Sprintf("%s = %s", name.Name, d.bytes[a.NameRange.Filename][a.Expr.Range().Start.Byte:a.Expr.Range().End.Byte])
		}
	}
	return meant
}

// exampleOf writes a block with what it must hold, or where nothing must with its first name.
func exampleOf(t *BlockType) string {
	var inside []string
	for _, name := range t.Names {
		if name.Required {
			inside = append(inside, name.Name+" = "+name.Example)
		}
	}
	for i := 0; inside == nil && i < len(t.Names); i++ {
		if name := t.Names[i]; name.Example != name.Default {
			inside = []string{name.Name + " = " + name.Example}
		}
	}
	head := t.Kind
	if t.Label != NoLabel {
		head += " " + labelExample(t)
	}
	if len(inside) != 1 {
		return head + " { … }"
	}
	return fmt.Sprintf("%s { %s }", head, inside[0])
}

// holds tells whether a value would do behind a name. What is said of it is not kept.
func (d *decoder) holds(x hclsyntax.Expression, name *Name) bool {
	before := d.diags
	defer func() { d.diags = before }()
	_, ok := d.convert(d.eval(x, nil), &name.Type, name.Name)
	return ok
}

// ifHelpful lists the words that can stand at a place: all where nothing tells which is meant, else
// only where they are few.
func ifHelpful(said, lead string, words []string) string {
	const few = 8
	if said != "" && (len(words) > few || len(words) == 1) {
		return ""
	}
	if units.WeekdayMeant(words[0]) != "" {
		return lead + first(words) + "." // days of the week stand in their order
	}
	return lead + some(words) + "."
}

// withoutEquals makes a block of `days = { … }` where its braces hold lines as those of a block.
func (d *decoder) withoutEquals(a *hclsyntax.Attribute, t *BlockType) *diag.Fix {
	x, ok := a.Expr.(*hclsyntax.ObjectConsExpr)
	if !ok || t.Label != NoLabel {
		return nil
	}
	at := a.NameRange.End.Byte
	for _, item := range x.Items {
		key := item.KeyExpr.Range()
		between := d.bytes[a.NameRange.Filename][at:key.Start.Byte]
		if hcl.ExprAsKeyword(item.KeyExpr) == "" || bytes.ContainsAny(between, ",#/") || at > a.NameRange.End.Byte && !bytes.Contains(between, []byte("\n")) {
			return nil
		}
		at = item.ValueExpr.Range().End.Byte
	}
	equals := a.EqualsRange
	equals.End = x.OpenRange.Start
	return &diag.Fix{Title: "Leave out =", Edits: []diag.Edit{{Range: equals}}}
}

// unknownBlock reports a block that cannot stand here and gives the one that was probably meant.
func (d *decoder) unknownBlock(b *hclsyntax.Block, t *BlockType) (near string) {
	if name := t.name(b.Type); name != nil {
		diagnostic := d.diagnostic(codeUnknownBlock, b.TypeRange, fmt.Sprintf("%s is a value", b.Type), fmt.Sprintf("Write it with =: %s = %s.", b.Type, name.Example))
		if (name.Type.Kind == Table || name.Type.Kind == Row) && len(b.Labels) == 0 && len(b.Body.Blocks) == 0 {
			brace := b.OpenBraceRange
			brace.End = brace.Start
			diagnostic.Fix = &diag.Fix{Title: "Add =", Edits: []diag.Edit{{Range: brace, Text: "= "}}}
		}
		d.diags.Add(diagnostic)
		return b.Type
	}
	for _, later := range t.Later {
		if later == b.Type {
			d.report(codeNotYet, b.TypeRange, fmt.Sprintf("This version does not know the block %s yet", b.Type), "Take it out, or use a later version of the program.")
			return ""
		}
	}
	var kinds []string
	for _, inner := range t.Blocks {
		kinds = append(kinds, inner.Kind)
	}
	near = d.nearest(b.Type, kinds)
	said := near
	detail := didYouMean(near)
	if near == "" {
		detail = elsewhere(b.Type, t, true)
		if ours := d.ourWord(b.Type, t); ours != "" {
			detail, said = "Its name here is "+ours, ours
			if name := t.name(ours); name != nil {
				detail += ", a value: " + ours + " = " + name.Example
			}
			detail += ". "
		}
	}
	if len(kinds) == 0 {
		detail += "No block can stand in it."
	} else {
		detail += ifHelpful(detail, "The blocks that can stand here are ", kinds)
	}
	diagnostic := d.diagnostic(codeUnknownBlock, b.TypeRange, fmt.Sprintf("%s has no block %s", whole(t), b.Type), detail)
	if inner := t.block(said); near != "" || inner != nil && (inner.Label == NoLabel) == (len(b.Labels) == 0) {
		diagnostic.Fix = replace("Write "+said, b.TypeRange, said)
	}
	d.diags.Add(diagnostic)
	return said
}

func whole(t *BlockType) string {
	if t == &language {
		return "The top level of a plan"
	}
	return t.Kind
}

// elsewhere tells in which blocks a word belongs, as the block or the name that was written if it
// is one anywhere: in one that can stand here, or in those of the same kind, if they have it.
func elsewhere(word string, not *BlockType, block bool) string {
	var within []string
	for _, inner := range not.Blocks {
		if !block && inner.name(word) != nil && not != &language {
			within = append(within, fmt.Sprintf("%s { %s = %s }", inner.Kind, word, inner.name(word).Example))
		}
	}
	if len(within) == 1 {
		return fmt.Sprintf("It stands one level deeper: %s. ", within[0])
	}
	var same, owners, others []string
	add := func(list *[]string, owner string) {
		if !slices.Contains(*list, owner) {
			*list = append(*list, owner)
		}
	}
	type place struct {
		t  *BlockType
		of string
	}
	for queue := []place{{&language, ""}}; len(queue) > 0; queue = queue[1:] { // the outer blocks first
		t, of := queue[0].t, queue[0].of
		isName, isBlock := t.name(word) != nil, t.block(word) != nil
		switch owner := whole(t) + of; {
		case t == not || !isName && !isBlock:
		case block != isBlock:
			add(&others, owner)
		default:
			add(&owners, owner)
			if t.Kind == not.Kind {
				add(&same, owner)
			}
		}
		if t != &language && t.Kind != "repeat" {
			of = " of " + t.Kind
		}
		for _, inner := range t.Blocks {
			queue = append(queue, place{inner, of})
		}
	}
	if len(owners) == 0 {
		owners = others
	}
	for _, list := range [][]string{same, owners} {
		if len(list) > 0 && len(list) <= 4 {
			return fmt.Sprintf("%s belongs in %s. ", word, strings.Replace(inWords(list, "or"), "The top", "the top", 1))
		}
	}
	return ""
}

// checkLabel holds a block's label against the rule of its kind.
func (d *decoder) checkLabel(b *hclsyntax.Block, t *BlockType) {
	switch {
	case t.Label == NoLabel:
		d.checkNoLabels(b, t)
		return
	case len(b.Labels) == 0:
		d.report(codeLabel, b.TypeRange, fmt.Sprintf("This %s has no name", t.Kind), fmt.Sprintf("Write %s %s { … }.", t.Kind, labelExample(t)))
		return
	case len(b.Labels) > 1:
		d.report(codeLabel, b.LabelRanges[1], fmt.Sprintf("%s has %d names", t.Kind, len(b.Labels)), "Keep one.")
		return
	}
	key := b.Labels[0]
	if right := rightLabel(key, t.Label); right != key {
		diagnostic := d.diagnostic(codeLabel, b.LabelRanges[0], fmt.Sprintf("%s cannot name %s", quoted(key), an(t.Kind)), labelRule(t.Label))
		if right != "" {
			diagnostic.Fix = replace("Write "+quoted(right), b.LabelRanges[0], quoted(right))
			diagnostic.Detail += " Write " + quoted(right) + "."
		}
		if t.name("title") != nil && strings.ToLower(key) != right { // words for people: "Round the lake"
			diagnostic.Detail += fmt.Sprintf(" What the rider reads is its title: title = %s.", quoted(key))
		}
		d.diags.Add(diagnostic)
	}
}

func (d *decoder) checkNoLabels(b *hclsyntax.Block, t *BlockType) {
	if len(b.Labels) == 0 {
		return
	}
	detail := fmt.Sprintf("Write %s { … }.", t.Kind)
	if t == &forAthleteBlock {
		detail = fmt.Sprintf("Write %s { athletes = [athlete.%s] … }, on lines of their own.", t.Kind, b.Labels[0])
	}
	d.report(codeLabel, b.LabelRanges[0], fmt.Sprintf("%s takes no name", t.Kind), detail)
}

func labelExample(t *BlockType) string {
	switch t.Label {
	case NumberLabel:
		return `"3"`
	case CodeLabel:
		return `"weekly-growth"`
	}
	return `"some_name"`
}

func labelRule(rule LabelRule) string {
	switch rule {
	case NumberLabel:
		return "Its name is the number of the week, from 1, or last for the block's last week."
	case CodeLabel:
		return "Its name is the code of a finding, as check prints it in brackets."
	}
	return "A name begins with a small letter and holds small letters, digits and _."
}

// plainLetters takes the marks off the letters of names, so that the label that is offered can be
// read.
var plainLetters = strings.NewReplacer(
	"à", "a", "á", "a", "â", "a", "ã", "a", "ä", "a", "å", "a", "ą", "a", "æ", "ae", "ç", "c", "ć", "c", "č", "c", "ď", "d", "đ", "d", "ð", "d",
	"è", "e", "é", "e", "ê", "e", "ë", "e", "ę", "e", "ě", "e", "ė", "e", "ğ", "g", "ì", "i", "í", "i", "î", "i", "ï", "i", "ı", "i", "ł", "l",
	"ñ", "n", "ń", "n", "ň", "n", "ò", "o", "ó", "o", "ô", "o", "õ", "o", "ö", "o", "ø", "o", "ő", "o", "œ", "oe", "ř", "r", "ś", "s", "š", "s", "ş", "s",
	"ß", "ss", "ť", "t", "þ", "th", "ù", "u", "ú", "u", "û", "u", "ü", "u", "ů", "u", "ű", "u", "ū", "u", "ý", "y", "ÿ", "y", "ź", "z", "ż", "z", "ž", "z",
)

// PlainKey gives a word as a plan names it: small letters without marks, _ between words. What else
// the word holds is left as it is, so that two different words never become one.
func PlainKey(word string) string {
	return strings.ReplaceAll(plainLetters.Replace(strings.ToLower(word)), " ", "_")
}

// rightLabel gives the label as it should read: key itself where nothing is wrong, "" where nobody
// can tell.
func rightLabel(key string, rule LabelRule) string {
	if rule == NumberLabel && strings.EqualFold(key, lastWord) {
		return lastWord
	}
	inner := byte('_')
	if rule == CodeLabel {
		inner = '-'
	}
	const longest = 60
	var out strings.Builder
	for _, r := range plainLetters.Replace(strings.ToLower(key)) {
		switch {
		case rule != NumberLabel && r >= 'a' && r <= 'z', r >= '0' && r <= '9' && (out.Len() > 0 || rule == NumberLabel && r > '0'):
			out.WriteRune(r)
		case rule == NumberLabel:
		case out.Len() > 0:
			out.WriteByte(inner)
		}
	}
	right := out.String()
	if rule != NumberLabel {
		right = strings.TrimRight(right, string(inner))
		if strings.HasPrefix(key, right) && strings.Trim(key[len(right):], string(inner)) == "" {
			right = key // trailing marks are odd, not wrong
		}
	}
	if len(right) > longest || rule == NumberLabel && len(right) > 2 {
		return ""
	}
	return right
}
