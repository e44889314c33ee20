package spec

import (
	"errors"
	"fmt"
	"path/filepath"
	"reflect"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"github.com/hashicorp/hcl/v2"

	"towpath/internal/syntax"
	"towpath/internal/units"
)

// decodeCase decodes a golden case that has no mistakes.
func decodeCase(t *testing.T, name string) (Input, *Spec) {
	t.Helper()
	in := inputOf(t, filepath.Join(goldens, name))
	s, diags := Decode(in)
	if len(diags) > 0 {
		t.Fatalf("%s has findings:\n%s", name, printed(in, diags))
	}
	return in, s
}

// v is a value that was written; its place is compared elsewhere.
func v[T any](x T) Value[T] { return Value[T]{V: x, Set: true} }

var noPlaces = cmp.Options{cmpopts.IgnoreTypes(hcl.Range{}), cmpopts.EquateEmpty(), cmp.Comparer(func(a, b units.Share) bool { return a.PerMillion() == b.PerMillion() })}

func TestBlockValues(t *testing.T) {
	_, s := decodeCase(t, "ok/all_of_a_block.hcl")
	want := &Block{
		Label:        Label{Key: "autumn"},
		Title:        v("Autumn base"),
		Aim:          v("A hilly 100 km in December."),
		Note:         v("Sleep comes first."),
		Athletes:     []Value[Ref]{v(Ref{"athlete", "signe"})},
		Start:        v(units.NewDate(2026, time.October, 5)),
		Weeks:        v(8),
		RidesPerWeek: v(units.Range[int]{Low: 4, High: 5}),
		Volume: &Volume{
			First:     v(Amount{Share: 1, IsShare: true, OfRecent: true}),
			Growth:    v(Amount{Share: 0.08, IsShare: true}),
			AtMost:    v(units.Duration(7*3600 + 1800)),
			WhenShort: v("take what fits"),
		},
		Recovery: &Recovery{
			Weeks: v([]int{4, 8}), Keep: v(units.Share(0.6)),
			Rides: []*Ride{{Label: Label{Key: "easy"}, Session: v(Ref{"session", "steady"}), Rest: true}},
		},
		Rides: []*Ride{
			{
				Label: Label{Key: "long"}, Session: v(Ref{"session", "long_ride"}), PerWeek: v(units.One(1)), Share: v(units.Share(0.4)),
				Days: []Value[time.Weekday]{v(time.Saturday), v(time.Sunday)},
			},
			{Label: Label{Key: "steady"}, Session: v(Ref{"session", "steady"}), PerWeek: v(units.Range[int]{Low: 0, High: 2}), Rest: true, Weeks: v([]int{3, 5, 6, 7})},
		},
		TestDays: []*TestDay{{
			Label: Label{Key: "standard"}, Protocol: v(Ref{"protocol", "standard_ride"}), Weeks: v([]int{1, 2, 3, 4, 5, 6, 7}),
			Day: v(time.Thursday), At: v(units.NewClock(10, 15)),
		}},
		WeekNotes: []*Week{{
			Label: Label{Key: "3"}, Number: v(3), Hours: v(units.Duration(6*3600 + 900)), Note: v("Eat on the bike."),
			Pins: []Pin{
				{Day: time.Saturday, Ride: v("long"), Minutes: v(units.Duration(9000))},
				{Day: time.Sunday, Session: v(Ref{"session", "commute"}), Minutes: v(units.Duration(2400))},
				{Day: time.Sunday, Ride: v("steady"), Minutes: v(units.Duration(3600)), At: v(units.NewClock(17, 0))},
			},
		}},
		Limits: &Limits{
			WeeklyGrowth: v(units.Share(0.1)), SessionSpike: v(Amount{Duration: 1800}), RestDays: v(1),
			RecoveryDepth: v(units.Range[units.Share]{Low: 0.3, High: 0.5}),
		},
		Waivers: []*Waiver{{Label: Label{Key: "session-spike"}, Weeks: v([]int{6, 7}), Reason: v("A flat route with a station half-way.")}},
	}
	if d := cmp.Diff([]*Block{want}, s.Blocks, noPlaces); d != "" {
		t.Errorf("the block differs (-want +got):\n%s", d)
	}
}

