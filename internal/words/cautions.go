package words

import "towpath/internal/units"

// StopSigns is one line: when to stop at once.
func StopSigns() string {
	return "Stop and get help at: pain or pressure in the chest, arm or jaw; faintness; breath that is short without reason; " +
		"a heart that races or stumbles; confusion; chills in the heat; sudden severe headache, weakness, or trouble seeing or speaking."
}

// ShortCautions are the lines for a calendar entry: what the plan is not, who to ask, and when
// the numbers do not hold.
func ShortCautions() []string {
	return []string{
		"Training advice, not medical advice: whether you may ride is for licensed practice and local rules to say. " +
			"Under 18 a guardian agrees first; in pregnancy your clinician or midwife.",
		"No riding with a fever or an infection. In heat ride shorter and slower. If a medicine alters your heart rate, go by effort and talk.",
	}
}

// AtCeiling is what to try when the band's ceiling may be too high; take is the power to take off,
// "" where nothing is ridden by watts.
func AtCeiling(take string) string {
	return "Whole sentences must come easily at this ceiling; if not, " + easier(take) + "."
}

// TalkCheck asks for a check of a ceiling on a first ride: so long at the ceiling, written as what
// leads says it.
func TalkCheck(length units.Minutes, ceiling, take string) string {
	return "Talk check, once: after the warm-up ride " + length.String() + " at the top of your band, " + ceiling +
		", and say whole sentences aloud. They must come easily; if not, " + easier(take) + " from now on, and tell the coach."
}

func easier(take string) string {
	if take == "" {
		return "ride easier"
	}
	return "take " + take + " off"
}
