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
	Length    *lengthDoc            `json:"open_length"`
	Calendar  calendarDoc           `json:"calendar"`
	Device    deviceDoc             `json:"device"`
	Events    []eventDoc            `json:"events"`
	Weeks     []weekDoc             `json:"weeks"`
	Bands     []bandDoc             `json:"bands"`
	Sessions  []sessionDoc          `json:"sessions"`
	Other     []otherDoc            `json:"other_sport"`
	Findings  []diag.JSONDiagnostic `json:"findings"`
}

type lengthDoc struct {
	Shortest  int    `json:"shortest_weeks"`
	Longest   int    `json:"longest_weeks"`
	Decide    int    `json:"decided_in_week"`
	DecidedBy string `json:"decided_by"`
}

type calendarDoc struct {
	Hours       bool `json:"hours"`
	ReminderMin *int `json:"reminder_min"`
}

type deviceDoc struct {
	Leads     *string `json:"leads"`
	Letters   string  `json:"letters"`
	MostSteps int     `json:"most_steps"`
	HeartRate bool    `json:"heart_rate"`
}

type eventDoc struct {
	Key      string `json:"key"`
	UID      string `json:"uid"`
	Title    string `json:"title"`
	Date     string `json:"date"`
	LastsMin *int   `json:"lasts_min"`
}

type otherDoc struct {
	Key     string  `json:"key"`
	Title   string  `json:"title"`
	Date    string  `json:"date"`
	Start   *string `json:"start"`
	Zone    *string `json:"zone"`
	Minutes *int    `json:"minutes"`
	Demand  string  `json:"demand"`
}

type weekDoc struct {
	Number      int                 `json:"number"`
	Start       string              `json:"start"`
	Kind        string              `json:"kind"`
	Provisional bool                `json:"provisional"`
	AskedMin    int                 `json:"asked_min"`
	PlacedMin   int                 `json:"placed_min"`
	Mix         []mixDoc            `json:"mix"`
	WorkKJ      *[3]json.RawMessage `json:"work_kj"`
	TRIMP       *[3]json.RawMessage `json:"trimp"`
	SessionRPE  *sessionRPEDoc      `json:"session_rpe"`
	Monotony    json.RawMessage     `json:"monotony"`
	Scale       *string             `json:"monotony_scale"`
	Paused      []pausedDoc         `json:"paused"`
}

// pausedDoc is a fixed ride that is left out on its day.
type pausedDoc struct {
	Date    string `json:"date"`
	Fixed   string `json:"fixed"`
	Session string `json:"session"`
	Why     string `json:"why"`
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
	From       *string             `json:"from"`
	Place      *string             `json:"place"`
	Source     string              `json:"source"`
	PowerW     *[2]json.RawMessage `json:"power_w"`
	HeartRate  *[2]json.RawMessage `json:"heart_rate_bpm"`
	RPE        *[2]json.RawMessage `json:"rpe"`
	Threshold  *thresholdDoc       `json:"threshold"`
	Allowances []allowanceDoc      `json:"allowances"`
}

type thresholdDoc struct {
	PowerW  json.RawMessage            `json:"power_w"`
	SEW     json.RawMessage            `json:"se_w"`
	Method  string                     `json:"method"`
	Methods map[string]json.RawMessage `json:"methods"` // encoding/json sorts the keys
}

// allowanceDoc is a band's, before rounding.
type allowanceDoc struct {
	Name      string          `json:"name"`
	DurationS int             `json:"duration_s"`
	AllOut    bool            `json:"all_out"`
	PowerW    json.RawMessage `json:"power_w"`
}

// allowedDoc is what an allowance comes to for the rider.
type allowedDoc struct {
	Name      string `json:"name"`
	DurationS int    `json:"duration_s"`
	PowerW    *int   `json:"power_w"`
}

type sessionDoc struct {
	Key         string  `json:"key"`
	UID         string  `json:"uid"`
	Week        int     `json:"week"`
	Provisional bool    `json:"provisional"`
	Date        string  `json:"date"`
	Start       *string `json:"start"`
	Zone        *string `json:"zone"`
	Ride        *string `json:"ride"`
	Fixed       *string `json:"fixed"`
	Session     string  `json:"session"`
	rideDoc
	Why     *string     `json:"why"`
	Note    *string     `json:"note"`
	Placed  string      `json:"placed"`
	Instead *insteadDoc `json:"instead"`
	Origin  originDoc   `json:"origin"`
}

// insteadDoc is the same session at the day's other place.
type insteadDoc struct {
	rideDoc
	Origin originDoc `json:"origin"`
}

