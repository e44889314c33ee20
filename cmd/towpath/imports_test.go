package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"io"
	"os"
	"os/exec"
	"path"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// layer is one package with what it may import, and what it must never do: the reason for the rest.
type layer struct {
	name       string
	ours       string // packages of internal, "all" for any
	thirdParty []module
	never      string
}

// module is somebody else's package, with all below it.
type module struct{ path, shown string }

var (
	hcl       = module{"github.com/hashicorp/hcl/v2", "hcl"}
	hclsyntax = module{"github.com/hashicorp/hcl/v2/hclsyntax", "hclsyntax"}
	hclwrite  = module{"github.com/hashicorp/hcl/v2/hclwrite", "hclwrite"}
	cty       = module{"github.com/zclconf/go-cty/cty", "cty"}
	textseg   = module{"github.com/apparentlymart/go-textseg/v17/textseg", "textseg"}
	textWidth = module{"golang.org/x/text/width", "x/text/width"}
	textNorm  = module{"golang.org/x/text/unicode/norm", "x/text/unicode/norm"}
	ical      = module{"github.com/arran4/golang-ical", "golang-ical (ical.go)"}
	fit       = module{"github.com/muktihari/fit", "muktihari/fit (workout)"}
	uuid      = module{"github.com/google/uuid", "uuid"}
	commands  = module{"github.com/spf13/cobra", "cobra"}
	xterm     = module{"golang.org/x/term", "x/term"}
)

// layers is the import table. DEVELOPERS.md shows it; -update writes it there.
var layers = []layer{
	{"units", "", nil, "know HCL, JSON or athletes"},
	{"zone", "", nil, "use the machine's time zones"},
	{"diag", "", []module{hcl, textseg, textWidth}, "decide whether something is wrong"},
	{"physiology", "units", nil, "read files, know plans or a coach's settings"},
	{"words", "units", nil, "compute"},
	{"syntax", "diag", []module{hcl, hclsyntax, hclwrite}, "know any block or name of the language"},
	{"source", "diag syntax", []module{hcl, hclsyntax, cty}, "decode"},
	{"spec", "units diag syntax", []module{hcl, hclsyntax, cty}, "compute, apply defaults across blocks, read a clock"},
	{"table", "diag", nil, "know what a column means"},
	{"threshold", "units diag physiology table", nil, "know plans, sessions or the text of a spec"},
	{"record", "units diag", nil, "decide what to deliver"},
	{"plan", "units diag physiology zone table spec threshold record", nil, "choose a date for a session"},
	{"schedule", "units diag physiology plan record", nil, "produce a target, hold a float"},
	{"prescription", "units diag physiology words zone plan schedule", []module{uuid}, "judge, format a file, write"},
	{"rules", "units diag physiology spec threshold record plan schedule prescription", nil, "change a stage's output"},
	{"export", "units diag words zone plan schedule threshold record prescription", []module{ical, fit, textNorm}, "compute a training number, open a file"},
	{"compile", "units diag physiology syntax source spec threshold record plan schedule prescription rules", nil, "print, read clock, environment or network"},
	{"cmd/towpath", "all", []module{commands, xterm}, "compute anything about training"},
	{"plans", "", nil, "hold more than the text"},
	{"plans/library", "", nil, "hold more than the text"},
	{"schemas", "", nil, "hold more than the text"},
}

const ourModule = "towpath/"

func (l layer) importPath() string {
	if strings.Contains(l.name, "/") || l.name == "plans" || l.name == "schemas" {
		return ourModule + l.name
	}
	return ourModule + "internal/" + l.name
}

// allows tells whether the layer may import a package that is not of the standard library.
func (l layer) allows(imported string) bool {
	if strings.HasPrefix(imported, ourModule) {
		return l.ours == "all" || slices.ContainsFunc(strings.Fields(l.ours), func(name string) bool {
			return layer{name: name}.importPath() == imported
		})
	}
	return slices.ContainsFunc(l.thirdParty, func(m module) bool {
		// hcl has packages of its own in the table: only the folder itself is meant.
		return imported == m.path || m != hcl && strings.HasPrefix(imported, m.path+"/")
	})
}

