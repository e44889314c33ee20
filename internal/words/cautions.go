package words

// StopSigns is one line: when to stop at once.
func StopSigns() string {
	return "Stop and get help at: pain or pressure in the chest, arm or jaw; faintness; breath that is short without reason; " +
		"a heart that races or stumbles; confusion or chills in the heat; sudden severe headache; sudden weakness, or trouble seeing or speaking."
}

// ShortCautions are the lines for a calendar entry: what the plan is not, who to ask, and when
// the numbers do not hold.
func ShortCautions() []string {
	return []string{
		"Training advice, not medical advice: whether you may ride like this is for a licensed practice where you live to say, under its rules.",
		"No riding with a fever or an infection. In heat ride less long and less fast. Where a medicine alters the heart rate, beats are no guide.",
		"Under 18 a guardian agrees first; in pregnancy your clinician or midwife.",
	}
}

// Cautions are the sentences for a sheet or a handbook, one each.
func Cautions() []string {
	return []string{
		"This plan is training advice, not medical advice. It clears nobody to ride: that is for a licensed practice where the rider lives, under the rules there.",
		"Ask that practice first if you are new to training, come back after a long time, were told of a disease of heart, lungs, blood vessels, kidneys or metabolism, or notice signs that are new to you.",
		"A test that goes to the limit is hard work even in an easy block: ride one only if the practice has said yes to hard exercise.",
		StopSigns() + " Do not ride again before somebody licensed has looked at it.",
		"Some medicines hold the heart rate down or drive it up. Then beats are no guide: go by watts, effort and talk. Never change a dose for the sake of training.",
		"With a fever, an infection or aches all over: no riding. Come back only when you are well, with short and easy rides, and without a test.",
		"In heat start early, look for shade and moving air, shorten the ride and do not chase watts.",
		"Under 18: a guardian agrees to the plan, and no test goes to the limit without that. In pregnancy go by effort and talk, not by beats, and let your clinician or midwife agree first.",
		"Food and drink here are for comfort on the bike. They are no diet; with diabetes or another condition that food bears on, your clinician's advice comes first.",
	}
}

// AtCeiling is what to try when the band's ceiling may be too high; take is the power to take off.
func AtCeiling(take string) string {
	return "Whole sentences must come easily at this ceiling; if not, take " + take + " off."
}
