package syntax

import (
	"bytes"
	"cmp"
	"slices"
	"strings"

	"github.com/hashicorp/hcl/v2"
	"github.com/hashicorp/hcl/v2/hclsyntax"
	"github.com/hashicorp/hcl/v2/hclwrite"

	"towpath/internal/diag"
)

// Format gives the canonical form of src: the same words and comments, with one spacing. Texts in
// quotes that are values are passed through canonical, which may be nil. Formatting twice changes
// nothing more. A text with mistakes is not formatted: its diagnostics come back.
func Format(name string, src []byte, canonical func(string) string) ([]byte, diag.List) {
	if file, diags := Parse(name, src); file.Broken {
		return nil, diags
	}
	text := bytes.TrimPrefix(src, []byte("\xef\xbb\xbf")) // a byte order mark
	windows := bytes.Contains(firstLine(text), []byte("\r\n"))
	for bytes.Contains(text, []byte("\r\n")) {
		text = bytes.ReplaceAll(text, []byte("\r\n"), []byte("\n"))
	}
	text = canonicalTexts(name, text, canonical)
	text = spaced(name, text) // before Format, which aligns what stands on neighbouring lines
	text = hclwrite.Format(text)
	text = indented(name, text)
	if windows {
		text = bytes.ReplaceAll(text, []byte("\n"), []byte("\r\n"))
	}
	return text, nil
}

func firstLine(text []byte) []byte {
	if i := bytes.IndexByte(text, '\n'); i >= 0 {
		return text[:i+1]
	}
	return nil
}

// canonicalTexts passes every plain text that is a value through canonical; labels, keys, and
// texts in which something is computed or escaped stay as they are.
func canonicalTexts(name string, text []byte, canonical func(string) string) []byte {
	if canonical == nil {
		return text
	}
	tokens, _ := hclsyntax.LexConfig(text, name, hcl.InitialPos)
	var edits []diag.Edit
	for i := 1; i+2 < len(tokens); i++ {
		if tokens[i].Type != hclsyntax.TokenOQuote || tokens[i+1].Type != hclsyntax.TokenQuotedLit {
			continue
		}
		lit, end := tokens[i+1], i+2
		for ; tokens[end].Type == hclsyntax.TokenQuotedLit; end++ { // a % divides a text in two
			lit.Bytes = text[lit.Range.Start.Byte:tokens[end].Range.End.Byte]
			lit.Range.End = tokens[end].Range.End
		}
		if tokens[end].Type != hclsyntax.TokenCQuote {
			continue
		}
		before, after := tokens[i-1].Type, tokens[end+1].Type // the last token is the end of the file
		if before == hclsyntax.TokenIdent || before == hclsyntax.TokenCQuote || after == hclsyntax.TokenEqual || after == hclsyntax.TokenColon {
			continue
		}
		old := string(lit.Bytes)
		if t := canonical(old); t != old && plain(old) && plain(t) {
			edits = append(edits, diag.Edit{Range: lit.Range, Text: t})
		}
	}
	out, err := Apply(text, edits)
	if err != nil {
		return text // tokens never overlap
	}
	return out
}

// plain is true for a text that stands between quotes as it is.
func plain(s string) bool {
	return !strings.ContainsAny(s, "\"\\\r\n") && !strings.Contains(s, "${") && !strings.Contains(s, "%{")
}

// line is what the tokens say about one line of a text.
type line struct {
	text     []byte
	verbatim bool // within a text or comment of several lines: not touched
	opens    bool // its last word is an opening bracket
	closes   bool // its first word is a closing bracket
	comment  bool // holds a comment only
	indent   int  // levels
}

