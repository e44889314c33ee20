package spec

// otherWords are words of the trade that people write for a name of ours which is spelled quite
// differently. The first that the block at hand has is meant.
var otherWords = map[string][]string{
	"age":       {"born"},
	"year":      {"born"},
	"birth":     {"born"},
	"weight":    {"mass"},
	"gender":    {"sex"},
	"zone":      {"time_zone"},
	"hours":     {"recent", "volume", "minutes", "lasts"},
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
	"work":      {"shifts", "fixed"},
	"sport":     {"other"},
	"alarm":     {"reminder"},
	"override":  {"for_athlete"},
	"except":    {"for_athlete", "without"},
	"exclude":   {"without"},
	"skip":      {"without"},
	"allowance": {"over"},
	"above":     {"over"},
	"slack":     {"tolerance"},
}

// ourWord gives the name or block of t that a word of otherWords stands for, "" where there is
// none.
func ourWord(word string, t *BlockType) string {
	for _, ours := range otherWords[word] {
		if t.name(ours) != nil || t.block(ours) != nil {
			return ours
		}
	}
	return ""
}
