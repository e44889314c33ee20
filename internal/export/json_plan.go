package export

import (
	"encoding/json"
	"slices"
	"strconv"

	"towpath/internal/diag"
	"towpath/internal/plan"
	"towpath/internal/prescription"
	"towpath/internal/units"
)

// The types of this file are plan.json, field by field, in the order in which they are written.

type planDoc struct {
	Schema    string                `json:"$schema"`
	Generator string                `json:"generator"`
	Plan      string                `json:"plan"`
	Athlete   string                `json:"athlete"`
	Block     string                `json:"block"`
	AsOf      *string               `json:"as_of"`
	Weeks     []weekDoc             `json:"weeks"`
	Bands     []bandDoc             `json:"bands"`
	Sessions  []sessionDoc          `json:"sessions"`
	Findings  []diag.JSONDiagnostic `json:"findings"`
}

type weekDoc struct {
	Number     int                 `json:"number"`
	Start      string              `json:"start"`
	Kind       string              `json:"kind"`
	AskedMin   int                 `json:"asked_min"`
	PlacedMin  int                 `json:"placed_min"`
	Mix        []mixDoc            `json:"mix"`
	WorkKJ     *[3]json.RawMessage `json:"work_kj"`
	TRIMP      *[3]json.RawMessage `json:"trimp"`
	SessionRPE *sessionRPEDoc      `json:"session_rpe"`
	Monotony   json.RawMessage     `json:"monotony"`
}

type mixDoc struct {
	Ride      string `json:"ride"`
	WishedMin int    `json:"wished_min"`
	PlacedMin int    `json:"placed_min"`
}

type sessionRPEDoc struct {
	Scale string          `json:"scale"`
	Value json.RawMessage `json:"value"`
}

type bandDoc struct {
	From      *string             `json:"from"`
	Source    string              `json:"source"`
	PowerW    *[2]json.RawMessage `json:"power_w"`
	HeartRate *[2]json.RawMessage `json:"heart_rate_bpm"`
	RPE       *[2]json.RawMessage `json:"rpe"`
	Threshold *thresholdDoc       `json:"threshold"`
}

type thresholdDoc struct {
	PowerW  json.RawMessage            `json:"power_w"`
	SEW     json.RawMessage            `json:"se_w"`
	Method  string                     `json:"method"`
	Methods map[string]json.RawMessage `json:"methods"` // encoding/json sorts the keys
}

type sessionDoc struct {
	Key     string     `json:"key"`
	UID     string     `json:"uid"`
	Week    int        `json:"week"`
	Date    string     `json:"date"`
	Start   *string    `json:"start"`
	Zone    *string    `json:"zone"`
	Ride    *string    `json:"ride"`
	Session string     `json:"session"`
	Minutes int        `json:"minutes"`
	Leads   *string    `json:"leads"`
	Why     *string    `json:"why"`
	Placed  string     `json:"placed"`
	Targets targetsDoc `json:"targets"`
	Steps   []any      `json:"steps"` // stepDoc, rampDoc or repeatDoc
	Origin  originDoc  `json:"origin"`
}

type targetsDoc struct {
	PowerW    *[2]int  `json:"power_w"`
	HeartRate *[2]*int `json:"heart_rate_bpm"`
	RPE       *[2]*int `json:"rpe"`
}

// stepDoc is a steady or an open step.
type stepDoc struct {
	Kind      string  `json:"kind"`
	Name      string  `json:"name"`
	Role      string  `json:"role"`
	DurationS int     `json:"duration_s"`
	AllOut    bool    `json:"all_out"`
	Cadence   *[2]int `json:"cadence_rpm"`
	targetsDoc
	Note *string `json:"note"`
}

type rampDoc struct {
	stepDoc
	Falling bool `json:"falling"`
}

type repeatDoc struct {
	Kind  string `json:"kind"`
	Times int    `json:"times"`
	Steps []any  `json:"steps"`
}

type originDoc struct {
	What   string      `json:"what"`
	File   *string     `json:"file"`
	Line   *int        `json:"line"`
	Source *string     `json:"source"`
	From   []originDoc `json:"from"` // null where the same was told before
}

func weekOf(w *prescription.Week) weekDoc {
	doc := weekDoc{
		Number:    w.Number,
		Start:     w.Start.String(),
		Kind:      string(w.Kind),
		AskedMin:  int(w.Asked),
		PlacedMin: int(w.Placed),
		Mix:       make([]mixDoc, 0, len(w.Mix)),
		WorkKJ:    three(w.Load.Work, workDecimals),
		TRIMP:     three(w.Load.TRIMP, trimpDecimals),
		Monotony:  json.RawMessage("null"),
	}
	for _, m := range w.Mix {
		doc.Mix = append(doc.Mix, mixDoc{m.Ride.Key, int(m.Wished), int(m.Placed)})
	}
	if r := w.Load.SessionRPE; r != nil {
		doc.SessionRPE = &sessionRPEDoc{string(prescription.SessionRPE), decimals(*r, sessionRPEDecimals)}
	}
	if w.Monotony != nil {
		doc.Monotony = decimals(*w.Monotony, monotonyDecimals)
	}
	return doc
}

func bandOf(b *plan.Band) bandDoc {
	doc := bandDoc{
		From:      dateOrNull(b.From),
		Source:    "band." + b.Key,
		HeartRate: pair(b.HeartRate, bandDecimals),
		RPE:       pair(b.Effort, bandDecimals),
		Threshold: thresholdOf(b),
	}
	if b.Power != (units.Range[units.Power]{}) {
		doc.PowerW = pair(&b.Power, bandDecimals)
	}
	return doc
}

