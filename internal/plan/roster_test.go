package plan

import (
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"towpath/internal/spec"
	"towpath/internal/units"
)

func shift(key string, d spec.Day) spec.Shift {
	return spec.Shift{Key: set(key), Day: on(d, 2)}
}

var shiftDays = []spec.Shift{
	shift("early", *room(75, 16)), shift("night", spec.Day{Limit: 40, Easy: true}), shift("off", spec.Day{Closed: true}),
}

func inline(from int, shifts string) *spec.Roster {
	ro := &spec.Roster{From: on(march.Add(from), 1)}
	for i, key := range strings.Fields(shifts) {
		ro.Days = append(ro.Days, on(key, 10+i))
	}
	return ro
}

func until(last int, ro *spec.Roster) *spec.Roster {
	ro.Until = on(march.Add(last), 5)
	return ro
}

func fromFile(from int, text string) *spec.Roster {
	return &spec.Roster{From: set(march.Add(from)), File: set("r.csv"), FileName: "plan/r.csv", FileText: []byte(text)}
}

// bare is a file whose first day nobody wrote.
func bare(text string) *spec.Roster {
	ro := fromFile(0, text)
	ro.From = spec.Value[units.Date]{}
	return ro
}

func TestRosters(t *testing.T) {
	const head = "date,shift\n"
	tests := []struct {
		name    string
		rosters []*spec.Roster
		want    string // minutes on the seven days from the day before the block on; . for usual days
		said    []string
	}{
		{"none", nil, ". . . . . . .", nil},
		{"repeated", []*spec.Roster{inline(0, "early night off")}, ". 75 40 0 75 40 .", nil},
		{"begun long before", []*spec.Roster{inline(-3001, "early night off")}, ". 40 0 75 40 0 .", nil},
		{"begun within the block", []*spec.Roster{inline(2, "early night")}, ". . . 75 40 75 .", nil},
		{"with a last day", []*spec.Roster{until(2, inline(0, "early"))}, ". 75 75 75 . . .", nil},
		{"one after the other, in any order", []*spec.Roster{inline(3, "night"), inline(0, "early")}, ". 75 75 75 40 40 .", nil},
		{"with a gap", []*spec.Roster{until(0, inline(0, "early")), inline(3, "night")}, ". 75 . . 40 40 .", nil},
		{"a file, then a list", []*spec.Roster{fromFile(0, head+"2027-03-02,early\n"), inline(2, "night")}, ". . 75 40 40 40 .", nil},
		{"two at once", []*spec.Roster{until(3, inline(0, "early")), inline(3, "night")}, ". 75 75 75 40 40 .", []string{"rosters-overlap plan.hcl:1 Two rosters hold 2027-03-04"}},
		{"two from one day on", []*spec.Roster{inline(0, "early"), inline(0, "night")}, ". 40 40 40 40 40 .", []string{"rosters-overlap plan.hcl:1 Two rosters hold 2027-03-01"}},
		{"ended before begun", []*spec.Roster{until(-1, inline(0, "early"))}, ". . . . . . .", nil},
		{"an unknown shift, twice", []*spec.Roster{inline(0, "early nigth nigth")}, ". 75 . . 75 . .", []string{`unknown-shift plan.hcl:11 There is no shift "nigth" {11: "night"} {12: "night"}`}},
		{"two unknown shifts", []*spec.Roster{inline(0, "elephant nigth")}, ". . . . . . .", []string{`unknown-shift plan.hcl:10 There is no shift "elephant"`, `unknown-shift plan.hcl:11 There is no shift "nigth" {11: "night"}`}},
		{"nothing was read", []*spec.Roster{inline(0, ""), {From: set(march.Add(2)), File: set("r.csv")}, {}}, ". . . . . . .", nil},

		{"a file", []*spec.Roster{fromFile(0, head+"2027-03-01,early\n2027-03-02,night\n2027-03-04,off\n2040-01-01,off\n")}, ". 75 40 . 0 . .", nil},
		{"a file before its first day and after its last", []*spec.Roster{until(2, fromFile(1, head+"2027-03-01,early\n2027-03-02,night\n2027-03-03,early\n2027-03-04,off\n"))}, ". . 40 75 . . .", nil},
		{"as a spreadsheet writes it", []*spec.Roster{fromFile(0, "\ufeffShift;Station;Date\r\n\"Early\";12;\"2027-03-01\"\r\nnight;;2027-03-02\r\n;;\r\n")}, ". 75 40 . . . .", nil},
		{"days, months and years with dots, names with marks", []*spec.Roster{fromFile(0, "date;shift\n01.03.2027;\u00c9arly\n2.3.2027;NIGHT\n")}, ". 75 40 . . . .", nil},
		{"other signs are another shift", []*spec.Roster{fromFile(0, head+"2027-03-01,early+\n")}, ". . . . . . .", []string{`unknown-shift plan/r.csv:2 There is no shift "early+" {2: early}`}},
		{"files that say themselves when they begin, in any order", []*spec.Roster{bare(head + "2027-03-03,off\n2027-03-04,early\n"), bare(head + "2027-03-01,early\n2027-03-02,night\n2027-03-03,early\n")}, ". 75 40 0 75 . .", nil},
		{"a file that begins after the last day", []*spec.Roster{until(0, bare(head+"2027-03-02,early\n"))}, ". . . . . . .", []string{"roster-value plan.hcl:5 The roster ends on 2027-03-01, before its file begins on 2027-03-02"}},
		{"a file without a day and without a first day", []*spec.Roster{bare(head)}, ". . . . . . .", []string{"roster-file plan/r.csv:1 The roster names its columns and holds no days"}},
		{"an unknown shift in a file", []*spec.Roster{fromFile(0, head+"2027-03-01,early\n2027-03-02,\"nihgt\"\n")}, ". 75 . . . . .", []string{`unknown-shift plan/r.csv:3 There is no shift "nihgt" {3: night}`}},
		{"all that can be wrong at once", []*spec.Roster{fromFile(0, head+"3/1/2027,early\n2027-03-02,late\n2027-03-03,early\n2027-03-03,off\n2027-02-30,off\n2027-03-01,off\n2027-03-05,\n2027-03-06,early,x\n,off\n")}, ". . . 75 . . .", []string{
			`roster-row plan/r.csv:9 This line has 3 values, the first line names 2 columns`,
			`roster-value plan/r.csv:2 date holds "3/1/2027", which is not a date`,
			`roster-value plan/r.csv:6 date holds "2027-02-30", which is not a date {6: 2027-02-28}`,
			`roster-value plan/r.csv:5 2027-03-03 stands here twice`,
			`roster-value plan/r.csv:7 2027-03-01 stands below 2027-03-03`,
			`roster-value plan/r.csv:8 2027-03-05 has no shift`,
			`unknown-shift plan/r.csv:3 There is no shift "late"`,
		}},
		{"a file without names of columns", []*spec.Roster{fromFile(0, "2027-03-01,early\n")}, ". . . . . . .", []string{"roster-columns plan/r.csv:1 The first line holds values, not the names of the columns"}},
		{"a file with other columns", []*spec.Roster{fromFile(0, "day;turn\n2027-03-01;early\n")}, ". . . . . . .", []string{"roster-columns plan/r.csv:1 The roster has no column date"}},
		{"a file with a column twice", []*spec.Roster{fromFile(0, "date,shift,Date\n2027-03-01,early,x\n")}, ". . . . . . .", []string{`roster-columns plan/r.csv:1 The column "Date" stands here twice`}},
		{"an empty file", []*spec.Roster{fromFile(0, "")}, ". . . . . . .", []string{"roster-file plan/r.csv:1 The roster holds no days"}},
		{"a file without days", []*spec.Roster{fromFile(0, head)}, ". . . . . . .", []string{"roster-file plan/r.csv:1 The roster names its columns and holds no days"}},
		{"a file with too many days", []*spec.Roster{fromFile(0, head+manyDays(4001))}, ". 75 75 75 75 75 .", []string{"roster-file plan/r.csv:4002 The roster has more than 4000 days"}},
		{"a file that is too long", []*spec.Roster{fromFile(0, strings.Repeat(" ", 300<<10))}, ". . . . . . .", []string{"roster-file plan/r.csv:1 The roster is 300 KiB long"}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			r := resolverOf(nil)
			days := r.rostered(&spec.Athlete{Label: spec.Label{Key: "a"}, Shifts: shiftDays, Rosters: tt.rosters}, march, march.Add(4))
			got := ""
			for d := march.Add(-1); d <= march.Add(5); d++ {
				if on, ok := days[d]; ok {
					got += fmt.Sprintf(" %d", on.Limit)
				} else {
					got += " ."
				}
			}
			if got[1:] != tt.want {
				t.Errorf("got %s, want %s", got[1:], tt.want)
			}
			var said []string
			for _, d := range r.diags.Sorted() {
				line := fmt.Sprintf("%s %s:%d %s", d.Code, d.Subject.Filename, d.Subject.Start.Line, d.Summary)
				if d.Fix != nil {
					for _, e := range d.Fix.Edits {
						line += fmt.Sprintf(" {%d: %s}", e.Range.Start.Line, e.Text)
					}
				}
				said = append(said, line)
			}
			if diff := cmp.Diff(sorted(tt.said), sorted(said)); diff != "" {
				t.Errorf("said (-want +got):\n%s", diff)
			}
		})
	}
}

