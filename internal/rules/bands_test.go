package rules

import (
	"testing"

	"towpath/internal/diag"
	"towpath/internal/plan"
	"towpath/internal/prescription"
	"towpath/internal/threshold"
	"towpath/internal/units"
)

func watts(low, high units.Power) units.Range[units.Power] {
	return units.Range[units.Power]{Low: low, High: high}
}

// typedBand is a band as a coach types it, at its place in the text.
func typedBand(low, high units.Power) *plan.Band {
	return &plan.Band{
		Key: "spring", Range: line(bandLine), Power: watts(low, high), Threshold: high / 0.95, Leads: "power",
		TypedPower: line(bandLine),
	}
}

func TestBandCeiling(t *testing.T) {
	t.Parallel()
	step := func(low, high int) prescription.Step {
		return prescription.Step{
			Name: "work", Kind: prescription.Steady, Role: prescription.Work,
			Targets: prescription.Targets{Power: &units.Range[int]{Low: low, High: high}},
			Origin:  diag.Origin{Range: line(stepLine)},
		}
	}
	session := func(week int, steps ...prescription.Step) prescription.Session {
		return prescription.Session{Name: "Firm", Week: week, Date: start.Add(7*week - 7), Band: typedBand(100, 133.6), Steps: steps}
	}
	test := session(1, step(150, 150))
	test.Test = true
	// 115 % of 133.6 W are 153.6 W, for three minutes; sprints are all out.
	allowing := func(minutes units.Minutes, high int, instead *prescription.Session) prescription.Session {
		work := step(120, high)
		work.Duration = minutes.Duration()
		s := session(1, work)
		s.Band.Allowances = []plan.Allowance{{Name: "sprints", Duration: 10, AllOut: true}, {Name: "climbs", Duration: 180, Share: 1.15, Power: 153.64}}
		s.Instead = instead
		return s
	}
	gym := session(1, step(120, 128))
	gym.Band = typedBand(95, 127)
	tests := []struct {
		name     string
		sessions []prescription.Session
		want     []seen
	}{
		{"at the ceiling, rounded down", []prescription.Session{session(1, step(120, 133))}, nil},
		{"one watt above", []prescription.Session{session(1, step(120, 134))}, []seen{{isError, `Step "work" of Firm asks for 134 W, above the ceiling of 133 W`, []int{1}, stepLine}}},
		{"in a repeat", []prescription.Session{session(1, prescription.Step{Kind: prescription.Rounds, Times: 3, Steps: []prescription.Step{step(120, 140)}})}, []seen{{isError, `Step "work" of Firm asks for 140 W, above the ceiling of 133 W`, []int{1}, stepLine}}},
		{"one step in many weeks is one finding", []prescription.Session{session(1, step(120, 140)), session(2, step(120, 140)), session(4, step(120, 140))}, []seen{{isError, `Step "work" of Firm asks for 140 W, above the ceiling of 133 W; 2 more in weeks 2 and 4`, []int{1, 2, 4}, stepLine}}},
		{"tests may", []prescription.Session{test}, nil},
		{"what the band allows", []prescription.Session{allowing(3, 153, nil)}, nil},
		{"longer than the band allows", []prescription.Session{allowing(4, 153, nil)}, []seen{{isError, `Step "work" of Firm asks for 153 W, above the ceiling of 133 W`, []int{1}, stepLine}}},
		{"more than the band allows", []prescription.Session{allowing(3, 154, nil)}, []seen{{isError, `Step "work" of Firm asks for 154 W, above the ceiling of 133 W`, []int{1}, stepLine}}},
		{"at the other place", []prescription.Session{allowing(3, 153, &gym)}, []seen{{isError, `Step "work" of Firm asks for 128 W, above the ceiling of 127 W`, []int{1}, stepLine}}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			p := blockOf("- - - - - - -")
			p.Sessions = tt.sessions
			list := check(t, bandCeiling, p, tt.want...)
			// 133.6 W of a threshold of 140.6 W
			details(t, list, `of_threshold = "95 %"`)
		})
	}
}

