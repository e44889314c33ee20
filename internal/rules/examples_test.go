package rules_test

import (
	"bytes"
	"flag"
	"os"
	"path/filepath"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"

	"towpath/internal/compile"
	"towpath/internal/diag"
	"towpath/internal/rules"
	"towpath/internal/syntax"
	library "towpath/plans/library"
)

var update = flag.Bool("update", false, "rewrite what is said of the bad examples")

// TestExamples compiles the two plans of each rule. The good one shows no finding at all; the bad
// one shows findings of its rule only, word for word as its documentation has them.
func TestExamples(t *testing.T) {
	t.Parallel()
	for _, r := range rules.All {
		t.Run(r.Code, func(t *testing.T) {
			t.Parallel()
			if findings, _ := compiled(t, "ok.hcl", r.Good()); len(findings.Active()) > 0 {
				t.Errorf("the good example is not clean:\n%s", shown(t, findings, "ok.hcl", r.Good()))
			}
			findings, whole := compiled(t, "bad.hcl", r.Bad())
			got := shown(t, findings, "bad.hcl", r.Bad())
			if !whole {
				t.Errorf("the bad example does not compile:\n%s", got)
			}
			if len(findings.Active()) == 0 {
				t.Error("nothing is found in the bad example")
			}
			for _, d := range findings {
				if d.Code != r.Code {
					t.Errorf("the bad example shows another finding, %s:\n%s", d.Code, got)
				}
			}
			mended(t, r, findings)
			if *update {
				if err := os.WriteFile(filepath.Join("examples", r.Code, "bad.out"), []byte(got), 0o644); err != nil {
					t.Fatal(err)
				}
				return
			}
			if diff := cmp.Diff(r.Finding(), got); diff != "" {
				t.Errorf("(-documented +found):\n%s", diff)
			}
		})
	}
}

// mended makes the edits that the findings propose: what they speak of must be gone then.
func mended(t *testing.T, r rules.Rule, findings diag.List) {
	t.Helper()
	for _, d := range findings {
		if d.Fix == nil {
			continue
		}
		text, err := syntax.Apply([]byte(r.Bad()), d.Fix.Edits)
		if err != nil {
			t.Fatalf("%s: %v", d.Fix.Title, err)
		}
		if after, whole := compiled(t, "bad.hcl", string(text)); len(after) > 0 || !whole {
			t.Errorf("%s does not mend it:\n%s", d.Fix.Title, shown(t, after, "bad.hcl", string(text)))
		}
	}
}

// compiled gives the findings of a plan of one file, and whether it came out as a prescription.
func compiled(t *testing.T, name, text string) (diag.List, bool) {
	t.Helper()
	fsys := fstest.MapFS{name: &fstest.MapFile{Data: []byte(text)}}
	res := compile.Compile(compile.Input{FS: fsys, Dir: name, Library: library.FS})
	return res.Findings, len(res.Prescriptions) == 1
}

func shown(t *testing.T, findings diag.List, name, text string) string {
	t.Helper()
	var b bytes.Buffer
	if err := diag.WriteText(&b, findings, map[string][]byte{name: []byte(text)}, diag.TextOptions{}); err != nil {
		t.Fatal(err)
	}
	return b.String()
}
