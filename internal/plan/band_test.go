package plan

import (
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"

	"towpath/internal/diag"
	"towpath/internal/spec"
	"towpath/internal/threshold"
	"towpath/internal/units"
)

// march is the first day of the blocks in these tests, a Monday.
var march = units.NewDate(2027, 3, 1)

// on is a value with its line in the text.
func on[T any](v T, line int) spec.Value[T] {
	out := set(v)
	out.Range.Filename, out.Range.Start.Line = "plan.hcl", line
	return out
}

func ref(kind, key string) spec.Value[spec.Ref] { return set(spec.Ref{Kind: kind, Key: key}) }

func watts(low, high units.Power) spec.Value[units.Range[units.Power]] {
	return on(units.Range[units.Power]{Low: low, High: high}, 7)
}

func typed(key string, from units.Date) *spec.Band {
	b := &spec.Band{Label: spec.Label{Key: key}, Power: watts(100, 140)}
	if from != 0 {
		b.From = set(from)
	}
	return b
}

func raise(key, source string, from units.Date, by units.Share) *spec.Band {
	return &spec.Band{Label: spec.Label{Key: key}, From: set(from), Raises: ref("band", source), By: set(by)}
}

// stepTest is a step test of our own invention: lactate flat, then rising.
func stepTest(key string, date units.Date) *spec.Test {
	t := &spec.Test{Label: spec.Label{Key: key}, Date: set(date), Protocol: ref("protocol", "lactate_step"), Stage: set(units.Duration(300))}
	for _, row := range []struct{ p, h, l, e float64 }{
		{70, 99, 1.2, 7}, {90, 107, 1.1, 8}, {110, 116, 1.1, 9}, {130, 124, 1.3, 11}, {150, 133, 1.7, 12}, {170, 143, 2.6, 14}, {190, 153, 4.2, 16},
	} {
		t.Stages = append(t.Stages, spec.Stage{
			Power: on(units.Power(row.p), 3), HeartRate: on(units.HeartRate(row.h), 4), Lactate: on(units.Lactate(row.l), 5), Effort: on(units.Effort(row.e), 6),
		})
	}
	return t
}

// resolverOf is a resolver of a plan with one athlete.
func resolverOf(bands []*spec.Band, tests ...*spec.Test) *resolver {
	s := &spec.Spec{Athletes: []*spec.Athlete{{Label: spec.Label{Key: "a"}}}, Bands: bands, Tests: tests}
	return &resolver{
		spec: s, readings: map[string]*reading{}, rosters: map[*spec.Roster]*rosterRead{},
		bands: byKey(bands, func(b *spec.Band) string { return b.Key }),
		tests: byKey(tests, func(t *spec.Test) string { return t.Key }),
	}
}

func rider() *Athlete {
	return &Athlete{Key: "a", Name: "a", Background: "regular", PowerMeter: true, HeartRate: HeartRate{Usable: true}}
}

func codes(list diag.List) []string {
	var out []string
	for _, d := range list {
		out = append(out, d.Code)
	}
	slices.Sort(out)
	return out
}

