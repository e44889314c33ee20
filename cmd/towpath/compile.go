package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"towpath/internal/compile"
	"towpath/internal/diag"
	"towpath/internal/physiology"
	"towpath/internal/source"
	"towpath/internal/units"
	library "towpath/plans/library"
)

// planFlags are the flags of the commands that compile a plan.
type planFlags struct {
	asOf     string
	athletes []string
	strict   choice
	format   choice
}

// register adds the flags to a command. Strict and format are added where they are wanted.
func (f *planFlags) register(cmd *cobra.Command, strict, format bool) {
	cmd.Flags().StringVar(&f.asOf, "as-of", "", "the `date` before which everything is past, as 2026-09-14")
	cmd.Flags().StringArrayVar(&f.athletes, "athlete", nil, "only the athlete with this `key`; may be given several times")
	f.strict = oneOf("error", "warning", "advice")
	if strict {
		cmd.Flags().Var(&f.strict, "strict", "the mildest `finding` that counts as an error: warning, or advice")
		cmd.Flags().Lookup("strict").NoOptDefVal = "warning"
		complete(cmd, "strict", f.strict.allowed[1:])
	}
	if format {
		registerFormat(cmd, &f.format)
	}
}

func registerFormat(cmd *cobra.Command, format *choice) {
	*format = oneOf("text", "json")
	cmd.Flags().Var(format, "format", "how to print: text or json")
	complete(cmd, "format", format.allowed)
}

// compiled is a compiled plan with what is needed to speak of it.
type compiled struct {
	compile.Result
	name  string            // of the plan: its folder, or its file without the ending
	root  string            // the folder that holds everything the plan may read
	full  bool              // the plan was named by its full path, and so are its files
	texts map[string][]byte // the plan's texts by name
	input compile.Input
}

// compilePlan compiles the plan at path.
func compilePlan(path string, f planFlags, use func(*compiled) error) error {
	var asOf units.Date
	if f.asOf != "" {
		var err error
		if asOf, err = units.ParseDate(f.asOf); err != nil {
			return usageError("--as-of: %w", err)
		}
	}
	fsys, dir, done, err := source.Open(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return usageError("there is no folder or file %q", path)
	case err != nil:
		return failure(err)
	}
	defer done() // nothing is written through it
	root, name, err := whereabouts(path, dir)
	if err != nil {
		return failure(err)
	}
	c := &compiled{
		name: name, root: root, full: filepath.IsAbs(path),
		input: compile.Input{FS: fsys, Dir: dir, Library: library.FS, AsOf: asOf, Athletes: f.athletes},
	}
	c.Result = compile.Compile(c.input)
	if err := c.knows(f.athletes); err != nil {
		return err
	}
	c.texts = texts(c.Result)
	return use(c)
}

// planAt is the plan that the arguments name, by default the current folder.
func planAt(args []string) string {
	if len(args) == 0 {
		return "."
	}
	return args[0]
}

// whereabouts gives the folder above path that dir is counted from, and the plan's name.
func whereabouts(path, dir string) (root, name string, err error) {
	full, err := filepath.Abs(path)
	if err != nil {
		return "", "", fmt.Errorf("plan %s: %w", path, err)
	}
	name = strings.TrimSuffix(filepath.Base(full), ".hcl")
	if root, err = filepath.EvalSymlinks(full); err != nil {
		return "", "", fmt.Errorf("plan %s: %w", path, err)
	}
	if dir != "." {
		for range strings.Split(dir, "/") {
			root = filepath.Dir(root)
		}
	}
	return root, name, nil
}

// knows refuses keys of athletes that the plan does not have. A plan that cannot be read says so
// itself.
func (c *compiled) knows(athletes []string) error {
	if c.Spec == nil || c.Spec.Broken {
		return nil
	}
	var keys []string
	for _, a := range c.Spec.Athletes {
		keys = append(keys, a.Key)
	}
	for _, key := range athletes {
		if !slices.Contains(keys, key) {
			return usageError("the plan has no athlete %q; it has: %s", key, strings.Join(keys, ", "))
		}
	}
	return nil
}

// texts gives every text that a diagnostic may speak of: the plan's files and its data.
func texts(res compile.Result) map[string][]byte {
	out := map[string][]byte{}
	if res.Spec != nil {
		out = res.Spec.Data()
	}
	for _, f := range res.Files {
		out[f.Name] = f.Bytes
	}
	return out
}

// display names a file as the reader can open it: from the current folder, or by its full path
// where the plan was named so. Files that come with the tool keep their name.
func (c *compiled) display(name string) string {
	for _, f := range c.Files {
		if f.Name == name && f.Library {
			return name
		}
	}
	full := filepath.Join(c.root, filepath.FromSlash(name))
	if c.full {
		return full
	}
	return fromHere(full)
}

// fromHere gives a path from the current folder.
func fromHere(full string) string {
	here, err := filepath.Abs(".")
	if err != nil {
		return full
	}
	if real, err := filepath.EvalSymlinks(here); err == nil {
		here = real
	}
	rel, err := filepath.Rel(here, full)
	if err != nil {
		return full
	}
	return rel
}

// print writes findings as text or JSON.
func (a *app) print(w io.Writer, c *compiled, format string) error {
	var err error
	if format == "json" {
		err = printJSON(w, diag.JSONReport{Diagnostics: diag.JSON(c.Findings, c.texts)})
	} else {
		err = diag.WriteText(w, c.Findings, c.texts, diag.TextOptions{
			Width: a.width(), Color: a.colored(w), Path: c.display, Source: cite,
		})
	}
	if err != nil {
		return failure(err)
	}
	return nil
}

// verdict gives the error that findings end a command with, nil where they are mild enough. Text
// was printed before, so the error has none.
func (f *planFlags) verdict(list diag.List) error {
	worst := severityOf(f.strict.value)
	code := 0
	for _, d := range list.Active() {
		switch {
		case d.Code == codeUnreadable:
			code = exitFailure
		case d.Severity <= worst:
			code = max(code, exitFindings)
		}
	}
	if code == 0 {
		return nil
	}
	return &exitError{code: code}
}

// refusal prints the findings of a plan that must not be shown, and gives the error that the command
// ends with; nil for any other plan.
func (a *app) refusal(c *compiled, f *planFlags) error {
	verdict := f.verdict(c.Findings)
	if verdict == nil {
		return nil
	}
	if err := a.print(a.stderr, c, "text"); err != nil {
		return err
	}
	return verdict
}

// severityOf reads the word that a flag takes.
func severityOf(word string) diag.Severity {
	return map[string]diag.Severity{"error": diag.Error, "warning": diag.Warning, "advice": diag.Advice}[word]
}

// codeUnreadable is the code with which source tells that the machine refused to read a file.
const codeUnreadable = "unreadable"

// cite names a source in short: "Foster C 1998, Med Sci Sports Exerc 30(7):1164-1168".
func cite(key string) string {
	s, ok := physiology.Sources[key]
	if !ok {
		return ""
	}
	out := fmt.Sprintf("%s %d, %s", firstAuthor(s.Authors), s.Year, s.Journal)
	if s.Read == "memory" {
		out += " (from memory)"
	}
	return out
}

// firstAuthor shortens a list of authors of more than two.
func firstAuthor(authors string) string {
	names := strings.Split(authors, ", ")
	switch {
	case len(names) > 2 || names[len(names)-1] == "and others":
		return names[0] + " and others"
	case len(names) == 2:
		return names[0] + " and " + names[1]
	}
	return authors
}

func printJSON(w io.Writer, v any) error {
	enc := json.NewEncoder(w)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", "  ")
	return enc.Encode(v)
}
