package schedule_test

import (
	"fmt"
	"strings"
	"testing"
	"testing/fstest"

	"towpath/internal/compile"
	"towpath/internal/diag"
	"towpath/internal/syntax"
	library "towpath/plans/library"
)

const fixPlan = `language = 1
id       = "t4t4t4t4"

athlete "ole" {
  time_zone = "Europe/Oslo"
  recent    = ["7 h", "7 h", "7 h", "7 h"]
  days {
    tuesday   = "60 min, 18:30, indoor"
    wednesday = "75 min, easy"
    thursday  = "60 min"
    saturday  = "3 h, 09:00, outdoor or 90 min indoor"
  }
  on = { "2027-03-03" = "75 min", "2027-03-13" = "none" }
}
band "now" { power = "150-200 W" }
block "short" {
  start = "2027-03-01"
  weeks = 1
  volume { first = "5 h" }
  ride "steady" {
    session = session.steady
  }
}
`

// Each plan has one value too many or too few; the edit that is proposed makes it compile.
func TestFixes(t *testing.T) {
	const first, steady = `volume { first = "5 h" }`, "    session = session.steady\n"
	grown := fixPlan[strings.Index(fixPlan, "  on = "):]
	second := func(first string) string {
		return strings.NewReplacer("weeks = 1", "weeks = 2", `{ first = "5 h" }`, fmt.Sprintf("{\n    first  = %q\n    growth = \"20 min\"\n  }", first)).Replace(grown)
	}
	tests := []struct{ name, old, new, fix string }{
		{"the first week", first, `volume { first = "6 h 25 min" }`, `first = "5 h 45 min"`},
		{"a week's own hours", first, first + "\n  week \"1\" { hours = \"6 h 20 min\" }", `hours = "5 h 45 min"`},
		{"a shortest length", steady, steady + "    at_least = \"95 min\"\n    per_week = \"2-4\"\n", `at_least = "60 min"`},
		{"a longest length", steady, steady + "    at_most = \"60 min\"\n", `at_most = "105 min"`},
		{"a number per week", steady, steady + "    per_week = 5\n", `per_week = "4-5"`},
		{"rides per week", first, first + "\n  rides_per_week = 5", `rides_per_week = "4-5"`},
		{"rest days", first, first + "\n  rides_per_week = 4\n  limits { rest_days = 5 }", `rest_days = 3`},
		{"a day", grown, strings.Replace(second("5 h 30 min"), "none", "3 h", 1), `tuesday   = "2 h 20 min, 18:30, indoor"`},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			text := strings.Replace(fixPlan, tt.old, tt.new, 1)
			if text == fixPlan {
				t.Fatalf("the plan has no %q", tt.old)
			}
			d := conflictOf(t, text)
			if d == nil || d.Fix == nil {
				t.Fatalf("got %+v, want a conflict with an edit", d)
			}
			mended, err := syntax.Apply([]byte(text), d.Fix.Edits)
			if err != nil {
				t.Fatal(err)
			}
			if !strings.Contains(string(mended), tt.fix) {
				t.Errorf("the edit %q gives\n%s\nwant %s", d.Fix.Title, mended, tt.fix)
			}
			if again := conflictOf(t, string(mended)); again != nil {
				t.Errorf("after the edit: %s", again.Summary)
			}
		})
	}
}

// A week that grows out of others has no value of its own to change: what to write is told.
func TestHoursOfAWeek(t *testing.T) {
	text := strings.NewReplacer("weeks = 1", "weeks = 2", `{ first = "5 h" }`, "{\n    first  = \"5 h 40 min\"\n    growth = \"20 min\"\n  }", `, "2027-03-13" = "none"`, "").Replace(fixPlan)
	d := conflictOf(t, text)
	const want = `week "2" { hours = "4 h 30 min" }`
	if d == nil || !strings.Contains(d.Detail, want) {
		t.Fatalf("got %+v, want %s", d, want)
	}
	if again := conflictOf(t, strings.Replace(text, "  ride ", "  "+want+"\n  ride ", 1)); again != nil {
		t.Errorf("after it was written: %s", again.Summary)
	}
}

// A date that the coach closed is not opened by an edit; the week's own hours are told instead.
func TestClosedDateStaysClosed(t *testing.T) {
	d := conflictOf(t, strings.NewReplacer("weeks = 1", "weeks = 2", `{ first = "5 h" }`, "{\n    first  = \"4 h\"\n    growth = \"20 min\"\n  }").Replace(fixPlan))
	if d == nil || d.Fix != nil || !strings.Contains(d.Detail, `week "2" { hours = "2 h" }`) || !strings.Contains(d.Detail, "easy days") {
		t.Errorf("got %+v, want no edit, the week's own hours, and a word on the easy days", d)
	}
}

// conflictOf compiles a plan; any other error than a week that does not fit is the test's fault.
func conflictOf(t *testing.T, text string) (found *diag.Diagnostic) {
	t.Helper()
	fsys := fstest.MapFS{"plan/block.hcl": &fstest.MapFile{Data: []byte(text)}}
	for _, d := range compile.Compile(compile.Input{FS: fsys, Dir: "plan", Library: library.FS}).Findings {
		if d.Code == "week-does-not-fit" {
			found = &d
		} else if d.Severity == diag.Error {
			t.Fatalf("%s: %s", d.Code, d.Summary)
		}
	}
	return found
}
