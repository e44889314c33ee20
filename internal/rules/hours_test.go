package rules

import (
	"testing"

	"towpath/internal/diag"
	"towpath/internal/plan"
	"towpath/internal/prescription"
	"towpath/internal/units"
)

const (
	isError   = diag.Error
	isWarning = diag.Warning
	isAdvice  = diag.Advice
)

func TestWeeklyGrowth(t *testing.T) {
	t.Parallel()
	written := func(share units.Share, p *prescription.Prescription) *prescription.Prescription {
		p.Block.Limits.WeeklyGrowth = own(share)
		return p
	}
	recent := func(p *prescription.Prescription, until units.Date, weeks ...units.Minutes) *prescription.Prescription {
		p.Block.Athlete.Recent, p.Block.Athlete.RecentUntil = weeks, until
		return p
	}
	tests := []struct {
		name string
		p    *prescription.Prescription
		want []seen
	}{
		{"exactly a tenth", blockOf("400 - - - - - -", "440 - - - - - -"), nil},
		{"above a tenth", blockOf("400 - - - - - -", "445 - - - - - -"), []seen{{isAdvice, "Week 2 grows by 11 % over week 1", []int{2}, growthLine}}},
		{"exactly 30 min of a small week", blockOf("120 - - - - - -", "150 - - - - - -"), nil},
		{"more than 30 min of a small week", blockOf("60 - - - - - -", "95 - - - - - -"), []seen{{isWarning, "Week 2 grows by 58 % over week 1", []int{2}, growthLine}}},
		{"exactly 30 %", blockOf("400 - - - - - -", "520 - - - - - -"), []seen{{isAdvice, "Week 2 grows by 30 % over week 1", []int{2}, growthLine}}},
		{"above 30 %", blockOf("400 - - - - - -", "525 - - - - - -"), []seen{{isWarning, "Week 2 grows by 31 % over week 1", []int{2}, growthLine}}},
		{"back from a recovery week", blockOf("400 - - - - - -", "R 240 - - - - - -", "440 - - - - - -"), nil},
		{"the fourth week back still counts", blockOf("440 - - - - - -", "R 40 - - - - - -", "R 40 - - - - - -", "R 40 - - - - - -", "480 - - - - - -"), nil},
		{
			"the fifth week back does not",
			blockOf("440 - - - - - -", "R 100 - - - - - -", "R 100 - - - - - -", "R 100 - - - - - -", "R 100 - - - - - -", "140 - - - - - -"),
			[]seen{{isWarning, "Week 6 grows by 40 % over week 5", []int{6}, growthLine}},
		},
		{"a written limit has no 30 min", written(0.10, blockOf("120 - - - - - -", "135 - - - - - -")), []seen{{isError, "Week 2 grows by 13 % over week 1", []int{2}, growthLine}}},
		{"exactly a written limit", written(0.125, blockOf("120 - - - - - -", "135 - - - - - -")), nil},
		{"three weeks before the block count for week 2", recent(blockOf("300 - - - - - -", "400 - - - - - -"), start.Add(-1), 310, 390, 310, 310), nil},
		{
			"the fourth does not", recent(blockOf("300 - - - - - -", "400 - - - - - -"), start.Add(-1), 390, 310, 310, 310),
			[]seen{{isAdvice, "Week 2 grows by 29 % over the week from 2026-09-07", []int{2}, growthLine}},
		},
		{
			"nor the third where a week lies between", recent(blockOf("300 - - - - - -", "400 - - - - - -"), start.Add(-8), 310, 390, 310, 310),
			[]seen{{isAdvice, "Week 2 grows by 29 % over the week from 2026-08-31", []int{2}, growthLine}},
		},
		{
			"several weeks of one cause are one finding", blockOf("400 - - - - - -", "460 - - - - - -", "R 200 - - - - - -", "600 - - - - - -"),
			[]seen{{isWarning, "Week 4 grows by 30.4 % over week 2; 1 more in week 2", []int{2, 4}, growthLine}},
		},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			check(t, weeklyGrowth, tt.p, tt.want...)
		})
	}
}

func TestWeeklyGrowthTellsTheRepair(t *testing.T) {
	t.Parallel()
	p := blockOf("340 - - - - - -", "385 - - - - - -")
	list := check(t, weeklyGrowth, p, seen{isAdvice, "Week 2 grows by 13 % over week 1", []int{2}, growthLine})
	details(t, list, "5 h 40 min to 6 h 25 min", "by default up to 10 % or 30 min more", "limits.weekly_growth", "At most 6 h 10 min keeps")
	fixed(t, list, growthLine, `"10 %"`)

	p.Block.Limits.WeeklyGrowth = own[units.Share](0.10)
	p.Block.Weeks[1].Range = line(pinLine) // hours of the week itself
	list = check(t, weeklyGrowth, p, seen{isError, "Week 2 grows by 13 % over week 1", []int{2}, pinLine})
	details(t, list, "in this block up to 10 % more (limits.weekly_growth, line 16)")
	fixed(t, list, pinLine, `"6 h 10 min"`)

	p.Block.Weeks[1].Range = line(volumeLine) // growth was not written
	list = check(t, weeklyGrowth, p, seen{isError, "Week 2 grows by 13 % over week 1", []int{2}, volumeLine})
	fixed(t, list, volumeLine, "")
}

