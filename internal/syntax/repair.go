package syntax

import (
	"bytes"

	"github.com/hashicorp/hcl/v2"
	"github.com/hashicorp/hcl/v2/hclsyntax"

	"towpath/internal/diag"
)

// repair gives the edit of a sign or two that mends what the parser found at a place, nil where
// more than one would do.
func (s *salvager) repair(summary string, at hcl.Range, item hclsyntax.Tokens) *diag.Fix {
	i := 0
	for i < len(item) && item[i].Range.Start.Byte < at.Start.Byte {
		i++
	}
	if i == 0 || i == len(item) {
		return nil
	}
	before, here := item[i-1], item[i]
	ends := i+1 == len(item) || endsLine(item[i+1])
	switch {
	case summary == "Missing item separator" || summary == "Missing attribute separator" || summary == "Missing argument separator":
		switch here.Type {
		case hclsyntax.TokenOQuote, hclsyntax.TokenNumberLit, hclsyntax.TokenIdent, hclsyntax.TokenOBrace, hclsyntax.TokenOBrack:
		default:
			return nil
		}
		if endsLine(before) || here.Type == hclsyntax.TokenIdent && before.Type == hclsyntax.TokenNumberLit && summary != "Missing attribute separator" {
			return nil // a comment may stand before, or a unit behind its number
		}
		return insert("Add a comma", before.Range, ",")
	case here.Type == hclsyntax.TokenComma && ends && summary == "Unexpected comma after argument",
		here.Type == hclsyntax.TokenSemicolon && ends:
		return &diag.Fix{Title: "Leave it out", Edits: []diag.Edit{{Range: here.Range}}}
	case summary == "Invalid escape sequence":
		return &diag.Fix{Title: "Write \\\\ for the backslash", Edits: []diag.Edit{{Range: at, Text: `\` + string(s.text[at.Start.Byte:at.End.Byte])}}}
	}
	return nil
}

// plainName offers to take the quotes off a name: "weeks" = 8.
func plainName(item hclsyntax.Tokens) *diag.Fix {
	if len(item) < 4 || item[0].Type != hclsyntax.TokenOQuote || item[2].Type != hclsyntax.TokenCQuote || item[3].Type != hclsyntax.TokenEqual {
		return nil
	}
	if !hclsyntax.ValidIdentifier(string(item[1].Bytes)) {
		return nil
	}
	return &diag.Fix{Title: "Leave out the quotes", Edits: []diag.Edit{{Range: item[0].Range}, {Range: item[2].Range}}}
}

// braceUp offers to put the brace that stands alone on the next line behind the head of its block.
func (s *salvager) braceUp(at hcl.Range) *diag.Fix {
	rest := s.text[at.Start.Byte:]
	gap := len(rest) - len(bytes.TrimLeft(rest, " \t\r\n"))
	if gap == 0 || gap == len(rest) || rest[gap] != '{' {
		return nil
	}
	to := at
	to.End.Byte = at.Start.Byte + gap
	to.End.Line, to.End.Column = at.Start.Line+bytes.Count(rest[:gap], []byte("\n")), gap-bytes.LastIndexByte(rest[:gap], '\n')
	return &diag.Fix{Title: "Put the brace on the line of its block", Edits: []diag.Edit{{Range: to, Text: " "}}}
}

// insert is a fix that adds a text behind a place.
func insert(title string, behind hcl.Range, text string) *diag.Fix {
	behind.Start = behind.End
	return &diag.Fix{Title: title, Edits: []diag.Edit{{Range: behind, Text: text}}}
}
