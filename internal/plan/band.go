package plan

import (
	"cmp"
	"fmt"
	"slices"

	"towpath/internal/diag"
	"towpath/internal/spec"
	"towpath/internal/threshold"
	"towpath/internal/units"
)

// Band is a low-intensity band in force from a date.
type Band struct {
	Key       string
	Range     diag.Range
	From      units.Date
	Power     units.Range[units.Power] // floor and ceiling, not rounded; zero where nothing gives watts
	Threshold units.Power              // band threshold; ceiling / 0.95 where unknown
	// ThresholdKnown is false where Threshold was only derived from the ceiling.
	ThresholdKnown bool
	ThresholdRange diag.Range
	Tests          []*TestReading      // what the band is derived from, in order of date; nil for a typed one
	Result         *threshold.Result   // reading of the newest step test; nil without one
	Estimate       *threshold.Estimate // of all tests together; nil for a typed band
	Line           *threshold.HeartRateLine
	Scale          units.Share                   // raised bands: watts are this times those of the test
	HeartRate      *units.Range[units.HeartRate] // at floor and ceiling; nil where unknown
	// HeartRateCap is the line at the band threshold, or the top of a typed range; nil unknown.
	HeartRateCap *units.HeartRate
	Effort       *units.Range[units.Effort] // at floor and ceiling; nil where unknown
	Leads        string                     // "power", "heart_rate", "effort"
	Caution      string                     // "usual", "strict"
	// TypedPower and TypedHeartRate are where the coach typed the range itself; zero where it is
	// derived or inherited.
	TypedPower, TypedHeartRate diag.Range
	TestDate                   units.Date // of the newest test behind it; zero for a typed one
	Meter                      string     // that of the newest test that names one; "" unknown
	Raises                     *Band
	By                         units.Share
	ByRange                    diag.Range
	Origin                     diag.Origin // of the ceiling, with the floor and the threshold beneath
	Place                      string      // "outdoor", "indoor"; "" wherever no other band holds
	Allowances                 []Allowance
	// LongRides is the coach's own share of the threshold for the upper watts of long rides; nil
	// where the usual ones hold.
	LongRides *Limit[units.Share]
}

// HeartRateAt is the expected heart rate at p, from the line of the test; ok is false without one.
func (b *Band) HeartRateAt(p units.Power) (h units.HeartRate, ok bool) {
	if b.Line == nil {
		return 0, false
	}
	return b.Line.At(p / units.Power(b.Scale)), true
}

// EffortAt is the test's rating at p; ok is false outside the ratings.
func (b *Band) EffortAt(p units.Power) (e units.Effort, ok bool) {
	if b.Result == nil {
		return 0, false
	}
	return b.Result.EffortAt(p / units.Power(b.Scale))
}

// BandOn is the band in force at a place on d, or nil where there is none. Each place has its own
// bands, of which the last that has begun holds; where none has, the general bands do, those that
// name no place. The first general band reaches back to the block's start, and so does the first of
// a place where no general one is. A session without a place of its own, or in a laboratory, takes
// the general band, else the one outdoors, else the only one.
func (b *Block) BandOn(d units.Date, place string) *Band {
	in, first := b.bandsAt(d, place)
	if in != nil {
		return in
	}
	general, firstGeneral := b.bandsAt(d, "")
	if in = cmp.Or(general, firstGeneral, first); in != nil {
		return in
	}
	if place == Outdoor || place == Indoor {
		return nil
	}
	for _, p := range []string{Outdoor, Indoor} {
		if in, first = b.bandsAt(d, p); first != nil {
			return cmp.Or(in, first)
		}
	}
	return nil
}

// The places of rides and tests. A band can be for one of the first two.
const (
	Outdoor    = "outdoor"
	Indoor     = "indoor"
	Laboratory = "laboratory"
)

// bandsAt are the last band of a place that has begun by d, and the first one that there is.
func (b *Block) bandsAt(d units.Date, place string) (last, first *Band) {
	for _, band := range b.Bands {
		if band.Place != place {
			continue
		}
		if first == nil {
			first = band
		}
		if band.From <= d {
			last = band
		}
	}
	return last, first
}

// bandsOf resolves the bands of an athlete that are in force during a block: of each place the last
// one that holds on its first day, and those that begin later. The first band reaches back to the
// start, and so does one that has neither a date nor a test: it holds until a dated one takes over.
func (r *resolver) bandsOf(a *Athlete, start, end units.Date) []*Band {
	set := &bandSet{r: r, athlete: a, done: map[string]*Band{}}
	at := map[string][]*Band{} // by place
	for _, b := range r.spec.Bands {
		if r.rides(b.Athlete, a) {
			if band := set.band(b); band != nil {
				at[band.Place] = append(at[band.Place], band)
			}
		}
	}
	var in []*Band
	for _, place := range []string{"", Outdoor, Indoor} {
		in = append(in, r.inForce(at[place], start, end, place != "" && at[""] != nil)...)
	}
	for _, bands := range at {
		for _, b := range bands {
			if b.From.IsZero() {
				b.From = start
			}
		}
	}
	slices.SortStableFunc(in, func(x, y *Band) int { return cmp.Compare(x.From, y.From) })
	return in
}

