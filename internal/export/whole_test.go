package export

import (
	"bytes"
	"encoding/csv"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"towpath/internal/plan"
	"towpath/internal/prescription"
	"towpath/internal/schedule"
	"towpath/internal/units"
)

// autumn is a block of two weeks, of our own invention, in which everything stands that a plan leaves
// to the rider, to the weather or to later: a ride to work and one in the evening of the same day, a
// long ride that may be ridden indoors, an allowance, a journey, a second week that is provisional,
// sport that is not cycling, and a day that is trained for.
func autumn() *prescription.Prescription {
	start := units.NewDate(2026, 10, 19)
	band := &plan.Band{
		Key: "autumn", From: start, Place: "outdoor", Power: units.Range[units.Power]{Low: 99, High: 133.2}, Threshold: 140.2, Scale: 1,
		Allowances: []plan.Allowance{
			{Name: "climbs", Duration: 180, Share: 1.15, Power: 153.18},
			{Name: "sprints", Duration: 10, AllOut: true},
		},
	}
	weeks := []*plan.Week{
		{Number: 1, Start: start, Kind: plan.Loading, Asked: 280},
		{
			Number: 2, Start: start.Add(7), Kind: plan.Recovery, Provisional: true, Asked: 75,
			Paused: []plan.Paused{{Date: start.Add(8), Fixed: "work", Session: &plan.Session{Key: "commute"}, Why: "away, in Asia/Kathmandu"}},
		},
	}
	block := &plan.Block{
		PlanID: "p3k9x2ma", Key: "autumn", Title: "Vers l'automne", Start: start, Weeks: weeks, Shortest: 1, Decide: 1, Bands: []*plan.Band{band},
		Events: []*plan.Event{{Key: "tour", Title: "Tour du Lac", Date: start.Add(13), Lasts: 390}},
		Athlete: &plan.Athlete{
			Key: "odile", Zone: "Europe/Paris", HeartRate: plan.HeartRate{Resting: 52, Usable: true},
			Other: []*plan.Other{
				{Key: "gym", Title: "Salle de sport", Days: []time.Weekday{time.Thursday}, Start: units.NewClock(19, 0), Minutes: 60, Demanding: true},
				{Key: "walk", Title: "Randonnée", Date: start.Add(9)},
			},
			Device:   plan.Device{Leads: "heart_rate", Plain: true, MostSteps: 9},
			Calendar: plan.Calendar{Reminder: 30},
		},
	}
	p := &prescription.Prescription{
		Block: block, Schedule: &schedule.Schedule{Block: block},
		Sessions: []prescription.Session{commute(start.Add(1)), steadySession(start.Add(1)), longOrIndoors(start.Add(5)), abroad(start.Add(8))},
	}
	for i, placed := range []units.Minutes{280, 75} {
		w := schedule.Week{Week: weeks[i], Placed: placed}
		p.Schedule.Weeks = append(p.Schedule.Weeks, w)
		p.Weeks = append(p.Weeks, prescription.Week{Week: &w})
	}
	for i := range p.Sessions {
		s := &p.Sessions[i]
		s.Band = band
		if s.Zone == "Europe/Lisbon" {
			s.Zone = "Europe/Paris"
		}
		s.Key = strings.Replace(s.Key, "spring", "autumn", 1)
	}
	return p
}

var climbs = []prescription.Allowance{{Name: "climbs", Duration: 180, Power: ptr(153)}}

func commute(d units.Date) prescription.Session {
	easy := prescription.Targets{Power: power(70, 98), Effort: ptr(10)}
	return prescription.Session{
		Key: "autumn/w01/commute-1", UID: "0d6f1d4a-9f0e-5b1e-8f3a-2c7f5f0a1b01", Week: 1, Date: d, Start: units.NewClock(7, 30), Zone: "Europe/Paris",
		Place: "outdoor", Session: "commute", Title: "25 min way to work · 70-98 W", Name: "Way to work", Minutes: 25, Leads: "power",
		Note: "Bicyclette à l'abri.", Given: true, Fixed: "work", Targets: easy, Allowed: climbs,
		Steps: []prescription.Step{{Name: "work", Kind: prescription.Steady, Role: prescription.Work, Duration: 25 * 60, Targets: easy}},
	}
}