func TestStartVolume(t *testing.T) {
	t.Parallel()
	tests := []struct {
		name   string
		recent []units.Minutes
		first  string
		want   []seen
	}{
		{"exactly 1.1 times the mean", []units.Minutes{300, 300, 300, 300}, "330 - - - - - -", nil},
		{"above 1.1 times the mean", []units.Minutes{300, 300, 300, 300}, "335 - - - - - -", []seen{{isWarning, "Week 1 starts with 5 h 35 min, above what was ridden before", []int{1}, firstLine}}},
		{"one lost week does not count", []units.Minutes{300, 60, 300, 300}, "330 - - - - - -", nil},
		{"it does where it was the last", []units.Minutes{300, 300, 300, 60}, "265 - - - - - -", []seen{{isWarning, "Week 1 starts with 4 h 25 min, above what was ridden before", []int{1}, firstLine}}},
		{"exactly 1.1 times all four", []units.Minutes{320, 320, 320, 240}, "330 - - - - - -", nil},
		{"four times the same is no smallest last", []units.Minutes{200, 300, 300, 300}, "330 - - - - - -", nil},
		{"the last four count", []units.Minutes{600, 300, 300, 300, 300}, "335 - - - - - -", []seen{{isWarning, "Week 1 starts with 5 h 35 min, above what was ridden before", []int{1}, firstLine}}},
		{"two weeks are a mean too", []units.Minutes{200, 400}, "330 - - - - - -", nil},
		{"small weeks leave 2 h 30 min", []units.Minutes{60, 60, 60, 60}, "150 - - - - - -", nil},
		{"and not more", []units.Minutes{60, 60, 60, 60}, "155 - - - - - -", []seen{{isWarning, "Week 1 starts with 2 h 35 min, above what was ridden before", []int{1}, firstLine}}},
		{"unknown weeks, small start", nil, "150 - - - - - -", nil},
		{"unknown weeks", nil, "155 - - - - - -", []seen{{isAdvice, "Week 1 starts with 2 h 35 min, and the weeks before are not known", []int{1}, firstLine}}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			p := blockOf(tt.first)
			p.Block.Athlete.Recent = tt.recent
			check(t, startVolume, p, tt.want...)
		})
	}
}

func TestStartVolumeTellsTheRepair(t *testing.T) {
	t.Parallel()
	p := blockOf("300 - - - - - -")
	p.Block.Athlete.Recent = []units.Minutes{270, 240, 120, 255}
	list := check(t, startVolume, p, seen{isWarning, "Week 1 starts with 5 h, above what was ridden before", []int{1}, firstLine})
	details(t, list, "The mean of the best 3 of the last 4 weeks is 4 h 15 min; by default up to 110 % of that", "At most 4 h 40 min keeps it")
	fixed(t, list, firstLine, `"4 h 40 min"`)

	p.Block.Athlete.Recent = []units.Minutes{60, 60}
	list = check(t, startVolume, p, seen{isWarning, "Week 1 starts with 5 h, above what was ridden before", []int{1}, firstLine})
	details(t, list, "The mean of the last 2 weeks is 60 min; by default up to 2 h 30 min for anybody", "At most 2 h 30 min keeps it")
}

func TestStartVolumeWritten(t *testing.T) {
	t.Parallel()
	p := blockOf("400 - - - - - -")
	p.Block.Athlete.Background = "returning"
	p.Block.Limits.StartVolume = own[units.Minutes](400)
	check(t, startVolume, p)
	p.Block.Limits.StartVolume = own[units.Minutes](395)
	list := check(t, startVolume, p, seen{isError, "Week 1 starts with 6 h 40 min", []int{1}, firstLine})
	details(t, list, "In this block up to 6 h 35 min (limits.start_volume, line 16)")
	fixed(t, list, firstLine, `"6 h 35 min"`)
}

