package spec

import (
	"slices"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"towpath/internal/units"
)

func sameAs(t *testing.T, what string, want, got any) {
	t.Helper()
	if d := cmp.Diff(want, got, noPlaces); d != "" {
		t.Errorf("%s differs (-want +got):\n%s", what, d)
	}
}

func ref(kind, key string) Value[Ref] { return v(Ref{kind, key}) }

// byKey finds a block by its label.
func byKey[T any](t *testing.T, all []*T, label func(*T) string, key string) *T {
	t.Helper()
	i := slices.IndexFunc(all, func(x *T) bool { return label(x) == key })
	if i < 0 {
		t.Fatalf("there is no %s", key)
	}
	return all[i]
}

func TestWeekOfAnAthlete(t *testing.T) {
	_, s := decodeCase(t, "ok/all_of_a_week.hcl")
	a := byKey(t, s.Athletes, func(a *Athlete) string { return a.Key }, "ines")
	date := func(month time.Month, day int) units.Date { return units.NewDate(2026, month, day) }
	commute := Day{Limit: 25, Start: units.NewClock(7, 30), Commute: true, Second: &Day{Limit: 75, Start: units.NewClock(18, 30)}}
	want := &Athlete{
		Label: Label{Key: "ines"}, TimeZone: v("Europe/Riga"),
		Days: [7]Value[Day]{1: v(commute), 5: v(Day{Limit: 240, Place: "outdoor", OrLimit: 120, OrPlace: "indoor"})},
		Shifts: []Shift{
			{v("early"), v(Day{Limit: 70, Start: units.NewClock(15, 20)})},
			{v("split"), v(Day{Limit: 30, Start: units.NewClock(6, 30), Second: &Day{Limit: 60, Start: units.NewClock(19, 0)}})},
			{v("off"), v(Day{Closed: true})},
		},
		On: []DatedDay{
			{v(date(10, 6)), date(10, 6), v(Day{Limit: 20, Start: units.NewClock(7, 0), Commute: true, Second: &Day{Limit: 40, Easy: true}})},
			{v(date(12, 21)), units.NewDate(2027, 1, 3), v(Day{Closed: true})},
		},
		Rosters: []*Roster{
			{From: v(date(9, 14)), Until: v(date(12, 20)), Days: []Value[string]{v("early"), v("early"), v("split"), v("off")}},
			{From: v(units.NewDate(2027, 1, 4)), Days: []Value[string]{v("early")}},
		},
		Travels: []*Travel{{From: v(date(10, 15)), To: v(date(10, 22)), TimeZone: v("Asia/Tokyo")}},
		Fixed: []*Fixed{
			{
				Label: Label{Key: "club"}, Session: ref("session", "group_ride"), Minutes: v(units.Duration(7200)), Days: []Value[time.Weekday]{v(time.Sunday)},
				At: v(units.NewClock(9, 0)), Place: v("outdoor"), Note: v("Meet at the bridge."),
			},
			{Label: Label{Key: "once"}, Session: ref("session", "steady"), Minutes: v(units.Duration(3600)), Date: v(date(10, 10))},
		},
		Other: []*Other{{
			Label: Label{Key: "climbing"}, Title: v("Climbing hall"), Days: []Value[time.Weekday]{v(time.Monday), v(time.Thursday)},
			Minutes: v(units.Duration(5400)), At: v(units.NewClock(19, 0)), Demand: v("demanding"),
		}},
		Device:   &Device{Leads: v("heart rate"), Letters: v("plain"), MostSteps: v(30), HeartRate: v(false)},
		Calendar: &Calendar{Hours: v(false), Reminder: v(units.Duration(1800))},
	}
	sameAs(t, "the athlete", want, a)
}

