package prescription_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"towpath/internal/plan"
	"towpath/internal/prescription"
	"towpath/internal/schedule"
	"towpath/internal/units"
	"towpath/internal/words"
)

// one prescribes one session and gives it back.
func one(t interface{ Fatalf(string, ...any) }, athlete *plan.Athlete, band *plan.Band, s schedule.Session) prescription.Session {
	var bands []*plan.Band
	if band != nil {
		bands = append(bands, band)
	}
	p, diags := prescription.Prescribe(blockOf(athlete, bands, s), 0)
	if len(diags) > 0 {
		t.Fatalf("got %v", diags)
	}
	return p.Sessions[0]
}

// say prints targets: "100-112 W, <=123 bpm, <=10".
func say(t prescription.Targets) string {
	var parts []string
	if t.Power != nil {
		parts = append(parts, fmt.Sprintf("%d-%d W", t.Power.Low, t.Power.High))
	}
	if h := t.HeartRate; h != nil && h.Low != nil {
		parts = append(parts, fmt.Sprintf("%d-%d bpm", *h.Low, h.High))
	} else if h != nil {
		parts = append(parts, fmt.Sprintf("<=%d bpm", h.High))
	}
	if t.Effort != nil {
		parts = append(parts, fmt.Sprintf("<=%d", *t.Effort))
	}
	return strings.Join(parts, ", ")
}

func sayAll(steps []prescription.Step) (out []string) {
	eachStep(steps, func(s prescription.Step) {
		if s.Kind != prescription.Rounds {
			out = append(out, s.Name+": "+say(s.Targets))
		}
	})
	return out
}

