package main

import (
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"towpath/internal/diag"
	"towpath/internal/plan"
	"towpath/internal/units"
)

// A band's edges are the whole numbers that its rides are held to.
func TestBandLine(t *testing.T) {
	share, threshold := 0.57, 200.0 // a product just below 114
	beats := units.Range[units.HeartRate]{Low: 117.2, High: 131.9}
	effort := units.Range[units.Effort]{Low: 9.4, High: 11.2}
	for _, tt := range []struct {
		band plan.Band
		want string
	}{
		{plan.Band{Leads: "power", Power: units.Range[units.Power]{Low: 90.5, High: units.Power(share * threshold)}}, "Band 91-114 W"},
		{plan.Band{Leads: "power", Power: units.Range[units.Power]{Low: 104.2, High: 104.7}}, "Band 104 W"},
		{plan.Band{Leads: "heart_rate", HeartRate: &beats, Effort: &effort, Place: plan.Indoor}, "Band indoors 118-131 bpm · effort 9-12"},
		{plan.Band{Leads: "effort", HeartRate: &beats, Effort: &effort}, "Band effort 9-12 · 118-131 bpm"},
		{plan.Band{Leads: "effort"}, "Band by easy talk"},
	} {
		if got := bandLine(&tt.band, true); got != tt.want {
			t.Errorf("got %q, want %q", got, tt.want)
		}
	}
}

// No line of any plan that we show is wider than the terminal.
func TestShowKeepsToItsWidth(t *testing.T) {
	root, err := filepath.Abs(repository)
	if err != nil {
		t.Fatal(err)
	}
	for _, plan := range []string{"audax", "two-bikes", "roster"} {
		for width := narrowest; width <= 100; width += 8 {
			code, out, said := try(t, "show", filepath.Join(root, "plans", plan), "--width", strconv.Itoa(width))
			if code != 0 {
				t.Fatalf("%s: %s", plan, said)
			}
			for line := range strings.Lines(out) {
				if n := diag.Columns(strings.TrimRight(line, "\n")); n > width {
					t.Errorf("%s at %d columns: a line of %d: %q", plan, width, n, line)
				}
			}
		}
	}
}
