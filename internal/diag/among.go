package diag

import (
	"fmt"
	"slices"
	"strings"
)

// Part is what was said of one athlete's part in a block.
type Part struct {
	Block, Who string
	List       List
}

// Among joins what was said of several athletes. What holds for all who ride the blocks in which it
// was said is said once and as it is; what holds for some of them says for whom, and does not offer
// to change text that all share.
func Among(parts []Part, shared func(Range) bool) List {
	type key struct {
		subject               Range
		code, summary, detail string
		waived                bool
	}
	type saying struct {
		Diagnostic
		who, blocks []string
	}
	said, riders := map[key]*saying{}, map[string][]string{}
	var all []*saying
	for _, p := range parts {
		riders[p.Block] = append(riders[p.Block], p.Who)
		for _, d := range p.List.Sorted() {
			at := key{d.Subject, d.Code, d.Summary, d.Detail, d.Waived != nil}
			s := said[at]
			if s == nil {
				s = &saying{Diagnostic: d}
				said[at], all = s, append(all, s)
			}
			if !slices.Contains(s.who, p.Who) {
				s.who = append(s.who, p.Who)
			}
			if !slices.Contains(s.blocks, p.Block) {
				s.blocks = append(s.blocks, p.Block)
			}
		}
	}
	var out List
	for _, s := range all {
		notAll := slices.ContainsFunc(s.blocks, func(block string) bool {
			return slices.ContainsFunc(riders[block], func(who string) bool { return !slices.Contains(s.who, who) })
		})
		if notAll && !named(s.Summary, s.who) {
			s.Summary += forWhom(s.who)
		}
		if notAll && s.Fix != nil && slices.ContainsFunc(s.Fix.Edits, func(e Edit) bool { return shared(e.Range) }) {
			s.Fix = nil
		}
		out.Add(s.Diagnostic)
	}
	return out
}

// named reports whether a summary names one of these itself.
func named(summary string, who []string) bool {
	return slices.ContainsFunc(who, func(w string) bool { return strings.Contains(summary, fmt.Sprintf("%q", w)) })
}

// forWhom names some athletes, the first few of many.
func forWhom(who []string) string {
	const most = 3
	if len(who) > most {
		return fmt.Sprintf(" (%s and %d more)", strings.Join(who[:most-1], ", "), len(who)-most+1)
	}
	return " (" + strings.Join(who, ", ") + ")"
}
