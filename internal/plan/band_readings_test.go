package plan

import (
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"towpath/internal/diag"
	"towpath/internal/spec"
	"towpath/internal/threshold"
	"towpath/internal/units"
)

// gasRamp is a test with breath gas of which the laboratory read the first threshold.
func gasRamp(key string, date units.Date, p units.Power) *spec.Test {
	return &spec.Test{
		Label: spec.Label{Key: key}, Date: set(date), Protocol: ref("protocol", gasProtocol),
		ReadByLab: &spec.LabReading{FirstThreshold: on(p, 12), HeartRate: set(units.HeartRate(131)), PeakPower: set(units.Power(240)), Method: set("V-slope")},
	}
}

// shifted is a step test with every power so much higher.
func shifted(key string, date units.Date, by units.Power) *spec.Test {
	t := stepTest(key, date)
	for i := range t.Stages {
		t.Stages[i].Power.V += by
	}
	return t
}

func ofTests(keys ...string) *spec.Band {
	b := &spec.Band{Label: spec.Label{Key: "x"}}
	for _, key := range keys {
		v := ref("test", key)
		v.Range.Filename = "plan.hcl"
		b.Tests = append(b.Tests, v)
	}
	return b
}

// What several tests make of a band, by hand from what each says alone.
func TestSeveralTests(t *testing.T) {
	day := units.NewDate(2027, 2, 20)
	one, two, three := stepTest("one", day.Add(-14)), shifted("two", day, 12), shifted("three", day.Add(-90), 3)
	tests := []*spec.Test{one, two, three, gasRamp("near", day, 150), gasRamp("far_below", day, 110), gasRamp("far_above", day.Add(-100), 190)}
	alone := func(key string) *threshold.Estimate {
		b := ofTests(key)
		return resolverOf([]*spec.Band{b}, tests...).ownBand(b, rider()).Estimate
	}
	mean := func(keys ...string) (p, se units.Power) {
		var sum, squares float64
		for _, k := range keys {
			sum += float64(alone(k).Power)
			squares += float64(alone(k).SE * alone(k).SE)
		}
		n := float64(len(keys))
		apart := 0.0
		for _, k := range keys {
			apart += (float64(alone(k).Power) - sum/n) * (float64(alone(k).Power) - sum/n)
		}
		return units.Power(sum / n), units.Power(max(math.Sqrt(squares)/n, math.Sqrt(apart/(n-1)/n)))
	}
	meanOfTwo, errorOfTwo := mean("one", "two")
	meanWithGas, errorWithGas := mean("one", "near")
	tests2 := []struct {
		name   string
		of     []string
		power  units.Power
		se     units.Power
		method string
		newest string // whose line and ratings hold
		date   units.Date
		codes  []string
	}{
		{"two step tests", []string{"two", "one"}, meanOfTwo, errorOfTwo, threshold.MedianOfThree, "two", day, nil},
		{"breath gas alone", []string{"near"}, 150, 12, "lab", "", day, nil},
		{"breath gas that agrees", []string{"near", "one"}, meanWithGas, errorWithGas, threshold.LactateAndGas, "one", day, nil},
		{"breath gas far below", []string{"one", "far_below"}, 110, 8.8, "lab", "one", day, []string{"thresholds-disagree"}},
		{"breath gas far above, and long ago", []string{"one", "far_above"}, alone("one").Power, alone("one").SE, threshold.MedianOfThree, "one", day.Add(-14), []string{"tests-far-apart", "thresholds-disagree"}},
		{"twelve weeks and more apart", []string{"two", "three"}, 0, 0, threshold.MedianOfThree, "two", day, []string{"tests-far-apart"}},
	}
	for _, tt := range tests2 {
		t.Run(tt.name, func(t *testing.T) {
			b := ofTests(tt.of...)
			r := resolverOf([]*spec.Band{b}, tests...)
			got := r.ownBand(b, rider())
			if got == nil {
				t.Fatalf("no band: %v", r.diags)
			}
			if diff := cmp.Diff(tt.codes, codes(r.diags)); diff != "" {
				t.Errorf("codes (-want +got):\n%s", diff)
			}
			if e := got.Estimate; tt.power > 0 && (math.Abs(float64(e.Power-tt.power)) > 1e-9 || math.Abs(float64(e.SE-tt.se)) > 1e-9) || e.Method != tt.method {
				t.Errorf("got %v W, SE %v W by %s", e.Power, e.SE, e.Method)
			}
			if got.Threshold != got.Estimate.Power || got.TestDate != tt.date || got.From != tt.date.Add(1) {
				t.Errorf("threshold %v of %s, from %s", got.Threshold, got.TestDate, got.From)
			}
			switch {
			case tt.newest == "" && (got.Result != nil || got.Line != nil):
				t.Error("a line out of nothing")
			case tt.newest != "" && (got.Result != r.readings[tt.newest].result || got.Line != got.Result.Line):
				t.Error("the line is not that of the newest step test")
			}
			var said strings.Builder
			tell(&said, got.Origin)
			for _, key := range tt.of {
				if len(tt.of) > 1 && !strings.Contains(said.String(), "test "+key+" of ") {
					t.Errorf("the origin does not show test %s:\n%s", key, said.String())
				}
			}
		})
	}
}

