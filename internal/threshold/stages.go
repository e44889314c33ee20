package threshold

import (
	"bytes"
	"fmt"
	"math"
	"strings"
	"unicode/utf8"

	"towpath/internal/diag"
	"towpath/internal/physiology"
	"towpath/internal/units"
)

// The most that is read of a data file: a step test has a dozen lines.
const (
	mostBytes = 256 << 10
	mostRows  = 200
)

// column is a column of a data file by its name, which holds the unit.
type column struct {
	key     string
	unit    string
	aliases []string
	set     func(s *Stage, v float64, at diag.Range)
}

func (c column) unitWords() string {
	switch c.key {
	case "duration_s":
		return "seconds"
	case "rpe_6_20":
		return "steps from 6 to 20"
	}
	return c.unit
}

// columns are those that are read, in the order in which a file is best written. The aliases are
// names without a unit, which are refused with the right name.
func columns() []column {
	return []column{
		{"stage", "stages", []string{"step", "nr", "no", "number"}, func(*Stage, float64, diag.Range) {}},
		{"power_w", "W", []string{"power", "watt", "watts", "w", "load", "power_watts", "power (w)", "wattage"}, func(s *Stage, v float64, at diag.Range) {
			s.Power, s.Places.Power = units.Power(v), at
		}},
		{"duration_s", "s", []string{"duration", "time", "seconds", "sec", "time_s", "duration_min", "minutes", "duration (s)"}, func(s *Stage, v float64, at diag.Range) {
			s.Duration, s.Places.Duration = units.Duration(v), at
		}},
		{"heart_rate_bpm", "bpm", []string{"hr", "heart_rate", "heartrate", "heart rate", "bpm", "pulse", "hr_bpm", "heart rate (bpm)"}, func(s *Stage, v float64, at diag.Range) {
			h := units.HeartRate(v)
			s.HeartRate, s.Places.HeartRate = &h, at
		}},
		{"lactate_mmol_l", "mmol/L", []string{"lactate", "la", "lac", "blood_lactate", "lactate_mmol", "mmol", "mmol/l", "lactate (mmol/l)", "lactate_mg_dl"}, func(s *Stage, v float64, at diag.Range) {
			l := units.Lactate(v)
			s.Lactate, s.Places.Lactate = &l, at
		}},
		{"rpe_6_20", "", []string{"rpe", "effort", "exertion", "borg"}, func(s *Stage, v float64, at diag.Range) {
			e := units.Effort(v)
			s.Effort, s.Places.Effort = &e, at
		}},
	}
}

// gasColumns belong to the same kind of file and are not read for lactate thresholds.
var gasColumns = map[string]bool{"vo2_ml_min": true, "vco2_ml_min": true, "ve_l_min": true}

const wantedHeader = "stage,power_w,duration_s,heart_rate_bpm,lactate_mmol_l,rpe_6_20"

// ParseCSV reads a step test from a text file: one line of column names, one line per stage.
// Columns come in any order, parted by commas, semicolons or tabs, with a decimal point or comma;
// a byte-order mark, Windows line ends, empty lines and lines that start with # are no matter.
// Each thing that cannot be read is one diagnostic at its place; what could be read comes back.
func ParseCSV(name string, data []byte) (StepTest, diag.List) {
	test := StepTest{Name: name}
	test.Where.Filename = name
	test.Where.Start.Line, test.Where.Start.Column = 1, 1
	test.Where.End = test.Where.Start
	var found diag.List
	if d := refuseFile(name, data); d != nil {
		d.Subject = test.Where
		return test, diag.List{*d}
	}
	body, mark := bytes.CutPrefix(data, []byte("\ufeff"))
	offset := 0
	if mark {
		offset = len(data) - len(body)
	}
	lines := splitLines(name, string(body), offset)
	for len(lines) > 0 && lines[0].blank() {
		lines = lines[1:]
	}
	if len(lines) == 0 {
		found.Add(problem("test-file", test.Where, "The test file holds no stages",
			"Its first line names the columns, such as "+wantedHeader+", and each line after it is a stage."))
		return test, found
	}
	test.Where = lines[0].whole()
	separator := separatorOf(lines[0].text)
	header, more := readHeader(lines[0], separator)
	found.Add(more...)
	if found.HasErrors() {
		return test, found
	}
	test.Stages, more = readRows(lines[1:], separator, header)
	found.Add(oncePerCause(more)...)
	if len(test.Stages) == 0 && !found.HasErrors() {
		found.Add(problem("test-file", test.Where, "The test file names its columns and holds no stages",
			"Each line after the first is one stage, its values in the order of the names above."))
	}
	return test, found
}

