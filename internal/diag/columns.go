package diag

import (
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/apparentlymart/go-textseg/v17/textseg"
	"golang.org/x/text/width"
)

// tabStop is how far apart a source line's tabs are shown.
const tabStop = 4

// Printable makes a text that somebody else wrote safe for a terminal: control characters, which
// could move the cursor or recolour the screen, show as pictures of themselves; marks that turn the
// direction of writing or cannot be seen, and broken bytes, show as U+FFFD. Line ends show as well:
// what comes out is one line.
func Printable(s string) string {
	clean := func(r rune) rune {
		switch {
		case r < 0x20:
			return 0x2400 + r
		case r == 0x7F:
			return 0x2421
		case r == '\u200C' || r == '\u200D': // join letters and parts of emoji
			return r
		case r == utf8.RuneError, unicode.In(r, unicode.Cc, unicode.Cf, unicode.Zl, unicode.Zp, unicode.Co, unicode.Cs):
			return utf8.RuneError
		}
		return r
	}
	return strings.Map(clean, strings.ToValidUTF8(s, string(utf8.RuneError)))
}

// Columns counts the columns that a printable text takes in a terminal: two for wide characters of
// East Asia and for emoji, none for marks that join the letter before them.
func Columns(s string) int {
	n := 0
	for _, c := range clusters(s) {
		n += clusterColumns(c)
	}
	return n
}

// clusters cuts a text into what a reader sees as one character each.
func clusters(s string) []string {
	if isPlain(s) {
		out := make([]string, len(s))
		for i := range s {
			out[i] = s[i : i+1]
		}
		return out
	}
	var out []string
	for b := []byte(s); len(b) > 0; {
		n, c, err := textseg.ScanGraphemeClusters(b, true)
		if err != nil || n == 0 {
			return append(out, string(b))
		}
		out, b = append(out, string(c)), b[n:]
	}
	return out
}

func isPlain(s string) bool {
	return strings.IndexFunc(s, func(r rune) bool { return r < 0x20 || r >= 0x7F }) < 0
}

func clusterColumns(c string) int {
	if strings.ContainsRune(c, '\uFE0F') { // asks for the emoji form, which is wide
		return 2
	}
	for _, r := range c {
		if unicode.In(r, unicode.Mn, unicode.Me, unicode.Cf) {
			continue
		}
		switch width.LookupRune(r).Kind() {
		case width.EastAsianWide, width.EastAsianFullwidth:
			return 2
		}
		return 1
	}
	return 0
}

// Clip shortens a printable text to n columns; an ellipsis stands for what is left out.
func Clip(s string, n int) string {
	if Columns(s) <= n {
		return s
	}
	var b strings.Builder
	used := 0
	for _, c := range clusters(s) {
		if used+clusterColumns(c) > n-1 {
			break
		}
		used += clusterColumns(c)
		b.WriteString(c)
	}
	if n > 0 {
		b.WriteString("…")
	}
	return b.String()
}

// Wrap breaks a text into lines of at most n columns, between words where it can. Line ends in the
// text stay; each line comes out printable.
func Wrap(s string, n int) []string {
	n = max(n, 1)
	var out []string
	for paragraph := range strings.SplitSeq(strings.TrimRight(s, " \r\n"), "\n") {
		out = append(out, wrapParagraph(strings.TrimSuffix(paragraph, "\r"), n)...)
	}
	return out
}

// unitWords stay on the line of the number before them.
var unitWords = []string{"h", "min", "s", "W", "kJ", "bpm", "rpm", "kg", "%", "W/min", "mmol/L"}

// wrapWords cuts a paragraph where a line may end: not within "75 min", nor within "6 h 55".
func wrapWords(s string) []string {
	var out []string
	fields := strings.Fields(s)
	unit := func(i int) bool {
		return i < len(fields) && slices.Contains(unitWords, strings.TrimRight(fields[i], ".,;:)"))
	}
	for i, word := range fields {
		n := len(out)
		switch {
		case n > 0 && unit(i) && endsInDigit(out[n-1]),
			n > 0 && strings.HasSuffix(out[n-1], " h") && len(word) == 2 && endsInDigit(word) && !unit(i+1):
			out[n-1] += " " + word
		default:
			out = append(out, word)
		}
	}
	return out
}

func endsInDigit(s string) bool { return s != "" && s[len(s)-1] >= '0' && s[len(s)-1] <= '9' }

func wrapParagraph(s string, n int) []string {
	var out []string
	line, used := "", 0
	for _, word := range wrapWords(s) {
		word = Printable(word)
		w := Columns(word)
		if used > 0 && used+1+w > n {
			out, line, used = append(out, line), "", 0
		}
		if used > 0 {
			line, used = line+" ", used+1
		}
		for w > n { // longer than a line: no place to break it is good
			head, tail := split(word, n-used)
			out, line, used = append(out, line+head), "", 0
			word, w = tail, Columns(tail)
		}
		line, used = line+word, used+w
	}
	return append(out, line)
}

// split cuts a text after at most n columns, and after one character at the least.
func split(s string, n int) (head, tail string) {
	used, end := 0, 0
	for i, c := range clusters(s) {
		if i > 0 && used+clusterColumns(c) > n {
			break
		}
		used, end = used+clusterColumns(c), end+len(c)
	}
	return s[:end], s[end:]
}