func tell(b *strings.Builder, o diag.Origin) {
	b.WriteString(o.What + "\n")
	for _, from := range o.From {
		tell(b, from)
	}
}

// What cannot have an effect without a step test is not dropped in silence.
func TestGasAloneTakesNoMethod(t *testing.T) {
	for name, edit := range map[string]func(*spec.Band){
		"a method": func(b *spec.Band) { b.Method = on("baseline_plus_0.5", 9) },
		"a line":   func(b *spec.Band) { b.Line = &spec.HeartRateLine{UpTo: on(units.Power(160), 9)} },
	} {
		b := ofTests("ramp")
		edit(b)
		r := resolverOf([]*spec.Band{b}, gasRamp("ramp", march, 140))
		if r.ownBand(b, rider()); !slices.Equal(codes(r.diags), []string{"value-without-effect"}) {
			t.Errorf("%s: got %v", name, r.diags)
		}
	}
}

func TestLabReadingInOneLine(t *testing.T) {
	l := labReading(&spec.LabReading{
		FirstThreshold: set(units.Power(138)), HeartRate: set(units.HeartRate(127)), SecondHeartRate: set(units.HeartRate(151)),
		MaximumHeartRate: set(units.HeartRate(178)), PeakPower: set(units.Power(230)), Method: set("by eye"),
	})
	if got, want := l.String(), "the laboratory read: first threshold 138 W at 127 bpm, second threshold at 151 bpm, peak 230 W, maximum 178 bpm (by eye)"; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
}

// Which band holds where and when.
func TestBandOn(t *testing.T) {
	band := func(key, place string, day int) *Band { return &Band{Key: key, Place: place, From: march.Add(day)} }
	for _, tt := range []struct {
		name  string
		bands []*Band
		want  map[string]string // by place: days 0, 5 and 9
	}{
		{"general ones alone", []*Band{band("a", "", 3), band("b", "", 8)}, map[string]string{"": "a a b", Outdoor: "a a b", Indoor: "a a b", "laboratory": "a a b"}},
		{"each place its own", []*Band{band("o", Outdoor, 2), band("i", Indoor, 3), band("j", Indoor, 8)}, map[string]string{"": "o o o", Outdoor: "o o o", Indoor: "i i j", "laboratory": "o o o"}},
		{"indoors its own", []*Band{band("a", "", -4), band("i", Indoor, 5)}, map[string]string{"": "a a a", Outdoor: "a a a", Indoor: "a i i"}},
		{"a general one that begins later reaches back", []*Band{band("i", Indoor, 5), band("a", "", 7)}, map[string]string{"": "a a a", Indoor: "a i i"}},
		{"indoors only", []*Band{band("i", Indoor, 3)}, map[string]string{"": "i i i", Outdoor: "- - -", Indoor: "i i i", "laboratory": "i i i"}},
		{"outdoors only", []*Band{band("o", Outdoor, 3)}, map[string]string{"": "o o o", Outdoor: "o o o", Indoor: "- - -"}},
	} {
		b := &Block{Start: march, Bands: tt.bands}
		for place, want := range tt.want {
			var got []string
			for _, day := range []int{0, 5, 9} {
				key := "-"
				if in := b.BandOn(march.Add(day), place); in != nil {
					key = in.Key
				}
				got = append(got, key)
			}
			if strings.Join(got, " ") != want {
				t.Errorf("%s, at %q: got %v, want %s", tt.name, place, got, want)
			}
		}
	}
}

