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
	"towpath/internal/threshold"
	"towpath/internal/units"
)

// outline prints names, roles and minutes: "warm_up 10 | 3 x (work 12, ease 3) | cool_down 8".
func outline(steps []prescription.Step, separator string) string {
	var parts []string
	for _, s := range steps {
		if s.Kind == prescription.Rounds {
			parts = append(parts, fmt.Sprintf("%d x (%s)", s.Times, outline(s.Steps, ", ")))
			continue
		}
		length := fmt.Sprint(int(s.Duration) / 60)
		if s.Duration%60 != 0 {
			length = s.Duration.String()
		}
		parts = append(parts, fmt.Sprintf("%s %s", s.Name, length))
	}
	return strings.Join(parts, separator)
}

func TestSteps(t *testing.T) {
	t.Parallel()
	fixed := &plan.Session{Key: "fixed", Title: "Fixed", Steps: []plan.Step{warmUp(10), {Name: "work", Duration: mins(40), Target: plan.Position, Share: share(0, 1)}, coolDown(5)}}
	rounds := &plan.Session{Key: "rounds", Title: "Rounds", Steps: []plan.Step{
		{Repeat: &plan.Repeat{Times: 3, Steps: []plan.Step{
			{Name: "work", Duration: mins(8), Target: plan.Position, Share: share(0, 1)},
			{Name: "ease", Duration: mins(2), Target: plan.Below},
		}}},
	}}
	unspared := upperThird()
	unspared.Steps[2].Spare = false
	inner := upperThird()
	inner.Steps[2].Spare, inner.Steps[1].Repeat.Steps[1].Spare = false, true
	lateStart := longRide(0, 1)
	lateStart.Steps[0] = plan.Step{Name: "in", Duration: mins(117), Target: plan.Below}
	lowRounds := upperThird()
	lowRounds.Steps[1].Repeat.Steps[0].Share = share(0, 0.3)
	mixed := upperThird()
	mixed.Steps[2] = plan.Step{Name: "cool_down", Fill: true, Target: plan.Below}
	oneSide := &plan.Session{Key: "x", Title: "X", Steps: []plan.Step{warmUp(10), {Name: "work", Duration: mins(30), Target: plan.Position, Share: share(0, 1)}}}

	for _, tt := range []struct {
		name    string
		minutes units.Minutes
		session *plan.Session
		want    string
	}{
		{"one fill takes the rest", 75, steady(), "warm_up 10 | work 60 | cool_down 5"},
		{"fills share evenly", 75, progressive(), "warm_up 10 | lower 20 | middle 20 | upper 20 | cool_down 5"},
		{"the odd minute goes to the cool-down", 70, progressive(), "warm_up 10 | lower 18 | middle 18 | upper 18 | cool_down 6"},
		{"whole rounds, the rest to the spare step", 70, upperThird(), "warm_up 12 | 3 x (work 12, ease 3) | cool_down 13"},
		{"a step named spare takes all that is left", 76, upperThird(), "warm_up 12 | 3 x (work 12, ease 3) | cool_down 19"},
		{"more than 10 min left: the last work takes it", 76, unspared, "warm_up 12 | 2 x (work 12, ease 3) | work 16 | ease 3 | cool_down 15"},
		{"spare within a repeat", 76, inner, "warm_up 12 | 2 x (work 12, ease 3) | work 12 | ease 17 | cool_down 5"},
		{"one round is written out", 35, upperThird(), "warm_up 12 | work 12 | ease 3 | cool_down 8"},
		{"rounds leave a filling step its least", 60, mixed, "warm_up 12 | 2 x (work 12, ease 3) | cool_down 18"},
		{"rounds leave a filling step its least, short", 60 - 14, mixed, "warm_up 12 | work 12 | ease 3 | cool_down 19"},
		{"no fill: cool-down and then work", 90, fixed, "warm_up 10 | work 65 | cool_down 15"},
		{"no cool-down: work takes it", 50, oneSide, "warm_up 10 | work 40"},
		{"only rounds: the last one takes it", 45, rounds, "2 x (work 8, ease 2) | work 23 | ease 2"},
		{"the warm-up gives way", 27, upperThird(), "warm_up 7 | work 12 | ease 3 | cool_down 5"},
		{"the warm-up gives way, not below half", 15, steady(), "warm_up 5 | work 5 | cool_down 5"},
		{"both ends give way", 40, longRide(0, 0.67), "warm_up 10 | work 20 | cool_down 10"},
		{"both ends give way to the last", 15, longRide(0, 0.67), "warm_up 5 | work 5 | cool_down 5"},
		{"a spin is all one", 45, recoverySpin(), "work 45"},
		{"a test with seconds", 40, sprint(), "warm_up 20 | effort 30 s | cool_down 19 min 30 s"},
		{"efforts", 90, efforts(), "warm_up 20 | effort 3 | rest 30 | effort 12 | cool_down 25"},
		{"over three hours the work is cut at two", 250, longRide(0, 1), "warm_up 10 | work 110 | work 120 | cool_down 10"},
		{"no part of a cut is too short for a heart rate", 185, progressive(), "warm_up 10 | lower 56 | middle 52 | middle 4 | upper 56 | cool_down 7"},
		{"nor the part before it", 200, lateStart, "in 117 | work 73 | cool_down 10"},
		{"the cut is not made where it changes nothing", 250, longRide(0, 0.3), "warm_up 10 | work 230 | cool_down 10"},
		{"three hours are not cut", 180, longRide(0, 1), "warm_up 10 | work 160 | cool_down 10"},
		{"rounds are not cut where it changes nothing", 200, lowRounds, "warm_up 12 | 12 x (work 12, ease 3) | cool_down 8"},
		{"rounds are cut between two", 200, upperThird(), "warm_up 12 | 8 x (work 12, ease 3) | 4 x (work 12, ease 3) | cool_down 8"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			p, diags := prescription.Prescribe(blockOf(rider(), []*plan.Band{usualBand()}, ride(tt.minutes, tt.session)), 0)
			if len(diags) > 0 {
				t.Fatalf("got %v", diags)
			}
			if diff := cmp.Diff(tt.want, outline(p.Sessions[0].Steps, " | ")); diff != "" {
				t.Errorf("(-want +got)\n%s", diff)
			}
		})
	}
}

