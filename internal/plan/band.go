package plan

import (
	"cmp"
	"fmt"
	"slices"

	"towpath/internal/diag"
	"towpath/internal/physiology"
	"towpath/internal/spec"
	"towpath/internal/threshold"
	"towpath/internal/units"
)

// bandsOf resolves the bands of an athlete that are in force during a block: the last one that
// holds on its first day, and those that begin later. The first band reaches back to the start.
func (r *resolver) bandsOf(a *Athlete, start, end units.Date) []*Band {
	var all []*Band
	done := map[string]*Band{}
	for _, b := range r.spec.Bands {
		if r.rides(b.Athlete, a) {
			if band := r.band(b, a, start, done); band != nil && !slices.Contains(all, band) {
				all = append(all, band)
			}
		}
	}
	slices.SortStableFunc(all, func(x, y *Band) int { return cmp.Compare(x.From, y.From) })
	first := 0
	for i, b := range all {
		if b.From <= start {
			first = i
		}
	}
	var in []*Band
	for i, b := range all {
		if i >= first && (i == first || b.From <= end) {
			in = append(in, b)
		}
	}
	for i := 1; i < len(in); i++ {
		if in[i].From == in[i-1].From {
			r.add(diag.Error, "bands-overlap", in[i].Range, fmt.Sprintf("Bands %q and %q both begin on %s", in[i-1].Key, in[i].Key, in[i].From),
				"On each date one band holds. Give one of them another date: from = \"…\".", diag.Related{Message: "the other band", Range: in[i-1].Range})
		}
	}
	return in
}

// rides reports whether something that may name an athlete means this one.
func (r *resolver) rides(ref spec.Value[spec.Ref], a *Athlete) bool {
	return ref.V.Key == a.Key || !ref.Set && len(r.spec.Athletes) == 1
}

// band resolves one band; done holds those resolved before, and marks one under way with nil.
func (r *resolver) band(b *spec.Band, a *Athlete, start units.Date, done map[string]*Band) *Band {
	if got, ok := done[b.Key]; ok {
		return got
	}
	done[b.Key] = nil
	var out *Band
	if b.Raises.Set {
		out = r.raisedBand(b, a, start, done)
	} else {
		out = r.ownBand(b, a, start)
	}
	done[b.Key] = out
	return out
}

// raisedBand moves another band's watts; beats and effort are inherited.
func (r *resolver) raisedBand(b *spec.Band, a *Athlete, start units.Date, done map[string]*Band) *Band {
	source := r.bands[b.Raises.V.Key]
	if source == nil {
		return nil
	}
	from := r.band(source, a, start, done)
	if from == nil {
		return nil
	}
	out := *from
	factor := units.Power(1 + b.By.V)
	out.Key, out.Range, out.From = b.Key, b.Header, b.From.V
	out.Raises, out.By = from, b.By.V
	out.Power = units.Range[units.Power]{Low: from.Power.Low * factor, High: from.Power.High * factor}
	out.Threshold *= factor
	out.Scale *= units.Share(factor)
	if b.Leads.Set {
		out.Leads = leads(b.Leads.V)
	}
	out.ByRange = place(b.By, b.Header)
	out.Origin = diag.Origin{
		What:  fmt.Sprintf("band %s: the watts of band %s raised by %s; beats and effort as before", b.Key, from.Key, b.By.V),
		Range: place(b.By, b.Header), From: []diag.Origin{from.Origin},
	}
	return &out
}

// ownBand is a band that is derived from a test, or typed.
func (r *resolver) ownBand(b *spec.Band, a *Athlete, start units.Date) *Band {
	out := &Band{Key: b.Key, Range: b.Header, From: b.From.V, Scale: 1, Caution: b.Caution.V}
	if !r.readTests(b, a, out) {
		return nil
	}
	if out.From.IsZero() {
		out.From = start
		if !out.TestDate.IsZero() {
			out.From = out.TestDate.Add(1)
		}
	}
	if b.Threshold.Set {
		out.Threshold, out.ThresholdKnown, out.ThresholdRange = b.Threshold.V, true, b.Threshold.Range
		se := units.Power(float64(out.Threshold) * float64(physiology.SingleError.Value))
		out.Estimate = &threshold.Estimate{Method: "typed", Power: b.Threshold.V, SE: se, Quality: "unknown"}
	}
	r.edges(b, a, out)
	r.beats(b, a, out)
	r.effort(b, out)
	out.Leads = r.leading(b, a, out)
	r.checkBand(b, a, out)
	return out
}