// Allowances are watts of the band's own ceiling; a raised band scales them, unless it writes some.
func TestAllowances(t *testing.T) {
	over := func(b *spec.Band, all ...spec.Allowance) *spec.Band {
		for _, a := range all {
			b.Over = append(b.Over, on(a, 30))
		}
		return b
	}
	climbs := spec.Allowance{Name: "climbs", Duration: 180, Share: 1.15}
	sprints := spec.Allowance{Name: "sprints", Duration: 10, AllOut: true}
	noMeter := rider()
	noMeter.PowerMeter = false
	indoors := raise("in", "a", march, -0.02)
	indoors.Place = set(Indoor)
	for _, tt := range []struct {
		name  string
		bands []*spec.Band
		who   *Athlete
		want  map[string]string
		codes []string
	}{
		{"typed", []*spec.Band{over(typed("a", 0), climbs, sprints)}, rider(), map[string]string{"a": "climbs 161 W, sprints all out"}, nil},
		{"raised", []*spec.Band{over(typed("a", 0), climbs, sprints), raise("b", "a", march.Add(7), 0.05)}, rider(), map[string]string{"a": "climbs 161 W, sprints all out", "b": "climbs 169 W, sprints all out"}, nil},
		{"on another meter", []*spec.Band{over(typed("a", 0), climbs), indoors}, rider(), map[string]string{"a": "climbs 161 W", "in": "climbs 157 W"}, nil},
		{"raised, with some of its own", []*spec.Band{over(typed("a", 0), climbs), over(raise("b", "a", march.Add(7), 0.05), sprints)}, rider(), map[string]string{"a": "climbs 161 W", "b": "sprints all out"}, nil},
		{"without a meter", []*spec.Band{over(typed("a", 0), climbs, sprints)}, noMeter, map[string]string{"a": "sprints all out"}, []string{"allowance-without-watts", "watts-unused"}},
		{"without watts", []*spec.Band{over(&spec.Band{Label: spec.Label{Key: "a"}, Effort: set(units.Range[units.Effort]{Low: 9, High: 11})}, climbs)}, rider(), map[string]string{"a": ""}, []string{"allowance-without-watts"}},
	} {
		r := resolverOf(tt.bands)
		got := map[string]string{}
		for _, b := range r.bandsOf(tt.who, march, march.Add(27)) {
			var all []string
			for _, a := range b.Allowances {
				of := " all out"
				if !a.AllOut {
					of = " " + units.Power(math.Floor(float64(a.Power)+1e-6)).String()
				}
				all = append(all, a.Name+of)
			}
			got[b.Key] = strings.Join(all, ", ")
		}
		if diff := cmp.Diff(tt.want, got); diff != "" {
			t.Errorf("%s (-want +got):\n%s", tt.name, diff)
		}
		if diff := cmp.Diff(tt.codes, codes(r.diags)); diff != "" {
			t.Errorf("%s: codes (-want +got):\n%s", tt.name, diff)
		}
	}
}
