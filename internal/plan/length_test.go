package plan

import (
	"testing"

	"towpath/internal/units"
)

// The dates of a block whose length is open, worked by hand: 2027-03-01 is a Monday.
func TestLength(t *testing.T) {
	t.Parallel()
	start := units.NewDate(2027, 3, 1)
	for _, c := range []struct {
		name      string
		block     Block
		decidedBy units.Date
		last      int
	}{
		{"settled", Block{Start: start, Weeks: numbered(1, 8)}, 0, 8},
		{"open", Block{Start: start, Weeks: numbered(1, 12), Shortest: 8, Decide: 6}, units.NewDate(2027, 4, 11), 12},
		{"joined in week 3", Block{Start: start.Add(14), Weeks: numbered(3, 12), Shortest: 8, Decide: 6}, units.NewDate(2027, 4, 11), 12},
		{"decided in the first week", Block{Start: start, Weeks: numbered(1, 3), Shortest: 2, Decide: 1}, units.NewDate(2027, 3, 7), 3},
	} {
		if got := c.block.DecidedBy(); got != c.decidedBy {
			t.Errorf("%s: decided by %s, want %s", c.name, got, c.decidedBy)
		}
		if got := c.block.LastWeek(); got != c.last {
			t.Errorf("%s: the last week is %d, want %d", c.name, got, c.last)
		}
	}
}

func numbered(first, last int) (out []*Week) {
	for n := first; n <= last; n++ {
		out = append(out, &Week{Number: n})
	}
	return out
}
