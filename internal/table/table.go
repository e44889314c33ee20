// Package table reads the text files in which coaches keep rows of values, as spreadsheets write
// them: a line of column names, then one row a line. The bytes of a file go in, cells with their
// places come out, and one diagnostic for each cause. Values are parted by commas, semicolons or
// tabs and may stand in quotes; a byte-order mark, Windows line ends, empty lines and lines that
// start with # are no matter. What the columns mean is its callers' business.
package table

import (
	"bytes"
	"fmt"
	"strings"
	"unicode/utf8"

	"towpath/internal/diag"
)

// Form is what a kind of file holds, for what is said of it.
type Form struct {
	Code      string // "test": what is said has the codes test-file, test-columns and test-row
	File      string // "test file"
	Row, Rows string // "stage", "stages"
	Header    string // a first line as it could be written
	MostBytes int    // of what is read
	MostRows  int
	Usual     string // how long such a file is: "A step test has a dozen lines"
	Suspect   string // what a file that is too long may be: a question
	Numbers   bool   // most values are numbers, which decimal commas can tear apart
}

// Table is a file whose first line was read.
type Table struct {
	Range     diag.Range // of the line that names the columns; the file's begin where there is none
	Header    []Cell
	form      Form
	separator byte
	lines     []line // below the header
}

// Row is a line of values, one cell for each column.
type Row struct {
	Range diag.Range
	Cells []Cell
}

// Open reads the first line, which names the columns. Where that cannot be, the one error says why
// and the table has its place only.
func Open(name string, data []byte, f Form) (*Table, diag.List) {
	t := &Table{form: f}
	t.Range.Filename = name
	t.Range.Start.Line, t.Range.Start.Column = 1, 1
	t.Range.End = t.Range.Start
	if summary, detail := f.refuse(data); summary != "" {
		return t, diag.List{t.problem("file", t.Range, summary, detail)}
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
		return t, diag.List{t.problem("file", t.Range, fmt.Sprintf("The %s holds no %s", f.File, f.Rows),
			fmt.Sprintf("Its first line names the columns, such as %s, and each line after it is a %s.", f.Header, f.Row))}
	}
	t.Range, t.separator, t.lines = lines[0].whole(), separatorOf(lines[0].text), lines[1:]
	header, unclosed := lines[0].cells(t.separator)
	if unclosed != nil {
		return t, diag.List{t.unclosedQuote(*unclosed)}
	}
	t.Header = header
	return t, nil
}

// Rows reads the lines below the header: each that is whole is a row, and each that is not is a
// diagnostic.
func (t *Table) Rows() (rows []Row, found diag.List) {
	for _, l := range t.lines {
		if l.blank() || strings.Trim(l.text, Spaces+string(t.separator)) == "" {
			continue // also a row of empty cells, as spreadsheets leave below a table
		}
		if len(rows) == t.form.MostRows {
			found.Add(t.problem("file", l.whole(), fmt.Sprintf("The %s has more than %d %s", t.form.File, t.form.MostRows, t.form.Rows),
				fmt.Sprintf("One line is one %s. %s", t.form.Row, t.form.Suspect)))
			return rows, found
		}
		cells, unclosed := l.cells(t.separator)
		if unclosed != nil {
			found.Add(t.unclosedQuote(*unclosed))
			continue
		}
		for len(cells) > len(t.Header) && cells[len(cells)-1].Text == "" {
			cells = cells[:len(cells)-1]
		}
		if len(cells) != len(t.Header) {
			found.Add(t.wrongCount(l, len(cells)))
			continue
		}
		rows = append(rows, Row{l.whole(), cells})
	}
	if len(rows) == 0 && !found.HasErrors() {
		found.Add(t.problem("file", t.Range, fmt.Sprintf("The %s names its columns and holds no %s", t.form.File, t.form.Rows),
			fmt.Sprintf("Each line after the first is one %s, its values in the order of the names above.", t.form.Row)))
	}
	return rows, found
}

// NoHeader says that the first line holds values already.
func (t *Table) NoHeader() diag.Diagnostic {
	return t.problem("columns", t.Range, "The first line holds values, not the names of the columns",
		fmt.Sprintf("Put a line above it that names them, such as %s.", t.form.Header))
}

// Repeated says which columns have the name of one before them.
func (t *Table) Repeated() (found diag.List) {
	first := map[string]diag.Range{}
	for _, c := range t.Header {
		name := strings.ToLower(c.Text)
		at, ok := first[name]
		if !ok || name == "" {
			first[name] = c.At
			continue
		}
		d := t.problem("columns", c.At, fmt.Sprintf("The column %s stands here twice", Quote(c.Text)),
			"Each column is read once. Take one of the two out, or give it another name.")
		d.Related = []diag.Related{{Message: "the first one", Range: at}}
		found.Add(d)
	}
	return found
}

// refuse looks at the file as a whole; the summary is empty where it can be read.
func (f Form) refuse(data []byte) (summary, detail string) {
	const save = "In the spreadsheet, save the sheet as CSV (UTF-8) and name that file here."
	file := "The " + f.File
	switch {
	case len(data) > f.MostBytes:
		return fmt.Sprintf("%s is %d KiB long", file, len(data)>>10),
			fmt.Sprintf("%s; at most %d KiB are read. %s", f.Usual, f.MostBytes>>10, f.Suspect)
	case bytes.HasPrefix(data, []byte("PK\x03\x04")), bytes.HasPrefix(data, []byte("\xd0\xcf\x11\xe0")):
		return file + " is a spreadsheet workbook, not a text file", save
	case bytes.HasPrefix(data, []byte("\xff\xfe")), bytes.HasPrefix(data, []byte("\xfe\xff")):
		return file + " is written in UTF-16", "Text files are read as UTF-8. " + save
	case bytes.IndexByte(data, 0) >= 0:
		return file + " is not a text file", "It holds signs that no text has. " + save
	case !utf8.Valid(data):
		return file + " is not written in UTF-8", "A letter or sign in it comes from an older encoding. " + save
	}
	return "", ""
}

func (t *Table) wrongCount(l line, got int) diag.Diagnostic {
	want := len(t.Header)
	detail := "Each line has one value, or an empty place, for each column of the first line."
	if got > want && t.separator == ',' && t.form.Numbers {
		detail += " Decimal commas? Then part the values with semicolons, or write 1.5 for 1,5."
	}
	if got == 1 && want > 1 {
		words := map[byte]string{';': "semicolons", '\t': "tabs", ',': "commas"}
		detail += fmt.Sprintf(" The first line parts them with %s.", words[t.separator])
	}
	return t.problem("row", l.whole(), fmt.Sprintf("This line has %s, the first line names %s", count(got, "value"), count(want, "column")), detail)
}

func (t *Table) unclosedQuote(at diag.Range) diag.Diagnostic {
	return t.problem("row", at, `A value starts with " and does not end with it`,
		`Values need no quotes. Take the " out, or close it on the same line, before the next value.`)
}

func (t *Table) problem(code string, at diag.Range, summary, detail string) diag.Diagnostic {
	return diag.Diagnostic{Code: t.form.Code + "-" + code, Severity: diag.Error, Subject: at, Summary: summary, Detail: detail}
}

// Quote shows a piece of the file, shortened, with its signs made visible.
func Quote(s string) string {
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
