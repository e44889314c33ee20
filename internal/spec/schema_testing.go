package spec

var testBlock = BlockType{
	Kind: "test", Label: KeyLabel, Many: true,
	Doc: "A test that was done.",
	Names: []Name{
		{Name: "athlete", Type: to("athlete"), Default: "the plan's only athlete", Doc: "Who was tested.", Example: "athlete.signe"},
		{Name: "date", Type: Type{Kind: DateText}, Required: true, Doc: "The day of the test.", Example: `"2026-09-26"`},
		{Name: "protocol", Type: to("protocol"), Required: true, Doc: "How it was done.", Example: "protocol.lactate_step"},
		{Name: "meter", Type: meterReference, Doc: "The power meter that was used.", Example: "meter.pedals"},
		{Name: "place", Type: places, Doc: "Where it was done.", Example: `"laboratory"`},
		{Name: "stage", Type: Type{Kind: DurationText}, Doc: "The length of a stage.", Example: `"4 min"`},
		{Name: "site", Type: choice("earlobe", "fingertip"), Doc: "Where blood was taken.", Example: `"earlobe"`},
		{Name: "analyser", Type: choice("bench", "hand-held"), Doc: "The kind of lactate analyser.", Example: `"bench"`},
		{Name: "sample_delay", Type: Type{Kind: DurationText}, Doc: "How long after the end of a stage blood was taken.", Example: `"30 s"`},
		{Name: "warm_up", Type: Type{Kind: DurationText}, Doc: "How long was ridden before a ramp began.", Example: `"10 min"`},
		{Name: "ramp", Type: Type{Kind: RampText}, Doc: "How fast a ramp rose.", Example: `"20 W/min"`},
		{Name: "step", Type: Type{Kind: PowerText}, Doc: "How much a ramp rose at a time, where it rose in steps.", Example: `"20 W"`},
		{Name: "data", Type: Type{Kind: Text}, Doc: "A CSV file with the stages, relative to this file.", Example: `"tests/steps.csv"`},
		{Name: "stages", Type: list(Type{Kind: Row, Names: stageNames}), Doc: "The stages, one row each, in place of a data file.", Example: `[{ power = "80 W", heart_rate = "102 bpm", lactate = "0.9 mmol/L", rpe = 8 }]`},
	},
	Blocks: []*BlockType{&readByLabBlock},
	Later:  []string{"efforts", "conditions"},
}

var stageNames = []Name{
	{Name: "power", Type: Type{Kind: PowerText}, Required: true, Doc: "Power of the stage.", Example: `"70 W"`},
	{Name: "duration", Type: Type{Kind: DurationText}, Default: "the test's stage", Doc: "Time ridden, where it differs: a last stage that was cut short.", Example: `"2 min 30 s"`},
	{Name: "heart_rate", Type: Type{Kind: HeartRateText}, Doc: "Heart rate at its end.", Example: `"95 bpm"`},
	{Name: "lactate", Type: Type{Kind: LactateText}, Doc: "Blood lactate at its end.", Example: `"1.1 mmol/L"`},
	{Name: "rpe", Type: Type{Kind: EffortNumber, Min: 6, Max: 20}, Doc: "Perceived effort at its end, 6 to 20.", Example: "7"},
}

var readByLabBlock = BlockType{
	Kind: "read_by_lab",
	Doc:  "What the laboratory itself read from the test. It stands beside the tool's own reading.",
	Names: []Name{
		{Name: "first_threshold", Type: Type{Kind: PowerText}, Doc: "Power at the first threshold.", Example: `"134 W"`},
		{Name: "heart_rate", Type: Type{Kind: HeartRateText}, Doc: "Heart rate at the first threshold.", Example: `"126 bpm"`},
		{Name: "second_threshold", Type: Type{Kind: PowerText}, Doc: "Power at the second threshold.", Example: `"196 W"`},
		{Name: "second_heart_rate", Type: Type{Kind: HeartRateText}, Doc: "Heart rate at the second threshold.", Example: `"158 bpm"`},
		{Name: "maximum_heart_rate", Type: Type{Kind: HeartRateText}, Doc: "The highest heart rate of the test.", Example: `"179 bpm"`},
		{Name: "peak_power", Type: Type{Kind: PowerText}, Doc: "The highest power of the test.", Example: `"245 W"`},
		{Name: "method", Type: Type{Kind: Text}, Doc: "How it was read.", Example: `"by eye"`},
	},
}

