package plan

import (
	"slices"

	"towpath/internal/diag"
	"towpath/internal/spec"
	"towpath/internal/units"
)

// Meters are the power meters of an athlete who has one outdoors and another one indoors, where the
// plan says how they compare.
type Meters struct {
	Outdoor, Indoor string      // their labels
	More            units.Share // how much more the indoor one reads at the same power; below 0 less
	Range           diag.Range  // the text that compares them
}

// compared finds how the meters of the two places compare: with each other, or each with a third.
func (r *resolver) compared(of []spec.PlaceMeter) *Meters {
	out := &Meters{}
	for _, m := range of {
		switch m.Place {
		case Outdoor:
			out.Outdoor = m.Meter.V.Key
		case Indoor:
			out.Indoor = m.Meter.V.Key
		}
	}
	if out.Outdoor == out.Indoor {
		return nil
	}
	outdoors, written := r.against(out.Outdoor)
	indoors, at := r.against(out.Indoor)
	if at.Filename == "" {
		at = written
	}
	for _, in := range indoors {
		for _, o := range outdoors {
			if in.meter == o.meter {
				out.More, out.Range = units.Share(in.share/o.share-1), at
				return out
			}
		}
	}
	return nil
}

// against says what share of another meter's watts a meter shows.
type against struct {
	meter string
	share float64
}

// against lists the meters that a meter is compared with, one by the other, itself first, and where
// its own comparison is written. A circle ends where it closes.
func (r *resolver) against(key string) (list []against, at diag.Range) {
	for share := 1.0; ; {
		m := r.meters[key]
		if m == nil || slices.ContainsFunc(list, func(a against) bool { return a.meter == key }) {
			return list, at
		}
		list = append(list, against{key, share})
		if !m.Reads.Set || !m.Against.Set || m.Reads.V <= -1 {
			return list, at
		}
		if at.Filename == "" {
			at = m.Reads.Range
		}
		share *= 1 + float64(m.Reads.V)
		key = m.Against.V.Key
	}
}
