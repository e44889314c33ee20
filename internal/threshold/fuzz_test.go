package threshold_test

import (
	"os"
	"path/filepath"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"

	"towpath/internal/threshold"
)

// FuzzParseCSV: whatever a file holds, nothing panics, what is said points into the file, and a
// test that can be read gives the same result twice.
func FuzzParseCSV(f *testing.F) {
	for _, pattern := range []string{"threshold/bad/*.csv", "published/*/*.csv"} {
		files, err := filepath.Glob(filepath.Join(testdata, pattern))
		if err != nil || len(files) == 0 {
			f.Fatalf("no seeds at %s: %v", pattern, err)
		}
		for _, path := range files {
			data, err := os.ReadFile(path)
			if err != nil {
				f.Fatal(err)
			}
			f.Add(data)
		}
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		test, found := threshold.ParseCSV("fuzz.csv", data)
		r, more := threshold.Analyse(test)
		rangesLieIn(t, slices.Concat(found, more), data)
		if found.HasErrors() {
			return
		}
		if (r == nil) != more.HasErrors() {
			t.Fatalf("result %v with %v", r, more)
		}
		again, _ := threshold.Analyse(test)
		if r == nil || r.Estimate == nil {
			return
		}
		if diff := cmp.Diff(r, again); diff != "" {
			t.Fatalf("two runs differ:\n%s", diff)
		}
		if b := threshold.Band(r.Estimate, false, nil, nil); !(b.High <= r.Estimate.Power && b.Low <= b.High) {
			t.Fatalf("band %s of %s", b, r.Estimate.Power)
		}
	})
}

func BenchmarkAnalyse(b *testing.B) {
	test := stepTest(invented.power, invented.lactate, invented.heartRate, invented.effort)
	b.ReportAllocs()
	for b.Loop() {
		if r, _ := threshold.Analyse(test); r == nil {
			b.Fatal("refused")
		}
	}
}

func BenchmarkParseCSV(b *testing.B) {
	data, err := os.ReadFile(filepath.Join(testdata, "published", "exscidata", "rider-15-pre.csv"))
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		threshold.ParseCSV("rider-15-pre.csv", data)
	}
}