// The band is 100.2 to 133.6 W under a threshold of 141.8 W; heart rate 60 + 0.45 P: 105.1 at the
// floor, 120.1 at the ceiling, 123.8 at the threshold, 112.6 in the middle.
func TestTargets(t *testing.T) {
	t.Parallel()
	typed := usualBand()
	typed.Result, typed.Effort = nil, &units.Range[units.Effort]{Low: 9, High: 13}
	unrated := usualBand()
	unrated.Result = nil
	heart := usualBand()
	heart.Leads = "heart_rate"
	lowBand := bandOf(92, 123, 141.8)
	lowBand.Leads = "heart_rate"
	noBeats := rider()
	noBeats.HeartRate.Usable = false
	noMeter := rider()
	noMeter.PowerMeter = false
	beatsOnly := &plan.Band{Key: "b", Scale: 1, Leads: "heart_rate", HeartRate: &units.Range[units.HeartRate]{Low: 117.4, High: 131.2}, HeartRateCap: ptr(units.HeartRate(131.2))}
	effortOnly := &plan.Band{Key: "e", Scale: 1, Leads: "effort"}
	short := &plan.Session{Key: "s", Title: "S", Steps: []plan.Step{
		{Repeat: &plan.Repeat{Times: 2, Steps: []plan.Step{
			{Name: "on", Duration: 239, Target: plan.Position, Share: share(0, 1)},
			{Name: "off", Duration: 240, Target: plan.Below},
		}}},
		{Name: "work", Fill: true, Target: plan.Position, Share: share(0, 1)},
	}}
	free := &plan.Session{Key: "f", Title: "F", Steps: []plan.Step{{Name: "work", Fill: true, Target: plan.Free}}}
	narrow := bandOf(120.2, 120.8, 127)
	strong := bandOf(240, 320, 337)

	for _, tt := range []struct {
		name    string
		athlete *plan.Athlete
		band    *plan.Band
		session schedule.Session
		leads   string
		want    []string
	}{
		// 111.2-122.6 W rounds inwards to 112-122, too narrow: widened down to a tenth of the upper edge.
		{"power leads", rider(), usualBand(), ride(75, steady()), "power", []string{
			"warm_up: 71-99 W, <=112 bpm, <=10", "work: 109-122 W, <=123 bpm, <=11", "cool_down: 71-100 W, <=112 bpm, <=10",
		}},
		{"effort typed by the coach is not held to 12", rider(), typed, ride(75, progressive()), "power", []string{
			"warm_up: 71-99 W, <=112 bpm, <=9", "lower: 99-111 W, <=123 bpm, <=11", "middle: 109-122 W, <=123 bpm, <=12",
			"upper: 119-133 W, <=123 bpm, <=13", "cool_down: 71-100 W, <=112 bpm, <=9",
		}},
		{"no ratings", rider(), unrated, ride(75, steady()), "power", []string{
			"warm_up: 71-99 W, <=112 bpm, <=10", "work: 109-122 W, <=123 bpm, <=11", "cool_down: 71-100 W, <=112 bpm, <=10",
		}},
		{"heart rate means nothing", noBeats, usualBand(), ride(75, steady()), "power", []string{
			"warm_up: 71-99 W, <=10", "work: 109-122 W, <=11", "cool_down: 71-100 W, <=10",
		}},
		{"heart rate leads: the whole band, watts beside it", rider(), heart, ride(75, steady()), "heart_rate", []string{
			"warm_up: 71-99 W, <=112 bpm, <=10", "work: 109-122 W, 106-120 bpm, <=11", "cool_down: 71-100 W, <=112 bpm, <=10",
		}},
		// A low ceiling has a low floor: 70 % of the threshold, 99 W, lie above 92 W.
		{"heart rate leads: a warm-up that ends above the floor", rider(), lowBand, ride(75, steady()), "heart_rate", []string{
			"warm_up: 71-99 W, <=108 bpm, <=10", "work: 100-112 W, 102-115 bpm, <=10", "cool_down: 71-92 W, <=108 bpm, <=10",
		}},
		{"no power meter: heart rate leads", noMeter, usualBand(), ride(75, steady()), "heart_rate", []string{
			"warm_up: <=112 bpm, <=10", "work: 106-120 bpm, <=11", "cool_down: <=112 bpm, <=10",
		}},
		{"a band of beats", noMeter, beatsOnly, ride(75, steady()), "heart_rate", []string{
			"warm_up: <=124 bpm, <=10", "work: 118-131 bpm, <=11", "cool_down: <=124 bpm, <=10",
		}},
		{"a band of effort", noMeter, effortOnly, ride(75, steady()), "effort", []string{"warm_up: <=10", "work: <=11", "cool_down: <=10"}},
		{"beats lead but mean nothing", noBeats, heart, ride(75, steady()), "power", []string{
			"warm_up: 71-99 W, <=10", "work: 109-122 W, <=11", "cool_down: 71-100 W, <=10",
		}},
		{"no band", rider(), nil, ride(75, steady()), "effort", []string{"warm_up: ", "work: ", "cool_down: "}},
		{"no heart rate under 4 min", rider(), usualBand(), ride(45, short), "power", []string{
			"on: 101-133 W, <=11", "off: 71-100 W, <=112 bpm, <=10", "work: 101-133 W, <=123 bpm, <=11",
		}},
		{"no target", rider(), usualBand(), ride(45, free), "effort", []string{"work: "}},
		{"rounding inwards leaves nothing", rider(), narrow, ride(40, &plan.Session{Key: "n", Steps: []plan.Step{fill("work", 0, 1)}}), "power", []string{"work: 108-120 W, <=117 bpm, <=10"}},
		{"a strong rider: ten in a hundred", rider(), strong, ride(75, steady()), "power", []string{
			"warm_up: 169-235 W, <=186 bpm, <=10", "work: 263-293 W, <=211 bpm, <=11", "cool_down: 169-240 W, <=186 bpm, <=10",
		}},
		{"two hours and a quarter: 0.90 of the threshold", rider(), usualBand(), ride(135, longRide(0, 1)), "power", []string{
			"warm_up: 71-99 W, <=112 bpm, <=10", "work: 101-127 W, <=123 bpm, <=11", "cool_down: 71-100 W, <=112 bpm, <=10",
		}},
		{"over three hours: 0.90 and then 0.85", rider(), usualBand(), ride(240, longRide(0, 1)), "power", []string{
			"warm_up: 71-99 W, <=112 bpm, <=10", "work: 101-127 W, <=123 bpm, <=11", "work: 101-120 W, <=123 bpm, <=11", "cool_down: 71-100 W, <=112 bpm, <=10",
		}},
		{"all out: by feel", rider(), usualBand(), testDay(90, efforts(), nil), "effort", []string{
			"warm_up: 71-127 W", "effort: ", "rest: 71-100 W", "effort: ", "cool_down: 71-100 W",
		}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			got := one(t, tt.athlete, tt.band, tt.session)
			if diff := cmp.Diff(tt.want, sayAll(got.Steps)); diff != "" {
				t.Errorf("(-want +got)\n%s", diff)
			}
			if got.Leads != tt.leads {
				t.Errorf("leads: got %q, want %q", got.Leads, tt.leads)
			}
		})
	}
}