func TestBandsInForce(t *testing.T) {
	after := func(days int) units.Date { return march.Add(days) }
	fromTest := func(key, test string) *spec.Band {
		return &spec.Band{Label: spec.Label{Key: key}, Tests: []spec.Value[spec.Ref]{ref("test", test)}}
	}
	at := func(key, place string, from units.Date) *spec.Band {
		b := typed(key, from)
		b.Place = set(place)
		return b
	}
	raisedAt := func(key, source, place string) *spec.Band {
		b := at(key, place, 0)
		b.Power, b.Raises, b.By = spec.Value[units.Range[units.Power]]{}, ref("band", source), set(units.Share(-0.03))
		return b
	}
	tests := []struct {
		name  string
		bands []*spec.Band
		want  []string
		codes []string
	}{
		{"one without a date", []*spec.Band{typed("a", 0)}, []string{"a from 2027-03-01"}, nil},
		{"one that begins after the block reaches back", []*spec.Band{typed("a", after(100))}, []string{"a from 2027-06-09"}, nil},
		{"the last before the start, and those within", []*spec.Band{typed("d", after(28)), typed("c", after(27)), typed("b", after(-3)), typed("a", after(-20))}, []string{"b from 2027-02-26", "c from 2027-03-28"}, nil},
		{"one that begins on the first day", []*spec.Band{typed("a", after(-20)), typed("b", march)}, []string{"b from 2027-03-01"}, nil},
		{"one without a date holds until a dated one takes over", []*spec.Band{typed("now", 0), fromTest("tested", "t")}, []string{"tested from 2027-02-21"}, nil},
		{"one raised at another place holds from the day of the other", []*spec.Band{at("road", Outdoor, after(-3)), raisedAt("roller", "road", Indoor)}, []string{"road from 2027-02-26", "roller from 2027-02-26"}, nil},
		{"one raised at the same place, without a date", []*spec.Band{at("road", Outdoor, after(-3)), raisedAt("more", "road", Outdoor)}, []string{"more from 2027-02-26"}, []string{"bands-overlap"}},
		{"the day after its test", []*spec.Band{fromTest("tested", "t")}, []string{"tested from 2027-02-21"}, nil},
		{"raises of raises", []*spec.Band{raise("c", "b", after(14), 0.02), typed("a", after(-20)), raise("b", "a", after(7), 0.02)}, []string{"a from 2027-02-09", "b from 2027-03-08", "c from 2027-03-15"}, nil},
		{"two on one day", []*spec.Band{typed("a", after(3)), typed("b", after(3))}, []string{"a from 2027-03-04", "b from 2027-03-04"}, []string{"bands-overlap"}},
		{"two on one day before the block", []*spec.Band{typed("a", after(-3)), typed("b", after(-3))}, []string{"b from 2027-02-26"}, []string{"bands-overlap"}},
		{"two on one day long before", []*spec.Band{typed("a", after(-9)), typed("b", after(-9)), typed("c", after(-3))}, []string{"c from 2027-02-26"}, nil},
		{"two without a date", []*spec.Band{typed("a", 0), typed("b", 0)}, []string{"b from 2027-03-01"}, []string{"bands-overlap"}},
		{"a loop of three, and one that hangs on it", []*spec.Band{raise("d", "c", after(9), 0), raise("a", "b", after(1), 0), raise("b", "c", after(2), 0), raise("c", "a", after(3), 0)}, nil, []string{"bands-in-a-loop"}},
		{"a raise of what is lost", []*spec.Band{raise("b", "nothing", after(2), 0)}, nil, nil},
		{"a raise of all the watts", []*spec.Band{typed("a", 0), raise("b", "a", after(2), -1)}, []string{"a from 2027-03-01"}, []string{"band-without-power"}},
		{"another athlete's band", []*spec.Band{{Label: spec.Label{Key: "x"}, Athlete: ref("athlete", "b"), Power: watts(90, 120)}, raise("b", "x", after(2), 0)}, nil, []string{"other-athletes-band"}},
		{"a test that is lost", []*spec.Band{fromTest("tested", "nothing")}, nil, nil},
		{"one of each place on one day", []*spec.Band{typed("a", 0), at("in", Indoor, 0), at("out", Outdoor, 0)}, []string{"a from 2027-03-01", "out from 2027-03-01", "in from 2027-03-01"}, nil},
		{"two of one place on one day", []*spec.Band{at("a", Indoor, after(3)), at("b", Indoor, after(3))}, []string{"a from 2027-03-04", "b from 2027-03-04"}, []string{"bands-overlap"}},
		{"the first of each place reaches back", []*spec.Band{at("in", Indoor, after(40)), at("out", Outdoor, after(50))}, []string{"in from 2027-04-10", "out from 2027-04-20"}, nil},
		{"one of a place begins after a block that a general one covers", []*spec.Band{typed("a", 0), at("in", Indoor, after(40))}, []string{"a from 2027-03-01"}, nil},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			r := resolverOf(tt.bands, stepTest("t", units.NewDate(2027, 2, 20)))
			var got []string
			for _, b := range r.bandsOf(rider(), march, after(27)) {
				got = append(got, b.Key+" from "+b.From.String())
			}
			if diff := cmp.Diff(tt.want, got); diff != "" {
				t.Errorf("bands (-want +got):\n%s", diff)
			}
			if diff := cmp.Diff(tt.codes, codes(r.diags)); diff != "" {
				t.Errorf("codes (-want +got):\n%s", diff)
			}
		})
	}
}

