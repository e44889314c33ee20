package syntax

import (
	"bytes"
	"cmp"
	"slices"
	"strings"

	"github.com/hashicorp/hcl/v2"
	"github.com/hashicorp/hcl/v2/hclsyntax"

	"towpath/internal/diag"
)

// The parser stops telling of mistakes after the first. So a text with mistakes is taken apart
// into its items, settings and blocks, and these are parsed one by one: a block after the mistake
// is still read, and all mistakes are told at once.

// salvage reads what can be read of a text with mistakes. First is what the parser said of the
// whole, nil where the guard refused that.
func salvage(name string, src []byte, tokens hclsyntax.Tokens, first *hcl.Diagnostic) (*hclsyntax.Body, diag.List) {
	text, diags := mend(name, src, tokens)
	if !bytes.Equal(text, src) {
		tokens, _ = hclsyntax.LexConfig(text, name, hcl.InitialPos)
	}
	s := salvager{name: name, text: text, allowance: maxReparsed, mended: map[int]bool{}, diags: diags}
	for _, d := range diags {
		s.mended[d.Subject.Start.Line] = true
	}
	end := tokens[len(tokens)-1].Range
	whole := hcl.Range{Filename: name, Start: hcl.InitialPos, End: end.End}
	body := &hclsyntax.Body{Attributes: hclsyntax.Attributes{}, SrcRange: whole, EndRange: end}
	items := itemsOf(tokens)
	if unbalanced(tokens) != nil {
		items = itemsAtMargin(tokens)
	}
	for i, item := range items {
		if i > 0 && item[0].Type == hclsyntax.TokenOBrace && isHeader(items[i-1]) {
			continue // the missing brace was told of
		}
		s.read(item, body)
	}
	if !s.diags.HasErrors() && first != nil {
		s.diags.Add(s.translated(first, tokens)) // one that the pieces do not show
	}
	return body, firstOfEachLine(s.diags)
}

// maxReparsed bounds the bytes that are parsed again in search of mistakes in nested blocks.
const maxReparsed = 8 * MaxFileBytes

type salvager struct {
	name      string
	text      []byte
	allowance int
	mended    map[int]bool // lines on which quotes were mended
	diags     diag.List
}

// read adds one item of the file to its body, and tells of the mistakes in it.
func (s *salvager) read(item hclsyntax.Tokens, body *hclsyntax.Body) {
	if refused := guard(item); refused.HasErrors() {
		s.diags.Add(refused...)
		return
	}
	part, problems := s.parse(item)
	for _, attr := range InOrder(part.Attributes) {
		if first := body.Attributes[attr.Name]; first != nil {
			s.diags.Add(setTwice(attr.Name, attr.NameRange, first.NameRange))
			continue
		}
		body.Attributes[attr.Name] = attr
	}
	body.Blocks = append(body.Blocks, part.Blocks...)
	if open := unbalanced(item); open != nil {
		for _, p := range problems {
			if p.Subject != nil && p.Subject.Start.Byte < open.Subject.Start.Byte && !isEcho(p) {
				s.diags.Add(s.translated(p, item))
			}
		}
		// A text without its closing quote may have swallowed the bracket.
		if !s.mended[open.Subject.Start.Line] {
			s.diags.Add(*open)
		}
		return
	}
	s.search(item, part, problems)
}

// isEcho is true for what only repeats that a bracket is missing.
func isEcho(p *hcl.Diagnostic) bool {
	return strings.HasPrefix(p.Summary, "Unclosed") || strings.HasPrefix(p.Summary, "Unterminated")
}

// isHeader is true for the head of a block whose brace stands on the next line.
func isHeader(item hclsyntax.Tokens) bool {
	for _, t := range item {
		if t.Type == hclsyntax.TokenOBrace || t.Type == hclsyntax.TokenEqual {
			return false
		}
	}
	return item[0].Type == hclsyntax.TokenIdent
}

// search finds the mistakes in one item whose parse gave problems, in nested blocks too.
func (s *salvager) search(item hclsyntax.Tokens, part *hclsyntax.Body, problems hcl.Diagnostics) {
	if !problems.HasErrors() {
		return
	}
	before := len(s.diags)
	header, inner, isBlock := blockParts(item)
	if isBlock && s.allowance > 0 {
		for _, p := range problems {
			if p.Summary == redefined { // seen only with the whole block in view
				s.diags.Add(s.redefinition(p, part))
			}
		}
		opening := append(s.bytes(header), "}\n"...)
		_, more := parse(s.name, opening, header[0].Range.Start)
		for _, p := range more {
			s.diags.Add(s.translated(p, header))
		}
		for _, i := range itemsOf(inner) {
			nested, more := s.parse(i)
			s.search(i, nested, more)
		}
	}
	if len(s.diags) > before {
		return
	}
	for _, p := range problems {
		if p.Summary == redefined {
			s.diags.Add(s.redefinition(p, part))
			continue
		}
		s.diags.Add(s.translated(p, item))
	}
}

