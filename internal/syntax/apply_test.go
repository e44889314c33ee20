package syntax

import (
	"testing"

	"github.com/hashicorp/hcl/v2"

	"towpath/internal/diag"
)

func edit(start, end int, text string) diag.Edit {
	return diag.Edit{Range: diag.Range{Start: hcl.Pos{Byte: start}, End: hcl.Pos{Byte: end}}, Text: text}
}

func TestApply(t *testing.T) {
	for _, test := range []struct {
		name  string
		edits []diag.Edit
		want  string // "" where refused
	}{
		{"none", nil, "0123456789"},
		{"any order", []diag.Edit{edit(8, 9, "eight"), edit(0, 1, "zero")}, "zero1234567eight9"},
		{"insertions at one place keep their order", []diag.Edit{edit(2, 2, "a"), edit(2, 2, "b")}, "01ab23456789"},
		{"neighbours", []diag.Edit{edit(2, 4, "a"), edit(4, 6, "b")}, "01ab6789"},
		{"insertion before a change", []diag.Edit{edit(2, 4, "a"), edit(2, 2, "b")}, "01ba456789"},
		{"at the ends", []diag.Edit{edit(10, 10, "z"), edit(0, 0, "a")}, "a0123456789z"},
		{"overlap", []diag.Edit{edit(2, 5, "a"), edit(4, 6, "b")}, ""},
		{"the same twice", []diag.Edit{edit(2, 5, "a"), edit(2, 5, "a")}, ""},
		{"past the end", []diag.Edit{edit(9, 11, "a")}, ""},
		{"before the start", []diag.Edit{edit(-1, 1, "a")}, ""},
		{"backwards", []diag.Edit{edit(5, 2, "a")}, ""},
	} {
		t.Run(test.name, func(t *testing.T) {
			src := []byte("0123456789")
			got, err := Apply(src, test.edits)
			if string(got) != test.want || (err != nil) != (test.want == "") {
				t.Errorf("got %q, %v, want %q", got, err, test.want)
			}
			if string(src) != "0123456789" {
				t.Errorf("the source became %q", src)
			}
		})
	}
}
