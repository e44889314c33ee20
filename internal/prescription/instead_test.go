package prescription_test

import (
	"strings"
	"testing"

	"towpath/internal/plan"
	"towpath/internal/prescription"
	"towpath/internal/units"
)

// The same session at the day's other place, as long as that allows, by the band that holds there.
func TestInstead(t *testing.T) {
	t.Parallel()
	road, gym := usualBand(), bandOf(97.2, 129.6, 137.5)
	road.Place, gym.Place, gym.Key = "outdoor", "indoor", "gym"
	days := func(limit, or units.Minutes) *plan.Athlete {
		a := rider()
		for i := range a.Days {
			a.Days[i] = plan.Day{Limit: limit, Place: "outdoor", OrLimit: or, OrPlace: "indoor"}
		}
		return a
	}
	apart := &plan.Given{Apart: true, Fixed: "work"}
	for _, tt := range []struct {
		name    string
		who     *plan.Athlete
		session *plan.Session
		minutes units.Minutes
		place   string
		given   *plan.Given
		want    string
	}{
		{"as long", days(240, 120), steady(), 75, "outdoor", nil, "indoor 75 min steady · 106-118 W"},
		{"as long as that place allows", days(240, 90), longRide(0, 0.67), 180, "outdoor", nil, "indoor 90 min long ride · 98-118 W"},
		{"from indoors", days(60, 120), steady(), 75, "indoor", nil, "outdoor 60 min steady · 109-122 W"},
		{"at a third place", days(240, 120), steady(), 75, "", nil, ""},
		{"one place", days(240, 0), steady(), 75, "outdoor", nil, ""},
		{"less than a ride", days(240, 25), steady(), 75, "outdoor", nil, ""},
		{"steps that do not fit", days(240, 30), sprints("sprints", 8), 75, "outdoor", nil, ""},
		{"a test", days(240, 120), standardRide(), 60, "outdoor", nil, ""},
		{"a window of its own", days(240, 120), steady(), 75, "outdoor", apart, ""},
		{"pinned", days(240, 120), steady(), 75, "outdoor", &plan.Given{}, "indoor 75 min steady · 106-118 W"},
	} {
		in := ride(tt.minutes, tt.session)
		in.Place, in.Given = tt.place, tt.given
		road, gym := *road, *gym
		road.Allowances, gym.Allowances = allowing().Allowances, allowing().Allowances
		p, diags := prescription.Prescribe(blockOf(tt.who, []*plan.Band{&road, &gym}, in), 0)
		if len(diags) > 0 {
			t.Fatalf("%s: %v", tt.name, diags)
		}
		s := p.Sessions[0]
		got := ""
		if s.Instead != nil {
			got = s.Instead.Place + " " + s.Instead.Title
		}
		if got != tt.want {
			t.Errorf("%s: got %q, want %q", tt.name, got, tt.want)
		}
		if s.Instead == nil {
			continue
		}
		there := s.Instead
		if there.Key != s.Key || there.UID != s.UID || there.Date != s.Date || there.Load.Work != nil || there.Instead != nil {
			t.Errorf("%s: another session: %+v", tt.name, there)
		}
		if want := map[string]string{"indoor": "gym", "outdoor": "autumn"}[there.Place]; there.Band.Key != want || s.Band == there.Band {
			t.Errorf("%s: by band %s, the session by %s", tt.name, there.Band.Key, s.Band.Key)
		}
		if (there.Place == "indoor") != (len(there.Allowed) == 0) {
			t.Errorf("%s: allowed %s: %v", tt.name, there.Place, there.Allowed)
		}
		if w := s.Words().Instead; w == nil || w.Place != there.Place || w.Minutes != there.Minutes {
			t.Errorf("%s: the rider reads %+v", tt.name, w)
		}
	}
}