func TestStartVolumeOfReturningRiders(t *testing.T) {
	t.Parallel()
	tests := []struct {
		name    string
		longest units.Minutes
		first   string
		want    []seen
	}{
		{"exactly the most", 0, "40 50 75 - 75 - -", nil},
		{"too many hours", 0, "45 50 75 - 75 - -", []seen{{isWarning, "Week 1 starts a returning rider with 4 h 5 min", []int{1}, firstLine}}},
		{"a ride too long", 0, "40 - 80 - 75 - -", []seen{{isWarning, "Steady on Wednesday 2026-09-16 (week 1) is 80 min for a returning rider", []int{1}, steadyLine}}},
		{"a ride as long as the longest", 90, "40 - 90 - 75 - -", nil},
		{"too many rides", 0, "30 30 30 30 30 30 -", []seen{{isWarning, "Week 1 starts a returning rider with 6 rides", []int{1}, firstLine}}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			p := blockOf(tt.first)
			p.Block.Athlete.Background, p.Block.Athlete.Longest = "returning", tt.longest
			p.Block.Athlete.Recent = []units.Minutes{400, 400, 400, 400}
			check(t, startVolume, p, tt.want...)
		})
	}
}

func TestSessionSpike(t *testing.T) {
	t.Parallel()
	const none = "- - - - - - -"
	of := func(longest units.Minutes, weeks ...string) *prescription.Prescription {
		p := blockOf(weeks...)
		p.Block.Athlete.Longest = longest
		return p
	}
	written := func(by plan.Increase, p *prescription.Prescription) *prescription.Prescription {
		p.Block.Limits.SessionSpike = own(by)
		return p
	}
	sunday := func(severity diag.Severity, more string) []seen {
		return []seen{{severity, "Long ride on Sunday 2026-09-20 (week 1) is " + more + " longer than any ride of the 30 days before", []int{1}, longLine}}
	}
	tests := []struct {
		name string
		p    *prescription.Prescription
		want []seen
	}{
		{"exactly a tenth of a long one", of(250, "- - - - - - 275l"), nil},
		{"above a tenth of a long one", of(250, "- - - - - - 280l"), sunday(isAdvice, "30 min")},
		{"exactly 20 min", of(150, "- - - - - - 170l"), nil},
		{"above 20 min", of(150, "- - - - - - 175l"), sunday(isAdvice, "25 min")},
		{"exactly 45 min", of(150, "- - - - - - 195l"), sunday(isAdvice, "45 min")},
		{"above 45 min", of(150, "- - - - - - 200l"), sunday(isWarning, "50 min")},
		{"exactly 30 % of a long one", of(200, "- - - - - - 260l"), sunday(isAdvice, "60 min")},
		{"above 30 % of a long one", of(200, "- - - - - - 265l"), sunday(isWarning, "65 min")},
		{"75 min are free", of(30, "- - - - - - 75l"), nil},
		{"80 are not", of(30, "- - - - - - 80l"), sunday(isAdvice, "50 min")},
		{"105 are advice", of(30, "- - - - - - 105l"), sunday(isAdvice, "75 min")},
		{"110 are a warning", of(30, "- - - - - - 110l"), sunday(isWarning, "80 min")},
		{"not known before: the first week is not judged", of(0, "60 - - - - - 200l"), nil},
		{
			"not known before: later weeks are", of(0, "60 - - - - - 100l", "- - - - - - 125l"),
			[]seen{{isAdvice, "Long ride on Sunday 2026-09-27 (week 2) is 25 min longer than any ride of the 30 days before", []int{2}, longLine}},
		},
		{"a ride of the plan counts 30 days on", of(60, "- - - - - - 75l", none, none, none, none, "- 95l - - - - -"), nil},
		{
			"and no longer", of(60, "- - - - - - 75l", none, none, none, none, "- - 95l - - - -"),
			nil, // nothing in the 30 days before: no reference
		},
		{
			"a shorter one is the reference then", of(60, "- - - - - - 100l", "60 - - - - - -", none, none, none, "- - 100l - - - -"),
			[]seen{
				{isAdvice, "Long ride on Sunday 2026-09-20 (week 1) is 40 min longer than any ride of the 30 days before; 1 more in week 6", []int{1, 6}, longLine},
			},
		},
		{"tests are no leap", of(60, "- - - - - - 120t"), nil},
		{"written share", written(plan.Increase{Share: 0.10}, of(60, "- - - - - - 70l")), sunday(isError, "10 min")},
		{"exactly the written minutes", written(plan.Increase{Minutes: 30}, of(150, "- - - - - - 180l")), nil},
		{"above the written minutes", written(plan.Increase{Minutes: 30}, of(150, "- - - - - - 185l")), sunday(isError, "35 min")},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			check(t, sessionSpike, tt.p, tt.want...)
		})
	}
	list := check(t, sessionSpike, of(150, "- - - - - - 175l"), sunday(isAdvice, "25 min")...)
	details(t, list, "2 h 55 min, and the longest was 2 h 30 min before the block", "by default up to 10 % more or 20 min more", "At most 2 h 50 min keeps it; above 3 h 15 min it is a warning")
}

