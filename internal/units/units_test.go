package units

import (
	"errors"
	"fmt"
	"math"
	"testing"
	"time"

	"pgregory.net/rapid"
)

// parsers are all that read a quantity, each giving what it read as text.
var parsers = map[string]func(string) (string, error){
	"power":            printed(ParsePower),
	"power range":      printed(ParsePowerRange),
	"heart rate":       printed(ParseHeartRate),
	"heart rate range": printed(ParseHeartRateRange),
	"lactate":          printed(ParseLactate),
	"effort range":     printed(ParseEffortRange),
	"cadence range":    printed(ParseCadenceRange),
	"mass":             printed(ParseMass),
	"share":            printed(ParseShare),
	"share range":      printed(ParseShareRange),
	"ramp":             printed(ParseRampRate),
	"duration":         printed(ParseDuration),
	"date":             printed(ParseDate),
	"clock":            printed(ParseClock),
	"weekday": func(s string) (string, error) {
		d, err := ParseWeekday(s)
		return WeekdayKey(d), err
	},
}

func printed[T fmt.Stringer](parse func(string) (T, error)) func(string) (string, error) {
	return func(s string) (string, error) {
		v, err := parse(s)
		return v.String(), err
	}
}

func TestParse(t *testing.T) {
	for _, test := range []struct{ kind, text, want string }{
		{"power", "142 W", "142 W"},
		{"power", "142W", "142 W"},
		{"power", " 142\u00a0W ", "142 W"},
		{"power", "0 W", "0 W"},
		{"power", "142.5 W", "142.5 W"},
		{"power", "+142 W", "142 W"},
		{"power range", "118-142 W", "118-142 W"},
		{"power range", "118–142 W", "118-142 W"},
		{"power range", "118 W - 142 W", "118-142 W"},
		{"power range", "118 W", "118 W"},
		{"heart rate", "128 bpm", "128 bpm"},
		{"heart rate range", "112 - 128bpm", "112-128 bpm"},
		{"lactate", "1.8 mmol/L", "1.8 mmol/L"},
		{"effort range", "11", "11"},
		{"effort range", "9 – 12", "9-12"},
		{"cadence range", "85-95 rpm", "85-95 rpm"},
		{"mass", "64.5 kg", "64.5 kg"},
		{"share", "8%", "8 %"},
		{"share", "−2.1 %", "-2.1 %"},
		{"share", "7 %", "7 %"},
		{"share range", "-5--2 %", "-5--2 %"},
		{"share range", "67%-100%", "67-100 %"},
		{"ramp", "20 W/min", "20 W/min"},
		{"duration", "75 min", "75 min"},
		{"duration", "4h30min", "4 h 30 min"},
		{"duration", "1.1 h", "66 min"},
		{"duration", "90 s", "1 min 30 s"},
		{"duration", "-5 min", "-5 min"},
		{"duration", "-1 h 5 min", "-65 min"},
		{"duration", "1 h 90 min", "2 h 30 min"},
		{"date", "2026-09-14", "2026-09-14"},
		{"date", "2028-02-29", "2028-02-29"},
		{"clock", "18:30", "18:30"},
		{"clock", "00:00", "00:00"},
		{"weekday", "sunday", "sunday"},
	} {
		if got, err := parsers[test.kind](test.text); got != test.want || err != nil {
			t.Errorf("%s %q: got %q, %v, want %q", test.kind, test.text, got, err, test.want)
		}
	}
}

