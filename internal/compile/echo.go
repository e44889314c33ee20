package compile

import (
	"cmp"
	"slices"

	"towpath/internal/diag"
	"towpath/internal/syntax"
)

// faultyBlocks gives the text in which an error was found. Where all errors of an outermost block
// lie in blocks within it, only those count, and its header, which speaks for what they hold: what
// is wrong elsewhere in the block has its own message.
func faultyBlocks(files []*syntax.File, found diag.List) []diag.Range {
	var out []diag.Range
	for _, f := range files {
		if f.Body == nil {
			continue
		}
		for _, b := range f.Body.Blocks {
			var inner []diag.Range
			for _, c := range b.Body.Blocks {
				inner = append(inner, c.Range())
			}
			faulty, only := holders(inner, b.Range(), found)
			switch {
			case !only:
				out = append(out, b.Range())
			case faulty != nil:
				out = append(append(out, b.DefRange()), faulty...)
			}
		}
	}
	return out
}

// holders gives those of the blocks within a range, in the order of the text, that hold an error;
// only is false where one lies between them.
func holders(blocks []diag.Range, whole diag.Range, found diag.List) (faulty []diag.Range, only bool) {
	marked := make([]bool, len(blocks))
	for _, d := range found {
		if d.Severity != diag.Error || !within(d.Subject, whole) {
			continue
		}
		i, _ := slices.BinarySearchFunc(blocks, d.Subject.Start.Byte+1, func(r diag.Range, b int) int { return cmp.Compare(r.Start.Byte, b) })
		if i == 0 || !within(d.Subject, blocks[i-1]) {
			return nil, false
		}
		marked[i-1] = true
	}
	for i, r := range blocks {
		if marked[i] {
			faulty = append(faulty, r)
		}
	}
	return faulty, true
}

// withoutEchoes drops what only repeats that a piece of text is faulty: what is said of it, or with
// it as the other half.
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
