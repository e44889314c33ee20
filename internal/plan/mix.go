package plan

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"towpath/internal/diag"
	"towpath/internal/physiology"
	"towpath/internal/spec"
	"towpath/internal/units"
)

// mixRide is a ride with the weeks in which it takes part; nil weeks are all.
type mixRide struct {
	*Ride
	weeks []int
}

// mixes are a block's ordinary rides and those of its recovery weeks; the latter is nil where the
// ordinary ones hold there too.
type mixes struct {
	ordinary, recovery []mixRide
	lighter            *spec.Recovery // tells what recovery weeks leave out
}

// mix resolves the rides of a block, or gives nil where there are none.
func (r *resolver) mix(s *spec.Block) *mixes {
	m := &mixes{ordinary: r.mixRides(s.Rides), lighter: s.Recovery}
	if s.Recovery != nil && len(s.Recovery.Rides) > 0 {
		m.recovery = r.mixRides(s.Recovery.Rides)
	}
	if len(m.ordinary) == 0 {
		if !r.spec.Broken && len(s.Rides) == 0 {
			r.add(diag.Error, "no-rides", s.Header, fmt.Sprintf("Block %q has no rides", s.Key),
				`Say what the week's minutes are made of: ride "steady" { session = session.steady }.`)
		}
		return nil
	}
	return m
}

func (r *resolver) mixRides(in []*spec.Ride) []mixRide {
	var out []mixRide
	for _, s := range in {
		session := r.sessions[s.Session.V.Key]
		if session == nil {
			continue
		}
		ride := &Ride{
			Key: s.Key, Range: s.Header, Session: session,
			Share: s.Share.V, Rest: s.Rest || !s.Share.Set && !s.Minutes.Set, Minutes: s.Minutes.V.Minutes(),
			PerWeek: units.Range[int]{Low: 0, High: 7},
			AtLeast: max(s.AtLeast.V.Minutes(), session.AtLeast, physiology.MinimumRide.Value),
			AtMost:  session.AtMost, Usual: session.Usual,
			PerWeekRange: place(s.PerWeek, diag.Range{}),
			AtLeastRange: place(s.AtLeast, diag.Range{}), AtMostRange: place(s.AtMost, diag.Range{}),
		}
		if s.PerWeek.Set {
			ride.PerWeek = s.PerWeek.V
		}
		if s.AtMost.Set {
			ride.AtMost = min(ride.AtMost, s.AtMost.V.Minutes())
		}
		ride.Days = weekdays(s.Days)
		if n := len(s.Days); n > 0 {
			ride.DaysRange = s.Days[n-1].Range
		}
		if ride.AtLeast > ride.AtMost {
			r.add(diag.Error, "ride-lengths", s.Header, fmt.Sprintf("Ride %q must last at least %s and at most %s", s.Key, ride.AtLeast, ride.AtMost),
				fmt.Sprintf("The ride and its session %q both bound the length, and the narrower bound holds. Change one of them.", session.Key),
				diag.Related{Message: "the session", Range: session.Range})
		}
		out = append(out, mixRide{ride, s.Weeks.V})
	}
	return out
}

// of gives the rides of a week.
func (m *mixes) of(w *Week) []*Ride {
	from := m.ordinary
	if w.Kind == Recovery && m.recovery != nil {
		from = m.recovery
	}
	var out []*Ride
	for _, ride := range from {
		if withoutIn(m.lighter, w, ride.Key) != nil {
			continue
		}
		if ride.weeks == nil || slices.Contains(ride.weeks, w.Number) {
			out = append(out, ride.Ride)
		}
	}
	return out
}

// checkMix says once for a block what is wrong with its shares, with the weeks that have it.
func (r *resolver) checkMix(s *spec.Block, b *Block) {
	var rests, over, empty []int
	var most units.Share
	for _, w := range b.Weeks {
		var sum units.Share
		var rest int
		for _, ride := range w.Rides {
			if ride.Rest {
				rest++
			} else if ride.Minutes == 0 {
				sum += ride.Share
			}
		}
		switch {
		case len(w.Rides) == 0:
			empty = append(empty, w.Number)
		case rest > 1:
			rests = append(rests, w.Number)
		case sum > 1+1e-6:
			over, most = append(over, w.Number), max(most, sum)
		}
	}
	if rests != nil {
		r.twoRests(b, rests)
	}
	if over != nil {
		r.add(diag.Error, "mix-over", s.Header, fmt.Sprintf("The shares of the rides add up to %s in %s of block %q", most, WeeksText(over), b.Key),
			`They may add up to 100 %; let one ride take the rest: share = "rest".`)
	}
	if empty != nil {
		r.add(diag.Error, "mix-empty", s.Header, fmt.Sprintf("No ride takes part in %s of block %q", WeeksText(empty), b.Key),
			"Each week needs a ride: widen the weeks of one, or leave its weeks out.")
	}
}

// twoRests points at the second of the rides that take what the others leave, in the first week that
// has two: a ride without a share or minutes is one of them.
func (r *resolver) twoRests(b *Block, weeks []int) {
	var of []*Ride
	for _, ride := range b.Week(weeks[0]).Rides {
		if ride.Rest {
			of = append(of, ride)
		}
	}
	where := WeeksText(weeks)
	if len(weeks) == len(b.Weeks) {
		where = "every week"
	}
	r.add(diag.Error, "mix-two-rests", of[1].Range, fmt.Sprintf("Rides %q and %q both take what the others leave, in %s", of[0].Key, of[1].Key, where),
		`So does a ride without a share and without minutes, and a week has one such ride. Give one of the two a share = "30 %", or minutes = "60 min".`,
		diag.Related{Message: "the other one", Range: of[0].Range})
}

// WeeksText prints "week 3", "weeks 3 and 5", "weeks 1, 2 and 3".
func WeeksText(weeks []int) string {
	words := make([]string, len(weeks))
	for i, w := range weeks {
		words[i] = fmt.Sprint(w)
	}
	if len(words) == 1 {
		return "week " + words[0]
	}
	return "weeks " + inWords(words)
}

// inWords prints "a", "a and b", "a, b and c".
func inWords(words []string) string {
	n := len(words)
	if n < 2 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:n-1], ", ") + " and " + words[n-1]
}

func weekdays(in []spec.Value[time.Weekday]) (out []time.Weekday) {
	for _, d := range in {
		out = append(out, d.V)
	}
	return out
}