// readTests fills in what the band's test says. It is false where the test cannot be used.
func (r *resolver) readTests(b *spec.Band, a *Athlete, out *Band) bool {
	if len(b.Tests) > 1 {
		r.add(diag.Error, "band-tests", b.Tests[1].Range, fmt.Sprintf("Band %q names %d tests", b.Key, len(b.Tests)),
			"A band is derived from one step test. Name the newest one; the others stay in the plan as history.")
		return false
	}
	for _, ref := range b.Tests {
		t := r.tests[ref.V.Key]
		if t == nil {
			return false
		}
		if !r.rides(t.Athlete, a) {
			r.add(diag.Error, "other-athletes-test", ref.Range, fmt.Sprintf("Test %q was ridden by another athlete than band %q is for", t.Key, b.Key),
				fmt.Sprintf("A band comes from the rider's own test. The band is for %s.", a.Key), diag.Related{Message: "the test", Range: t.Header})
			return false
		}
		if !stepProtocols[t.Protocol.V.Key] {
			r.add(diag.Error, "band-protocol", ref.Range, fmt.Sprintf("Test %q is a %s: no band is read from one", t.Key, t.Protocol.V.Key),
				"A band is derived from a lactate step test. From another test, type what it showed: power = \"…\".", diag.Related{Message: "the test", Range: t.Header})
			return false
		}
		reading := r.read(t)
		if reading.result == nil {
			return false
		}
		out.Result, out.TestDate = reading.result, t.Date.V
		if b.Line != nil && b.Line.UpTo.Set {
			steps := reading.steps
			steps.LineUpTo = b.Line.UpTo.V
			out.Result, _ = threshold.Analyse(steps) // its findings were reported with the first reading
		}
		out.Line = out.Result.Line
		if !b.Power.Set && !b.Threshold.Set && !r.estimate(b, t, a, out) {
			return false
		}
	}
	return true
}

// estimate fills in the band threshold by the band's method.
func (r *resolver) estimate(b *spec.Band, t *spec.Test, a *Athlete, out *Band) bool {
	method := b.Method.Or("median_of_three")
	if method == "lab" {
		if t.ReadByLab == nil || !t.ReadByLab.FirstThreshold.Set {
			r.add(diag.Error, "no-lab-reading", place(b.Method, b.Header), fmt.Sprintf("Test %q holds no reading of the laboratory", t.Key),
				"Write it in the test, read_by_lab { first_threshold = \"…\" }, or leave method out.", diag.Related{Message: "the test", Range: t.Header})
			return false
		}
		p := t.ReadByLab.FirstThreshold.V
		out.Estimate = &threshold.Estimate{
			Method: "lab", Power: p, Quality: "unknown",
			SE: units.Power(float64(p) * float64(physiology.SingleError.Value)),
		}
	} else {
		e, err := out.Result.EstimateBy(method)
		if err != nil {
			r.add(diag.Error, "no-threshold", place(b.Method, b.Header), fmt.Sprintf("Test %q gives no first threshold by %s", t.Key, method),
				err.Error()+" Type the band instead, power = \"…\", or test again.", diag.Related{Message: "the test", Range: t.Header})
			return false
		}
		out.Estimate = e
	}
	out.Threshold, out.ThresholdKnown, out.ThresholdRange = out.Estimate.Power, true, t.Header
	if out.Caution == "" {
		out.Caution = caution(a, out.Estimate)
	}
	return true
}

// caution is the default: strict for riders whose figures say less.
func caution(a *Athlete, e *threshold.Estimate) string {
	if a.Background == "new" || a.Background == "returning" || e.Quality == "poor" {
		return "strict"
	}
	return "usual"
}

// edges sets floor and ceiling, and says where they come from.
func (r *resolver) edges(b *spec.Band, a *Athlete, out *Band) {
	switch {
	case b.Power.Set:
		out.Power = b.Power.V
		out.Origin = diag.Origin{What: fmt.Sprintf("band %s: %s, as the coach wrote it", b.Key, b.Power.V), Range: b.Power.Range}
		if !out.ThresholdKnown {
			out.Threshold = units.Power(float64(out.Power.High) / float64(physiology.CeilingOfThreshold.Value))
			out.Origin.From = append(out.Origin.From, diag.Origin{
				What: fmt.Sprintf("threshold taken as ceiling / %s = %.0f W, since no test says more", physiology.CeilingOfThreshold.Value, float64(out.Threshold)),
			})
		}
	case out.Estimate != nil:
		if out.Caution == "" {
			out.Caution = caution(a, out.Estimate)
		}
		var ceiling, floor *units.Share
		if b.Ceiling.Set {
			ceiling = &b.Ceiling.V
		}
		if b.Floor.Set {
			floor = &b.Floor.V
		}
		out.Power = threshold.Band(out.Estimate, out.Caution == "strict", ceiling, floor)
		out.Origin = derivedOrigin(b, out)
	default:
		out.Origin = diag.Origin{What: fmt.Sprintf("band %s, as the coach wrote it", b.Key), Range: b.Header}
	}
}

