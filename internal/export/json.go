package export

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"math"
	"strconv"
	"unicode"

	"towpath/internal/diag"
	"towpath/internal/prescription"
	"towpath/internal/units"
)

// planSchema identifies the form of plan.json; schemas/plan.json describes it.
const planSchema = "urn:towpath:schema:plan:1"

// JSON writes the block with all targets, steps, loads and findings, and with the origin of each
// session: the complete form, in which nothing is folded, cut or left out; only the parts that many
// origins share are told once. What is not known is null. Keys, decimals and order are those of
// schemas/plan.json.
func JSON(w io.Writer, p *prescription.Prescription, findings diag.List, files map[string][]byte, generator string) error {
	doc := planDoc{
		Schema:    planSchema,
		Generator: generator,
		Plan:      p.Block.PlanID,
		Athlete:   p.Block.Athlete.Key,
		Block:     p.Block.Key,
		AsOf:      dateOrNull(p.AsOf),
		Length:    lengthOf(p.Block),
		Calendar:  calendarDoc{!p.Block.Athlete.Calendar.AllDay, minutesOrNull(p.Block.Athlete.Calendar.Reminder)},
		Device:    deviceOf(p.Block.Athlete.Device),
		Events:    make([]eventDoc, 0, len(p.Block.Events)),
		Weeks:     make([]weekDoc, 0, len(p.Weeks)),
		Bands:     make([]bandDoc, 0, len(p.Block.Bands)),
		Sessions:  make([]sessionDoc, 0, len(p.Sessions)),
		Other:     otherOf(p.Block),
		Findings:  diag.JSON(findings, files),
	}
	for _, e := range p.Block.Events {
		doc.Events = append(doc.Events, eventOf(p.Block, e))
	}
	for i := range p.Weeks {
		doc.Weeks = append(doc.Weeks, weekOf(&p.Weeks[i]))
	}
	for _, b := range p.Block.Bands {
		doc.Bands = append(doc.Bands, bandOf(b))
	}
	all := origins{map[originKey]int{}, map[originKey]int{}}
	for i := range p.Sessions {
		doc.Sessions = append(doc.Sessions, sessionOf(&p.Sessions[i], all))
	}
	var buf bytes.Buffer
	if err := writeJSON(&buf, doc); err != nil {
		return err
	}
	_, err := w.Write(buf.Bytes())
	return err
}

// PlanID reads which plan a plan.json was made from, "" where it does not say.
func PlanID(data []byte) string {
	var doc struct{ Plan string }
	if json.Unmarshal(data, &doc) != nil {
		return ""
	}
	return doc.Plan
}

// writeJSON writes v indented by two spaces, lists of plain values on one line, and a final line
// feed.
func writeJSON(buf *bytes.Buffer, v any) error {
	var compact bytes.Buffer
	enc := json.NewEncoder(&compact)
	enc.SetEscapeHTML(false)
	if err := enc.Encode(v); err != nil {
		return err
	}
	layOut(buf, bytes.TrimSpace(compact.Bytes()))
	buf.WriteByte('\n')
	return nil
}

// layOut adds line feeds and spaces to compact JSON.
func layOut(out *bytes.Buffer, src []byte) {
	depth := 0
	newline := func() {
		out.WriteByte('\n')
		for range depth {
			out.WriteString("  ")
		}
	}
	for i := 0; i < len(src); i++ {
		switch c := src[i]; c {
		case '"':
			end := stringEnd(src, i)
			writeString(out, src[i:end])
			i = end - 1
		case '{', '[':
			if end := flatEnd(src, i); end > 0 {
				writeFlat(out, src[i:end])
				i = end - 1
				continue
			}
			out.WriteByte(c)
			depth++
			newline()
		case '}', ']':
			depth--
			newline()
			out.WriteByte(c)
		case ',':
			out.WriteByte(c)
			newline()
		case ':':
			out.WriteString(": ")
		default:
			out.WriteByte(c)
		}
	}
}

// flatEnd is the position after a list without inner lists or objects, or after an empty object;
// 0 for all else.
func flatEnd(src []byte, start int) int {
	if src[start] == '{' {
		if src[start+1] == '}' {
			return start + 2
		}
		return 0
	}
	for i := start + 1; i < len(src); i++ {
		switch src[i] {
		case '"':
			i = stringEnd(src, i) - 1
		case '{', '[':
			return 0
		case ']':
			return i + 1
		}
	}
	return 0
}

func writeFlat(out *bytes.Buffer, src []byte) {
	for i := 0; i < len(src); i++ {
		switch src[i] {
		case '"':
			end := stringEnd(src, i)
			writeString(out, src[i:end])
			i = end - 1
		case ',':
			out.WriteString(", ")
		default:
			out.WriteByte(src[i])
		}
	}
}

// writeString writes a string of compact JSON. What a terminal would obey, and what would show the
// text in another order, is written as its number: the meaning stays.
func writeString(out *bytes.Buffer, quoted []byte) {
	if plain(string(quoted)) {
		out.Write(quoted)
		return
	}
	for _, r := range string(quoted) {
		if unicode.IsControl(r) || reorders(r) {
			fmt.Fprintf(out, `\u%04x`, r) // all of them lie below U+10000
			continue
		}
		out.WriteRune(r)
	}
}

// stringEnd is the position after the string that starts at i.
func stringEnd(src []byte, i int) int {
	for i++; src[i] != '"'; i++ {
		if src[i] == '\\' {
			i++
		}
	}
	return i + 1
}

// decimals prints a number with a fixed count of decimals, null where it is not finite. Digits
// beyond the sixth are dropped first, so that the last bit of a sum cannot turn a printed digit.
func decimals(v float64, places int) json.RawMessage {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return json.RawMessage("null")
	}
	const sixth = 1e6
	v = math.Round(v*sixth) / sixth
	text := strconv.FormatFloat(v, 'f', places, 64)
	if zero, err := strconv.ParseFloat(text, 64); err == nil && zero == 0 {
		text = strconv.FormatFloat(0, 'f', places, 64) // no minus zero
	}
	return json.RawMessage(text)
}

// The decimals of plan.json, as its schema states them.
const (
	bandDecimals       = 1 // watts, beats and effort of bands and thresholds
	workDecimals       = 0 // kilojoules
	trimpDecimals      = 1
	sessionRPEDecimals = 0
	monotonyDecimals   = 2
)

func pair[T ~float64](r *units.Range[T], places int) *[2]json.RawMessage {
	if r == nil {
		return nil
	}
	return &[2]json.RawMessage{decimals(float64(r.Low), places), decimals(float64(r.High), places)}
}

func three[T ~float64](t *prescription.Three[T], places int) *[3]json.RawMessage {
	if t == nil {
		return nil
	}
	return &[3]json.RawMessage{
		decimals(float64(t.Low), places), decimals(float64(t.Mid), places), decimals(float64(t.High), places),
	}
}

func dateOrNull(d units.Date) *string {
	if d.IsZero() {
		return nil
	}
	s := d.String()
	return &s
}

func clockOrNull(c units.Clock) *string {
	if c.IsZero() {
		return nil
	}
	s := c.String()
	return &s
}

func minutesOrNull(m units.Minutes) *int {
	if m == 0 {
		return nil
	}
	n := int(m)
	return &n
}

// textOrNull keeps the coach's text as it is: JSON can hold all of it.
func textOrNull(s string) *string {
	if s == "" {
		return nil
	}
	return &s
}