func longOrIndoors(d units.Date) prescription.Session {
	outside := prescription.Targets{Power: power(99, 122), HeartRate: atMost(128), Effort: ptr(11)}
	inside := prescription.Targets{Power: power(94, 116), HeartRate: atMost(126), Effort: ptr(11)}
	ease := prescription.Targets{Power: power(68, 93)}
	sprint := prescription.Step{Name: "sprint", Kind: prescription.Open, Role: prescription.Work, Duration: 10, AllOut: true, Over: "sprints"}
	climb := prescription.Step{
		Name: "climb", Kind: prescription.Steady, Role: prescription.Work, Duration: 170, Over: "climbs",
		Targets: prescription.Targets{Power: power(99, 153)},
	}
	s := prescription.Session{
		Key: "autumn/w01/long-1", UID: "7f8d2b90-4c5a-5a61-9a77-6a1e9b3c2d02", Week: 1, Date: d, Start: units.NewClock(9, 0), Zone: "Europe/Paris",
		Place: "outdoor", Ride: "long", Session: "long_ride", Title: "3 h long ride · 99-122 W", Name: "Long ride", Minutes: 180, Leads: "power",
		Why: "Des heures en selle.", Targets: outside, Allowed: climbs,
		Steps: []prescription.Step{
			{Name: "work", Kind: prescription.Steady, Role: prescription.Work, Duration: 177 * 60, Targets: outside}, climb, sprint,
		},
	}
	there := s
	there.Place, there.Title, there.Minutes, there.Targets, there.Allowed = "indoor", "60 min long ride · 94-116 W", 60, inside, nil
	there.Steps = []prescription.Step{
		{Name: "warm_up", Kind: prescription.Ramp, Role: prescription.WarmUp, Duration: 1200, Targets: prescription.Targets{Power: power(68, 93)}},
		{Kind: prescription.Rounds, Role: prescription.Work, Times: 3, Duration: 800, Steps: []prescription.Step{
			{Name: "work", Kind: prescription.Steady, Role: prescription.Work, Duration: 700, Targets: inside},
			{Name: "ease", Kind: prescription.Steady, Role: prescription.Ease, Duration: 100, Targets: ease},
		}},
	}
	s.Instead = &there
	return s
}

func abroad(d units.Date) prescription.Session {
	s := steadySession(d)
	s.Key, s.UID, s.Week, s.Zone = "autumn/w02/steady-1", "3b9f3b1e-7f0c-5d59-9d8e-6a5a1f6f2f03", 2, "Asia/Kathmandu"
	s.Provisional, s.DecidedBy = true, units.NewDate(2026, 10, 25)
	return s
}

