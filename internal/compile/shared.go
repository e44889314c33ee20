package compile

import (
	"towpath/internal/diag"
	"towpath/internal/syntax"
)

// sharedText tells whether a piece of text holds for several athletes: it stands in a squad, or in a
// block without being for some.
func sharedText(files []*syntax.File) func(diag.Range) bool {
	var shared, forSome []diag.Range
	for _, f := range files {
		if f.Body == nil {
			continue
		}
		for _, b := range f.Body.Blocks {
			if b.Type != "squad" && b.Type != "block" {
				continue
			}
			shared = append(shared, b.Range())
			for _, c := range b.Body.Blocks {
				if c.Type == "for_athlete" {
					forSome = append(forSome, c.Range())
				}
			}
		}
	}
	return func(at diag.Range) bool { return anyHolds(shared, at) && !anyHolds(forSome, at) }
}

func nowhere(diag.Range) bool { return false }

func anyHolds(outer []diag.Range, inner diag.Range) bool {
	for _, r := range outer {
		if within(inner, r) {
			return true
		}
	}
	return false
}
