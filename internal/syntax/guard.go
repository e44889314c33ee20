package syntax

import (
	"fmt"

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

// guard refuses what could exhaust the machine while it is parsed. It needs only the lexer, which
// does not recurse.
func guard(name string, src []byte) diag.List {
	if len(src) > MaxFileBytes {
		return diag.List{tooLarge(name, len(src))}
	}
	tokens, _ := hclsyntax.LexConfig(src, name, hcl.InitialPos)
	return guardTokens(tokens)
}

func guardTokens(tokens hclsyntax.Tokens) diag.List {
	if len(tokens) > maxTokens {
		return diag.List{failed("file-too-large", tokens[maxTokens].Range,
			fmt.Sprintf("This file holds more than %d words and signs", maxTokens),
			"Divide the plan into several files; all files of a folder make one plan.")}
	}
	var diags diag.List
	var depth nesting
	for _, t := range tokens {
		if t.Type == hclsyntax.TokenNumberLit {
			diags.Add(numberTooLong(t)...)
		}
		depth.step(t.Type)
		switch {
		case len(depth.open) > maxBrackets:
			return append(diags, failed("nesting-too-deep", t.Range,
				fmt.Sprintf("More than %d brackets are open here, one within the other", maxBrackets),
				"Close brackets earlier, or give inner parts names in a `let` block."))
		case depth.waiting > maxOperators:
			return append(diags, failed("nesting-too-deep", t.Range,
				fmt.Sprintf("More than %d operators stand in one expression here", maxOperators),
				"Divide the expression into parts with names of their own in a `let` block."))
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

func (n *nesting) step(t hclsyntax.TokenType) {
	switch t {
	case hclsyntax.TokenOBrack, hclsyntax.TokenOParen:
		// An index or a call hangs on what stands before it, like an operator.
		n.add()
		n.open = append(n.open, level{opener: t})
	case hclsyntax.TokenOBrace, hclsyntax.TokenOQuote, hclsyntax.TokenOHeredoc, hclsyntax.TokenTemplateInterp:
		n.open = append(n.open, level{opener: t})
	case hclsyntax.TokenTemplateControl:
		n.add() // its end may stand in another bracket: directives nest without brackets
		n.open = append(n.open, level{opener: t})
	case hclsyntax.TokenCBrace, hclsyntax.TokenCBrack, hclsyntax.TokenCParen,
		hclsyntax.TokenCQuote, hclsyntax.TokenCHeredoc, hclsyntax.TokenTemplateSeqEnd:
		n.close()
	case hclsyntax.TokenComma:
		n.reset()
	case hclsyntax.TokenNewline:
		if len(n.open) == 0 || n.open[len(n.open)-1].opener == hclsyntax.TokenOBrace {
			n.reset()
		}
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

// close takes the innermost level away. A bracket too many or of the wrong kind is the parser's
// to complain of.
func (n *nesting) close() {
	if len(n.open) == 0 {
		return
	}
	n.reset()
	n.open = n.open[:len(n.open)-1]
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
		fmt.Sprintf("This number has %d characters", len(t.Bytes)),
		fmt.Sprintf("A number may have at most %d characters, and at most %d digits after an `e`.", maxDigits, maxExponent))}
}

func tooLarge(name string, size int) diag.Diagnostic {
	start := diag.Range{Filename: name, Start: hcl.InitialPos, End: hcl.InitialPos}
	return failed("file-too-large", start,
		fmt.Sprintf("This file has %d bytes", size),
		fmt.Sprintf("A file of a plan may have at most %d bytes. Divide it into several files; all files of a folder make one plan.", MaxFileBytes))
}

func failed(code string, subject diag.Range, summary, detail string) diag.Diagnostic {
	return diag.Diagnostic{Code: code, Severity: diag.Error, Summary: summary, Detail: detail, Subject: subject}
}
