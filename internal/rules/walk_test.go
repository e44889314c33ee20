package rules

import (
	"slices"
	"testing"

	"towpath/internal/diag"
	"towpath/internal/plan"
	"towpath/internal/prescription"
	"towpath/internal/units"
)

func TestTwoDays(t *testing.T) {
	t.Parallel()
	tests := []struct {
		name  string
		limit units.Share // 0: not written
		weeks []string
		want  []seen
	}{
		{"off where not written", 0, []string{"- - - - - 240l 120"}, nil},
		{"exactly the share", 0.6, []string{"60 - 60 - - 120l 60"}, nil},
		{"above it", 0.6, []string{"60 - 55 - - 120l 60"}, []seen{{isError, "Saturday and Sunday of week 1 hold 61 % of the week", []int{1}, longLine}}},
		{"days with a day between", 0.6, []string{"60 - - 120l - 120l -"}, nil},
		{"one day alone", 0.6, []string{"- - - - - 240l -"}, nil},
		{"two rides of one day count together", 0.6, []string{"- 30f+60 - - 30f+60 60 -"}, []seen{{isError, "Friday and Saturday of week 1 hold 63 % of the week", []int{1}, steadyLine}}},
		{"only the largest pair is told", 0.5, []string{"- - - 100 100 200l -"}, []seen{{isError, "Friday and Saturday of week 1 hold 75 % of the week", []int{1}, longLine}}},
		{"across the end of a week nothing is a share", 0.6, []string{"60 - 60 - - - 90", "90 - 60 - 60 - -"}, nil},
		{"recovery weeks as well", 0.6, []string{"R - - - - - 90l 60"}, []seen{{isError, "Saturday and Sunday of week 1 hold 100 % of the week", []int{1}, longLine}}},
		{"a week off", 0.6, []string{"- - - - - - -"}, nil},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			p := blockOf(tt.weeks...)
			if tt.limit > 0 {
				p.Block.Limits.TwoDays = own(tt.limit)
			}
			list := check(t, twoDays, p, tt.want...)
			if tt.name == "above it" {
				details(t, list, "3 h of 4 h 55 min; in this block up to 60 % (limits.two_days, line 16)", "at most 2 h 55 min keeps it")
			}
		})
	}
}

func TestLongDaysApart(t *testing.T) {
	t.Parallel()
	found := func(first, second string, at int, weeks ...int) []seen {
		return []seen{{isError, first + " are both long: " + second, weeks, at}}
	}
	tests := []struct {
		name  string
		apart bool
		weeks []string
		want  []seen
	}{
		{"off", false, []string{"- - - - - 150l 150"}, nil},
		{"exactly long", true, []string{"- - - - - 150l 150"}, found("Saturday 2026-09-19 and Sunday 2026-09-20", "2 h 30 min and 2 h 30 min", longLine, 1)},
		{"one is not", true, []string{"- - - - - 180l 145"}, nil},
		{"a share of a large week", true, []string{"100 - 100 - - 180l 160"}, nil},
		{"across the end of a week", true, []string{"- - - - - - 150l", "150 - - - - - -"}, found("Sunday 2026-09-20 and Monday 2026-09-21", "2 h 30 min and 2 h 30 min", longLine, 1, 2)},
		{"two rides of a day make it long", true, []string{"- - - - - 30f+120 150"}, found("Saturday 2026-09-19 and Sunday 2026-09-20", "2 h 30 min and 2 h 30 min", steadyLine, 1)},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			p := blockOf(tt.weeks...)
			if tt.apart {
				p.Block.Limits.LongDaysApart = own(true)
			}
			check(t, longDaysApart, p, tt.want...)
		})
	}
}

