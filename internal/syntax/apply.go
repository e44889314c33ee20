package syntax

import (
	"cmp"
	"fmt"
	"slices"

	"towpath/internal/diag"
)

// Apply makes edits in src, which is not changed. The edits may come in any order; two that
// overlap, and one that does not lie in src, are refused, and nothing is changed then. Two
// insertions at one place are made in the order in which they are given.
func Apply(src []byte, edits []diag.Edit) ([]byte, error) {
	sorted := slices.Clone(edits)
	slices.SortStableFunc(sorted, func(a, b diag.Edit) int {
		return cmp.Or(
			cmp.Compare(a.Range.Start.Byte, b.Range.Start.Byte),
			cmp.Compare(a.Range.End.Byte, b.Range.End.Byte),
		)
	})
	var out []byte
	done := 0 // bytes of src that are in out, or replaced
	for _, e := range sorted {
		start, end := e.Range.Start.Byte, e.Range.End.Byte
		if start < 0 || start > end || end > len(src) {
			return nil, fmt.Errorf("edit of bytes %d to %d lies outside of a text of %d bytes", start, end, len(src))
		}
		if start < done {
			return nil, fmt.Errorf("two edits overlap at byte %d", start)
		}
		out = append(append(out, src[done:start]...), e.Text...)
		done = end
	}
	return append(out, src[done:]...), nil
}
