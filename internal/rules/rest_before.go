package rules

import (
	"fmt"

	"towpath/internal/diag"
	"towpath/internal/physiology"
	"towpath/internal/prescription"
	"towpath/internal/units"
)

var restBeforeTest = Rule{
	Code:  "rest-before-test",
	Title: "Too much riding before a test",
	Why: "Two tests can be compared only when the days before them were alike and easy. Placement keeps these days free; " +
		"a finding comes only where rides with a given day fill them.",
	Mend: "Move or shorten the fixed or pinned ride, or move the test.",
	Default: fmt.Sprintf("Warning. Before a maximal test: the day before at most %s and only light riding, two days before less than %s. The day before a standard ride: no long day (%s, or %d %% of the week where that is more).",
		physiology.DayBeforeTest.Value, physiology.TwoDaysBeforeTest.Value, physiology.LongDay.Value, physiology.LongDayPercent.Value),
	Evidence: "Common practice, no source.",
	basis:    "Common practice, no source",
	check:    checkRestBeforeTest,
}

func checkRestBeforeTest(p *prescription.Prescription) (out []finding) {
	all := rides(p)
	for _, test := range all {
		protocol := test.protocol()
		switch {
		case protocol == nil:
			continue
		case protocol.Maximal:
			eve, light, of := onDate(all, test.Date.Add(-1))
			if most := physiology.DayBeforeTest.Value; eve > most || eve > 0 && !light {
				out = append(out, before(test, of, eve, 1, fmt.Sprintf("the day before a maximal test holds at most %s, and only light riding", most)))
			}
			eve, _, of = onDate(all, test.Date.Add(-2))
			if most := physiology.TwoDaysBeforeTest.Value; eve >= most {
				out = append(out, before(test, of, eve, 2, fmt.Sprintf("two days before a maximal test there is less than %s of riding", most)))
			}
		case protocol.KeepsWatts:
			eve, _, of := onDate(all, test.Date.Add(-1))
			if eve > 0 && eve >= longDay(p, of.Week) {
				out = append(out, before(test, of, eve, 1, fmt.Sprintf("the day before a standard ride is no long one: less than %s", longDay(p, of.Week))))
			}
		}
	}
	return out
}

// before says that a day before a test holds too much.
func before(test, of ride, held units.Minutes, days int, wanted string) finding {
	which := "the day before"
	if days > 1 {
		which = fmt.Sprintf("%d days before", days)
	}
	what := of.name
	if of.Minutes < held {
		what = "riding"
	}
	return finding{
		weeks: []int{test.Week}, severity: diag.Warning, subject: of.at,
		summary: fmt.Sprintf("%s of %s, %s %s", held, what, which, test),
		brief:   fmt.Sprintf("%s %s, %s", held, which, test),
		detail:  fmt.Sprintf("%s. Take the ride off %s, or shorten it", capital(wanted), onDay(of.Date)),
		related: []diag.Related{{Message: "the test", Range: test.at}},
	}
}

// onDate is the riding of a date: its minutes, whether all of it is light, and its longest ride.
func onDate(all []ride, d units.Date) (held units.Minutes, light bool, longest ride) {
	light = true
	for _, r := range all {
		if r.Date != d {
			continue
		}
		s := r.Session.Session
		held, light = held+r.Minutes, light && s != nil && s.Light && !s.Protocol
		if longest.Session == nil || r.Minutes > longest.Minutes {
			longest = r
		}
	}
	return held, light, longest
}

// longDay is the minutes from which a day of a week is long.
func longDay(p *prescription.Prescription, week int) units.Minutes {
	const whole = 100
	long := physiology.LongDay.Value
	for i, total := range weekTotals(p) {
		if p.Schedule.Weeks[i].Number == week {
			long = max(long, units.Minutes((int(total)*physiology.LongDayPercent.Value+whole-1)/whole))
		}
	}
	return long
}
