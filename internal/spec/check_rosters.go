package spec

import (
	"maps"
	"slices"
)

// checkRosters holds the shifts of rosters against those that are described, by the athlete or by
// a squad.
func (d *decoder) checkRosters(s *Spec) {
	if d.broken {
		return
	}
	all := slices.Clone(s.Athletes)
	byKey, described := map[string]*Athlete{}, map[*Athlete][]*Athlete{} // who describes an athlete's shifts
	for _, a := range s.Athletes {
		byKey[a.Key], described[a] = a, []*Athlete{a}
	}
	for _, squad := range s.Squads {
		shared := squad.Defaults
		if shared == nil {
			continue
		}
		all, described[shared] = append(all, shared), []*Athlete{shared}
		for _, ref := range squad.Athletes {
			if a := byKey[ref.V.Key]; a != nil {
				described[a] = append(described[a], shared)
				described[shared] = append(described[shared], a)
			}
		}
	}
	for _, a := range all {
		d.checkShifts(a, described[a])
	}
}

// checkShifts looks at the rosters of an athlete, or of the defaults of a squad; each word is told
// of once.
func (d *decoder) checkShifts(a *Athlete, by []*Athlete) {
	if len(a.Rosters) == 0 || slices.ContainsFunc(by, func(o *Athlete) bool { return o.Broken }) {
		return
	}
	known := map[string]bool{}
	for _, o := range by {
		for _, shift := range o.Shifts {
			known[shift.Key.V] = true
		}
	}
	words := slices.Collect(maps.Keys(known))
	for _, r := range a.Rosters {
		for _, shift := range r.Days {
			if known[shift.V] {
				continue
			}
			d.unknownWord(shift, "There is no shift "+quoted(shift.V), words, "The shifts are ", "No shift is described yet: write what a day holds on it, shifts = { "+shift.V+" = \"70 min, 15:20\" }.")
			a.Broken = true
			if len(words) == 0 {
				return
			}
			known[shift.V] = true
		}
	}
}