func TestRecoveryDepth(t *testing.T) {
	t.Parallel()
	wrong := func(severity diag.Severity, what string) []seen {
		return []seen{{severity, "Recovery week 2 takes " + what + " week 1", []int{2}, growthLine}}
	}
	tests := []struct {
		name  string
		limit units.Range[units.Share] // zero: the default
		weeks []string
		want  []seen
	}{
		{"exactly 30 %", units.Range[units.Share]{}, []string{"200 - - - - - -", "R 140 - - - - - -"}, nil},
		{"less", units.Range[units.Share]{}, []string{"200 - - - - - -", "R 145 - - - - - -"}, wrong(isAdvice, "28 % off")},
		{"exactly half", units.Range[units.Share]{}, []string{"200 - - - - - -", "R 100 - - - - - -"}, nil},
		{"rounding to 5 min is no fault", units.Range[units.Share]{}, []string{"195 - - - - - -", "R 95 - - - - - -"}, nil},
		{"more", units.Range[units.Share]{}, []string{"200 - - - - - -", "R 95 - - - - - -"}, wrong(isAdvice, "53 % off")},
		{"no lighter", units.Range[units.Share]{}, []string{"200 - - - - - -", "R 210 - - - - - -"}, wrong(isAdvice, "nothing off")},
		{"a week off", units.Range[units.Share]{}, []string{"200 - - - - - -", "R - - - - - - -"}, nil},
		{"no loading week before", units.Range[units.Share]{}, []string{"R 200 - - - - - -", "R 190 - - - - - -"}, nil},
		{"two in a row are held against the same", units.Range[units.Share]{}, []string{"200 - - - - - -", "R 120 - - - - - -", "R 120 - - - - - -"}, nil},
		{"a written range", units.Range[units.Share]{Low: 0.4, High: 0.5}, []string{"200 - - - - - -", "R 125 - - - - - -"}, wrong(isError, "38 % off")},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			p := blockOf(tt.weeks...)
			if tt.limit.High > 0 {
				p.Block.Limits.RecoveryDepth = own(tt.limit)
			}
			list := check(t, recoveryDepth, p, tt.want...)
			if tt.name == "less" {
				details(t, list, "3 h 20 min to 2 h 25 min; by default 30-50 % off", "From 100 min to 2 h 20 min keeps it")
			}
		})
	}
}

func TestEventFar(t *testing.T) {
	t.Parallel()
	weeks := []string{"60 - - - - 150l -", "60 - - - - 170l -", "60 - - - - - 300l"}
	event := func(day int, lasts units.Minutes) *plan.Event {
		return &plan.Event{Key: "lake", Title: "Round the lake", Date: start.Add(day), Lasts: lasts, Range: line(eventLine)}
	}
	far := func(on, lasts, longest string, weeks ...int) []seen {
		return []seen{{isAdvice, "Round the lake on " + on + " lasts " + lasts + ", and the longest ride before it " + longest, weeks, eventLine}}
	}
	tests := []struct {
		name    string
		event   *plan.Event
		longest units.Minutes // of the athlete, before the block
		next    units.Date
		want    []seen
	}{
		{"exactly half", event(19, 340), 0, 0, nil},
		{"under half", event(19, 345), 0, 0, far("Saturday 2026-10-03", "5 h 45 min", "2 h 50 min", 3)},
		{"a ride after it does not count", event(19, 600), 0, 0, far("Saturday 2026-10-03", "10 h", "2 h 50 min", 3)},
		{"nor one on its date", event(20, 600), 0, 0, far("Sunday 2026-10-04", "10 h", "2 h 50 min", 3)},
		{"a ride of the month before the block does", event(19, 400), 200, 0, nil},
		{"after the block", event(30, 620), 0, 0, far("Wednesday 2026-10-14", "10 h 20 min", "5 h")},
		{"more than four weeks after it", event(20+29, 720), 0, 0, nil},
		{"before it began", event(0, 720), 0, 0, nil},
		{"another block comes first", event(30, 720), 0, start.Add(28), nil},
		{"another block comes after it", event(30, 720), 0, start.Add(35), far("Wednesday 2026-10-14", "12 h", "5 h")},
		{"how long it lasts is not known", event(19, 0), 0, 0, nil},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			p := blockOf(weeks...)
			p.Block.Events, p.Block.Next, p.Block.Athlete.Longest = []*plan.Event{tt.event}, tt.next, tt.longest
			list := check(t, eventFar, p, tt.want...)
			if tt.name == "under half" {
				details(t, list, "The longest is Long ride on Saturday 2026-09-26 (week 2); by default at least 50 %", "A ride of 2 h 55 min keeps it")
			}
		})
	}
}

