package threshold

import (
	"fmt"
	"strconv"
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

// blank lines and lines that start with # hold no stage.
func (l line) blank() bool {
	t := strings.TrimSpace(l.text)
	return t == "" || t[0] == '#'
}

// cell is one value of a line, without its quotes and the spaces around it.
type cell struct {
	text string
	at   diag.Range
}

// spaces are what spreadsheets put around values, the no-break spaces with them.
const spaces = " \t\u00a0\u202f"

// cells cuts a line at the separator. A cell may stand in double quotes, a quote in it doubled.
// unclosed is the place of a quote that does not end, nil where all do.
func (l line) cells(separator byte) (out []cell, unclosed *diag.Range) {
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
			if !ok || strings.Trim(l.text[end:tail], spaces) != "" {
				r := l.at(start, len(l.text))
				return out, &r
			}
			out = append(out, cell{strings.Trim(text, spaces), l.at(start, end)})
			rest = tail
		} else {
			end := strings.IndexByte(l.text[rest:], separator)
			if end < 0 {
				end = len(l.text)
			} else {
				end += rest
			}
			raw := l.text[rest:end]
			from := rest + len(raw) - len(strings.TrimLeft(raw, spaces))
			text := strings.Trim(raw, spaces)
			if text == "" {
				from = rest
			}
			out = append(out, cell{text, l.at(from, from+len(text))})
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

// number reads a plain decimal with a point or a comma: no exponent, no thousands mark.
func number(s string) (v float64, ok bool) {
	digits := strings.TrimLeft(strings.Replace(s, "−", "-", 1), "+-")
	if len(s)-len(digits) > len("−") || len(digits) > 15 {
		return 0, false
	}
	marks := 0
	for i := range len(digits) {
		switch c := digits[i]; {
		case c >= '0' && c <= '9':
		case c == '.' || c == ',':
			marks++
			if marks > 1 || i == 0 || i == len(digits)-1 {
				return 0, false
			}
		default:
			return 0, false
		}
	}
	v, err := strconv.ParseFloat(strings.Replace(digits, ",", ".", 1), 64)
	if err != nil {
		return 0, false
	}
	if strings.HasPrefix(s, "-") || strings.HasPrefix(s, "−") {
		v = -v
	}
	return v, true
}

// notMeasured are the words by which people say that nothing was measured.
var notMeasured = map[string]bool{
	"-": true, "--": true, "–": true, "—": true, "/": true, ".": true, "?": true, "x": true,
	"n/a": true, "na": true, "nan": true, "none": true, "null": true, "nil": true, "#n/a": true,
}

// misread tells what is wrong with a cell that holds no number, and what it should hold; repair
// is "-" where only the coach can know, "" where the cell should be empty.
func misread(text string, c column) (why, repair string) {
	const unknown = "-"
	low := strings.ToLower(text)
	if notMeasured[low] {
		return "What was not measured is left empty.", ""
	}
	if m, s, ok := strings.Cut(text, ":"); ok && c.key == "duration_s" {
		minutes, err1 := strconv.Atoi(m)
		seconds, err2 := strconv.Atoi(s)
		if err1 == nil && err2 == nil && minutes >= 0 && minutes < 100 && seconds >= 0 && seconds < 60 {
			total := strconv.Itoa(60*minutes + seconds)
			return "This column is in seconds: write " + total + ".", total
		}
	}
	end := strings.IndexFunc(text, func(r rune) bool { return !strings.ContainsRune("0123456789.,", r) })
	if end > 0 {
		head, tail := text[:end], strings.Trim(text[end:], spaces)
		if _, ok := number(head); ok {
			if c.key == "duration_s" && strings.HasPrefix(tail, "min") {
				if v, _ := number(head); v < 100 {
					total := strconv.FormatFloat(v*60, 'f', -1, 64)
					return "This column is in seconds: write " + total + ".", total
				}
			}
			if tail == c.unit {
				return "The unit stands in the column's name already: write " + head + ".", head
			}
			return fmt.Sprintf("Expected a number in %s and nothing else.", c.unitWords()), unknown
		}
	}
	if strings.Count(text, ".")+strings.Count(text, ",") > 1 {
		return "A number has one decimal mark at most, and no mark between thousands.", unknown
	}
	return fmt.Sprintf("Expected a number in %s, or nothing where it was not measured.", c.unitWords()), unknown
}