func TestComputedValues(t *testing.T) {
	_, s := decodeCase(t, "ok/for_and_conditions.hcl")
	b := s.Blocks[0]
	got := []any{b.Weeks.V, b.Start.V.String(), b.Volume.First.V.Duration.String(), b.Volume.AtMost.V.String(), b.Volume.Growth.V.Duration.String(), b.Rides[0].Share.V.String(), len(b.Rides[0].Days), b.TestDays[0].Day.V, b.TestDays[0].Place.V, len(b.Athletes), b.Athletes[0].V}
	// 1 h + 45 min + 1.25 * 2 h = 4 h 15 min; 14 September 2026 is a Monday (ISO 8601 week 38).
	want := []any{8, "2026-10-05", "4 h 15 min", "9 h", "20 min", "40 %", 2, time.Monday, "indoor", 1, Ref{"athlete", "signe"}}
	if d := cmp.Diff(want, got); d != "" {
		t.Errorf("computed values differ (-want +got):\n%s", d)
	}
}

func TestReplacedBuiltIn(t *testing.T) {
	_, s := decodeCase(t, "ok/built_in_replaced.hcl")
	found := 0
	for _, session := range s.Sessions {
		if session.Key == "steady" {
			found++
			if session.BuiltIn || session.Replaces.Filename != "library/sessions.hcl" || session.Title.V != "Steady, our way" {
				t.Errorf("got built in %v, replaces %v, title %q", session.BuiltIn, session.Replaces, session.Title.V)
			}
		}
	}
	if found != 1 {
		t.Errorf("there are %d sessions named steady, want 1", found)
	}
}

// TestWeekOff: a week may hold nothing where a ride may not.
func TestWeekOff(t *testing.T) {
	for text, want := range map[string]string{
		`block "b" {` + "\n week \"1\" {\n hours = \"0 min\"\n }\n}": "",
		`athlete "a" { recent = ["3 h", "0 min"] }`:                  "",
		`athlete "a" { recent = ["3 h", "-1 h"] }`:                   `"-1 h" is out of range`,
		`athlete "a" { longest = "0 min" }`:                          `"0 min" is out of range`,
	} {
		_, diags := Decode(Input{Files: []*syntax.File{parse("case.hcl", []byte("language = 1\nid = \"weekoff1\"\n"+text))}})
		got := ""
		for _, d := range diags {
			if d.Code == codeOutOfRange {
				got += d.Summary
			}
		}
		if got != want {
			t.Errorf("%s: got %q, want %q", text, got, want)
		}
	}
}

func TestParseDay(t *testing.T) {
	tests := []struct {
		text string
		want Day
	}{
		{"none", Day{Closed: true}},
		{"75 min", Day{Limit: 75}},
		{"75 min, 18:30, indoor", Day{Limit: 75, Start: units.NewClock(18, 30), Place: "indoor"}},
		{"indoor,18:30,75 min", Day{Limit: 75, Start: units.NewClock(18, 30), Place: "indoor"}},
		{"40 min, easy", Day{Limit: 40, Easy: true}},
		{"3 h 40 min, 09:15, outdoor or 2 h indoor", Day{Limit: 220, Start: units.NewClock(9, 15), Place: "outdoor", OrLimit: 120, OrPlace: "indoor"}},
		{"outdoor or 2 h indoor, 4 h", Day{Limit: 240, Place: "outdoor", OrLimit: 120, OrPlace: "indoor"}},
		{"4 h or 2 h indoor", Day{Limit: 240, Place: "outdoor", OrLimit: 120, OrPlace: "indoor"}},
		{"25 min, 07:30, commute", Day{Limit: 25, Start: units.NewClock(7, 30), Commute: true}},
		{"4 h outdoor or 90 min indoor, easy", Day{Limit: 240, Place: "outdoor", OrLimit: 90, OrPlace: "indoor", Easy: true}},
	}
	for _, tt := range tests {
		got, err := parseDay(tt.text)
		if d := cmp.Diff(tt.want, got); d != "" || err != nil {
			t.Errorf("%q: error %v, (-want +got):\n%s", tt.text, err, d)
		}
	}
	for _, wrong := range []string{
		"", "easy", "60", "60 min, 70 min", "60 min, none", "60 min, indoor, indoor", "60 min or 30 min", "60 min, outdoor or 30 min outdoor", "25 h", "90 s", "0 min", "60 min, easy, easy", "60 min, 08:00, 09:00", "60 min,",
		"25 min, commute, commute", "25 min, commute, easy", "25 min, commute, indoor", "25 min, commute, indoor or 30 min outdoor", "commute",
	} {
		var e *units.Error
		if _, err := parseDay(wrong); !errors.As(err, &e) {
			t.Errorf("%q is accepted", wrong)
		} else if e.Offset < 0 || e.Offset+e.Length > len(wrong) {
			t.Errorf("%q: part %d+%d lies outside", wrong, e.Offset, e.Length)
		}
	}
}

