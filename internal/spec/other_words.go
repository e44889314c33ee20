package spec

import (
	"strings"

	"towpath/internal/units"
)

// otherWords are words of the trade that people write for a name of ours which is spelled quite
// differently. The first that the block at hand has is meant.
var otherWords = map[string][]string{
	"age":       {"born"},
	"year":      {"born"},
	"birth":     {"born"},
	"weight":    {"mass"},
	"gender":    {"sex"},
	"zone":      {"time_zone"},
	"hours":     {"recent", "first", "volume", "minutes", "lasts"},
	"effort":    {"rpe"},
	"watts":     {"power"},
	"target":    {"position", "power"},
	"zones":     {"power"},
	"hr":        {"heart_rate"},
	"pulse":     {"heart_rate"},
	"bpm":       {"heart_rate"},
	"beats":     {"heart_rate"},
	"max":       {"maximum", "at_most", "high"},
	"rest":      {"resting", "recovery"},
	"easy":      {"recovery"},
	"deload":    {"recovery"},
	"minimum":   {"at_least"},
	"maximum":   {"at_most"},
	"length":    {"duration", "minutes", "weeks", "lasts"},
	"time":      {"duration", "minutes", "at"},
	"minutes":   {"duration", "lasts"},
	"duration":  {"minutes", "weeks", "lasts"},
	"repeats":   {"times"},
	"rounds":    {"times"},
	"count":     {"times", "per_week"},
	"rpm":       {"cadence"},
	"goal":      {"aim", "purpose"},
	"why":       {"purpose", "reason"},
	"comment":   {"note", "remark"},
	"notes":     {"note"},
	"begin":     {"start", "from"},
	"start":     {"first", "from"},
	"end":       {"weeks", "until", "to"},
	"date":      {"start", "on", "from"},
	"increase":  {"growth", "by"},
	"step":      {"growth"},
	"cap":       {"at_most", "ceiling"},
	"limit":     {"at_most", "limits"},
	"rider":     {"athlete", "athletes"},
	"file":      {"data", "roster"},
	"csv":       {"data"},
	"test":      {"tests"},
	"available": {"days"},
	"until":     {"to"},
	"to":        {"until"},
	"name":      {"title"},
	"riders":    {"athletes"},
	"members":   {"athletes"},
	"group":     {"squad", "squads"},
	"team":      {"squad", "squads"},
	"race":      {"event"},
	"holiday":   {"on", "travel"},
	"vacation":  {"on", "travel"},
	"trip":      {"travel"},
	"away":      {"on", "week"},
	"absent":    {"on", "week"},
	"joins":     {"from_week"},
	"join":      {"from_week"},
	"work":      {"shifts", "fixed"},
	"sport":     {"other"},
	"alarm":     {"reminder"},
	"override":  {"for_athlete"},
	"except":    {"for_athlete", "without"},
	"exclude":   {"without"},
	"skip":      {"without"},
	"vt1":       {"first_threshold", "threshold"},
	"lt1":       {"first_threshold", "threshold"},
	"vt2":       {"second_threshold"},
	"lt2":       {"second_threshold"},
	"hrmax":     {"maximum_heart_rate", "maximum"},
	"max_hr":    {"maximum_heart_rate", "maximum"},
	"pmax":      {"peak_power"},
	"allowance": {"over"},
	"above":     {"over"},
	"slack":     {"tolerance"},
}

// otherValues are the same for words that are values.
var otherValues = map[string]string{
	"outside": "outdoor", "outdoors": "outdoor", "road": "outdoor",
	"inside": "indoor", "indoors": "indoor", "trainer": "indoor", "home": "indoor",
	"hard": "demanding", "heavy": "demanding", "easy": "light",
	"watts": "power", "watt": "power", "hr": "heart rate", "pulse": "heart rate", "bpm": "heart rate",
	"warning": "warn", "error": "stop",
	"woman": "female", "f": "female", "man": "male", "m": "male",
	"up": "rising", "growing": "rising", "down": "falling", "flat": "steady", "constant": "steady",
	"ascii": "plain", "beginner": "new",
}

// truthWord gives true or false for the word that stands for it, "" where it does for neither.
func truthWord(word string) string {
	switch strings.ToLower(word) {
	case "true", "yes", "ja", "si", "sí", "oui", "on":
		return "true"
	case "false", "no", "nein", "nee", "non", "off", "none":
		return "false"
	}
	return ""
}

// ourWord gives the name or block of t that a word of otherWords stands for, or a word that is
// near to one of these, or the day of the week that another word does; "" where there is none.
func (d *decoder) ourWord(word string, t *BlockType) string {
	if day := units.WeekdayMeant(word); day != "" && t.name(day) != nil {
		return day
	}
	find := func(word string) string {
		for _, ours := range otherWords[word] {
			if t.name(ours) != nil || t.block(ours) != nil {
				return ours
			}
		}
		return ""
	}
	if ours := find(word); ours != "" || len(word) < 5 {
		return ours
	}
	var theirs []string
	for other := range otherWords {
		if find(other) != "" {
			theirs = append(theirs, other)
		}
	}
	return find(d.nearest(word, theirs))
}
