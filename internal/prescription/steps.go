package prescription

import (
	"fmt"

	"towpath/internal/diag"
	"towpath/internal/physiology"
	"towpath/internal/plan"
	"towpath/internal/units"
)

// piece is a step on its way to a Step: with its time, still without targets.
type piece struct {
	step    *plan.Step
	role    Role
	length  units.Duration // of the step, or of one round of a repeat
	times   int            // rounds of a repeat
	rounds  []piece        // the steps of one round; nil for a step
	stage   *units.Power   // the power of a test's stage
	stageAt diag.Range     // where the earlier test has it; zero where there was none
	first   bool           // the first stage of a test, without watts
	harder  bool           // a stage of a test without watts: harder than the one before
	late    bool           // lies after the first hours of a very long ride
	why     string         // where its time comes from
}

// isRepeat tells a repeat from a step.
func (p *piece) isRepeat() bool { return p.rounds != nil }

// total is the time of all rounds.
func (p *piece) total() units.Duration {
	if p.isRepeat() {
		return units.Duration(p.times) * p.length
	}
	return p.length
}

func sum(pieces []piece) (total units.Duration) {
	for i := range pieces {
		total += pieces[i].total()
	}
	return total
}

// pieces turns a session's steps into pieces with their written lengths; fills have none yet.
func pieces(steps []plan.Step, roles []Role) []piece {
	out := make([]piece, 0, len(steps))
	for i := range steps {
		s := &steps[i]
		p := piece{step: s, role: roles[i], length: s.Duration}
		if s.Fill {
			p.length = 0
		}
		if s.Repeat != nil {
			p.rounds = pieces(s.Repeat.Steps, rolesInRound(s.Repeat.Steps, roles[i]))
			p.length = sum(p.rounds)
			if !s.Repeat.Fill {
				p.times = s.Repeat.Times
			}
		}
		out = append(out, p)
	}
	return out
}

// fills reports whether the piece takes what the others leave.
func (p *piece) fills() bool {
	if p.isRepeat() {
		return p.step.Repeat != nil && p.step.Repeat.Fill && p.length > 0
	}
	return p.step.Fill
}

// layOut gives each piece its time, so that they add up to the session's exactly. Repeats that
// fill take whole rounds; steps that fill share the rest in whole minutes; what is left goes to
// the spare step and then to the last work step. Where the written times are too long, a
// session's warm-up and cool-down give way. short is the time that is needed where even that is
// too little, else 0. A test is never stretched nor cut: its last step takes what is left.
func layOut(in []piece, total units.Duration, test bool) (out []piece, short units.Duration) {
	least := leastFill(in)
	free := total - sum(in)
	if free < least && !test {
		shrink(in, least-free)
		free = total - sum(in)
	}
	if free < least {
		return nil, sum(in) + least
	}
	free = fillRounds(in, free)
	free = fillSteps(in, free)
	if free > 0 {
		in = giveRest(in, free, test)
	}
	return tidy(in), 0
}

// leastFill is the time that the pieces that fill need at the least: one round, or a few minutes.
func leastFill(in []piece) (least units.Duration) {
	for i := range in {
		switch p := &in[i]; {
		case !p.fills():
		case p.isRepeat():
			least += p.length
		default:
			least += physiology.ShortestFill.Value.Duration()
		}
	}
	return least
}

// shrink takes up to need from the warm-up, then from the cool-down.
func shrink(in []piece, need units.Duration) {
	for _, role := range []Role{WarmUp, CoolDown} {
		for i := range in {
			p := &in[i]
			if p.role != role || p.isRepeat() || p.fills() {
				continue
			}
			half := units.Duration(float64(p.length) * float64(physiology.ShrinkAtMost.Value))
			keep := min(p.length, max(physiology.ShortestEnd.Value.Duration(), wholeMinutesUp(half)))
			if cut := min(need, p.length-keep); cut > 0 {
				p.why = fmt.Sprintf("%s, shortened from %s so that the session fits", p.length-cut, p.length)
				p.length -= cut
				need -= cut
			}
		}
	}
}

func wholeMinutesUp(d units.Duration) units.Duration {
	return (d + units.Minutes(1).Duration() - 1).Minutes().Duration()
}

// fillRounds gives the repeats that fill their rounds, one each and then in turn, and returns
// what is free after them. Steps that fill keep the least that they need.
func fillRounds(in []piece, free units.Duration) units.Duration {
	keep := leastFill(in)
	for i := range in {
		if p := &in[i]; p.isRepeat() && p.fills() {
			p.times, free, keep = 1, free-p.length, keep-p.length
		}
	}
	for again := true; again; {
		again = false
		for i := range in {
			if p := &in[i]; p.isRepeat() && p.fills() && free-keep >= p.length {
				p.times, free, again = p.times+1, free-p.length, true
			}
		}
	}
	for i := range in {
		if p := &in[i]; p.isRepeat() && p.fills() {
			p.why = fmt.Sprintf("%d rounds of %s: as many whole rounds as fit", p.times, p.length)
		}
	}
	return free
}

