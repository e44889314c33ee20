package main

import (
	"fmt"
	"path"
	"path/filepath"

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
	results := []compile.Result{c.Result}
	if verdict != nil && keepGoing {
		results = c.faultless(f)
	}
	if verdict != nil && (!keepGoing || len(results) == 0) {
		fmt.Fprintln(a.stderr, "nothing was written")
		return verdict
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
	return verdict
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

// faultless compiles each athlete alone and gives the results without an error.
func (c *compiled) faultless(f *planFlags) []compile.Result {
	if c.Spec == nil {
		return nil
	}
	wanted := f.athletes
	if wanted == nil {
		for _, a := range c.Spec.Athletes {
			wanted = append(wanted, a.Key)
		}
	}
	var out []compile.Result
	for _, key := range wanted {
		in := c.input
		in.Athletes = []string{key}
		if res := compile.Compile(in); f.verdict(res.Findings) == nil && len(res.Prescriptions) > 0 {
			out = append(out, res)
		}
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
