package main

import (
	"bytes"
	"errors"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"runtime/debug"
	"strings"
	"testing"
	"time"

	"towpath/internal/prescription"
	"towpath/internal/units"
)

const (
	goodPlan = `language = 1
id       = "h3wz8k5t"

athlete "noor" {
  recent = ["2 h 50 min", "3 h", "3 h 10 min", "3 h"]

  screening {
    on     = "2027-01-11"
    allows = "submaximal"
  }
  days {
    tuesday  = "60 min"
    thursday = "75 min"
    saturday = "2 h"
  }
}

band "now" {
  athlete = athlete.noor
  power   = "104-138 W"
}

block "spring" {
  start = "2027-03-01"
  weeks = 2

  volume { first = "3 h" }
  ride "steady" { session = session.steady }
}
`
	// A ride longer than any before, and twice the hours: findings, no error.
	boldPlan = `language = 1
id       = "h3wz8k5t"

athlete "noor" {
  recent  = ["2 h", "2 h", "2 h", "2 h"]
  longest = "60 min"

  days {
    tuesday  = "60 min"
    thursday = "75 min"
    saturday = "4 h"
  }
}

band "now" {
  athlete = athlete.noor
  power   = "104-138 W"
}

block "spring" {
  start = "2027-03-01"
  weeks = 2

  volume { first = "5 h" }
  ride "long" {
    session  = session.long_ride
    per_week = 1
    minutes  = "3 h"
  }
  ride "steady" { session = session.steady }
}
`
)

// try runs one command in a folder of plans.
func try(t *testing.T, args ...string) (code int, stdout, stderr string) {
	t.Helper()
	dir := t.TempDir()
	put(t, filepath.Join(dir, ".git", "HEAD"), "")
	put(t, filepath.Join(dir, "good", "plan.hcl"), goodPlan)
	put(t, filepath.Join(dir, "bold", "plan.hcl"), boldPlan)
	put(t, filepath.Join(dir, "broken", "plan.hcl"), strings.Replace(goodPlan, `"75 min"`, `"75"`, 1))
	put(t, filepath.Join(dir, "loose", "plan.hcl"), strings.ReplaceAll(goodPlan, "  ", "    "))
	put(t, filepath.Join(dir, "empty", "notes.txt"), "")
	put(t, filepath.Join(dir, "file"), "")
	link(t, "plan.hcl", filepath.Join(dir, "circle", "plan.hcl"))
	t.Chdir(dir)
	var out, errs bytes.Buffer
	code = run(args, machine{
		stdin: strings.NewReader(goodPlan), stdout: &out, stderr: &errs,
		getenv: func(string) string { return "" },
		now:    func() time.Time { return time.Date(2027, 2, 10, 23, 0, 0, 0, time.UTC) },
		random: bytes.NewReader(bytes.Repeat([]byte{0, 1, 31, 32}, 2)),
	})
	return code, out.String(), errs.String()
}

func TestExitCodes(t *testing.T) {
	tests := []struct {
		args string
		want int
	}{
		{"check good", 0},
		{"check --strict=advice good", 0},
		{"check bold", 0},
		{"check --strict=error bold", 0},
		{"check --strict bold", 1},
		{"check --strict=advice bold", 1},
		{"check broken", 1},
		{"check broken --format json", 1},
		{"check empty", 1},
		{"check circle", 3},
		{"build circle", 3},
		{"check nowhere", 2},
		{"check good broken", 2},
		{"check good --athlete nobody", 2},
		{"check good --as-of never", 2},
		{"build good", 0},
		{"build bold", 0},
		{"build bold --strict", 1},
		{"build broken", 1},
		{"build broken --keep-going", 1},
		{"build nowhere", 2},
		{"build good --out file", 3},
		{"show good", 0},
		{"show broken", 1},
		{"show nowhere", 2},
		{"explain good week.2", 0},
		{"explain good week.3", 2},
		{"explain good", 2},
		{"explain broken week.1", 1},
		{"explain nowhere week.1", 2},
		{"reference", 0},
		{"check good --fix", 0},
		{"check broken --fix", 0}, // the unit that was left out is written
		{"check good --fix=all", 2},
		{"fmt good", 0},
		{"fmt --check good", 0},
		{"fmt --check loose", 1},
		{"fmt loose", 0},
		{"fmt broken", 0}, // it can be read, if not compiled
		{"fmt circle", 3},
		{"fmt nowhere", 2},
		{"fmt empty", 2},
		{"new fresh", 0},
		{"new good", 2},
		{"new fresh --kind first-hours", 0},
		{"new fresh --kind first-hour", 2},
		{"new fresh --start 2027-03-02", 2}, // a Tuesday
		{"new file/below", 2},
		{"rules", 0},
		{"rules weekly-growth", 0},
		{"rules nothing-such", 2},
		{"version", 0},
		{"completion bash", 0},
		{"completion fishy", 2},
		{"completion", 2},
		{"completion --help", 0},
		{"help", 0},
		{"help check", 0},
		{"help completion bash", 0},
		{"help chek", 2},
		{"", 0},
		{"nothing", 2},
		{"check --nothing", 2},
	}
	for _, tt := range tests {
		t.Run(tt.args, func(t *testing.T) {
			if got, out, errs := try(t, strings.Fields(tt.args)...); got != tt.want {
				t.Errorf("exit code %d, want %d\n%s%s", got, tt.want, out, errs)
			}
		})
	}
}