func (s *salvager) bytes(tokens hclsyntax.Tokens) []byte {
	return slices.Clone(s.text[tokens[0].Range.Start.Byte:tokens[len(tokens)-1].Range.End.Byte])
}

func (s *salvager) parse(tokens hclsyntax.Tokens) (*hclsyntax.Body, hcl.Diagnostics) {
	src := s.bytes(tokens)
	s.allowance -= len(src)
	return parse(s.name, src, tokens[0].Range.Start)
}

// itemsOf cuts tokens at the ends of lines outside of all brackets.
func itemsOf(tokens hclsyntax.Tokens) []hclsyntax.Tokens {
	return cut(tokens, func(depth, _ int) bool { return depth == 0 })
}

// itemsAtMargin cuts a text whose brackets don't match: an item begins where a line starts with
// a name at the margin and looks like a setting or the head of a block.
func itemsAtMargin(tokens hclsyntax.Tokens) []hclsyntax.Tokens {
	return cut(tokens, func(_, next int) bool {
		if next+1 >= len(tokens) || tokens[next].Type != hclsyntax.TokenIdent || tokens[next].Range.Start.Column != 1 {
			return false
		}
		switch tokens[next+1].Type {
		case hclsyntax.TokenEqual, hclsyntax.TokenOQuote, hclsyntax.TokenOBrace:
			return true
		}
		return false
	})
}

// cut divides tokens at the ends of lines for which the question holds. It is given the number
// of open brackets there and the index of the next token.
func cut(tokens hclsyntax.Tokens, here func(depth, next int) bool) []hclsyntax.Tokens {
	var items []hclsyntax.Tokens
	start, depth := 0, 0
	for i, t := range tokens {
		switch {
		case t.Type == hclsyntax.TokenEOF:
			if start < i {
				items = append(items, tokens[start:i])
			}
			return items
		case opens(t.Type):
			depth++
		case isCloser(t.Type):
			depth = max(0, depth-1)
		case endsLine(t) && start == i:
			start = i + 1 // an empty line, or a comment before an item
		case endsLine(t) && here(depth, i+1):
			items = append(items, tokens[start:i+1])
			start, depth = i+1, 0
		}
	}
	if start < len(tokens) {
		items = append(items, tokens[start:])
	}
	return items
}

func opens(t hclsyntax.TokenType) bool {
	switch t {
	case hclsyntax.TokenOBrace, hclsyntax.TokenOBrack, hclsyntax.TokenOParen, hclsyntax.TokenOQuote,
		hclsyntax.TokenOHeredoc, hclsyntax.TokenTemplateInterp, hclsyntax.TokenTemplateControl:
		return true
	}
	return false
}

func isCloser(t hclsyntax.TokenType) bool {
	switch t {
	case hclsyntax.TokenCBrace, hclsyntax.TokenCBrack, hclsyntax.TokenCParen, hclsyntax.TokenCQuote,
		hclsyntax.TokenCHeredoc, hclsyntax.TokenTemplateSeqEnd:
		return true
	}
	return false
}

// blockParts cuts a block over several lines into its head, with the brace, and what is within.
func blockParts(item hclsyntax.Tokens) (header, inner hclsyntax.Tokens, ok bool) {
	end := len(item) - 1
	for end > 0 && (endsLine(item[end]) || item[end].Type == hclsyntax.TokenComment) {
		end--
	}
	for i, t := range item {
		switch t.Type {
		case hclsyntax.TokenEqual:
			return nil, nil, false
		case hclsyntax.TokenOBrace:
			ok = i+1 < end && endsLine(item[i+1]) && item[end].Type == hclsyntax.TokenCBrace
			if !ok {
				return nil, nil, false
			}
			return item[:i+1], item[i+1 : end], true
		}
	}
	return nil, nil, false
}

// InOrder gives the settings of a body in the order of the text.
func InOrder(attrs hclsyntax.Attributes) []*hclsyntax.Attribute {
	var out []*hclsyntax.Attribute
	for _, a := range attrs {
		out = append(out, a)
	}
	slices.SortFunc(out, func(a, b *hclsyntax.Attribute) int {
		return cmp.Compare(a.NameRange.Start.Byte, b.NameRange.Start.Byte)
	})
	return out
}

// firstOfEachLine leaves out what follows from a mistake earlier in its line, and caps the list.
func firstOfEachLine(diags diag.List) diag.List {
	sorted := diags.Sorted()
	out := sorted[:0]
	for _, d := range sorted {
		if len(out) > 0 && out[len(out)-1].Subject.Start.Line == d.Subject.Start.Line {
			continue
		}
		if len(out) == maxComplaints {
			d.Summary, d.Detail, d.Fix = "More mistakes follow", "Mend those above first.", nil
			return append(out, d)
		}
		out = append(out, d)
	}
	return out
}