func TestLongShare(t *testing.T) {
	t.Parallel()
	tests := []struct {
		name  string
		limit units.Share
		week  string
		want  []seen
	}{
		{"exactly 45 %", 0, "40 - 40 30 - 90l -", nil},
		{"above 45 %", 0, "40 - 40 30 - 95l -", []seen{{isAdvice, "Long ride on Saturday 2026-09-19 (week 1) takes 46 % of its week", []int{1}, longLine}}},
		{"exactly 55 %", 0, "30 - 30 30 - 110l -", []seen{{isAdvice, "Long ride on Saturday 2026-09-19 (week 1) takes 55 % of its week", []int{1}, longLine}}},
		{"above 55 %", 0, "30 - 30 30 - 115l -", []seen{{isWarning, "Long ride on Saturday 2026-09-19 (week 1) takes 56 % of its week", []int{1}, longLine}}},
		{"three rides are not judged", 0, "30 - 30 - - 200l -", nil},
		{"a test is no long ride", 0, "30 - 30 30 - 120t -", nil},
		{"exactly a written limit", 0.5, "50 - 50 - - 100l -", nil},
		{"above a written limit, three rides", 0.5, "50 - 45 - - 100l -", []seen{{isError, "Long ride on Saturday 2026-09-19 (week 1) takes 51 % of its week", []int{1}, longLine}}},
		{"a written limit that two rides cannot keep", 0.5, "- - 45 - - 100l -", nil},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			p := blockOf(tt.week)
			if tt.limit > 0 {
				p.Block.Limits.LongShare = own(tt.limit)
			}
			check(t, longShare, p, tt.want...)
		})
	}
}

func TestBigWeekend(t *testing.T) {
	t.Parallel()
	weekend := func(severity diag.Severity, more string) []seen {
		return []seen{{severity, "Saturday and Sunday of week 2 hold " + more + " more than any two days in a row before", []int{2}, longLine}}
	}
	tests := []struct {
		name  string
		limit plan.Increase
		weeks []string
		want  []seen
	}{
		{"exactly 30 min of a short one", plan.Increase{}, []string{"- - - - - 85l 45", "- - - - - 110l 50"}, nil},
		{"above 30 min of a short one", plan.Increase{}, []string{"- - - - - 85l 45", "- - - - - 110l 55"}, weekend(isAdvice, "35 min")},
		{"exactly 2 h 30 min is never big", plan.Increase{}, []string{"- - - - - 40l 30", "- - - - - 90l 60"}, nil},
		{"more than that after a very short one", plan.Increase{}, []string{"- - - - - 40l 30", "- - - - - 90l 65"}, weekend(isAdvice, "85 min")},
		{"exactly 15 % of a long one", plan.Increase{}, []string{"- - - - - 240l 160", "- - - - - 280l 180"}, nil},
		{"above 15 % of a long one", plan.Increase{}, []string{"- - - - - 240l 160", "- - - - - 285l 180"}, weekend(isAdvice, "65 min")},
		{"one day is not two", plan.Increase{}, []string{"- - - - - 240l 120", "- - - - - 600l -"}, nil},
		{"the first week has nothing to be compared with", plan.Increase{}, []string{"30 30 - - - 240l 120"}, nil},
		{"exactly written minutes", plan.Increase{Minutes: 60}, []string{"- - - - - 100l 100", "- - - - - 140l 120"}, nil},
		{"above written minutes", plan.Increase{Minutes: 60}, []string{"- - - - - 100l 100", "- - - - - 145l 120"}, weekend(isError, "65 min")},
		{
			"across the end of a week",
			plan.Increase{},
			[]string{"- - - - - 60l 60", "- - - - - - 120l", "90 - - - - - -"},
			[]seen{{isAdvice, "Sunday of week 2 and Monday of week 3 hold 90 min more than any two days in a row before", []int{2, 3}, longLine}},
		},
		{"the end of the first week was never ridden before either", plan.Increase{}, []string{"- - - - - - 120l", "90 - - - - - -"}, nil},
		{"only the largest pair of a week is told", plan.Increase{}, []string{"- - - - - 60l 60", "- - - - 100 200l 150"}, weekend(isAdvice, "3 h 50 min")},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			p := blockOf(tt.weeks...)
			if tt.limit != (plan.Increase{}) {
				p.Block.Limits.BigWeekend = own(tt.limit)
			}
			list := check(t, bigWeekend, p, tt.want...)
			switch tt.name {
			case "more than that after a very short one":
				details(t, list, "by default up to 2 h 30 min after any", "At most 2 h 30 min keeps it")
			case "above 30 min of a short one":
				details(t, list, "by default up to 30 min or 15 % more, whichever is more", "At most 2 h 40 min keeps it")
			}
		})
	}
}
