package export

import (
	"bytes"
	"encoding/csv"
	"slices"
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"

	"pgregory.net/rapid"

	"towpath/internal/prescription"
)

// What a text must not do: end a line, open a formula, break an encoding, grow beyond a field.
var hostileTexts = []string{
	"a\r\nEND:VEVENT\r\nBEGIN:VEVENT\r\nUID:evil", "a\rb", "a\nATTACH:x", "=cmd|' /C calc'!A0", "+1", "-1", "@SUM(A1)", "\t=1", "\r=1", "  =1", "＝1",
	"nul\x00after", "bad \xff\xfe bytes \xc3", "\x1b[31mred", "👩‍🚴‍♀️ ride", "日本語のタイトル", "a;b,c\\d\"e'f", "x\u202Eevil", "\uFEFFbom", "\u2028line", "\u0085nel",
	strings.Repeat("very long ", 500), strings.Repeat("é", 1000), strings.Repeat("👩‍🚴", 300), "", " ", "</script>", "{\"a\":1}", "\\n", "\\", ",", "\u007f",
}

func hostile(p *prescription.Prescription, text string) *prescription.Prescription {
	p.Block.Title, p.Block.Aim, p.Block.Athlete.Name = text, text, text
	for _, e := range p.Block.Events {
		e.Title = text
	}
	for _, o := range p.Block.Athlete.Other {
		o.Title = text
	}
	for _, b := range p.Block.Bands {
		for i := range b.Allowances {
			b.Allowances[i].Name = text
		}
	}
	for _, w := range p.Weeks {
		for i := range w.Paused {
			w.Paused[i].Why, w.Paused[i].Fixed = text, text
		}
	}
	for i := range p.Sessions {
		for s := &p.Sessions[i]; s != nil; s = s.Instead {
			s.Title, s.Name, s.Why, s.Feel, s.IfWrong, s.Stop, s.Note, s.Place, s.Ride, s.Session = text, text, text, text, text, text, text, text, text, text
			s.Fixed, s.Origin.What = text, text
			s.Allowed = append(slices.Clone(s.Allowed), prescription.Allowance{Name: text, Duration: 60})
			for k := range s.Steps {
				s.Steps[k].Name, s.Steps[k].Note = text, text
				if s.Steps[k].Over != "" {
					s.Steps[k].Over = text
				}
			}
		}
	}
	return p
}

func TestHostileText(t *testing.T) {
	for _, text := range hostileTexts {
		checkHostile(t, text)
	}
}

func TestAnyText(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		checkHostile(t, string(rapid.SliceOfN(rapid.Byte(), 0, 200).Draw(rt, "bytes")))
		checkHostile(t, rapid.String().Draw(rt, "text"))
	})
}

func checkHostile(t *testing.T, text string) {
	t.Helper()
	checkHostileBlock(t, hostile(spring(), text), text)
	checkHostileBlock(t, hostile(autumn(), text), text)
}