// TestEveryValueHasItsPlace walks the whole specification: what was written points into its file,
// what was left out at the header of its block.
func TestEveryValueHasItsPlace(t *testing.T) {
	for _, name := range []string{"ok/all_of_a_block.hcl", "ok/for_and_conditions.hcl", "ok/days_in_any_order.hcl", "ok/all_of_a_week.hcl", "ok/squad_and_events.hcl", "ok/bands_by_place.hcl"} {
		in, s := decodeCase(t, name)
		values := 0
		var walk func(x reflect.Value, path string)
		walk = func(x reflect.Value, path string) {
			switch x.Kind() {
			case reflect.Pointer:
				if !x.IsNil() {
					walk(x.Elem(), path)
				}
			case reflect.Slice:
				for i := range x.Len() {
					walk(x.Index(i), path)
				}
			case reflect.Struct:
				if set := x.FieldByName("Set"); set.IsValid() && x.NumField() == 3 {
					values++
					at := x.FieldByName("Range").Interface().(hcl.Range)
					if text := cut(in, at); len(text) == 0 || string(text) == "(outside of all files)" {
						t.Errorf("%s: the value points at %v, where %q stands", path, at, text)
					}
					return
				}
				for i := range x.NumField() {
					walk(x.Field(i), path+"."+x.Type().Field(i).Name)
				}
			}
		}
		for _, b := range s.Blocks {
			walk(reflect.ValueOf(b), "block")
		}
		for _, a := range s.Athletes {
			walk(reflect.ValueOf(a), "athlete")
		}
		for _, squad := range s.Squads {
			walk(reflect.ValueOf(squad), "squad")
		}
		for _, event := range s.Events {
			walk(reflect.ValueOf(event), "event")
		}
		for _, band := range s.Bands {
			walk(reflect.ValueOf(band), "band")
		}
		for _, test := range s.Tests {
			walk(reflect.ValueOf(test), "test")
		}
		for _, session := range s.Sessions {
			walk(reflect.ValueOf(session), "session")
		}
		if values < 50 {
			t.Errorf("%s: only %d values were looked at", name, values)
		}
	}
}

func TestParseAllowance(t *testing.T) {
	for text, want := range map[string]Allowance{
		"climbs: 3 min, 115 %":     {Name: "climbs", Duration: 180, Share: 1.15},
		"sprints:10s,all out":      {Name: "sprints", Duration: 10, AllOut: true},
		"kicks: 108 %, 1 min 30 s": {Name: "kicks", Duration: 90, Share: 1.08},
	} {
		if got, err := parseAllowance(text); err != nil || fmt.Sprint(got) != fmt.Sprint(want) {
			t.Errorf("%q: got %+v, %v", text, got, err)
		}
	}
	for _, wrong := range []string{
		"", "climbs", "climbs:", "climbs: 3 min", "climbs: 115 %", ": 3 min, 115 %", "Climbs: 3 min, 115 %", "climbs: 3 min, 100 %", "climbs: 3 min, 85 %",
		"climbs: 0 min, 115 %", "climbs: 3, 115 %", "climbs: 3 min, 115", "climbs: 3 min, 4 min, 115 %", "climbs: 3 min, 115 %, all out", "climbs: 3 min, 115 %,", "climbs: 3 min; 115 %",
	} {
		var e *units.Error
		if _, err := parseAllowance(wrong); !errors.As(err, &e) {
			t.Errorf("%q is accepted", wrong)
		} else if e.Offset < 0 || e.Offset+e.Length > len(wrong)+1 {
			t.Errorf("%q: part %d+%d lies outside", wrong, e.Offset, e.Length)
		} else if _, err := parseAllowance(e.Repair); e.Repair != "" && err != nil {
			t.Errorf("%q: the repair %q is not accepted: %v", wrong, e.Repair, err)
		}
	}
}

func TestCanonical(t *testing.T) {
	for text, want := range map[string]string{
		"118–142W": "118-142 W", "75min,18:30 ,indoor": "75 min, 18:30, indoor", "4h or 2h  indoor": "4 h or 2 h indoor", "25 min,commute": "25 min, commute",
		"climbs:3min,115%": "climbs: 3 min, 115 %", "sprints:  10 s , all out": "sprints: 10 s, all out", "100%  of recent": "100 % of recent",
		"none": "none", "Eat,drink": "Eat,drink", "60,easy": "60,easy", "3,5-7": "3,5-7", "": "",
	} {
		got := Canonical(text)
		if got != want {
			t.Errorf("%q: got %q, want %q", text, got, want)
		}
		if again := Canonical(got); again != got {
			t.Errorf("%q becomes %q, then %q", text, got, again)
		}
	}
}
