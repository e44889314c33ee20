package spec

var sessionBlock = BlockType{
	Kind: "session", Label: KeyLabel, Many: true,
	Doc: "A kind of ride. A session of the name of a built-in one replaces it.",
	Names: append([]Name{
		{Name: "at_least", Type: Type{Kind: DurationText}, Doc: "The shortest ride of this kind that makes sense.", Example: `"45 min"`},
		{Name: "at_most", Type: Type{Kind: DurationText}, Doc: "The longest.", Example: `"2 h 30 min"`},
		{Name: "usual", Type: Type{Kind: DurationText}, Doc: "The usual length.", Example: `"75 min"`},
		{Name: "demand", Type: choice("light", "demanding"), Default: "judged by the steps", Doc: "Whether it is light or demanding, where the steps don't tell.", Example: `"demanding"`},
	}, sessionNames...),
	Blocks: []*BlockType{stepBlock(sessionTargets), repeatBlock(sessionTargets, nil, 2)},
}

var protocolBlock = BlockType{
	Kind: "protocol", Label: KeyLabel, Many: true,
	Doc: "A test as a session to ride.",
	Names: append([]Name{
		{Name: "minutes", Type: Type{Kind: DurationText}, Default: "the sum of the steps", Doc: "The time to plan for.", Example: `"75 min"`},
		{Name: "stop", Type: Type{Kind: Text}, Doc: "When to stop.", Example: `"A power that you cannot hold."`},
		{Name: "demand", Type: choice("maximal", "submaximal"), Required: true, Doc: "Whether it goes to the limit.", Example: `"maximal"`},
		{Name: "keeps_watts", Type: Type{Kind: Truth}, Default: "false", Doc: "true where the watts stay those of the block's first band, so that weeks can be compared.", Example: "true"},
	}, sessionNames...),
	Blocks: []*BlockType{stepBlock(testTargets), repeatBlock(testTargets, rising, 2)},
}

var sessionNames = []Name{
	{Name: "title", Type: Type{Kind: Text}, Default: "the label", Doc: "What the rider sees.", Example: `"Steady"`},
	{Name: "purpose", Type: Type{Kind: Text}, Doc: "Why it is ridden, in one sentence for the rider.", Example: `"Time in the middle of the band."`},
	{Name: "rpe", Type: Type{Kind: EffortNumber, Min: 6, Max: 20}, Doc: "The perceived effort, 6 to 20, that the whole of it is expected to be rated with. Where every session of a block has one, monotony is that of minutes times this number.", Example: "11"},
	{Name: "feel", Type: Type{Kind: Text}, Doc: "How it should feel.", Example: `"Whole sentences come easily."`},
	{Name: "if_wrong", Type: Type{Kind: Text}, Doc: "What to do when it goes wrong.", Example: `"Take 10 W off and keep the time."`},
}

var rideTargets = []Name{
	{Name: "position", Type: Type{Kind: ShareRange}.or("below"), Doc: "Where in the band: from the floor (0 %) to the ceiling (100 %); below is easier than the band.", Example: `"33-67 %"`},
	{Name: "of_threshold", Type: Type{Kind: ShareRange}, Doc: "A share of the first threshold.", Example: `"50-70 %"`},
}

// sessionTargets are those of rides that are no tests.
var sessionTargets = append([]Name{
	{Name: "over", Type: Type{Kind: KeyText}, Doc: "An allowance that the rider's band has for going above it, by its name.", Example: `"sprints"`},
}, rideTargets...)

var testTargets = append([]Name{
	{Name: "power", Type: Type{Kind: PowerRange}, Doc: "Given watts.", Example: `"120 W"`},
	{Name: "all_out", Type: Type{Kind: Truth}, Default: "false", Doc: "true for as hard as the rider can.", Example: "true"},
}, rideTargets...)

// maxRounds bounds a repeat: more rounds do not fit into a workout file.
const maxRounds = 100

var repeatNames = []Name{
	{Name: "times", Type: count(1, maxRounds).or("fill"), Required: true, Doc: "How many rounds; fill for as many as the day's minutes hold.", Example: "4"},
}

var rising = []Name{
	{Name: "rising", Type: Type{Kind: PowerText}, Doc: "How much higher each round is than the one before.", Example: `"20 W"`},
}

func stepBlock(targets []Name) *BlockType {
	return &BlockType{
		Kind: "step", Label: StepLabel, Many: true,
		Doc: "A piece of a session: how long, and how hard.",
		Names: append([]Name{
			{Name: "duration", Type: Type{Kind: DurationText}.or("fill"), Required: true, Doc: "How long; fill takes what the other steps leave.", Example: `"10 min"`},
			{Name: "shape", Type: choice("steady", "rising", "falling"), Default: `"steady"`, Doc: "Whether the target stays, or moves through its range.", Example: `"rising"`},
			{Name: "cadence", Type: Type{Kind: CadenceRange}, Doc: "Pedalling rate.", Example: `"85-95 rpm"`},
			{Name: "spare", Type: Type{Kind: Truth}, Default: "false", Doc: "true for the step that takes the minutes that are left.", Example: "true"},
			{Name: "note", Type: Type{Kind: Text}, Doc: "A word to the rider.", Example: `"Hands on the drops."`},
		}, targets...),
	}
}

// repeatBlock builds a repeat that may hold repeats of its own, depth deep.
func repeatBlock(targets, more []Name, depth int) *BlockType {
	b := &BlockType{
		Kind: "repeat", Many: true,
		Doc:    "Steps that are ridden several times.",
		Names:  append(append([]Name{}, repeatNames...), more...),
		Blocks: []*BlockType{stepBlock(targets)},
	}
	if depth > 1 {
		b.Blocks = append(b.Blocks, repeatBlock(targets, more, depth-1))
	}
	return b
}