// linesOf looks at a text that the guard has passed.
func linesOf(name string, text []byte) []line {
	tokens, _ := hclsyntax.LexConfig(text, name, hcl.InitialPos)
	var lines []line
	for _, t := range bytes.SplitAfter(text, []byte("\n")) {
		lines = append(lines, line{text: bytes.TrimSuffix(t, []byte("\n"))})
	}
	var open []int // the lines of the brackets that are open
	templates := 0 // texts of several lines, and what is computed within them
	last := 0      // the line of the last token
	for _, t := range tokens {
		first := t.Range.Start.Line
		l := &lines[first-1]
		isFirst := first > last
		if isFirst {
			l.verbatim = l.verbatim || templates > 0
			l.closes = isCloser(t.Type)
			l.comment = t.Type == hclsyntax.TokenComment
		}
		switch t.Type {
		case hclsyntax.TokenTemplateInterp, hclsyntax.TokenTemplateControl, hclsyntax.TokenOHeredoc:
			templates++
		case hclsyntax.TokenTemplateSeqEnd, hclsyntax.TokenCHeredoc:
			templates--
		case hclsyntax.TokenOBrace, hclsyntax.TokenOBrack, hclsyntax.TokenOParen:
			open = append(open, first)
		case hclsyntax.TokenCBrace, hclsyntax.TokenCBrack, hclsyntax.TokenCParen:
			open = open[:max(0, len(open)-1)]
		}
		opener := t.Type == hclsyntax.TokenOBrace || t.Type == hclsyntax.TokenOBrack || t.Type == hclsyntax.TokenOParen
		switch {
		case isFirst && opener:
			l.indent = levels(open[:len(open)-1])
		case isFirst, l.closes && onlyClosers(text, t):
			l.indent = levels(open)
		}
		if t.Type != hclsyntax.TokenNewline && t.Type != hclsyntax.TokenComment {
			l.opens = opener
		}
		end := t.Range.End.Line
		if t.Range.End.Column == 1 {
			end-- // the token ends with the end of a line
		}
		for i := first + 1; i <= end; i++ {
			lines[i-1].verbatim = true
		}
		last = max(last, first, end)
	}
	return lines
}

// onlyClosers is true where a closing bracket follows closing brackets only, as in `}]`.
func onlyClosers(text []byte, t hclsyntax.Token) bool {
	start := bytes.LastIndexByte(text[:t.Range.Start.Byte], '\n') + 1
	return isCloser(t.Type) && len(bytes.Trim(text[start:t.Range.Start.Byte], " \t}])")) == 0
}

// levels counts the lines on which brackets are open: two on one line indent once.
func levels(open []int) int {
	n := 0
	for i, l := range open {
		if i == 0 || l != open[i-1] {
			n++
		}
	}
	return n
}

// spaced sets the empty lines: none at the ends of a file or block, never two, one around the
// outermost blocks and between a block's settings and the blocks within it.
func spaced(name string, text []byte) []byte {
	lines := linesOf(name, text)
	apart := map[int]bool{}
	if body, problems := parse(name, text, hcl.InitialPos); !problems.HasErrors() {
		separate(body, true, lines, apart)
	}
	var out bytes.Buffer
	blank, opened := false, true
	for i, l := range lines {
		if l.verbatim {
			out.Write(l.text)
			if i < len(lines)-1 {
				out.WriteByte('\n')
			}
			blank, opened = false, false
			continue
		}
		if len(bytes.TrimSpace(l.text)) == 0 {
			blank = true
			continue
		}
		if (blank || apart[i]) && !opened && !l.closes {
			out.WriteByte('\n')
		}
		if i+1 < len(lines) && lines[i+1].verbatim {
			out.Write(l.text) // its end belongs to what goes on below
		} else {
			out.Write(bytes.TrimRight(l.text, " \t\r"))
		}
		out.WriteByte('\n')
		blank, opened = false, l.opens
	}
	return out.Bytes()
}

// separate marks the lines before which an empty line stands.
func separate(body *hclsyntax.Body, outermost bool, lines []line, apart map[int]bool) {
	type item struct {
		line  int
		block bool // to be set apart from settings
	}
	var items []item
	for _, a := range body.Attributes {
		items = append(items, item{line: a.SrcRange.Start.Line - 1})
	}
	for _, b := range body.Blocks {
		first := b.TypeRange.Start.Line
		items = append(items, item{first - 1, outermost || b.CloseBraceRange.End.Line > first})
		separate(b.Body, false, lines, apart)
	}
	slices.SortFunc(items, func(a, b item) int { return cmp.Compare(a.line, b.line) })
	for i := 1; i < len(items); i++ {
		before, this := items[i-1], items[i]
		if this.block && !before.block || outermost && (this.block || before.block) {
			first := this.line // or that of the comments right above
			for first > before.line+1 && lines[first-1].comment && !lines[first-1].verbatim {
				first--
			}
			apart[first] = true
		}
	}
}

// indented puts two spaces before a line for each line above on which brackets are open.
func indented(name string, text []byte) []byte {
	var out bytes.Buffer
	lines := linesOf(name, text)
	for i, l := range lines {
		if l.verbatim {
			out.Write(l.text)
		} else if t := bytes.TrimLeft(l.text, " \t"); len(t) > 0 {
			out.WriteString(strings.Repeat("  ", l.indent))
			out.Write(t)
		}
		if i < len(lines)-1 {
			out.WriteByte('\n')
		}
	}
	return out.Bytes()
}