func TestImports(t *testing.T) {
	listed := map[string]bool{}
	for _, p := range goList(t) {
		i := slices.IndexFunc(layers, func(l layer) bool { return l.importPath() == p.ImportPath })
		if i < 0 {
			t.Errorf("%s is not in the import table: add it, with what it must never do", p.ImportPath)
			continue
		}
		listed[p.ImportPath] = true
		for _, imported := range p.Imports {
			if !isStandard(imported) && !layers[i].allows(imported) {
				t.Errorf("%s imports %s, which the table does not allow; it must never %s", p.ImportPath, imported, layers[i].never)
			}
		}
		for _, forbidden := range []string{"util", "utils", "common", "helpers", "types", "model", "config", "logger"} {
			if path.Base(p.ImportPath) == forbidden {
				t.Errorf("%s: the name says nothing of what the package is for", p.ImportPath)
			}
		}
	}
	for _, l := range layers {
		if !listed[l.importPath()] {
			t.Errorf("the table names %s, which does not exist", l.importPath())
		}
	}
}

type listedPackage struct {
	ImportPath string
	Dir        string
	GoFiles    []string
	Imports    []string
}

func goList(t *testing.T) []listedPackage {
	t.Helper()
	cmd := exec.Command("go", "list", "-json=ImportPath,Dir,GoFiles,Imports", "./...")
	cmd.Dir = repository
	cmd.Stderr = os.Stderr
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("go list: %v", err)
	}
	var all []listedPackage
	for d := json.NewDecoder(strings.NewReader(string(out))); ; {
		var p listedPackage
		if err := d.Decode(&p); errors.Is(err, io.EOF) {
			return all
		} else if err != nil {
			t.Fatal(err)
		}
		all = append(all, p)
	}
}

func isStandard(imported string) bool {
	first, _, _ := strings.Cut(imported, "/")
	return !strings.Contains(first, ".") && !strings.HasPrefix(imported, ourModule)
}

// gate bars a package, or one name of it, from everywhere but a few packages.
type gate struct {
	what   string // "net", "time.Now"; a package holds for all below it
	except string // packages of the table
	reason string
}

var gates = []gate{
	{"os", "cmd/towpath source", "the machine's files are touched by the command line, and by source for opening the root"},
	{"path/filepath", "cmd/towpath source", "paths of one machine would make outputs differ"},
	{"os/exec", "", "no other program is run"},
	{"os/user", "", "no output depends on who runs it"},
	{"net", "", "nothing is sent or fetched"},
	{"log", "", "what is to be said is a diagnostic or an error"},
	{"unsafe", "", "there is no need for it"},
	{"plugin", "", "there is no need for it"},
	{"crypto/rand", "cmd/towpath", "identities are derived; only a new plan draws its name"},
	{"math/rand", "", "outputs must repeat; seeds would be hashes of content, for math/rand/v2"},
	{"time.Now", "cmd/towpath", "check and build never look at the clock"},
	{"os.Getenv", "cmd/towpath", "the environment changes no result; it only turns colour off"},
	{"os.Environ", "", "the environment changes no result"},
	{"os.LookupEnv", "", "the environment changes no result"},
	{"os.Hostname", "", "no output depends on where it was made"},
	{"time.Since", "", "check and build never look at the clock"},
	{"time.Local", "", "the zone is the athlete's, never the machine's"},
	{"time.LoadLocation", "", "zones come from the data in zone, never from the machine"},
	{"fmt.Print", "", "output goes to the writer that a command is given"},
	{"fmt.Printf", "", "output goes to the writer that a command is given"},
	{"fmt.Println", "", "output goes to the writer that a command is given"},
}

