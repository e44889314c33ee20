package spec

import "slices"

var blockBlock = BlockType{
	Kind: "block", Label: KeyLabel, Many: true,
	Doc: "A training block: who, when, how many hours, and which rides they are made of.",
	Names: []Name{
		{Name: "title", Type: Type{Kind: Text}, Default: "the label", Doc: "What the rider sees.", Example: `"Autumn base"`},
		{Name: "aim", Type: Type{Kind: Text}, Doc: "What the block is for.", Example: `"Ride round the lake in one day at an even pace."`},
		{Name: "note", Type: Type{Kind: Text}, Doc: "A word to the rider.", Example: `"Nights are short this autumn: ride less rather than later."`},
		{Name: "athletes", Type: list(to("athlete")), Default: "the plan's only athlete", Doc: "Who rides it.", Example: "[athlete.signe]"},
		{Name: "squads", Type: list(to("squad")), Doc: "Squads whose athletes ride it as well.", Example: "[squad.north]"},
		{Name: "start", Type: Type{Kind: DateText}, Required: true, Doc: "The first day; weeks begin on its weekday.", Example: `"2026-10-05"`},
		{Name: "weeks", Type: Type{Kind: CountRange, Min: 1, Max: maxWeeks}, Required: true, Doc: "How many weeks. A range, such as \"8-12\", where that is decided on the way: then the longest is planned, and the weeks after the shortest are provisional.", Example: "8"},
		{Name: "decide", Type: count(1, maxWeeks), Doc: "The week in which the length is decided, where weeks is a range.", Example: "6"},
		ridesPerWeek,
	},
	Blocks: []*BlockType{&volumeBlock, &rideBlock, &recoveryBlock, &testDayBlock, &fixedOfBlock, &weekBlock, &limitsBlock, &waiveBlock, &forAthleteBlock},
}

var ridesPerWeek = Name{Name: "rides_per_week", Type: Type{Kind: CountRange, Min: 0, Max: 14}, Doc: "How many rides a week has.", Example: `"4-5"`}

var forAthleteBlock = BlockType{
	Kind: "for_athlete", Many: true,
	Doc: "What differs in the block for some of its athletes. Only what differs is written: names in volume, recovery, limits and week replace those of the block one by one; a ride, test_day or fixed replaces the block's one of the same label, or comes in addition.",
	Names: []Name{
		{Name: "athletes", Type: list(to("athlete")), Required: true, Doc: "Whom it is for.", Example: "[athlete.signe]"},
		{Name: "start", Type: Type{Kind: DateText}, Default: "that of the block", Doc: "The first day of their block, which is moved whole.", Example: `"2026-10-12"`},
		{Name: "from_week", Type: count(2, maxWeeks), Default: "the first", Doc: "The week in which they join the block. They have nothing before; that week has the hours of a first one.", Example: "3"},
		ridesPerWeek,
		{Name: "without", Type: list(Type{Kind: KeyText}), Doc: "Rides that they leave out, by their labels: of the mix, or fixed ones.", Example: `["upper"]`},
		{Name: "note", Type: Type{Kind: Text}, Doc: "A word to these riders.", Example: `"Your ferry is late on Fridays: start when it suits."`},
	},
	Blocks: []*BlockType{&someVolume, &someRecovery, &rideForAthlete, &testDayBlock, &fixedOfForAthlete, &weekBlock, &limitsBlock, &waiveBlock},
}

// someVolume and someRecovery are the blocks of the same names in for_athlete, of which a part
// may be written.
var (
	someVolume   = partOf(volumeBlock)
	someRecovery = partOf(recoveryBlock)
)

func partOf(whole BlockType) BlockType {
	whole.Names = slices.Clone(whole.Names)
	for i := range whole.Names {
		if whole.Names[i].Required {
			whole.Names[i].Required, whole.Names[i].Default = false, "that of the block"
		}
	}
	return whole
}

var volumeBlock = BlockType{
	Kind: "volume",
	Doc:  "How many hours there are, and how they grow from one loading week to the next.",
	Names: []Name{
		{Name: "first", Type: Type{Kind: FirstAmount}, Required: true, Doc: "The first week: a time, or a share of the recent weeks' mean.", Example: `"100 % of recent"`},
		{Name: "growth", Type: Type{Kind: AmountText}, Default: "none", Doc: "How much each loading week adds to the one before: minutes or a share.", Example: `"25 min"`},
		{Name: "at_most", Type: Type{Kind: DurationText}, Doc: "No week is longer.", Example: `"7 h 30 min"`},
		{Name: "when_short", Type: choice("stop", "take what fits"), Default: `"stop"`, Doc: "What to do with a week whose days hold less than its total.", Example: `"take what fits"`},
		{Name: "tolerance", Type: Type{Kind: ShareText}, Default: "0 %", Doc: "How much of a week's total may be left out where its days hold less; more is an error.", Example: `"15 %"`},
	},
}

