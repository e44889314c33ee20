package physiology_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"towpath/internal/physiology"
)

// conventionWords are what a number without a source must say of itself: a habit of the trade, or
// a choice made here.
var conventionWords = []string{"common practice, no source", "own choice, no source"}

// unreadWords are what a number must say that rests on a part of its source that was not read.
var unreadWords = []string{"from memory", "as others quote it"}

// keyWord is the form of a key of the bibliography: the first author's name and the year.
var keyWord = regexp.MustCompile(`\b[a-z]+(_[a-z]+)*(19|20)[0-9]{2}[a-z]?\b`)

// number is one Number[...]{...} literal as it stands in the source of this package.
type number struct {
	pos        token.Position
	kind       string // "Measured", "Derived", "Definition", "Convention", "" where it is missing
	source     string // the literal key, "" where it is missing
	locator    string
	population string
	words      string // note and the comments of its declaration, on one line
}

func (n number) says(one []string) bool {
	return slices.ContainsFunc(one, func(w string) bool { return strings.Contains(n.words, w) })
}

// TestNumbersHaveSources parses this package: each number says what stands behind it.
func TestNumbersHaveSources(t *testing.T) {
	t.Parallel()
	numbers := parseNumbers(t)
	if len(numbers) < 40 {
		t.Fatalf("found %d numbers: the walk over the package misses some", len(numbers))
	}
	for _, n := range numbers {
		for _, fault := range faults(n) {
			t.Errorf("%s: %s", n.pos, fault)
		}
	}
}

// faults lists what a number lacks.
func faults(n number) (out []string) {
	switch n.kind {
	case "Measured", "Derived":
		if n.source == "" || n.population == "" {
			out = append(out, "a number out of a study needs its Source and Population")
		}
		if n.kind == "Derived" && !n.says([]string{"our reading"}) {
			out = append(out, "a derived number tells in its Note how it is our reading")
		}
	case "Definition":
	case "Convention":
		if n.source != "" {
			out = append(out, "a convention cites no Source")
		}
		if !n.says(conventionWords) {
			out = append(out, "a convention says one of "+strings.Join(conventionWords, " | ")+" in its Note or comment")
		}
	default:
		out = append(out, "no Kind: Measured, Derived, Definition or Convention")
	}
	if n.source == "" {
		return out
	}
	s, known := physiology.Sources[n.source]
	switch {
	case !known:
		out = append(out, "source "+n.source+" is not in Sources")
	case n.locator == "":
		out = append(out, "a Source needs a Locator")
	case !wasRead(s, n.locator) && !n.says(unreadWords):
		out = append(out, "of "+n.source+" this part was not read: say one of "+strings.Join(unreadWords, " | "))
	}
	return out
}

// wasRead tells whether the place that a number names was seen: a title always is.
func wasRead(s physiology.Source, locator string) bool {
	return s.Read == "full" || locator == "title" || s.Read == "abstract" && locator == "abstract"
}

// TestFaults shows that each fault is found.
func TestFaults(t *testing.T) {
	t.Parallel()
	const src = `package p
// common practice, no source
var (
	a = Number[int]{Value: 1}
	b = Number[int]{Value: 1, Kind: Measured}
	c = Number[int]{Value: 1, Kind: Measured, Source: "nobody1900"}
	// b
	d = Number[int]{Value: 1, Kind: Convention, Source: "beaver1985", Note: "own choice, no source"}
	e = map[string]Number[int]{"x": {Value: 1, Kind: Convention, Note: "own" + " choice"}}
	f = []Number[int]{{Value: 1, Kind: Definition}}
	// Common words over
	// two lines: own choice,
	// no source.
	g = Number[int]{Value: 1, Kind: Convention}
	h = Number[int]{Value: 1, Kind: Measured, Source: "scherr2013", Locator: "abstract", Population: "runners"}
	i = Number[int]{Value: 1, Kind: Measured, Source: "scherr2013", Locator: "table 2", Population: "runners"}
	j = Number[int]{Value: 1, Kind: Measured, Source: "scherr2013", Locator: "table 2", Population: "runners", Note: "from memory"}
	k = Number[int]{Value: 1, Kind: Derived, Source: "scherr2013", Locator: "abstract", Population: "runners"}
	l = Number[int]{Value: 1, Kind: Definition, Source: "heck1985"}
	m = Number[int]{Value: 1, Kind: Definition, Source: "heck1985", Locator: "title"}
)
`
	fset := token.NewFileSet()
	file, err := parser.ParseFile(fset, "p.go", src, parser.ParseComments)
	if err != nil {
		t.Fatal(err)
	}
	wants := []int{1, 1, 2, 2, 1, 0, 0, 0, 1, 0, 1, 1, 0}
	numbers := numbersOf(fset, file)
	if len(numbers) != len(wants) {
		t.Fatalf("found %d numbers, want %d", len(numbers), len(wants))
	}
	for i, n := range numbers {
		if got := faults(n); len(got) != wants[i] {
			t.Errorf("number %d: got faults %q, want %d", i, got, wants[i])
		}
	}
}

