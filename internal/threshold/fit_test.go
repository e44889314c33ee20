package threshold

import (
	"encoding/json"
	"math"
	"math/big"
	"os"
	"path/filepath"
	"testing"

	"pgregory.net/rapid"

	"towpath/internal/units"
)

// exactFit solves the normal equations of a polynomial in exact fractions: an independent
// computation with no rounding at all. It returns the polynomial's value at x.
func exactFit(xs, ys []float64, degree int, x float64) float64 {
	m := degree + 1
	rat := func(v float64) *big.Rat { return new(big.Rat).SetFloat64(v) }
	power := func(v *big.Rat, k int) *big.Rat {
		p := big.NewRat(1, 1)
		for range k {
			p.Mul(p, v)
		}
		return p
	}
	a := make([][]*big.Rat, m)
	for r := range a {
		a[r] = make([]*big.Rat, m+1)
		for c := range a[r] {
			a[r][c] = new(big.Rat)
		}
		for i := range xs {
			for c := range m {
				a[r][c].Add(a[r][c], power(rat(xs[i]), r+c))
			}
			a[r][m].Add(a[r][m], new(big.Rat).Mul(power(rat(xs[i]), r), rat(ys[i])))
		}
	}
	for c := range m {
		for r := range m {
			if r == c {
				continue
			}
			f := new(big.Rat).Quo(a[r][c], a[c][c])
			for k := range a[r] {
				a[r][k].Sub(a[r][k], new(big.Rat).Mul(f, a[c][k]))
			}
		}
	}
	value := new(big.Rat)
	for k := range m {
		value.Add(value, new(big.Rat).Mul(new(big.Rat).Quo(a[k][m], a[k][k]), power(rat(x), k)))
	}
	v, _ := value.Float64()
	return v
}

// stagesOf draws rising powers and a lactate for each.
func stagesOf(t *rapid.T, least int) (p, l []float64) {
	at := float64(rapid.IntRange(60, 150).Draw(t, "start"))
	for range rapid.IntRange(least, 12).Draw(t, "stages") {
		p = append(p, at)
		l = append(l, float64(rapid.IntRange(50, 900).Draw(t, "lactate"))/100)
		at += float64(rapid.IntRange(10, 50).Draw(t, "step"))
	}
	return p, l
}

func closeTo(t interface {
	Helper()
	Errorf(string, ...any)
}, what string, got, want, by float64,
) {
	t.Helper()
	if math.IsNaN(got) || math.Abs(got-want) > by {
		t.Errorf("%s: got %.9g, want %.9g within %g", what, got, want, by)
	}
}

func TestLeastSquaresIsExact(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		p, l := stagesOf(t, 5)
		x := rapid.Float64Range(p[0], p[len(p)-1]).Draw(t, "x")
		closeTo(t, "line", fitLine(p, l).at(x), exactFit(p, l, 1, x), 1e-9)
		closeTo(t, "cubic", fitCubic(p, l).at(x), exactFit(p, l, 3, x), 1e-7)
	})
}

// TestBrokenLineIsBest compares with a search over 600 breaks, each fitted by orthogonalising
// the columns: another algorithm than the normal equations of the program.
func TestBrokenLineIsBest(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		p, l := stagesOf(t, 5)
		b := fitBroken(p, l)
		n := len(p)
		closeTo(t, "sum of squares at the break", b.rss, projectedRSS(p, l, b.at), 1e-9)
		const steps = 600
		for k := 0; k <= steps; k++ {
			at := p[1] + (p[n-2]-p[1])*float64(k)/steps
			if rss := projectedRSS(p, l, at); rss < b.rss-1e-9 {
				t.Fatalf("break at %.3f has %.9f, the one found at %.3f has %.9f", at, rss, b.at, b.rss)
			}
		}
	})
}

// projectedRSS is the sum of squares of y less its projection on 1, x, max(x - t, 0).
func projectedRSS(x, y []float64, at float64) float64 {
	rest := append([]float64{}, y...)
	var basis [][]float64
	for k := range 3 {
		v := make([]float64, len(x))
		for i := range x {
			v[i] = [3]float64{1, x[i] - x[0], max(x[i]-at, 0)}[k]
		}
		for range 2 { // twice is enough
			for _, q := range basis {
				d := dot(q, v)
				for i := range v {
					v[i] -= d * q[i]
				}
			}
		}
		norm := math.Sqrt(dot(v, v))
		for i := range v {
			v[i] /= norm
		}
		basis = append(basis, v)
		d := dot(v, rest)
		for i := range rest {
			rest[i] -= d * v[i]
		}
	}
	return dot(rest, rest)
}

