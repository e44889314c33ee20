package threshold

import (
	"towpath/internal/physiology"
	"towpath/internal/units"
)

// LactateAndGas is the Method of a threshold that is the mean of one from lactate and one from gas
// exchange.
const LactateAndGas = "lactate_and_gas"

// Mean is the mean of the thresholds that several tests gave, in order of date, with its standard
// error after physiology.MeanOfTests; nil without any, the estimate itself where there is one. Method
// and Used are told of the newest; the heart rate is left open, since that is on one test's line.
func Mean(of []*Estimate) *Estimate {
	if len(of) == 0 {
		return nil
	}
	newest := of[len(of)-1]
	if len(of) == 1 {
		return newest
	}
	var powers, errors []units.Power
	low, high := newest.Power, newest.Power
	for _, e := range of {
		powers, errors = append(powers, e.Power), append(errors, e.SE)
		low, high = min(low, e.Power), max(high, e.Power)
	}
	out := &Estimate{Method: newest.Method, Spread: high - low, Used: newest.Used}
	out.Power, out.SE = physiology.MeanOfTests(powers, errors)
	out.Quality = quality(out)
	return out
}

// Join puts a first threshold from lactate and one from gas exchange together: their mean where
// they agree, else the lower of the two as it is. Either may be nil.
func Join(lactate, gas *Estimate) (joint *Estimate, agree bool) {
	switch {
	case gas == nil:
		return lactate, true
	case lactate == nil:
		return gas, true
	case max(lactate.Power, gas.Power)-min(lactate.Power, gas.Power) <= physiology.LactateGasAgree.Value:
		joint = Mean([]*Estimate{gas, lactate})
		joint.Method = LactateAndGas
		return joint, true
	case gas.Power < lactate.Power:
		return gas, false
	}
	return lactate, false
}