// Where no test stands behind a threshold, the method says so.
const (
	methodTyped   = "typed"        // the coach wrote the threshold
	methodCeiling = "from_ceiling" // derived from the band's ceiling
)

func thresholdOf(b *plan.Band) *thresholdDoc {
	if b.Threshold == 0 {
		return nil
	}
	doc := &thresholdDoc{
		PowerW:  decimals(float64(b.Threshold), bandDecimals),
		SEW:     json.RawMessage("null"),
		Method:  methodCeiling,
		Methods: map[string]json.RawMessage{},
	}
	if b.ThresholdKnown {
		doc.Method = methodTyped
	}
	if b.Estimate != nil {
		doc.Method = b.Estimate.Method
		doc.SEW = decimals(float64(b.Estimate.SE), bandDecimals)
	}
	if b.Result != nil {
		for _, m := range b.Result.First {
			doc.Methods[m.ID] = json.RawMessage("null")
			if m.Power != nil {
				doc.Methods[m.ID] = decimals(float64(*m.Power), bandDecimals)
			}
		}
	}
	return doc
}

func sessionOf(s *prescription.Session, all origins) sessionDoc {
	doc := sessionDoc{
		Key:     s.Key,
		UID:     s.UID,
		Week:    s.Week,
		Date:    s.Date.String(),
		Zone:    textOrNull(s.Zone),
		Ride:    textOrNull(s.Ride),
		Session: s.Session,
		Minutes: int(s.Minutes),
		Leads:   textOrNull(s.Leads),
		Why:     textOrNull(s.Why),
		Placed:  "chosen",
		Targets: targetsOf(s.Targets),
		Steps:   stepsOf(s.Steps),
		Origin:  all.ofSession(s),
	}
	if !s.Start.IsZero() {
		doc.Start = textOrNull(s.Start.String())
	}
	if s.Given {
		doc.Placed = "given"
	}
	return doc
}

func targetsOf(t prescription.Targets) targetsDoc {
	var doc targetsDoc
	doc.PowerW = ints(t.Power)
	if t.HeartRate != nil {
		doc.HeartRate = &[2]*int{t.HeartRate.Low, &t.HeartRate.High}
	}
	if t.Effort != nil {
		doc.RPE = &[2]*int{nil, t.Effort}
	}
	return doc
}

func ints(r *units.Range[int]) *[2]int {
	if r == nil {
		return nil
	}
	return &[2]int{r.Low, r.High}
}

func stepsOf(steps []prescription.Step) []any {
	out := make([]any, 0, len(steps))
	for i := range steps {
		s := &steps[i]
		if s.Kind == prescription.Rounds {
			out = append(out, repeatDoc{string(s.Kind), s.Times, stepsOf(s.Steps)})
			continue
		}
		doc := stepDoc{
			Kind:       string(s.Kind),
			Name:       s.Name,
			Role:       string(s.Role),
			DurationS:  int(s.Duration),
			AllOut:     s.AllOut,
			Cadence:    ints(s.Cadence),
			targetsDoc: targetsOf(s.Targets),
			Note:       textOrNull(s.Note),
		}
		if s.Kind == prescription.Ramp {
			out = append(out, rampDoc{doc, s.Falling})
			continue
		}
		out = append(out, doc)
	}
	return out
}

// origins writes where values come from. A ceiling stands behind nearly every session; what it was
// made from is told in full the first time, and is null afterwards. A session's own origin always
// tells its first level.
type origins struct {
	numbers map[originKey]int // of all that was met
	told    map[originKey]int // the number of the last that was told in full, without regard to from
}

// originKey is what makes two origins the same: their words, their line and all behind them.
type originKey struct {
	what, file, source string
	line               int
	from               string // the numbers of what they were made from
}

// ofSession joins why the session stands on its date with where its targets come from.
func (all origins) ofSession(s *prescription.Session) originDoc {
	o := s.Origin
	o.From = slices.Clone(o.From)
	for _, target := range []*diag.Origin{s.Targets.PowerOrigin, s.Targets.HeartRateOrigin, s.Targets.EffortOrigin} {
		if target != nil {
			o.From = append(o.From, *target)
		}
	}
	doc, _ := all.of(o, true)
	return doc
}

func (all origins) of(o diag.Origin, whole bool) (doc originDoc, number int) {
	key := originKey{what: o.What, file: o.Range.Filename, source: o.SourceKey, line: o.Range.Start.Line}
	doc = originDoc{What: o.What, Source: textOrNull(o.SourceKey), From: make([]originDoc, 0, len(o.From))}
	if o.Range.Filename != "" {
		doc.File, doc.Line = &key.file, &key.line
	}
	var numbers []byte
	for _, from := range o.From {
		part, number := all.of(from, false)
		doc.From = append(doc.From, part)
		numbers = append(strconv.AppendInt(numbers, int64(number), 10), ' ')
	}
	seen := key
	seen.from = ""
	key.from = string(numbers)
	number, met := all.numbers[key]
	if !met {
		number = len(all.numbers)
		all.numbers[key] = number
	}
	if last, ok := all.told[seen]; ok && last == number && len(o.From) > 0 && !whole {
		doc.From = nil
	}
	all.told[seen] = number
	return doc, number
}
