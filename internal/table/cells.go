package table

import (
	"strings"
	"unicode/utf8"

	"towpath/internal/diag"
)

// line is one line of a data file.
type line struct {
	name   string
	number int // from 1
	offset int // bytes before it
	text   string
}

// splitLines cuts at LF, CRLF or, in a file without any LF, at CR.
func splitLines(name, text string, offset int) (out []line) {
	end := "\n"
	if !strings.Contains(text, "\n") {
		end = "\r"
	}
	for n, t := range strings.Split(text, end) {
		out = append(out, line{name, n + 1, offset, strings.TrimSuffix(t, "\r")})
		offset += len(t) + len(end)
	}
	return out
}

// at is the place of the bytes from to to of the line.
func (l line) at(from, to int) (r diag.Range) {
	r.Filename = l.name
	r.Start.Line, r.Start.Column, r.Start.Byte = l.number, 1+utf8.RuneCountInString(l.text[:from]), l.offset+from
	r.End.Line, r.End.Column, r.End.Byte = l.number, 1+utf8.RuneCountInString(l.text[:to]), l.offset+to
	return r
}

func (l line) whole() diag.Range { return l.at(0, len(l.text)) }

// blank lines and lines that start with # hold no row.
func (l line) blank() bool {
	t := strings.TrimSpace(l.text)
	return t == "" || t[0] == '#'
}

// Cell is one value of a line, without its quotes and the spaces around it.
type Cell struct {
	Text string
	At   diag.Range
}

// Spaces are what spreadsheets put around values, the no-break spaces with them.
const Spaces = " \t\u00a0\u202f"

// cells cuts a line at the separator. A cell may stand in double quotes, a quote in it doubled.
// unclosed is the place of a quote that does not end, nil where all do.
func (l line) cells(separator byte) (out []Cell, unclosed *diag.Range) {
	rest := 0
	for {
		start := rest
		for start < len(l.text) && (l.text[start] == ' ' || l.text[start] == '\t' && separator != '\t') {
			start++
		}
		if start < len(l.text) && l.text[start] == '"' {
			text, end, ok := quoted(l.text, start)
			tail := end
			for tail < len(l.text) && l.text[tail] != separator {
				tail++
			}
			if !ok || strings.Trim(l.text[end:tail], Spaces) != "" {
				r := l.at(start, len(l.text))
				return out, &r
			}
			out = append(out, Cell{strings.Trim(text, Spaces), l.at(start, end)})
			rest = tail
		} else {
			end := strings.IndexByte(l.text[rest:], separator)
			if end < 0 {
				end = len(l.text)
			} else {
				end += rest
			}
			raw := l.text[rest:end]
			from := rest + len(raw) - len(strings.TrimLeft(raw, Spaces))
			text := strings.Trim(raw, Spaces)
			if text == "" {
				from = rest
			}
			out = append(out, Cell{text, l.at(from, from+len(text))})
			rest = end
		}
		if rest >= len(l.text) {
			return out, nil
		}
		rest++
	}
}

// quoted reads the quoted text that starts at the quote; end is the byte after the closing one.
func quoted(s string, start int) (text string, end int, ok bool) {
	var b strings.Builder
	for i := start + 1; i < len(s); i++ {
		switch {
		case s[i] != '"':
			b.WriteByte(s[i])
		case i+1 < len(s) && s[i+1] == '"':
			b.WriteByte('"')
			i++
		default:
			return b.String(), i + 1, true
		}
	}
	return b.String(), len(s), false
}

// separatorOf finds what parts the values of a header line: the most frequent of semicolon,
// comma and tab, a semicolon where they draw.
func separatorOf(header string) byte {
	best, most := byte(','), 0
	for _, c := range []byte{';', ',', '\t'} {
		if n := strings.Count(header, string(c)); n > most {
			best, most = c, n
		}
	}
	return best
}
