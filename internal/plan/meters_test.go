package plan

import (
	"math"
	"testing"

	"towpath/internal/spec"
	"towpath/internal/units"
)

// TestMeters: how the meters of two places compare, by each way to write it.
func TestMeters(t *testing.T) {
	t.Parallel()
	meter := func(key string, reads units.Share, against string) *spec.Meter {
		m := &spec.Meter{Label: spec.Label{Key: key}}
		if against != "" {
			m.Reads, m.Against = set(reads), ref("meter", against)
		}
		return m
	}
	both := []spec.PlaceMeter{{Place: "outdoor", Meter: ref("meter", "pedals")}, {Place: "indoor", Meter: ref("meter", "trainer")}}
	pedals, trainer := meter("pedals", 0, ""), meter("trainer", 0, "")
	tests := []struct {
		name   string
		of     []spec.PlaceMeter
		meters []*spec.Meter
		want   float64 // NaN: nobody can tell
	}{
		{"the indoor one against the other", both, []*spec.Meter{pedals, meter("trainer", -0.04, "pedals")}, -0.04},
		{"the outdoor one against the other", both, []*spec.Meter{meter("pedals", 0.25, "trainer"), trainer}, -0.2},
		{"both against a third", both, []*spec.Meter{meter("pedals", 0.1, "crank"), meter("trainer", 0.045, "crank"), meter("crank", 0, "")}, -0.05},
		{"in a circle", both, []*spec.Meter{meter("pedals", 0.1, "crank"), meter("crank", 0.1, "pedals"), trainer}, math.NaN()},
		{"not compared", both, []*spec.Meter{pedals, trainer}, math.NaN()},
		{"one that shows nothing", both, []*spec.Meter{pedals, meter("trainer", -1, "pedals")}, math.NaN()},
		{"one alone", both[:1], []*spec.Meter{pedals}, math.NaN()},
		{"the same in both places", []spec.PlaceMeter{both[0], {Place: "indoor", Meter: ref("meter", "pedals")}}, []*spec.Meter{pedals}, math.NaN()},
		{"none", nil, nil, math.NaN()},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			r := &resolver{meters: byKey(tt.meters, func(m *spec.Meter) string { return m.Key })}
			switch got := r.compared(tt.of); {
			case got == nil && !math.IsNaN(tt.want):
				t.Errorf("nothing, want %v", tt.want)
			case got != nil && !(math.Abs(float64(got.More)-tt.want) < 1e-9):
				t.Errorf("got %v, want %v", got.More, tt.want)
			}
		})
	}
}
