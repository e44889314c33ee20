package spec

// What fills an athlete's days beside the rides of the mix: shifts, journeys, fixed rides, other
// sport; and what their devices and calendar show.

var rosterBlock = BlockType{
	Kind: "roster", Many: true,
	Doc: "Which shift is worked on which day. A date in `on` comes before the roster, the roster before the usual days.",
	Names: []Name{
		{Name: "from", Type: Type{Kind: DateText}, Default: "the first date of the file; with days it must be written", Doc: "The first day of the roster.", Example: `"2026-09-14"`},
		{Name: "until", Type: Type{Kind: DateText}, Default: "it goes on until the next roster begins", Doc: "The last day of the roster.", Example: `"2026-12-20"`},
		{Name: "days", Type: list(Type{Kind: KeyText}), Doc: "The shifts of one day after the other, from the first day on; the list repeats.", Example: `["early", "early", "night", "off"]`},
		{Name: "file", Type: Type{Kind: Text}, Doc: "A CSV file in place of the list, relative to this file: the header `date,shift` or `date;shift`, then a row for each date, 2026-09-14 or 14.09.2026. Other columns are not read, and capitals and marks of letters do not matter: Früh is the shift fruh. A date that it leaves out is a usual day. For a roster that comes month by month, write one block a month.", Example: `"roster.csv"`},
	},
}

var travelBlock = BlockType{
	Kind: "travel", Many: true,
	Doc: "Days in another time zone: the hours of their sessions are read there.",
	Names: []Name{
		{Name: "from", Type: Type{Kind: DateText}, Required: true, Doc: "The first day there.", Example: `"2026-10-15"`},
		{Name: "to", Type: Type{Kind: DateText}, Required: true, Doc: "The last day there.", Example: `"2026-10-22"`},
		{Name: "time_zone", Type: Type{Kind: Text}, Required: true, Doc: "The time zone there, as continent and city.", Example: `"Asia/Tokyo"`},
	},
}

var otherBlock = BlockType{
	Kind: "other", Label: KeyLabel, Many: true,
	Doc: "Sport that is not cycling. It counts in no total and is no riding day; on the date of a demanding one only light rides are placed. What is weekly pauses on a journey.",
	Names: []Name{
		{Name: "title", Type: Type{Kind: Text}, Default: "the label", Doc: "What the rider sees.", Example: `"Climbing hall"`},
		{Name: "days", Type: list(Type{Kind: WeekdayText}), Doc: "The days of every week on which it is done.", Example: `["monday"]`},
		{Name: "date", Type: Type{Kind: DateText}, Doc: "Or the one date.", Example: `"2026-10-17"`},
		{Name: "minutes", Type: Type{Kind: DurationText}, Doc: "How long it lasts.", Example: `"90 min"`},
		{Name: "at", Type: Type{Kind: ClockText}, Doc: "When it starts.", Example: `"19:00"`},
		{Name: "demand", Type: choice("light", "demanding"), Default: `"light"`, Doc: "Whether it tires for the ride of the same day and its neighbours.", Example: `"demanding"`},
	},
}

var deviceBlock = BlockType{
	Kind: "device",
	Doc:  "What the rider's head unit can take.",
	Names: []Name{
		{Name: "leads", Type: choice("power", "heart rate"), Default: "what leads in the band", Doc: "The target that workout files hold.", Example: `"heart rate"`},
		{Name: "letters", Type: choice("any", "plain"), Default: `"any"`, Doc: "plain where the device shows no letters with marks.", Example: `"plain"`},
		{Name: "most_steps", Type: count(2, 50), Default: "50", Doc: "The most steps that the device reads in one workout.", Example: "30"},
		{Name: "heart_rate", Type: Type{Kind: Truth}, Default: "true", Doc: "false keeps targets of heart rate out of workout files.", Example: "false"},
	},
}

