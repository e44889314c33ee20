package syntax

import (
	"github.com/hashicorp/hcl/v2/hclwrite"

	"towpath/internal/diag"
)

// Format gives the canonical form of src.
func Format(name string, src []byte, canonical func(string) string) ([]byte, diag.List) {
	if file, diags := Parse(name, src); file.Broken {
		return nil, diags
	}
	return hclwrite.Format(src), nil
}