var recoveryBlock = BlockType{
	Kind: "recovery",
	Doc:  "Which weeks are lighter, and how much of the last loading week they keep.",
	Names: []Name{
		{Name: "weeks", Type: weekNumbers, Doc: "The numbers of the recovery weeks; last is the block's last.", Example: "[4, 8]"},
		{Name: "every", Type: count(2, maxWeeks), Doc: "Every so many weeks, in place of their numbers.", Example: "4"},
		{Name: "keep", Type: Type{Kind: ShareText}, Default: `"60 %"`, Doc: "The share of the last loading week that is kept.", Example: `"60 %"`},
		{Name: "without", Type: list(Type{Kind: KeyText}), Doc: "Rides that recovery weeks leave out, by their labels: of the mix, or fixed ones of each week.", Example: `["long"]`},
	},
	Blocks: []*BlockType{&rideBlock},
}

var rideBlock = BlockType{
	Kind: "ride", Label: KeyLabel, Many: true,
	Doc:   "One kind of ride in the week's mix. In recovery, rides replace the mix.",
	Names: append(slices.Clone(rideNames), whoHasRide),
}

var rideForAthlete = BlockType{
	Kind: "ride", Label: KeyLabel, Many: true,
	Doc:   "A ride of the mix for these athletes: it replaces the block's ride of the same label, or comes in addition.",
	Names: rideNames,
}

var whoHasRide = Name{Name: "athletes", Type: list(to("athlete")), Default: "all of them", Doc: "Who has this ride.", Example: "[athlete.signe]"}

var rideNames = []Name{
	{Name: "session", Type: to("session"), Required: true, Doc: "The session that is ridden.", Example: "session.long_ride"},
	{Name: "per_week", Type: Type{Kind: CountRange, Min: 0, Max: 14}, Doc: "How often a week.", Example: `"0-2"`},
	{Name: "share", Type: Type{Kind: ShareText}.or("rest"), Doc: "Its share of the minutes that the mix has: of the week without the way to work, fixed rides, tests and other given sessions that are none of the mix. rest takes what the others leave.", Example: `"40 %"`},
	{Name: "minutes", Type: Type{Kind: DurationText}, Doc: "Its time in the week, in place of a share.", Example: `"70 min"`},
	{Name: "at_least", Type: Type{Kind: DurationText}, Default: "that of the session", Doc: "The shortest such ride.", Example: `"45 min"`},
	{Name: "at_most", Type: Type{Kind: DurationText}, Default: "that of the session", Doc: "The longest such ride.", Example: `"3 h"`},
	{Name: "days", Type: list(Type{Kind: WeekdayText}), Default: "any day", Doc: "The days it may fall on, the preferred first.", Example: `["saturday", "sunday"]`},
	{Name: "weeks", Type: weekNumbers, Default: "all", Doc: "The weeks that have it.", Example: `"3, 5-7"`},
}

var testDayBlock = BlockType{
	Kind: "test_day", Label: KeyLabel, Many: true,
	Doc: "A test on a given day.",
	Names: []Name{
		{Name: "protocol", Type: to("protocol"), Required: true, Doc: "The test.", Example: "protocol.standard_ride"},
		{Name: "week", Type: count(1, maxWeeks).or("last"), Doc: "The week's number; last for the block's last.", Example: "8"},
		{Name: "weeks", Type: weekNumbers, Doc: "Or several.", Example: `"1-7"`},
		{Name: "day", Type: Type{Kind: WeekdayText}, Required: true, Doc: "The day.", Example: `"thursday"`},
		{Name: "at", Type: Type{Kind: ClockText}, Default: "the day's hour", Doc: "When it starts.", Example: `"10:15"`},
		{Name: "place", Type: places, Default: "that of the earlier test of this kind, else the day's place", Doc: "Where.", Example: `"laboratory"`},
		{Name: "meter", Type: meterReference, Default: "that of the earlier test of this kind", Doc: "The power meter to use.", Example: "meter.pedals"},
	},
}

