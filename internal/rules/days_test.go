package rules

import (
	"slices"
	"testing"

	"towpath/internal/plan"
	"towpath/internal/prescription"
)

func TestRestDay(t *testing.T) {
	t.Parallel()
	const full = "60p 60p 60p 60p 60p 60p 60p"
	tests := []struct {
		name  string
		limit int // 0: the default
		weeks []string
		want  []seen
	}{
		{"one free day", 0, []string{"60p 60p 60p 60p 60p 60p -"}, nil},
		{"none", 0, []string{full}, []seen{{isWarning, "Week 1 has no day without riding", []int{1}, pinLine}}},
		{"a second week has a cause of its own", 0, []string{full, "60p 60p 60p 60p 60p 60p 60p"}, []seen{
			{isWarning, "Week 1 has no day without riding", []int{1}, pinLine},
			{isWarning, "Week 2 has no day without riding", []int{2}, pinLine + 1},
		}},
		{"exactly as many as written", 2, []string{"60p 60p 60p 60p 60p - -"}, nil},
		{"fewer than written", 2, []string{"60p 60p 60p 60p 60p 60p -"}, []seen{{isError, "Week 1 has 1 day without riding", []int{1}, pinLine}}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			p := blockOf(tt.weeks...)
			if tt.limit > 0 {
				p.Block.Limits.RestDays = own(tt.limit)
			}
			check(t, restDay, p, tt.want...)
		})
	}
}

func TestRestDayCountsDatesNotSessions(t *testing.T) {
	t.Parallel()
	p := blockOf("60p 60p 60p 60p 60p 60p -")
	week := &p.Schedule.Weeks[0]
	week.Sessions = append(week.Sessions, sessionOf("30", week.Week, start)) // two on Monday
	check(t, restDay, p)
}

func TestRunLength(t *testing.T) {
	t.Parallel()
	tests := []struct {
		name  string
		limit int
		weeks []string
		want  []seen
	}{
		{"exactly five", 0, []string{"60p 60p 60p 60p 60p - 60p"}, nil},
		{"six", 0, []string{"60p 60p 60p 60p 60p 60p -"}, []seen{{isAdvice, "6 riding days in a row, from Monday 2026-09-14 to Saturday 2026-09-19", []int{1}, pinLine}}},
		{
			"across the end of a week", 0,
			[]string{"- - - - 60p 60p 60p", "60p 60p 60p - - - -"},
			[]seen{{isAdvice, "6 riding days in a row, from Friday 2026-09-18 to Wednesday 2026-09-23", []int{1, 2}, pinLine + 1}},
		},
		{"two runs are two findings of two causes", 0, []string{"60p 60p 60p 60p 60p 60p -", "60p 60p 60p 60p 60p 60p -"}, []seen{
			{isAdvice, "6 riding days in a row, from Monday 2026-09-14 to Saturday 2026-09-19", []int{1}, pinLine},
			{isAdvice, "6 riding days in a row, from Monday 2026-09-21 to Saturday 2026-09-26", []int{2}, pinLine + 1},
		}},
		{
			"exactly seven", 0,
			[]string{"- 60p 60p 60p 60p 60p 60p", "60p - - - - - -"},
			[]seen{{isAdvice, "7 riding days in a row, from Tuesday 2026-09-15 to Monday 2026-09-21", []int{1, 2}, pinLine + 1}},
		},
		{
			"eight", 0,
			[]string{"- 60p 60p 60p 60p 60p 60p", "60p 60p - - - - -"},
			[]seen{{isWarning, "8 riding days in a row, from Tuesday 2026-09-15 to Tuesday 2026-09-22", []int{1, 2}, pinLine + 1}},
		},
		{"a whole week is left to rest-day", 0, []string{"60p 60p 60p 60p 60p 60p 60p", "60p 60p - - - - -"}, nil},
		{
			"unless the limit was written", 8,
			[]string{"60p 60p 60p 60p 60p 60p 60p", "60p 60p - - - - -"},
			[]seen{{isError, "9 riding days in a row, from Monday 2026-09-14 to Tuesday 2026-09-22", []int{1, 2}, pinLine + 1}},
		},
		{"exactly as many as written", 3, []string{"60p 60p 60p - 60p - -"}, nil},
		{"more than written", 3, []string{"60p 60p 60p 60p - - -"}, []seen{{isError, "4 riding days in a row, from Monday 2026-09-14 to Thursday 2026-09-17", []int{1}, pinLine}}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			p := blockOf(tt.weeks...)
			if tt.limit > 0 {
				p.Block.Limits.RidingDaysInARow = own(tt.limit)
			}
			check(t, runLength, p, tt.want...)
		})
	}
}

