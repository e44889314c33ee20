package schedule

import (
	"fmt"
	"testing"

	"towpath/internal/plan"
	"towpath/internal/units"
)

func BenchmarkWeek(b *testing.B) {
	pl := newPlacer(twelve(8).block(), nil, 0)
	pl.base = pl.baseWeek()
	w := pl.block.Weeks[1]
	for b.Loop() {
		solve(pl.problem(w, int(w.Asked), 0), carry{}, func(carry) bool { return true })
	}
}

func BenchmarkBlock(b *testing.B)  { benchmarkBlock(b, 12) }
func BenchmarkSeason(b *testing.B) { benchmarkBlock(b, 52) }

func benchmarkBlock(b *testing.B, weeks int) {
	in := twelve(8)
	in.given, in.recovery, in.totals = nil, nil, nil
	for n := range weeks {
		in.totals = append(in.totals, 300+5*(n%30))
		if n%4 == 3 {
			in.recovery = append(in.recovery, n+1)
		}
	}
	benchmarkPlace(b, in.block(), true)
}

// The worst that a coach may write: rides that may stand on any of seven open days, as many of them
// as are allowed, and weeks that cannot hold them.
func BenchmarkWorst(b *testing.B) {
	for _, rides := range []int{6, 7, 8} {
		for _, bb := range []struct {
			name          string
			total, atMost int
			fits          bool
		}{{"loose", 420, 720, true}, {"tight", 640, 720, true}, {"impossible", 700, 90, false}} {
			b.Run(fmt.Sprintf("%d rides, %s", rides, bb.name), func(b *testing.B) {
				benchmarkPlace(b, openWeeks(1, rides, bb.total, bb.atMost), bb.fits)
			})
		}
	}
	b.Run("52 weeks, 6 rides", func(b *testing.B) { benchmarkPlace(b, openWeeks(52, 6, 640, 720), true) })
	b.Run("52 weeks, 8 rides", func(b *testing.B) { benchmarkPlace(b, openWeeks(52, 8, 420, 720), true) })
	b.Run("52 weeks, 6 rides, impossible", func(b *testing.B) { benchmarkPlace(b, openWeeks(52, 6, 700, 90), false) })
}

func openWeeks(weeks, rides, total, atMost int) *plan.Block {
	in := build{days: [7]int{90, 120, 90, 120, 60, 240, 180}, longApart: true}
	for k := range rides {
		r := rideOf(string(rune('a'+k)), 30, 60)
		r.Share, r.Rest, r.AtMost = units.Share(100/rides)/100, k == rides-1, units.Minutes(atMost)
		if atMost < 720 {
			r.PerWeek.High = 1
		}
		in.rides = append(in.rides, r)
	}
	for n := range weeks {
		in.totals = append(in.totals, total+5*(n%9))
	}
	return in.block()
}

func benchmarkPlace(b *testing.B, block *plan.Block, fits bool) {
	b.ReportAllocs()
	for b.Loop() {
		if _, diags := Place(block, nil, 0); diags.HasErrors() == fits {
			b.Fatal(diags)
		}
	}
}