// TestSourcesAreUsed demands that each entry of the bibliography is cited by a number or in a
// formula's comment here, or by a key in the module's code.
func TestSourcesAreUsed(t *testing.T) {
	t.Parallel()
	used := map[string]bool{}
	for _, key := range keysInProse(t) {
		used[key] = true
		if _, ok := physiology.Sources[key]; !ok {
			t.Errorf("a comment or a Note here cites %s, which is not in Sources", key)
		}
	}
	err := filepath.WalkDir(filepath.Join("..", ".."), func(path string, d fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case d.IsDir() && d.Name() != ".." && strings.HasPrefix(d.Name(), "."):
			return filepath.SkipDir
		case d.IsDir(), filepath.Ext(path) != ".go", strings.HasSuffix(path, "_test.go"):
			return nil
		}
		file, err := parser.ParseFile(token.NewFileSet(), path, nil, parser.SkipObjectResolution)
		if file == nil {
			return err
		}
		ast.Inspect(file, func(n ast.Node) bool {
			if kv, ok := n.(*ast.KeyValueExpr); ok && d.Name() == "bibliography.go" {
				// The entry's own key is no use of it.
				_, isEntry := kv.Value.(*ast.CompositeLit)
				return !isEntry
			}
			if lit, ok := n.(*ast.BasicLit); ok && lit.Kind == token.STRING {
				if s, err := strconv.Unquote(lit.Value); err == nil {
					used[s] = true
				}
			}
			return true
		})
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	for key := range physiology.Sources {
		if !used[key] {
			t.Errorf("source %s is cited nowhere: cite it or take it out", key)
		}
	}
}

// TestEntriesAreWellFormed checks the entries themselves.
func TestEntriesAreWellFormed(t *testing.T) {
	t.Parallel()
	doi := regexp.MustCompile(`^10\.[0-9]{4,9}/\S+$`)
	seen := map[string]string{}
	for k, s := range physiology.Sources {
		if keyWord.FindString(k) != k || !strings.Contains(k, strconv.Itoa(s.Year)) {
			t.Errorf("%s: a key is the first author's name and the year %d", k, s.Year)
		}
		if s.Authors == "" || s.Title == "" || s.Journal == "" {
			t.Errorf("%s: authors, title and journal are all needed", k)
		}
		if s.Year < 1900 || s.Year > 2026 {
			t.Errorf("%s: year %d", k, s.Year)
		}
		if !slices.Contains([]string{"full", "abstract", "memory"}, s.Read) {
			t.Errorf("%s: Read is %q, want full, abstract or memory", k, s.Read)
		}
		if s.DOI != "" {
			if !doi.MatchString(s.DOI) {
				t.Errorf("%s: %q has not the form of a DOI", k, s.DOI)
			}
			if other, ok := seen[s.DOI]; ok {
				t.Errorf("%s and %s have one DOI", k, other)
			}
			seen[s.DOI] = k
		}
	}
}

// TestKeysAreInOrder keeps the bibliography readable: keys rise down the file, each once.
func TestKeysAreInOrder(t *testing.T) {
	t.Parallel()
	file, err := parser.ParseFile(token.NewFileSet(), "bibliography.go", nil, 0)
	if err != nil {
		t.Fatal(err)
	}
	var keys []string
	ast.Inspect(file, func(n ast.Node) bool {
		kv, ok := n.(*ast.KeyValueExpr)
		if !ok {
			return true
		}
		if lit, ok := kv.Key.(*ast.BasicLit); ok {
			keys = append(keys, lit.Value)
		}
		return false
	})
	if len(keys) != len(physiology.Sources) {
		t.Errorf("%d keys in the file, %d in the map", len(keys), len(physiology.Sources))
	}
	for i := 1; i < len(keys); i++ {
		if keys[i-1] >= keys[i] {
			t.Errorf("%s stands before %s", keys[i-1], keys[i])
		}
	}
}

// keysInProse finds the keys that the comments and Notes of this package name.
func keysInProse(t *testing.T) (out []string) {
	t.Helper()
	fset := token.NewFileSet()
	for _, file := range parsePackage(t, fset) {
		for _, c := range file.Comments {
			out = append(out, keyWord.FindAllString(c.Text(), -1)...)
		}
		for _, n := range numbersOf(fset, file) {
			out = append(out, keyWord.FindAllString(n.words, -1)...)
		}
	}
	return out
}

func parseNumbers(t *testing.T) (out []number) {
	t.Helper()
	fset := token.NewFileSet()
	for _, file := range parsePackage(t, fset) {
		out = append(out, numbersOf(fset, file)...)
	}
	return out
}

// parsePackage parses the files of this package, tests aside.
func parsePackage(t *testing.T, fset *token.FileSet) (out []*ast.File) {
	t.Helper()
	paths, err := filepath.Glob("*.go")
	if err != nil {
		t.Fatal(err)
	}
	for _, path := range paths {
		if strings.HasSuffix(path, "_test.go") {
			continue
		}
		file, err := parser.ParseFile(fset, path, nil, parser.ParseComments)
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, file)
	}
	return out
}

