package plan

import (
	"fmt"

	"towpath/internal/diag"
	"towpath/internal/physiology"
	"towpath/internal/spec"
)

// checkWritten refuses what a band cannot make use of, so that nothing is dropped in silence,
// and a ceiling above the threshold.
func (r *resolver) checkWritten(b *spec.Band) {
	derived := len(b.Tests) > 0 || b.Threshold.Set && !b.Power.Set
	raised := b.Raises.Set
	for _, w := range []struct {
		name   string
		set    bool
		at     diag.Range
		useful bool
		why    string
	}{
		{"ceiling", b.Ceiling.Set, b.Ceiling.Range, derived, "It is a share of a first threshold: it goes with tests or threshold, without power."},
		{"floor", b.Floor.Set, b.Floor.Range, derived, "It goes with a ceiling that is derived: with tests or threshold, without power."},
		{"caution", b.Caution.Set, b.Caution.Range, derived, "It goes with a ceiling that is derived: with tests or threshold, without power."},
		{"heart_rate_line", b.Line != nil, lineRange(b), len(b.Tests) > 0, "The line goes through the stages of a test: it goes with tests."},
		{"heart_rate", b.HeartRate.Set, b.HeartRate.Range, !raised, "A band that is raised keeps the heart rates of the band before."},
		{"rpe", b.Effort.Set, b.Effort.Range, !raised, "A band that is raised keeps the efforts of the band before."},
		{"long_rides", b.LongRides.Set, b.LongRides.Range, derived || raised || b.Power.Set, "It is a share of the threshold in watts, which this band lacks."},
	} {
		if w.set && !w.useful {
			r.add(diag.Error, "value-without-effect", w.at, fmt.Sprintf("%s changes nothing in band %q", w.name, b.Key), w.why+" Leave it out.")
		}
	}
	if b.Power.Set && b.Threshold.Set && b.Power.V.High > b.Threshold.V {
		r.add(diag.Error, "ceiling-above-threshold", b.Power.Range, fmt.Sprintf("The ceiling of band %q, %s, lies above its threshold, %s", b.Key, b.Power.V.High, b.Threshold.V),
			"The band ends at the first threshold or below it. Lower the one or raise the other.", diag.Related{Message: "the threshold", Range: b.Threshold.Range})
	}
}

func lineRange(b *spec.Band) diag.Range {
	if b.Line == nil {
		return diag.Range{}
	}
	return b.Line.Range
}

// checkLeads refuses a leading number that the band does not have, and beats that mean nothing.
func (r *resolver) checkLeads(b *spec.Band, a *Athlete, out *Band) {
	at := place(b.Leads, b.Header)
	if out.Leads == "effort" && !b.Leads.Set && out.Power.High > 0 && out.HeartRate == nil && out.Effort == nil {
		r.add(diag.Advice, "watts-unused", place(b.Power, b.Header), fmt.Sprintf("Band %q says how hard to ride in watts alone, but %s has no power meter", b.Key, a.Key),
			`So all rides are led by the usual effort, and by talk. Add what the rider can follow, heart_rate = "…" or rpe = "…".`, diag.Related{Message: "power_meter", Range: a.Range})
	}
	switch {
	case b.Floor.Set && out.Power.Low >= out.Power.High && out.Power.High > 0:
		r.add(diag.Error, "floor-above-ceiling", b.Floor.Range, fmt.Sprintf("The floor of band %q, %s of the threshold, leaves no band below the ceiling of %.0f W", b.Key, b.Floor.V, float64(out.Power.High)),
			"Both are shares of the threshold. Write a lower floor, or leave it out: then it is "+physiology.FloorShare.Value.String()+" of the ceiling.")
	case b.HeartRate.Set && !a.HeartRate.Usable:
		r.add(diag.Error, "heart-rate-not-usable", b.HeartRate.Range, fmt.Sprintf("Band %q has heart rates, but those of %s are marked as not usable", b.Key, a.Key),
			"Leave heart_rate out of the band: watts or effort lead.", diag.Related{Message: "marked here", Range: a.HeartRate.Range})
	case out.Leads == "power" && out.Power.High == 0:
		r.add(diag.Error, "band-without-power", at, fmt.Sprintf("Power leads in band %q, but the band has no watts", b.Key),
			`Derive it from a test, tests = [test.…], or type it: power = "…".`)
	case out.Leads == "power" && !a.PowerMeter:
		r.add(diag.Error, "no-power-meter", at, fmt.Sprintf("Power leads in band %q, but %s has no power meter", b.Key, a.Key),
			`Write leads = "heart rate" or leads = "effort".`, diag.Related{Message: "power_meter", Range: a.Range})
	case out.Leads == "heart_rate" && out.HeartRate == nil:
		detail := `Type it: heart_rate = "…".`
		if !a.HeartRate.Usable {
			detail = `The athlete's heart rate is marked as not usable: write leads = "power" or leads = "effort".`
		}
		r.add(diag.Error, "band-without-heart-rate", at, fmt.Sprintf("Heart rate leads in band %q, but the band has no heart rate", b.Key), detail)
	}
}