// refuseFile looks at the file as a whole.
func refuseFile(name string, data []byte) *diag.Diagnostic {
	refuse := func(summary, detail string) *diag.Diagnostic {
		d := problem("test-file", diag.Range{}, summary, detail)
		return &d
	}
	const save = "In the spreadsheet, save the sheet as CSV (UTF-8) and name that file here."
	switch {
	case len(data) > mostBytes:
		return refuse(fmt.Sprintf("The test file is %d KiB long", len(data)>>10),
			fmt.Sprintf("A step test has a dozen lines; at most %d KiB are read. Does %s hold the ride's second-by-second record instead of its stages?", mostBytes>>10, name))
	case bytes.HasPrefix(data, []byte("PK\x03\x04")), bytes.HasPrefix(data, []byte("\xd0\xcf\x11\xe0")):
		return refuse("The test file is a spreadsheet workbook, not a text file", save)
	case bytes.HasPrefix(data, []byte("\xff\xfe")), bytes.HasPrefix(data, []byte("\xfe\xff")):
		return refuse("The test file is written in UTF-16", "Text files are read as UTF-8. "+save)
	case bytes.IndexByte(data, 0) >= 0:
		return refuse("The test file is not a text file", "It holds bytes that no text has. "+save)
	case !utf8.Valid(data):
		return refuse("The test file is not written in UTF-8", "A letter or sign in it comes from an older encoding. "+save)
	}
	return nil
}

// readHeader finds the column of each cell; -1 for those that are not read.
func readHeader(l line, separator byte) (header []*column, found diag.List) {
	cells, unclosed := l.cells(separator)
	if unclosed != nil {
		found.Add(unclosedQuote(*unclosed))
		return nil, found
	}
	if holdsValues(cells) {
		found.Add(problem("test-columns", l.whole(), "The first line holds values, not the names of the columns",
			"Put a line above it that names them, such as "+wantedHeader+"."))
		return nil, found
	}
	known := columns()
	first := map[string]diag.Range{}
	for _, c := range cells {
		name := strings.ToLower(c.text)
		if at, ok := first[name]; ok && name != "" {
			d := problem("test-columns", c.at, fmt.Sprintf("The column %s stands here twice", quote(c.text)), "Each column is read once. Take one of the two out, or give it another name.")
			d.Related = []diag.Related{{Message: "the first one", Range: at}}
			found.Add(d)
		}
		first[name] = c.at
		col, d := findColumn(known, name, c)
		if d != nil {
			found.Add(*d)
		}
		header = append(header, col)
	}
	for _, need := range []string{"power_w", "lactate_mmol_l"} {
		if _, ok := first[need]; !ok && !found.HasErrors() {
			found.Add(problem("test-columns", l.whole(), "The test file has no column "+need,
				"A lactate step test needs power_w and lactate_mmol_l; stage, duration_s, heart_rate_bpm and rpe_6_20 are read where they are there. Columns may come in any order."))
		}
	}
	return header, found
}

// findColumn knows a column by its name; a name without its unit is refused with the right one.
func findColumn(known []column, name string, c cell) (*column, *diag.Diagnostic) {
	for i, k := range known {
		if k.key == name {
			return &known[i], nil
		}
		for _, alias := range k.aliases {
			if alias == name || alias == strings.ReplaceAll(name, " ", "_") {
				d := problem("test-columns", c.at, fmt.Sprintf("The column %s does not say its unit in the way that is read here", quote(c.text)),
					fmt.Sprintf("Write %s%s.", k.key, inUnit(k, name)))
				if !converts(name) {
					d.Fix = &diag.Fix{Title: "Write " + k.key, Edits: []diag.Edit{{Range: c.at, Text: k.key}}}
				}
				return nil, &d
			}
		}
	}
	if name == "" || gasColumns[name] {
		return nil, nil
	}
	d := problem("test-columns", c.at, fmt.Sprintf("The column %s is not read", quote(c.text)),
		"These are: "+strings.ReplaceAll(wantedHeader, ",", ", ")+". If it is one of them, write its name so; a remark may stay.")
	d.Severity = diag.Advice
	return nil, &d
}

// converts reports whether a column of that name needs other values, not only another name.
func converts(name string) bool {
	return name == "duration_min" || name == "minutes" || name == "lactate_mg_dl" || name == "time"
}

func inUnit(c column, name string) string {
	switch {
	case name == "lactate_mg_dl":
		return fmt.Sprintf(", and the values in mmol/L: 1 mmol/L is %g mg/dL", physiology.LactateMgPerDl.Value)
	case c.key == "duration_s":
		return ", and the values in seconds"
	case c.key == "rpe_6_20":
		return ", and the ratings on the scale from 6 to 20"
	case c.unit == "" || c.key == "stage":
		return ""
	}
	return ", if the values are in " + c.unit
}