func checkHostileBlock(t *testing.T, p *prescription.Prescription, text string) {
	t.Helper()
	// What a device may be given: the letters that it shows, and nothing that it would obey.
	shown := func(s string) bool {
		return utf8.ValidString(s) && !strings.ContainsFunc(s, func(r rune) bool { return unicode.IsControl(r) || reorders(r) }) &&
			(plain(s) || !p.Block.Athlete.Device.Plain)
	}
	files, err := Bundle(p, springFindings(), Options{Generator: text})
	if err != nil {
		t.Fatalf("%q: %v", text, err)
	}
	cal, err := readCalendar(content(t, files, CalendarName))
	if err != nil {
		t.Fatalf("%q: %v", text, err)
	}
	events := cal.components("VEVENT")
	uids := []string{}
	for i := range p.Sessions {
		uids = append(uids, p.Sessions[i].UID)
	}
	for _, e := range p.Block.Events {
		uids = append(uids, prescription.EventUID(p.Block, e))
	}
	if len(events) != len(uids) {
		t.Errorf("%q makes %d events of %d", text, len(events), len(uids))
	}
	for i, e := range events {
		summary, _ := unescape(e.value("SUMMARY"))
		if summary != cleanLine(text) || e.value("UID") != uids[i] || len(e.all("ATTACH")) > 0 {
			t.Errorf("%q became the event %q, %q", text, summary, e.value("UID"))
		}
	}

	rows, err := csv.NewReader(bytes.NewReader(content(t, files, SessionsName))).ReadAll()
	if err != nil || len(rows) != len(p.Sessions)+1 {
		t.Fatalf("%q: %d rows, %v", text, len(rows), err)
	}
	for _, row := range rows[1:] {
		for _, c := range row {
			if first, _ := utf8.DecodeRuneInString(strings.TrimSpace(c)); strings.ContainsAny(c, "\r\n\t\x00") || c != "" && strings.ContainsRune("=+-@＝＋－＠", first) {
				t.Errorf("%q: the cell %q is dangerous", text, c)
			}
		}
	}

	obeyed := func(r rune) bool { return r != '\n' && (unicode.IsControl(r) || reorders(r)) }
	if !utf8.Valid(content(t, files, PlanName)) || bytes.ContainsFunc(content(t, files, PlanName), obeyed) {
		t.Errorf("%q: plan.json holds it raw", text)
	}
	for _, f := range files {
		if !strings.HasPrefix(f.Name, workoutsDir) {
			continue
		}
		if base := strings.TrimPrefix(f.Name, workoutsDir); strings.ContainsAny(base, "/\\:\x00 ") || len(base) > 150 || foldASCII(base) != base {
			t.Errorf("%q: the file name %q", text, base)
		}
		w := readWorkout(t, f.Bytes)
		names := []string{w.Workout.WktName}
		for _, s := range w.WorkoutSteps {
			names = append(names, s.WktStepName)
			if len(s.Notes) > maxNote || !shown(s.Notes) {
				t.Errorf("%q: the note %q", text, s.Notes)
			}
		}
		for _, n := range names {
			if len(n) > maxName || !shown(n) {
				t.Errorf("%q: the name %q", text, n)
			}
		}
		if w.Workout.WktName == "" {
			t.Errorf("%q: a workout without a name", text)
		}
	}
}

func TestFoldASCII(t *testing.T) {
	for _, c := range []struct{ in, want string }{
		{"75 min steady · 102–112 W", "75 min steady - 102-112 W"},
		{"Crème brûlée — Łódź, Ærø, Straße", "Creme brulee - Lodz, AEro, Strasse"},
		{"« oui » “no” ’s", `" oui " "no" 's`},
		{"日本 ride 👩‍🚴", "?? ride ??"},
		{"27 °C, ½ Straße, 3 ‰", "27 deg C, 1/2 Strasse, 3 ?"},
		{"bad \xff byte", "bad ? byte"},
		{"≤ 120 W × 3 → home", "<= 120 W x 3 -> home"},
	} {
		if got := foldASCII(c.in); got != c.want {
			t.Errorf("foldASCII(%q) = %q, want %q", c.in, got, c.want)
		}
	}
}

func TestCutName(t *testing.T) {
	for _, c := range []struct{ in, want string }{
		{"75 min steady", "75 min steady"},
		{"110 min long ride", "110 min long"},
		{"60 min upper third", "60 min upper"},
		{"75 min progressive", "75 min progress"},
		{"75 min two long blocks", "75 min two long"},
		{"Endurance-ride-of-May", "Endurance-ride-"},
	} {
		if got := cutName(c.in, maxName); got != c.want {
			t.Errorf("%q is cut to %q, want %q", c.in, got, c.want)
		}
	}
}

func TestCut(t *testing.T) {
	for n := range 12 {
		got := cut("aé👩bc", n)
		if len(got) > n || !utf8.ValidString(got) || !strings.HasPrefix("aé👩bc", got) {
			t.Errorf("cut at %d gives %q", n, got)
		}
	}
}
