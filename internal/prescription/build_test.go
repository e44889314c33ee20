package prescription_test

import (
	"fmt"

	"towpath/internal/diag"
	"towpath/internal/plan"
	"towpath/internal/schedule"
	"towpath/internal/threshold"
	"towpath/internal/units"
)

// The rider of these tests is invented: threshold 142 W, band 100-134 W, heart rate 60 + 0.45 P.

func share(low, high float64) units.Range[units.Share] {
	return units.Range[units.Share]{Low: units.Share(low), High: units.Share(high)}
}

func ptr[T any](v T) *T { return &v }

func rider() *plan.Athlete {
	return &plan.Athlete{
		Key: "ana", Zone: "Europe/Lisbon", Sex: "male", PowerMeter: true,
		HeartRate: plan.HeartRate{Resting: 50, Maximum: 185, Usable: true},
	}
}

func bandOf(floor, ceiling, thresholdPower units.Power) *plan.Band {
	line := &threshold.HeartRateLine{Intercept: 60, Slope: 0.45, From: 60, To: 200}
	return &plan.Band{
		Key: "autumn", Power: units.Range[units.Power]{Low: floor, High: ceiling}, Threshold: thresholdPower, ThresholdKnown: true,
		Line: line, Scale: 1, HeartRate: &units.Range[units.HeartRate]{Low: line.At(floor), High: line.At(ceiling)},
		HeartRateCap: ptr(line.At(thresholdPower)),
		Result: &threshold.Result{Efforts: []threshold.EffortPoint{
			{Power: 60, Effort: 7}, {Power: 100, Effort: 9}, {Power: 140, Effort: 11}, {Power: 180, Effort: 14},
		}},
		Leads:  "power",
		Origin: diag.Origin{What: fmt.Sprintf("ceiling %s", ceiling)},
	}
}

func usualBand() *plan.Band { return bandOf(100.2, 133.6, 141.8) }

const start = units.Date(20711) // a Monday

// blockOf gives a schedule of one week with the sessions on its days, in order.
func blockOf(athlete *plan.Athlete, bands []*plan.Band, sessions ...schedule.Session) *schedule.Schedule {
	week := &plan.Week{Number: 1, Start: start, Kind: plan.Loading}
	b := &plan.Block{PlanID: "k7q2m9fw", Key: "autumn", Athlete: athlete, Start: start, Weeks: []*plan.Week{week}, Bands: bands}
	for i := range sessions {
		sessions[i].Week, sessions[i].Date = 1, start.Add(i%7)
		if sessions[i].Slot == 0 {
			sessions[i].Slot = 1 + i/7
		}
	}
	return &schedule.Schedule{Block: b, Weeks: []schedule.Week{{Week: week, Sessions: sessions}}}
}

func ride(minutes units.Minutes, s *plan.Session) schedule.Session {
	return schedule.Session{Minutes: minutes, Session: s, Ride: &plan.Ride{Key: s.Key, Session: s}}
}

func testDay(minutes units.Minutes, s *plan.Session, like *threshold.StepTest) schedule.Session {
	return schedule.Session{Minutes: minutes, Session: s, Given: &plan.Given{Session: s, Minutes: minutes, Test: &plan.TestDay{Key: "retest", Like: like}}}
}

func mins(n int) units.Duration { return units.Minutes(n).Duration() }

func warmUp(n int) plan.Step {
	return plan.Step{Name: "warm_up", Duration: mins(n), Rising: true, Target: plan.OfThreshold, Share: share(0.5, 0.7)}
}

func coolDown(n int) plan.Step {
	return plan.Step{Name: "cool_down", Duration: mins(n), Target: plan.Below}
}

func fill(name string, low, high float64) plan.Step {
	return plan.Step{Name: name, Fill: true, Target: plan.Position, Share: share(low, high)}
}

