package compile

import (
	"slices"

	"towpath/internal/diag"
	"towpath/internal/syntax"
)

// faultyBlocks gives the ranges of the outermost blocks in which an error was found.
func faultyBlocks(files []*syntax.File, found diag.List) []diag.Range {
	var out []diag.Range
	for _, f := range files {
		if f.Body == nil {
			continue
		}
		for _, b := range f.Body.Blocks {
			if r := b.Range(); slices.ContainsFunc(found, func(d diag.Diagnostic) bool {
				return d.Severity == diag.Error && within(d.Subject, r)
			}) {
				out = append(out, r)
			}
		}
	}
	return out
}

// withoutEchoes drops what only repeats that a piece of text is faulty: errors about a block in
// which an error was found, or that take part of such a block as their other half.
func withoutEchoes(list diag.List, faulty []diag.Range) diag.List {
	return slices.DeleteFunc(list, func(d diag.Diagnostic) bool {
		return slices.ContainsFunc(faulty, func(r diag.Range) bool {
			return within(d.Subject, r) || slices.ContainsFunc(d.Related, func(o diag.Related) bool { return within(o.Range, r) })
		})
	})
}

func within(inner, outer diag.Range) bool {
	return inner.Filename == outer.Filename && inner.Start.Byte >= outer.Start.Byte && inner.End.Byte <= outer.End.Byte
}
