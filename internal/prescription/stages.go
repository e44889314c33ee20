package prescription

import (
	"math"

	"towpath/internal/diag"
	"towpath/internal/physiology"
	"towpath/internal/plan"
	"towpath/internal/units"
)

// stage is one stage of an earlier test.
type stage struct {
	power  units.Power
	length units.Duration
	at     diag.Range // its row
}

// earlierStages are the stages of the test that this one repeats: same powers, same length. nil
// where there is none. The rest before that test is none of them.
func earlierStages(g *plan.Given) (out []stage) {
	if g == nil || g.Test == nil || g.Test.Like == nil {
		return nil
	}
	for _, s := range g.Test.Like.Stages {
		if s.Power > 0 {
			out = append(out, stage{power: s.Power, length: s.Duration, at: s.Where})
		}
	}
	length := g.Test.Like.StageLength
	if length == 0 {
		length = usualLength(out)
	}
	for i := range out {
		out[i].length = length
	}
	return out
}

// usualLength is the length that most stages had, the longer of equals: the last stage is often
// broken off.
func usualLength(stages []stage) (usual units.Duration) {
	count := map[units.Duration]int{}
	for _, s := range stages {
		count[s.length]++
	}
	for _, s := range stages {
		if d := s.length; count[d] > count[usual] || count[d] == count[usual] && d > usual {
			usual = d
		}
	}
	return usual
}

// repeatStages puts the stages of the earlier test in the place of the first rising repeat.
func repeatStages(in []piece, stages []stage) []piece {
	if stages == nil {
		return in
	}
	for i := range in {
		if !rises(&in[i]) {
			continue
		}
		out := clone(in[:i])
		for _, s := range stages {
			round := clone(in[i].rounds)
			work := stageStep(round)
			round[work].stage, round[work].stageAt = &s.power, s.at
			if s.length > 0 {
				round[work].length = s.length
			}
			round[work].why = "a stage of the earlier test, repeated as it was"
			out = append(out, round...)
		}
		return append(out, in[i+1:]...)
	}
	return in
}

func rises(p *piece) bool {
	return p.isRepeat() && p.step.Repeat != nil && p.step.Repeat.Rising > 0 && len(p.rounds) > 0
}

// stageStep is the step of a round that rises: its first work step.
func stageStep(round []piece) int {
	for i := range round {
		if round[i].role == Work && !round[i].isRepeat() {
			return i
		}
	}
	return 0
}

// writeOutStages turns rising repeats into single steps, each with its own power. The first
// stage is rounded; without a threshold the stages have no power.
func writeOutStages(in []piece, threshold units.Power) []piece {
	var out []piece
	for _, p := range in {
		if !rises(&p) {
			out = append(out, p)
			continue
		}
		for n := range p.times {
			round := clone(p.rounds)
			s := &round[stageStep(round)]
			if first, ok := firstStage(s.step, threshold); ok {
				power := first + units.Power(n)*p.step.Repeat.Rising
				s.stage = &power
			} else {
				s.first, s.harder = n == 0, n > 0
			}
			out = append(out, tidy(round)...)
		}
	}
	return out
}

// firstStage is the power of the first stage.
func firstStage(s *plan.Step, threshold units.Power) (units.Power, bool) {
	switch {
	case s.Target == plan.Watts:
		return s.Power.Low, true
	case s.Target == plan.OfThreshold && threshold > 0:
		by := float64(physiology.StageRounding.Value)
		return units.Power(math.Round(float64(threshold)*float64(s.Share.Low)/by) * by), true
	}
	return 0, false
}