func TestRecoveryGap(t *testing.T) {
	t.Parallel()
	const load, rest = "60 - - - - - -", "R 30 - - - - - -"
	tests := []struct {
		name  string
		limit int
		weeks []string
		want  []seen
	}{
		{"exactly three", 0, []string{load, load, load, rest, load, load, load}, nil},
		{"four", 0, []string{load, load, load, load, rest}, []seen{{isAdvice, "Weeks 1 to 4 are 4 loading weeks in a row", []int{4}, blockLine}}},
		{"five", 0, []string{rest, load, load, load, load, load}, []seen{{isWarning, "Weeks 2 to 6 are 5 loading weeks in a row", []int{5, 6}, blockLine}}},
		{
			"two runs are one finding", 0,
			[]string{load, load, load, load, rest, load, load, load, load, load},
			[]seen{{isWarning, "Weeks 6 to 10 are 5 loading weeks in a row; 1 more in week 4", []int{4, 9, 10}, blockLine}},
		},
		{"a week off ends a run", 0, []string{load, load, load, "- - - - - - -", load, load, load}, nil},
		{"exactly as many as written", 5, []string{load, load, load, load, load}, nil},
		{"more than written", 2, []string{load, load, load}, []seen{{isError, "Weeks 1 to 3 are 3 loading weeks in a row", []int{3}, blockLine}}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			p := blockOf(tt.weeks...)
			if tt.limit > 0 {
				p.Block.Limits.LoadingWeeks = own(tt.limit)
			}
			check(t, recoveryGap, p, tt.want...)
		})
	}
}

func TestRecoveryGapTellsTheRepair(t *testing.T) {
	t.Parallel()
	const load = "60 - - - - - -"
	of := func(n int) *prescription.Prescription { return blockOf(slices.Repeat([]string{load}, n)...) }
	list := check(t, recoveryGap, of(7), seen{isWarning, "Weeks 1 to 7 are 7 loading weeks in a row", []int{4, 5, 6, 7}, blockLine})
	details(t, list, "By default up to 3", "Make week 4 a recovery week: recovery { weeks = [4] }")
	list = check(t, recoveryGap, of(9), seen{isWarning, "Weeks 1 to 9 are 9 loading weeks in a row", []int{4, 5, 6, 7, 8, 9}, blockLine})
	details(t, list, "Make weeks 4 and 8 recovery weeks: recovery { weeks = [4, 8] }")
}

func TestRetestLoaded(t *testing.T) {
	t.Parallel()
	tests := []struct {
		name  string
		weeks []string
		want  []seen
	}{
		{"in a recovery week", []string{"60 - - - - - -", "R - - - - - 75t -"}, nil},
		{"in the first week", []string{"- - - - - 75t -"}, nil},
		{"in a loading week", []string{"60 - - - - - -", "- - - - - 75t -"}, []seen{{isWarning, "Lactate step test on Saturday 2026-09-26 (week 2) is in a loading week", []int{2}, testLine}}},
		{"a standard ride may be in any", []string{"60 - - - - - -", "- - - - - 60s -"}, nil},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			check(t, retestLoaded, blockOf(tt.weeks...), tt.want...)
		})
	}
}