// A raise moves the watts and nothing else: what the test said of 100 W it now says of 102 W.
func TestRaisedBand(t *testing.T) {
	test := stepTest("t", units.NewDate(2027, 2, 20))
	first := &spec.Band{Label: spec.Label{Key: "a"}, Tests: []spec.Value[spec.Ref]{ref("test", "t")}}
	second := raise("b", "a", march.Add(7), 0.02)
	second.Leads = set("heart rate")
	r := resolverOf([]*spec.Band{first, second}, test)
	in := r.bandsOf(rider(), march, march.Add(27))
	if len(in) != 2 || r.diags != nil {
		t.Fatalf("got %d bands, %v", len(in), r.diags)
	}
	a, b := in[0], in[1]
	for _, pair := range [][2]units.Power{{a.Power.Low, b.Power.Low}, {a.Power.High, b.Power.High}, {a.Threshold, b.Threshold}} {
		if got, want := float64(pair[1]), float64(pair[0])*1.02; got != want && (got-want)/want > 1e-12 {
			t.Errorf("raised from %v: got %v, want %v", pair[0], got, want)
		}
	}
	if a.HeartRate != b.HeartRate || a.HeartRateCap != b.HeartRateCap || a.Effort != b.Effort {
		t.Error("beats or effort are not inherited")
	}
	h1, ok1 := a.HeartRateAt(100)
	h2, ok2 := b.HeartRateAt(102)
	e1, ok3 := a.EffortAt(100)
	e2, ok4 := b.EffortAt(102)
	if !ok1 || !ok2 || !ok3 || !ok4 || h1-h2 > 1e-9 || h2-h1 > 1e-9 || e1-e2 > 1e-9 || e2-e1 > 1e-9 {
		t.Errorf("at the same effort: %v and %v bpm, effort %v and %v", h1, h2, e1, e2)
	}
	if b.Leads != "heart_rate" || a.Leads != "power" || b.TestDate != a.TestDate {
		t.Errorf("leads %q and %q, tests of %s and %s", a.Leads, b.Leads, a.TestDate, b.TestDate)
	}
}

func TestOwnBand(t *testing.T) {
	const key = "x"
	tested := func(edit func(*spec.Band)) *spec.Band {
		b := &spec.Band{Label: spec.Label{Key: key}, Tests: []spec.Value[spec.Ref]{ref("test", "t")}}
		if edit != nil {
			edit(b)
		}
		return b
	}
	plain := func(edit func(*spec.Band)) *spec.Band {
		b := typed(key, 0)
		edit(b)
		return b
	}
	noMeter, noBeats, fresh := rider(), rider(), rider()
	noMeter.PowerMeter, noBeats.HeartRate.Usable, fresh.Background = false, false, "new"
	beats := units.Range[units.HeartRate]{Low: 110, High: 126}
	type want struct {
		leads, caution string
		beats, cap     bool
		effort, typed  bool
		codes          []string
	}
	tests := []struct {
		name string
		band *spec.Band
		who  *Athlete
		edit func(*spec.Test)
		want want
	}{
		{"from a test", tested(nil), rider(), nil, want{leads: "power", caution: "usual", beats: true, cap: true, effort: true}},
		{"of a new rider", tested(nil), fresh, nil, want{leads: "power", caution: "strict", beats: true, cap: true, effort: true}},
		{"of a new rider, in the coach's word", tested(func(b *spec.Band) { b.Caution = set("usual") }), fresh, nil, want{leads: "power", caution: "usual", beats: true, cap: true, effort: true}},
		{"without a meter", tested(nil), noMeter, nil, want{leads: "heart_rate", caution: "usual", beats: true, cap: true, effort: true}},
		{"power leads without a meter", tested(func(b *spec.Band) { b.Leads = set("power") }), noMeter, nil, want{leads: "power", caution: "usual", beats: true, cap: true, effort: true, codes: []string{"no-power-meter"}}},
		{"beats of no use", tested(nil), noBeats, nil, want{leads: "power", caution: "usual", effort: true}},
		{"beats of no use lead", tested(func(b *spec.Band) { b.Leads = set("heart rate") }), noBeats, nil, want{leads: "heart_rate", caution: "usual", effort: true, codes: []string{"band-without-heart-rate"}}},
		{"beats of no use, typed", plain(func(b *spec.Band) { b.HeartRate = on(beats, 8) }), noBeats, nil, want{leads: "power", typed: true, codes: []string{"heart-rate-not-usable"}}},
		{"typed watts and a threshold", plain(func(b *spec.Band) { b.Threshold = on(units.Power(150), 9) }), rider(), nil, want{leads: "power", typed: true}},
		{"typed beats beside a test", tested(func(b *spec.Band) { b.HeartRate = on(beats, 8) }), rider(), nil, want{leads: "power", caution: "usual", beats: true, cap: true, effort: true}},
		{"effort alone", &spec.Band{Label: spec.Label{Key: key}, Effort: set(units.Range[units.Effort]{Low: 9, High: 11})}, rider(), nil, want{leads: "effort", effort: true}},
		{"power leads without watts", &spec.Band{Label: spec.Label{Key: key}, Leads: set("power"), HeartRate: on(beats, 8)}, rider(), nil, want{leads: "power", beats: true, cap: true, codes: []string{"band-without-power"}}},
		{"the laboratory's reading", tested(func(b *spec.Band) { b.Method = set("lab") }), rider(), func(t *spec.Test) {
			t.ReadByLab = &spec.LabReading{FirstThreshold: on(units.Power(138), 12)}
		}, want{leads: "power", caution: "usual", beats: true, cap: true, effort: true}},
		{"a test that starts above the floor", tested(nil), rider(), func(t *spec.Test) { t.Stages = t.Stages[2:] }, want{leads: "power", caution: "usual", beats: true, cap: true, effort: true}},
		{"a test without ratings", tested(nil), rider(), func(t *spec.Test) {
			for i := range t.Stages {
				t.Stages[i].Effort = spec.Value[units.Effort]{}
			}
		}, want{leads: "power", caution: "usual", beats: true, cap: true}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			test := stepTest("t", units.NewDate(2027, 2, 20))
			if tt.edit != nil {
				tt.edit(test)
			}
			r := resolverOf([]*spec.Band{tt.band}, test)
			b := r.ownBand(tt.band, tt.who)
			var errors []string
			for _, d := range r.diags {
				if d.Severity == diag.Error {
					errors = append(errors, d.Code)
				}
			}
			if b == nil {
				t.Fatalf("no band: %v", r.diags)
			}
			got := want{b.Leads, b.Caution, b.HeartRate != nil, b.HeartRateCap != nil, b.Effort != nil, b.TypedPower.Filename != "", errors}
			if diff := cmp.Diff(tt.want, got, cmp.AllowUnexported(want{})); diff != "" {
				t.Errorf("(-want +got):\n%s", diff)
			}
		})
	}
}

