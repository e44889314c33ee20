package main

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"towpath/internal/diag"
	"towpath/internal/spec"
	"towpath/internal/units"
	"towpath/plans"
)

// kinds are the plans that `new` writes: the demo plans, which teach the language by their comments.
// The first is the default.
var kinds = []struct{ name, what string }{
	{"six-weeks", "one rider with a band that is typed; its comments teach most"},
	{"first-hours", "a beginner with four hours, no power meter and no laboratory: effort leads"},
	{"comeback", "back after a season away: laboratory steps and ramp, 8 to 12 weeks, a weekly standard ride, a retest"},
	{"roster", "a rider who works shifts, nights among them: a roster decides what a day can hold"},
	{"club", "a squad of twelve: shared days, a Saturday ride together, two who start later"},
	{"two-bikes", "a winter with two bicycles and two power meters: outdoors when dry, indoors when icy"},
}

func kindNames() []string {
	names := make([]string, len(kinds))
	for i, k := range kinds {
		names[i] = k.name
	}
	return names
}

// nearestKind names the kind that was probably meant.
func nearestKind(word string) string {
	if near := spec.Nearest(word, kindNames()); near != "" {
		return fmt.Sprintf("; write --kind %s", near)
	}
	return "; the kinds are: " + strings.Join(kindNames(), ", ")
}

func (a *app) newCommand() *cobra.Command {
	var kind, start string
	var list strings.Builder
	for _, k := range kinds {
		fmt.Fprintf(&list, "\n  %-12s %s", k.name, k.what)
	}
	cmd := &cobra.Command{
		Use:   "new DIR",
		Short: "Write a plan that compiles, with comments that teach",
		Long: `new makes a folder with a plan in it, of one of these kinds:
` + list.String() + `

It compiles as it stands, with a name of its own and with dates in the weeks to come, and its comments
tell what to change. A folder that holds anything already is left alone.`,
		Args: between(1, 1, "a folder"),
		RunE: func(_ *cobra.Command, args []string) error {
			if !slices.Contains(kindNames(), kind) {
				return usageError("there is no kind %q%s", kind, nearestKind(kind))
			}
			return a.writeNew(args[0], kind, start)
		},
	}
	cmd.Flags().StringVar(&kind, "kind", kinds[0].name, "the `kind` of plan: "+strings.Join(kindNames(), ", "))
	complete(cmd, "kind", kindNames())
	cmd.Flags().StringVar(&start, "start", "", "the `date` of the block's first day, as 2026-09-14; by default the first that is at least a week from today")
	return cmd
}

func (a *app) writeNew(dir, kind, start string) error {
	entries, err := os.ReadDir(dir)
	switch {
	case errors.Is(err, fs.ErrNotExist):
	case err != nil:
		return usageError("%s cannot hold a plan: %w", dir, reason(err))
	case len(entries) > 0:
		return usageError("%s is not empty: name a folder that is not there yet", dir)
	}
	t, err := readTemplate(kind)
	if err != nil {
		return failure(err)
	}
	first := units.DateOf(a.now()).Add(7)
	first = first.Add(untilWeekday(first, t.start.Weekday()))
	if start != "" {
		given, err := units.ParseDate(start)
		if err != nil {
			return usageError("--start: %w", err)
		}
		first = given.Add(untilWeekday(given, t.start.Weekday()))
		if given != first {
			return usageError("--start: %s is a %s, and the weeks of this plan begin on a %s; write %s or %s",
				given, given.Weekday(), t.start.Weekday(), first.Add(-7), first)
		}
	}
	id, err := newID(a.random)
	if err != nil {
		return failure(err)
	}
	for _, f := range t.files {
		name := filepath.Join(dir, filepath.FromSlash(f.name))
		if err := writeFresh(name, f.as(id, first.Sub(t.start))); err != nil {
			return failure(fmt.Errorf("write %s: %w", name, reason(err)))
		}
		fmt.Fprintln(a.stdout, diag.Printable(filepath.ToSlash(name)))
	}
	shown := diag.Printable(filepath.ToSlash(dir))
	fmt.Fprintf(a.stdout, "next: read it, change it, and run \"towpath check %s\" and \"towpath show %s\"\n", shown, shown)
	return nil
}

// writeFresh writes a file that is not there yet, with its folders.
func writeFresh(name, text string) error {
	if err := os.MkdirAll(filepath.Dir(name), 0o777); err != nil {
		return err
	}
	f, err := os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666) // never over a file that appeared meanwhile
	if err != nil {
		return err
	}
	_, err = f.WriteString(text)
	return errors.Join(err, f.Close())
}

// template is a demo plan: its files and the first day of its first block.
type template struct {
	files []templateFile
	start units.Date
}

type templateFile struct{ name, text string }

var (
	writtenDate  = regexp.MustCompile(`\b\d{4}-\d{2}-\d{2}\b`)
	writtenStart = regexp.MustCompile(`(?m)^ *start += "(\d{4}-\d{2}-\d{2})"`)
	writtenID    = regexp.MustCompile(`(?m)^(id += )"[^"]*"`)
)

func readTemplate(kind string) (*template, error) {
	t := &template{}
	err := fs.WalkDir(plans.FS, kind, func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		text, err := fs.ReadFile(plans.FS, name)
		if err != nil {
			return err
		}
		t.files = append(t.files, templateFile{strings.TrimPrefix(name, kind+"/"), string(text)})
		for _, m := range writtenStart.FindAllStringSubmatch(string(text), -1) {
			start, err := units.ParseDate(m[1])
			if err != nil {
				return err
			}
			if t.start.IsZero() || start < t.start {
				t.start = start
			}
		}
		return nil
	})
	return t, err
}

// as gives the text with another name of the plan, and with every date so many days later. The days
// are whole weeks, so that weekdays stay.
func (f templateFile) as(id string, days int) string {
	text := writtenID.ReplaceAllString(f.text, `$1"`+id+`"`)
	return writtenDate.ReplaceAllStringFunc(text, func(s string) string {
		d, err := units.ParseDate(s)
		if err != nil {
			return s // looks like a date, and is none
		}
		return d.Add(days).String()
	})
}

// untilWeekday is how many days there are from d to the next day of the week w, 0 where d is one.
func untilWeekday(d units.Date, w time.Weekday) int { return (int(w-d.Weekday()) + 7) % 7 }

// idLetters are 32, so that a byte picks each of them equally often; l, o, 0 and 1 are left out.
const idLetters = "abcdefghijkmnpqrstuvwxyz23456789"

// newID draws the name of a plan. Calendar identities derive from it, so no two plans may share it.
func newID(random io.Reader) (string, error) {
	id := make([]byte, 8)
	if _, err := io.ReadFull(random, id); err != nil {
		return "", fmt.Errorf("draw a random name for the plan: %w", err)
	}
	for i, b := range id {
		id[i] = idLetters[int(b)%len(idLetters)]
	}
	return string(id), nil
}
