package rules

import (
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"towpath/internal/diag"
	"towpath/internal/physiology"
	"towpath/internal/plan"
	"towpath/internal/prescription"
	"towpath/internal/schedule"
	"towpath/internal/units"
)

const start = units.Date(20711) // Monday 2026-09-14

// line is a place in the text of a plan.
func line(n int) diag.Range {
	r := diag.Range{Filename: "plan.hcl"}
	r.Start.Line, r.Start.Column, r.Start.Byte = n, 1, 100*n
	r.End.Line, r.End.Column, r.End.Byte = n, 10, 100*n+9
	return r
}

// Lines of the text that the blocks of these tests pretend to come from.
const (
	athleteLine = iota + 1
	recentLine
	longestLine
	screeningLine
	bandLine
	blockLine
	volumeLine
	firstLine
	growthLine
	longLine
	steadyLine
	lightLine
	testLine
	fixedLine
	eventLine
	limitLine
	waiverLine
	stepLine
	pinLine // of week 1; week 2 has the next, and so on
)

var (
	steady   = &plan.Session{Key: "steady", Title: "Steady", Range: line(steadyLine)}
	spin     = &plan.Session{Key: "recovery_spin", Title: "Recovery spin", Range: line(lightLine), Light: true}
	commute  = &plan.Session{Key: "commute", Title: "Commute", Range: line(fixedLine), Light: true}
	long     = &plan.Session{Key: "long_ride", Title: "Long ride", Range: line(longLine), Demanding: true}
	maximal  = &plan.Session{Key: "lactate_step", Title: "Lactate step test", Range: line(testLine), Protocol: true, Maximal: true}
	standard = &plan.Session{Key: "standard_ride", Title: "Standard ride", Range: line(testLine), Protocol: true, KeepsWatts: true}
)

// blockOf makes a prescription of weeks, each written as seven days from Monday: "-" rest, "60"
// steady, "60e" light, "120l" long, "75t" a maximal test, "60s" a standard ride, "60p" a pinned
// steady ride, "30f" a fixed commute, "30f+60" two on one day; "R" before the days makes it a
// recovery week.
func blockOf(weeks ...string) *prescription.Prescription {
	b := &plan.Block{
		Key: "autumn", Range: line(blockLine), Start: start,
		VolumeRange: line(volumeLine), FirstVolumeRange: line(firstLine), GrowthRange: line(growthLine),
		Athlete: &plan.Athlete{
			Key: "ana", Name: "ana", Range: line(athleteLine), RecentRange: line(recentLine),
			Background: "regular", RecentUntil: start.Add(-1),
			Screening: &plan.Screening{On: start.Add(-30), Allows: "maximal", Range: line(screeningLine)},
		},
		Limits: defaults(),
	}
	s := &schedule.Schedule{Block: b}
	for i, text := range weeks {
		w := &plan.Week{Number: i + 1, Start: start.Add(7 * i), Kind: plan.Loading, Range: line(growthLine)}
		if i == 0 {
			w.Range = line(firstLine)
		}
		days := strings.Fields(text)
		if days[0] == "R" {
			w.Kind, days = plan.Recovery, days[1:]
		}
		placed := schedule.Week{Week: w}
		for d, text := range days {
			if text == "-" {
				continue
			}
			for one := range strings.SplitSeq(text, "+") {
				x := sessionOf(one, w, w.Start.Add(d))
				placed.Sessions = append(placed.Sessions, x)
				placed.Placed += x.Minutes
			}
		}
		w.Asked = placed.Placed
		b.Weeks = append(b.Weeks, w)
		s.Weeks = append(s.Weeks, placed)
	}
	return &prescription.Prescription{Block: b, Schedule: s}
}