// A limit of the coach's own is an error, or, where the block says so, a warning that can be waived.
// Either way it needs no evidence.
func TestWhenBroken(t *testing.T) {
	t.Parallel()
	broken := map[string]*prescription.Prescription{}
	for code, week := range map[string][]string{
		weeklyGrowth.Code:  {"100 - - - - - -", "120 - - - - - -"},
		startVolume.Code:   {"400 - - - - - -"},
		sessionSpike.Code:  {"- - - - - 100l -", "- - - - - 140l -"},
		longShare.Code:     {"60 - 60 - 60 - 200l"},
		bigWeekend.Code:    {"- - - - - 60l 60", "- - - - - 90l 90"},
		twoDays.Code:       {"60 - - - - 90l 90"},
		restDay.Code:       {"60p 60p 60p 60p 60p 60p -"},
		longDaysApart.Code: {"- - - - - 150l 150"},
		recoveryDepth.Code: {"200 - - - - - -", "R 180 - - - - - -"},
		runLength.Code:     {"60p 60p 60p - - - -"},
		recoveryGap.Code:   {"60 - - - - - -", "60 - - - - - -", "60 - - - - - -"},
	} {
		broken[code] = blockOf(week...)
	}
	for _, r := range All {
		p := broken[r.Code]
		if r.Limit == "" {
			if p != nil {
				t.Errorf("%s has no limit to write", r.Code)
			}
			continue
		}
		for _, warn := range []bool{false, true} {
			l := &p.Block.Limits
			written := func(s units.Share) plan.Limit[units.Share] {
				return plan.Limit[units.Share]{Value: s, Written: true, WarnOnly: warn}
			}
			many := func(n int) plan.Limit[int] { return plan.Limit[int]{Value: n, Written: true, WarnOnly: warn} }
			increase := plan.Limit[plan.Increase]{Value: plan.Increase{Minutes: 30}, Written: true, WarnOnly: warn}
			l.WeeklyGrowth, l.LongShare, l.TwoDays = written(0.1), written(0.4), written(0.6)
			l.SessionSpike, l.BigWeekend = increase, increase
			l.StartVolume = plan.Limit[units.Minutes]{Value: 300, Written: true, WarnOnly: warn}
			l.RecoveryDepth = plan.Limit[units.Range[units.Share]]{Value: units.Range[units.Share]{Low: 0.3, High: 0.5}, Written: true, WarnOnly: warn}
			l.LongDaysApart = plan.Limit[bool]{Value: true, Written: true, WarnOnly: warn}
			l.RestDays, l.RidingDaysInARow, l.LoadingWeeks = many(2), many(2), many(2)
			p.Block.Waivers = []*plan.Waiver{{Code: r.Code, Reason: "So be it.", Range: line(waiverLine)}}
			want := isError
			if warn {
				want = isWarning
			}
			list := r.merged(r.check(p), p.Block, newWaivers(p.Block))
			if len(list) == 0 {
				t.Errorf("%s found nothing", r.Code)
			}
			for _, d := range list {
				if d.Severity != want || (d.Waived != nil) != warn {
					t.Errorf("%s, warn %v: severity %s, waived %v", r.Code, warn, d.Severity, d.Waived != nil)
				}
				if d.SourceKey != "" {
					t.Errorf("%s cites %s for a limit of the coach's own", r.Code, d.SourceKey)
				}
			}
		}
	}
}