func TestExponentialRecoversItself(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		a := rapid.Float64Range(0.5, 2).Draw(t, "a")
		b := rapid.Float64Range(0.001, 0.2).Draw(t, "b")
		c := rapid.Float64Range(0.01, 0.05).Draw(t, "c")
		var p, l []float64
		for k := range 8 {
			p = append(p, 80+float64(25*k))
			l = append(l, a+b*math.Exp(c*float64(25*k)))
		}
		e := fitExponential(p, l)
		if e == nil {
			t.Fatal("no fit")
		}
		closeTo(t, "a", float64(e.A), a, 1e-4*l[7])
		closeTo(t, "b", float64(e.B), b, 1e-3*b)
		closeTo(t, "c", e.C, c, 1e-4*c)
		x, ok := e.where(l[5])
		if !ok {
			t.Fatal("a level of the curve is nowhere")
		}
		closeTo(t, "inverse", x, p[5], 1e-3)
		// The closed form of the point furthest below the chord, against a fine search.
		best, at := 0.0, 0.0
		f := func(x float64) float64 { return a + b*math.Exp(c*(x-80)) }
		for k := 0; k <= 17500; k++ {
			x := 80 + float64(k)/100
			if d := f(80) + (f(255)-f(80))*(x-80)/175 - f(x); d > best {
				best, at = d, x
			}
		}
		closeTo(t, "furthest below the chord", e.furthestBelow(80, 255), at, 0.02)
	})
}

func TestFlatLactateHasNoExponential(t *testing.T) {
	t.Parallel()
	for name, l := range map[string][]float64{
		"flat": {1, 1, 1, 1, 1}, "straight": {1, 2, 3, 4, 5}, "falling": {5, 4, 3.5, 3.2, 3},
	} {
		if e := fitExponential([]float64{100, 125, 150, 175, 200}, l); e != nil {
			t.Errorf("%s: got %+v", name, e)
		}
	}
}

func TestCubicFurthestBelowChord(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		p, l := stagesOf(t, 5)
		f := fitCubic(p, l)
		a, b := p[0], p[len(p)-1]
		la, lb := f.at(a), f.at(b)
		depth := func(x float64) float64 { return la + (lb-la)*(x-a)/(b-a) - f.at(x) }
		best := 0.0
		for k := 0; k <= 5000; k++ {
			best = max(best, depth(a+(b-a)*float64(k)/5000))
		}
		x, ok := f.furthestBelow(a, la, b, lb)
		if !ok {
			if best > 1e-9 {
				t.Fatalf("none found, a search finds %.9f", best)
			}
			return
		}
		if depth(x) < best-1e-9 {
			t.Fatalf("got depth %.9f, a search finds %.9f", depth(x), best)
		}
	})
}

func TestSearches(t *testing.T) {
	t.Parallel()
	closeTo(t, "golden, parabola", golden(func(x float64) float64 { return (x - 2) * (x - 2) }, -3, 11), 2, 1e-6)
	closeTo(t, "golden, cosine", golden(math.Cos, 2, 4), math.Pi, 1e-6)
	closeTo(t, "golden, at an end", golden(func(x float64) float64 { return x }, 1, 3), 1, 1e-6)
	closeTo(t, "bisect", bisect(func(x float64) float64 { return x*x - 2 }, 0, 2), math.Sqrt2, 1e-12)
	if k := lowest(func(x float64) float64 { return math.Abs(x - 3) }, 0, 10, 10); k != 3 {
		t.Errorf("lowest: got %d, want 3", k)
	}
	for _, c := range []struct {
		a, b, c float64
		want    []float64
	}{{1, -3, 2, []float64{2, 1}}, {0, 2, -4, []float64{2}}, {1, 0, 1, nil}, {0, 0, 1, nil}, {1, 0, 0, []float64{0}}, {2, 0, -8, []float64{-2, 2}}} {
		got := quadraticRoots(c.a, c.b, c.c)
		if len(got) != len(c.want) {
			t.Errorf("roots of %v: got %v", c, got)
			continue
		}
		for i := range got {
			closeTo(t, "root", got[i], c.want[i], 1e-12)
		}
	}
}

