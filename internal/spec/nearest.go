package spec

import (
	"math"
	"slices"
	"strings"
)

// Nearest gives the word that was most likely meant: one that differs from got by few letters,
// or "" where none does. Of equally near words the first in alphabetical order is taken.
func Nearest(got string, words []string) string {
	best, bestDistance := "", 1+max(1, len(got)/3)
	for _, w := range slices.Sorted(slices.Values(words)) {
		if d := distance(strings.ToLower(got), w); d < bestDistance && d < len(w) {
			best, bestDistance = w, d
		}
	}
	return best
}

// distance counts the letters to add, drop, change or swap with a neighbour.
func distance(a, b string) int {
	x, y := []rune(a), []rune(b)
	if len(x) > maxWord || len(y) > maxWord {
		return math.MaxInt
	}
	before, last, row := make([]int, len(y)+1), make([]int, len(y)+1), make([]int, len(y)+1)
	for j := range last {
		last[j] = j
	}
	for i := 1; i <= len(x); i++ {
		row[0] = i
		for j := 1; j <= len(y); j++ {
			change := 1
			if x[i-1] == y[j-1] {
				change = 0
			}
			row[j] = min(last[j]+1, row[j-1]+1, last[j-1]+change)
			if i > 1 && j > 1 && x[i-1] == y[j-2] && x[i-2] == y[j-1] {
				row[j] = min(row[j], before[j-2]+1)
			}
		}
		before, last, row = last, row, before
	}
	return last[len(y)]
}

// maxWord bounds the words that are compared: longer ones are no typing slip.
const maxWord = 64

// inWords prints a list: "a, b or c".
func inWords(words []string, last string) string {
	switch len(words) {
	case 0:
		return ""
	case 1:
		return words[0]
	}
	return strings.Join(words[:len(words)-1], ", ") + " " + last + " " + words[len(words)-1]
}

// an puts the article before a kind of block.
func an(kind string) string {
	if strings.ContainsAny(kind[:1], "aeo") {
		return "an " + kind
	}
	return "a " + kind
}

// maxShown bounds the words of a list in a message.
const maxShown = 30

// some prints at most thirty words, sorted, and says that there are more.
func some(words []string) string {
	return first(slices.Compact(slices.Sorted(slices.Values(words))))
}

// first does the same with words that are sorted already.
func first(sorted []string) string {
	if len(sorted) > maxShown {
		return strings.Join(sorted[:maxShown], ", ") + " and others"
	}
	return inWords(sorted, "and")
}
