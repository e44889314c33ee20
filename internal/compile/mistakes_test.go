package compile_test

import (
	"strings"
	"testing"
	"testing/fstest"

	"towpath/internal/diag"
)

// whole is a plan without a finding; each mistake below is one edit of it.
const whole = `language = 1
id       = "w5h0l3k2"
athlete "ines" {
  born       = 1988
  sex        = "female"
  time_zone  = "Europe/Lisbon"
  recent     = ["4 h 30 min", "5 h", "4 h 45 min", "4 h 45 min"]
  longest    = "2 h 30 min"
  background = "regular"
  heart_rate {
    resting = "52 bpm"
    maximum = "181 bpm"
    from    = "measured"
  }
  screening {
    on     = "2027-01-11"
    allows = "maximal"
  }
  days {
    tuesday  = "75 min, 18:15"
    thursday = "75 min, 18:15"
    saturday = "3 h, 09:30"
    sunday   = "2 h, 10:00"
  }
}
test "steps" {
  date     = "2027-02-20"
  protocol = protocol.lactate_step
  stage    = "5 min"
  stages = [
    { power = "70 W", heart_rate = "99 bpm", lactate = "1.2 mmol/L", rpe = 7 },
    { power = "90 W", heart_rate = "107 bpm", lactate = "1.1 mmol/L", rpe = 8 },
    { power = "110 W", heart_rate = "116 bpm", lactate = "1.1 mmol/L", rpe = 9 },
    { power = "130 W", heart_rate = "124 bpm", lactate = "1.3 mmol/L", rpe = 11 },
    { power = "150 W", heart_rate = "133 bpm", lactate = "1.7 mmol/L", rpe = 12 },
    { power = "170 W", heart_rate = "143 bpm", lactate = "2.6 mmol/L", rpe = 14 },
    { power = "190 W", heart_rate = "153 bpm", lactate = "4.2 mmol/L", rpe = 16 },
  ]
}
band "spring" {
  tests = [test.steps]
}
band "later" {
  from   = "2027-03-22"
  raises = band.spring
  by     = "2 %"
}
block "spring" {
  start = "2027-03-08"
  weeks = 4
  volume {
    first  = "4 h 45 min"
    growth = "15 min"
  }
  recovery {
    weeks = [4]
    keep  = "60 %"
  }
  ride "long" {
    session  = session.long_ride
    per_week = 1
    share    = "40 %"
    days     = ["saturday", "sunday"]
  }
  ride "steady" {
    session = session.steady
    share   = "rest"
  }
  test_day "standard" {
    protocol = protocol.standard_ride
    weeks    = "1-3"
    day      = "tuesday"
  }
  week "2" {
    note   = "Flat roads."
    sunday = { ride = "steady", minutes = "75 min" }
  }
}
`