func TestErrors(t *testing.T) {
	for _, test := range []struct{ kind, text, found, wanted, repair string }{
		{"duration", "4h30", "30", `a unit: a duration in h, min or s, such as "1 h 15 min"`, "4 h 30 min"},
		{"duration", "4 h 5", "5", `a unit: a duration in h, min or s, such as "1 h 15 min"`, "4 h 5 min"},
		{"duration", "4:30 h", "4", `a unit: a duration in h, min or s, such as "1 h 15 min"`, "4 h 30 min"},
		{"duration", "1:30:15", "1", `a unit: a duration in h, min or s, such as "1 h 15 min"`, "1 h 30 min 15 s"},
		{"duration", "90", "90", `a unit, as in "90 h" or "90 min": a duration in h, min or s, such as "1 h 15 min"`, ""},
		{"duration", "1,5 h", ",", `a point where the comma stands: a duration in h, min or s, such as "1 h 15 min"`, "1.5 h"},
		{"duration", "2 hours 5 minutes", "2 hours", `a duration in h, min or s, such as "1 h 15 min"`, "2 h 5 min"},
		{"duration", `5' 30"`, "5'", `a duration in h, min or s, such as "1 h 15 min"`, "5 min 30 s"},
		{"duration", "30 min 4 h", "4 h", "hours before minutes before seconds, each once", ""},
		{"duration", "0.5 s", "0.5 s", "a whole number of seconds", ""},
		{"duration", "30-40 min", "30-40 min", `one value, not a range: a duration in h, min or s, such as "1 h 15 min"`, ""},
		{"duration", "142 W", "142 W", `a duration in h, min or s, such as "1 h 15 min"; this is power in watts`, ""},
		{"duration", "", "", `a duration in h, min or s, such as "1 h 15 min"`, ""},
		{"duration", "4 h, outdoor", ", outdoor", `a duration in h, min or s, such as "1 h 15 min"`, ""},
		{"lactate", "1,5 mmol/L", ",", `a point where the comma stands: lactate in mmol/L, such as "1.8 mmol/L"`, "1.5 mmol/L"},
		{"lactate", "1.5", "1.5", `a unit: lactate in mmol/L, such as "1.8 mmol/L"`, "1.5 mmol/L"},
		{"ramp", "25 watts", "25 watts", `a ramp in watts per minute, such as "20 W/min"`, "25 W/min"},
		{"power", "142", "142", `a unit: power in watts, such as "142 W"`, "142 W"},
		{"power", "75 min", "75 min", `power in watts, such as "142 W"; this is a duration in h, min or s`, ""},
		{"power", "75 minutes", "75 minutes", `power in watts, such as "142 W"; this is a duration in h, min or s`, ""},
		{"power", "1,420 W", "1", `a unit: power in watts, such as "142 W"`, ""},
		{"power", "118-142 W", "118-142 W", `one value, not a range: power in watts, such as "142 W"`, ""},
		{"power", "9999 W", "9999 W", "power in watts between 0 and 3000 W", ""},
		{"power", "1e3 W", "1e", `power in watts, such as "142 W"`, ""},
		{"power", "about 140 W", "about 140 W", `power in watts, such as "142 W"`, ""},
		{"power range", "118-142", "142", `a unit: power in watts, such as "142 W"`, "118-142 W"},
		{"power range", "118–142 watt", "142 watt", `power in watts, such as "142 W"`, "118-142 W"},
		{"power range", "118 to 142 W", "118 to", `power in watts, such as "142 W"`, "118-142 W"},
		{"power range", "142-118 W", "142-118 W", "the lower value first", "118-142 W"},
		{"effort range", "21", "21", "a perceived effort between 6 and 20", ""},
		{"effort range", "11.5", "11.5", "a whole number of points", ""},
		{"share", "8 percent", "8 percent", `a share in percent, such as "8 %"`, "8 %"},
		{"date", "2026-02-30", "2026-02-30", "a day that exists: February 2026 ends on 2026-02-28", "2026-02-28"},
		{"date", "2026-9-14", "2026-9-14", `a date as year-month-day, such as "2026-09-14"`, "2026-09-14"},
		{"date", "14.09.2026", "14.09.2026", `a date as year-month-day, such as "2026-09-14"`, "2026-09-14"},
		{"date", "14/9/2026", "14/9/2026", `a date as year-month-day, such as "2026-09-14"`, "2026-09-14"},
		{"date", "9/10/2026", "9/10/2026", `a date as year-month-day, such as "2026-09-14"`, ""},
		{"date", "14 September 2026", "14 September 2026", `a date as year-month-day, such as "2026-09-14"`, "2026-09-14"},
		{"date", "1066-10-14", "1066-10-14", "a year from 1970 to 2199", ""},
		{"clock", "6:30 PM", "6:30 PM", `a time of day on the 24-hour clock, such as "18:30"`, "18:30"},
		{"clock", "18h30", "18h30", `a time of day on the 24-hour clock, such as "18:30"`, "18:30"},
		{"clock", "24:00", "24:00", `a time of day on the 24-hour clock, such as "18:30"`, ""},
		{"weekday", "Mon.", "Mon.", "a day of the week: monday to sunday", "monday"},
		{"weekday", "t", "t", "a day of the week: monday to sunday", ""},
	} {
		_, err := parsers[test.kind](test.text)
		var e *Error
		if !errors.As(err, &e) {
			t.Errorf("%s %q: got %v", test.kind, test.text, err)
			continue
		}
		if e.Found != test.found || e.Wanted != test.wanted || e.Repair != test.repair {
			t.Errorf("%s %q:\n got %q %q %q\nwant %q %q %q", test.kind, test.text, e.Found, e.Wanted, e.Repair, test.found, test.wanted, test.repair)
		}
		sound(t, test.kind, test.text)
	}
}

