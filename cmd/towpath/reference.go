package main

import (
	"bytes"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"towpath/internal/rules"
	"towpath/internal/spec"
)

func (a *app) referenceCommand() *cobra.Command {
	return &cobra.Command{
		Use:   "reference",
		Short: "Print the language and the rule book as one text",
		Long: `reference prints every block and name of the language, its functions, and every rule, as one text in
Markdown. It is made from the same tables that read a plan and judge it.`,
		Args: upTo(0, "nothing"),
		RunE: func(*cobra.Command, []string) error {
			return a.deliver(referenceText())
		},
	}
}

// referenceText is the whole text. schemas/README.md is a copy of it, held equal by a test.
func referenceText() []byte {
	w := page{seen: map[*spec.BlockType]string{}}
	w.text("# The language and the rule book")
	w.text("This page is printed by `towpath reference`, from the tables that read a plan and judge it. The JSON Schemas of what is written stand beside it: [plan.json](plan.json), [check.json](check.json), [files.json](files.json).")
	w.text("## Writing a plan")
	for _, line := range grounds {
		w.line("* %s", line)
	}
	w.gap()
	w.text("## The blocks")
	w.block(spec.Language(), nil)
	w.text("## Functions")
	w.row("function", "what it gives", "example")
	w.row("---", "---", "---")
	for _, f := range spec.Functions() {
		w.row("`"+f.Use+"`", f.Doc, "`"+f.Example+"`")
	}
	w.gap()
	w.text("## The rule book")
	w.text("A limit that is written in `limits` is kept, or it is an error, with `when_broken = \"warn\"` a warning; a default is advice or a warning. A finding is accepted with `waive`, and stays visible. No rule claims to foresee an injury.")
	for _, r := range rules.All {
		w.rule(r)
	}
	return w.Bytes()
}

// grounds is what holds for every plan.
var grounds = []string{
	"A plan is a folder: all its `.hcl` files, in any order, are one plan. A single file is a plan as well.",
	"A quantity is a text with its unit: `\"75 min\"`, `\"118-142 W\"`, `\"8 %\"`. Dates are `\"2026-10-05\"`, hours `\"18:30\"`. `towpath fmt` writes the usual form.",
	"Whole numbers stand for counts, weeks and efforts only.",
	"A block is named by its kind and its label: `session.steady`, `athlete.signe`.",
	"`let { name = value }` holds values of the plan's own, used as `let.name`. Quantities are computed by the functions below, never by signs such as + or <.",
	"A list can be made by `[for x in list : value]`, a value chosen by `condition ? value : value`.",
	"What is not known here is an error, with the nearest word. All errors are told at once.",
}

// page writes Markdown.
type page struct {
	bytes.Buffer
	seen map[*spec.BlockType]string // blocks that were written, by their titles
}

func (w *page) line(format string, args ...any) { fmt.Fprintf(w, format+"\n", args...) }
func (w *page) gap()                            { w.WriteByte('\n') }
func (w *page) text(s string)                   { w.line("%s\n", s) }

// row writes a line of a table; a bar within a cell would end it.
func (w *page) row(cells ...string) {
	for i, c := range cells {
		cells[i] = strings.ReplaceAll(c, "|", "\\|")
	}
	w.line("| %s |", strings.Join(cells, " | "))
}

// block writes a block, its names, and the blocks within it; path is the way to it.
func (w *page) block(b *spec.BlockType, path []string) {
	for _, p := range path {
		if p == b.Kind { // a repeat within a repeat
			return
		}
	}
	title := "The top of a plan"
	if path != nil {
		title = strings.Join(append(path[1:len(path):len(path)], b.Kind), " › ")
	}
	w.text("### " + title)
	if same := w.seen[b]; same != "" {
		w.text("As in " + same + ".")
		return
	}
	w.seen[b] = title
	w.text(b.Doc)
	if label := b.Label.Describe(); label != "" {
		w.text("Label: " + label + ".")
	}
	w.names(b.Names)
	for _, inner := range b.Blocks {
		w.block(inner, append(path[:len(path):len(path)], b.Kind))
	}
}

// names writes a table of names, and behind it the rows that one of them may hold.
func (w *page) names(names []spec.Name) {
	if len(names) == 0 {
		return
	}
	w.row("name", "what stands behind it", "left out", "meaning", "example")
	w.row("---", "---", "---", "---", "---")
	for _, n := range names {
		left := n.Default
		if n.Required {
			left = "must be written"
		}
		w.row("`"+n.Name+"`", n.Type.Describe(), left, n.Doc, "`"+n.Example+"`")
	}
	w.gap()
	written := map[string]bool{}
	for _, n := range names {
		rows := n.Type.Rows()
		if rows == nil || written[rows[0].Name] {
			continue
		}
		written[rows[0].Name] = true
		w.text("A row of `" + n.Name + "` and its like:")
		w.names(rows)
	}
}

func (w *page) rule(r rules.Rule) {
	w.text("### " + r.Code)
	w.text(r.Title + ". " + r.Why)
	w.line("* How to mend it: %s", r.Mend)
	w.line("* Default: %s", r.Default)
	if r.Limit != "" {
		w.line("* A limit of your own: `limits { %s = … }`", r.Limit)
	}
	w.line("* What stands behind it: %s", evidence(r))
	for _, key := range r.Sources {
		w.line("* Source: %s", reference(key))
	}
	w.gap()
	w.text("```hcl\n" + strings.TrimRight(r.Bad(), "\n") + "\n```")
	w.text("```\n" + strings.TrimRight(r.Finding(), "\n") + "\n```")
}
