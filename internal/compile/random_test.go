package compile_test

import (
	"bytes"
	"flag"
	"fmt"
	"math/rand/v2"
	"regexp"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"towpath/internal/compile"
	"towpath/internal/diag"
	"towpath/internal/export"
	"towpath/internal/prescription"
	"towpath/internal/spec"
	"towpath/internal/syntax"
	"towpath/internal/units"
)

// More seeds are run by hand: go test ./internal/compile -run Random -seeds 5000 -from 1000.
var (
	seeds = flag.Uint64("seeds", 25, "how many plans are drawn at random")
	from  = flag.Uint64("from", 0, "the first seed")
)

// eachSeed runs a test on drawn plans; fault names the seed.
func eachSeed(t *testing.T, test func(p *drawn, fault func(format string, args ...any))) {
	t.Parallel()
	for seed := *from; seed < *from+*seeds; seed++ {
		p := draw(seed)
		test(p, func(format string, args ...any) {
			t.Helper()
			t.Errorf("seed %d: "+format, append([]any{seed}, args...)...)
		})
	}
}

// Whatever a plan asks, each session that comes of it is as its definition says.
func TestRandomPlans(t *testing.T) {
	prescriptions := uint64(0)
	eachSeed(t, func(p *drawn, fault func(string, ...any)) {
		res := compiled(p.files())
		uids := map[string]string{}
		for _, out := range res.Prescriptions {
			prescriptions++
			p.holderOf(out, fault).check()
			for _, s := range out.Sessions {
				if other, twice := uids[s.UID]; twice {
					fault("%s and %s have the same UID", other, s.Key)
				}
				uids[s.UID] = s.Key
			}
		}
		for _, d := range res.Findings {
			wellSaid(res, d, fault)
		}
	})
	if prescriptions < *seeds {
		t.Errorf("only %d prescriptions of %d plans", prescriptions, *seeds)
	}
}

// wellSaid wants a place inside the files, and words on what to do.
func wellSaid(res compile.Result, d diag.Diagnostic, fault func(string, ...any)) {
	texts := res.Spec.Data()
	for _, f := range res.Files {
		texts[f.Name] = f.Bytes
	}
	inside := func(r diag.Range) bool {
		text, ok := texts[r.Filename]
		return ok && 0 <= r.Start.Byte && r.Start.Byte <= r.End.Byte && r.End.Byte <= len(text) &&
			r.Start.Line == 1+bytes.Count(text[:r.Start.Byte], []byte("\n"))
	}
	if !inside(d.Subject) || d.Summary == "" || d.Detail == "" || d.Code == "" {
		fault("%s at %v: %s\n%s", d.Code, d.Subject, d.Summary, d.Detail)
	}
	for _, r := range d.Related {
		if !inside(r.Range) {
			fault("%s: %s: %q at %v", d.Code, d.Summary, r.Message, r.Range)
		}
	}
	if d.Fix != nil {
		for _, e := range d.Fix.Edits {
			if !inside(e.Range) {
				fault("%s: %s: %q at %v", d.Code, d.Summary, e.Text, e.Range)
			}
		}
	}
}

// The same plan gives the same files, and so does its text in the usual form.
func TestRandomPlansTwice(t *testing.T) {
	eachSeed(t, func(p *drawn, fault func(string, ...any)) {
		fsys := p.files()
		first, second := compiled(fsys), compiled(p.files())
		if a, b := outputs(first, fault), outputs(second, fault); a != b {
			fault("twice the same text:\n%s", firstDifference(a, b))
		}
		if a, b := said(first), said(second); a != b {
			fault("twice the same text:\n%s", firstDifference(a, b))
		}
		text, diags := syntax.Format("plan.hcl", fsys["plan/plan.hcl"].Data, spec.Canonical)
		if diags.HasErrors() {
			fault("formatting: %s", diags[0].Summary)
			return
		}
		fsys["plan/plan.hcl"] = &fstest.MapFile{Data: text}
		formatted := compiled(fsys)
		if a, b := outputs(first, fault), outputs(formatted, fault); a != b {
			fault("formatted:\n%s", firstDifference(a, b))
		}
		if a, b := said(first), said(formatted); a != b {
			fault("formatted:\n%s", firstDifference(a, b))
		}
	})
}

var lineNumber = regexp.MustCompile(`line \d+`)

// said are the findings without their places.
func said(res compile.Result) string {
	var out []string
	for _, d := range res.Findings {
		out = append(out, fmt.Sprintf("%s %s: %s: %s\n", d.Severity, d.Code, d.Summary, lineNumber.ReplaceAllString(d.Detail, "line")))
	}
	slices.Sort(out) // on one line they are sorted by what is behind each other
	return strings.Join(out, "")
}

var place = regexp.MustCompile(`"(line|column|byte|end_line|end_column)": \d+`)

// outputs are the files of all prescriptions, places in the plan's text aside.
func outputs(res compile.Result, fault func(string, ...any)) string {
	var b strings.Builder
	for _, p := range res.Prescriptions {
		b.WriteString(outputOf(p, fault))
	}
	return b.String()
}

