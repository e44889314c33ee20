package threshold_test

import (
	"bytes"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"towpath/internal/diag"
	"towpath/internal/threshold"
)

var update = flag.Bool("update", false, "rewrite the golden files")

// TestMessages reads files that are broken, or odd, each in its own way, and compares all that is
// said of them. Files named warn-* can be read; all others are refused.
func TestMessages(t *testing.T) {
	t.Parallel()
	files, err := filepath.Glob(filepath.Join(testdata, "threshold", "bad", "*.csv"))
	if err != nil {
		t.Fatal(err)
	}
	if len(files) < 25 {
		t.Fatalf("found %d files", len(files))
	}
	for _, path := range files {
		t.Run(filepath.Base(path), func(t *testing.T) {
			t.Parallel()
			data, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			test, found := threshold.ParseCSV(filepath.Base(path), data)
			if !found.HasErrors() {
				_, more := threshold.Analyse(test)
				found.Add(more...)
			}
			if len(found) == 0 {
				t.Fatal("nothing is said of this file")
			}
			readable := strings.HasPrefix(filepath.Base(path), "warn-") || filepath.Base(path) == "column-unknown.csv"
			if found.HasErrors() == readable {
				t.Errorf("has errors: %t", found.HasErrors())
			}
			rangesLieIn(t, found, data)
			compareGolden(t, strings.TrimSuffix(path, ".csv")+".out", render(found.Sorted()))
		})
	}
}

// render prints diagnostics with nothing left out.
func render(found diag.List) []byte {
	var b bytes.Buffer
	for _, d := range found {
		s, e := d.Subject.Start, d.Subject.End
		fmt.Fprintf(&b, "%s:%d:%d-%d: %s: %s [%s]\n", d.Subject.Filename, s.Line, s.Column, e.Column, d.Severity, d.Summary, d.Code)
		fmt.Fprintf(&b, "   %s\n", d.Detail)
		for _, r := range d.Related {
			fmt.Fprintf(&b, "   line %d: %s\n", r.Range.Start.Line, r.Message)
		}
		if d.Fix != nil {
			fmt.Fprintf(&b, "   mend: %s\n", d.Fix.Title)
		}
		if d.SourceKey != "" {
			fmt.Fprintf(&b, "   source: %s\n", d.SourceKey)
		}
	}
	return b.Bytes()
}

func compareGolden(t *testing.T, path string, got []byte) {
	t.Helper()
	if *update {
		if err := os.WriteFile(path, got, 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(string(want), string(got)); diff != "" {
		t.Errorf("%s differs (-want +got):\n%s", path, diff)
	}
}

// rangesLieIn checks that what is pointed at exists.
func rangesLieIn(t interface {
	Helper()
	Errorf(string, ...any)
}, found diag.List, data []byte,
) {
	t.Helper()
	for _, d := range found {
		ranges := []diag.Range{d.Subject}
		for _, r := range d.Related {
			ranges = append(ranges, r.Range)
		}
		for _, r := range ranges {
			s, e := r.Start, r.End
			if s.Byte < 0 || s.Byte > e.Byte || e.Byte > len(data) || s.Line < 1 || s.Column < 1 || s.Line != e.Line || s.Column > e.Column {
				t.Errorf("%s: range %v-%v in %d bytes", d.Summary, s, e, len(data))
			}
		}
		if d.Summary == "" || d.Detail == "" || d.Code == "" {
			t.Errorf("a part is missing: %+v", d)
		}
	}
}
