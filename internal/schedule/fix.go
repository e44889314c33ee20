package schedule

import (
	"fmt"
	"strings"

	"towpath/internal/diag"
	"towpath/internal/plan"
	"towpath/internal/units"
)

// An edit is proposed only where the coach wrote the value that a repair changes, and where that
// value alone decides: a total that grows out of another week, or a bound that the ride's session
// sets as well, has none.

// edit replaces a value; none where nobody wrote it.
func edit(at diag.Range, format string, args ...any) []diag.Edit {
	if at.Filename == "" {
		return nil
	}
	return []diag.Edit{{Range: at, Text: fmt.Sprintf(format, args...)}}
}

// totalEdit writes another total for a week whose minutes stand in the text: those of the first
// week, the week's own hours, or the most that the block allows. The last can only be lowered so.
func (d *diagnosis) totalEdit(total int) []diag.Edit {
	b, w := d.block, d.week
	isFirst := w.Range == b.FirstVolumeRange
	ownOrMost := w.Kind == plan.Loading && w.Range != b.GrowthRange && total < int(w.Asked)
	if w.Range == b.VolumeRange || !isFirst && !ownOrMost {
		return nil
	}
	return edit(w.Range, "%q", units.Minutes(total))
}

// dayEdit writes a day with another limit. A closed weekday stands in no line of its own.
func (d *diagnosis) dayEdit(on plan.Day, exception bool, limit int) []diag.Edit {
	if on.Limit == 0 && !exception {
		return nil
	}
	words := []string{units.Minutes(limit).String()}
	if !on.Start.IsZero() {
		words = append(words, on.Start.String())
	}
	if on.Place != "" {
		words = append(words, on.Place)
	}
	if on.OrLimit > 0 {
		words[len(words)-1] += fmt.Sprintf(" or %s %s", on.OrLimit, on.OrPlace)
	}
	if on.Easy {
		words = append(words, "easy")
	}
	return edit(on.Range, "%q", strings.Join(words, ", "))
}

// countText writes how many there may be: "3", or "2-4" in quotes.
func countText(r units.Range[int]) string {
	if r.Low == r.High {
		return fmt.Sprint(r.Low)
	}
	return fmt.Sprintf(`"%d-%d"`, r.Low, r.High)
}

// widened lets a range take in a value.
func widened(r units.Range[int], v int) units.Range[int] {
	return units.Range[int]{Low: min(r.Low, v), High: max(r.High, v)}
}