// TestSquadAndOverrides: last is the longest length, and what for_athlete holds is set alone.
func TestSquadAndOverrides(t *testing.T) {
	_, s := decodeCase(t, "ok/squad_and_events.hcl")
	signe, joao := ref("athlete", "signe"), ref("athlete", "joao")
	sameAs(t, "the squad", []*Squad{{
		Label: Label{Key: "north"}, Title: v("The north squad"), Athletes: []Value[Ref]{signe, joao},
		Defaults: &Athlete{
			TimeZone: v("Europe/Tallinn"), Background: v("regular"), Shifts: []Shift{{v("late"), v(Day{Limit: 40})}},
			Days:    [7]Value[Day]{6: v(Day{Limit: 180, Start: units.NewClock(9, 0)})},
			Rosters: []*Roster{{From: v(units.NewDate(2026, 9, 14)), Days: []Value[string]{v("late")}}},
		},
		Fixed: []*Fixed{{
			Label: Label{Key: "club"}, Session: ref("session", "group_ride"), Minutes: v(units.Duration(7200)),
			Days: []Value[time.Weekday]{v(time.Sunday)}, Athletes: []Value[Ref]{joao},
		}},
	}}, s.Squads)
	sameAs(t, "the event", []*Event{{
		Label: Label{Key: "lake"}, Title: v("Round the lake"), Athletes: []Value[Ref]{signe, joao},
		Date: v(units.NewDate(2026, 12, 12)), Lasts: v(units.Duration(6*3600 + 1800)),
	}}, s.Events)

	b := s.Blocks[0]
	sameAs(t, "the lengths", []any{10, 8, 6}, []any{b.Weeks.V, b.Shortest.V, b.Decide.V})
	sameAs(t, "the recovery", &Recovery{Weeks: v([]int{4, 8, 10}), Without: []Value[string]{v("long")}}, b.Recovery)
	sameAs(t, "the volume", &Volume{First: v(Amount{Duration: 5 * 3600}), Tolerance: v(units.Share(0.15))}, b.Volume)
	sameAs(t, "weeks with last", [][]int{{9, 10}, {10}, {10}, {1, 10}}, [][]int{b.Rides[1].Weeks.V, b.TestDays[0].Weeks.V, {b.WeekNotes[0].Number.V}, b.Fixed[0].Weeks.V})
	sameAs(t, "who has the long ride", []Value[Ref]{signe}, b.Rides[0].Athletes)
	sameAs(t, "the limits", &Limits{TwoDays: v(units.Share(0.6)), WhenBroken: v("warn")}, b.Limits)
	sameAs(t, "what differs", []*ForAthlete{{
		Athletes: []Value[Ref]{joao}, FromWeek: v(3), Without: []Value[string]{v("long")},
		Block: &Block{
			Label: Label{Key: "autumn"}, Note: v("Start slowly."), RidesPerWeek: v(units.One(3)),
			Volume:    &Volume{Growth: v(Amount{Duration: 600})},
			Recovery:  &Recovery{Keep: v(units.Share(0.5))},
			Limits:    &Limits{RestDays: v(2)},
			Rides:     []*Ride{{Label: Label{Key: "upper"}, Session: ref("session", "upper_third"), Minutes: v(units.Duration(3600)), Weeks: v([]int{10})}},
			WeekNotes: []*Week{{Label: Label{Key: "5"}, Number: v(5), Pins: []Pin{{Day: time.Sunday, Ride: v("upper"), Minutes: v(units.Duration(3600))}}}},
			Waivers:   []*Waiver{{Label: Label{Key: "start-volume"}, Reason: v("Used to it.")}},
		},
	}}, b.ForAthletes)
}

func TestBandsByPlace(t *testing.T) {
	_, s := decodeCase(t, "ok/bands_by_place.hcl")
	label := func(b *Band) string { return b.Key }
	road, trainer := byKey(t, s.Bands, label, "road"), byKey(t, s.Bands, label, "trainer")
	sameAs(t, "the road's band", []any{v("outdoor"), v(units.Share(0.95))}, []any{road.Place, road.LongRides})
	sameAs(t, "its allowances", []Value[Allowance]{v(Allowance{Name: "climbs", Duration: 180, Share: 1.15}), v(Allowance{Name: "sprints", Duration: 10, AllOut: true})}, road.Over)
	sameAs(t, "one allowance", []Value[Allowance]{v(Allowance{Name: "kicks", Duration: 90, Share: 1.08})}, trainer.Over)
	jumps := byKey(t, s.Sessions, func(s *Session) string { return s.Key }, "jumps")
	sameAs(t, "the step", v("sprints"), jumps.Steps[1].Over)
	ramp := byKey(t, s.Tests, func(x *Test) string { return x.Key }, "ramp")
	sameAs(t, "the ramp", []any{v(units.Duration(600)), v(units.RampRate(20)), v(units.Power(20))}, []any{ramp.WarmUp, ramp.Ramp, ramp.RampStep})
	sameAs(t, "the reading", &LabReading{
		SecondThreshold: v(units.Power(196)), SecondHeartRate: v(units.HeartRate(158)), MaximumHeartRate: v(units.HeartRate(179)), PeakPower: v(units.Power(245)),
	}, ramp.ReadByLab)
}
