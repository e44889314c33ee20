package syntax

import (
	"fmt"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/hashicorp/hcl/v2"
	"github.com/hashicorp/hcl/v2/hclsyntax"

	"towpath/internal/diag"
)

// maxOpenQuotes bounds the texts without a closing quote that are mended in a file.
const maxOpenQuotes = 20

// mend tells of quotes that are curly, single or missing, and gives a text of the same length in
// which they are right, so that everything after them can be read.
func mend(name string, src []byte, tokens hclsyntax.Tokens) ([]byte, diag.List) {
	text := slices.Clone(src)
	diags := wrongQuotes(text, tokens)
	diags.Add(invisible(text, tokens)...)
	if diags != nil {
		tokens, _ = hclsyntax.LexConfig(text, name, hcl.InitialPos)
	}
	for range maxOpenQuotes {
		open, end := openText(tokens)
		if end.Type != hclsyntax.TokenQuotedNewline {
			break
		}
		diags.Add(neverClosed(open, end, src))
		closeText(text, open.Range.Start.Byte, end.Range.Start.Byte)
		// What follows was read as part of the text: read it again.
		tokens, _ = hclsyntax.LexConfig(text[end.Range.Start.Byte:], name, end.Range.Start)
	}
	return text, diags
}

// wrongQuotes replaces curly and single quotes around values by straight double ones.
func wrongQuotes(text []byte, tokens hclsyntax.Tokens) diag.List {
	var diags diag.List
	for i := 0; i < len(tokens); i++ {
		if !isWrongQuote(tokens[i]) {
			continue
		}
		var edits []diag.Edit
		line, first := tokens[i].Range.Start.Line, tokens[i]
		for ; i < len(tokens) && tokens[i].Range.Start.Line == line; i++ {
			t := tokens[i]
			if !isWrongQuote(t) {
				continue
			}
			edits = append(edits, diag.Edit{Range: t.Range, Text: `"`})
			start, end := t.Range.Start.Byte, t.Range.End.Byte
			copy(text[start:end], strings.Repeat(" ", end-start-1)+`"`)
		}
		i--
		d := failed("syntax", first.Range, fmt.Sprintf("Found the quote mark %s", first.Bytes),
			`Texts stand in straight double quotes: "75 min". Word processors and web pages turn them into curly ones.`)
		d.Fix = &diag.Fix{Title: "Write straight double quotes", Edits: edits}
		diags.Add(d)
	}
	return diags
}

func isWrongQuote(t hclsyntax.Token) bool {
	switch string(t.Bytes) {
	case "“", "”", "„", "«", "»", "‘", "’", "‚":
		return t.Type == hclsyntax.TokenInvalid
	case "'", "`":
		return t.Type == hclsyntax.TokenApostrophe || t.Type == hclsyntax.TokenBacktick
	}
	return false
}

// invisible replaces signs that nobody sees, which texts copied from elsewhere carry, by spaces.
func invisible(text []byte, tokens hclsyntax.Tokens) diag.List {
	var diags diag.List
	for _, t := range tokens {
		r, _ := utf8.DecodeRune(t.Bytes)
		if t.Type != hclsyntax.TokenInvalid || r < utf8.RuneSelf && r >= ' ' || !unicode.In(r, unicode.Zs, unicode.Cf, unicode.Cc) {
			continue
		}
		start, end := t.Range.Start.Byte, t.Range.End.Byte
		copy(text[start:end], strings.Repeat(" ", end-start))
		d := failed("syntax", t.Range, fmt.Sprintf("An invisible sign (%U) stands here", r), "Remove it, or write a plain space.")
		d.Fix = &diag.Fix{Title: "Write a space", Edits: []diag.Edit{{Range: t.Range, Text: " "}}}
		diags.Add(d)
	}
	return diags
}

// openText finds the first text that runs past the end of its line: its quote and that end.
func openText(tokens hclsyntax.Tokens) (open, end hclsyntax.Token) {
	for _, t := range tokens {
		switch t.Type {
		case hclsyntax.TokenOQuote:
			open = t
		case hclsyntax.TokenQuotedNewline:
			return open, t
		}
	}
	return open, hclsyntax.Token{}
}

func neverClosed(open, end hclsyntax.Token, src []byte) diag.Diagnostic {
	at := open.Range
	at.End = end.Range.Start
	line := strings.TrimRight(string(src[at.Start.Byte:at.End.Byte]), " \t\r")
	d := failed("syntax", at, fmt.Sprintf("The text %s has no closing quote", shortened(line)),
		`Write " where the text ends. A text stands on one line.`)
	if before := strings.TrimRight(string(src[:at.Start.Byte]), " "); strings.HasSuffix(before, "=") && len(line) > 1 && !strings.ContainsAny(line, `[]{}#=\`) {
		at.End.Byte = at.Start.Byte + len(line)
		at.End.Column = at.Start.Column + utf8.RuneCountInString(line)
		d.Fix = insert(`Add the closing "`, at, `"`)
	}
	return d
}

// closeText puts a quote on the last character of an open text, of which start is the opening
// quote; where nothing follows the quote, a digit takes its place.
func closeText(text []byte, start, end int) {
	last := end
	for {
		_, size := utf8.DecodeLastRune(text[start+1 : last])
		if size == 0 {
			text[start] = '0'
			return
		}
		for i := last - size; i < last; i++ {
			text[i] = ' '
		}
		if before := text[last-size-1]; before != '\\' && before != '$' && before != '%' {
			text[last-1] = '"'
			return
		}
		last -= size // a quote after a backslash would not close
	}
}