func TestAutumnIsWhole(t *testing.T) {
	p := autumn()
	files := bundle(t, p, nil, nil)
	if err := validate(t, schemaOf(t, "plan.json"), content(t, files, PlanName)); err != nil {
		t.Error(err)
	}
	cal, err := readCalendar(content(t, files, CalendarName))
	if err != nil {
		t.Fatal(err)
	}
	var zones []string
	for _, z := range cal.components("VTIMEZONE") {
		zones = append(zones, z.value("TZID"))
	}
	if diff := cmp.Diff([]string{"Asia/Kathmandu", "Europe/Paris"}, zones); diff != "" {
		t.Errorf("the zones of a journey (-want +got)\n%s", diff)
	}
	events := cal.components("VEVENT")
	for _, c := range []struct {
		event      int
		name, want string
	}{
		{0, "STATUS", "CONFIRMED"},
		{2, "DTSTART", "20261024T090000"},
		{3, "STATUS", "TENTATIVE"},
		{3, "DTSTART", "20261027T183000"},
		{4, "SUMMARY", "Tour du Lac"},
		{4, "DTSTART", "20261101"},
		{4, "DTEND", "20261102"},
		{4, "UID", prescription.EventUID(p.Block, p.Block.Events[0])},
	} {
		if got := events[c.event].value(c.name); got != c.want {
			t.Errorf("event %d: %s is %q, want %q", c.event, c.name, got, c.want)
		}
	}
	for _, c := range []struct {
		event int
		want  string
	}{
		{0, "Allowed above the band: climbs, up to 3 min at a time, at most 153 W.\n"},
		{2, "2 min 50 s at most 153 W\n"},
		{2, "\nIndoors instead: 60 min, ridden as 20 min rising from 68 to 93 W; 3 times (11 min 40 s at 94-116 W, at most 126 bpm and effort 11; 1 min 40 s at 68-93 W).\n"},
		{3, "Provisional: by 25 October 2026 it is settled whether the block goes on this long.\n"},
		{4, "It lasts about 6 h 30 min.\n"},
	} {
		text, err := unescape(events[c.event].value("DESCRIPTION"))
		if err != nil || !strings.Contains(text, c.want) {
			t.Errorf("event %d: no %q in\n%s", c.event, c.want, text)
		}
	}
	for i, e := range events {
		alarms := e.components("VALARM")
		if want := i < 4; (len(alarms) == 1) != want {
			t.Errorf("event %d has %d alarms", i, len(alarms))
		} else if want && (alarms[0].value("TRIGGER") != "-PT30M" || alarms[0].value("ACTION") != "DISPLAY") {
			t.Errorf("event %d: an alarm %v", i, alarms[0].lines)
		}
	}

	rows, err := csv.NewReader(bytes.NewReader(content(t, files, SessionsName))).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	column := func(row int, name string) string { return rows[row][slices.Index(csvHeader, name)] }
	for _, c := range []struct {
		row        int
		name, want string
	}{
		{1, "fixed", "work"},
		{1, "provisional", ""},
		{2, "fixed", ""},
		{3, "allowed", "Allowed above the band: climbs, up to 3 min at a time, at most 153 W."},
		{3, "instead_place", "indoor"},
		{3, "instead_minutes", "60"},
		{3, "instead_title", "60 min long ride · 94-116 W"},
		{4, "provisional", "yes"},
		{4, "zone", "Asia/Kathmandu"},
	} {
		if got := column(c.row, c.name); got != c.want {
			t.Errorf("row %d: %s is %q, want %q", c.row, c.name, got, c.want)
		}
	}

	var names []string
	for _, f := range files {
		if name, ok := strings.CutPrefix(f.Name, workoutsDir); ok {
			names = append(names, name)
		}
	}
	want := []string{"2026-10-20-commute.fit", "2026-10-20-steady.fit", "2026-10-24-long.fit", "2026-10-24-long-indoor.fit", "2026-10-27-steady.fit"}
	if diff := cmp.Diff(want, names); diff != "" {
		t.Errorf("workout files (-want +got)\n%s", diff)
	}
}

func TestCalendarWithoutHours(t *testing.T) {
	p := autumn()
	p.Block.Athlete.Calendar.AllDay = true
	p.Sessions[1].Date, p.Sessions[1].Start = units.NewDate(2026, 10, 25), units.NewClock(2, 30) // an hour that comes twice
	cal := calendarOf(t, p, nil)
	if n := len(cal.components("VTIMEZONE")); n > 0 {
		t.Errorf("%d time zones where no hour is told", n)
	}
	for i, e := range cal.components("VEVENT") {
		start, end := e.all("DTSTART")[0], e.all("DTEND")[0]
		if start.params["VALUE"] != "DATE" || end.params["VALUE"] != "DATE" || e.value("TRANSP") != "TRANSPARENT" {
			t.Errorf("event %d goes from %v to %v", i, start, end)
		}
		if len(e.components("VALARM")) > 0 {
			t.Errorf("event %d has a reminder, and no hour to count from", i)
		}
	}
}

