package zone

import (
	"errors"
	"testing"
	"time"
)

func TestLoad(t *testing.T) {
	loc, err := Load("Europe/Lisbon")
	if err != nil {
		t.Fatal(err)
	}
	// Clocks in Portugal go back on the last Sunday of October (EU directive 2000/84/EC).
	for _, c := range []struct {
		at   time.Time
		want string
	}{
		{time.Date(2026, 10, 24, 12, 0, 0, 0, time.UTC), "13:00 WEST"},
		{time.Date(2026, 10, 26, 12, 0, 0, 0, time.UTC), "12:00 WET"},
	} {
		if got := c.at.In(loc).Format("15:04 MST"); got != c.want {
			t.Errorf("%s in Lisbon: got %s, want %s", c.at, got, c.want)
		}
	}
}

func TestUnknownNames(t *testing.T) {
	for _, c := range []struct{ name, nearest string }{
		{"", ""},
		{"Local", ""},
		{"local", ""},
		{"Factory", ""},
		{"europe/paris", "Europe/Paris"},
		{"Europe/Pariss", "Europe/Paris"},
		{"Europe/Lisabon", "Europe/Lisbon"},
		{"America/New York", "America/New_York"},
		{"Lisbon", "Europe/Lisbon"},
		{"Asia/Lisbon", "Europe/Lisbon"},
		{"Europe/Brno", ""}, // three letters from Europe/Oslo
		{"Europe/Pariz", "Europe/Paris"},
		{"qqqqqqqqqqqqqqqq", ""},
		{"../../etc/passwd", ""},
		{"Europe", ""},
	} {
		loc, err := Load(c.name)
		var unknown *Error
		if loc != nil || !errors.As(err, &unknown) {
			t.Errorf("Load(%q) = %v, %v; want an *Error", c.name, loc, err)
			continue
		}
		if unknown.Nearest != c.nearest {
			t.Errorf("Load(%q) suggests %q, want %q", c.name, unknown.Nearest, c.nearest)
		}
	}
}

func TestEveryNameLoads(t *testing.T) {
	names := Names()
	if len(names) < 400 {
		t.Fatalf("only %d names", len(names))
	}
	for _, name := range names {
		if _, err := Load(name); err != nil {
			t.Error(err)
		}
	}
}

// An old name and the one in use must tell the same time, before and after.
func TestAliases(t *testing.T) {
	if len(aliases()) < 100 {
		t.Fatalf("only %d old names", len(aliases()))
	}
	for old, current := range aliases() {
		a, errOld := Load(old)
		b, errCurrent := Load(current)
		if errOld != nil || errCurrent != nil {
			t.Error(errOld, errCurrent)
			continue
		}
		if _, again := aliases()[current]; again {
			t.Errorf("%s: %s is an old name itself", old, current)
		}
		for at := time.Date(1970, 1, 1, 0, 0, 0, 0, time.UTC); at.Year() < 2040; at = at.AddDate(0, 0, 30) {
			_, x := at.In(a).Zone()
			_, y := at.In(b).Zone()
			if x != y {
				t.Errorf("%s and %s differ at %s", old, current, at)
				break
			}
		}
	}
	if got := aliases()["Europe/Kiev"]; got != "Europe/Kyiv" {
		t.Errorf("Europe/Kiev is called %q", got)
	}
}

func BenchmarkLoad(b *testing.B) {
	for b.Loop() {
		if _, err := Load("Europe/Lisbon"); err != nil {
			b.Fatal(err)
		}
	}
}
