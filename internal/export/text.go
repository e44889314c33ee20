package export

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/unicode/norm"
)

// Text that a coach wrote goes into formats where a line end, a control character or a leading
// sign means something. These functions take that meaning away; each format then escapes what is
// left in its own way.

// cleanText keeps line feeds, turns every other kind of line end into one, tabs into spaces, and
// drops control characters and marks that reorder the text around them.
func cleanText(s string) string {
	if plain(s) {
		return s
	}
	s = strings.ToValidUTF8(s, "\uFFFD")
	s = strings.ReplaceAll(s, "\r\n", "\n")
	return strings.Map(func(r rune) rune {
		switch {
		case r == '\n':
			return r
		case r == '\r', r == '\v', r == '\f', r == '\u0085', r == '\u2028', r == '\u2029':
			return '\n'
		case r == '\t':
			return ' '
		case unicode.IsControl(r), reorders(r), r == '\uFEFF', r >= 0xFDD0 && r <= 0xFDEF, r&0xFFFE == 0xFFFE:
			return -1
		}
		return r
	}, s)
}

// plain reports whether s is printable ASCII, as nearly every text is.
func plain(s string) bool {
	for i := range len(s) {
		if s[i] < ' ' || s[i] > '~' {
			return false
		}
	}
	return true
}

// reorders reports whether r overrides the direction of the text that follows (UAX 9): such text
// can look like another.
func reorders(r rune) bool {
	return r >= '\u202A' && r <= '\u202E' || r >= '\u2066' && r <= '\u2069'
}

// cleanLine is cleanText in one line, without spaces at the ends.
func cleanLine(s string) string {
	if plain(s) && !strings.Contains(s, "  ") {
		return strings.TrimSpace(s)
	}
	return strings.Join(strings.Fields(cleanText(s)), " ")
}

// foldASCII writes s in printable ASCII for displays that know no more: letters lose their accents,
// dashes and quotes become plain, and what has no near letter becomes a question mark.
func foldASCII(s string) string {
	s = cleanLine(s)
	if plain(s) {
		return s
	}
	var b strings.Builder
	for _, r := range norm.NFKD.String(s) {
		if r >= ' ' && r <= '~' {
			b.WriteRune(r)
		} else {
			b.WriteString(nearASCII(r))
		}
	}
	return cleanLine(b.String())
}

// near spells letters that do not decompose, and signs that are common.
var near = map[rune]string{
	'ß': "ss", 'ẞ': "SS", 'Æ': "AE", 'æ': "ae", 'Œ': "OE", 'œ': "oe", 'Ø': "O", 'ø': "o", 'Ł': "L", 'ł': "l",
	'Đ': "D", 'đ': "d", 'Ð': "D", 'ð': "d", 'Þ': "Th", 'þ': "th", 'ı': "i", 'Ħ': "H", 'ħ': "h", 'Ŧ': "T", 'ŧ': "t",
	'–': "-", '—': "-", '−': "-", '‐': "-", '‑': "-", '‒': "-", '·': "-", '•': "-", '⁄': "/",
	'‘': "'", '’': "'", '‚': "'", '′': "'", '‹': "'", '›': "'", '“': `"`, '”': `"`, '„': `"`, '″': `"`, '«': `"`, '»': `"`,
	'×': "x", '÷': ":", '±': "+-", '→': "->", '←': "<-", '≤': "<=", '≥': ">=", '≈': "~", '°': " deg ", 'μ': "u", '€': "EUR", '£': "GBP", '¡': "!",
}

// nearASCII spells a character that is none of ASCII's. Accents that stand alone, and what only
// joins or shapes other characters, are nothing.
func nearASCII(r rune) string {
	if text, ok := near[r]; ok {
		return text
	}
	switch {
	case unicode.IsSpace(r):
		return " "
	case unicode.In(r, unicode.Mn, unicode.Me, unicode.Cf, unicode.Sk):
		return ""
	}
	return "?"
}

// cut shortens s to at most n bytes, at the edge of a character.
func cut(s string, n int) string {
	if len(s) <= n {
		return s
	}
	for n > 0 && !utf8.RuneStart(s[n]) {
		n--
	}
	return strings.TrimSpace(s[:n])
}

// stub is the length up to which the rest of a word that was cut says nothing.
const stub = 2

// cutName is cut for a name on a small display: what is left of a word is dropped where it is a
// stub, "110 min long" instead of "110 min long ri".
func cutName(s string, n int) string {
	short := cut(s, n)
	space := strings.LastIndexByte(short, ' ')
	if space > 0 && len(short)-space-1 <= stub && len(short) < len(s) && s[len(short)] != ' ' {
		return strings.TrimSpace(short[:space])
	}
	return short
}