// What the rider's device takes is what it gets, and the notes of a step say the rest.
func TestDevice(t *testing.T) {
	for _, c := range []struct {
		name   string
		device plan.Device
		want   readStep // the work of the long ride
	}{
		{"any", plan.Device{}, readStep{Target: "power", Low: 1099, High: 1122, Second: "heart_rate", Low2: 152, High2: 228}},
		{"heart rate leads", plan.Device{Leads: "heart_rate"}, readStep{Target: "heart_rate", Low: 152, High: 228, Second: "power", Low2: 1099, High2: 1122}},
		{"no heart rate", plan.Device{NoHeartRate: true}, readStep{Target: "power", Low: 1099, High: 1122}},
		{"heart rate leads, and there is none", plan.Device{Leads: "heart_rate", NoHeartRate: true}, readStep{Target: "power", Low: 1099, High: 1122}},
	} {
		p := autumn()
		p.Block.Athlete.Device = c.device
		step := workoutOf(t, p, &p.Sessions[2]).WorkoutSteps[0]
		c.want.Seconds, c.want.Intensity = 177*60, "active"
		if diff := cmp.Diff(c.want, read(step)); diff != "" {
			t.Errorf("%s (-want +got)\n%s", c.name, diff)
		}
		if !strings.Contains(step.Notes, "at 99-122 W, at most 128 bpm and effort 11") {
			t.Errorf("%s: the notes %q", c.name, step.Notes)
		}
	}
	s := longSession(units.NewDate(2026, 10, 24))
	s.Leads, s.Steps[0] = "effort", steady(600)
	p := autumn()
	p.Block.Athlete.Device = plan.Device{Leads: "power"}
	if got := read(workoutOf(t, p, &s).WorkoutSteps[0]); got.Target != "power" {
		t.Errorf("power leads on the device, which asks for %s", got.Target)
	}
}

func TestPlainLetters(t *testing.T) {
	p := autumn()
	s := p.Sessions[0]
	s.Title, s.Steps[0].Name, s.Steps[0].Note = "Möwe Åse 鳥 · 1 W", "Größe", "Øl, crêpes, 鳥"
	for _, c := range []struct {
		plain            bool
		title, name, sub string
	}{
		{true, "Mowe Ase ?", "Grosse", "Ol, crepes, ?"},
		{false, "Möwe Åse 鳥", "Größe", "Øl, crêpes, 鳥"},
	} {
		p.Block.Athlete.Device.Plain = c.plain
		file := workoutOf(t, p, &s)
		step := file.WorkoutSteps[0]
		if file.Workout.WktName != c.title || step.WktStepName != c.name || !strings.Contains(step.Notes, c.sub) {
			t.Errorf("plain %v: %q, %q, %q", c.plain, file.Workout.WktName, step.WktStepName, step.Notes)
		}
	}
}

// Two workouts of one session can be told apart on the device: by name, by number, by kind.
func TestInsteadOnTheDevice(t *testing.T) {
	p := autumn()
	list := workoutsOf(p.Sessions[2:3])
	if len(list) != 2 {
		t.Fatalf("%d workouts", len(list))
	}
	var planned, instead bytes.Buffer
	for i, buf := range []*bytes.Buffer{&planned, &instead} {
		if err := list[i].write(buf, p.Block.Athlete); err != nil {
			t.Fatal(err)
		}
	}
	a, b := readWorkout(t, planned.Bytes()), readWorkout(t, instead.Bytes())
	if a.Workout.WktName != "3 h long ride" || b.Workout.WktName != "indoor 60 min" || a.FileId.SerialNumber == b.FileId.SerialNumber ||
		a.Workout.SubSport == b.Workout.SubSport {
		t.Errorf("%q and %q, numbers %d and %d", a.Workout.WktName, b.Workout.WktName, a.FileId.SerialNumber, b.FileId.SerialNumber)
	}
	if n := len(b.WorkoutSteps); n != 8 { // five stairs, work and ease, their loop
		t.Errorf("%d steps instead", n)
	}
}

// A ride of a week that may not come says so on the device as well.
func TestProvisionalOnTheDevice(t *testing.T) {
	p := autumn()
	var buf bytes.Buffer
	if err := workoutsOf(p.Sessions[3:])[0].write(&buf, p.Block.Athlete); err != nil {
		t.Fatal(err)
	}
	if got := readWorkout(t, buf.Bytes()).Workout.WktDescription; !strings.Contains(got, "Provisional: by 25 October 2026") {
		t.Errorf("the description is %q", got)
	}
}
