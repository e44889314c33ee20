package spec

import (
	"fmt"
	"strings"
)

// Describe says in a few words what may stand behind a name: "a duration, or \"fill\"".
func (t Type) Describe() string {
	what := t.describe()
	if t.Kind != Choice && len(t.Words) > 0 {
		what += ", or " + quotedWords(t.Words)
	}
	return what
}

func (t Type) describe() string {
	switch t.Kind {
	case Text:
		return "a text"
	case PlanKey:
		return fmt.Sprintf("%d to %d lower-case letters and digits", t.Min, t.Max)
	case Truth:
		return "true or false"
	case Choice:
		return quotedWords(t.Words)
	case Count:
		return fmt.Sprintf("a whole number from %d to %d", t.Min, t.Max)
	case EffortNumber:
		return fmt.Sprintf("an effort from %d to %d", t.Min, t.Max)
	case CountRange:
		return fmt.Sprintf("a whole number or a range, from %d to %d", t.Min, t.Max)
	case WeekList:
		return "a week, a list or ranges of weeks; \"last\" is the block's last"
	case Reference:
		return an(strings.Join(t.Blocks, " or "))
	case List:
		return "a list; each entry " + t.Elem.Describe()
	case OneOrMore:
		return fmt.Sprintf("%s, or a list of at most %d", t.Elem.Describe(), t.Max)
	case KeyText:
		return "a name of small letters, digits and _"
	case DayText:
		return readers[DayText].what + ": a text, or a list of two"
	case Row:
		return "a row"
	case RowOrRows:
		return fmt.Sprintf("a row, or a list of at most %d", t.Max)
	case Table:
		return fmt.Sprintf("a table; each key %s, each entry %s", t.Key.Describe(), t.Elem.Describe())
	}
	return readers[t.Kind].what
}

// Rows gives the names of the rows that a value holds, nil where it holds none.
func (t Type) Rows() []Name {
	if t.Elem != nil {
		return t.Elem.Rows()
	}
	return t.Names
}

func quotedWords(words []string) string {
	out := make([]string, len(words))
	for i, w := range words {
		out[i] = quoted(w)
	}
	return inWords(out, "or")
}

// Describe says how the label of a block is written, "" where it has none.
func (r LabelRule) Describe() string {
	return map[LabelRule]string{
		KeyLabel:    "a name of lower-case letters, digits and _",
		StepLabel:   "a name of lower-case letters, digits and _",
		NumberLabel: "the number of a week, or last",
		CodeLabel:   "the code of a rule",
	}[r]
}
