package spec

import (
	"strings"

	"towpath/internal/units"
)

// Canonical rewrites a text that is a quantity, what a day can hold, an allowance or a share of
// the recent weeks to the usual form: one space before a unit, one after a comma. Other texts come
// back as they are, faulty ones too.
func Canonical(s string) string {
	if t := units.Canonical(s); t != s {
		return t
	}
	if day, err := parseDay(s); err == nil {
		if t := joinedParts(s); !day.Closed && sameDay(t, day) {
			return t
		}
	}
	if _, err := parseAllowance(s); err == nil {
		name, parts, _ := strings.Cut(s, ":")
		return strings.TrimSpace(name) + ": " + joinedParts(parts)
	}
	if v, err := parseFirst(s); err == nil && v.OfRecent {
		share, _, _ := strings.Cut(s, "%")
		return units.Canonical(share+"%") + " " + ofRecent
	}
	return s
}

func sameDay(s string, want Day) bool {
	day, err := parseDay(s)
	return err == nil && day == want
}

// joinedParts writes the parts between commas in their usual form.
func joinedParts(s string) string {
	parts := strings.Split(s, ",")
	for i, part := range parts {
		sides := strings.Split(strings.TrimSpace(part), " or ")
		for j, side := range sides {
			sides[j] = usualPart(strings.TrimSpace(side))
		}
		parts[i] = strings.Join(sides, " or ")
	}
	return strings.Join(parts, ", ")
}

// usualPart writes a quantity, which a place may follow.
func usualPart(s string) string {
	for _, place := range ridePlaces.Words {
		if length, ok := strings.CutSuffix(s, " "+place); ok {
			return units.Canonical(strings.TrimSpace(length)) + " " + place
		}
	}
	return units.Canonical(s)
}
