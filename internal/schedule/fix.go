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

// dayEdit writes a day anew. Where its text holds for other dates as well, or for nothing yet, there
// is no line to edit: then line is what can be typed for the date alone.
func (d *diagnosis) dayEdit(date units.Date, on plan.Day) (edits []diag.Edit, line string) {
	text := dayText(on)
	line = fmt.Sprintf("on = { %q = %q }", date, text)
	athlete := d.block.Athlete
	was, exception := athlete.Exceptions[date]
	_, rostered := athlete.Rostered[date]
	switch {
	case exception:
		for other, day := range athlete.Exceptions {
			if other != date && day.Range == was.Range {
				return nil, line // several dates in one
			}
		}
	case rostered:
		return nil, line
	default:
		was = athlete.OrdinaryOn(date)
		if was.Limit == 0 {
			return nil, ""
		}
	}
	if was.Commute || was.Second != nil {
		return nil, "" // its text holds another window
	}
	return edit(was.Range, "%q", text), ""
}

// dayText writes what a day can hold.
func dayText(on plan.Day) string {
	words := []string{on.Limit.String()}
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
	return strings.Join(words, ", ")
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