// rideDoc is what is ridden, at one place.
type rideDoc struct {
	Place   *string      `json:"place"`
	Minutes int          `json:"minutes"`
	Leads   *string      `json:"leads"`
	Targets targetsDoc   `json:"targets"`
	Allowed []allowedDoc `json:"allowed"`
	Steps   []any        `json:"steps"` // stepDoc, rampDoc or repeatDoc
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
	Over      *string `json:"over"`
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

func lengthOf(b *plan.Block) *lengthDoc {
	if b.Decide == 0 {
		return nil
	}
	return &lengthDoc{Shortest: b.Shortest, Longest: b.LastWeek(), Decide: b.Decide, DecidedBy: b.DecidedBy().String()}
}

func deviceOf(d plan.Device) deviceDoc {
	doc := deviceDoc{Leads: textOrNull(d.Leads), Letters: "any", MostSteps: prescription.MostSteps(d), HeartRate: !d.NoHeartRate}
	if d.Plain {
		doc.Letters = "plain"
	}
	return doc
}

func eventOf(b *plan.Block, e *plan.Event) eventDoc {
	return eventDoc{
		Key: e.Key, UID: prescription.EventUID(b, e), Title: e.Title, Date: e.Date.String(), LastsMin: minutesOrNull(e.Lasts),
	}
}

// otherOf lists sport that is not cycling by date, as far as the block goes.
func otherOf(b *plan.Block) []otherDoc {
	out := []otherDoc{}
	for d := b.Start; d <= b.End(); d++ {
		for _, o := range b.Athlete.Other {
			if !o.On(d) {
				continue
			}
			doc := otherDoc{
				Key: o.Key, Title: o.Title, Date: d.String(), Start: clockOrNull(o.Start), Zone: textOrNull(b.Athlete.ZoneOn(d)),
				Minutes: minutesOrNull(o.Minutes), Demand: "light",
			}
			if o.Demanding {
				doc.Demand = "demanding"
			}
			out = append(out, doc)
		}
	}
	return out
}

func weekOf(w *prescription.Week) weekDoc {
	doc := weekDoc{
		Number:      w.Number,
		Start:       w.Start.String(),
		Kind:        string(w.Kind),
		Provisional: w.Provisional,
		AskedMin:    int(w.Asked),
		PlacedMin:   int(w.Placed),
		Mix:         make([]mixDoc, 0, len(w.Mix)),
		WorkKJ:      three(w.Load.Work, workDecimals),
		TRIMP:       three(w.Load.TRIMP, trimpDecimals),
		Monotony:    json.RawMessage("null"),
		Paused:      make([]pausedDoc, 0, len(w.Paused)),
	}
	for _, x := range w.Paused {
		doc.Paused = append(doc.Paused, pausedDoc{x.Date.String(), x.Fixed, x.Session.Key, x.Why})
	}
	for _, m := range w.Mix {
		doc.Mix = append(doc.Mix, mixDoc{m.Ride.Key, int(m.Wished), int(m.Placed)})
	}
	if r := w.Load.SessionRPE; r != nil {
		doc.SessionRPE = &sessionRPEDoc{string(prescription.SessionRPE), decimals(*r, sessionRPEDecimals)}
	}
	if w.Monotony != nil {
		doc.Monotony, doc.Scale = decimals(*w.Monotony, monotonyDecimals), (*string)(&w.MonotonyScale)
	}
	return doc
}

func bandOf(b *plan.Band) bandDoc {
	doc := bandDoc{
		From:       dateOrNull(b.From),
		Place:      textOrNull(b.Place),
		Source:     "band." + b.Key,
		HeartRate:  pair(b.HeartRate, bandDecimals),
		RPE:        pair(b.Effort, bandDecimals),
		Threshold:  thresholdOf(b),
		Allowances: make([]allowanceDoc, 0, len(b.Allowances)),
	}
	for _, a := range b.Allowances {
		power := json.RawMessage("null")
		if a.Power > 0 {
			power = decimals(float64(a.Power), bandDecimals)
		}
		doc.Allowances = append(doc.Allowances, allowanceDoc{a.Name, int(a.Duration), a.AllOut, power})
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
		Key:         s.Key,
		UID:         s.UID,
		Week:        s.Week,
		Provisional: s.Provisional,
		Date:        s.Date.String(),
		Start:       clockOrNull(s.Start),
		Zone:        textOrNull(s.Zone),
		Ride:        textOrNull(s.Ride),
		Fixed:       textOrNull(s.Fixed),
		Session:     s.Session,
		rideDoc:     rideOf(s),
		Why:         textOrNull(s.Why),
		Note:        textOrNull(s.Note),
		Placed:      "chosen",
		Origin:      all.ofSession(s),
	}
	if s.Given {
		doc.Placed = "given"
	}
	if s.Instead != nil {
		doc.Instead = &insteadDoc{rideOf(s.Instead), all.ofSession(s.Instead)}
	}
	return doc
}

func rideOf(s *prescription.Session) rideDoc {
	doc := rideDoc{
		Place:   textOrNull(s.Place),
		Minutes: int(s.Minutes),
		Leads:   textOrNull(s.Leads),
		Targets: targetsOf(s.Targets),
		Allowed: make([]allowedDoc, 0, len(s.Allowed)),
		Steps:   stepsOf(s.Steps),
	}
	for _, a := range s.Allowed {
		doc.Allowed = append(doc.Allowed, allowedDoc{a.Name, int(a.Duration), a.Power})
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
			Over:       textOrNull(s.Over),
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
