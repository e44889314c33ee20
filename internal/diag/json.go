package diag

// JSONReport is what `check --format json` prints.
type JSONReport struct {
	Diagnostics []JSONDiagnostic `json:"diagnostics"`
}

// JSONDiagnostic is a diagnostic for programs. What is absent is null, never missing.
type JSONDiagnostic struct {
	Code     string        `json:"code"`
	Severity string        `json:"severity"` // "error", "warning" or "advice"
	Summary  string        `json:"summary"`
	Detail   string        `json:"detail"`
	Range    *JSONRange    `json:"range"` // null where no text is to blame
	Related  []JSONRelated `json:"related"`
	Fix      *JSONFix      `json:"fix"`
	Waived   *JSONWaived   `json:"waived"`
}

// JSONRange is a place in a file, its path relative to the plan's root, with "/".
type JSONRange struct {
	File  string  `json:"file"`
	Start JSONPos `json:"start"`
	End   JSONPos `json:"end"` // the first position after the text
}

// JSONPos is a position. A byte order mark at the head of a file counts among the bytes and not
// among the columns.
type JSONPos struct {
	Line   int `json:"line"`   // from 1
	Column int `json:"column"` // from 1, in Unicode code points
	Byte   int `json:"byte"`   // from 0
}

// JSONRelated is another place that takes part in the matter.
type JSONRelated struct {
	Message string     `json:"message"`
	Range   *JSONRange `json:"range"`
}

// JSONFix is a change of the text that would mend a diagnostic.
type JSONFix struct {
	Title string     `json:"title"`
	Edits []JSONEdit `json:"edits"`
}

// JSONEdit replaces a range with a text.
type JSONEdit struct {
	Range *JSONRange `json:"range"`
	Text  string     `json:"text"`
}

// JSONWaived says why the coach accepts a finding.
type JSONWaived struct {
	Reason string `json:"reason"`
}

// JSON gives the form for programs of every diagnostic in the list, in its order. Lines and columns
// are counted in files, which holds the texts by name; where a text is missing, the positions that
// the diagnostic brings are kept.
func JSON(list List, files map[string][]byte) []JSONDiagnostic {
	texts := newTexts(files)
	out := make([]JSONDiagnostic, len(list))
	for i, d := range list {
		j := JSONDiagnostic{
			Code: d.Code, Severity: d.Severity.String(), Summary: d.Summary, Detail: d.Detail,
			Range: texts.jsonRange(d.Subject), Related: make([]JSONRelated, len(d.Related)),
		}
		for k, r := range d.Related {
			j.Related[k] = JSONRelated{Message: r.Message, Range: texts.jsonRange(r.Range)}
		}
		if d.Fix != nil {
			j.Fix = &JSONFix{Title: d.Fix.Title, Edits: make([]JSONEdit, len(d.Fix.Edits))}
			for k, e := range d.Fix.Edits {
				j.Fix.Edits[k] = JSONEdit{Range: texts.jsonRange(e.Range), Text: e.Text}
			}
		}
		if d.Waived != nil {
			j.Waived = &JSONWaived{Reason: d.Waived.Reason}
		}
		out[i] = j
	}
	return out
}

// NewJSONRange gives the form for programs of a range, nil for the zero range.
func NewJSONRange(r Range, files map[string][]byte) *JSONRange { return newTexts(files).jsonRange(r) }
