package source

import (
	"fmt"
	"path"
	"strings"

	"github.com/hashicorp/hcl/v2"
	"github.com/hashicorp/hcl/v2/hclsyntax"
	"github.com/zclconf/go-cty/cty"

	"towpath/internal/diag"
	"towpath/internal/syntax"
)

// includes reads what a file's `include = [...]` names, as far as it was not read before: a loop
// of includes ends by itself.
func (l *loader) includes(from *syntax.File) []*syntax.File {
	if from.Body == nil || from.Body.Attributes["include"] == nil {
		return nil
	}
	written := from.Body.Attributes["include"].Expr
	// The list is read from the text, before anything can be computed.
	list, ok := written.(*hclsyntax.TupleConsExpr)
	if !ok {
		l.notLiteral(from, written, true)
		return nil
	}
	var out []*syntax.File
	for _, e := range list.Exprs {
		name, ok := literal(e)
		if !ok {
			l.notLiteral(from, e, false)
			continue
		}
		target, problem := resolve(from.Name, name)
		if problem != "" {
			l.diags.Add(fault("outside-repository", e.Range(), fmt.Sprintf("The folder %q %s", name, problem), insideOnly))
			continue
		}
		out = append(out, l.folder(target, &asker{at: e.Range(), text: name})...)
	}
	return out
}

const insideOnly = "A plan reads only what lies in its repository, the nearest folder above it that holds .git. Write a path from this file's folder, such as \"../library\"."

// notLiteral tells of an entry, or of the whole where that is no list, that is not written out. In
// a broken file it may be an echo of the mistakes that were told.
func (l *loader) notLiteral(from *syntax.File, written hclsyntax.Expression, whole bool) {
	if from.Broken {
		return
	}
	at := written.Range()
	d := fault("include-not-literal", at, "`include` wants a list of folders in quotes",
		"Write include = [\"../library\"]: plain texts, nothing computed, because the files are read before anything is computed.")
	text := string(from.Bytes[at.Start.Byte:at.End.Byte])
	_, folder := literal(written)
	if hcl.ExprAsKeyword(written) != "" { // the quotes were left out
		folder, text = true, `"`+text+`"`
	}
	if whole {
		text = "[" + text + "]"
	}
	if folder {
		d.Fix = &diag.Fix{Title: "Write " + text, Edits: []diag.Edit{{Range: at, Text: text}}}
	}
	l.diags.Add(d)
}

// literal gives the value of a text in quotes without `${ }`.
func literal(e hclsyntax.Expression) (string, bool) {
	t, ok := e.(*hclsyntax.TemplateExpr)
	if !ok || !t.IsStringLiteral() {
		return "", false
	}
	v, problems := t.Value(&hcl.EvalContext{})
	if problems.HasErrors() || v.Type() != cty.String {
		return "", false
	}
	return v.AsString(), true
}

// resolve turns a path that a file names into one from the root. The problem, if any, completes
// the sentence "The folder … ".
func resolve(from, name string) (target, problem string) {
	switch {
	case name == "":
		return "", "has no name"
	case strings.HasPrefix(name, "/"), len(name) > 1 && name[1] == ':':
		return "", "starts at the top of this machine, and other machines differ"
	case strings.Contains(name, `\`):
		return "", `is written with \ ; write / between folders`
	}
	target = path.Join(path.Dir(from), name)
	if target == ".." || strings.HasPrefix(target, "../") {
		return "", "lies outside of the repository"
	}
	return target, ""
}