// fillSteps shares free among the steps that fill, in whole minutes, and returns the rest. A
// single one takes everything.
func fillSteps(in []piece, free units.Duration) units.Duration {
	var to []*piece
	for i := range in {
		if p := &in[i]; !p.isRepeat() && p.fills() {
			to = append(to, p)
		}
	}
	switch len(to) {
	case 0:
		return free
	case 1:
		to[0].length = free
		to[0].why = fmt.Sprintf("%s: what the other steps leave", free)
		return 0
	}
	each := (free / units.Duration(len(to))).Minutes().Duration()
	for _, p := range to {
		p.length = each
		p.why = fmt.Sprintf("%s: an even share of what the other steps leave", each)
	}
	return free - units.Duration(len(to))*each
}

// giveRest gives free to the step that the coach named spare, all of it. Without one the
// cool-down takes some minutes and the last work step the rest; in a test the cool-down takes all.
func giveRest(in []piece, free units.Duration, test bool) []piece {
	if spare := find(in, isSpare); spare >= 0 {
		return lengthen(in, spare, free, isSpare)
	}
	cool, work := find(in, isCoolDown), find(in, isWork)
	switch {
	case test && cool < 0:
		in = append(in, piece{step: &plan.Step{Name: coolDownName, Target: plan.Below}, role: CoolDown})
		return lengthen(in, len(in)-1, free, isCoolDown)
	case test || work < 0 && cool >= 0:
		return lengthen(in, cool, free, isCoolDown)
	case work < 0 && len(in) == 0:
		return in
	case work < 0:
		return lengthen(in, len(in)-1, free, isAny)
	case cool >= 0:
		more := min(free, physiology.SpareAtMost.Value.Duration())
		in = lengthen(in, cool, more, isCoolDown)
		free -= more
	}
	if free > 0 {
		in = lengthen(in, work, free, isWork)
	}
	return in
}

// find gives the last of the pieces that is, or holds, what is looked for; -1 without one.
func find(in []piece, is func(*piece) bool) int {
	for i := len(in) - 1; i >= 0; i-- {
		p := &in[i]
		if p.isRepeat() && find(p.rounds, is) >= 0 || !p.isRepeat() && is(p) {
			return i
		}
	}
	return -1
}

func isSpare(p *piece) bool    { return p.step.Spare }
func isCoolDown(p *piece) bool { return p.role == CoolDown }
func isWork(p *piece) bool     { return p.role == Work }
func isAny(*piece) bool        { return true }

// lengthen adds to the piece at i. Of a repeat the last round is taken out and stands alone, with
// the step in it that is looked for longer.
func lengthen(in []piece, i int, by units.Duration, is func(*piece) bool) []piece {
	p := &in[i]
	if !p.isRepeat() {
		p.why = fmt.Sprintf("%s: %s and the %s that were left", p.length+by, p.length, by)
		p.length += by
		return in
	}
	p.times--
	if p.why != "" {
		p.why += "; the last one stands alone, because it is longer"
	}
	last := clone(p.rounds)
	last = lengthen(last, find(last, is), by, is)
	out := append(clone(in[:i+1]), last...)
	return append(out, in[i+1:]...)
}

func clone(in []piece) []piece { return append([]piece(nil), in...) }

// tidy drops what has no time and writes out repeats of one round.
func tidy(in []piece) []piece {
	var out []piece
	for _, p := range in {
		switch {
		case p.total() <= 0:
		case p.isRepeat() && p.times == 1:
			out = append(out, tidy(p.rounds)...)
		case p.isRepeat():
			p.rounds = tidy(p.rounds)
			out = append(out, p)
		default:
			out = append(out, p)
		}
	}
	return out
}

// splitAt cuts the work at a time from the start and marks what begins later as late: work that
// spans the cut is divided, a repeat between two rounds. Work whose watts do not sink is left whole.
func splitAt(in []piece, cut units.Duration, sinks func(*piece) bool) []piece {
	var out []piece
	var at units.Duration
	for _, p := range in {
		end := at + p.total()
		switch {
		case p.role != Work || end <= cut || !sinks(&p):
			out = append(out, p)
		case at >= cut:
			p.late = true
			out = append(out, p)
		case p.isRepeat():
			before, after := p, p
			before.times = min(p.times, int((cut-at+p.length-1)/p.length))
			after.times, after.late = p.times-before.times, true
			out = append(out, tidy([]piece{before})...)
			for _, q := range tidy([]piece{after}) {
				q.late = true
				out = append(out, q)
			}
		default:
			out = append(out, splitStep(p, at, min(cut, end-physiology.ShortestHeartRateStep.Value))...)
		}
		at = end
	}
	return out
}

// splitStep cuts a step that begins at at. Neither part becomes too short for a heart rate: the
// cut comes a little earlier, or all of the step is late.
func splitStep(p piece, at, cut units.Duration) []piece {
	before, after := p, p
	before.length, after.length, after.late = cut-at, p.length-(cut-at), true
	if before.length < physiology.ShortestHeartRateStep.Value {
		p.late = true
		return []piece{p}
	}
	before.why = fmt.Sprintf("%s of %s: the first %s of the ride", before.length, p.length, cut)
	after.why = fmt.Sprintf("%s of %s: after the first %s of the ride", after.length, p.length, cut)
	return []piece{before, after}
}
