package main

import (
	"bytes"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"github.com/rogpeppe/go-internal/txtar"

	"towpath/internal/compile"
	"towpath/internal/diag"
	"towpath/internal/syntax"
	library "towpath/plans/library"
)

// brokenPlan is a plan of the repository's tests with what is wrong in it: its files by their path
// from the root, the plan's own in the folder plan.
type brokenPlan struct {
	name  string
	files fstest.MapFS
}

// brokenPlans are the plans behind the golden texts.
func brokenPlans(t *testing.T) []brokenPlan {
	t.Helper()
	const spec = "../../testdata/spec/"
	base := readTestFile(t, spec+"base.hcl")
	var out []brokenPlan
	for _, path := range globbed(t, spec+"*/*.hcl", "../../internal/rules/examples/*/bad.hcl") {
		files := fstest.MapFS{"plan/case.hcl": &fstest.MapFile{Data: readTestFile(t, path)}}
		if strings.HasPrefix(path, filepath.FromSlash(spec)) {
			files["plan/base.hcl"] = &fstest.MapFile{Data: base}
		}
		out = append(out, brokenPlan{path, files})
	}
	for _, path := range globbed(t, spec+"*/*.txtar", "../../testdata/compile/*.txtar") {
		files := fstest.MapFS{}
		for _, f := range txtar.Parse(readTestFile(t, path)).Files {
			name, outside := strings.CutPrefix(f.Name, "outside/")
			if !outside {
				name = "plan/" + name
			}
			files[name] = &fstest.MapFile{Data: f.Data}
		}
		out = append(out, brokenPlan{path, files})
	}
	return out
}

func globbed(t *testing.T, patterns ...string) (out []string) {
	t.Helper()
	for _, pattern := range patterns {
		found, err := filepath.Glob(filepath.FromSlash(pattern))
		if err != nil || found == nil {
			t.Fatalf("no files %s: %v", pattern, err)
		}
		out = append(out, found...)
	}
	return out
}

func readTestFile(t *testing.T, path string) []byte {
	t.Helper()
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return text
}

func (p brokenPlan) findings() diag.List {
	return compile.Compile(compile.Input{FS: p.files, Dir: "plan", Library: library.FS}).Findings
}

// TestEveryFixMends makes each edit that is offered in the plans of the golden texts: what it is
// offered for must be gone then, and no other error may have come in its place.
func TestEveryFixMends(t *testing.T) {
	t.Parallel()
	const least = 200
	fixes := 0
	for _, p := range brokenPlans(t) {
		before := p.findings()
		for _, d := range before {
			if d.Fix == nil || len(d.Fix.Edits) == 0 || d.Waived != nil {
				continue
			}
			fixes++
			mended, err := p.edited(d.Fix.Edits)
			if err != nil {
				t.Errorf("%s: %s: %v", p.name, d.Fix.Title, err)
				continue
			}
			compareFindings(t, p.name+": "+d.Fix.Title, diag.List{d}, before, mended.findings())
		}
	}
	t.Logf("%d edits were made", fixes)
	if fixes < least {
		t.Errorf("%d edits were made, at least %d were expected", fixes, least)
	}
}

func (p brokenPlan) edited(edits []diag.Edit) (brokenPlan, error) {
	files := fstest.MapFS{}
	for name, f := range p.files {
		var own []diag.Edit
		for _, e := range edits {
			if e.Range.Filename == name {
				own = append(own, e)
			}
		}
		text, err := syntax.Apply(f.Data, own)
		if err != nil {
			return p, err
		}
		files[name] = &fstest.MapFile{Data: text}
	}
	return brokenPlan{p.name, files}, nil
}

// compareFindings demands that what was mended is not said again, and that at its place no error
// stands that was not there before.
func compareFindings(t *testing.T, name string, mended, before, after diag.List) {
	t.Helper()
	for _, d := range after {
		known := false
		for _, b := range before {
			known = known || b.Code == d.Code && b.Summary == d.Summary
		}
		for _, m := range mended {
			here := d.Subject.Filename == m.Subject.Filename && d.Subject.Start.Line == m.Subject.Start.Line && d.Subject.Start.Column <= m.Subject.End.Column && m.Subject.Start.Column <= d.Subject.End.Column
			again := d.Code == m.Code && d.Summary == m.Summary && d.Subject.Start == m.Subject.Start
			if again || here && !known && d.Severity == diag.Error {
				t.Errorf("%s (for %q) leaves %s:%d: %s. %s", name, m.Summary, d.Subject.Filename, d.Subject.Start.Line, d.Summary, d.Detail)
			}
		}
	}
}

// TestCheckFixMends lets the command mend each of the plans as far as it can: then nothing may be
// left that it offers to mend, and no more errors than there were.
func TestCheckFixMends(t *testing.T) {
	t.Parallel()
	for _, p := range brokenPlans(t) {
		if !slices.ContainsFunc(p.findings(), func(d diag.Diagnostic) bool { return d.Fix != nil }) {
			continue
		}
		dir := t.TempDir()
		if err := os.CopyFS(dir, p.files); err != nil {
			t.Fatal(err)
		}
		if err := os.Mkdir(filepath.Join(dir, ".git"), 0o755); err != nil {
			t.Fatal(err)
		}
		for range 12 { // an edit may bring to light what could not be read before
			var out, errs bytes.Buffer
			code := run([]string{"check", "--fix=advice", filepath.Join(dir, "plan")}, machine{
				stdout: &out, stderr: &errs, getenv: func(string) string { return "" }, now: time.Now, random: &errs,
			})
			if code > 1 {
				t.Fatalf("%s: exit code %d: %s", p.name, code, errs.String())
			}
			if strings.Contains(errs.String(), "nothing that one value mends") {
				dir = ""
				break
			}
		}
		if dir != "" {
			t.Errorf("%s is never mended", p.name)
		}
	}
}
