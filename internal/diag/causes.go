package diag

import (
	"fmt"
	"strings"
)

// OncePerCause joins the diagnostics of a table that give the same advice, numbers aside: a column
// in minutes is one mistake, not eight. The first keeps its place, the others become related
// places, and the edits that mend them one fix.
func (l List) OncePerCause() (out List) {
	type cause struct{ code, detail string }
	first := map[cause]int{}
	for _, d := range l {
		key := cause{d.Code, withoutDigits(d.Detail)}
		i, ok := first[key]
		if !ok {
			first[key] = len(out)
			out.Add(d)
			continue
		}
		out[i].Related = append(out[i].Related, Related{Message: d.Summary, Range: d.Subject})
		if a, b := out[i].Fix, d.Fix; a != nil && b != nil {
			out[i].Fix = &Fix{
				Title: fmt.Sprintf("Mend all %d", len(a.Edits)+len(b.Edits)),
				Edits: append(a.Edits[:len(a.Edits):len(a.Edits)], b.Edits...),
			}
		} else {
			out[i].Fix = nil
		}
	}
	return out
}

func withoutDigits(s string) string {
	return strings.Map(func(r rune) rune {
		if r >= '0' && r <= '9' || r == '.' {
			return -1
		}
		return r
	}, s)
}
