// Package physiology holds the numbers and formulas that training science and the trade supply:
// each with its value, unit, source and kind, in one bibliography. It reads no files and knows no
// plan, no athlete and none of the coach's own settings.
package physiology

// Source is an entry of the bibliography.
type Source struct {
	Authors string
	Year    int
	Title   string
	Journal string // journal, volume and pages, or publisher
	DOI     string // "" where none is known
	// Read tells how the work was consulted: "full", "abstract", or "memory" (not re-read).
	Read string
}

// Kind tells what stands behind a number.
type Kind string

// The kinds of number.
const (
	Measured   Kind = "measured"   // found in people, in the source named
	Derived    Kind = "derived"    // our reading of what the source named found or advises
	Definition Kind = "definition" // arithmetic, or how the source named defines its term
	Convention Kind = "convention" // common practice or own choice, no source
)

// Number is a value with what stands behind it.
type Number[T any] struct {
	Value      T
	Source     string // key in Sources; "" for a convention
	Locator    string // table, equation or page in the source
	Population string // in whom it was found
	Kind       Kind
	Note       string // why this value; "from memory" or "as others quote it" where it was not read
}