// sound fails where an error points outside of the text, or offers a repair that is none.
func sound(t testing.TB, kind, text string) {
	t.Helper()
	_, err := parsers[kind](text)
	if err == nil {
		return
	}
	e, ok := err.(*Error)
	if !ok {
		t.Fatalf("%s %q: a strange error: %v", kind, text, err)
	}
	if e.Offset < 0 || e.Length < 0 || e.Offset+e.Length > len(text) || e.Wanted == "" {
		t.Errorf("%s %q: %+v lies outside of the text", kind, text, *e)
	}
	if e.Repair == "" {
		return
	}
	if _, err := parsers[kind](e.Repair); err != nil || e.Repair == text {
		t.Errorf("%s %q: the repair %q fails: %v", kind, text, e.Repair, err)
	}
}

func TestOutOfRange(t *testing.T) {
	for _, test := range []struct {
		kind, text string
		want       bool
	}{
		{"power", "9999 W", true},
		{"power", "9999", false},
		{"effort range", "5-9", true},
		{"effort range", "11.5", false},
		{"power range", "142-118 W", false},
		{"date", "1066-10-14", true},
		{"date", "2026-02-30", false},
	} {
		_, err := parsers[test.kind](test.text)
		if e := new(Error); !errors.As(err, &e) || e.OutOfRange != test.want {
			t.Errorf("%s %q: got %+v, want out of range %v", test.kind, test.text, err, test.want)
		}
	}
}

func TestCanonical(t *testing.T) {
	for text, want := range map[string]string{
		"75min": "75 min", "4h30min": "4 h 30 min", "1.5h": "1.5 h", "118–142W": "118-142 W", "118 W - 142 W": "118-142 W", "8%": "8 %", "50%–70%": "50-70 %", "−2.1%": "-2.1 %", "90 s": "90 s",
		"3, 5-7": "3, 5-7", "4-5": "4-5", "9 - 12": "9 - 12", "2026-09-14": "2026-09-14", "75 mins": "75 mins", "Easy": "Easy", "": "", "40min, easy": "40min, easy", "30 min-1h": "30 min-1 h",
	} {
		if got := Canonical(text); got != want || Canonical(got) != got {
			t.Errorf("%q: got %q, then %q, want %q", text, got, Canonical(got), want)
		}
	}
}

// roundTrip: what is printed is read back as the same value, to a millionth of what is printed.
func roundTrip[T ~float64](t *testing.T, kind string, low, high, tolerance float64, parse func(string) (T, error), print func(T) string) {
	t.Run(kind, rapid.MakeCheck(func(t *rapid.T) {
		x := T(rapid.Float64Range(low, high).Draw(t, "x"))
		got, err := parse(print(x))
		if err != nil || math.Abs(float64(got-x)) > tolerance {
			t.Fatalf("%v prints %q, read as %v, %v", float64(x), print(x), float64(got), err)
		}
		if print(got) != print(x) || Canonical(print(x)) != print(x) {
			t.Fatalf("%q is printed as %q, canonical %q", print(x), print(got), Canonical(print(x)))
		}
	}))
}

