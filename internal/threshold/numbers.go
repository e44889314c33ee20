package threshold

import (
	"fmt"
	"strconv"
	"strings"

	"towpath/internal/table"
)

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
		head, tail := text[:end], strings.Trim(text[end:], table.Spaces)
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