func TestGates(t *testing.T) {
	for _, p := range goList(t) {
		name := strings.TrimPrefix(strings.TrimPrefix(p.ImportPath, ourModule), "internal/")
		for _, file := range p.GoFiles {
			full := filepath.Join(p.Dir, file)
			set := token.NewFileSet()
			tree, err := parser.ParseFile(set, full, nil, parser.SkipObjectResolution)
			if err != nil {
				t.Fatal(err)
			}
			used := uses(tree)
			for _, g := range gates {
				if !slices.Contains(strings.Fields(g.except), name) && slices.ContainsFunc(used, g.bars) {
					t.Errorf("%s/%s uses %s: %s", name, file, g.what, g.reason)
				}
			}
			if lines := set.Position(tree.End()).Line; lines > longest(name) {
				t.Errorf("%s/%s has %d lines, more than %d: look for the seam", name, file, lines, longest(name))
			}
			for _, d := range tree.Decls {
				if f, ok := d.(*ast.FuncDecl); ok && f.Recv == nil && f.Name.Name == "init" {
					t.Errorf("%s/%s has an init function: list things in a literal, so that the flow can be read", name, file)
				}
			}
			if name == "schedule" && holdsFloats(tree) {
				t.Errorf("%s/%s holds a float: placement is exact, in whole minutes", name, file)
			}
		}
	}
}

// longest is how many lines a file may have.
func longest(name string) int {
	if name == "rules" {
		return 150
	}
	return 500
}

// bars tells whether a use, "time" or "time.Now", is what the gate speaks of.
func (g gate) bars(use string) bool {
	if strings.Contains(path.Base(g.what), ".") {
		return use == g.what
	}
	return use == g.what || strings.HasPrefix(use, g.what+"/") && g.what != "os"
}

// uses lists the packages of the standard library that a file imports, and the names of these that
// it uses: "time", "time.Now".
func uses(f *ast.File) []string {
	var out []string
	names := map[string]string{} // in the file → import path
	for _, spec := range f.Imports {
		imported, err := strconv.Unquote(spec.Path.Value)
		if err != nil || !isStandard(imported) {
			continue
		}
		out = append(out, imported)
		names[path.Base(imported)] = imported
		if spec.Name != nil {
			names[spec.Name.Name] = imported
		}
	}
	ast.Inspect(f, func(n ast.Node) bool {
		if sel, ok := n.(*ast.SelectorExpr); ok {
			if x, ok := sel.X.(*ast.Ident); ok && names[x.Name] != "" {
				out = append(out, names[x.Name]+"."+sel.Sel.Name)
			}
		}
		return true
	})
	return out
}

func holdsFloats(f *ast.File) (found bool) {
	ast.Inspect(f, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.Ident:
			found = found || n.Name == "float64" || n.Name == "float32"
		case *ast.BasicLit:
			found = found || n.Kind == token.FLOAT
		}
		return true
	})
	return found
}

const (
	tableStart = "<!-- import table -->\n"
	tableEnd   = "<!-- /import table -->\n"
)

// table is the import table as DEVELOPERS.md shows it.
func table() string {
	var b strings.Builder
	b.WriteString("| package | imports of ours | third party | must never |\n|---|---|---|---|\n")
	for _, l := range layers {
		third := make([]string, len(l.thirdParty))
		for i, m := range l.thirdParty {
			third[i] = m.shown
		}
		fmt.Fprintf(&b, "| %s | %s | %s | %s |\n", l.name, orDash(l.ours), orDash(strings.Join(third, ", ")), l.never)
	}
	return b.String()
}

func orDash(s string) string {
	if s == "" {
		return "–"
	}
	return s
}

func TestTableInDevelopersGuide(t *testing.T) {
	name := filepath.Join(repository, "DEVELOPERS.md")
	text, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	before, rest, ok := strings.Cut(string(text), tableStart)
	shown, after, ok2 := strings.Cut(rest, tableEnd)
	if !ok || !ok2 {
		t.Fatalf("DEVELOPERS.md has no place for the table, between %q and %q", tableStart, tableEnd)
	}
	if *update {
		if err := os.WriteFile(name, []byte(before+tableStart+table()+tableEnd+after), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	if diff := cmp.Diff(table(), shown); diff != "" {
		t.Errorf("DEVELOPERS.md shows another import table than the test holds; -update mends it (-test +guide)\n%s", diff)
	}
}
