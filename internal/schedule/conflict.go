package schedule

import (
	"towpath/internal/diag"
	"towpath/internal/plan"
)

// conflict is a week that cannot be placed, with the smallest set of constraints that already make
// it impossible, and the single changes that would mend it.
type conflict struct {
	week    *plan.Week
	groups  groups
	allowed int  // total nearest to the asked one that these constraints allow; -1 where none, and where it does not count
	nearest int  // total nearest to the asked one that fits, -1 where none does
	easy    bool // were it not for the easy days, more would fit than nearest
	repairs []repair
}

// conflicts finds the weeks that fail whatever the week before leaves to them. After one that
// fails the next starts afresh, so that all are told at once.
func (c *chain) conflicts() diag.List {
	var found []*conflict
	carries := []carry{{}}
	for i, w := range c.block.Weeks {
		after := c.reach(i, carries)
		if len(after) == 0 {
			found = append(found, c.conflict(w, carries))
			after = []carry{{}}
		}
		carries = after
	}
	return c.report(found)
}

// reach lists all that a week can leave to the next.
func (c *chain) reach(i int, carries []carry) (out []carry) {
	if !c.conceivable(i, func(carry) bool { return true }, carries...) {
		return nil
	}
	seen := map[carry]bool{}
	for total := range c.totals(i) {
		for _, in := range carries {
			possible(c.problemOf(i, total), in, func(after carry) bool {
				if after = after.feasibility(); !seen[after] {
					seen[after] = true
					out = append(out, after)
				}
				return false // look for more
			})
		}
	}
	return out
}

// diagnosis asks of one week whether it fits with some constraints lifted or one value changed.
type diagnosis struct {
	*chain
	week    *plan.Week
	carries []carry
	always  groups           // lifted in any case
	accept  func(carry) bool // what the week must leave to the next
}

func (c *chain) conflict(w *plan.Week, carries []carry) *conflict {
	d := &diagnosis{chain: c, week: w, carries: carries, accept: func(carry) bool { return true }}
	if c.block.TakeWhatFits || c.running(w) {
		d.always = groupTotal // any total would have done
	}
	out := &conflict{week: w, allowed: -1, nearest: -1}
	out.groups = d.smallestConflict(func(lifted groups) bool { return d.fits(lifted, nil) })
	if out.groups&groupTotal != 0 {
		if t, ok := d.nearestFit((groupEnd-1)&^out.groups|groupTotal, nil); ok {
			out.allowed = t
		}
		if t, ok := d.nearestFit(groupTotal, nil); ok {
			out.nearest = t
		}
		if t, ok := d.nearestFit(groupTotal|groupEasy, nil); ok && out.nearest < int(w.Asked) {
			out.easy = t > out.nearest
		}
	}
	out.repairs = d.repairs(out)
	return out
}

// smallestConflict is the deletion filter: it lifts one group after the other. What is still
// impossible without a group does not need it, so it stays lifted; what remains is a smallest
// conflict.
func (d *diagnosis) smallestConflict(fits func(lifted groups) bool) groups {
	lifted := d.always
	for g := groupRun; g < groupEnd; g <<= 1 {
		if lifted&g == 0 && !fits(lifted|g) {
			lifted |= g
		}
	}
	return (groupEnd - 1) &^ lifted
}

// fits tells whether the week can be placed after any of the carries.
func (d *diagnosis) fits(without groups, ch *change) bool {
	without |= d.always
	if without&groupTotal == 0 {
		return d.fitsWithin(int(d.week.Asked), d.least(d.week), without, ch)
	}
	_, ok := d.nearestFit(without, ch)
	return ok
}

// nearestFit is the total next to the asked one that fits, less before more.
func (d *diagnosis) nearestFit(without groups, ch *change) (total int, ok bool) {
	asked := int(d.week.Asked)
	p := d.with(ch).problem(d.week, asked, without&^groupLimits)
	nearest(asked, p, true, func(t int) bool {
		if d.fitsAt(t, without, ch) {
			total, ok = t, true
		}
		return !ok
	})
	return total, ok
}

// fitsWithin tells whether the week fits at a total from most down to least.
func (d *diagnosis) fitsWithin(most, least int, without groups, ch *change) bool {
	if most < least {
		return false
	}
	p, sure := d.with(ch).within(d.week, most, least, without)
	if fits := p.possibleAfter(d.carries, d.accept); sure || !fits {
		return fits
	}
	middle := most - down((most-least)/2)
	return d.fitsWithin(most, middle, without, ch) || d.fitsWithin(middle-quantum, least, without, ch)
}

func (d *diagnosis) fitsAt(total int, without groups, ch *change) bool {
	return d.with(ch).problem(d.week, total, without).possibleAfter(d.carries, d.accept)
}
