package syntax

import (
	"bytes"
	"fmt"
	"unicode/utf8"

	"github.com/hashicorp/hcl/v2"
	"github.com/hashicorp/hcl/v2/hclsyntax"

	"towpath/internal/diag"
)

// The limits of a text. They bound the memory and the stack that parsing takes, far above what a
// plan needs: the parser is recursive, and a deep enough text would end the process.
const (
	MaxFileBytes  = 1 << 20
	maxTokens     = 300_000
	maxBrackets   = 64    // brackets, braces and strings within strings, open at once
	maxOperators  = 1_000 // operators that wait for their right-hand side
	maxDigits     = 18    // characters of a number
	maxExponent   = 2     // digits of a number's exponent
	maxComplaints = 200   // syntax errors told of one file
)

// lex gives the tokens of a UTF-8 text of acceptable size. The lexer does not recurse.
func lex(name string, src []byte) (hclsyntax.Tokens, diag.List) {
	if len(src) > MaxFileBytes {
		return nil, diag.List{failed("file-too-large", diag.Range{Filename: name, Start: hcl.InitialPos, End: hcl.InitialPos},
			fmt.Sprintf("This file has more than %d KiB", MaxFileBytes>>10), divide)}
	}
	if !utf8.Valid(src) {
		return nil, diag.List{notText(name, src)}
	}
	tokens, _ := hclsyntax.LexConfig(src, name, hcl.InitialPos)
	if len(tokens) > maxTokens {
		return nil, diag.List{failed("file-too-large", tokens[maxTokens].Range,
			fmt.Sprintf("This file has more than %d words and signs", maxTokens), divide)}
	}
	return tokens, nil
}

// notText tells of the first byte that is no part of a UTF-8 text.
func notText(name string, src []byte) diag.Diagnostic {
	good := 0
	for good < len(src) {
		r, size := utf8.DecodeRune(src[good:])
		if r == utf8.RuneError && size == 1 {
			break
		}
		good += size
	}
	line := bytes.LastIndexByte(src[:good], '\n') + 1
	at := hcl.Pos{Line: bytes.Count(src[:good], []byte("\n")) + 1, Column: utf8.RuneCount(src[line:good]) + 1, Byte: good}
	return failed("not-utf-8", diag.Range{Filename: name, Start: at, End: at}, "This file is not saved as UTF-8: a sign here cannot be read",
		"Save it again as UTF-8: editors offer this where they save a file, as its encoding.")
}

const divide = "Divide it into several files: all files of a folder make one plan."

// guard refuses what could exhaust the machine while it is parsed.
func guard(tokens hclsyntax.Tokens) diag.List {
	var diags diag.List
	var depth nesting
	for _, t := range tokens {
		if t.Type == hclsyntax.TokenNumberLit {
			diags.Add(numberTooLong(t)...)
		}
		depth.step(t)
		switch {
		case len(depth.open) > maxBrackets:
			return append(diags, failed("nesting-too-deep", t.Range,
				fmt.Sprintf("More than %d brackets and quotes are open here, one within the other", maxBrackets),
				"Close brackets earlier, or give inner parts names of their own."))
		case depth.waiting > maxOperators:
			return append(diags, failed("nesting-too-deep", t.Range,
				fmt.Sprintf("More than %d signs of arithmetic stand in one value here", maxOperators),
				"Divide it into parts with names of their own."))
		}
	}
	return diags
}

// nesting bounds the recursion that a parser would need at a token: every open bracket is a
// level, and at each level every operator since the last comma or line waits for its other side.
type nesting struct {
	open    []level
	outside int // operators outside of all brackets
	waiting int // operators of all levels
}

type level struct {
	opener    hclsyntax.TokenType
	operators int
}

