package main

import (
	"fmt"
	"maps"
	"path/filepath"
	"slices"

	"towpath/internal/diag"
	"towpath/internal/syntax"
)

// mendRounds bounds how often slips are mended that hide others: no plan needs as many.
const mendRounds = 10

// mendPlan mends a plan. Slips of writing hide one another (a bracket hides a date), so while the
// text cannot be read it is mended again; what the text then means is the coach's to look at first.
func (a *app) mendPlan(path string, f planFlags, mildest diag.Severity) error {
	for round, again := 0, true; again && round < mendRounds; round++ {
		err := compilePlan(path, f, func(c *compiled) error {
			if round > 0 && !c.Spec.Broken {
				again = false
				return nil
			}
			mended, err := a.mend(c, mildest)
			if mended == 0 && round == 0 {
				fmt.Fprintln(a.stderr, "nothing that one value mends")
			}
			again = c.Spec.Broken && mended > 0
			return err
		})
		if err != nil {
			return err
		}
	}
	fmt.Fprintln(a.stderr)
	return nil
}

// offerMending says how many of the errors --fix would mend: what a coach does not know of, nobody
// asks for.
func (a *app) offerMending(c *compiled, plan string) {
	n := 0
	for _, list := range proposals(c, diag.Error) {
		n += len(list)
	}
	const command = "towpath check --fix "
	switch plan = diag.Printable(filepath.ToSlash(plan)); n {
	case 0:
	case 1:
		fmt.Fprintf(a.stdout, "\"%s%s\" makes the change proposed for one of them\n", command, plan)
	default:
		fmt.Fprintf(a.stdout, "\"%s%s\" makes the changes proposed for %d of them\n", command, plan, n)
	}
}

// mend makes the edits that diagnostics propose, down to the mildest severity asked for, and tells
// each. Of two that touch the same text the graver is made; the other shows again if it still
// holds. Built-in files and data are never touched.
func (a *app) mend(c *compiled, mildest diag.Severity) (mended int, err error) {
	chosen := proposals(c, mildest)
	for _, name := range slices.Sorted(maps.Keys(chosen)) {
		var edits []diag.Edit
		for _, d := range chosen[name] {
			edits = append(edits, d.Fix.Edits...)
		}
		text, err := syntax.Apply(c.texts[name], edits)
		if err != nil {
			return 0, failure(fmt.Errorf("mend %s: %w", name, err))
		}
		if err := replaceFile(filepath.Join(c.root, filepath.FromSlash(name)), text); err != nil {
			return 0, failure(err)
		}
		for _, d := range chosen[name] {
			fmt.Fprintf(a.stderr, "%s:%d: mended: %s. %s\n", diag.Printable(c.display(name)), d.Subject.Start.Line, diag.Printable(d.Summary), diag.Printable(d.Fix.Title))
			mended++
		}
	}
	return mended, nil
}

// proposals picks the diagnostics whose edits can be made together, by file.
func proposals(c *compiled, mildest diag.Severity) map[string][]diag.Diagnostic {
	own := map[string]bool{}
	for _, f := range c.Files {
		own[f.Name] = !f.Library
	}
	out := map[string][]diag.Diagnostic{}
	var taken []diag.Edit
	for severity := diag.Error; severity <= mildest; severity++ {
		for _, d := range c.Findings.Active() {
			if d.Severity != severity || d.Fix == nil || len(d.Fix.Edits) == 0 {
				continue
			}
			file := d.Fix.Edits[0].Range.Filename
			free := !slices.ContainsFunc(d.Fix.Edits, func(e diag.Edit) bool {
				return !own[e.Range.Filename] || e.Range.Filename != file || slices.ContainsFunc(taken, func(t diag.Edit) bool { return touch(e, t) })
			})
			if free {
				taken = append(taken, d.Fix.Edits...)
				out[file] = append(out[file], d)
			}
		}
	}
	return out
}

// touch reports whether two edits share text, or insert at one place.
func touch(a, b diag.Edit) bool {
	return a.Range.Filename == b.Range.Filename &&
		a.Range.Start.Byte <= b.Range.End.Byte && b.Range.Start.Byte <= a.Range.End.Byte
}