// TestOneMistakeOneMessage: each mistake is told once, and nothing that only follows from it.
func TestOneMistakeOneMessage(t *testing.T) {
	t.Parallel()
	tests := []struct{ name, old, new, want string }{
		{"no mistake", "", "", ""},

		// the text and its values
		{"a quotation mark is missing", `"w5h0l3k2"`, `"w5h0l3k2`, "*"},
		{"no unit", `"60 %"`, `60`, "wrong-unit"},
		{"a word of the athlete", "longest ", "longst ", "unknown-name"},
		{"a date that is none", `"2027-03-08"`, `"2027-02-30"`, "wrong-value"},
		{"no start", `  start = "2027-03-08"` + "\n", "", "missing-value"},
		{"a row of the test", `power = "110 W"`, `power = "110"`, "wrong-unit"},
		{"a session's name", "session.long_ride", "session.long_rid", "unknown-reference"},
		{"a test's name", "[test.steps]", "[test.step]", "unknown-reference"},
		{"a pinned ride's name", `ride = "steady"`, `ride = "stedy"`, "unknown-reference"},
		{"two blocks of one name", `band "later"`, `band "spring"`, "double-name"},
		{"a week outside", `week "2"`, `week "7"`, "out-of-range"},

		// the athlete
		{"no time zone", `  time_zone  = "Europe/Lisbon"` + "\n", "", "missing-time-zone"},
		{"a zone that is none", "Europe/Lisbon", "Europe/Lissabon", "unknown-time-zone"},
		{"heart rates the wrong way round", `"52 bpm"`, `"190 bpm"`, "out-of-range"},
		{"no day", `    tuesday  = "75 min, 18:15"
    thursday = "75 min, 18:15"
    saturday = "3 h, 09:30"
    sunday   = "2 h, 10:00"
`, "", "no-days"},
		{"recent weeks are missing", `  recent     = ["4 h 30 min", "5 h", "4 h 45 min", "4 h 45 min"]` + "\n", "", "recent-unknown"},

		// tests and bands
		{"a reading that cannot be", `lactate = "1.3 mmol/L"`, `lactate = "130 mmol/L"`, "*"},
		{"no stages", "  stages = [", "  # [", "*"},
		{"another protocol", "protocol.lactate_step", "protocol.talk_test", "band-protocol"},
		{"a method that is none", "tests = [test.steps]", "tests = [test.steps]\n  method = \"guess\"", "no-threshold"},
		{"no reading of the laboratory", "tests = [test.steps]", "tests = [test.steps]\n  method = \"lab\"", "no-lab-reading"},
		{"a ceiling above the threshold", "tests = [test.steps]", "tests = [test.steps]\n  ceiling = \"120 %\"", "out-of-range"},
		{"a floor at the ceiling", "tests = [test.steps]", "tests = [test.steps]\n  floor = \"100 %\"", "floor-above-ceiling"},
		{"a line with two stages", "tests = [test.steps]", "tests = [test.steps]\n  heart_rate_line { up_to = \"95 W\" }", "no-heart-rate-line"},
		{"bands in a loop", "tests = [test.steps]", "from = \"2027-03-01\"\n  raises = band.later\n  by = \"1 %\"", "bands-in-a-loop"},
		{"beats of a raised band", `by     = "2 %"`, "by = \"2 %\"\n  heart_rate = \"110-130 bpm\"", "value-without-effect"},
		{"raised too early", `from   = "2027-03-22"`, `from = "2027-02-01"`, "raised-too-early"},
		{"a raise of all the watts", `by     = "2 %"`, `by = "-100 %"`, "band-without-power"},
		{"raised too far", `by     = "2 %"`, `by = "9 %"`, "band-jump"},
		{"two bands from one day", "raises = band.spring\n  by     = \"2 %\"", "power = \"100-132 W\"\n}\nband \"third\" {\n  from = \"2027-03-22\"\n  power = \"101-132 W\"", "bands-overlap"},
		{"heart rate leads without one", "raises = band.spring\n  by     = \"2 %\"", "power = \"100-130 W\"\n  leads = \"heart rate\"", "band-without-heart-rate"},
		{"a ceiling above the typed threshold", "raises = band.spring\n  by     = \"2 %\"", "power = \"100-132 W\"\n  threshold = \"120 W\"", "ceiling-above-threshold"},
		{"sprints that no band allows", "session = session.steady", "session = session.short_sprints", "no-allowance"},
		{"a band for one place", "tests = [test.steps]", "tests = [test.steps]\n  place = \"indoor\"", ""},
		{"a day without a band", "saturday = \"3 h, 09:30\"\n    sunday   = \"2 h, 10:00\"\n  }\n}", "saturday = \"3 h, 09:30, outdoor\"\n    sunday   = \"2 h, 10:00\"\n  }\n}\nband \"gym\" {\n  power = \"95-126 W\"\n  place = \"indoor\"\n}", ""},
		{"a place that the day may have", "saturday = \"3 h, 09:30\"\n    sunday   = \"2 h, 10:00\"\n  }\n}", "saturday = \"3 h, 09:30, outdoor or 3 h indoor\"\n    sunday   = \"2 h, 10:00\"\n  }\n}", ""},
		{"one test twice", "tests = [test.steps]", "tests = [test.steps, test.steps]", "*"},
		{"long rides without watts", "raises = band.spring\n  by     = \"2 %\"", "rpe = \"9-11\"\n  long_rides = \"85 %\"", "value-without-effect"},
		{"a caution with typed watts", "raises = band.spring\n  by     = \"2 %\"", "power = \"100-132 W\"\n  caution = \"strict\"", "value-without-effect"},
		{"beats that mean nothing", "  heart_rate {\n", "  heart_rate {\n    usable = false\n", ""},

		// the block
		{"shares over the whole", "share   = \"rest\"", "share = \"80 %\"", "mix-over"},
		{"two rests", `share    = "40 %"`, `share = "rest"`, "mix-two-rests"},
		{"a ride shorter than its session", `share    = "40 %"`, "share = \"40 %\"\n    at_most = \"60 min\"", "ride-lengths"},
		{"no ride in a week", "session = session.steady", "session = session.steady\n    weeks = \"1-3\"", "week-does-not-fit"},
		{"no ride at all in a week", `keep  = "60 %"`, "keep = \"60 %\"\n    ride \"spin\" {\n      session = session.recovery_spin\n      weeks = [3]\n    }", "mix-empty"},
		{"weeks that grow beyond a week", `growth = "15 min"`, `growth = "9000 %"`, "week-too-long"},
		{"a first week of nothing", `first  = "4 h 45 min"`, `first = "4 min"`, "first-week-empty"},
		{"a test on a closed day", `day      = "tuesday"`, `day = "monday"`, "day-too-short"},
		{"a pin on a test day", `sunday = {`, `tuesday = {`, "day-taken"},
		{"pins that overlap", `sunday = { ride = "steady", minutes = "75 min" }`, `saturday = [{ ride = "steady", minutes = "45 min", at = "09:30" }, { ride = "steady", minutes = "45 min", at = "10:00" }]`, "day-taken"},
		{"pins that fill more than the day", `sunday = { ride = "steady", minutes = "75 min" }`, `saturday = [{ ride = "steady", minutes = "2 h", at = "07:00" }, { ride = "steady", minutes = "2 h", at = "12:00" }]`, "day-too-short"},
		{"a week that does not fit", `note   = "Flat roads."`, `hours = "12 h"`, "week-does-not-fit"},
		{"a waiver without use", `note   = "Flat roads."` + "\n", "note = \"Flat roads.\"\n  }\n  waive \"long-share\" {\n    reason = \"Because.\"\n  }\n  week \"3\" {\n", "unused-waiver"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			text := whole
			if tt.old != "" {
				if strings.Count(text, tt.old) != 1 && tt.old != "session.long_ride" {
					t.Fatalf("the edit's text stands %d times in the plan", strings.Count(text, tt.old))
				}
				text = strings.Replace(text, tt.old, tt.new, 1)
			}
			if tt.want == "recent-unknown" {
				text = strings.Replace(text, `first  = "4 h 45 min"`, `first = "100 % of recent"`, 1)
			}
			res := compiled(fstest.MapFS{"plan/block.hcl": &fstest.MapFile{Data: []byte(text)}})
			told := told(res.Findings)
			if tt.want == "" && len(told) == 0 || tt.want == "*" && len(told) == 1 || len(told) == 1 && told[0].Code == tt.want {
				return
			}
			t.Errorf("want one diagnostic %q, got %d:", tt.want, len(told))
			for _, d := range told {
				t.Errorf("%s:%d %s %s\n%s [%s]", d.Subject.Filename, d.Subject.Start.Line, d.Severity, d.Summary, d.Detail, d.Code)
			}
		})
	}
}

