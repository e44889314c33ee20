package threshold

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"towpath/internal/physiology"
	"towpath/internal/units"
)

// MedianOfThree is the default band threshold: the median of the baseline + 0.3, the break on
// logarithms and the least lactate per watt on the cubic (on the exponential with four stages).
const MedianOfThree = "median_of_three"

// BandMethods are the names that EstimateBy takes, the default first.
func BandMethods() []string {
	out := []string{MedianOfThree}
	for _, m := range firstMethods() {
		if m.id != idSegmented {
			out = append(out, m.id)
		}
	}
	return out
}

// EstimateBy gives the band threshold by a method of BandMethods. The error tells a coach in whole
// sentences why there is none: the method is not one that may set a band, or the test does not
// carry it.
//
// Standard error of the median: the larger of what the lactate readings' error does to the
// baseline + 0.3, and the methods' disagreement (their range over the factor for so many values;
// 8 % of the threshold where one method alone is left). Of a single named method: what the
// readings' error does to it, where that is known, else 8 % of the threshold.
func (r *Result) EstimateBy(name string) (*Estimate, error) {
	if r == nil {
		return nil, noThreshold("The test could not be read.")
	}
	var e *Estimate
	var err error
	switch {
	case name == MedianOfThree:
		e, err = r.median()
	case slices.Contains(BandMethods(), name):
		e, err = r.single(name)
	case r.Method(name) != nil:
		return nil, says("%s reads a point far above the first threshold. A low-intensity band is made from one of %s.", name, strings.Join(BandMethods(), ", "))
	default:
		return nil, says("No method is called %q. A band is made from one of %s.", name, strings.Join(BandMethods(), ", "))
	}
	if err != nil {
		return nil, err
	}
	e.HeartRate = r.heartRateAt(e.Power)
	e.Quality = quality(e)
	return e, nil
}

// median takes the usable ones of the three methods. Without the baseline + 0.3 there is no first
// threshold at all.
func (r *Result) median() (*Estimate, error) {
	rise := r.Method(idPlus03)
	if !rise.Status.Usable() {
		return nil, r.why(rise)
	}
	perWatt := idPerWattCube
	if r.StagesUsed < physiology.StagesForCurve.Value {
		perWatt = idPerWattExp
	}
	e := &Estimate{Method: MedianOfThree}
	var powers []units.Power
	for _, id := range []string{idPlus03, idLogLog, perWatt} {
		if m := r.Method(id); m.Status.Usable() {
			e.Used = append(e.Used, id)
			powers = append(powers, *m.Power)
		}
	}
	slices.Sort(powers)
	n := len(powers)
	e.Power = (powers[(n-1)/2] + powers[n/2]) / 2
	e.Spread = powers[n-1] - powers[0]
	e.SE = max(*rise.SE, disagreement(e.Power, e.Spread, n))
	return e, nil
}

// disagreement is the standard deviation that the range of n methods suggests.
func disagreement(p, spread units.Power, n int) units.Power {
	switch n {
	case 1:
		return units.Power(physiology.SingleError.Value) * p
	case 2:
		return spread / units.Power(physiology.RangeFactor2.Value)
	}
	return spread / units.Power(physiology.RangeFactor3.Value)
}

func (r *Result) single(id string) (*Estimate, error) {
	m := r.Method(id)
	if !m.Status.Usable() {
		return nil, r.why(m)
	}
	e := &Estimate{Method: id, Power: *m.Power, Used: []string{id}}
	if m.SE != nil {
		e.SE = *m.SE
	} else {
		e.SE = disagreement(e.Power, 0, 1)
	}
	return e, nil
}

// quality puts a word to the standard error. One of the three methods alone is never good.
func quality(e *Estimate) string {
	share := units.Share(e.SE / e.Power)
	switch {
	case e.SE <= physiology.GoodErrorWatts.Value || share <= physiology.GoodErrorShare.Value:
		if e.Method == MedianOfThree && len(e.Used) == 1 {
			return "fair"
		}
		return "good"
	case e.SE <= physiology.FairErrorWatts.Value || share <= physiology.FairErrorShare.Value:
		return "fair"
	}
	return "poor"
}

// noThreshold is why there is no threshold, in whole sentences that a diagnostic can show.
type noThreshold string

func (e noThreshold) Error() string { return string(e) }

func says(format string, a ...any) error { return noThreshold(fmt.Sprintf(format, a...)) }

// why tells why a method gives no power that a band may be made from.
func (r *Result) why(m *Method) error {
	switch m.Status {
	case NotReached:
		return says("%s was not reached: lactate starts from %.2f mmol/L and the test ended at %s. The threshold lies above that, and nothing is extrapolated.", m.ID, float64(r.Baseline), watts(r.LastStage))
	case AlreadyAbove:
		return says("%s lies below the test's first stage, %s: the test began too hard for it.", m.ID, watts(r.Curve[0].Power))
	case TooFewStages:
		return says("%s needs more stages with a lactate than the %d of this test: %d for a threshold, %d for a fitted curve.", m.ID, r.StagesUsed,
			physiology.StagesForThreshold.Value, physiology.StagesForCurve.Value)
	case Guarded:
		return says("%s gives %s, which lies above the baseline + %s: it has found the second bend of the curve, and no low-intensity band may be made from that. Another method may do.", m.ID, watts(*m.Power), physiology.Rise10.Value)
	case Edge:
		return says("%s found no turning point between the first stage and the last. Another method may do.", m.ID)
	}
	return says("%s does not fit the lactate of this test. Another method may do.", m.ID)
}

// Band makes the low-intensity band of an estimate. Its ceiling is the threshold less 0.67 of its
// standard error, less 1.0 of it where strict; ceiling, where the coach wrote it, is a share of
// the threshold instead, whatever the caution. The floor is 0.75 of the ceiling; floor, where the
// coach wrote it, is a share of the threshold like the ceiling. Neither end is ever above the
// threshold, nor the floor above the ceiling.
func Band(e *Estimate, strict bool, ceiling, floor *units.Share) units.Range[units.Power] {
	caution := physiology.CautionUsual.Value
	if strict {
		caution = physiology.CautionStrict.Value
	}
	top := e.Power - units.Power(float64(caution*float64(e.SE)))
	if ceiling != nil {
		top = units.Power(float64(*ceiling) * float64(e.Power))
	}
	top = clamp(top, e.Power)
	bottom := units.Power(float64(physiology.FloorShare.Value) * float64(top))
	if floor != nil {
		bottom = units.Power(float64(*floor) * float64(e.Power))
	}
	return units.Range[units.Power]{Low: clamp(bottom, top), High: top}
}

// clamp keeps a power between 0 and most; what is no number is 0.
func clamp(p, most units.Power) units.Power {
	if math.IsNaN(float64(p)) {
		return 0
	}
	return max(0, min(p, most))
}
