package plan

import (
	"fmt"
	"slices"

	"towpath/internal/diag"
	"towpath/internal/spec"
	"towpath/internal/units"
)

// Allowance lets the rider above the band for a short time.
type Allowance struct {
	Name     string
	Duration units.Duration // at a time
	Power    units.Power    // at most; 0 where AllOut
	Share    units.Share    // of the ceiling; 0 where AllOut
	AllOut   bool
	Range    diag.Range
}

// allowances gives a band what it lets the rider do above it for a short time, in watts of its own
// ceiling. A raised band has those of the band before, scaled with it, unless it writes some.
func (r *resolver) allowances(b *spec.Band, a *Athlete, out *Band) {
	all := slices.Clone(out.Allowances)
	if len(b.Over) > 0 {
		all = nil
	}
	for _, v := range b.Over {
		if !v.V.AllOut && (out.Power.High == 0 || !a.PowerMeter) {
			why := "the band has no watts"
			if out.Power.High > 0 {
				why = a.Key + " has no power meter"
			}
			r.add(diag.Error, "allowance-without-watts", v.Range, fmt.Sprintf("Allowance %q of band %q is a share of the ceiling in watts, but %s", v.V.Name, b.Key, why),
				fmt.Sprintf("Nothing could tell the rider where it ends. Leave it out; only what is ridden all out needs no watts, such as over = \"%s: 10 s, all out\".", v.V.Name))
			continue
		}
		all = append(all, Allowance{Name: v.V.Name, Duration: v.V.Duration, Share: v.V.Share, AllOut: v.V.AllOut, Range: v.Range})
	}
	for i := range all {
		all[i].Power = units.Power(float64(all[i].Share) * float64(out.Power.High))
	}
	out.Allowances = all
}

// Allowance is the band's allowance of a name.
func (b *Band) Allowance(name string) (Allowance, bool) {
	for _, a := range b.Allowances {
		if a.Name == name {
			return a, true
		}
	}
	return Allowance{}, false
}
