package rules

import (
	"fmt"
	"math"
	"slices"

	"towpath/internal/diag"
	"towpath/internal/physiology"
	"towpath/internal/plan"
	"towpath/internal/prescription"
	"towpath/internal/units"
)

var bandJump = Rule{
	Code:  "band-jump",
	Title: "A band rises far without a new test",
	Why: "Power at the same heart rate says that a rider has gained, and roughly how much. A larger rise than this rule allows is more than such rides can show, " +
		"and every session after it would rest on a guess. A band that a newer test gives may rise by whatever the test shows.",
	Mend:       "Raise by less, or test again and derive the band from the test.",
	Default:    fmt.Sprintf("Error above %s over the band before; it cannot be waived.", physiology.BandJump.Value),
	Evidence:   "Own choice, no source for the level. In one study most lactate thresholds of the same rider repeated to 3.4-3.7 % from test to test.",
	Sources:    []string{"pallares2016"},
	Population: "14 trained men, cycle ergometer",
	check:      checkBandJump,
}

func checkBandJump(p *prescription.Prescription) (out []finding) {
	most := physiology.BandJump.Value
	for i, b := range p.Block.Bands {
		before := heldBefore(p.Block.Bands[:i], b)
		if before == nil || b.Power.High <= 0 || before.Power.High <= 0 || tested(b, before) {
			continue
		}
		rise := units.Share(b.Power.High/before.Power.High) - 1
		if rise <= most+slack {
			continue
		}
		out = append(out, finding{
			severity: diag.Error, subject: typed(b),
			summary: fmt.Sprintf("Band %q rises by %s over band %q without a new test", b.Key, percent(rise, most), before.Key),
			detail: fmt.Sprintf("The ceiling goes from %s to %s; without a new test at most %s is allowed, which is %s. Test again for more",
				tenths(before.Power.High), tenths(b.Power.High), most, wholeWatts(float64(before.Power.High)*(1+float64(most)))),
			related: []diag.Related{{Message: "the band before", Range: before.Range}},
			fix:     smallerRaise(b, before),
		})
	}
	return out
}

// heldBefore is the band that a rider has followed, at the place of b, until b comes: an earlier one
// of the block, or the one that b raises; nil where there is none. Watts of two places are not
// compared, for two power meters seldom agree.
func heldBefore(earlier []*plan.Band, b *plan.Band) *plan.Band {
	for _, place := range []string{b.Place, ""} {
		for _, o := range slices.Backward(earlier) {
			if o.Place == place && (place == b.Place || o.From < b.From) {
				return o
			}
		}
	}
	if b.Raises != nil && b.Raises.Place == b.Place {
		return b.Raises
	}
	return nil
}

// tested reports whether a band rests on a test that is newer than the one of the band before.
func tested(b, before *plan.Band) bool { return b.TestDate > before.TestDate }

// typed is where the rise was written.
func typed(b *plan.Band) diag.Range {
	if b.Raises != nil && b.ByRange.Filename != "" {
		return b.ByRange
	}
	return b.Range
}

// smallerRaise mends a raise of the band before.
func smallerRaise(b, before *plan.Band) *diag.Fix {
	if b.Raises != before || b.ByRange == b.Range {
		return nil
	}
	return write(b.ByRange, physiology.BandJump.Value.String())
}

// tenths prints watts to a tenth, so that the share can be followed.
func tenths(p units.Power) string { return units.Power(math.Round(float64(p)*10) / 10).String() }