func TestRestBeforeTest(t *testing.T) {
	t.Parallel()
	tests := []struct {
		name string
		week string
		want []seen
	}{
		{"rest", "- - - - - 75t -", nil},
		{"exactly 60 min of light riding", "- - - - 60e 75t -", nil},
		{"more light riding", "- - - - 65e 75t -", []seen{{isWarning, "65 min of Recovery spin, the day before Lactate step test on Saturday 2026-09-19 (week 1)", []int{1}, lightLine}}},
		{"riding that is not light", "- - - - 30p 75t -", []seen{{isWarning, "30 min of Steady, the day before Lactate step test on Saturday 2026-09-19 (week 1)", []int{1}, pinLine}}},
		{"another test the day before", "- - - - 40t 75t -", []seen{{isWarning, "40 min of Lactate step test, the day before Lactate step test on Saturday 2026-09-19 (week 1)", []int{1}, testLine}}},
		{"just under 2 h two days before", "- - - 115p - 75t -", nil},
		{"2 h two days before", "- - - 120p - 75t -", []seen{{isWarning, "2 h of Steady, 2 days before Lactate step test on Saturday 2026-09-19 (week 1)", []int{1}, pinLine}}},
		{"an ordinary day before a standard ride", "- - - - 145l 60s -", nil},
		{"a long day before a standard ride", "- - - - 150l 60s -", []seen{{isWarning, "2 h 30 min of Long ride, the day before Standard ride on Saturday 2026-09-19 (week 1)", []int{1}, longLine}}},
		{"long is more in a large week", "180 180 - - 150l 60s -", nil},
		{"the days of a test are not its eves", "- - - - - 75t 150l", nil},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			check(t, restBeforeTest, blockOf(tt.week), tt.want...)
		})
	}
}

// The days before a Monday test lie in the week before, and before the block nothing is known. A
// long day is measured against its own week: 150 min are none in one of 10 h.
func TestRestBeforeAMondayTest(t *testing.T) {
	t.Parallel()
	check(t, restBeforeTest, blockOf("75t - - - - - -", "60s - - - - - -"))
	check(t, restBeforeTest, blockOf("- - - - - 120p 65p", "75t - - - - - -"),
		seen{isWarning, "65 min of Steady, the day before Lactate step test on Monday 2026-09-21 (week 2); 1 more in week 2", []int{2}, pinLine})
	check(t, restBeforeTest, blockOf("- - - - - - 150l", "60s 500 - - - - -"),
		seen{isWarning, "2 h 30 min of Long ride, the day before Standard ride on Monday 2026-09-21 (week 2)", []int{2}, longLine})
	check(t, restBeforeTest, blockOf("200 250 - - - - 150l", "60s - - - - - -"))
}

func TestScreeningMissing(t *testing.T) {
	t.Parallel()
	const testSummary = "Lactate step test on Saturday 2026-09-19 (week 1) is maximal, and "
	day := start.Add(5)
	tests := []struct {
		name      string
		week      string
		statement *plan.Screening
		want      []seen
	}{
		{"allowed", "- - - - - 75t -", &plan.Screening{On: start, Allows: "maximal"}, nil},
		{"allowed on its day for the last time", "- - - - - 75t -", &plan.Screening{On: start, Until: day, Allows: "maximal"}, nil},
		{"ended the day before", "- - - - - 75t -", &plan.Screening{On: start, Until: day.Add(-1), Allows: "maximal"}, []seen{{isError, testSummary + "the screening statement ended on 2026-09-18", []int{1}, testLine}}},
		{"made on the day of the test", "- - - - - 75t -", &plan.Screening{On: day, Allows: "maximal"}, nil},
		{"made after the test", "- - - - - 75t -", &plan.Screening{On: day.Add(1), Allows: "maximal"}, []seen{{isError, testSummary + "the screening statement is of a later day, 2026-09-20", []int{1}, testLine}}},
		{"less is allowed", "- - - - - 75t -", &plan.Screening{On: start, Allows: "submaximal"}, []seen{{isError, testSummary + `the screening statement allows "submaximal"`, []int{1}, testLine}}},
		{"no statement", "- - - - - 75t -", nil, []seen{{isError, testSummary + "the athlete has no screening statement", []int{1}, testLine}}},
		{"no statement, no maximal test", "- - - - - 60s -", nil, []seen{{isWarning, `Athlete "ana" has no screening statement`, nil, athleteLine}}},
		{"easy riding is allowed", "- - - - - 60s -", &plan.Screening{On: start, Allows: "easy riding only"}, nil},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			p := blockOf(tt.week)
			p.Block.Athlete.Screening = tt.statement
			check(t, screeningMissing, p, tt.want...)
		})
	}
}

func TestScreeningOfATestThatIsPast(t *testing.T) {
	t.Parallel()
	p := blockOf("- - - - - 75t -")
	p.Block.Athlete.Screening = &plan.Screening{On: start, Until: start.Add(1), Allows: "maximal"}
	p.AsOf = start.Add(6)
	check(t, screeningMissing, p)
}
