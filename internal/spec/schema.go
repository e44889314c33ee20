package spec

// The language is one table: blocks, the names in them, and the kind of value behind each name.
// Decoding walks it, and the reference text is written from it.

// Kind is a kind of value.
type Kind int

// The kinds of value.
const (
	Text           Kind = iota // free text
	PlanKey                    // lower-case letters and digits
	Truth                      // true or false
	Choice                     // one of Words
	Count                      // whole number between Min and Max
	CountRange                 // "4-5" or 4, between Min and Max
	WeekList                   // 8, "3, 5-7" or [4, 8, "last"]
	DateText                   // "2026-10-05"
	DateSpan                   // "2026-10-05", or "2026-10-05 to 2026-10-09"
	ClockText                  // "18:30"
	WeekdayText                // "monday"
	PowerText                  // "142 W"
	PowerRange                 // "118-142 W"
	HeartRateText              // "128 bpm"
	HeartRateRange             // "112-128 bpm"
	LactateText                // "1.8 mmol/L"
	EffortNumber               // 11, between Min and Max
	EffortRange                // "9-12"
	CadenceRange               // "85-95 rpm"
	MassText                   // "58 kg"
	ShareText                  // "8 %"
	ShareRange                 // "67-100 %"
	DurationText               // "1 h 15 min"
	WeekText                   // "6 h 15 min", or "0 min" for a week off
	AmountText                 // "25 min" or "8 %"
	FirstAmount                // "5 h" or "100 % of recent"
	DayText                    // "4 h, 08:30, outdoor or 2 h indoor", or a list of two
	RampText                   // "20 W/min"
	KeyText                    // "early": a name that is given to something within a block
	AllowanceText              // "climbs: 3 min, 115 %"
	Reference                  // session.steady: a block of one of Blocks
	List                       // [Elem, ...]
	OneOrMore                  // Elem, or a list of it
	Row                        // { name = value, ... } with the names of Names
	RowOrRows                  // one Row, or a list of at most Max of them
	Table                      // { key = Elem, ... } with keys of Key
)

// Type says what may stand behind a name.
type Type struct {
	Kind     Kind
	Words    []string // the choices; with another kind, words that may stand in its place
	Min, Max int      // bounds of counts, in whole numbers; of a List, of its length where Max > 0
	Blocks   []string // kinds of block that a reference may name
	Elem     *Type    // of a List, OneOrMore or Table
	Key      *Type    // of a Table
	Names    []Name   // of a Row
}

// Name is a name that can be set in a block or row.
type Name struct {
	Name     string
	Type     Type
	Required bool
	Default  string // as the coach would write it, or in words; "" where leaving it out means nothing
	Doc      string // what it means, for a coach
	Example  string // a value as it stands in a plan
}

// LabelRule says what follows the word of a block.
type LabelRule int

// The rules for labels.
const (
	NoLabel     LabelRule = iota
	KeyLabel              // a name of lower-case letters, digits and _, once among its neighbours
	StepLabel             // the same, but several steps may share it
	NumberLabel           // a whole number, or last: week "3"
	CodeLabel             // the code of a rule: waive "weekly-growth"
)

// BlockType is a kind of block.
type BlockType struct {
	Kind   string
	Label  LabelRule
	Many   bool // may be given several times
	Doc    string
	Names  []Name
	Blocks []*BlockType
	Later  []string // names and blocks that later versions bring
}

// Language is the whole language: a plan's top level.
func Language() *BlockType { return &language }

var language = BlockType{
	Kind: "plan",
	Doc:  "A plan is a folder: all its files, in any order, or a single file.",
	Names: []Name{
		{Name: "language", Type: Type{Kind: Count, Min: 1, Max: 1000}, Required: true, Doc: "The version of the language that the plan is written in.", Example: "1"},
		{Name: "id", Type: Type{Kind: PlanKey, Min: 4, Max: 40}, Required: true, Doc: "The plan's own random name, given once and never changed: calendar entries are recognised by it.", Example: `"p5t8w3nd"`},
		{Name: "include", Type: list(Type{Kind: Text}), Doc: "Folders whose blocks belong to the plan as well, relative to the file.", Example: `["../library"]`},
	},
	Blocks: []*BlockType{&letBlock, &athleteBlock, &squadBlock, &meterBlock, &testBlock, &bandBlock, &protocolBlock, &sessionBlock, &blockBlock, &eventBlock},
	Later:  []string{"log", "hold"},
}

// languageVersion is the version that this program reads.
const languageVersion = 1

var letBlock = BlockType{
	Kind: "let", Many: true,
	Doc: "Values of the plan's own, used as let.name anywhere in the plan.",
}

// referable are the kinds of block that a reference can name, in the order of the reference text.
var referable = []string{"athlete", "squad", "meter", "test", "band", "protocol", "session", "block"}

// block gives the nested block of a kind, or nil.
func (b *BlockType) block(kind string) *BlockType {
	for _, t := range b.Blocks {
		if t.Kind == kind {
			return t
		}
	}
	return nil
}

// name gives the entry of a name, or nil.
func (b *BlockType) name(name string) *Name { return nameIn(b.Names, name) }

func nameIn(names []Name, name string) *Name {
	for i := range names {
		if names[i].Name == name {
			return &names[i]
		}
	}
	return nil
}

// words lists the names and blocks that may stand in b.
func (b *BlockType) words() []string {
	out := make([]string, 0, len(b.Names)+len(b.Blocks))
	for i := range b.Names {
		out = append(out, b.Names[i].Name)
	}
	for _, t := range b.Blocks {
		out = append(out, t.Kind)
	}
	return out
}

func list(elem Type) Type { return Type{Kind: List, Elem: &elem} }

func choice(words ...string) Type { return Type{Kind: Choice, Words: words} }

func to(blocks ...string) Type { return Type{Kind: Reference, Blocks: blocks} }

func count(low, high int) Type { return Type{Kind: Count, Min: low, Max: high} }

// or allows words in place of the value: duration = "fill".
func (t Type) or(words ...string) Type {
	t.Words = words
	return t
}

var (
	places     = choice("outdoor", "indoor", "laboratory")
	ridePlaces = choice("outdoor", "indoor")
)

// maxWeeks bounds a block: a year.
const maxWeeks = 52

var weekNumbers = Type{Kind: WeekList, Min: 1, Max: maxWeeks}
