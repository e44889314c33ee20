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
			d.refuse(n, codeOutOfRange, weeks.Range, fmt.Sprintf("The block has no week %d", last), fmt.Sprintf("It has weeks 1 to %d. Name one of these, or let the block last longer.", whole.Weeks.V), diagRelated("its weeks stand here", whole.Weeks.Range))
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
	for i, w := range b.WeekNotes {
		check(Value[[]int]{[]int{w.Number.V}, w.Number.Range, w.Number.Set})
		for _, o := range b.WeekNotes[:i] { // only "last" can be the number of another
			if w.Number.Set && o.Number.V == w.Number.V {
				d.refuse(n, codeDoubleName, w.Label.Range, fmt.Sprintf("There are two blocks for week %d", w.Number.V), fmt.Sprintf("The block's last week is week %d. Put both into one.", whole.Weeks.V), diagRelated("the first one", o.Header))
			}
		}
	}
	if r := b.Recovery; r != nil {
		check(r.Weeks)
		for _, ride := range r.Rides {
			check(ride.Weeks)
		}
	}
}

// checkDecide holds the week of the decision against the block's lengths.
func (d *decoder) checkDecide(n *node, b *Block) {
	if !b.Weeks.Set {
		return
	}
	switch shortest := b.Shortest; {
	case shortest.Set && !n.wrote("decide"):
		d.refuse(n, codeOneOf, b.Weeks.Range, fmt.Sprintf("The block lasts %d to %d weeks, and nothing says when that is decided", shortest.V, b.Weeks.V),
			fmt.Sprintf("Add the week of the decision, at the latest the last week of the shortest length: decide = %d.", shortest.V))
	case !shortest.Set && n.wrote("decide"):
		d.refuse(n, codeOneOf, n.written["decide"], fmt.Sprintf("There is nothing to decide: the block lasts %s", weeksInWords(b.Weeks.V)),
			fmt.Sprintf("Take decide out, or write a range such as weeks = \"%d-%d\".", b.Weeks.V, min(b.Weeks.V+2, maxWeeks)), diagRelated("its weeks stand here", b.Weeks.Range))
	case b.Decide.Set && b.Decide.V > shortest.V:
		d.refuse(n, codeOutOfRange, b.Decide.Range, fmt.Sprintf("decide = %d comes too late", b.Decide.V),
			fmt.Sprintf("The block may end with week %d: decide in week %d at the latest.", shortest.V, shortest.V), diagRelated("its weeks stand here", b.Weeks.Range))
	}
}

func weeksInWords(n int) string {
	if n == 1 {
		return "1 week"
	}
	return fmt.Sprintf("%d weeks", n)
}

// checkRides holds the rides that a block, or a part of it for some athletes, pins against the mix.
func (d *decoder) checkRides(n *node, whole, b *Block) {
	known := ridesOf(whole)
	if b != whole {
		known = append(known, ridesOf(b)...)
	}
	for _, w := range b.WeekNotes {
		for _, p := range w.Pins {
			if !p.Ride.Set || slices.Contains(known, p.Ride.V) || d.lostRide(n) {
				continue
			}
			d.unknownWord(p.Ride, "The mix has no ride "+quoted(p.Ride.V), known, "The block has ", "The block has no ride yet; session = session.long_ride pins one outside of the mix.")
			n.Broken = true
		}
	}
}

// unknownWord reports a name that was given nowhere, with the nearest of those that were.
func (d *decoder) unknownWord(name Value[string], summary string, known []string, has, none string) {
	near := d.nearest(name.V, known)
	diagnostic := d.diagnostic(codeUnknownRef, name.Range, summary, none)
	if len(known) > 0 {
		diagnostic.Detail = seen(near, has, known)
	}
	if near != "" && string(d.source(name.Range)) == quoted(name.V) {
		diagnostic.Fix = replace("Write "+quoted(near), name.Range, quoted(near))
	}
	d.diags.Add(diagnostic)
}

// ridesOf are the labels of a block's rides, those of recovery weeks included.
func ridesOf(b *Block) []string {
	out := labelsOf(b.Rides)
	if b.Recovery != nil {
		out = append(out, labelsOf(b.Recovery.Rides)...)
	}
	return out
}

func labelsOf(rides []*Ride) []string {
	var out []string
	for _, r := range rides {
		out = append(out, r.Key)
	}
	return out
}

// lostRide tells whether the block may hold a ride whose label could not be read.
func (d *decoder) lostRide(n *node) bool {
	return slices.ContainsFunc(n.nodes, func(c *node) bool { return c.block.Kind == "ride" && c.Key == "" || d.lostRide(c) })
}

// checkVolume wants hours for every week: from volume, or week by week.
func (d *decoder) checkVolume(n *node, b *Block) {
	if b.Volume != nil || !b.Weeks.Set || n.Broken || anyBroken(n) {
		return
	}
	for week := 1; week <= b.Weeks.V; week++ {
		written := slices.ContainsFunc(b.WeekNotes, func(w *Week) bool { return w.Number.V == week && w.Hours.Set })
		if !written {
			d.refuse(n, codeMissingBlock, n.Header, fmt.Sprintf("%s does not say how many hours week %d has", n.title(), week), `Write volume { first = "5 h" }, or hours for each week.`)
			return
		}
	}
}