// TestQuantiles: Abramowitz and Stegun, Handbook of Mathematical Functions (1964), table 26.10
// (percentage points of the t-distribution) and 26.1.
func TestQuantiles(t *testing.T) {
	t.Parallel()
	for n, want := range map[int]float64{
		1: 12.706, 2: 4.303, 3: 3.182, 4: 2.776, 5: 2.571, 6: 2.447, 7: 2.365, 8: 2.306, 9: 2.262, 10: 2.228, 20: 2.086, 60: 2.000,
	} {
		closeTo(t, "t", studentQuantile(0.95, n), want, 0.0006)
	}
	closeTo(t, "t, 99 %", studentQuantile(0.99, 5), 4.032, 0.0006)
	closeTo(t, "z", normalQuantile(0.95), 1.95996, 1e-5)
}

// TestChordStart: the stage before the first rise of 0.4 mmol/L, on the open data.
func TestChordStart(t *testing.T) {
	t.Parallel()
	dir := filepath.Join("..", "..", "testdata", "published", "exscidata")
	data, err := os.ReadFile(filepath.Join(dir, "expected.json"))
	if err != nil {
		t.Fatal(err)
	}
	var cases []struct {
		File  string
		Start float64 `json:"moddmax_start_w"`
	}
	if err := json.Unmarshal(data, &cases); err != nil {
		t.Fatal(err)
	}
	for _, c := range cases {
		csv, err := os.ReadFile(filepath.Join(dir, c.File))
		if err != nil {
			t.Fatal(err)
		}
		test, _ := ParseCSV(c.File, csv)
		cl, _ := clean(test)
		p, _, ok := fromRise(newReading(cl.curve, 0.2))
		if !ok || p != c.Start {
			t.Errorf("%s: got %g, want %g", c.File, p, c.Start)
		}
	}
}

// TestAmbiguousBreaks compares with a scan of the sum of squares. A second minimum within 2 % of
// the best, wide enough for the scan to see, makes a break ambiguous; and an ambiguous break has
// some other place within 2 %.
func TestAmbiguousBreaks(t *testing.T) {
	t.Parallel()
	drawn := map[bool]int{}
	rapid.Check(t, func(t *rapid.T) {
		p, l := stagesOf(t, 6)
		for i := 1; i < len(l); i++ {
			l[i] = l[i-1] + l[i]/10 // rising, as lactate does
		}
		b := fitBroken(p, l)
		if b.rss < 1e-6 {
			return // nothing to compare with
		}
		const steps = 500
		n := len(p)
		width := (p[n-2] - p[1]) / steps
		var sums []float64
		for k := 0; k <= steps; k++ {
			sums = append(sums, projectedRSS(p, l, p[1]+width*float64(k))/b.rss)
		}
		second, elsewhere := math.Inf(1), math.Inf(1)
		for k := 1; k < steps; k++ {
			if math.Abs(p[1]+width*float64(k)-b.at) <= 2*width {
				continue
			}
			elsewhere = min(elsewhere, sums[k])
			if sums[k] < sums[k-1] && sums[k] <= sums[k+1] {
				second = min(second, sums[k])
			}
		}
		drawn[b.ambiguous]++
		if second < 1.0199 && !b.ambiguous {
			t.Fatalf("a second minimum has %.4f of the best sum: %v %v", second, p, l)
		}
		if b.ambiguous && elsewhere > 1.03 {
			t.Fatalf("no other place comes nearer than %.4f of the best sum: %v %v", elsewhere, p, l)
		}
	})
	if drawn[false] == 0 || drawn[true] == 0 {
		t.Errorf("clear and ambiguous breaks drawn: %v", drawn)
	}
}

func TestRiseOfExactlyTheSize(t *testing.T) {
	t.Parallel()
	// 1.4 - 1.0 is a little less than 0.4 in binary; it is 0.4 to the coach.
	r := newReading(curve{p: []float64{100, 120, 140, 160, 180}, l: []float64{1, 1, 1.4, 2.5, 4.5}}, 0.2)
	if p, stage, ok := fromRise(r); !ok || p != 120 || stage != 1 {
		t.Errorf("starts at %g, stage %d, %t", p, stage, ok)
	}
}

func TestQualityWords(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		method string
		power  float64
		se     float64
		used   int
		want   string
	}{
		{MedianOfThree, 150, 10, 3, "good"},
		{MedianOfThree, 200, 12, 3, "good"},
		{MedianOfThree, 100, 8, 1, "fair"},
		{"first_rise_0.3", 100, 8, 1, "good"},
		{MedianOfThree, 150, 20, 2, "fair"},
		{MedianOfThree, 200, 24, 2, "fair"},
		{MedianOfThree, 150, 21, 2, "poor"},
	} {
		e := &Estimate{Method: c.method, Power: units.Power(c.power), SE: units.Power(c.se), Used: make([]string, c.used)}
		if got := quality(e); got != c.want {
			t.Errorf("%+v: got %s", c, got)
		}
	}
}