// numbersOf finds the Number literals of a file, also those in slices and maps, whose type is
// written once for all.
func numbersOf(fset *token.FileSet, file *ast.File) (out []number) {
	for _, decl := range file.Decls {
		doc := declDoc(decl)
		ast.Inspect(decl, func(n ast.Node) bool {
			if spec, ok := n.(*ast.ValueSpec); ok {
				if d := spec.Doc.Text() + spec.Comment.Text(); d != "" {
					doc = d
				} else {
					doc = declDoc(decl)
				}
			}
			lit, ok := n.(*ast.CompositeLit)
			if !ok {
				return true
			}
			switch typ := lit.Type.(type) {
			case *ast.ArrayType:
				if isNumber(typ.Elt) {
					out = append(out, elided(fset, lit, doc)...)
				}
			case *ast.MapType:
				if isNumber(typ.Value) {
					out = append(out, elided(fset, lit, doc)...)
				}
			default:
				if isNumber(typ) {
					out = append(out, read(fset, lit, doc))
				}
			}
			return true
		})
	}
	return out
}

func declDoc(decl ast.Decl) string {
	gen, ok := decl.(*ast.GenDecl)
	if !ok || gen.Lparen.IsValid() {
		return "" // a group's comment does not speak for each of its numbers
	}
	return gen.Doc.Text()
}

func isNumber(e ast.Expr) bool {
	index, ok := e.(*ast.IndexExpr)
	if !ok {
		return false
	}
	name, ok := index.X.(*ast.Ident)
	return ok && name.Name == "Number"
}

func elided(fset *token.FileSet, lit *ast.CompositeLit, doc string) (out []number) {
	for _, e := range lit.Elts {
		if kv, ok := e.(*ast.KeyValueExpr); ok {
			e = kv.Value
		}
		if inner, ok := e.(*ast.CompositeLit); ok && inner.Type == nil {
			out = append(out, read(fset, inner, doc))
		}
	}
	return out
}

func read(fset *token.FileSet, lit *ast.CompositeLit, doc string) number {
	n := number{pos: fset.Position(lit.Pos()), words: doc}
	for _, e := range lit.Elts {
		kv, ok := e.(*ast.KeyValueExpr)
		if !ok {
			continue
		}
		name, ok := kv.Key.(*ast.Ident)
		if !ok {
			continue
		}
		switch name.Name {
		case "Kind":
			if id, ok := kv.Value.(*ast.Ident); ok {
				n.kind = id.Name
			}
		case "Source":
			n.source = text(kv.Value)
		case "Locator":
			n.locator = text(kv.Value)
		case "Population":
			n.population = text(kv.Value)
		case "Note":
			n.words += " " + text(kv.Value)
		}
	}
	n.words = strings.Join(strings.Fields(n.words), " ")
	return n
}

// text joins the string literals of an expression, "a" + "b" included.
func text(e ast.Expr) (s string) {
	ast.Inspect(e, func(n ast.Node) bool {
		if lit, ok := n.(*ast.BasicLit); ok && lit.Kind == token.STRING {
			u, err := strconv.Unquote(lit.Value)
			if err == nil {
				s += u
			}
		}
		return true
	})
	return s
}