// Each target says where it comes from, and each origin has words.
func TestOrigins(t *testing.T) {
	t.Parallel()
	plainBand := bandOf(92, 122, 128)
	s := one(t, rider(), plainBand, ride(75, steady()))
	work := s.Steps[1].Targets
	for _, tt := range []struct{ got, want string }{
		{work.PowerOrigin.What, "100-112 W: a third to two thirds of the way from the floor 92 W to the ceiling 122 W; widened downwards to 12 W, so that it can be ridden"},
		{work.PowerOrigin.From[0].What, "ceiling 122 W"},
		{work.HeartRateOrigin.What, "at most 117 bpm: the heart rate expected at the band threshold, rounded down"},
		{s.Steps[0].Targets.PowerOrigin.What, "64-89 W: 50-70 % of the threshold 128 W"},
		{s.Steps[2].Targets.PowerOrigin.What, "64-92 W: below the floor, from 50 % of the threshold 128 W to the floor 92 W"},
		{s.Steps[1].Origin.What, "60 min: what the other steps leave"},
		{s.Steps[2].Origin.What, "5 min: as written"},
	} {
		if diff := cmp.Diff(tt.want, tt.got); diff != "" {
			t.Errorf("(-want +got)\n%s", diff)
		}
	}
	typed := bandOf(92, 122, 128)
	typed.Line, typed.HeartRate, typed.HeartRateCap = nil, &units.Range[units.HeartRate]{Low: 100, High: 115}, ptr(units.HeartRate(115))
	if got, want := one(t, rider(), typed, ride(75, steady())).Steps[1].Targets.HeartRateOrigin.What, "at most 115 bpm: the top of the band's heart rates, rounded down"; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
	long := one(t, rider(), plainBand, ride(240, longRide(0.33, 1))).Steps[2].Targets.PowerOrigin
	if len(long.From) != 2 || long.From[1].SourceKey != "gallo2024" || !strings.Contains(long.What, "held to 108.8 W") {
		t.Errorf("cap of a long ride: got %+v", long)
	}
	for _, session := range []*plan.Session{steady(), longRide(0, 1), progressive(), upperThird(), recoverySpin(), standardRide()} {
		s := one(t, rider(), plainBand, ride(200, session))
		eachStep(s.Steps, func(step prescription.Step) {
			of := step.Targets
			if (of.Power != nil) != (of.PowerOrigin != nil) || (of.HeartRate != nil) != (of.HeartRateOrigin != nil) || (of.Effort != nil) != (of.EffortOrigin != nil) {
				t.Errorf("%s, %s: a target without an origin: %+v", session.Key, step.Name, of)
			}
			if step.Origin.What == "" {
				t.Errorf("%s, %s: minutes without an origin", session.Key, step.Name)
			}
		})
	}
}