func steady() *plan.Session {
	return &plan.Session{
		Key: "steady", Title: "Steady", Purpose: "Time in the middle of the band.", Feel: "Easy from start to end.",
		IfWrong: "Take 10 W off and keep the time.", Steps: []plan.Step{warmUp(10), fill("work", 0.33, 0.67), coolDown(5)},
	}
}

func longRide(low, high float64) *plan.Session {
	return &plan.Session{
		Key: "long_ride", Title: "Long ride", Purpose: "The length is the work.",
		Steps: []plan.Step{warmUp(10), fill("work", low, high), coolDown(10)},
	}
}

func progressive() *plan.Session {
	return &plan.Session{Key: "progressive", Title: "Progressive", Steps: []plan.Step{
		warmUp(10), fill("lower", 0, 0.33), fill("middle", 0.33, 0.67), fill("upper", 0.67, 1), coolDown(5),
	}}
}

func upperThird() *plan.Session {
	cool := coolDown(5)
	cool.Spare = true
	return &plan.Session{Key: "upper_third", Title: "Upper third", Steps: []plan.Step{
		warmUp(12),
		{Repeat: &plan.Repeat{Fill: true, Steps: []plan.Step{
			{Name: "work", Duration: mins(12), Target: plan.Position, Share: share(0.67, 1), Cadence: &units.Range[units.Cadence]{Low: 85, High: 95}},
			{Name: "ease", Duration: mins(3), Target: plan.Below},
		}}},
		cool,
	}}
}

func recoverySpin() *plan.Session {
	return &plan.Session{Key: "recovery_spin", Title: "Recovery spin", Steps: []plan.Step{{Name: "work", Fill: true, Target: plan.Below}}}
}

func stepTest() *plan.Session {
	return &plan.Session{Key: "lactate_step", Title: "Lactate step test", Protocol: true, Maximal: true, Minutes: 75, Stop: "Stop when the tester says so.", Steps: []plan.Step{
		{Name: "warm_up", Duration: mins(10), Target: plan.OfThreshold, Share: share(0.45, 0.5)},
		{Repeat: &plan.Repeat{Times: 10, Rising: 20, Steps: []plan.Step{{Name: "stage", Duration: mins(4), Target: plan.OfThreshold, Share: share(0.5, 0.5)}}}},
		{Name: "cool_down", Fill: true, Target: plan.Below},
	}}
}

func efforts() *plan.Session {
	return &plan.Session{Key: "efforts", Title: "Two maximal efforts", Protocol: true, Maximal: true, Steps: []plan.Step{
		{Name: "warm_up", Duration: mins(20), Rising: true, Target: plan.OfThreshold, Share: share(0.5, 0.9)},
		{Name: "effort", Duration: mins(3), Target: plan.AllOut},
		{Name: "rest", Duration: mins(30), Target: plan.Below},
		{Name: "effort", Duration: mins(12), Target: plan.AllOut},
		{Name: "cool_down", Fill: true, Target: plan.Below},
	}}
}

func sprint() *plan.Session {
	return &plan.Session{Key: "sprint_30s", Title: "Thirty seconds all out", Protocol: true, Maximal: true, Steps: []plan.Step{
		{Name: "warm_up", Duration: mins(20), Rising: true, Target: plan.OfThreshold, Share: share(0.5, 0.9)},
		{Name: "effort", Duration: 30, Target: plan.AllOut},
		{Name: "cool_down", Fill: true, Target: plan.Below},
	}}
}

func standardRide() *plan.Session {
	at := func(name string, low, high float64) plan.Step {
		return plan.Step{Name: name, Duration: mins(12), Target: plan.Position, Share: share(low, high)}
	}
	return &plan.Session{Key: "standard_ride", Title: "Standard ride", Protocol: true, KeepsWatts: true, Steps: []plan.Step{
		{Name: "warm_up", Duration: mins(12), Rising: true, Target: plan.OfThreshold, Share: share(0.5, 0.65)},
		at("first", 0.1, 0.3), at("second", 0.4, 0.6), at("third", 0.7, 0.9),
		{Name: "cool_down", Fill: true, Target: plan.Below},
	}}
}
