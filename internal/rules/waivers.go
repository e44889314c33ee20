package rules

import (
	"slices"

	"towpath/internal/diag"
	"towpath/internal/plan"
)

// waivers are those of a block, and which of them were of use.
type waivers struct {
	all  []*plan.Waiver
	used map[*plan.Waiver]bool
}

func newWaivers(b *plan.Block) *waivers {
	w := &waivers{used: map[*plan.Waiver]bool{}}
	if b != nil {
		w.all = b.Waivers
	}
	return w
}

// of is the waiver that accepts a case, or nil. A waiver with weeks accepts cases that lie in them.
func (w *waivers) of(code string, f finding) *plan.Waiver {
	if f.severity == diag.Error {
		return nil
	}
	for _, v := range w.all {
		if v.Code == code && covers(v, f) {
			w.used[v] = true
			return v
		}
	}
	return nil
}

// covers reports whether a waiver's weeks hold all those of a case.
func covers(v *plan.Waiver, f finding) bool {
	if v.Weeks == nil {
		return true
	}
	outside := slices.ContainsFunc(f.weeks, func(n int) bool { return !slices.Contains(v.Weeks, n) })
	return len(f.weeks) > 0 && !outside
}