func TestRoles(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct {
		session *plan.Session
		want    string
	}{
		{steady(), "warm_up work cool_down"},
		{recoverySpin(), "work"},
		{upperThird(), "warm_up [work ease] cool_down"},
		{efforts(), "warm_up work ease work cool_down"},
		{&plan.Session{Key: "a", Steps: []plan.Step{
			{Name: "roll_out", Duration: mins(20), Target: plan.OfThreshold, Share: share(0.5, 0.6)},
			{Name: "a", Duration: mins(20), Target: plan.Position, Share: share(0, 1)},
			{Name: "b", Duration: mins(5), Target: plan.Below},
			{Name: "c", Duration: mins(20), Target: plan.Position, Share: share(0, 1)},
			{Name: "roll_in", Duration: mins(10), Target: plan.Below},
		}}, "warm_up work ease work cool_down"},
		{&plan.Session{Key: "b", Steps: []plan.Step{{Name: "all", Duration: mins(75), Target: plan.OfThreshold, Share: share(0.5, 0.6)}}}, "work"},
		{&plan.Session{Key: "c", Steps: []plan.Step{
			{Name: "in", Duration: mins(35), Target: plan.Below},
			{Repeat: &plan.Repeat{Times: 2, Steps: []plan.Step{{Name: "spin", Duration: mins(10), Target: plan.Below}}}},
			{Name: "free", Duration: mins(20), Target: plan.Free},
		}}, "warm_up [warm_up] work"},
	} {
		minutes := units.Minutes(75)
		if tt.session.Protocol {
			minutes = 90
		}
		p, _ := prescription.Prescribe(blockOf(rider(), []*plan.Band{usualBand()}, ride(minutes, tt.session)), 0)
		if got := rolesOf(p.Sessions[0].Steps); got != tt.want {
			t.Errorf("%s: got %q, want %q", tt.session.Key, got, tt.want)
		}
	}
}