// manyDays are rows from the first of March on.
func manyDays(n int) string {
	var b strings.Builder
	for i := range n {
		fmt.Fprintf(&b, "%s,early\n", march.Add(i))
	}
	return b.String()
}

func TestRosterWithoutShifts(t *testing.T) {
	r := resolverOf(nil)
	r.rostered(&spec.Athlete{Rosters: []*spec.Roster{inline(0, "early late")}}, march, march.Add(4))
	if len(r.diags) != 1 || len(r.diags[0].Related) != 1 || !strings.Contains(r.diags[0].Detail, "shifts = {") {
		t.Errorf("got %+v", r.diags)
	}
}

// A date comes before the roster, and the roster before the usual week.
func TestDayOn(t *testing.T) {
	s := &spec.Athlete{
		Label: spec.Label{Key: "a"}, Days: [7]spec.Value[spec.Day]{0: set(*room(120, 0)), 1: set(*room(120, 0)), 2: set(*room(120, 0))}, Shifts: shiftDays,
		Rosters: []*spec.Roster{until(1, inline(0, "early night"))},
		On:      []spec.DatedDay{{Date: set(march), Day: set(*room(30, 0))}},
	}
	r := resolverOf(nil)
	a := r.athlete(s, march, march.Add(6), nil)
	for days, want := range map[int]units.Minutes{0: 30, 1: 40, 2: 120, 3: 0} {
		if got := a.DayOn(march.Add(days)); got.Limit != want {
			t.Errorf("day %d holds %s, want %s", days, got.Limit, want)
		}
	}
	if got := a.OrdinaryOn(march); got.Limit != 75 {
		t.Errorf("the roster gives the first day %s", got.Limit)
	}
}
