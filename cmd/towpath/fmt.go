package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"towpath/internal/diag"
	"towpath/internal/source"
	"towpath/internal/spec"
	"towpath/internal/syntax"
)

func (a *app) fmtCommand() *cobra.Command {
	var check bool
	cmd := &cobra.Command{
		Use:   "fmt [PLAN ...]",
		Short: "Rewrite a plan's files in the canonical format",
		Long: `fmt rewrites the .hcl files of the folders or files named (by default the current folder) in place, and
prints the names of those it changed. It moves spaces and writes quantities alike; comments stay where
they are and the meaning is kept. Nothing is changed where a file cannot be read as a plan.
With "-" it reads standard input and writes standard output, for editors.`,
		ValidArgsFunction: cobra.FixedCompletions([]string{"hcl"}, cobra.ShellCompDirectiveFilterFileExt),
		RunE: func(_ *cobra.Command, args []string) error {
			if len(args) == 0 {
				args = []string{"."}
			}
			if len(args) == 1 && args[0] == "-" {
				return a.formatStream(check)
			}
			return a.format(args, check)
		},
	}
	cmd.Flags().BoolVar(&check, "check", false, "change nothing; name the files that are not formatted, and exit with 1")
	return cmd
}

// formatted is a file with its canonical form.
type formatted struct {
	path     string
	old, new []byte
}

func (f formatted) changed() bool { return !bytes.Equal(f.old, f.new) }

func (a *app) format(args []string, check bool) error {
	paths, err := planFiles(args)
	if err != nil {
		return err
	}
	var files []formatted
	var found diag.List
	texts := map[string][]byte{}
	for _, path := range paths {
		src, err := readPlanFile(path)
		if err != nil {
			return failure(err)
		}
		out, diags := syntax.Format(filepath.ToSlash(path), src, spec.Canonical)
		found.Add(diags...)
		texts[filepath.ToSlash(path)] = src
		files = append(files, formatted{path, src, out})
	}
	if found.HasErrors() {
		return a.cannotFormat(found.Sorted(), texts)
	}
	return a.settle(files, check)
}

// settle writes what changed, or only tells of it.
func (a *app) settle(files []formatted, check bool) error {
	var unformatted bool
	for _, f := range files {
		if !f.changed() {
			continue
		}
		unformatted = true
		if !check {
			if err := replaceFile(f.path, f.new); err != nil {
				return failure(err)
			}
		}
		fmt.Fprintln(a.stdout, diag.Printable(filepath.ToSlash(f.path)))
	}
	if unformatted && check {
		return &exitError{code: exitFindings}
	}
	return nil
}

func (a *app) formatStream(check bool) error {
	const name = "-"
	src, err := io.ReadAll(io.LimitReader(a.stdin, syntax.MaxFileBytes+1))
	if err != nil {
		return failure(fmt.Errorf("read standard input: %w", err))
	}
	out, diags := syntax.Format(name, src, spec.Canonical)
	if diags.HasErrors() {
		return a.cannotFormat(diags.Sorted(), map[string][]byte{name: src})
	}
	if check {
		return a.settle([]formatted{{name, src, out}}, true)
	}
	return a.deliver(out)
}

func (a *app) cannotFormat(found diag.List, texts map[string][]byte) error {
	err := diag.WriteText(a.stderr, found, texts, diag.TextOptions{Width: a.width(), Color: a.colored(a.stderr)})
	if err != nil {
		return failure(err)
	}
	return &exitError{code: exitFindings}
}

// planFiles lists the .hcl files that the arguments name: files, or folders without what lies in
// their sub-folders.
func planFiles(args []string) ([]string, error) {
	var out []string
	for _, arg := range args {
		info, err := os.Stat(arg)
		switch {
		case errors.Is(err, fs.ErrNotExist):
			return nil, usageError("there is no folder or file %q", arg)
		case err != nil:
			return nil, failure(err)
		case !info.IsDir():
			if filepath.Ext(arg) != ".hcl" {
				return nil, usageError("%s is no file of a plan: the names of these end in .hcl", arg)
			}
			out = append(out, arg)
			continue
		}
		names, err := filesIn(arg)
		if err != nil {
			return nil, err
		}
		if len(names) == 0 {
			return nil, usageError("there is no .hcl file in %s; sub-folders are not looked into", arg)
		}
		out = append(out, names...)
	}
	return out, nil
}

// filesIn lists the .hcl files of a folder. A link that leads out of the repository is no file of the
// plan: what lies there is neither shown nor changed.
func filesIn(folder string) ([]string, error) {
	fsys, dir, done, err := source.Open(folder)
	if err != nil {
		return nil, failure(err)
	}
	defer done() // nothing is written through it
	entries, err := fs.ReadDir(fsys, dir)
	if err != nil {
		return nil, failure(err)
	}
	var out []string
	for _, e := range entries {
		name := e.Name()
		if filepath.Ext(name) != ".hcl" || e.IsDir() || strings.HasPrefix(name, ".") {
			continue
		}
		full := filepath.Join(folder, name)
		if _, err := fs.Stat(fsys, path.Join(dir, name)); err != nil {
			return nil, failure(fmt.Errorf("read %s: %w", full, reason(err)))
		}
		out = append(out, full)
	}
	return out, nil
}

// readPlanFile reads a file up to the size that the guard refuses.
func readPlanFile(path string) ([]byte, error) {
	info, err := os.Stat(path)
	if err != nil {
		return nil, err
	}
	if !info.Mode().IsRegular() {
		return nil, fmt.Errorf("read %s: it is no ordinary file", path)
	}
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	src, err := io.ReadAll(io.LimitReader(f, syntax.MaxFileBytes+1))
	if err != nil {
		return nil, fmt.Errorf("read %s: %w", path, err)
	}
	return src, nil
}