func rolesOf(steps []prescription.Step) string {
	var out []string
	for _, s := range steps {
		if s.Kind == prescription.Rounds {
			out = append(out, "["+rolesOf(s.Steps)+"]")
			continue
		}
		out = append(out, string(s.Role))
	}
	return strings.Join(out, " ")
}

func TestStages(t *testing.T) {
	t.Parallel()
	like := &threshold.StepTest{StageLength: 180}
	for _, w := range []units.Power{60, 85, 110, 140} {
		like.Stages = append(like.Stages, threshold.Stage{Power: w, Duration: 180})
	}
	like.Stages[3].Duration = 70 // broken off
	undeclared := *like
	undeclared.StageLength = 0
	rested := undeclared
	rested.Stages = append([]threshold.Stage{{Duration: 300}, {Duration: 300}, {Duration: 300}, {Duration: 300}}, like.Stages...)
	for _, tt := range []struct {
		name   string
		like   *threshold.StepTest
		powers []int
		length units.Duration
	}{
		{"a first test rises from half of the threshold, to 5 W", nil, []int{70, 90, 110, 130, 150, 170, 190, 210, 230, 250}, mins(4)},
		{"a retest repeats its baseline", like, []int{60, 85, 110, 140}, 180},
		{"a retest of stages of no declared length", &undeclared, []int{60, 85, 110, 140}, 180},
		{"the rest before a test is no stage", &rested, []int{60, 85, 110, 140}, 180},
	} {
		p, diags := prescription.Prescribe(blockOf(rider(), []*plan.Band{usualBand()}, testDay(75, stepTest(), tt.like)), 0)
		if len(diags) > 0 {
			t.Fatalf("%s: %v", tt.name, diags)
		}
		steps := p.Sessions[0].Steps
		var powers []int
		for _, s := range steps[1 : len(steps)-1] {
			powers = append(powers, s.Targets.Power.Low)
			if s.Targets.Power.Low != s.Targets.Power.High || s.Duration != tt.length || s.Targets.HeartRate != nil || s.Targets.Effort != nil {
				t.Errorf("%s: stage %+v: want one power for %s and nothing else", tt.name, s, tt.length)
			}
		}
		if diff := cmp.Diff(tt.powers, powers); diff != "" {
			t.Errorf("%s (-want +got)\n%s", tt.name, diff)
		}
		if got := total(steps); got != mins(75) {
			t.Errorf("%s: steps take %s, want 75 min", tt.name, got)
		}
	}
}

func TestTooShort(t *testing.T) {
	t.Parallel()
	long := longRide(0, 1)
	for _, tt := range []struct {
		name    string
		in      []schedule.Session
		need    string
		message int
	}{
		{"both ends and a little work", []schedule.Session{ride(14, long), ride(12, long)}, "15 min", 1},
		{"a test is never shortened", []schedule.Session{testDay(54, stepTest(), nil)}, "55 min", 1},
		{"fixed steps", []schedule.Session{ride(30, &plan.Session{Key: "f", Title: "F", Steps: []plan.Step{{Name: "work", Duration: mins(31), Target: plan.Position, Share: share(0, 1)}}})}, "31 min", 1},
	} {
		p, diags := prescription.Prescribe(blockOf(rider(), []*plan.Band{usualBand()}, tt.in...), 0)
		if len(diags) != tt.message || !diags.HasErrors() || diags[0].Code != "session-too-short" || !strings.Contains(diags[0].Summary, tt.need) {
			t.Errorf("%s: got %+v, want an error that names %s", tt.name, diags, tt.need)
		}
		if len(p.Sessions) != len(tt.in) || p.Sessions[0].Load.SessionRPE != nil {
			t.Errorf("%s: got %d sessions with load %v, want all of them without load", tt.name, len(p.Sessions), p.Sessions[0].Load)
		}
	}
}

func total(steps []prescription.Step) (d units.Duration) {
	for _, s := range steps {
		if s.Kind == prescription.Rounds {
			d += units.Duration(s.Times) * total(s.Steps)
			continue
		}
		d += s.Duration
	}
	return d
}

func eachStep(steps []prescription.Step, f func(prescription.Step)) {
	for _, s := range steps {
		f(s)
		eachStep(s.Steps, f)
	}
}