type fullDisk struct{}

func (fullDisk) Write([]byte) (int, error) { return 0, errors.New("no space left") }

func TestOutputThatCannotBeWritten(t *testing.T) {
	for _, args := range []string{
		"check good", "show good", "check good --format json", "explain good week.1", "rules", "reference", "version", "version --format json",
	} {
		try(t, "version") // makes the folder and goes there
		m := machine{stdout: fullDisk{}, stderr: io.Discard, getenv: os.Getenv}
		if got := run(strings.Fields(args), m); got != exitFailure {
			t.Errorf("%s: exit code %d, want %d", args, got, exitFailure)
		}
	}
}

func TestColor(t *testing.T) {
	terminal := "--color=always"
	_, plain, _ := try(t, "check", "broken")
	_, colored, _ := try(t, "check", "broken", terminal)
	_, show, _ := try(t, "show", "good", terminal)
	if strings.Contains(plain, "\x1b") {
		t.Error("colour where the output is no terminal")
	}
	for name, out := range map[string]string{"check": colored, "show": show} {
		if !strings.Contains(out, "\x1b[") {
			t.Errorf("%s: no colour where it was asked for\n%s", name, out)
		}
	}
	if got := regexp.MustCompile("\x1b\\[[0-9;]*m").ReplaceAllString(colored, ""); got != plain {
		t.Errorf("colour changes the text\n%s\n%s", got, plain)
	}
}

func TestNewPlan(t *testing.T) {
	code, _, errs := try(t, "new", "fresh")
	if code != 0 {
		t.Fatal(errs)
	}
	text, err := os.ReadFile(filepath.Join("fresh", "plan.hcl"))
	if err != nil {
		t.Fatal(err)
	}
	// 10 February 2027 is a Wednesday: the Monday a week from then or later is the 22nd.
	for _, want := range []string{`id       = "ab9aab9a"`, `start    = "2027-02-22"`} {
		if !strings.Contains(string(text), want) {
			t.Errorf("the plan lacks %s", want)
		}
	}
	if _, err := newID(strings.NewReader("short")); err == nil {
		t.Error("too little chance was enough for a name")
	}
}

func TestUntilWeekday(t *testing.T) {
	for day := units.NewDate(2027, 2, 1); day < units.NewDate(2027, 4, 1); day = day.Add(1) {
		for w := time.Sunday; w <= time.Saturday; w++ {
			if n := untilWeekday(day, w); n < 0 || n > 6 || day.Add(n).Weekday() != w {
				t.Errorf("from %s to %s: %d days", day, w, n)
			}
		}
	}
}

func TestVersionOf(t *testing.T) {
	bare := versionOf(&debug.BuildInfo{GoVersion: "go1.26.0"})
	if bare.Version != unreleased || bare.Revision != nil || bare.Modified != nil {
		t.Errorf("a build without records: %+v", bare)
	}
	tagged := versionOf(&debug.BuildInfo{
		Main:     debug.Module{Version: "v0.3.1"},
		Settings: []debug.BuildSetting{{Key: "vcs.revision", Value: "0123abc"}, {Key: "vcs.modified", Value: "true"}},
	})
	if tagged.Version != "v0.3.1" || *tagged.Revision != "0123abc" || !*tagged.Modified {
		t.Errorf("a build at a tag: %+v", tagged)
	}
}

// The bars of a block share one scale, and the longest week fits.
func TestTimeScale(t *testing.T) {
	week := func(minutes ...units.Minutes) (out []ridingDay) {
		for i, m := range minutes {
			out = append(out, ridingDay{date: units.NewDate(2027, 3, 1).Add(i), minutes: m})
		}
		return out
	}
	tests := []struct {
		name    string
		weeks   [][]ridingDay
		columns int
		want    units.Minutes
	}{
		{"short weeks", [][]ridingDay{week(60, 60)}, 67, 5},
		{"the longest week decides", [][]ridingDay{week(60, 60), week(90, 90, 60, 240, 120)}, 67, 10},
		{"little room", [][]ridingDay{week(90, 90, 60, 240, 120)}, 27, 30},
		{"no week at all", nil, 67, 5},
		{"no room", [][]ridingDay{week(600, 600, 600, 600, 600, 600, 600)}, 10, 120},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if got := timeScale(tt.weeks, tt.columns); got != tt.want {
				t.Errorf("got %s, want %s", got, tt.want)
			}
		})
	}
	if got := dayBar(ridingDay{date: units.NewDate(2027, 3, 6), minutes: 75, test: true}, 10); got != "Sa*━━━━━" {
		t.Errorf("75 min at 10 min a column: %q", got)
	}
	if got := dayBar(ridingDay{date: units.NewDate(2027, 3, 6), minutes: 30, test: true}, 20); got != "Sa" {
		t.Errorf("30 min at 20 min a column: %q", got)
	}
}

// Two rides on one day are one bar.
func TestRidingDays(t *testing.T) {
	day := units.NewDate(2027, 3, 6)
	got := ridingDays(1, []prescription.Session{
		{Week: 1, Date: day, Minutes: 30}, {Week: 1, Date: day, Minutes: 60, Test: true}, {Week: 1, Date: day.Add(1), Minutes: 45}, {Week: 2, Date: day.Add(7)},
	})
	if len(got) != 2 || got[0] != (ridingDay{day, 90, true}) || got[1] != (ridingDay{day.Add(1), 45, false}) {
		t.Errorf("got %+v", got)
	}
}