func TestRoundTrip(t *testing.T) {
	roundTrip(t, "power", 0, 3000, 1e-6, ParsePower, Power.String)
	roundTrip(t, "heart rate", 0, 260, 1e-6, ParseHeartRate, HeartRate.String)
	roundTrip(t, "lactate", 0, 50, 1e-6, ParseLactate, Lactate.String)
	roundTrip(t, "mass", 20, 250, 1e-6, ParseMass, Mass.String)
	roundTrip(t, "share", -10, 10, 1e-8, ParseShare, Share.String)
	roundTrip(t, "ramp", 0, 200, 1e-6, ParseRampRate, RampRate.String)
	t.Run("duration", rapid.MakeCheck(func(t *rapid.T) {
		x := Duration(rapid.IntRange(-1e7, 1e7).Draw(t, "x"))
		if got, err := ParseDuration(x.String()); got != x || err != nil {
			t.Fatalf("%q: got %d, %v", x, got, err)
		}
	}))
	t.Run("effort", rapid.MakeCheck(func(t *rapid.T) {
		low := rapid.IntRange(6, 20).Draw(t, "low")
		x := Range[Effort]{Effort(low), Effort(rapid.IntRange(low, 20).Draw(t, "high"))}
		if got, err := ParseEffortRange(x.String()); got != x || err != nil {
			t.Fatalf("%q: got %v, %v", x, got, err)
		}
	}))
	t.Run("power range", rapid.MakeCheck(func(t *rapid.T) {
		low := rapid.IntRange(0, 3000).Draw(t, "low")
		x := Range[Power]{Power(low), Power(rapid.IntRange(low, 3000).Draw(t, "high"))}
		if got, err := ParsePowerRange(x.String()); got != x || err != nil {
			t.Fatalf("%q: got %v, %v", x, got, err)
		}
	}))
	t.Run("share range", rapid.MakeCheck(func(t *rapid.T) {
		low := rapid.IntRange(-100, 100).Draw(t, "low")
		high := rapid.IntRange(low, 100).Draw(t, "high")
		text := Range[Share]{Share(low) / 100, Share(high) / 100}.String()
		if got, err := ParseShareRange(text); err != nil || got.String() != text {
			t.Fatalf("%q: got %v, %v", text, got, err)
		}
	}))
	t.Run("date", rapid.MakeCheck(func(t *rapid.T) {
		x := NewDate(1970, 1, 1).Add(rapid.IntRange(0, 84_000).Draw(t, "x")) // 84,000 days end in 2199
		if got, err := ParseDate(x.String()); got != x || err != nil {
			t.Fatalf("%q: got %v, %v", x, got, err)
		}
	}))
	t.Run("clock", rapid.MakeCheck(func(t *rapid.T) {
		x := NewClock(0, rapid.IntRange(0, 24*60-1).Draw(t, "x"))
		if got, err := ParseClock(x.String()); got != x || err != nil {
			t.Fatalf("%q: got %v, %v", x, got, err)
		}
	}))
}

func TestDates(t *testing.T) {
	d := NewDate(2026, 9, 14)
	if d.Weekday() != time.Monday || d.Add(20).String() != "2026-10-04" || d.Add(20).Sub(d) != 20 || Date(0).String() != "" || !Date(0).IsZero() || NewDate(1970, 1, 1).IsZero() {
		t.Errorf("%v is a %v", d, d.Weekday())
	}
	if NewDate(2026, 2, 31) != NewDate(2026, 3, 3) {
		t.Error("a day past the end of a month is not carried over")
	}
}