// Refusals of a band's test: one message each, at the place that is wrong.
func TestTestsOfABand(t *testing.T) {
	tests := []struct {
		name string
		edit func(*spec.Band, *spec.Test)
		want string
	}{
		{"one test twice", func(b *spec.Band, _ *spec.Test) { b.Tests = append(b.Tests, b.Tests[0]) }, "band-tests"},
		{"another athlete's", func(_ *spec.Band, t *spec.Test) { t.Athlete = ref("athlete", "b") }, "other-athletes-test"},
		{"another protocol", func(_ *spec.Band, t *spec.Test) { t.Protocol = ref("protocol", "talk_test") }, "band-protocol"},
		{"breath gas that nobody read", func(_ *spec.Band, t *spec.Test) { t.Protocol = ref("protocol", "gas_ramp") }, "no-lab-reading"},
		{"a second threshold alone", func(_ *spec.Band, t *spec.Test) {
			t.Protocol, t.ReadByLab = ref("protocol", "gas_ramp"), &spec.LabReading{SecondThreshold: on(units.Power(180), 12)}
		}, "no-lab-reading"},
		{"no stages", func(_ *spec.Band, t *spec.Test) { t.Stages = nil }, "test-without-data"},
		{"a file without a line", func(_ *spec.Band, t *spec.Test) { t.Data, t.DataText = set("t.csv"), []byte{} }, "test-file"},
		{"no such method", func(b *spec.Band, _ *spec.Test) { b.Method = set("guess") }, "no-threshold"},
		{"no reading of the laboratory", func(b *spec.Band, _ *spec.Test) { b.Method = set("lab") }, "no-lab-reading"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			test := stepTest("t", units.NewDate(2027, 2, 20))
			b := &spec.Band{Label: spec.Label{Key: "x"}, Tests: []spec.Value[spec.Ref]{ref("test", "t")}}
			tt.edit(b, test)
			r := resolverOf([]*spec.Band{b}, test)
			if got := r.ownBand(b, rider()); got != nil {
				t.Errorf("got a band %v", got.Power)
			}
			if got := codes(r.diags); len(got) != 1 || got[0] != tt.want {
				t.Errorf("got %q, want %q", got, tt.want)
			}
		})
	}
}

// The values of an inline stage keep their places, so that a reading's message points at it.
func TestInlineStageKeepsPlaces(t *testing.T) {
	got := inlineStage(&spec.Test{}, stepTest("t", march).Stages[0])
	want := threshold.Places{Power: on(0, 3).Range, HeartRate: on(0, 4).Range, Lactate: on(0, 5).Range, Effort: on(0, 6).Range}
	if diff := cmp.Diff(want, got.Places); diff != "" {
		t.Errorf("places (-want +got):\n%s", diff)
	}
}

// Each origin that the coach's text caused says where; each number of a source says which.
func TestOriginsOfABand(t *testing.T) {
	b := &spec.Band{Label: spec.Label{Key: "x"}, Tests: []spec.Value[spec.Ref]{ref("test", "t")}, Ceiling: on(units.Share(0.95), 21), Floor: on(units.Share(0.7), 22)}
	r := resolverOf([]*spec.Band{b}, stepTest("t", units.NewDate(2027, 2, 20)))
	got := r.ownBand(b, rider()).Origin
	if got.Range.Start.Line != 21 || len(got.From) != 2 || got.From[0].Range.Start.Line != 22 {
		t.Fatalf("got %+v", got)
	}
	sources := 0
	for _, m := range got.From[1].From {
		if m.SourceKey != "" {
			sources++
		}
	}
	if sources < 2 {
		t.Errorf("the methods name %d sources: %+v", sources, got.From[1].From)
	}
}
