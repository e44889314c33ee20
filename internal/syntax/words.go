package syntax

import (
	"bytes"
	"fmt"
	"strings"

	"github.com/hashicorp/hcl/v2"
	"github.com/hashicorp/hcl/v2/hclsyntax"

	"towpath/internal/diag"
)

// redefined is the parser's summary for a name that is set twice.
const redefined = "Attribute redefined"

// wording says in our words what the parser's summary means. {} stands for what was found.
type wording struct{ summary, detail string }

const (
	oneEachLine = "Each setting has a line of its own: name = value."
	itemOrBlock = `A setting is written weeks = 8; a block is written week "2" { … }.`
	inQuotes    = `Texts, dates, hours and values with a unit stand in quotes: "Autumn", "2026-09-14", "75 min".`
)

var wordings = map[string]wording{
	"Invalid argument name":                           {"Found {} where a name is expected", "The name before = stands without quotes."},
	"Argument or block definition required":           {"Found {} where a setting or a block is expected", itemOrBlock},
	"Argument definition required":                    {"A block stands within a block of one line", "Write the outer block over several lines: { ends its first line, } stands on its last."},
	"Invalid single-argument block definition":        {"A block of one line holds one setting only", "Write each setting on a line of its own: { ends the first line, } stands on the last."},
	"Invalid block definition":                        {"Found {} where { is expected", "The { of a block stands on its first line: week \"2\" {."},
	"Missing newline after argument":                  {"Found {} after the value", oneEachLine},
	"Unexpected comma after argument":                 {"Found {} after the value", oneEachLine + " Commas stand between the entries of a list only."},
	"Missing newline after block definition":          {"Found {} after the end of a block", "Nothing stands on the line after }."},
	"Missing false expression in conditional":         {"Found {} where : is expected", "A choice is written question ? value for yes : value for no."},
	"Invalid legacy index syntax":                     {"Found {} where the number of an entry is expected", "The first entry of a list is written list[0]."},
	"Nested splat expression not allowed":             {"Found {} where a name is expected", "* can stand once in a name."},
	"Invalid attribute name":                          {"Found {} after a dot where a name is expected", "A reference is a kind and a name with a dot between: session.long_ride."},
	"Missing close bracket on splat index":            {"Found {} where ] is expected", "[*] stands for all entries of a list."},
	"Missing close bracket on index":                  {"Found {} where ] is expected", "The first entry of a list is written list[0]."},
	"Unbalanced parentheses":                          {"Found {} where ) is expected", "Close the bracket, or write a comma between the two values."},
	"Missing expression":                              {"The file ends where a value is expected", "A setting is written name = value."},
	"Invalid expression":                              {"Found {} where a value is expected", inQuotes},
	"Invalid number literal":                          {"{} is no number", "Numbers are written 8 or 2.5; values with a unit stand in quotes."},
	"Missing function name":                           {"Found {} where a function's name is expected", "A function is written plus(\"60 min\", \"15 min\")."},
	"Missing open parenthesis":                        {"Found {} where ( is expected", "A function is written plus(\"60 min\", \"15 min\")."},
	"Missing closing parenthesis":                     {"Found {} where ) is expected", "Nothing stands after ... in a function's brackets."},
	"Missing argument separator":                      {"Found {} where a comma is expected", "Values in brackets have commas between them: plus(\"60 min\", \"15 min\")."},
	"Missing item separator":                          {"Found {} where a comma is expected", "The entries of a list have commas between them: [4, 8]. " + inQuotes},
	"Missing attribute value":                         {"Found {} where = and a value are expected", "In braces each name has a value: { name = value, name = value }."},
	"Missing key/value separator":                     {"Found {} where = is expected", "In braces each name has a value: { name = value, name = value }."},
	"Missing attribute separator":                     {"Found {} where a comma is expected", "In braces the parts have commas between them: { name = value, name = value }."},
	"Invalid 'for' expression":                        {"Found {} in a `for` that is not complete", "It is written [for x in list : value], or {for x in list : name => value}."},
	"Invalid string literal":                          {"Found {} in the name of a block", "A name is plain text in quotes; nothing is computed in it."},
	"Invalid escape sequence":                         {"{} means nothing in a text", `Write \\ for a backslash, \" for a quote, \n for a new line.`},
	"Unclosed template interpolation sequence":        {"This ${ is not closed", "Write } after the value, or $${ for the signs themselves."},
	"Extra characters after interpolation expression": {"Found {} where } is expected", "In a text, ${name} stands for a value. Write $${ for the signs themselves."},
	"Invalid template directive":                      {"Found {} after %{ in a text", "Write %%{ for the signs themselves."},
	"Invalid 'for' directive":                         {"Found {} after %{ in a text", "Write %%{ for the signs themselves."},
	"Invalid template control keyword":                {"Found {} after %{ in a text", "Write %%{ for the signs themselves."},
	"Unexpected end of template":                      {"A %{ in this text has no end", "Write %%{ for the signs themselves."},
	"Unterminated template string":                    {"This text is not closed", "Write \" where it ends."},
	"Unsupported operator":                            {"{} is not used here", "Write && for and, || for or, ! for not."},
	"Invalid character":                               {"{} is not used here", inQuotes},
	"Invalid character encoding":                      {"This line holds signs that are no text", "The file must be saved as UTF-8: look for that choice where your editor saves."},
	"Invalid multi-line string":                       {"A text runs past the end of its line", `Write " where the text ends, and \n for a new line within it.`},
}