func holdsValues(cells []cell) bool {
	for _, c := range cells {
		if _, ok := number(c.text); ok {
			return true
		}
	}
	return false
}

// readRows reads the lines below the header.
func readRows(lines []line, separator byte, header []*column) (stages []Stage, found diag.List) {
	for _, l := range lines {
		if l.blank() {
			continue
		}
		if len(stages) == mostRows {
			found.Add(problem("test-file", l.whole(), fmt.Sprintf("The test file has more than %d stages", mostRows),
				"One line is one stage of the test. Is this the ride's second-by-second record?"))
			return stages, found
		}
		cells, unclosed := l.cells(separator)
		if unclosed != nil {
			found.Add(unclosedQuote(*unclosed))
			continue
		}
		for len(cells) > len(header) && cells[len(cells)-1].text == "" {
			cells = cells[:len(cells)-1]
		}
		if strings.Trim(l.text, spaces+string(separator)) == "" {
			continue // a row of empty cells, as spreadsheets leave below a table
		}
		if len(cells) != len(header) {
			found.Add(wrongCount(l, separator, len(cells), len(header)))
			continue
		}
		s, more := readRow(l, cells, header)
		found.Add(more...)
		stages = append(stages, s)
	}
	return stages, found
}

func readRow(l line, cells []cell, header []*column) (s Stage, found diag.List) {
	s.Where = l.whole()
	for i, c := range cells {
		col := header[i]
		if col == nil || col.key == "stage" {
			continue
		}
		if c.text == "" {
			if col.key == "power_w" {
				found.Add(problem("test-value", s.Where, "A stage has no power", "Write the stage's watts in the column power_w, or take the line out."))
			}
			continue
		}
		v, ok := number(c.text)
		switch {
		case !ok:
			found.Add(wrongValue(c, *col))
		case col.key == "duration_s" && (v <= 0 || v > mostSeconds):
			found.Add(problem("test-value", c.at, fmt.Sprintf("A stage of %s s cannot be", c.text), "Write how long the stage was ridden, in seconds, or leave it empty where that is not known."))
		case col.key == "duration_s" && v != math.Trunc(v):
			found.Add(problem("test-value", c.at, fmt.Sprintf("A stage of %s s is no whole number of seconds", c.text), "Minutes? Write seconds: 4 min are 240."))
		default:
			col.set(&s, v, c.at)
		}
	}
	return s, found
}

// mostSeconds keeps durations within what an int holds; what a stage can last is checked later.
const mostSeconds = 1e6

func wrongValue(c cell, col column) diag.Diagnostic {
	why, repair := misread(c.text, col)
	d := problem("test-value", c.at, fmt.Sprintf("%s holds %s, which is not a number", col.key, quote(c.text)), why)
	if repair != "-" {
		title := "Write " + repair
		if repair == "" {
			title = "Leave it empty"
		}
		d.Fix = &diag.Fix{Title: title, Edits: []diag.Edit{{Range: c.at, Text: repair}}}
	}
	return d
}

func wrongCount(l line, separator byte, got, want int) diag.Diagnostic {
	detail := "Each line has one value, or an empty place, for each column of the first line."
	if got > want && separator == ',' {
		detail += " Decimal commas? Then part the values with semicolons, or write 1.5 for 1,5."
	}
	if got == 1 && want > 1 {
		detail += fmt.Sprintf(" The first line parts them with %s.", separatorWord(separator))
	}
	return problem("test-row", l.whole(), fmt.Sprintf("This line has %s, the first line names %d columns", count(got, "value"), want), detail)
}

func separatorWord(c byte) string {
	switch c {
	case ';':
		return "semicolons"
	case '\t':
		return "tabs"
	}
	return "commas"
}

func unclosedQuote(at diag.Range) diag.Diagnostic {
	return problem("test-row", at, `A value starts with " and does not end with it`,
		`Values need no quotes. Take the " out, or close it on the same line, before the next value.`)
}

func problem(code string, at diag.Range, summary, detail string) diag.Diagnostic {
	return diag.Diagnostic{Code: code, Severity: diag.Error, Subject: at, Summary: summary, Detail: detail}
}

// quote shows a piece of the file, shortened, with its signs made visible.
func quote(s string) string {
	const most = 40
	if r := []rune(s); len(r) > most {
		s = string(r[:most]) + "..."
	}
	return fmt.Sprintf("%q", s)
}

func count(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}