func outputOf(p *prescription.Prescription, fault func(string, ...any)) string {
	var b strings.Builder
	files, err := export.Bundle(p, nil, export.Options{})
	if err != nil {
		fault("%v", err)
	}
	for _, f := range files {
		if f.Name == export.ManifestName {
			continue
		}
		fmt.Fprintf(&b, "%s/%s/%s\n%s\n", p.Block.Athlete.Key, p.Block.Key, f.Name, f.Bytes)
	}
	return place.ReplaceAllString(b.String(), "")
}

func firstDifference(a, b string) string {
	x, y := strings.Split(a, "\n"), strings.Split(b, "\n")
	for i := range min(len(x), len(y)) {
		if x[i] != y[i] {
			return fmt.Sprintf("- %.300s\n+ %.300s", x[i], y[i])
		}
	}
	return fmt.Sprintf("%d and %d lines", len(x), len(y))
}

// Four weeks later the plan is the same, four weeks later, where no clock changes.
func TestRandomPlansLater(t *testing.T) {
	date := regexp.MustCompile(`\b20\d\d-\d\d-\d\d\b`)
	move := func(text string, days int) string {
		return date.ReplaceAllStringFunc(text, func(s string) string {
			d, err := units.ParseDate(s)
			if err != nil {
				t.Fatal(err)
			}
			return d.Add(days).String()
		})
	}
	eachSeed(t, func(p *drawn, fault func(string, ...any)) {
		if !p.fixedUp {
			return
		}
		fsys := p.files()
		later := fstest.MapFS{}
		for name, f := range fsys {
			later[name] = &fstest.MapFile{Data: []byte(move(string(f.Data), 28))}
		}
		is, then := compiled(fsys), compiled(later)
		if a, b := summary(is), move(summary(then), -28); a != b {
			fault("four weeks later:\n%s", firstDifference(a, b))
		}
		if a, b := said(is), move(said(then), -28); a != b {
			fault("four weeks later:\n%s", firstDifference(a, b))
		}
	})
}

// Who leaves a squad and its blocks changes nothing for the others.
func TestRandomPlansWithoutOne(t *testing.T) {
	eachSeed(t, func(p *drawn, fault func(string, ...any)) {
		if len(p.riders) < 2 {
			return
		}
		all := compiled(p.files())
		p.gone = p.riders[p.IntN(len(p.riders))].key
		fewer := compiled(p.files())
		had := map[string]string{}
		for _, out := range all.Prescriptions {
			had[out.Block.Athlete.Key+"/"+out.Block.Key] = outputOf(out, fault)
		}
		for _, out := range fewer.Prescriptions {
			name := out.Block.Athlete.Key + "/" + out.Block.Key
			if a, b := had[name], outputOf(out, fault); a != b {
				fault("%s without %s:\n%s", name, p.gone, firstDifference(a, b))
			}
			delete(had, name)
		}
		for name := range had {
			if !strings.HasPrefix(name, p.gone+"/") {
				fault("%s is gone without %s", name, p.gone)
			}
		}
	})
}

// A slip of the hand is told, with its place, and is never the end of the program.
func TestRandomSlips(t *testing.T) {
	token := regexp.MustCompile(`"[^"\n]*"|[a-z_.0-9]+|[^\s"]`)
	eachSeed(t, func(p *drawn, fault func(string, ...any)) {
		fsys := p.files()
		text := string(fsys["plan/plan.hcl"].Data)
		for range 3 {
			fsys["plan/plan.hcl"] = &fstest.MapFile{Data: []byte(slip(p.Rand, text, token))}
			func() {
				defer func() {
					if r := recover(); r != nil {
						fault("%v\n%s", r, fsys["plan/plan.hcl"].Data)
					}
				}()
				res := compiled(fsys)
				for _, d := range res.Findings {
					wellSaid(res, d, fault)
				}
				if len(res.Prescriptions) == 0 && len(res.Findings) == 0 {
					fault("neither sessions nor a message")
				}
			}()
		}
	})
}

// slip leaves out a line, writes one twice, or changes two words for each other.
func slip(r *rand.Rand, text string, token *regexp.Regexp) string {
	lines := strings.SplitAfter(text, "\n")
	i := r.IntN(len(lines) - 1)
	switch r.IntN(3) {
	case 0:
		lines = slices.Delete(lines, i, i+1)
	case 1:
		lines = slices.Insert(lines, i, lines[i])
	default:
		all := token.FindAllStringIndex(text, -1)
		a, b := all[r.IntN(len(all))], all[r.IntN(len(all))]
		if a[0] > b[0] {
			a, b = b, a
		}
		if a[0] == b[0] {
			break
		}
		return text[:a[0]] + text[b[0]:b[1]] + text[a[1]:b[0]] + text[a[0]:a[1]] + text[b[1]:]
	}
	return strings.Join(lines, "")
}