// translated says in our words what the parser found in an item.
func (s *salvager) translated(p *hcl.Diagnostic, item hclsyntax.Tokens) diag.Diagnostic {
	at := item[0].Range
	if p.Subject != nil {
		at = *p.Subject
	}
	at.Start.Byte = min(max(at.Start.Byte, 0), len(s.text))
	at.End.Byte = min(max(at.End.Byte, at.Start.Byte), len(s.text))
	w, ok := wordings[p.Summary]
	if !ok {
		w = wording{"{} cannot be read here", itemOrBlock}
	}
	found := s.found(at)
	if strings.HasPrefix(found, "the end") {
		at.End = at.Start // underline no line break
	}
	d := failed("syntax", at, sentence(strings.ReplaceAll(w.summary, "{}", found)), w.detail)
	switch {
	case p.Summary == "Argument or block definition required" && hclsyntax.ValidIdentifier(strings.Trim(found, "`")):
		d.Summary = fmt.Sprintf("%s stands here without a value", found)
	case p.Summary == "Invalid expression" && found == "the end of the line":
		d.Detail = `Write a value behind it, such as 8 or "75 min".`
	case p.Summary == "Missing newline after argument" && found[1] == '"':
		d.Detail = `Several values stand in a list: ["one", "two"]. ` + oneEachLine
	case found == "`;`":
		d.Detail = oneEachLine + " No ; is needed at its end."
	}
	d.Fix = s.quoting(item)
	switch {
	case d.Fix != nil:
		d.Detail = fmt.Sprintf("%s Write %s.", inQuotes, d.Fix.Edits[0].Text)
	case p.Summary == "Argument or block definition required" && len(item) > 2 && item[0].Type == hclsyntax.TokenIdent:
		s.headless(&d, item)
	case p.Summary == "Invalid argument name":
		d.Fix = plainName(item)
	case p.Summary == "Invalid block definition":
		d.Fix = s.braceUp(at)
	default:
		if d.Fix = s.repair(p.Summary, at, item); d.Fix != nil {
			d.Detail = strings.TrimSuffix(d.Detail, " "+inQuotes)
		}
	}
	return d
}

// headless tells of a word that neither = nor a label in quotes follows, but nearly: `weeks: 4`,
// `week 2 {`.
func (s *salvager) headless(d *diag.Diagnostic, item hclsyntax.Tokens) {
	word, next := string(item[0].Bytes), item[1]
	switch {
	case next.Type == hclsyntax.TokenColon:
		d.Subject = next.Range
		d.Summary = fmt.Sprintf("Found `:` after `%s`", word)
		d.Detail = "A setting is written with =, as in name = value."
		d.Fix = &diag.Fix{Title: "Write = for the colon", Edits: []diag.Edit{{Range: next.Range, Text: " ="}}}
	case next.Type == hclsyntax.TokenNumberLit && item[2].Type == hclsyntax.TokenOBrace:
		d.Subject = next.Range
		d.Summary = fmt.Sprintf("The name of this %s stands without quotes", word)
		d.Detail = fmt.Sprintf("Write %s %q { … }.", word, next.Bytes)
		d.Fix = &diag.Fix{Title: "Put the name in quotes", Edits: []diag.Edit{{Range: next.Range, Text: fmt.Sprintf("%q", next.Bytes)}}}
	}
}

