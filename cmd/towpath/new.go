package main

import (
	_ "embed"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"towpath/internal/diag"
	"towpath/internal/units"
)

// newPlan is the plan that `new` writes. It teaches the language by its comments, and compiles.
//
//go:embed new_plan.hcl
var newPlan string

// What stands in newPlan for the values that each new plan gets.
const (
	placeholderID    = "00000000"
	placeholderStart = "2000-01-03"
)

const newPlanName = "plan.hcl"

func (a *app) newCommand() *cobra.Command {
	var start string
	cmd := &cobra.Command{
		Use:   "new DIR",
		Short: "Write a plan that compiles, with comments that teach",
		Long: `new makes a folder with a small plan in it: one rider, a band, six weeks. It compiles as it stands, and
its comments tell what to change. A folder that holds anything already is left alone.`,
		Args: between(1, 1, "a folder"),
		RunE: func(_ *cobra.Command, args []string) error {
			monday := nextMonday(units.DateOf(a.now()))
			if start != "" {
				var err error
				if monday, err = units.ParseDate(start); err != nil {
					return usageError("--start: %w", err)
				}
			}
			return a.writeNew(args[0], monday)
		},
	}
	cmd.Flags().StringVar(&start, "start", "", "the `date` of the block's first day, as 2026-09-14; by default a Monday at least a week from today")
	return cmd
}

// nextMonday is the first Monday that is a week away or more.
func nextMonday(today units.Date) units.Date {
	day := today.Add(7)
	for day.Weekday() != time.Monday {
		day = day.Add(1)
	}
	return day
}

func (a *app) writeNew(dir string, start units.Date) error {
	entries, err := os.ReadDir(dir)
	switch {
	case errors.Is(err, fs.ErrNotExist):
	case err != nil:
		return usageError("%s cannot hold a plan: %w", dir, reason(err))
	case len(entries) > 0:
		return usageError("%s is not empty: name a folder that is not there yet", dir)
	}
	id, err := newID(a.random)
	if err != nil {
		return failure(err)
	}
	text := strings.NewReplacer(placeholderID, id, placeholderStart, start.String()).Replace(newPlan)
	if err := os.MkdirAll(dir, 0o777); err != nil {
		return failure(fmt.Errorf("make the folder %s: %w", dir, reason(err)))
	}
	name := filepath.Join(dir, newPlanName)
	f, err := os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666) // never over a file that appeared meanwhile
	if err != nil {
		return failure(fmt.Errorf("write %s: %w", name, reason(err)))
	}
	_, err = f.WriteString(text)
	if err = errors.Join(err, f.Close()); err != nil {
		return failure(fmt.Errorf("write %s: %w", name, reason(err)))
	}
	shown := diag.Printable(filepath.ToSlash(dir))
	fmt.Fprintf(a.stdout, "%s\nnext: read it, change it, and run \"towpath check %s\" and \"towpath show %s\"\n",
		diag.Printable(filepath.ToSlash(name)), shown, shown)
	return nil
}

// idLetters are 32, so that a byte picks each of them equally often; l, o, 0 and 1 are left out.
const idLetters = "abcdefghijkmnpqrstuvwxyz23456789"

// newID draws the name of a plan. Calendar identities derive from it, so no two plans may share it.
func newID(random io.Reader) (string, error) {
	id := make([]byte, len(placeholderID))
	if _, err := io.ReadFull(random, id); err != nil {
		return "", fmt.Errorf("draw a random name for the plan: %w", err)
	}
	for i, b := range id {
		id[i] = idLetters[int(b)%len(idLetters)]
	}
	return string(id), nil
}