// drawSession makes up a session of any steps that the language allows below the ceiling.
func drawSession(t *rapid.T) *plan.Session {
	step := func(label string, fills bool) plan.Step {
		s := plan.Step{Name: rapid.SampledFrom([]string{"warm_up", "work", "ease", "cool_down", "spin"}).Draw(t, label+" name")}
		s.Duration = units.Duration(rapid.IntRange(1, 25*60).Draw(t, label+" seconds"))
		if fills && rapid.Bool().Draw(t, label+" fills") {
			s.Fill, s.Duration = true, 0
		}
		switch rapid.IntRange(0, 3).Draw(t, label+" target") {
		case 0:
			s.Target = plan.Below
		case 1:
			s.Target, s.Share, s.Rising = plan.OfThreshold, share(0.5, 0.7), rapid.Bool().Draw(t, label+" rises")
		default:
			low := rapid.Float64Range(0, 1).Draw(t, label+" low")
			s.Target, s.Share = plan.Position, share(low, rapid.Float64Range(low, 1).Draw(t, label+" high"))
		}
		s.Spare = rapid.IntRange(0, 4).Draw(t, label+" spare") == 0
		return s
	}
	out := &plan.Session{Key: "drawn", Title: "Drawn"}
	for i := range rapid.IntRange(1, 5).Draw(t, "steps") {
		label := fmt.Sprint(i)
		if rapid.IntRange(0, 3).Draw(t, label+" repeat") > 0 {
			out.Steps = append(out.Steps, step(label, true))
			continue
		}
		r := &plan.Repeat{Times: rapid.IntRange(1, 4).Draw(t, label+" times")}
		if rapid.Bool().Draw(t, label+" rounds fill") {
			r.Fill, r.Times = true, 0
		}
		for j := range rapid.IntRange(1, 3).Draw(t, label+" inner") {
			r.Steps = append(r.Steps, step(fmt.Sprintf("%s.%d", label, j), false))
		}
		out.Steps = append(out.Steps, plan.Step{Repeat: r})
	}
	return out
}

// Whatever the session, its steps take its minutes to the second, none is negative, and no
// target rises above the ceiling.
func TestStepsAddUp(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		floor := rapid.Float64Range(50, 220).Draw(t, "floor")
		ceiling := floor * rapid.Float64Range(1.001, 1.6).Draw(t, "width")
		// Shares of the threshold stay below the floor here: they may rise above the band, for a
		// rule to judge.
		threshold := min(ceiling/0.95, floor/0.7)
		band := bandOf(units.Power(floor), units.Power(ceiling), units.Power(threshold))
		band.Leads = rapid.SampledFrom([]string{"power", "heart_rate", "effort"}).Draw(t, "leads")
		minutes := units.Minutes(rapid.IntRange(10, 400).Draw(t, "minutes"))
		session := drawSession(t)
		p, diags := prescription.Prescribe(blockOf(rider(), []*plan.Band{band}, ride(minutes, session)), 0)
		s := p.Sessions[0]
		if diags.HasErrors() {
			if len(s.Steps) > 0 {
				t.Fatalf("steps in spite of %v", diags)
			}
			return
		}
		if got := total(s.Steps); got != minutes.Duration() {
			t.Fatalf("steps take %s of %s: %s", got, minutes, outline(s.Steps, " | "))
		}
		eachStep(s.Steps, func(s prescription.Step) {
			if s.Duration <= 0 {
				t.Fatalf("step %s takes %s", s.Name, s.Duration)
			}
			if w := s.Targets.Power; w != nil && (float64(w.High) > ceiling+1e-6 || w.Low > w.High || w.Low < 0) {
				t.Fatalf("step %s: %v W above the ceiling %v W", s.Name, *w, ceiling)
			}
			if h := s.Targets.HeartRate; h != nil && (s.Duration < 240 || h.Low != nil && *h.Low > h.High) {
				t.Fatalf("step %s of %s: heart rate %v", s.Name, s.Duration, *h)
			}
		})
		if s.Load.Work == nil || s.Load.Work.Low > s.Load.Work.Mid || s.Load.Work.Mid > s.Load.Work.High {
			t.Fatalf("work %v", s.Load.Work)
		}
	})
}