// What else is ridden in the same window counts at the other place as well; a window apart does not.
func TestInsteadBesideAnother(t *testing.T) {
	t.Parallel()
	a := rider()
	a.Days[0] = plan.Day{Limit: 180, Place: "outdoor", OrLimit: 90, OrPlace: "indoor"}
	beside := func(apart bool) *prescription.Session {
		s := ride(75, steady())
		s.Place = "outdoor"
		given := ride(35, recoverySpin())
		given.Given, given.Place, given.Slot = &plan.Given{Fixed: "school", Apart: apart}, "outdoor", 2
		in := blockOf(a, []*plan.Band{usualBand()}, s, given)
		in.Weeks[0].Sessions[1].Date = start
		p, diags := prescription.Prescribe(in, 0)
		if len(diags) > 0 {
			t.Fatal(diags)
		}
		return p.Sessions[0].Instead
	}
	if got := beside(false); got == nil || got.Minutes != 55 {
		t.Errorf("35 of 90 min are taken: got %+v", got)
	}
	if got := beside(true); got == nil || got.Minutes != 75 {
		t.Errorf("nothing is taken: got %+v", got)
	}
}

// A test that keeps its watts has those of the place's first band, whatever holds elsewhere.
func TestWattsThatStay(t *testing.T) {
	t.Parallel()
	road, later, gym := usualBand(), bandOf(110, 146, 155), bandOf(95, 126, 134)
	road.Place, later.Place, gym.Place = "outdoor", "outdoor", "indoor"
	road.Key, later.Key, gym.Key = "road", "later", "gym"
	later.From = start.Add(1)
	first, second, third := testDay(60, standardRide(), nil), testDay(60, standardRide(), nil), testDay(60, standardRide(), nil)
	first.Place, second.Place, third.Place = "outdoor", "outdoor", "indoor"
	first.Slot, second.Slot, third.Slot = 1, 2, 3
	p, diags := prescription.Prescribe(blockOf(rider(), []*plan.Band{road, gym, later}, first, second, third), 0)
	if len(diags) > 0 {
		t.Fatal(diags)
	}
	for i, want := range []string{"road", "road", "gym"} {
		if got := p.Sessions[i].Band.Key; got != want {
			t.Errorf("ride %d has the watts of %s, want %s", i+1, got, want)
		}
	}
}

// A place without a band is told once.
func TestPlaceWithoutBand(t *testing.T) {
	t.Parallel()
	gym := usualBand()
	gym.Place, gym.Key = "indoor", "gym"
	one, two := ride(60, steady()), ride(60, steady())
	one.Place, two.Place = "outdoor", "outdoor"
	_, diags := prescription.Prescribe(blockOf(rider(), []*plan.Band{gym}, one, two), 0)
	if len(diags) != 1 || diags[0].Code != "no-band" || !strings.HasPrefix(diags[0].Summary, "No band holds outdoors, where Steady on ") || !strings.HasSuffix(diags[0].Summary, " is ridden") {
		t.Errorf("got %v", diags)
	}
}

// A week that may fall away says so in each session, and a session on a journey has its zone.
func TestProvisionalAndAway(t *testing.T) {
	t.Parallel()
	a := rider()
	a.Travels = []plan.Travel{{From: start.Add(1), To: start.Add(2), Zone: "Europe/Athens"}}
	s := blockOf(a, []*plan.Band{usualBand()}, ride(60, steady()), ride(60, steady()))
	s.Block.Weeks[0].Provisional = true
	p, diags := prescription.Prescribe(s, 0)
	if len(diags) > 0 {
		t.Fatal(diags)
	}
	if p.Sessions[0].Zone != a.Zone || p.Sessions[1].Zone != "Europe/Athens" {
		t.Errorf("zones %q and %q", p.Sessions[0].Zone, p.Sessions[1].Zone)
	}
	if !p.Sessions[0].Provisional || !p.Sessions[0].Words().Provisional {
		t.Error("the week's state is lost")
	}
}
