package threshold

import (
	"fmt"
	"math"
	"strings"

	"towpath/internal/diag"
	"towpath/internal/physiology"
	"towpath/internal/table"
	"towpath/internal/units"
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

// form is how a test file is written.
var form = table.Form{
	Code: "test", File: "test file", Row: "stage", Rows: "stages",
	Header: wantedHeader, MostBytes: 256 << 10, MostRows: 200,
	Usual:   "A step test has a dozen lines",
	Suspect: "Does it hold the ride's second-by-second record instead of its stages?",
	Numbers: true,
}

// ParseCSV reads a step test from a text file: one line of column names, one line per stage.
// Columns come in any order; package table tells what else is no matter. Each thing that cannot
// be read is one diagnostic at its place; what could be read comes back.
func ParseCSV(name string, data []byte) (StepTest, diag.List) {
	test := StepTest{Name: name}
	file, found := table.Open(name, data, form)
	test.Where = file.Range
	if found.HasErrors() {
		return test, found
	}
	header, found := readHeader(file)
	if found.HasErrors() {
		return test, found
	}
	rows, more := file.Rows()
	for _, row := range rows {
		s, problems := readRow(row, header)
		more.Add(problems...)
		test.Stages = append(test.Stages, s)
	}
	found.Add(more.OncePerCause()...)
	return test, found
}

// readHeader finds the column of each cell; nil for those that are not read.
func readHeader(file *table.Table) (header []*column, found diag.List) {
	if holdsValues(file.Header) {
		return nil, diag.List{file.NoHeader()}
	}
	known := columns()
	has := map[string]bool{}
	for _, c := range file.Header {
		name := strings.ToLower(c.Text)
		has[name] = true
		col, d := findColumn(known, name, c)
		if d != nil {
			found.Add(*d)
		}
		header = append(header, col)
	}
	found.Add(file.Repeated()...)
	for _, need := range []string{"power_w", "lactate_mmol_l"} {
		if !has[need] && !found.HasErrors() {
			found.Add(problem("test-columns", file.Range, "The test file has no column "+need,
				"A lactate step test needs power_w and lactate_mmol_l; stage, duration_s, heart_rate_bpm and rpe_6_20 are read where they are there. Columns may come in any order."))
		}
	}
	return header, found
}

// findColumn knows a column by its name; a name without its unit is refused with the right one.
func findColumn(known []column, name string, c table.Cell) (*column, *diag.Diagnostic) {
	for i, k := range known {
		if k.key == name {
			return &known[i], nil
		}
		for _, alias := range k.aliases {
			if alias == name || alias == strings.ReplaceAll(name, " ", "_") {
				d := problem("test-columns", c.At, fmt.Sprintf("The column %s does not say its unit in the way that is read here", table.Quote(c.Text)),
					fmt.Sprintf("Write %s%s.", k.key, inUnit(k, name)))
				if !converts(name) {
					d.Fix = &diag.Fix{Title: "Write " + k.key, Edits: []diag.Edit{{Range: c.At, Text: k.key}}}
				}
				return nil, &d
			}
		}
	}
	if name == "" || gasColumns[name] {
		return nil, nil
	}
	d := problem("test-columns", c.At, fmt.Sprintf("The column %s is not read", table.Quote(c.Text)),
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

func holdsValues(cells []table.Cell) bool {
	for _, c := range cells {
		if _, ok := number(c.Text); ok {
			return true
		}
	}
	return false
}

func readRow(row table.Row, header []*column) (s Stage, found diag.List) {
	s.Where = row.Range
	for i, c := range row.Cells {
		col := header[i]
		if col == nil || col.key == "stage" {
			continue
		}
		if c.Text == "" {
			if col.key == "power_w" {
				found.Add(problem("test-value", s.Where, "A stage has no power", "Write the stage's watts in the column power_w, or take the line out."))
			}
			continue
		}
		v, ok := number(c.Text)
		switch {
		case !ok:
			found.Add(wrongValue(c, *col))
		case col.key == "duration_s" && (v <= 0 || v > mostSeconds):
			found.Add(problem("test-value", c.At, fmt.Sprintf("A stage of %s s cannot be", c.Text), "Write how long the stage was ridden, in seconds, or leave it empty where that is not known."))
		case col.key == "duration_s" && v != math.Trunc(v):
			found.Add(problem("test-value", c.At, fmt.Sprintf("A stage of %s s is no whole number of seconds", c.Text), "Minutes? Write seconds: 4 min are 240."))
		default:
			col.set(&s, v, c.At)
		}
	}
	return s, found
}

// mostSeconds keeps durations within what an int holds; what a stage can last is checked later.
const mostSeconds = 1e6

func wrongValue(c table.Cell, col column) diag.Diagnostic {
	why, repair := misread(c.Text, col)
	d := problem("test-value", c.At, fmt.Sprintf("%s holds %s, which is not a number", col.key, table.Quote(c.Text)), why)
	if repair != "-" {
		title := "Write " + repair
		if repair == "" {
			title = "Leave it empty"
		}
		d.Fix = &diag.Fix{Title: title, Edits: []diag.Edit{{Range: c.At, Text: repair}}}
	}
	return d
}

func problem(code string, at diag.Range, summary, detail string) diag.Diagnostic {
	return diag.Diagnostic{Code: code, Severity: diag.Error, Subject: at, Summary: summary, Detail: detail}
}

func count(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}
