package prescription_test

import (
	"strings"
	"testing"

	"github.com/google/uuid"

	"towpath/internal/plan"
	"towpath/internal/prescription"
	"towpath/internal/schedule"
)

func TestTitles(t *testing.T) {
	t.Parallel()
	heart, effort := usualBand(), &plan.Band{Key: "e", Scale: 1, Leads: "effort"}
	heart.Leads = "heart_rate"
	for _, tt := range []struct {
		band    *plan.Band
		session schedule.Session
		want    string
	}{
		{bandOf(92, 122, 128), ride(75, steady()), "75 min steady · 100-112 W"},
		{heart, ride(75, steady()), "75 min steady · 106-120 bpm"},
		{heart, ride(45, recoverySpin()), "45 min recovery spin · at most 112 bpm"},
		{effort, ride(75, steady()), "75 min steady · effort at most 11"},
		{usualBand(), ride(75, progressive()), "75 min progressive · 99-133 W"},
		{usualBand(), ride(250, longRide(0, 1)), "4 h 10 min long ride · 101-127 W"},
		{usualBand(), ride(75, upperThird()), "75 min upper third · 119-133 W"},
		{usualBand(), testDay(75, stepTest(), nil), "75 min lactate step test"},
		{usualBand(), testDay(90, efforts(), nil), "90 min two maximal efforts"},
		{usualBand(), testDay(60, standardRide(), nil), "60 min standard ride · 98-130 W"},
		{nil, ride(75, steady()), "75 min steady"},
	} {
		if got := one(t, rider(), tt.band, tt.session).Title; got != tt.want {
			t.Errorf("got %q, want %q", got, tt.want)
		}
	}
}

// A session's identity comes from plan, athlete, block, week, ride and slot: it moves freely.
func TestKeys(t *testing.T) {
	t.Parallel()
	prescribe := func(change func(*schedule.Schedule)) *prescription.Prescription {
		second := ride(75, steady())
		second.Slot = 2
		s := blockOf(rider(), []*plan.Band{usualBand()}, ride(60, steady()), second, ride(120, longRide(0, 1)), testDay(75, stepTest(), nil))
		change(s)
		p, _ := prescription.Prescribe(s, 0)
		return p
	}
	p := prescribe(func(*schedule.Schedule) {})
	var keys []string
	seen := map[string]bool{}
	for _, s := range p.Sessions {
		keys = append(keys, s.Key)
		id, err := uuid.Parse(s.UID)
		if err != nil || id.Version() != 5 || seen[s.UID] {
			t.Errorf("%s: UID %q: version %v, %v, seen %v", s.Key, s.UID, id.Version(), err, seen[s.UID])
		}
		seen[s.UID] = true
	}
	if got, want := strings.Join(keys, " "), "autumn/w01/steady-1 autumn/w01/steady-2 autumn/w01/long_ride-1 autumn/w01/retest-1"; got != want {
		t.Errorf("got %s, want %s", got, want)
	}
	// Reckoned with Python's uuid.uuid5, and written down: a calendar that was handed over must find its events again.
	if got, want := p.Sessions[0].UID, "81d586a1-9774-5933-aee5-397cdbf4fe49"; got != want {
		t.Errorf("UID of %s: got %s, want %s", p.Sessions[0].Key, got, want)
	}

	moved := prescribe(func(s *schedule.Schedule) {
		s.Weeks[0].Sessions[0].Date, s.Weeks[0].Sessions[0].Minutes = start.Add(6), 90
	})
	if last := moved.Sessions[len(moved.Sessions)-1]; last.Key != p.Sessions[0].Key || last.UID != p.Sessions[0].UID {
		t.Errorf("a move made %s %s of %s %s", last.Key, last.UID, p.Sessions[0].Key, p.Sessions[0].UID)
	}
	for _, change := range []func(*schedule.Schedule){
		func(s *schedule.Schedule) { s.Block.PlanID = "another" },
		func(s *schedule.Schedule) { s.Block.Athlete.Key = "ben" },
		func(s *schedule.Schedule) { s.Block.Key = "winter" },
	} {
		if other := prescribe(change).Sessions[0].UID; seen[other] {
			t.Errorf("UID %s twice", other)
		}
	}
}

// Nothing panics on a schedule with holes.
func TestHoles(t *testing.T) {
	t.Parallel()
	if p, diags := prescription.Prescribe(nil, 0); p != nil || diags != nil {
		t.Errorf("nothing: got %v, %v", p, diags)
	}
	s := blockOf(nil, nil, schedule.Session{Minutes: 60, Ride: &plan.Ride{Key: "gone"}}, ride(60, &plan.Session{Key: "empty", Title: "Empty"}), ride(60, steady()))
	p, diags := prescription.Prescribe(s, 0)
	if len(diags) > 0 || len(p.Sessions) != 3 || p.Sessions[0].Title != "60 min gone" {
		t.Errorf("got %d sessions, first %q, %v", len(p.Sessions), p.Sessions[0].Title, diags)
	}
}
