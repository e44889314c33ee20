package rules

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"towpath/internal/diag"
	"towpath/internal/plan"
)

// finding is one case of a rule before cases of one cause are put together.
type finding struct {
	weeks    []int // nil: the block as a whole
	severity diag.Severity
	subject  diag.Range // the text that caused it: cases of one subject are one finding
	summary  string
	brief    string // the case in a few words, where another one speaks for it
	detail   string // what was expected, and the smallest change that mends it
	related  []diag.Related
	fix      *diag.Fix
	// source and basis stand behind this case where they differ from the rule's.
	source, basis string
	own           bool // a limit of the coach's own is broken: it needs no evidence
}

// briefly is how many further cases a finding spells out.
const briefly = 4

// group is cases of one cause that share a waiver, or have none.
type group struct {
	waiver *plan.Waiver
	cases  []finding
}

// merged puts cases of one cause together and applies the waivers. The gravest case speaks for its
// group, the earliest of those; the others are counted with their weeks.
func (r Rule) merged(cases []finding, b *plan.Block, w *waivers) diag.List {
	var groups []*group
	for _, c := range cases {
		if c.subject.Filename == "" {
			c.subject = b.Range
		}
		waiver := w.of(r.Code, c)
		i := slices.IndexFunc(groups, func(g *group) bool {
			first := g.cases[0]
			return g.waiver == waiver && first.subject == c.subject && (first.severity == diag.Error) == (c.severity == diag.Error)
		})
		if i < 0 {
			groups = append(groups, &group{waiver: waiver, cases: []finding{c}})
			continue
		}
		groups[i].cases = append(groups[i].cases, c)
	}
	var out diag.List
	for _, g := range groups {
		out.Add(r.diagnostic(g, b))
	}
	return out
}

// diagnostic makes one finding of a group.
func (r Rule) diagnostic(g *group, b *plan.Block) diag.Diagnostic {
	slices.SortStableFunc(g.cases, func(x, y finding) int {
		return cmp.Or(cmp.Compare(x.severity, y.severity), slices.Compare(x.weeks, y.weeks))
	})
	first, others := g.cases[0], g.cases[1:]
	d := diag.Diagnostic{
		Code: r.Code, Severity: first.severity, Subject: first.subject, Related: first.related, Fix: first.fix,
		Summary: first.summary + more(others), Detail: sentences(first.detail, also(others), r.tail(first)),
		Weeks: weeksOf(g.cases), Block: b.Key,
	}
	if first.severity != diag.Error && !first.own {
		d.SourceKey = cmp.Or(first.source, r.source)
	}
	if g.waiver != nil {
		d.Waived = &diag.Waiver{Reason: g.waiver.Reason, Range: g.waiver.Range}
	}
	return d
}

// tail says what the rule rests on, and where to read more.
func (r Rule) tail(f finding) string {
	more := "`towpath rules " + r.Code + "`"
	basis := cmp.Or(f.basis, r.basis)
	if f.severity == diag.Error || f.own || basis == "" {
		return "More: " + more
	}
	return basis + "; " + more
}

// more counts the cases that do not speak: "; 2 more in weeks 5 and 6".
func more(others []finding) string {
	if len(others) == 0 {
		return ""
	}
	if weeks := weeksOf(others); weeks != nil {
		return fmt.Sprintf("; %d more in %s", len(others), plan.WeeksText(weeks))
	}
	return fmt.Sprintf("; %d more", len(others))
}

// also spells the others out, as far as there is room.
func also(others []finding) string {
	var briefs []string
	for _, f := range others[:min(len(others), briefly)] {
		if f.brief != "" {
			briefs = append(briefs, f.brief)
		}
	}
	if len(briefs) == 0 {
		return ""
	}
	if n := len(others) - briefly; n > 0 {
		briefs = append(briefs, fmt.Sprintf("and %d more", n))
	}
	return "Also " + strings.Join(briefs, "; ")
}

// weeksOf is the sorted weeks of all cases, each once.
func weeksOf(cases []finding) []int {
	var out []int
	for _, f := range cases {
		out = append(out, f.weeks...)
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// sentences joins parts to a text, each with a full stop.
func sentences(parts ...string) string {
	var out []string
	for _, p := range parts {
		if p = strings.TrimSpace(p); p == "" {
			continue
		}
		if !strings.HasSuffix(p, ".") && !strings.HasSuffix(p, "?") {
			p += "."
		}
		out = append(out, p)
	}
	return strings.Join(out, " ")
}