// inForce picks those bands of one place that hold on a date of the block. The first one reaches
// back, unless a general band holds before it.
func (r *resolver) inForce(all []*Band, start, end units.Date, general bool) (in []*Band) {
	slices.SortStableFunc(all, func(x, y *Band) int { return cmp.Compare(x.From, y.From) })
	first := 0
	for i, b := range all {
		if b.From <= start {
			first = i
		}
	}
	for i, b := range all {
		if i < first || b.From > end && (i > first || general) {
			continue
		}
		if i > 0 && all[i-1].From == b.From {
			r.overlappingBands(all[i-1], b)
		}
		in = append(in, b)
	}
	return in
}

func (r *resolver) overlappingBands(x, y *Band) {
	when := fmt.Sprintf("both begin on %s", y.From)
	if y.From.IsZero() {
		when = "both hold from the beginning"
	}
	where, more := "", " Where they are for riding outdoors and indoors, write place in each of them, place = \"outdoor\" or place = \"indoor\"."
	if y.Place != "" {
		where, more = " at each place", ""
	}
	r.add(diag.Error, "bands-overlap", y.Range, fmt.Sprintf("Bands %q and %q %s", x.Key, y.Key, when),
		fmt.Sprintf("On each date one band holds%s. Give one of them another date: from = \"…\".%s", where, more), diag.Related{Message: "the other band", Range: x.Range})
}

// rides reports whether something that may name an athlete means this one.
func (r *resolver) rides(ref spec.Value[spec.Ref], a *Athlete) bool {
	return ref.V.Key == a.Key || !ref.Set && len(r.spec.Athletes) == 1
}

// bandSet resolves the bands of one athlete, each once: a band may be raised from another.
type bandSet struct {
	r       *resolver
	athlete *Athlete
	done    map[string]*Band // nil where a band is faulty, or under way
	path    []string         // the bands under way, each raised from the next
}

// band resolves one band; nil where it is faulty, with the reason among the diagnostics.
func (s *bandSet) band(b *spec.Band) *Band {
	if got, ok := s.done[b.Key]; ok {
		return got
	}
	s.done[b.Key] = nil
	s.path = append(s.path, b.Key)
	s.r.checkWritten(b)
	var out *Band
	if b.Raises.Set {
		out = s.raised(b)
	} else {
		out = s.r.ownBand(b, s.athlete)
	}
	s.path = s.path[:len(s.path)-1]
	s.done[b.Key] = out
	return out
}

// raised moves another band's watts; beats and effort are inherited.
func (s *bandSet) raised(b *spec.Band) *Band {
	source := s.r.bands[b.Raises.V.Key]
	if source == nil || !s.mayRaise(b, source) {
		return nil
	}
	from := s.band(source)
	if from == nil {
		return nil
	}
	if b.From.Set && b.From.V < from.From {
		s.r.add(diag.Error, "raised-too-early", b.From.Range, fmt.Sprintf("Band %q begins on %s, before band %q, which it raises, begins on %s", b.Key, b.From.V, from.Key, from.From),
			"A raise follows the band that it raises. Give it a later date.", diag.Related{Message: "the band that is raised", Range: from.Range})
		return nil
	}
	out := *from
	factor := units.Power(1 + b.By.V)
	out.Key, out.Range, out.From = b.Key, b.Header, b.From.Or(from.From)
	out.Raises, out.By, out.ByRange = from, b.By.V, b.By.Range
	out.Power = units.Map(from.Power, func(p units.Power) units.Power { return p * factor })
	out.Threshold *= factor
	out.Scale *= units.Share(factor)
	out.TypedPower, out.TypedHeartRate = diag.Range{}, diag.Range{}
	out.Place = b.Place.Or(from.Place)
	s.r.allowances(b, s.athlete, &out)
	if b.LongRides.Set {
		out.LongRides = longRides(b)
	}
	if b.Leads.Set {
		out.Leads = leads(b.Leads.V)
	}
	moved := "raised"
	if b.By.V < 0 || out.Place != from.Place {
		moved = "moved"
	}
	out.Origin = diag.Origin{
		What: fmt.Sprintf("ceiling %.0f W: band %s %s by %s; floor %.0f W and threshold %.0f W by as much, beats and effort as before",
			float64(out.Power.High), from.Key, moved, b.By.V, float64(out.Power.Low), float64(out.Threshold)),
		Range: b.By.Range, From: []diag.Origin{from.Origin},
	}
	s.r.checkLeads(b, s.athlete, &out)
	return &out
}

// mayRaise refuses bands that are raised from each other, and a raise of another rider's band.
func (s *bandSet) mayRaise(b, source *spec.Band) bool {
	switch {
	case slices.Contains(s.path, source.Key):
		s.r.add(diag.Error, "bands-in-a-loop", b.Raises.Range, fmt.Sprintf("Band %q is raised from band %q, which is raised from it in turn", b.Key, source.Key),
			"A chain of raises begins with a band that comes from a test or is typed: tests = [test.…], or power = \"…\".",
			diag.Related{Message: "the other end of this chain", Range: source.Raises.Range})
	case !s.r.rides(source.Athlete, s.athlete):
		s.r.add(diag.Error, "other-athletes-band", b.Raises.Range, fmt.Sprintf("Band %q is raised from the band of another athlete", b.Key),
			fmt.Sprintf("A band is raised from the rider's own one. This band is for %s.", s.athlete.Key), diag.Related{Message: "the band that is raised", Range: source.Header})
	case b.By.Set && b.By.V <= -1:
		s.r.add(diag.Error, "band-without-power", b.By.Range, fmt.Sprintf("Band %q moves band %q by %s, which leaves no watts", b.Key, source.Key, b.By.V),
			"Write how much power is added, such as by = \"2 %\".")
	default:
		return true
	}
	return false
}
