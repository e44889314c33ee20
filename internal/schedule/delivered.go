package schedule

import (
	"strconv"
	"strings"

	"towpath/internal/plan"
	"towpath/internal/record"
	"towpath/internal/units"
)

// recordedSession is what was delivered for a date.
type recordedSession struct {
	ride    string // key; "" outside the mix
	minutes int
	session *plan.Session
	source  *record.Session
}

// deliveries tells the recorded sessions of a date apart.
type deliveries struct {
	given  map[*plan.Given]*recordedSession // those that the plan still gives
	placed *recordedSession                 // a ride of the mix that was placed there; nil for none
}

// deliveries finds for each given session of a date the recorded one, and of those that are left the
// one that was placed. A session with minutes, hour or key of its own goes before one that is only
// of the same kind.
func (pl *placer) deliveries(w *plan.Week, date units.Date) deliveries {
	recorded := pl.recorded[date]
	if len(recorded) == 0 {
		return deliveries{}
	}
	out := deliveries{given: map[*plan.Given]*recordedSession{}}
	taken := map[*recordedSession]bool{}
	for _, g := range w.Given {
		if g.Date != date {
			continue
		}
		var best *recordedSession
		for _, r := range recorded {
			if !taken[r] && r.like(g) > 0 && (best == nil || r.like(g) > best.like(g)) {
				best = r
			}
		}
		if best != nil {
			out.given[g], taken[best] = best, true
		}
	}
	for _, r := range recorded {
		if out.placed == nil && r.ride != "" && !taken[r] {
			out.placed = r
		}
	}
	return out
}

// of is what the plan still gives of a recorded session, or nil.
func (d deliveries) of(r *recordedSession) *plan.Given {
	for g, rec := range d.given {
		if rec == r {
			return g
		}
	}
	return nil
}

// like weighs how much a recorded session is what the plan gives; 0 where it is something else.
func (r *recordedSession) like(g *plan.Given) int {
	name, _ := splitKey(r.source.Key)
	switch {
	case g.Ride != nil && g.Ride.Key != r.ride, g.Ride == nil && r.ride != "":
		return 0
	case g.Ride == nil && (g.Session == nil || r.session == nil || g.Session.Key != r.session.Key):
		return 0
	case g.Fixed != "" && name == r.ride && name != "" && name != fixedName(g):
		return 0 // its key says that it was placed, or pinned
	}
	score := 1
	if g.Fixed != "" && name == fixedName(g) {
		score += 4
	}
	if int(g.Minutes) == r.minutes {
		score += 2
	}
	if g.Start == r.source.Start {
		score++
	}
	return score
}

// fixedName is the name of a fixed ride in the keys of its sessions. The weekday is part of it, so that
// one which is left out does not make the others of the week take its place.
func fixedName(g *plan.Given) string {
	return g.Fixed + "_" + units.WeekdayKey(g.Date.Weekday())[:3]
}

// splitKey reads name and slot of a delivered key, "autumn/w03/long-1"; the slot is 0 where there is
// none.
func splitKey(key string) (name string, slot int) {
	name = key[strings.LastIndex(key, "/")+1:]
	i := strings.LastIndex(name, "-")
	if i < 0 {
		return name, 0
	}
	n, err := strconv.Atoi(name[i+1:])
	if err != nil || n < 0 {
		return name, 0
	}
	return name[:i], n
}
