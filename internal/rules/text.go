package rules

import (
	"fmt"
	"math"
	"strings"

	"towpath/internal/diag"
	"towpath/internal/physiology"
	"towpath/internal/plan"
	"towpath/internal/units"
)

// slack forgives the rounding errors of binary fractions: a value exactly at a limit keeps it.
const slack = 1e-6

// above reports whether minutes are more than a level.
func above(m units.Minutes, level float64) bool { return float64(m) > level+slack }

// floor5 is the most minutes that can be planned up to a level.
func floor5(level float64) units.Minutes {
	quantum := float64(physiology.Quantum.Value)
	return units.Minutes(math.Floor(level/quantum+slack)) * physiology.Quantum.Value
}

// ceil5 is the least minutes that can be planned from a level on.
func ceil5(level float64) units.Minutes {
	quantum := float64(physiology.Quantum.Value)
	return units.Minutes(math.Ceil(level/quantum-slack)) * physiology.Quantum.Value
}

// percent prints a share with as few decimals as still show on which side of the limit it lies.
func percent(share, limit units.Share) string {
	for decimals := 0; decimals < 3; decimals++ {
		unit := math.Pow10(decimals + 2)
		rounded := units.Share(math.Round(float64(share)*unit) / unit)
		if (rounded > limit+slack) == (share > limit+slack) {
			return rounded.String()
		}
	}
	return share.String()
}

// onDay prints "Saturday 2026-10-17".
func onDay(d units.Date) string { return d.Weekday().String() + " " + d.String() }

// allowed says what the limit is, and whose: the coach's with its line, or the default.
func allowed[T any](l plan.Limit[T], name, value string) string {
	if !l.Written {
		return fmt.Sprintf("by default %s (limits.%s sets another limit)", value, name)
	}
	if l.Range.Filename == "" {
		return fmt.Sprintf("in this block %s (limits.%s)", value, name)
	}
	return fmt.Sprintf("in this block %s (limits.%s, line %d)", value, name, l.Range.Start.Line)
}

// theLimit points at a limit that the coach wrote.
func theLimit[T any](l plan.Limit[T]) []diag.Related {
	if !l.Written || l.Range.Filename == "" {
		return nil
	}
	return []diag.Related{{Message: "the limit", Range: l.Range}}
}

// level is how grave it is to break a limit, for every rule: of the coach's own an error, or a
// warning where the block says so; of a default a warning from its second level on, before that
// advice.
func level[T any](l plan.Limit[T], second bool) diag.Severity {
	switch {
	case l.Written && !l.WarnOnly:
		return diag.Error
	case l.Written, second:
		return diag.Warning
	}
	return diag.Advice
}

// write is the edit that puts a value, as text in quotes, in the place of another; nil where the
// place is not that of a value.
func write(at diag.Range, value string) *diag.Fix {
	if at.Filename == "" {
		return nil
	}
	quoted := `"` + value + `"`
	return &diag.Fix{Title: "Write " + quoted, Edits: []diag.Edit{{Range: at, Text: quoted}}}
}

// capital begins a sentence.
func capital(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

// count prints "no day", "1 day" or "3 days".
func count(n int, one, many string) string {
	switch n {
	case 0:
		return "no " + one
	case 1:
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}
