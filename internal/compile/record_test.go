package compile_test

import (
	"strings"
	"testing"
	"testing/fstest"

	"towpath/internal/compile"
	"towpath/internal/record"
	"towpath/internal/units"
	library "towpath/plans/library"
)

// Without a day that was asked for, the record's day tells what is past: its weeks keep what was
// delivered, and the next week grows on them.
func TestRecordsDay(t *testing.T) {
	start := units.NewDate(2027, 3, 8)
	rec := &record.Athlete{AsOf: start.Add(7)}
	for _, day := range []int{1, 3, 5} {
		rec.Sessions = append(rec.Sessions, record.Session{
			Block: "spring", Key: "spring/w01/steady-" + string(rune('1'+len(rec.Sessions))), Date: start.Add(day), Ride: "steady", Session: "steady",
			Minutes: 80, Title: "steady", WeekAsked: 240,
		})
	}
	in := compile.Input{
		FS: fstest.MapFS{"plan/block.hcl": &fstest.MapFile{Data: []byte(whole)}}, Dir: "plan", Library: library.FS,
		Records: map[string]*record.Athlete{"ines": rec},
	}
	res := compile.Compile(in)
	if len(res.Prescriptions) != 1 {
		t.Fatalf("got %d prescriptions: %v", len(res.Prescriptions), res.Findings)
	}
	weeks := res.Plan.Blocks[0].Weeks
	if weeks[0].Asked != 240 || weeks[1].Asked != 255 {
		t.Errorf("weeks 1 and 2 ask for %s and %s, want 4 h and 15 min more", weeks[0].Asked, weeks[1].Asked)
	}
	in.AsOf = start
	if weeks := compile.Compile(in).Plan.Blocks[0].Weeks; weeks[0].Asked != 285 {
		t.Errorf("on the first day week 1 asks for %s, want what the plan says", weeks[0].Asked)
	}
}

// Only the athletes that were asked for are compiled.
func TestSomeAthletes(t *testing.T) {
	two := strings.Replace(whole, `athlete "ines" {`, "athlete \"jo\" {\n  days {\n    sunday = \"2 h\"\n  }\n}\nathlete \"ines\" {", 1)
	two = strings.NewReplacer("test \"steps\" {\n", "test \"steps\" {\n  athlete = athlete.ines\n", "band \"spring\" {\n", "band \"spring\" {\n  athlete = athlete.ines\n",
		"band \"later\" {\n", "band \"later\" {\n  athlete = athlete.ines\n", "block \"spring\" {\n", "block \"spring\" {\n  athletes = [athlete.ines]\n").Replace(two)
	for keys, want := range map[string]int{"": 1, "ines": 1, "jo": 0} {
		in := compile.Input{FS: fstest.MapFS{"plan/block.hcl": &fstest.MapFile{Data: []byte(two)}}, Dir: "plan", Library: library.FS}
		if keys != "" {
			in.Athletes = []string{keys}
		}
		if res := compile.Compile(in); len(res.Prescriptions) != want || res.Findings.HasErrors() {
			t.Errorf("%q: got %d prescriptions, want %d; %v", keys, len(res.Prescriptions), want, res.Findings)
		}
	}
}
