package spec

import (
	"fmt"
	"strings"
	"unicode/utf8"

	"github.com/hashicorp/hcl/v2"
)

// within gives the part of a quoted text that runs from byte offset to offset+length of what the
// text says. src is the text as it stands in the file, with its quotes. Where the two cannot be
// laid side by side the whole text is given.
func within(at hcl.Range, src []byte, text string, offset, length int) hcl.Range {
	if len(src) < 2 || src[0] != '"' {
		return at
	}
	places, ok := unquotedPlaces(string(src[1:len(src)-1]), text)
	offset = min(max(offset, 0), len(text))
	end := min(max(offset+max(length, 1), offset), len(text))
	if !ok || end <= offset {
		return at
	}
	return hcl.Range{
		Filename: at.Filename,
		Start:    advance(at.Start, src[:1+places[offset]]),
		End:      advance(at.Start, src[:1+places[end]]),
	}
}

// unquotedPlaces tells for each byte of text (and its end) where it stands in raw, which is text
// with its escapes.
func unquotedPlaces(raw, text string) (places []int, ok bool) {
	var said strings.Builder
	for i := 0; i < len(raw); {
		piece, size := rawPiece(raw[i:])
		for range len(piece) {
			places = append(places, i)
		}
		said.WriteString(piece)
		i += size
	}
	return append(places, len(raw)), said.String() == text
}

// rawPiece reads one letter or escape.
func rawPiece(s string) (said string, size int) {
	if strings.HasPrefix(s, "$${") || strings.HasPrefix(s, "%%{") {
		return s[1:3], 3
	}
	if s[0] != '\\' || len(s) < 2 {
		_, n := utf8.DecodeRuneInString(s)
		return s[:n], n
	}
	switch s[1] {
	case 'n':
		return "\n", 2
	case 'r':
		return "\r", 2
	case 't':
		return "\t", 2
	case 'u', 'U':
		digits := 4
		if s[1] == 'U' {
			digits = 8
		}
		var r rune
		if len(s) < 2+digits {
			return "", len(s)
		}
		if _, err := fmt.Sscanf(s[2:2+digits], "%x", &r); err != nil {
			return "", 2 + digits
		}
		return string(r), 2 + digits
	}
	return s[1:2], 2
}

// advance moves a position over the bytes of src, which stands on one line.
func advance(p hcl.Pos, src []byte) hcl.Pos {
	p.Byte += len(src)
	p.Column += utf8.RuneCount(src)
	return p
}

// quoted writes a text as it stands in a plan.
func quoted(s string) string {
	return `"` + escapes.Replace(s) + `"`
}

// shown writes a text in a message, where a long one is cut.
func shown(s string) string {
	const longest = 60
	if n := 0; utf8.RuneCountInString(s) > longest {
		for i := range s {
			if n == longest {
				return quoted(s[:i] + "…")
			}
			n++
		}
	}
	return quoted(s)
}

var escapes = strings.NewReplacer(`\`, `\\`, `"`, `\"`, "\n", `\n`, "\r", `\r`, "\t", `\t`, "${", "$${", "%{", "%%{")