// found names the text at a place.
func (s *salvager) found(at hcl.Range) string {
	switch text := string(s.text[at.Start.Byte:at.End.Byte]); {
	case text == `"`: // show the text, not its first quote
		if rest, _, closed := bytes.Cut(s.text[at.End.Byte:], []byte(`"`)); closed {
			text += string(rest) + `"`
		}
		return "`" + shortened(text) + "`"
	case text == "" && at.Start.Byte >= len(s.text):
		return "the end of the file"
	case strings.TrimSpace(text) == "":
		return "the end of the line"
	default:
		return "`" + shortened(text) + "`"
	}
}

// quoting offers to put the value of a setting in quotes, where it consists of words and numbers
// as in `first = 5 h` or `at = 18:30`.
func (s *salvager) quoting(item hclsyntax.Tokens) *diag.Fix {
	if len(item) < 4 || item[0].Type != hclsyntax.TokenIdent || item[1].Type != hclsyntax.TokenEqual {
		return nil
	}
	value := item[2:]
	for len(value) > 0 && (endsLine(value[len(value)-1]) || value[len(value)-1].Type == hclsyntax.TokenComment) {
		value = value[:len(value)-1]
	}
	if len(value) == 0 || value[len(value)-1].Type == hclsyntax.TokenComma {
		return nil
	}
	at := value[0].Range
	at.End = value[len(value)-1].Range.End
	text := string(s.text[at.Start.Byte:at.End.Byte])
	words := strings.Count(text, ".") / 2 // 1.2.2027 is no number
	for _, t := range value {
		switch t.Type {
		case hclsyntax.TokenNumberLit, hclsyntax.TokenMinus, hclsyntax.TokenSlash, hclsyntax.TokenComma:
		case hclsyntax.TokenIdent, hclsyntax.TokenPercent, hclsyntax.TokenColon:
			words++
		case hclsyntax.TokenInvalid:
			if r := string(t.Bytes); r != "–" && r != "—" && r != "−" {
				return nil
			}
			words++
		default:
			return nil
		}
	}
	if words == 0 {
		return nil
	}
	return &diag.Fix{Title: "Put the value in quotes", Edits: []diag.Edit{{Range: at, Text: `"` + text + `"`}}}
}

// redefinition tells of a name that is set twice in one block.
func (s *salvager) redefinition(p *hcl.Diagnostic, body *hclsyntax.Body) diag.Diagnostic {
	at := *p.Subject
	name := string(s.text[at.Start.Byte:at.End.Byte])
	return setTwice(name, at, firstOf(name, at, body))
}

// firstOf finds where the name that is set again at a place was set first: in the innermost body
// around the place.
func firstOf(name string, at hcl.Range, body *hclsyntax.Body) hcl.Range {
	for _, b := range body.Blocks {
		if r := b.Body.SrcRange; r.Start.Byte <= at.Start.Byte && at.End.Byte <= r.End.Byte {
			return firstOf(name, at, b.Body)
		}
	}
	if a := body.Attributes[name]; a != nil {
		return a.NameRange
	}
	return at
}

func setTwice(name string, at, first hcl.Range) diag.Diagnostic {
	d := failed("syntax", at, fmt.Sprintf("`%s` is written twice", name), "Keep one of the two.")
	d.Related = []diag.Related{{Message: "the first one", Range: first}}
	return d
}

// shortened keeps a message on one line.
func shortened(text string) string {
	text, _, cut := strings.Cut(strings.TrimSpace(text), "\n")
	if r := []rune(text); len(r) > 40 {
		text, cut = string(r[:40]), true
	}
	if cut {
		text += "…"
	}
	return text
}
