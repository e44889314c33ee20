package spec

import (
	"fmt"
	"slices"
)

// checkWeeks refuses week numbers beyond the block's end.
func (d *decoder) checkWeeks(n *node, whole, b *Block) {
	if !whole.Weeks.Set {
		return
	}
	check := func(weeks Value[[]int]) {
		if !weeks.Set || len(weeks.V) == 0 {
			return
		}
		if last := weeks.V[len(weeks.V)-1]; last > whole.Weeks.V {
			d.report(codeOutOfRange, weeks.Range, fmt.Sprintf("The block has no week %d", last), fmt.Sprintf("It has weeks 1 to %d. Name one of these, or let the block last longer.", whole.Weeks.V), diagRelated("its weeks stand here", whole.Weeks.Range))
			n.Broken = true
		}
	}
	for _, r := range b.Rides {
		check(r.Weeks)
	}
	for _, f := range b.Fixed {
		check(f.Weeks)
	}
	for _, t := range b.TestDays {
		check(t.Weeks)
	}
	for _, w := range b.Waivers {
		check(w.Weeks)
	}
	for _, w := range b.WeekNotes {
		check(Value[[]int]{[]int{w.Number.V}, w.Number.Range, w.Number.Set})
	}
	if r := b.Recovery; r != nil {
		check(r.Weeks)
		for _, ride := range r.Rides {
			check(ride.Weeks)
		}
	}
}

// checkPins refuses a pinned ride that is not in the mix.
func (d *decoder) checkPins(n *node, whole, b *Block) {
	rides := ridesOf(whole)
	if b != whole {
		rides = append(rides, ridesOf(b)...)
	}
	known := map[string]bool{}
	for _, r := range rides {
		known[r] = true
	}
	for _, w := range b.WeekNotes {
		for _, p := range w.Pins {
			if !p.Ride.Set || known[p.Ride.V] || d.lostRide(n) {
				continue
			}
			near := d.nearest(p.Ride.V, rides)
			diagnostic := d.diagnostic(codeUnknownRef, p.Ride.Range, fmt.Sprintf("The mix has no ride %s", quoted(p.Ride.V)), didYouMean(near))
			if len(rides) > 0 {
				diagnostic.Detail += "The block has " + some(rides) + "."
			} else {
				diagnostic.Detail += "The block has no ride yet; session = session.long_ride pins one outside of the mix."
			}
			if near != "" && string(d.source(p.Ride.Range)) == quoted(p.Ride.V) {
				diagnostic.Fix = replace("Write "+quoted(near), p.Ride.Range, quoted(near))
			}
			d.diags.Add(diagnostic)
			n.Broken = true
		}
	}
}

// ridesOf are the labels of a block's rides, those of recovery weeks included.
func ridesOf(b *Block) []string {
	var out []string
	for _, r := range b.Rides {
		out = append(out, r.Key)
	}
	if b.Recovery != nil {
		for _, r := range b.Recovery.Rides {
			out = append(out, r.Key)
		}
	}
	return out
}

// lostRide tells whether the block may hold a ride whose block or label could not be read.
func (d *decoder) lostRide(n *node) bool {
	for _, c := range n.nodes {
		if c.block.Kind == "ride" && c.Key == "" {
			return true
		}
	}
	return false
}

// checkVolume wants hours for every week: from volume, or week by week.
func (d *decoder) checkVolume(n *node, b *Block) {
	if b.Volume != nil || !b.Weeks.Set || n.Broken || anyBroken(n) {
		return
	}
	for week := 1; week <= b.Weeks.V; week++ {
		written := slices.ContainsFunc(b.WeekNotes, func(w *Week) bool { return w.Number.V == week && w.Hours.Set })
		if !written {
			d.report(codeMissingBlock, n.Header, fmt.Sprintf("%s does not say how many hours week %d has", n.title(), week), `Write volume { first = "5 h" }, or hours for each week.`)
			n.Broken = true
			return
		}
	}
}