func TestBandJump(t *testing.T) {
	t.Parallel()
	raised := func(from *plan.Band, by units.Share) *plan.Band {
		b := *from
		b.Key, b.Raises, b.By, b.ByRange, b.Range = "later", from, by, line(stepLine), line(limitLine)
		b.Power = units.Map(from.Power, func(p units.Power) units.Power { return p * units.Power(1+by) })
		return &b
	}
	tested := func(b *plan.Band, on units.Date) *plan.Band {
		b.TestDate = on
		return b
	}
	renamed := func(b *plan.Band, key string, at int) *plan.Band {
		b.Key, b.Range = key, line(at)
		return b
	}
	indoors := func(b *plan.Band) *plan.Band {
		b.Place = "indoor"
		return b
	}
	first := typedBand(100, 130)
	tests := []struct {
		name  string
		bands []*plan.Band
		want  []seen
	}{
		{"one band", []*plan.Band{first}, nil},
		{"exactly 5 %", []*plan.Band{first, raised(first, 0.05)}, nil},
		{"above 5 %", []*plan.Band{first, raised(first, 0.06)}, []seen{{isError, `Band "later" rises by 6 % over band "spring" without a new test`, nil, stepLine}}},
		{"just above 5 %", []*plan.Band{first, raised(first, 0.0501)}, []seen{{isError, `Band "later" rises by 5.01 % over band "spring" without a new test`, nil, stepLine}}},
		{"a typed band that leaps", []*plan.Band{first, renamed(typedBand(110, 140), "typed", growthLine)}, []seen{{isError, `Band "typed" rises by 8 % over band "spring" without a new test`, nil, growthLine}}},
		{"a new test", []*plan.Band{tested(typedBand(100, 130), start.Add(-60)), tested(typedBand(120, 150), start)}, nil},
		{"the old test again", []*plan.Band{tested(typedBand(100, 130), start), tested(renamed(typedBand(120, 150), "again", growthLine), start)}, []seen{{isError, `Band "again" rises by 15 % over band "spring" without a new test`, nil, growthLine}}},
		{"a fall", []*plan.Band{first, renamed(typedBand(80, 100), "lower", growthLine)}, nil},
		{"another meter indoors reads more", []*plan.Band{first, indoors(raised(first, 0.09))}, nil},
		{"a leap indoors, with another band between", []*plan.Band{indoors(typedBand(100, 130)), first, indoors(renamed(typedBand(110, 140), "typed", growthLine))}, []seen{{isError, `Band "typed" rises by 8 % over band "spring" without a new test`, nil, growthLine}}},
		{"the first band of the block may raise one that came before", []*plan.Band{raised(first, 0.07)}, []seen{{isError, `Band "later" rises by 7 % over band "spring" without a new test`, nil, stepLine}}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			p := blockOf("- - - - - - -")
			p.Block.Bands = tt.bands
			check(t, bandJump, p, tt.want...)
		})
	}
	p := blockOf("- - - - - - -")
	p.Block.Bands = []*plan.Band{first, raised(first, 0.06)}
	got := bandJump.merged(bandJump.check(p), p.Block, newWaivers(p.Block))
	fixed(t, got, stepLine, `"5 %"`)
	details(t, got, "from 130 W to 137.8 W", "at most 5 % is allowed, which is 136 W")
}

