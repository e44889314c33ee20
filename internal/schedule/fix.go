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

// dayEdit writes a day anew. Where its text holds for other dates or riders as well, there is no
// edit: then alone says how the date is written by itself.
func (d *diagnosis) dayEdit(date units.Date, on plan.Day) (edits []diag.Edit, alone string) {
	athlete := d.block.Athlete
	text := dayText(on)
	dated := fmt.Sprintf("on = { %q = %s }", date, text)
	was, exception := athlete.Exceptions[date]
	if !exception {
		was = athlete.OrdinaryOn(date)
	}
	_, rostered := athlete.Rostered[date]
	switch {
	case exception && was.Squad != "":
		return nil, fmt.Sprintf("%s is a date of squad %q; for this rider alone write in athlete %q: %s.", date, was.Squad, athlete.Key, dated)
	case exception && was.Row:
		return nil, fmt.Sprintf("One date of several in a row is written in a line of its own in on: %q = %s.", date, text)
	case exception && limitOf(was) == 0 && was.Way == 0: // the coach closed this very date
		return nil, ""
	case exception:
	case rostered:
		return nil, fmt.Sprintf("One date of a roster is written apart: %s.", dated)
	case was.Squad != "" && limitOf(was)+int(was.Way) > 0:
		return nil, fmt.Sprintf("%s is a day of squad %q; for this rider alone write in athlete %q: days { %s = %s }.",
			date.Weekday(), was.Squad, athlete.Key, units.WeekdayKey(date.Weekday()), text)
	case limitOf(was) == 0 && was.Way == 0:
		return nil, ""
	}
	return edit(was.Range, "%s", text), ""
}

// dayText writes what a day can hold: one window, or a list of two in their order.
func dayText(on plan.Day) string {
	if on.Second == nil {
		return fmt.Sprintf("%q", windowText(on))
	}
	first, second := on, *on.Second
	if second.Start < first.Start && !second.Start.IsZero() {
		first, second = second, first
	}
	return fmt.Sprintf("[%q, %q]", windowText(first), windowText(second))
}

func windowText(on plan.Day) string {
	words := []string{(on.Limit + on.Way).String()}
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
	if on.Way > 0 {
		words = append(words, "commute")
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
