package spec

// Bounds here are what a text can sensibly say; what is wise is judged by the rules.

var athleteBlock = BlockType{
	Kind: "athlete", Label: KeyLabel, Many: true,
	Doc: "Who rides: body, history, and the days that can hold a ride. The label is a key; a name is not needed.",
	Names: append([]Name{
		{Name: "name", Type: Type{Kind: Text}, Doc: "The rider's name where it may stand in the output; it can live in a file that is kept out of git.", Example: `"Signe"`},
		{Name: "born", Type: count(1900, 2100), Doc: "Year of birth.", Example: "1988"},
		{Name: "sex", Type: choice("female", "male"), Doc: "Used where a formula differs between women and men.", Example: `"female"`},
		{Name: "mass", Type: Type{Kind: MassText}, Doc: "Body mass.", Example: `"58 kg"`},
		{Name: "guardian_consent", Type: Type{Kind: Truth}, Doc: "true where the rider is under 18 and a guardian has agreed.", Example: "true"},
		{Name: "led_by_clinician", Type: Type{Kind: Truth}, Doc: "true where a clinician leads the rider's training.", Example: "true"},
	}, sharedNames...),
	Blocks: append([]*BlockType{&heartRateBlock, &fixedOfAthlete}, sharedBlocks...),
	Later:  []string{"rides"},
}

// sharedNames and sharedBlocks are what many athletes can have alike: they stand in an athlete, or
// in the defaults of a squad.
var sharedNames = []Name{
	{Name: "time_zone", Type: Type{Kind: Text}, Doc: "The rider's time zone, as continent and city.", Example: `"Europe/Tallinn"`},
	{Name: "background", Type: choice("new", "returning", "regular", "trained"), Doc: "How used the rider is to regular riding.", Example: `"regular"`},
	{Name: "recent", Type: list(Type{Kind: WeekText}), Doc: "Time ridden in each of the last weeks, oldest first; \"0 min\" for a week without a ride.", Example: `["3 h 30 min", "4 h", "3 h 45 min", "4 h 15 min"]`},
	{Name: "recent_until", Type: Type{Kind: DateText}, Default: "the day before the block starts", Doc: "The last day of the last recent week.", Example: `"2026-09-13"`},
	{Name: "longest", Type: Type{Kind: DurationText}, Doc: "The longest ride of the last 30 days.", Example: `"2 h 40 min"`},
	{Name: "power_meter", Type: Type{Kind: Truth}, Default: "true", Doc: "false where the rider has none: heart rate or effort leads.", Example: "false"},
	{Name: "meters", Type: Type{Kind: Table, Key: &places, Elem: &meterReference}, Doc: "Which power meter is used where.", Example: "{ outdoor = meter.pedals, indoor = meter.trainer }"},
	{Name: "on", Type: Type{Kind: Table, Key: &Type{Kind: DateSpan}, Elem: &Type{Kind: DayText}}, Doc: "Dates that differ from the usual week, or several days in a row, the first and the last included. A date alone comes before several in a row that hold it. A week of which every date is closed here is off.", Example: `{ "2026-10-06" = "40 min, easy", "2026-12-21 to 2026-12-27" = "none" }`},
	{Name: "shifts", Type: Type{Kind: Table, Key: &Type{Kind: KeyText}, Elem: &Type{Kind: DayText}}, Doc: "What a day holds on each shift that is worked; a roster says which shift is worked when.", Example: `{ early = "70 min, 15:20", night = "45 min, 14:40, indoor, easy", off = "none" }`},
}

var sharedBlocks = []*BlockType{&screeningBlock, &daysBlock, &rosterBlock, &travelBlock, &otherBlock, &deviceBlock, &calendarBlock}

var meterReference = to("meter")

var heartRateBlock = BlockType{
	Kind: "heart_rate",
	Doc:  "The rider's resting and maximal heart rate, and where they come from.",
	Names: []Name{
		{Name: "resting", Type: Type{Kind: HeartRateText}, Doc: "Heart rate at rest, lying, in the morning.", Example: `"52 bpm"`},
		{Name: "maximum", Type: Type{Kind: HeartRateText}, Doc: "The highest heart rate that was seen on the bicycle.", Example: `"184 bpm"`},
		{Name: "from", Type: to("test").or("measured", "estimated"), Doc: "Where the maximum comes from: measured, estimated, or a test.", Example: `"measured"`},
		{Name: "usable", Type: Type{Kind: Truth}, Default: "true", Doc: "false where heart rate says nothing about effort; no reason is asked for.", Example: "false"},
	},
}

var screeningBlock = BlockType{
	Kind: "screening",
	Doc:  "A statement that somebody licensed has looked at the rider. It never says why or what was found.",
	Names: []Name{
		{Name: "on", Type: Type{Kind: DateText}, Required: true, Doc: "The date of the screening.", Example: `"2026-09-03"`},
		{Name: "until", Type: Type{Kind: DateText}, Doc: "The last day on which the statement holds.", Example: `"2027-09-03"`},
		{Name: "by", Type: Type{Kind: Text}, Doc: "Who made it, in general words.", Example: `"own clinician"`},
		{Name: "allows", Type: choice("maximal", "submaximal", "easy riding only"), Required: true, Doc: "The hardest riding that it allows.", Example: `"maximal"`},
	},
}

var daysBlock = BlockType{
	Kind: "days",
	Doc:  "What each day of the week can hold: minutes, then hour, place, easy where only light rides fit, and commute for the way to work, in any order. A list of two texts gives a day two windows. A day that is left out holds no ride.",
	Names: []Name{
		dayName("monday", `"none"`),
		dayName("tuesday", `["25 min, 07:30, commute", "75 min, 18:30, indoor"]`),
		dayName("wednesday", `"90 min, 18:30"`),
		dayName("thursday", `"75 min, easy"`),
		dayName("friday", `"60 min"`),
		dayName("saturday", `"3 h 40 min, 09:15, outdoor or 2 h indoor"`),
		dayName("sunday", `"2 h 30 min, 09:00"`),
	},
}

func dayName(day, example string) Name {
	return Name{Name: day, Type: Type{Kind: DayText}, Default: `"none"`, Doc: "What a " + day + " can hold.", Example: example}
}

var meterBlock = BlockType{
	Kind: "meter", Label: KeyLabel, Many: true,
	Doc: "A power meter.",
	Names: []Name{
		{Name: "kind", Type: Type{Kind: Text}, Doc: "What it is: pedals, crank, hub, trainer.", Example: `"pedals"`},
		{Name: "reads", Type: Type{Kind: ShareText}, Doc: "How much more or less it reads than another meter.", Example: `"-1.8 %"`},
		{Name: "against", Type: meterReference, Doc: "The other meter.", Example: "meter.pedals"},
		{Name: "compared", Type: Type{Kind: DateText}, Doc: "When the two were compared.", Example: `"2026-08-27"`},
	},
}