// A test that keeps its watts has those of the block's first band, whatever holds on the day.
func TestKeepsWatts(t *testing.T) {
	t.Parallel()
	first, raised := usualBand(), bandOf(103, 137, 146)
	raised.From = start.Add(1)
	p, _ := prescription.Prescribe(blockOf(rider(), []*plan.Band{first, raised},
		ride(75, steady()), testDay(60, standardRide(), nil), ride(75, steady())), 0)
	before, kept, after := p.Sessions[0], p.Sessions[1], p.Sessions[2]
	if kept.Band != first || after.Band != raised || before.Band != first {
		t.Errorf("bands of the sessions: %v, %v, %v", before.Band.Key, kept.Band.Key, after.Band.Key)
	}
	if got := say(kept.Targets); got != "98-130 W, <=123 bpm, <=11" {
		t.Errorf("standard ride: got %s", got)
	}
	if before.Targets.Power.High >= after.Targets.Power.High {
		t.Errorf("the raise is lost: %v, then %v", *before.Targets.Power, *after.Targets.Power)
	}
}

// Late in a ride the cap of the heart rate stays; the allowance stands beside it.
func TestAllowances(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct {
		minutes units.Minutes
		drift   []prescription.Drift
		late    bool
	}{
		{90, nil, false},
		{95, []prescription.Drift{{After: 90, Beats: 5}}, false},
		{150, []prescription.Drift{{After: 90, Beats: 5}}, false},
		{155, []prescription.Drift{{After: 90, Beats: 5}, {After: 150, Beats: 10}}, true},
	} {
		s := one(t, rider(), usualBand(), ride(tt.minutes, longRide(0, 0.67)))
		if diff := cmp.Diff(tt.drift, s.Drift); diff != "" {
			t.Errorf("%s (-want +got)\n%s", tt.minutes, diff)
		}
		if (s.LateEffort != nil) != tt.late {
			t.Errorf("%s: late effort %v, want %v", tt.minutes, s.LateEffort, tt.late)
		}
		if s.Targets.HeartRate.High != 123 {
			t.Errorf("%s: cap %d bpm, want 123", tt.minutes, s.Targets.HeartRate.High)
		}
	}
	noBeats := rider()
	noBeats.HeartRate.Usable = false
	if s := one(t, noBeats, usualBand(), ride(200, longRide(0, 1))); s.Drift != nil {
		t.Errorf("no heart rate, yet an allowance: %v", s.Drift)
	}
}

// Where a range holds whole watts, the target is inside it but for a lower edge that was moved
// down to be rideable; where it holds none, the target is the nearest that is not above the
// ceiling.
func TestRounding(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		floor := rapid.Float64Range(60, 250).Draw(t, "floor")
		ceiling := floor + rapid.Float64Range(0.01, 120).Draw(t, "width")
		low := rapid.Float64Range(0, 1).Draw(t, "low")
		high := rapid.Float64Range(low, 1).Draw(t, "high")
		s := one(t, rider(), bandOf(units.Power(floor), units.Power(ceiling), units.Power(ceiling/0.95)),
			ride(60, &plan.Session{Key: "x", Title: "X", Steps: []plan.Step{fill("work", low, high)}}))
		got := *s.Targets.Power
		from, to := floor+low*(ceiling-floor), floor+high*(ceiling-floor)
		if float64(got.High) > ceiling+1e-6 {
			t.Fatalf("%v above the ceiling %v", got, ceiling)
		}
		if float64(got.High) > to+1e-6 && (float64(got.High)-1 >= from || float64(got.High)-to > 0.5) {
			t.Fatalf("%v above %v-%v though a whole number lies nearer", got, from, to)
		}
		if float64(got.High) < to-1 {
			t.Fatalf("%v more than a watt under %v", got, to)
		}
		if width := float64(got.High - got.Low); width < 12 || width < 0.1*float64(got.High)-1e-6 {
			t.Fatalf("%v is too narrow to ride", got)
		}
		if narrowest := max(12, 0.1*float64(got.High)+1); float64(got.Low) < from-1e-6 && float64(got.High-got.Low) > narrowest {
			t.Fatalf("%v was widened under %v more than it must", got, from)
		}
	})
}

