package prescription_test

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"towpath/internal/diag"
	"towpath/internal/plan"
	"towpath/internal/prescription"
	"towpath/internal/schedule"
	"towpath/internal/units"
)

// sprints rides 8 s by an allowance, six times, in an easy ride.
func sprints(over string, length units.Duration) *plan.Session {
	return &plan.Session{Key: "sprints", Title: "Sprints", Range: at(40), Steps: []plan.Step{
		warmUp(10),
		{Repeat: &plan.Repeat{Times: 6, Steps: []plan.Step{
			{Name: "sprint", Duration: length, Target: plan.Over, Over: over, Range: at(41)},
			{Name: "easy", Duration: mins(4) - length, Target: plan.Below},
		}}},
		fill("work", 0, 0.5),
		coolDown(5),
	}}
}

func at(line int) diag.Range {
	r := diag.Range{Filename: "plan.hcl"}
	r.Start.Line, r.End.Line = line, line
	return r
}

// allowing is a band that allows sprints and climbs: 115 % of 133.6 W are 153.6 W.
func allowing() *plan.Band {
	b := usualBand()
	b.Range = at(5)
	b.Allowances = []plan.Allowance{
		{Name: "sprints", Duration: 10, AllOut: true, Range: at(6)},
		{Name: "climbs", Duration: mins(3), Share: 1.15, Power: 153.64, Range: at(7)},
	}
	return b
}

func TestStepsByAnAllowance(t *testing.T) {
	t.Parallel()
	get := func(over string, length units.Duration) (prescription.Session, prescription.Step) {
		s := one(t, rider(), allowing(), ride(60, sprints(over, length)))
		return s, s.Steps[1].Steps[0]
	}
	s, sprint := get("sprints", 8)
	if !sprint.AllOut || sprint.Over != "sprints" || sprint.Kind != prescription.Open || say(sprint.Targets) != "" {
		t.Errorf("all out: got %+v", sprint)
	}
	// The rest is an easy ride, and its title says so.
	if s.Title != "60 min sprints · 101-116 W" || s.Leads != "power" {
		t.Errorf("got title %q, led by %s", s.Title, s.Leads)
	}
	if s.Load.Work == nil || s.Load.TRIMP == nil {
		t.Errorf("seconds all out leave the load unknown: %+v", s.Load)
	}
	s, climb := get("climbs", 120)
	if climb.AllOut || climb.Over != "climbs" || climb.Kind != prescription.Steady || say(climb.Targets) != "101-153 W" {
		t.Errorf("a share: got %+v, %s", climb, say(climb.Targets))
	}
	if got := climb.Words(); !got.AtMost || got.AllOut {
		t.Errorf("a share in words: got %+v", got)
	}
	if o := climb.Targets.PowerOrigin; o == nil || !strings.Contains(o.From[0].What, "at most 115 % of the ceiling 133.6 W") || o.From[0].Range.Start.Line != 7 {
		t.Errorf("got origin %+v", o)
	}
	if s.Targets.Power.High >= 153 {
		t.Errorf("the session as a whole asks for %s", say(s.Targets))
	}

	// Nothing but allowances: no range that a rider would hold all the time, and watts lead.
	only := sprints("climbs", 120)
	only.Steps[2] = plan.Step{Name: "home", Fill: true, Target: plan.Below}
	s = one(t, rider(), allowing(), ride(60, only))
	if s.Title != "60 min sprints" || s.Leads != "power" || say(s.Targets) != "" {
		t.Errorf("got title %q, led by %s, %s", s.Title, s.Leads, say(s.Targets))
	}
}

// What is all out is reckoned like riding at the ceiling for its seconds.
func TestWorkOfSprints(t *testing.T) {
	t.Parallel()
	s := one(t, rider(), allowing(), ride(60, sprints("sprints", 8)))
	easy := sprints("sprints", 8)
	easy.Steps[1].Repeat.Steps[0] = plan.Step{Name: "sprint", Duration: 8, Target: plan.OfThreshold, Share: share(133.6/141.8, 133.6/141.8)}
	like := one(t, rider(), allowing(), ride(60, easy))
	if d := float64(s.Load.Work.Mid - like.Load.Work.Mid); d < 0 || d > 0.05 { // 133.6 W against 133 W for 48 s
		t.Errorf("got %v kJ, at the ceiling %v kJ", s.Load.Work.Mid, like.Load.Work.Mid)
	}
}

