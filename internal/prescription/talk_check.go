package prescription

import (
	"math"

	"towpath/internal/physiology"
	"towpath/internal/units"
	"towpath/internal/words"
)

// addTalkCheck puts a check by talk into the note of the first session of week 1 that the
// scheduler chose, where its band was derived with strict caution: figures that say less want to be
// tried before they are trusted. Without a chosen session the first ride that is no test has it.
func addTalkCheck(sessions []Session) {
	var first *Session
	for i := range sessions {
		s := &sessions[i]
		if s.Week != 1 || s.Test || s.Band == nil || s.Band.Caution != "strict" {
			continue
		}
		if first == nil || first.Given && !s.Given {
			first = s
		}
	}
	if first == nil {
		return
	}
	ceiling, take := ceilingWords(first)
	if ceiling == "" {
		return
	}
	check := words.TalkCheck(physiology.TalkCheckTime.Value, ceiling, take)
	if first.Note != "" {
		check = first.Note + " " + check
	}
	first.Note = check
}

// ceilingWords says the ceiling in what leads the session, and what to take off it.
func ceilingWords(s *Session) (ceiling, take string) {
	b := s.Band
	switch {
	case s.Leads == "power" && b.Power.High > 0:
		return units.Power(math.Floor(float64(b.Power.High) + slack)).String(), physiology.TalkCheckStep.Value.String()
	case s.Leads == "heart_rate" && b.HeartRate != nil:
		return units.HeartRate(beatsDown(b.HeartRate.High)).String(), ""
	case s.Targets.Effort != nil:
		return words.Effort(*s.Targets.Effort), ""
	}
	return "", ""
}