// Somebody who rides to work from Monday to Friday, and on one or both days of the weekend.
func TestCommuters(t *testing.T) {
	t.Parallel()
	six := "30f 30f+60 30f 30f+60 30f 120l -"
	seven := "30f 30f 30f 30f 30f 120p 60p"
	tests := []struct {
		name  string
		rule  Rule
		weeks []string
		want  []seen
	}{
		{"six days leave one", restDay, []string{six, six}, nil},
		{"seven leave none", restDay, []string{"30f 30f 30f 30f 30f 30f 30f", "30f 30f 30f 30f 30f 30f 30f"}, []seen{
			{isWarning, "Week 1 has no day without riding; 1 more in week 2", []int{1, 2}, fixedLine},
		}},
		{"a pinned weekend is blamed", restDay, []string{seven}, []seen{{isWarning, "Week 1 has no day without riding", []int{1}, pinLine}}},
		{"a run counts dates", runLength, []string{"30f+60 30f+60 30f+60 30f+60 30f+60 - -"}, nil},
		{"and is told once", runLength, []string{six, "- - - - - - -"}, []seen{{isAdvice, "6 riding days in a row, from Monday 2026-09-14 to Saturday 2026-09-19", []int{1}, fixedLine}}},
		{"two on one date are no leap", sessionSpike, []string{"- 75 - - - - -", "- 60f+75 - - - - -"}, nil},
		{"they count as two rides of the week", longShare, []string{"- 30f+30 - - 30f+110 - -"}, []seen{{isAdvice, "Steady on Friday 2026-09-18 (week 1) takes 55 % of its week", []int{1}, steadyLine}}},
		{"and together before a test", restBeforeTest, []string{"- - - - 40f+30e 75t -"}, []seen{
			{isWarning, "70 min of riding, the day before Lactate step test on Saturday 2026-09-19 (week 1)", []int{1}, fixedLine},
		}},
		{"an easy way to work is not too much before one", restBeforeTest, []string{"- - - - 30f+30e 75t -"}, nil},
		{"a big weekend counts dates", bigWeekend, []string{"- - - - - 30f+60l 60", "- - - - - 60l 90"}, nil},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			list := check(t, tt.rule, blockOf(tt.weeks...), tt.want...)
			for _, d := range list {
				for _, other := range d.Related {
					if other.Range == d.Subject {
						t.Errorf("%s points at its own place again", d.Code)
					}
				}
			}
		})
	}
}

// The day of an event is a riding day, though nothing is planned on it.
func TestEventsAreRidingDays(t *testing.T) {
	t.Parallel()
	p := blockOf("60p 60p 60p 60p 60p - 60p", "- - - - - - -")
	p.Block.Events = []*plan.Event{
		{Key: "lake", Title: "Round the lake", Date: start.Add(5), Range: line(eventLine)},
		{Key: "later", Title: "Next year", Date: start.Add(300), Range: line(eventLine)},
	}
	check(t, restDay, p, seen{isWarning, "Week 1 has no day without riding", []int{1}, pinLine})
	p.Schedule.Weeks[0].Sessions = p.Schedule.Weeks[0].Sessions[:5]
	check(t, restDay, p)
	check(t, runLength, p, seen{isAdvice, "6 riding days in a row, from Monday 2026-09-14 to Saturday 2026-09-19", []int{1}, pinLine})
}