// An allowance with a share is told on every ride that is not indoors; tests have none.
func TestAllowedAnywhere(t *testing.T) {
	t.Parallel()
	noMeter := rider()
	noMeter.PowerMeter = false
	for _, tt := range []struct {
		name  string
		who   *plan.Athlete
		place string
		what  *plan.Session
		want  []string
	}{
		{"anywhere", rider(), "", steady(), []string{"climbs 3 min 153"}},
		{"outdoors", rider(), "outdoor", recoverySpin(), []string{"climbs 3 min 153"}},
		{"indoors", rider(), "indoor", steady(), nil},
		{"in a test", rider(), "outdoor", standardRide(), nil},
		{"without a meter", noMeter, "outdoor", steady(), nil},
	} {
		in := ride(60, tt.what)
		in.Place = tt.place
		s := one(t, tt.who, allowing(), in)
		var got []string
		for _, a := range s.Allowed {
			got = append(got, strings.Join([]string{a.Name, a.Duration.String(), units.Power(*a.Power).String()[:3]}, " "))
		}
		if diff := cmp.Diff(tt.want, got); diff != "" {
			t.Errorf("%s (-want +got):\n%s", tt.name, diff)
		}
		if len(s.Words().Allowed) != len(tt.want) {
			t.Errorf("%s: the rider reads %v", tt.name, s.Words().Allowed)
		}
	}
}

// What the band does not allow is an error once for a session and a band; one that is raised from it
// is the same band.
func TestNotAllowed(t *testing.T) {
	t.Parallel()
	later := allowing()
	later.Raises, later.From, later.Key = allowing(), start.Add(3), "later"
	endless := sprints("sprints", 8)
	endless.Steps[1].Repeat.Steps[0].Fill, endless.Steps[1].Repeat.Steps[0].Duration = true, 0
	own := allowing() // writes some of its own
	own.Raises, own.From, own.Key = allowing(), start.Add(3), "own"
	own.Allowances = []plan.Allowance{{Name: "sprints", Duration: 10, AllOut: true, Range: at(9)}}
	for _, tt := range []struct {
		name    string
		session *plan.Session
		second  *plan.Band
		want    []string
		write   string
	}{
		{"another name", sprints("hills", 120), later, []string{"no-allowance"}, `write in band "autumn": over = ["hills: 2 min, 110 %", "sprints: 10 s, all out", "climbs: 3 min, 115 %"]`},
		{"a short one", sprints("jumps", 6), later, []string{"no-allowance"}, `"jumps: 6 s, all out"`},
		{"too long", sprints("sprints", 11), later, []string{"allowance-exceeded"}, "Shorten the step to 10 s, or allow 11 s"},
		{"without an end", endless, later, []string{"allowance-exceeded"}, `duration = "2 min"`},
		{"not in the list of a raised band", sprints("climbs", 120), own, []string{"no-allowance"}, `write in band "own": over = ["climbs: 2 min, 110 %", "sprints: 10 s, all out"]`},
	} {
		in := []schedule.Session{ride(60, tt.session), ride(60, tt.session), ride(60, tt.session), ride(60, tt.session)}
		_, diags := prescription.Prescribe(blockOf(rider(), []*plan.Band{allowing(), tt.second}, in...), 0)
		var codes []string
		for _, d := range diags {
			codes = append(codes, d.Code)
		}
		if diff := cmp.Diff(tt.want, codes); diff != "" {
			t.Errorf("%s (-want +got):\n%s", tt.name, diff)
		}
		if len(diags) > 0 && !strings.Contains(diags[0].Detail, tt.write) {
			t.Errorf("%s: got %q", tt.name, diags[0].Detail)
		}
	}
}
