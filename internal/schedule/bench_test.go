package schedule

import "testing"

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
	block := in.block()
	for b.Loop() {
		if _, diags := Place(block, nil, 0); diags.HasErrors() {
			b.Fatal(diags)
		}
	}
}