var bandBlock = BlockType{
	Kind: "band", Label: KeyLabel, Many: true,
	Doc: "A rider's low-intensity band: derived from tests, typed, or raised from another band.",
	Names: []Name{
		{Name: "athlete", Type: to("athlete"), Default: "the plan's only athlete", Doc: "Whose band it is.", Example: "athlete.signe"},
		{Name: "from", Type: Type{Kind: DateText}, Default: "the day after its test; for a band that raises one of another place, that band's day", Doc: "The first day on which it holds.", Example: `"2026-10-12"`},
		{Name: "tests", Type: list(to("test")), Doc: "The tests that it is derived from.", Example: "[test.steps_one]"},
		{Name: "method", Type: Type{Kind: Text}, Default: `"median_of_three"`, Doc: "How the first threshold is found: median_of_three, one named method, or lab.", Example: `"median_of_three"`},
		{Name: "caution", Type: choice("usual", "strict"), Default: `"usual"; "strict" for new and returning riders and for poor tests`, Doc: "How far the ceiling stays below the threshold.", Example: `"strict"`},
		{Name: "ceiling", Type: Type{Kind: ShareText}, Doc: "The ceiling as a share of the first threshold, in place of the derived one.", Example: `"95 %"`},
		{Name: "floor", Type: Type{Kind: ShareText}, Default: "75 % of the ceiling", Doc: "The floor as a share of the threshold, like the ceiling.", Example: `"65 %"`},
		{Name: "threshold", Type: Type{Kind: PowerText}, Doc: "A first threshold that is known from elsewhere.", Example: `"142 W"`},
		{Name: "power", Type: Type{Kind: PowerRange}, Doc: "The band itself, floor to ceiling.", Example: `"100-134 W"`},
		{Name: "heart_rate", Type: Type{Kind: HeartRateRange}, Doc: "Heart rate from floor to ceiling.", Example: `"108-126 bpm"`},
		{Name: "rpe", Type: Type{Kind: EffortRange}, Doc: "Perceived effort in the band, 6 to 20.", Example: `"9-12"`},
		{Name: "leads", Type: choice("power", "heart rate", "effort"), Default: `"power"`, Doc: "Which of the three decides when they disagree.", Example: `"heart rate"`},
		{Name: "raises", Type: to("band"), Doc: "The band that this one raises; heart rate and effort are inherited.", Example: "band.autumn"},
		{Name: "by", Type: Type{Kind: ShareText}, Doc: "How much power is added to the raised band.", Example: `"1.8 %"`},
		{Name: "evidence", Type: Type{Kind: Text}, Doc: "What was seen that allows the raise.", Example: `"11 rides, power at 117 bpm +5 W, effort unchanged"`},
		{Name: "place", Type: ridePlaces, Default: "wherever no other band holds", Doc: "Where it holds, for a rider whose bands differ by place.", Example: `"indoor"`},
		{Name: "over", Type: Type{Kind: OneOrMore, Elem: &Type{Kind: AllowanceText}, Max: 10}, Doc: "What may be ridden above the band: a name, how long at a time, and a share of the ceiling or all out. One text, or a list of them.", Example: `"climbs: 3 min, 115 %"`},
		{Name: "long_rides", Type: Type{Kind: ShareText}, Default: "90 %, past 3 h 85 %", Doc: "The upper watts of rides over 2 h, as a share of the first threshold.", Example: `"95 %"`},
	},
	Blocks: []*BlockType{&lineBlock},
}

var lineBlock = BlockType{
	Kind: "heart_rate_line",
	Doc:  "How the line of heart rate over power is drawn through the test.",
	Names: []Name{
		{Name: "up_to", Type: Type{Kind: PowerText}, Required: true, Doc: "Stages above this power are left out.", Example: `"160 W"`},
	},
}