var weekBlock = BlockType{
	Kind: "week", Label: NumberLabel, Many: true,
	Doc: "A week in the coach's own hand: a total, a note, pinned days. The label last names the block's last week.",
	Names: []Name{
		{Name: "hours", Type: Type{Kind: WeekText}, Doc: "The week's total; \"0 min\" for a week off.", Example: `"8 h 45 min"`},
		{Name: "note", Type: Type{Kind: Text}, Doc: "A word to the rider.", Example: `"Learn to eat on the bike."`},
		pinName("monday"), pinName("tuesday"), pinName("wednesday"), pinName("thursday"),
		pinName("friday"), pinName("saturday"), pinName("sunday"),
	},
}

func pinName(day string) Name {
	return Name{
		Name: day, Type: Type{Kind: RowOrRows, Names: pinNames, Max: 2},
		Doc: "What is ridden on this " + day + ": one ride, or a list of two.", Example: `{ ride = "long", minutes = "2 h 30 min" }`,
	}
}

var pinNames = []Name{
	{Name: "ride", Type: Type{Kind: Text}, Doc: "A ride of the mix, by its label.", Example: `"long"`},
	{Name: "session", Type: to("session"), Doc: "Or a session outside the mix.", Example: "session.group_ride"},
	{Name: "minutes", Type: Type{Kind: DurationText}, Doc: "How long.", Example: `"2 h 30 min"`},
	{Name: "at", Type: Type{Kind: ClockText}, Doc: "When it starts.", Example: `"08:30"`},
	{Name: "note", Type: Type{Kind: Text}, Doc: "A word to the rider.", Example: `"Flat route."`},
}

var limitsBlock = BlockType{
	Kind: "limits",
	Doc:  "Limits of the coach's own. What is written here is kept, or it is an error, with when_broken a warning; what is left out is advice.",
	Names: []Name{
		{Name: "weekly_growth", Type: Type{Kind: ShareText}, Doc: "The most that a week may add to the largest of the four before.", Example: `"10 %"`},
		{Name: "start_volume", Type: Type{Kind: DurationText}, Doc: "The most that the first week may hold.", Example: `"6 h"`},
		{Name: "session_spike", Type: Type{Kind: AmountText}, Doc: "The most that a ride may add to the longest of 30 days.", Example: `"30 min"`},
		{Name: "long_share", Type: Type{Kind: ShareText}, Doc: "The most that one ride may take of its week.", Example: `"50 %"`},
		{Name: "big_weekend", Type: Type{Kind: AmountText}, Doc: "The most that two days in a row may add to any two of the four weeks before.", Example: `"30 min"`},
		{Name: "long_days_apart", Type: Type{Kind: Truth}, Default: "false", Doc: "true keeps long rides off neighbouring days.", Example: "true"},
		{Name: "rest_days", Type: count(0, 7), Doc: "Days without a ride in each week, at least.", Example: "1"},
		{Name: "riding_days_in_a_row", Type: count(1, 365), Doc: "Riding days in a row, at most.", Example: "5"},
		{Name: "loading_weeks", Type: count(1, maxWeeks), Doc: "Loading weeks in a row, at most.", Example: "3"},
		{Name: "recovery_depth", Type: Type{Kind: ShareRange}, Doc: "How much recovery weeks take off the last loading week.", Example: `"30-50 %"`},
		{Name: "two_days", Type: Type{Kind: ShareText}, Doc: "The most that two riding days in a row may take of their week.", Example: `"60 %"`},
		{Name: "when_broken", Type: choice("stop", "warn"), Default: `"stop"`, Doc: "What to do with a limit of these that is not kept: stop makes it an error, warn a warning. Placement keeps rest_days, riding_days_in_a_row and long_days_apart either way, as far as the given rides let it.", Example: `"warn"`},
	},
	Later: []string{"threshold_age", "monotony"},
}

var waiveBlock = BlockType{
	Kind: "waive", Label: CodeLabel, Many: true,
	Doc: "Accepts a finding, with the reason; the finding stays visible.",
	Names: []Name{
		{Name: "weeks", Type: weekNumbers, Default: "all", Doc: "The weeks in which it is accepted.", Example: `"6-7"`},
		{Name: "reason", Type: Type{Kind: Text}, Required: true, Doc: "Why.", Example: `"A flat route with a station half-way."`},
	},
}
