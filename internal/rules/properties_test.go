package rules

import (
	"cmp"
	"fmt"
	"regexp"
	"slices"
	"strings"
	"testing"

	gocmp "github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"towpath/internal/diag"
	"towpath/internal/plan"
	"towpath/internal/prescription"
	"towpath/internal/units"
)

// anyBlock draws weeks of any rides and tests, an athlete of any history, and some limits.
func anyBlock(t *rapid.T) *prescription.Prescription {
	day := rapid.Custom(func(t *rapid.T) string {
		if rapid.Bool().Draw(t, "rest") {
			return "-"
		}
		kind := rapid.SampledFrom([]string{"", "e", "l", "p", "t", "s"}).Draw(t, "kind")
		ride := fmt.Sprintf("%d%s", 5*rapid.IntRange(6, 60).Draw(t, "quanta"), kind)
		if rapid.IntRange(0, 3).Draw(t, "commute") == 0 {
			ride = "30f+" + ride
		}
		return ride
	})
	var weeks []string
	for range rapid.IntRange(1, 9).Draw(t, "weeks") {
		week := strings.Join(rapid.SliceOfN(day, 7, 7).Draw(t, "days"), " ")
		if rapid.IntRange(0, 3).Draw(t, "recovery") == 0 {
			week = "R " + week
		}
		weeks = append(weeks, week)
	}
	p := blockOf(weeks...)
	a := p.Block.Athlete
	a.Background = rapid.SampledFrom([]string{"new", "returning", "regular", "trained"}).Draw(t, "background")
	a.Longest = units.Minutes(5 * rapid.IntRange(0, 60).Draw(t, "longest"))
	for range rapid.IntRange(0, 5).Draw(t, "recent") {
		a.Recent = append(a.Recent, units.Minutes(5*rapid.IntRange(0, 100).Draw(t, "week")))
	}
	if rapid.Bool().Draw(t, "unscreened") {
		a.Screening = nil
	}
	if rapid.Bool().Draw(t, "written") {
		p.Block.Limits.WeeklyGrowth = own(units.Share(rapid.Float64Range(0, 1).Draw(t, "growth")))
		p.Block.Limits.LongShare = own(units.Share(rapid.Float64Range(0, 1).Draw(t, "share")))
		p.Block.Limits.SessionSpike = own(plan.Increase{Minutes: 30})
		p.Block.Limits.TwoDays = own(units.Share(rapid.Float64Range(0, 1).Draw(t, "two days")))
	}
	for range rapid.IntRange(0, 2).Draw(t, "events") {
		p.Block.Events = append(p.Block.Events, &plan.Event{
			Key: "lake", Title: "Round the lake", Range: line(eventLine + 100*(len(p.Block.Events)+1)),
			Date: start.Add(rapid.IntRange(0, 100).Draw(t, "event")), Lasts: units.Minutes(rapid.IntRange(0, 900).Draw(t, "lasts")),
		})
	}
	for _, code := range rapid.SliceOfNDistinct(rapid.SampledFrom(append(Codes(), "no-rule")), 0, 4, rapid.ID).Draw(t, "waivers") {
		n := len(p.Block.Waivers)
		w := &plan.Waiver{Code: code, Reason: "So be it.", Range: line(waiverLine + 100*(n+1))}
		if rapid.Bool().Draw(t, "some weeks") {
			w.Weeks = []int{1, 2}
		}
		p.Block.Waivers = append(p.Block.Waivers, w)
	}
	return p
}