// TestTwoMistakesTwoMessages: a mistake does not hide another one, in another block or in another
// part of the same block.
func TestTwoMistakesTwoMessages(t *testing.T) {
	t.Parallel()
	tests := []struct {
		name  string
		edits []string
		want  []string
	}{
		{"in two blocks", []string{`longest `, `longst `, "session.long_ride", "session.long_rid"}, []string{"unknown-name", "unknown-reference"}},
		{"a value and a day", []string{`"60 %"`, `60`, `day      = "tuesday"`, `day = "monday"`}, []string{"wrong-unit", "day-too-short"}},
		{"a reading and a day", []string{`lactate = "1.3 mmol/L"`, `lactate = "130 mmol/L"`, `day      = "tuesday"`, `day = "monday"`}, []string{"*", "day-too-short"}},
		{"two pins", []string{`note   = "Flat roads."`, `saturday = [{ ride = "steady", minutes = "45 min", at = "09:30" }, { ride = "steady", minutes = "45 min", at = "10:00" }]`, `sunday = {`, `tuesday = {`}, []string{"day-taken", "day-taken"}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			text := whole
			for i := 0; i < len(tt.edits); i += 2 {
				text = strings.Replace(text, tt.edits[i], tt.edits[i+1], 1)
			}
			told := told(compiled(fstest.MapFS{"plan/block.hcl": &fstest.MapFile{Data: []byte(text)}}).Findings)
			ok := len(told) == len(tt.want)
			for i := range told {
				ok = ok && (tt.want[i] == "*" || told[i].Code == tt.want[i])
			}
			if !ok {
				t.Errorf("want %q, got:", tt.want)
				for _, d := range told {
					t.Errorf("line %d %s [%s]", d.Subject.Start.Line, d.Summary, d.Code)
				}
			}
		})
	}
}

// told is what asks the coach to do something: errors where there are any, else the findings.
func told(list diag.List) diag.List {
	var errors diag.List
	for _, d := range list {
		if d.Severity == diag.Error {
			errors.Add(d)
		}
	}
	if errors != nil {
		return errors
	}
	return list
}
