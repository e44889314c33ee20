package schedule_test

import (
	"regexp"
	"strings"
	"testing"

	"towpath/internal/syntax"
)

const alonePlan = `language = 1
id       = "t5t5t5t5"

athlete "ilse" {
  time_zone = "Europe/Oslo"
  recent    = ["5 h", "5 h", "5 h", "5 h"]
  # written apart
  days {
    tuesday   = ["25 min, 07:30, commute", "60 min, 18:00"]
    wednesday = "60 min, easy"
    thursday  = "20 min, commute"
    saturday  = "2 h, 09:00"
  }
  # more
}
band "now" { power = "150-200 W" }
block "short" {
  start = "2027-03-01"
  weeks = 2
  volume {
    first  = "3 h 45 min"
    growth = "20 min"
  }
  ride "steady" {
    session = session.steady
  }
}
`

// Days whose text holds two windows are written anew as a list.
func TestFixesOfWindows(t *testing.T) {
	thrice := "session = session.steady\n    per_week = 3"
	tests := []struct {
		name   string
		change []string
		fix    string
	}{
		{"the larger window", nil, `tuesday   = ["25 min, 07:30, commute", "80 min, 18:00"]`},
		{"only the way to work", []string{"session = session.steady", thrice}, `thursday  = ["30 min", "20 min, commute"]`},
		{"an easy day", []string{"session = session.steady", thrice, `    thursday  = "20 min, commute"`, ""}, `wednesday = "60 min"`},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			text := strings.NewReplacer(tt.change...).Replace(alonePlan)
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

// A date whose text holds for other dates or riders as well is not edited: the message shows what to
// write for it alone, and that mends the week.
func TestWrittenApart(t *testing.T) {
	typed := regexp.MustCompile(`(on|days) (=|\{) .*?\}`)
	ownDays := alonePlan[strings.Index(alonePlan, "  days {"):strings.Index(alonePlan, "  # more")]
	squad := func(on string) []string {
		return []string{ownDays, "", `band "now"`, "squad \"north\" {\n  athletes = [athlete.ilse]\n  defaults {\n" + on + ownDays + "  }\n}\nband \"now\""}
	}
	tests := []struct {
		name   string
		change []string
		says   string
	}{
		{"a roster", []string{"  # more", `  shifts = { late = "60 min, 10:00", off = "none" }
  roster {
    from = "2027-03-08"
    days = ["off", "late", "late", "off"]
  }`}, `One date of a roster is written apart: on = { "2027-03-09" = "65 min, 10:00" }.`},
		{"a squad's day", squad(""), `Tuesday is a day of squad "north"; for this rider alone write in athlete "ilse": days { tuesday = ["25 min, 07:30, commute", "80 min, 18:00"] }.`},
		{"a squad's date", squad("  on = { \"2027-03-09\" = \"60 min\" }\n"), `2027-03-09 is a date of squad "north"; for this rider alone write in athlete "ilse": on = { "2027-03-09" = "105 min" }.`},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			text := strings.NewReplacer(tt.change...).Replace(alonePlan)
			d := conflictOf(t, text)
			if d == nil || !strings.HasSuffix(d.Detail, tt.says) || d.Fix != nil {
				t.Fatalf("got %+v, want no edit and %s", d, tt.says)
			}
			if again := conflictOf(t, strings.Replace(text, "# written apart", typed.FindString(tt.says), 1)); again != nil {
				t.Errorf("after it was written: %s", again.Summary)
			}
		})
	}
}

// Of a row of dates the message says how to write one of them apart.
func TestRowOfDates(t *testing.T) {
	row := strings.Replace(alonePlan, "# more", `on = { "2027-03-09 to 2027-03-11" = "60 min" }`, 1)
	d := conflictOf(t, strings.Replace(row, `growth = "20 min"`, `growth = "80 min"`, 1))
	want := `One date of several in a row is written in a line of its own in on: "2027-03-09" = "65 min".`
	if d == nil || !strings.HasSuffix(d.Detail, want) {
		t.Errorf("got %+v, want %s", d, want)
	}
}