// A higher threshold never lowers the cap of the heart rate, and riding below the floor never has
// a higher cap than work.
func TestHeartRateCapsRise(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		threshold := rapid.Float64Range(80, 300).Draw(t, "threshold")
		more := rapid.Float64Range(0, 60).Draw(t, "more")
		caps := func(w float64) (work, below int) {
			s := one(t, rider(), bandOf(units.Power(0.71*w), units.Power(0.95*w), units.Power(w)), ride(75, steady()))
			return s.Steps[1].Targets.HeartRate.High, s.Steps[2].Targets.HeartRate.High
		}
		work, below := caps(threshold)
		moreWork, moreBelow := caps(threshold + more)
		if below > work || moreWork < work || moreBelow < below {
			t.Fatalf("%v W: %d and %d bpm; %v W: %d and %d bpm", threshold, work, below, threshold+more, moreWork, moreBelow)
		}
	})
}

// A range that is wide enough is not said to be widened, and an effort that the coach typed above
// the late allowance needs none.
func TestNothingToWiden(t *testing.T) {
	t.Parallel()
	band := bandOf(88, 120, 126) // three eighths of 32 W are 12 W, a tenth of 120 W
	s := one(t, rider(), band, ride(60, &plan.Session{Key: "x", Title: "X", Steps: []plan.Step{fill("work", 0.625, 1)}}))
	if got := s.Targets.PowerOrigin.What; say(s.Targets) != "108-120 W, <=116 bpm, <=10" || strings.Contains(got, "widened") {
		t.Errorf("got %s: %s", say(s.Targets), got)
	}
	band.Result, band.Effort = nil, &units.Range[units.Effort]{Low: 9, High: 13}
	if s := one(t, rider(), band, ride(200, longRide(0, 1))); *s.Targets.Effort != 13 || s.LateEffort != nil {
		t.Errorf("effort %d, late %v", *s.Targets.Effort, s.LateEffort)
	}
}

// The targets of a session span its work steps: the highest cap, whichever comes first.
func TestTogether(t *testing.T) {
	t.Parallel()
	low := plan.Step{Name: "low", Duration: mins(20), Target: plan.OfThreshold, Share: share(0.5, 0.6)}
	for _, steps := range [][]plan.Step{{fill("work", 0, 1), low}, {{Name: "free", Duration: mins(5), Target: plan.Free}, low, fill("work", 0, 1)}} {
		s := one(t, rider(), usualBand(), ride(60, &plan.Session{Key: "x", Title: "X", Steps: steps}))
		if got := say(s.Targets); got != "71-133 W, <=123 bpm, <=11" {
			t.Errorf("%s: got %s", outline(s.Steps, " | "), got)
		}
	}
}

// A rider without a power meter has the stages of a test in watts where it is ridden on a meter that
// the test names, or in a laboratory; elsewhere each stage is a little harder than the one before.
func TestTestsWithoutMeter(t *testing.T) {
	t.Parallel()
	noMeter := rider()
	noMeter.PowerMeter = false
	get := func(place, meter string) prescription.Session {
		in := testDay(60, stepTest(), nil)
		in.Minutes, in.Place, in.Given.Test.Meter = 75, place, meter
		return one(t, noMeter, usualBand(), in)
	}
	for place, meter := range map[string]string{"laboratory": "", "indoor": "ergometer"} {
		s := get(place, meter)
		if got := say(s.Steps[1].Targets); got != "70-70 W" || s.Steps[2].Note != "" {
			t.Errorf("%s, meter %q: the first stage is %s", place, meter, got)
		}
	}
	s := get("indoor", "")
	if got := say(s.Steps[0].Targets) + " / " + say(s.Steps[1].Targets) + " / " + say(s.Steps[2].Targets); got != "<=10 / <=10 / " {
		t.Errorf("without watts: got %s", got)
	}
	for i, step := range s.Steps {
		if stage := i > 1 && i < len(s.Steps)-1; (step.Note == words.HarderStage) != stage {
			t.Errorf("step %d has the note %q", i, step.Note)
		}
	}
	if s.Title != "75 min lactate step test" || say(s.Targets) != "" || s.Leads != "effort" {
		t.Errorf("got title %q, %s, led by %s", s.Title, say(s.Targets), s.Leads)
	}
}