// derivedOrigin tells how floor and ceiling follow from the test.
func derivedOrigin(b *spec.Band, out *Band) diag.Origin {
	e := out.Estimate
	how, key := fmt.Sprintf("threshold %.0f W less %s of its standard error %.0f W", float64(e.Power), errorsBelow(out.Caution), float64(e.SE)), ""
	if b.Ceiling.Set {
		how = fmt.Sprintf("%s of the threshold %.0f W", b.Ceiling.V, float64(e.Power))
	}
	floor := fmt.Sprintf("floor %.0f W: %s of the ceiling", float64(out.Power.Low), physiology.FloorShare.Value)
	if b.Floor.Set {
		floor = fmt.Sprintf("floor %.0f W: %s of the threshold, as the coach wrote it", float64(out.Power.Low), b.Floor.V)
	}
	of := diag.Origin{What: fmt.Sprintf("threshold %.0f W by %s, standard error %.0f W, quality %s", float64(e.Power), e.Method, float64(e.SE), e.Quality), Range: out.ThresholdRange}
	of.From = methodsUsed(out)
	return diag.Origin{
		What: fmt.Sprintf("ceiling %.0f W: %s", float64(out.Power.High), how), Range: place(b.Ceiling, b.Header), SourceKey: key,
		From: []diag.Origin{{What: floor, Range: place(b.Floor, b.Header)}, of},
	}
}

// methodsUsed lists the readings that the estimate was made of.
func methodsUsed(b *Band) []diag.Origin {
	var from []diag.Origin
	if b.Result == nil {
		return nil
	}
	for _, m := range b.Result.First {
		if m.Power != nil && slices.Contains(b.Estimate.Used, m.ID) {
			from = append(from, diag.Origin{What: fmt.Sprintf("%s: %.1f W", m.ID, float64(*m.Power)), Range: b.ThresholdRange})
		}
	}
	return from
}

func errorsBelow(caution string) string {
	if caution == "strict" {
		return fmt.Sprintf("%.2f", physiology.CautionStrict.Value)
	}
	return fmt.Sprintf("%.2f", physiology.CautionUsual.Value)
}

// beats sets the heart rates that belong to the band.
func (r *resolver) beats(b *spec.Band, a *Athlete, out *Band) {
	if !a.HeartRate.Usable {
		out.Line = nil
		return
	}
	switch {
	case b.HeartRate.Set:
		out.HeartRate = &b.HeartRate.V
		out.HeartRateCap = &b.HeartRate.V.High
	case out.Line != nil && out.Power.High > 0:
		edges := units.Map(out.Power, out.Line.At)
		limit := out.Line.At(out.Threshold)
		out.HeartRate, out.HeartRateCap = &edges, &limit
	}
}

// effort sets the ratings that belong to the band.
func (r *resolver) effort(b *spec.Band, out *Band) {
	if b.Effort.Set {
		out.Effort = &b.Effort.V
		return
	}
	if out.Result == nil {
		return
	}
	low, ok := out.Result.EffortAt(out.Power.Low)
	high, ok2 := out.Result.EffortAt(out.Power.High)
	if ok && ok2 {
		out.Effort = &units.Range[units.Effort]{Low: low, High: high}
	}
}

// leads turns the plan's words to the key that goes with them.
func leads(words string) string {
	if words == "heart rate" {
		return "heart_rate"
	}
	return words
}

// leading decides which number rules: the coach's word, else watts where there is a meter, else
// beats, else effort.
func (r *resolver) leading(b *spec.Band, a *Athlete, out *Band) string {
	switch {
	case b.Leads.Set:
		return leads(b.Leads.V)
	case a.PowerMeter && out.Power.High > 0:
		return "power"
	case out.HeartRate != nil:
		return "heart_rate"
	}
	return "effort"
}

// checkBand refuses a band that cannot lead.
func (r *resolver) checkBand(b *spec.Band, a *Athlete, out *Band) {
	at := place(b.Leads, b.Header)
	switch {
	case out.Leads == "power" && out.Power.High == 0:
		r.add(diag.Error, "band-without-power", at, fmt.Sprintf("Power leads in band %q, but the band has no watts", b.Key),
			`Derive it from a test, tests = [test.…], or type it: power = "…".`)
	case out.Leads == "power" && !a.PowerMeter:
		r.add(diag.Error, "no-power-meter", at, fmt.Sprintf("Power leads in band %q, but %s has no power meter", b.Key, a.Key),
			`Write leads = "heart rate" or leads = "effort".`, diag.Related{Message: "power_meter", Range: a.Range})
	case out.Leads == "heart_rate" && out.HeartRate == nil:
		detail := `Type it: heart_rate = "…".`
		if !a.HeartRate.Usable {
			detail = `The athlete's heart rate is marked as not usable: write leads = "power" or leads = "effort".`
		}
		r.add(diag.Error, "band-without-heart-rate", at, fmt.Sprintf("Heart rate leads in band %q, but the band has no heart rate", b.Key), detail)
	}
}
