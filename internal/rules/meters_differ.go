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

var metersDiffer = Rule{
	Code:  "meters-differ",
	Title: "One band holds for two power meters that do not agree",
	Why: "Watts are what a power meter shows. Where another meter shows less for the same riding, a band of the first one asks for more on it than was meant, " +
		"and every ride at that place is off by as much.",
	Mend:     "Give each place a band of its own: one that raises the other by the difference, with its place.",
	Default:  fmt.Sprintf("Warning where the two differ by %s or more.", physiology.MetersDiffer.Value),
	Evidence: "The level is our own choice: makers state about as much as the error of one meter.",
	check:    checkMetersDiffer,
}

func checkMetersDiffer(p *prescription.Prescription) (out []finding) {
	m := p.Block.Athlete.Meters
	if m == nil {
		return nil
	}
	for s := range ways(p) {
		if s.Test || s.Band == nil || s.Band.Place != "" || s.Targets.Power == nil {
			continue
		}
		from, to, share := shown(m, s.Band.Meter, s.Place)
		if to == "" || math.Abs(float64(share))+slack < float64(physiology.MetersDiffer.Value) {
			continue
		}
		if k := slices.IndexFunc(out, func(f finding) bool { return f.subject == s.Band.Range }); k >= 0 {
			out[k].weeks = append(out[k].weeks, s.Week)
			continue
		}
		out = append(out, differing(m, s, from, to, share))
		out[len(out)-1].weeks = []int{s.Week}
	}
	return out
}

// differing is the finding for a band at a place.
func differing(m *plan.Meters, s *prescription.Session, from, to string, share units.Share) finding {
	more := share.String() + " more"
	if share < 0 {
		more = (-share).String() + " less"
	}
	b := s.Band
	return finding{
		severity: diag.Warning, subject: b.Range,
		summary: fmt.Sprintf("Band %q holds %ss as well, where the power meter shows %s", b.Key, s.Place, more),
		detail: fmt.Sprintf("Its watts are taken as those of meter %q; for the same riding meter %q shows %s. Write a band of its own: a block band %q with the lines raises = band.%s, by = %q and place = %q",
			from, to, more, b.Key+"_"+s.Place, b.Key, share.String(), s.Place),
		related: []diag.Related{{Message: "where the two are compared", Range: m.Range}},
	}
}

// shown tells on which meter a band was read, which one shows its watts at a place, and how much more
// that one reads, to a tenth of a percent. A band that names no meter is read on the one outdoors. To
// is "" where the two are the same, and where nobody can tell.
func shown(m *plan.Meters, of, place string) (from, to string, share units.Share) {
	more := m.More
	from, to = m.Outdoor, m.Indoor
	other := plan.Indoor
	if of == m.Indoor {
		from, to, other = to, from, plan.Outdoor
		more = units.Share(1/(1+float64(more)) - 1)
	}
	if place != other || of != "" && of != from {
		return from, "", 0
	}
	return from, to, units.Share(math.Round(float64(more)*1000) / 1000)
}