// Somebody who joins in week 3 begins there: what is said of a first week is said of that one.
func TestLaterJoiners(t *testing.T) {
	t.Parallel()
	const off = "- - - - - - -"
	joins := func(weeks ...string) *prescription.Prescription {
		p := blockOf(slices.Concat([]string{off, off}, weeks)...)
		p.Block.Athlete.Recent, p.Block.Athlete.Longest = []units.Minutes{200, 200, 200, 200}, 100
		return p
	}
	unknown := func(p *prescription.Prescription) *prescription.Prescription {
		p.Block.Athlete.Recent, p.Block.Athlete.Longest = nil, 0
		return p
	}
	returning := func(p *prescription.Prescription) *prescription.Prescription {
		p.Block.Athlete.Background = "returning"
		return p
	}
	tests := []struct {
		name string
		rule Rule
		p    *prescription.Prescription
		want []seen
	}{
		{"the first week is week 3", startVolume, joins("- 100 - 120 - 100 -"), []seen{{isWarning, "Week 3 starts with 5 h 20 min, above what was ridden before", []int{3}, growthLine}}},
		{"of a returning rider too", startVolume, returning(joins("- 100 - 75 - 75 -")), []seen{
			{isWarning, "Week 3 starts a returning rider with 4 h 10 min", []int{3}, growthLine},
		}},
		{"it does not grow over the weeks before", weeklyGrowth, joins("- 100 - 120 - 100 -"), nil},
		{"the week after it does", weeklyGrowth, joins("- 100 - 100 - - -", "- 120 - 120 - - -"), []seen{{isAdvice, "Week 4 grows by 20 % over week 3", []int{4}, growthLine}}},
		{"longest counts for the first 30 days", sessionSpike, joins("- - - - - 100l -", "- - - - - 160l -"), []seen{
			{isWarning, "Long ride on Saturday 2026-10-10 (week 4) is 60 min longer than any ride of the 30 days before", []int{4}, longLine},
		}},
		{"where it is not known the first week is not judged", sessionSpike, unknown(joins("- 60 - - - 180l -")), nil},
		{"nor its weekend", bigWeekend, unknown(joins("- 30 30 - - 120l 90")), nil},
		{"weeks off are no loading weeks", recoveryGap, joins("60 - - - - - -", "60 - - - - - -", "60 - - - - - -"), nil},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			check(t, tt.rule, tt.p, tt.want...)
		})
	}
}

func TestBandJumpByPlace(t *testing.T) {
	t.Parallel()
	at := func(key, place string, day int, ceiling units.Power) *plan.Band {
		b := typedBand(ceiling-30, ceiling)
		b.Key, b.Place, b.From, b.Range = key, place, start.Add(day), line(growthLine)
		return b
	}
	raises := func(b, from *plan.Band) *plan.Band {
		b.Raises, b.ByRange = from, line(stepLine)
		return b
	}
	general := at("general", "", 0, 130)
	outdoor := at("outdoor", "outdoor", 0, 130)
	jump := func(key, before, by string) []seen {
		return []seen{{isError, `Band "` + key + `" rises by ` + by + ` over band "` + before + `" without a new test`, nil, growthLine}}
	}
	tests := []struct {
		name  string
		bands []*plan.Band
		want  []seen
	}{
		{"two places are not compared", []*plan.Band{outdoor, at("indoor", "indoor", 0, 140)}, nil},
		{"nor where one is read from the other", []*plan.Band{outdoor, raises(at("indoor", "indoor", 0, 140), outdoor)}, nil},
		{"the same place is, across the other", []*plan.Band{outdoor, at("indoor", "indoor", 0, 120), at("later", "outdoor", 14, 140)}, jump("later", "outdoor", "8 %")},
		{"a band without a place held there before", []*plan.Band{general, at("indoor", "indoor", 14, 140)}, jump("indoor", "general", "8 %")},
		{"it did not where both begin together", []*plan.Band{general, at("indoor", "indoor", 0, 140)}, nil},
		{"a place of its own holds on", []*plan.Band{at("indoor", "indoor", 0, 130), at("general", "", 7, 120), at("later", "indoor", 14, 133)}, nil},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			p := blockOf("- - - - - - -")
			p.Block.Bands = tt.bands
			check(t, bandJump, p, tt.want...)
		})
	}
}

// A waiver for an error says what can be done where the limit is the coach's own.
func TestWaiverOfAWrittenLimit(t *testing.T) {
	t.Parallel()
	p := leaping(&plan.Waiver{Code: "weekly-growth"})
	p.Block.Limits.WeeklyGrowth = own(p.Block.Limits.WeeklyGrowth.Value)
	list := slices.DeleteFunc(Check(p), func(d diag.Diagnostic) bool { return d.Code != unusedWaiver.Code })
	details(t, list, `when_broken = "warn"`)
	if len(list) != 1 {
		t.Errorf("got %d findings", len(list))
	}
}