func sessionOf(text string, w *plan.Week, on units.Date) schedule.Session {
	minutes, err := strconv.Atoi(strings.TrimRight(text, "eflpst"))
	if err != nil {
		panic(err)
	}
	kind := strings.TrimLeft(text, "0123456789")
	s := schedule.Session{Week: w.Number, Date: on, Minutes: units.Minutes(minutes)}
	s.Session = map[string]*plan.Session{"": steady, "e": spin, "f": commute, "l": long, "p": steady, "t": maximal, "s": standard}[kind]
	switch kind {
	case "t", "s":
		s.Given = &plan.Given{Date: on, Session: s.Session, Test: &plan.TestDay{Key: "test"}, Range: line(testLine)}
	case "f":
		s.Given = &plan.Given{Date: on, Session: s.Session, Fixed: "work", Range: line(fixedLine)}
	case "p":
		s.Given = &plan.Given{Date: on, Session: s.Session, Range: line(pinLine + w.Number - 1)}
	default:
		s.Ride = &plan.Ride{Key: s.Session.Key, Session: s.Session, Range: s.Session.Range}
	}
	return s
}

// defaults are the limits of a block without limits of its own.
func defaults() plan.Limits {
	return plan.Limits{
		WeeklyGrowth:     plan.Limit[units.Share]{Value: physiology.WeeklyGrowthAdvice.Value},
		SessionSpike:     plan.Limit[plan.Increase]{Value: plan.Increase{Share: physiology.SpikeAdviceShare.Value}},
		LongShare:        plan.Limit[units.Share]{Value: physiology.LongShareAdvice.Value},
		BigWeekend:       plan.Limit[plan.Increase]{Value: plan.Increase{Share: physiology.BigWeekendShare.Value, Minutes: physiology.BigWeekendMinutes.Value}},
		RestDays:         plan.Limit[int]{Value: physiology.RestDays.Value},
		RidingDaysInARow: plan.Limit[int]{Value: physiology.RidingDaysInARow.Value},
		LoadingWeeks:     plan.Limit[int]{Value: physiology.LoadingWeeksAdvice.Value},
		RecoveryDepth:    plan.Limit[units.Range[units.Share]]{Value: physiology.RecoveryDepth.Value},
	}
}

// own is a limit that the coach wrote.
func own[T any](v T) plan.Limit[T] {
	return plan.Limit[T]{Value: v, Written: true, Range: line(limitLine)}
}

// seen is what a test compares of a finding.
type seen struct {
	Severity diag.Severity
	Summary  string
	Weeks    []int
	Line     int
}

// check runs one rule and compares what it found; the waivers of the block hold.
func check(t *testing.T, r Rule, p *prescription.Prescription, want ...seen) diag.List {
	t.Helper()
	var got []seen
	list := r.merged(r.check(p), p.Block, newWaivers(p.Block))
	for _, d := range list {
		got = append(got, seen{d.Severity, d.Summary, d.Weeks, d.Subject.Start.Line})
		if d.Code != r.Code || d.Block != p.Block.Key {
			t.Errorf("finding has code %q of block %q", d.Code, d.Block)
		}
		if !strings.HasSuffix(d.Detail, "`towpath rules "+r.Code+"`.") {
			t.Errorf("the detail does not say where to read more: %s", d.Detail)
		}
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
	return list
}

// details fails where a detail lacks a part.
func details(t *testing.T, list diag.List, parts ...string) {
	t.Helper()
	if len(list) == 0 {
		return // check has said so
	}
	for _, part := range parts {
		if !strings.Contains(list[0].Detail, part) {
			t.Errorf("detail lacks %q: %s", part, list[0].Detail)
		}
	}
}

// fixed fails where the first finding's fix is another.
func fixed(t *testing.T, list diag.List, at int, text string) {
	t.Helper()
	if len(list) == 0 {
		return
	}
	want := &diag.Fix{Title: "Write " + text, Edits: []diag.Edit{{Range: line(at), Text: text}}}
	if text == "" {
		want = nil
	}
	if diff := cmp.Diff(want, list[0].Fix); diff != "" {
		t.Errorf("fix (-want +got):\n%s", diff)
	}
}