func TestCheckHolds(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		p := anyBlock(t)
		list := Check(p)
		if diff := gocmp.Diff(list, Check(p)); diff != "" {
			t.Fatalf("two runs differ:\n%s", diff)
		}
		causes := map[string]bool{}
		for _, d := range list {
			if _, ok := Find(d.Code); !ok || d.Subject.Filename == "" || d.Summary == "" || d.Detail == "" {
				t.Fatalf("not whole: %+v", d)
			}
			if d.Severity == diag.Error && d.Waived != nil {
				t.Fatalf("an error is waived: %+v", d)
			}
			if !slices.IsSorted(d.Weeks) || len(d.Weeks) > 0 && (d.Weeks[0] < 1 || d.Code != unusedWaiver.Code && d.Weeks[len(d.Weeks)-1] > len(p.Block.Weeks)) {
				t.Fatalf("weeks outside the block: %+v", d)
			}
			cause := fmt.Sprint(d.Code, d.Subject, d.Severity == diag.Error, d.Waived)
			if causes[cause] {
				t.Fatalf("two findings of one cause: %+v", d)
			}
			causes[cause] = true
		}
	})
}

// TestCheckFollowsTheCalendar moves a block by some weeks: what is found stays the same.
func TestCheckFollowsTheCalendar(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		p := anyBlock(t)
		before := signs(Check(p))
		move(p, 7*rapid.IntRange(1, 60).Draw(t, "weeks later"))
		if diff := gocmp.Diff(before, signs(Check(p))); diff != "" {
			t.Fatalf("(-before +after):\n%s", diff)
		}
	})
}

func signs(list diag.List) (out []string) {
	for _, d := range list {
		out = append(out, fmt.Sprint(d.Code, d.Severity, d.Weeks, d.Subject, d.Waived != nil))
	}
	slices.Sort(out)
	return out
}

func move(p *prescription.Prescription, days int) {
	b := p.Block
	b.Start = b.Start.Add(days)
	b.Athlete.RecentUntil = b.Athlete.RecentUntil.Add(days)
	if b.Athlete.Screening != nil {
		b.Athlete.Screening.On = b.Athlete.Screening.On.Add(days)
	}
	for _, e := range b.Events {
		e.Date = e.Date.Add(days)
	}
	for i := range p.Schedule.Weeks {
		w := &p.Schedule.Weeks[i]
		w.Start = w.Start.Add(days)
		for k := range w.Sessions {
			w.Sessions[k].Date = w.Sessions[k].Date.Add(days)
		}
	}
}

// The block of a rider who joins in week 3 begins there: what is found is the same, of weeks whose
// numbers are two higher.
func TestWeeksKeepTheirNumbers(t *testing.T) {
	t.Parallel()
	before := regexp.MustCompile(`\b[Ww]eeks? [12]\b`)
	later := func(weeks []int) (out []int) {
		for _, w := range weeks {
			out = append(out, w+2)
		}
		return out
	}
	rapid.Check(t, func(t *rapid.T) {
		p := anyBlock(t)
		want := byWeeks(Check(p))
		for i := range p.Schedule.Weeks {
			w := &p.Schedule.Weeks[i]
			w.Number += 2
			for k := range w.Sessions {
				w.Sessions[k].Week += 2
			}
		}
		for _, w := range p.Block.Waivers {
			w.Weeks = later(w.Weeks)
		}
		got := byWeeks(Check(p))
		if len(got) != len(want) {
			t.Fatalf("%d findings, %d without the weeks before", len(got), len(want))
		}
		for i := range want {
			if diff := gocmp.Diff(later(want[i].Weeks), got[i].Weeks); diff != "" || got[i].Code != want[i].Code {
				t.Fatalf("%s: %s\nbefore: %s\n%s", got[i].Code, got[i].Summary, want[i].Summary, diff)
			}
			if said := got[i].Summary + "; " + got[i].Detail; before.MatchString(said) {
				t.Fatalf("there is no such week: %s", said)
			}
		}
	})
}

// byWeeks sorts findings by what does not hang on the letters of a number.
func byWeeks(list diag.List) diag.List {
	slices.SortStableFunc(list, func(a, b diag.Diagnostic) int {
		return cmp.Or(strings.Compare(a.Code, b.Code), a.Subject.Start.Line-b.Subject.Start.Line, slices.Compare(a.Weeks, b.Weeks))
	})
	return list
}
