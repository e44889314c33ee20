package syntax

import (
	"github.com/hashicorp/hcl/v2"

	"towpath/internal/diag"
)

// translated says in our own words what the parser found.
func translated(problems hcl.Diagnostics) diag.List {
	var diags diag.List
	for _, p := range problems {
		var at diag.Range
		if p.Subject != nil {
			at = *p.Subject
		}
		diags.Add(failed("syntax", at, p.Summary, p.Detail))
	}
	return diags
}
