package syntax

import (
	"fmt"
	"strings"

	"github.com/hashicorp/hcl/v2/hclsyntax"

	"towpath/internal/diag"
)

// opening is a bracket that waits for its other half.
type opening struct {
	token  hclsyntax.Token
	indent int // column at which its line begins
}

// unbalanced finds the first bracket without its other half, nil where all match. Where a brace
// is missing, the indentation of the text tells better than the count of braces where.
func unbalanced(tokens hclsyntax.Tokens) *diag.Diagnostic {
	var open []opening
	var suspect *opening // the first brace that was closed at another indentation than its own
	indent, atLineStart := 1, true
	for _, t := range tokens {
		if atLineStart && t.Type != hclsyntax.TokenNewline {
			indent, atLineStart = t.Range.Start.Column, false
		}
		switch {
		case endsLine(t):
			atLineStart = true
		case opens(t.Type):
			open = append(open, opening{t, indent})
		case isCloser(t.Type):
			if len(open) == 0 {
				return closesNothing(t)
			}
			last := open[len(open)-1]
			if !closes(last.token.Type, t.Type) {
				return closedWrongly(last.token, t)
			}
			if suspect == nil && indent != last.indent && indent == t.Range.Start.Column {
				suspect = &last
			}
			open = open[:len(open)-1]
		}
	}
	if len(open) == 0 {
		return nil
	}
	last := open[len(open)-1]
	if suspect != nil && last.token.Type == hclsyntax.TokenOBrace {
		last = *suspect
	}
	return neverEnds(last.token)
}

// bracketNames are the signs as a coach knows them, opening and closing.
func bracketNames(t hclsyntax.Token) (opener, closer string) {
	switch t.Type {
	case hclsyntax.TokenOBrace:
		return "`{`", "`}`"
	case hclsyntax.TokenOBrack:
		return "`[`", "`]`"
	case hclsyntax.TokenOParen:
		return "`(`", "`)`"
	case hclsyntax.TokenOQuote:
		return "`\"`", "`\"`"
	case hclsyntax.TokenTemplateInterp, hclsyntax.TokenTemplateControl:
		return "`" + string(t.Bytes) + "`", "`}`"
	}
	marker := strings.TrimSpace(strings.TrimLeft(string(t.Bytes), "<-"))
	return "`" + strings.TrimSpace(string(t.Bytes)) + "`", "a line with " + marker + " alone"
}

func closesNothing(t hclsyntax.Token) *diag.Diagnostic {
	d := failed("syntax", t.Range, fmt.Sprintf("This `%s` closes nothing", shortened(string(t.Bytes))),
		"There are more closing brackets than opening ones up to here. Remove it, or open the bracket above.")
	return &d
}

func closedWrongly(opener, closer hclsyntax.Token) *diag.Diagnostic {
	sign, want := bracketNames(opener)
	d := failed("syntax", opener.Range, fmt.Sprintf("This %s is not closed", sign),
		fmt.Sprintf("%s is expected before the `%s` of line %d.", sentence(want), shortened(string(closer.Bytes)), closer.Range.Start.Line))
	d.Related = []diag.Related{{Message: "another bracket closes here", Range: closer.Range}}
	return &d
}

func neverEnds(opener hclsyntax.Token) *diag.Diagnostic {
	sign, want := bracketNames(opener)
	d := failed("syntax", opener.Range, fmt.Sprintf("This %s is never closed", sign),
		fmt.Sprintf("%s is expected where it ends.", sentence(want)))
	return &d
}

func sentence(s string) string { return strings.ToUpper(s[:1]) + s[1:] }
