package main

import (
	"fmt"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"

	"github.com/spf13/cobra"

	"towpath/internal/compile"
	"towpath/internal/diag"
	"towpath/internal/export"
	"towpath/internal/prescription"
)

func (a *app) buildCommand() *cobra.Command {
	var f planFlags
	var out string
	var keepGoing bool
	cmd := &cobra.Command{
		Use:   "build [PLAN]",
		Short: "Check a plan and write each athlete's files",
		Long: `build compiles the plan in a folder (by default the current one) and writes for each athlete and block a
calendar, workout files, JSON and a table of sessions into out/<plan>/<athlete>/<block>/ below the
current folder. With --out DIR that is DIR/<athlete>/<block>/.

Nothing is written where there is an error. Files are replaced whole, and only files that an earlier
build listed in files.json are removed. The same plan gives the same bytes.`,
		Args: upTo(1, "one plan"),
		RunE: func(_ *cobra.Command, args []string) error {
			return compilePlan(planAt(args), f, func(c *compiled) error {
				if out == "" {
					out = filepath.Join("out", c.name)
				}
				return a.build(c, &f, out, keepGoing)
			})
		},
	}
	f.register(cmd, true, false)
	cmd.Flags().StringVar(&out, "out", "", "the `folder` to write into")
	cmd.Flags().BoolVar(&keepGoing, "keep-going", false, "where one athlete's plan has an error, write the others'; the exit code is 1 all the same")
	if err := cmd.MarkFlagDirname("out"); err != nil {
		panic(err) // the flag was not defined: a fault of ours that the first run shows
	}
	return cmd
}

func (a *app) build(c *compiled, f *planFlags, out string, keepGoing bool) error {
	if len(c.Findings) > 0 {
		if err := a.print(a.stderr, c, "text"); err != nil {
			return err
		}
	}
	verdict := f.verdict(c.Findings)
	if verdict != nil && !keepGoing {
		return a.nothingWritten(verdict)
	}
	results := c.byAthlete()
	results = slices.DeleteFunc(results, func(r compile.Result) bool { return f.verdict(r.Findings) != nil })
	if len(results) == 0 {
		return a.nothingWritten(verdict)
	}
	var bundles []bundle
	for _, res := range results {
		for _, p := range res.Prescriptions {
			files, err := export.Bundle(p, about(p, res.Findings), export.Options{Generator: generator(), Files: c.texts})
			if err != nil {
				return failure(fmt.Errorf("nothing was written: %w", err))
			}
			bundles = append(bundles, bundle{path.Join(p.Block.Athlete.Key, p.Block.Key), files})
		}
	}
	done, err := writeBundles(out, bundles, c.inputs())
	for _, w := range done {
		fmt.Fprintf(a.stdout, "%s: %s%s\n", diag.Printable(filepath.ToSlash(w.dir)), w.what, cleared(w.removed))
	}
	if err != nil {
		return failure(err)
	}
	if verdict == nil && len(f.athletes) == 0 && c.Plan != nil {
		for _, dir := range abandoned(out, c.Spec.ID.V, bundles) {
			fmt.Fprintf(a.stderr, "%s: left from an earlier build, the plan no longer has this block; remove the folder if nobody needs it\n",
				diag.Printable(filepath.ToSlash(filepath.Join(out, dir))))
		}
	}
	return verdict
}

// abandoned lists the folders below out that a build of the same plan wrote and this one did not: of
// an athlete or a block that has gone or has another name now. They stay, for the coach to decide.
func abandoned(out, planID string, bundles []bundle) []string {
	fsys := os.DirFS(out)
	lists, err := fs.Glob(fsys, "*/*/"+export.ManifestName)
	if err != nil {
		return nil // only a bad pattern can be at fault
	}
	var dirs []string
	for _, name := range lists {
		dir := path.Dir(name)
		if slices.ContainsFunc(bundles, func(b bundle) bool { return b.dir == dir }) {
			continue
		}
		if data, err := fs.ReadFile(fsys, path.Join(dir, export.PlanName)); err == nil && export.PlanID(data) == planID {
			dirs = append(dirs, dir)
		}
	}
	return dirs
}

func cleared(removed int) string {
	switch removed {
	case 0:
		return ""
	case 1:
		return ", 1 old file removed"
	}
	return fmt.Sprintf(", %d old files removed", removed)
}

func (a *app) nothingWritten(verdict error) error {
	fmt.Fprintln(a.stderr, "nothing was written")
	return verdict
}

// byAthlete gives each athlete's own result: where there are several, a finding about one is none
// of the others'.
func (c *compiled) byAthlete() []compile.Result {
	var keys []string
	if c.Plan != nil {
		for _, b := range c.Plan.Blocks {
			if k := b.Athlete.Key; !slices.Contains(keys, k) && (c.input.Athletes == nil || slices.Contains(c.input.Athletes, k)) {
				keys = append(keys, k)
			}
		}
	}
	if len(keys) < 2 {
		return []compile.Result{c.Result}
	}
	out := make([]compile.Result, len(keys))
	for i, key := range keys {
		out[i] = c.Of(key)
	}
	return out
}

// about picks the findings that speak of a prescription's block, or of the plan as a whole.
func about(p *prescription.Prescription, findings diag.List) diag.List {
	var out diag.List
	for _, d := range findings {
		if d.Block == "" || d.Block == p.Block.Key {
			out.Add(d)
		}
	}
	return out
}