func TestNarrowTarget(t *testing.T) {
	t.Parallel()
	beats := func(low, high units.HeartRate, typed bool) *plan.Band {
		b := &plan.Band{Key: "spring", Range: line(bandLine), Leads: "heart_rate", HeartRate: &units.Range[units.HeartRate]{Low: low, High: high}}
		if typed {
			b.TypedHeartRate = line(bandLine)
		}
		return b
	}
	derived, both := typedBand(130, 133), typedBand(91, 100)
	derived.TypedPower = diag.Range{}
	both.Estimate = &threshold.Estimate{} // the coach typed a threshold as well
	follows := typedBand(130, 133)
	follows.Leads = "heart_rate"
	tests := []struct {
		name string
		band *plan.Band
		want []seen
	}{
		{"exactly 10 W", typedBand(90, 100), nil},
		{"under 10 W", typedBand(91, 100), []seen{{isWarning, `Band "spring" is 9 W wide: 91-100 W`, nil, bandLine}}},
		{"under 10 W, with a threshold typed beside it", both, []seen{{isWarning, `Band "spring" is 9 W wide: 91-100 W`, nil, bandLine}}},
		{"exactly 8 %", typedBand(184, 200), nil},
		{"under 8 %", typedBand(185, 200), []seen{{isWarning, `Band "spring" is 15 W wide: 185-200 W`, nil, bandLine}}},
		{"derived from a test", derived, nil},
		{"watts that do not lead", follows, nil},
		{"exactly 6 bpm", beats(120, 126, true), nil},
		{"under 6 bpm", beats(121, 126, true), []seen{{isWarning, `Band "spring" is 5 bpm wide: 121-126 bpm`, nil, bandLine}}},
		{"beats from a line", beats(121, 126, false), nil},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			p := blockOf("- - - - - - -")
			p.Block.Bands = []*plan.Band{tt.band}
			check(t, narrowTarget, p, tt.want...)
		})
	}
}

func TestNarrowTargetOfAProtocol(t *testing.T) {
	t.Parallel()
	p := blockOf("- - - - - 75t -", "- - - - - 75t -")
	protocol := *maximal
	protocol.Steps = []plan.Step{{Repeat: &plan.Repeat{Times: 2, Steps: []plan.Step{
		{Name: "stage", Target: plan.Watts, Power: watts(150, 150), Range: line(stepLine)}, // one value is a stage
		{Name: "hold", Target: plan.Watts, Power: watts(150, 155), Range: line(stepLine)},
		{Name: "ramp", Target: plan.Watts, Power: watts(150, 155), Range: line(stepLine), Rising: true},
	}}}}
	for i := range p.Schedule.Weeks {
		p.Schedule.Weeks[i].Sessions[0].Session = &protocol
	}
	list := check(t, narrowTarget, p, seen{isWarning, `Step "hold" of Lactate step test is 5 W wide: 150-155 W; 1 more in week 2`, []int{1, 2}, stepLine})
	details(t, list, "here 12.4 W", "Write 142-155 W or wider")
	fixed(t, list, stepLine, "")
}

func TestDurabilityCap(t *testing.T) {
	t.Parallel()
	// The ceiling is 95 % of the threshold.
	session := func(minutes units.Minutes, share units.Share) prescription.Session {
		s := prescription.Session{Name: "Long", Minutes: minutes, Week: 1, Date: start, Band: typedBand(100, 133)}
		s.Targets.Power = &units.Range[int]{Low: 100, High: 120}
		if share > 0 {
			s.Band.LongRides = &plan.Limit[units.Share]{Value: share, Written: true, Range: line(bandLine)}
			s.Targets.Power.High = int(140 * min(share, 0.95))
		}
		return s
	}
	indoors := session(150, 0)
	there := session(140, 0.92)
	indoors.Instead = &there
	easy := session(150, 0.95)
	easy.Targets.Power.High = 126
	test := session(150, 0.95)
	test.Test = true
	long := func(of, share string) []seen {
		return []seen{{isWarning, "Long of " + of + " on " + start.String() + " may be ridden at " + share + " of the threshold", []int{1}, bandLine}}
	}
	for _, tt := range []struct {
		name    string
		session prescription.Session
		want    []seen
	}{
		{"as usual", session(240, 0), nil},
		{"the usual share, typed", session(170, 0.90), nil},
		{"more", session(135, 0.91), long("2 h 15 min", "91 %")},
		{"not yet long", session(130, 0.91), nil},
		{"over three hours the usual share is lower", session(185, 0.90), long("3 h 5 min", "90 %")},
		{"the second usual share", session(185, 0.85), nil},
		{"never above the ceiling", session(150, 0.99), long("2 h 30 min", "95 %")},
		{"at the other place", indoors, long("2 h 20 min", "92 %")},
		{"steps that keep below it anyway", easy, nil},
		{"a test has no cap", test, nil},
	} {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			p := blockOf("- - - - - - -")
			p.Sessions = []prescription.Session{tt.session}
			check(t, durabilityCap, p, tt.want...)
		})
	}
}
