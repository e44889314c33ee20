package export

import (
	"encoding/json"

	"towpath/internal/plan"
	"towpath/internal/prescription"
	"towpath/internal/units"
)

// This file fills the types of plan.json.

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
		for _, o := range b.Athlete.OtherOn(d) {
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