// TestAt: clocks that change leave out or repeat times. The dates are those of the European Union's
// rule, last Sundays of March and October at 01:00 UTC (Directive 2000/84/EC).
func TestAt(t *testing.T) {
	berlin, err := time.LoadLocation("Europe/Berlin")
	if err != nil {
		t.Fatal(err)
	}
	for _, test := range []struct {
		date  Date
		clock Clock
		ok    bool
		utc   string
	}{
		{NewDate(2026, 9, 14), NewClock(18, 30), true, "16:30"},
		{NewDate(2026, 3, 29), NewClock(2, 30), false, ""},
		{NewDate(2026, 3, 29), NewClock(1, 59), true, "00:59"},
		{NewDate(2026, 3, 29), NewClock(3, 0), true, "01:00"},
		{NewDate(2026, 10, 25), NewClock(2, 30), false, ""},
		{NewDate(2026, 10, 25), NewClock(1, 59), true, "23:59"},
		{NewDate(2026, 10, 25), NewClock(3, 0), true, "02:00"},
	} {
		got, ok := test.date.At(test.clock, berlin)
		if ok != test.ok || ok && got.UTC().Format("15:04") != test.utc {
			t.Errorf("%v %v: got %v, %v", test.date, test.clock, got.UTC(), ok)
		}
	}
}

func FuzzParse(f *testing.F) {
	for _, text := range []string{"142 W", "118–142 W", "4h30", "4:30 h", "1,5 mmol/L", "−2 %", "-5--2 %", "5' 30\"", "2026-02-30", "14.9.2026", "6 PM", "Mon", "\xff", "7–0%", "1\u202f000 W", "9999999999999999 W", "99996W", "0.5 s"} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		for kind := range parsers {
			sound(t, kind, text)
			if got, err := parsers[kind](text); err == nil {
				if again, err := parsers[kind](got); err != nil || again != got {
					t.Errorf("%s %q: prints %q, read as %q, %v", kind, text, got, again, err)
				}
			}
		}
		if once := Canonical(text); Canonical(once) != once {
			t.Errorf("%q: canonical %q, then %q", text, once, Canonical(once))
		}
	})
}

func TestParseDates(t *testing.T) {
	for text, want := range map[string]string{
		"2026-12-21 to 2027-01-03":   "2026-12-21 to 2027-01-03",
		"2026-12-21  to  2026-12-21": "2026-12-21",
		"2026-12-21":                 "2026-12-21",
	} {
		r, err := ParseDates(text)
		if err != nil || datesString(r) != want {
			t.Errorf("%q: got %s, %v", text, datesString(r), err)
		}
		if again, err := ParseDates(datesString(r)); err != nil || again != r {
			t.Errorf("%s does not read back: %v, %v", datesString(r), again, err)
		}
	}
	for text, repair := range map[string]string{
		"":                            "",
		"to":                          "",
		"2026-12-21 to":               "",
		"2026-12-21 to spring":        "",
		"2026-12-21 until 2027-01-03": "2026-12-21 to 2027-01-03",
		"2026-12-21–2027-01-03":       "2026-12-21 to 2027-01-03",
		"2026-12-21 - 2027-01-03":     "2026-12-21 to 2027-01-03",
		"2026-12-21/2027-01-03":       "2026-12-21 to 2027-01-03",
		"2026-12-21..2027-01-03":      "2026-12-21 to 2027-01-03",
		"2027-01-03 to 2026-12-21":    "2026-12-21 to 2027-01-03",
		"2026-12-24 to 27":            "2026-12-24 to 2026-12-27",
		"2026-12-24 to 3":             "",
		"2026-11-24 to 31":            "",
		"25.4.2027 to 27.4.2027":      "2027-04-25 to 2027-04-27",
		"12/21/2026 to 12/30/2026":    "2026-12-21 to 2026-12-30",
		"2027-02-25 to 2027-02-30":    "2027-02-25 to 2027-02-28",
		"2026/12/21":                  "2026-12-21",
	} {
		_, err := ParseDates(text)
		var e *Error
		if !errors.As(err, &e) {
			t.Errorf("%q is accepted", text)
			continue
		}
		if e.Repair != repair {
			t.Errorf("%q: got the repair %q, want %q", text, e.Repair, repair)
		}
		if e.Offset < 0 || e.Offset+e.Length > len(text) {
			t.Errorf("%q: part %d+%d lies outside", text, e.Offset, e.Length)
		}
		if _, err := ParseDates(e.Repair); e.Repair != "" && err != nil {
			t.Errorf("%q: the repair %q is not accepted: %v", text, e.Repair, err)
		}
	}
}
