package prescription

import (
	"towpath/internal/physiology"
	"towpath/internal/units"
	"towpath/internal/words"
)

// addTalkCheck puts a check by talk into the note of one session of week 1, where its band was
// derived with strict caution: figures that say less want to be tried before they are trusted. It
// is the first session, but a ride below the floor gives way to one in the band, and a given one to
// one that the scheduler chose. Tests have none.
func addTalkCheck(sessions []Session) {
	var first *Session
	best := -1
	for i := range sessions {
		s := &sessions[i]
		if s.Week != 1 || s.Test || s.Band == nil || s.Band.Caution != "strict" {
			continue
		}
		fits := 0
		if reachesBand(s) {
			fits += 2
		}
		if !s.Given {
			fits++
		}
		if fits > best {
			first, best = s, fits
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

// reachesBand reports whether what leads the session rises above the band's floor.
func reachesBand(s *Session) bool {
	switch {
	case s.Leads == "power" && s.Targets.Power != nil:
		return float64(s.Targets.Power.High) > float64(s.Band.Power.Low)
	case s.Leads == "heart_rate" && s.Targets.HeartRate != nil:
		return s.Targets.HeartRate.Low != nil
	}
	return true
}

// ceilingWords says the ceiling in what leads the session, and what to take off it.
func ceilingWords(s *Session) (ceiling, take string) {
	b := s.Band
	switch {
	case s.Leads == "power" && b.Power.High > 0:
		return units.Power(down(b.Power.High)).String(), physiology.TalkCheckStep.Value.String()
	case s.Leads == "heart_rate" && b.HeartRate != nil:
		return units.HeartRate(down(b.HeartRate.High)).String(), ""
	case s.Targets.Effort != nil:
		return words.Effort(*s.Targets.Effort), ""
	}
	return "", ""
}