var calendarBlock = BlockType{
	Kind: "calendar",
	Doc:  "What the rider's calendar shows.",
	Names: []Name{
		{Name: "hours", Type: Type{Kind: Truth}, Default: "true", Doc: "false for entries that last all day, without an hour.", Example: "false"},
		{Name: "reminder", Type: Type{Kind: DurationText}, Default: "none", Doc: "How long before a session the calendar reminds of it; one without an hour has no reminder.", Example: `"30 min"`},
	},
}

// fixed builds the fixed rides of a kind of block: more names stand where there are several
// athletes, or weeks.
func fixed(more ...Name) BlockType {
	return BlockType{
		Kind: "fixed", Label: KeyLabel, Many: true,
		Doc: "A ride whose days are given, such as the way to work or a group ride. It counts in the week's total, and leaves its day open for one more ride. One of every week pauses on a journey, in a week off, on the day of a test or an event, and where a date is closed or too short for it. Of the same label, that of the athlete replaces the squad's, that of the block both, and that of for_athlete all of them.",
		Names: append([]Name{
			{Name: "session", Type: to("session"), Required: true, Doc: "The session that is ridden.", Example: "session.commute"},
			{Name: "minutes", Type: Type{Kind: DurationText}, Required: true, Doc: "How long it takes.", Example: `"50 min"`},
			{Name: "days", Type: list(Type{Kind: WeekdayText}), Doc: "The days of every week on which it is ridden.", Example: `["monday", "wednesday"]`},
			{Name: "date", Type: Type{Kind: DateText}, Doc: "Or the one date.", Example: `"2026-10-10"`},
			{Name: "at", Type: Type{Kind: ClockText}, Default: "the day's hour", Doc: "When it starts.", Example: `"07:30"`},
			{Name: "place", Type: ridePlaces, Default: "the day's place", Doc: "Where it is ridden.", Example: `"outdoor"`},
			{Name: "note", Type: Type{Kind: Text}, Doc: "A word to the rider.", Example: `"Meet at the bridge."`},
		}, more...),
	}
}

var (
	whoRides = Name{Name: "athletes", Type: list(to("athlete")), Default: "all of them", Doc: "Who takes part.", Example: "[athlete.signe]"}
	inWeeks  = Name{Name: "weeks", Type: weekNumbers, Default: "all", Doc: "The weeks of the block that have it.", Example: `"3, 5-7"`}
)

var (
	fixedOfAthlete    = fixed()
	fixedOfSquad      = fixed(whoRides)
	fixedOfBlock      = fixed(inWeeks, whoRides)
	fixedOfForAthlete = fixed(inWeeks)
)

var squadBlock = BlockType{
	Kind: "squad", Label: KeyLabel, Many: true,
	Doc: "Athletes who ride together: what they share, and the rides that they share. A block takes them in with `squads`.",
	Names: []Name{
		{Name: "title", Type: Type{Kind: Text}, Default: "the label", Doc: "What the squad is called.", Example: `"Tuesday squad"`},
		{Name: "athletes", Type: list(to("athlete")), Required: true, Doc: "Who belongs to it.", Example: "[athlete.signe]"},
	},
	Blocks: []*BlockType{&defaultsBlock, &fixedOfSquad},
}

var defaultsBlock = BlockType{
	Kind:   "defaults",
	Doc:    "What holds for each athlete of the squad who does not say otherwise. What an athlete writes wins, day by day and date by date.",
	Names:  sharedNames,
	Blocks: sharedBlocks,
}

var eventBlock = BlockType{
	Kind: "event", Label: KeyLabel, Many: true,
	Doc: "A day that is trained for. Nothing is placed on it, and the day before it is kept easy.",
	Names: []Name{
		{Name: "title", Type: Type{Kind: Text}, Default: "the label", Doc: "What the rider sees.", Example: `"Round the lake"`},
		{Name: "athletes", Type: list(to("athlete")), Default: "the plan's only athlete", Doc: "Who takes part.", Example: "[athlete.signe]"},
		{Name: "date", Type: Type{Kind: DateText}, Required: true, Doc: "The day.", Example: `"2026-12-12"`},
		{Name: "lasts", Type: Type{Kind: DurationText}, Doc: "How long it will take.", Example: `"6 h 30 min"`},
	},
}
