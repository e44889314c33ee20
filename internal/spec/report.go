package spec

import (
	"strings"

	"github.com/hashicorp/hcl/v2"

	"towpath/internal/diag"
)

func (d *decoder) diagnostic(code string, at hcl.Range, summary, detail string) diag.Diagnostic {
	return diag.Diagnostic{Code: code, Severity: diag.Error, Summary: clip(summary), Detail: clip(strings.TrimSpace(detail)), Subject: at}
}

func (d *decoder) report(code string, at hcl.Range, summary, detail string, related ...diag.Related) {
	diagnostic := d.diagnostic(code, at, summary, detail)
	diagnostic.Related = related
	d.diags.Add(diagnostic)
}

// refuse reports what is wrong with a block, which is then no whole one.
func (d *decoder) refuse(n *node, code string, at hcl.Range, summary, detail string, related ...diag.Related) {
	d.report(code, at, summary, detail, related...)
	n.Broken = true
}

func (d *decoder) reportFix(code string, at hcl.Range, summary, detail string, fix *diag.Fix) {
	diagnostic := d.diagnostic(code, at, summary, detail)
	diagnostic.Fix = fix
	d.diags.Add(diagnostic)
}

// clip cuts a message that names something of absurd length.
func clip(s string) string {
	const longest = 1000
	if len(s) <= longest {
		return s
	}
	return strings.ToValidUTF8(s[:longest], "") + "…"
}

func diagRelated(message string, at hcl.Range) diag.Related {
	return diag.Related{Message: clip(message), Range: at}
}

func replace(title string, at hcl.Range, with string) *diag.Fix {
	return &diag.Fix{Title: title, Edits: []diag.Edit{{Range: at, Text: with}}}
}

// source is the text of a range.
func (d *decoder) source(at hcl.Range) []byte {
	src := d.bytes[at.Filename]
	if at.Start.Byte < 0 || at.End.Byte > len(src) || at.Start.Byte > at.End.Byte {
		return nil
	}
	return src[at.Start.Byte:at.End.Byte]
}