func (n *nesting) step(t hclsyntax.Token) {
	if endsLine(t) {
		if len(n.open) == 0 || n.open[len(n.open)-1].opener == hclsyntax.TokenOBrace {
			n.reset()
		}
		return
	}
	switch t.Type {
	case hclsyntax.TokenOBrack, hclsyntax.TokenOParen:
		// An index or a call hangs on what stands before it, like an operator.
		n.add()
		n.open = append(n.open, level{opener: t.Type})
	case hclsyntax.TokenOBrace, hclsyntax.TokenOQuote, hclsyntax.TokenOHeredoc, hclsyntax.TokenTemplateInterp:
		n.open = append(n.open, level{opener: t.Type})
	case hclsyntax.TokenTemplateControl:
		n.add() // its end may stand in another bracket: directives nest without brackets
		n.open = append(n.open, level{opener: t.Type})
	case hclsyntax.TokenCBrace, hclsyntax.TokenCBrack, hclsyntax.TokenCParen,
		hclsyntax.TokenCQuote, hclsyntax.TokenCHeredoc, hclsyntax.TokenTemplateSeqEnd:
		n.close(t.Type)
	case hclsyntax.TokenComma:
		n.reset()
	case hclsyntax.TokenStar, hclsyntax.TokenSlash, hclsyntax.TokenPlus, hclsyntax.TokenMinus, hclsyntax.TokenPercent,
		hclsyntax.TokenEqualOp, hclsyntax.TokenNotEqual, hclsyntax.TokenLessThan, hclsyntax.TokenLessThanEq,
		hclsyntax.TokenGreaterThan, hclsyntax.TokenGreaterThanEq, hclsyntax.TokenAnd, hclsyntax.TokenOr,
		hclsyntax.TokenBang, hclsyntax.TokenDot, hclsyntax.TokenQuestion, hclsyntax.TokenColon, hclsyntax.TokenDoubleColon:
		n.add()
	}
}

func (n *nesting) add() {
	n.waiting++
	if len(n.open) == 0 {
		n.outside++
		return
	}
	n.open[len(n.open)-1].operators++
}

func (n *nesting) reset() {
	if len(n.open) == 0 {
		n.waiting -= n.outside
		n.outside = 0
		return
	}
	top := &n.open[len(n.open)-1]
	n.waiting -= top.operators
	top.operators = 0
}

// close takes the innermost level away. A bracket of the wrong kind, which is for the parser to
// complain of, takes nothing away: the parser may stay as deep as it is.
func (n *nesting) close(closer hclsyntax.TokenType) {
	if len(n.open) == 0 || !closes(n.open[len(n.open)-1].opener, closer) {
		return
	}
	n.reset()
	n.open = n.open[:len(n.open)-1]
}

// closes reports whether an opening and a closing token belong together.
func closes(opener, closer hclsyntax.TokenType) bool {
	switch opener {
	case hclsyntax.TokenOBrace:
		return closer == hclsyntax.TokenCBrace
	case hclsyntax.TokenOBrack:
		return closer == hclsyntax.TokenCBrack
	case hclsyntax.TokenOParen:
		return closer == hclsyntax.TokenCParen
	case hclsyntax.TokenOQuote:
		return closer == hclsyntax.TokenCQuote
	case hclsyntax.TokenOHeredoc:
		return closer == hclsyntax.TokenCHeredoc
	case hclsyntax.TokenTemplateInterp, hclsyntax.TokenTemplateControl:
		return closer == hclsyntax.TokenTemplateSeqEnd
	}
	return false
}

// endsLine is true for the end of a line, and for a comment that runs to it.
func endsLine(t hclsyntax.Token) bool {
	return t.Type == hclsyntax.TokenNewline ||
		t.Type == hclsyntax.TokenComment && bytes.HasSuffix(t.Bytes, []byte("\n"))
}

func numberTooLong(t hclsyntax.Token) diag.List {
	exponent := 0
	for i, c := range t.Bytes {
		if c == 'e' || c == 'E' {
			exponent = len(t.Bytes) - i - 1
			if i+1 < len(t.Bytes) && (t.Bytes[i+1] == '+' || t.Bytes[i+1] == '-') {
				exponent--
			}
			break
		}
	}
	if len(t.Bytes) <= maxDigits && exponent <= maxExponent {
		return nil
	}
	return diag.List{failed("number-too-long", t.Range,
		fmt.Sprintf("The number %s is too long", shortened(string(t.Bytes))),
		fmt.Sprintf("Numbers have at most %d characters, and at most %d digits after an e.", maxDigits, maxExponent))}
}

func failed(code string, subject diag.Range, summary, detail string) diag.Diagnostic {
	return diag.Diagnostic{Code: code, Severity: diag.Error, Summary: summary, Detail: detail, Subject: subject}
}
