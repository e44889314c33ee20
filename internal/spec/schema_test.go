package spec

import (
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"github.com/hashicorp/hcl/v2"
	"github.com/hashicorp/hcl/v2/hclsyntax"

	"towpath/internal/syntax"
)

// world holds the blocks that the examples of the table refer to.
const world = `
language = 1
id = "table001"
athlete "signe" {
}
squad "north" {
  athletes = [athlete.signe]
}
meter "pedals" {
}
meter "trainer" {
}
test "steps_one" {
  date     = "2026-09-26"
  protocol = protocol.lactate_step
}
band "autumn" {
  power = "100-130 W"
}
`

// eachBlock visits every kind of block with the kinds that it stands in.
func eachBlock(visit func(path []*BlockType)) {
	var walk func(path []*BlockType)
	walk = func(path []*BlockType) {
		visit(path)
		for _, inner := range path[len(path)-1].Blocks {
			walk(append(append([]*BlockType{}, path...), inner))
		}
	}
	walk([]*BlockType{Language()})
}

func eachName(t *testing.T, visit func(t *testing.T, path []*BlockType, name *Name)) {
	eachBlock(func(path []*BlockType) {
		b := path[len(path)-1]
		for i := range b.Names {
			t.Run(nameOf(path)+"."+b.Names[i].Name, func(t *testing.T) { visit(t, path, &b.Names[i]) })
		}
	})
}

func nameOf(path []*BlockType) string {
	var kinds []string
	for _, b := range path[1:] {
		kinds = append(kinds, b.Kind)
	}
	return strings.Join(kinds, ".")
}

func TestTableIsWritten(t *testing.T) {
	eachBlock(func(path []*BlockType) {
		b := path[len(path)-1]
		if b.Kind == "" || !strings.HasSuffix(b.Doc, ".") {
			t.Errorf("block %s: its description %q is no sentence", nameOf(path), b.Doc)
		}
		seen := map[string]bool{}
		for _, word := range append(b.words(), b.Later...) {
			if seen[word] {
				t.Errorf("block %s has the word %s twice", nameOf(path), word)
			}
			seen[word] = true
		}
	})
	names := 0
	eachName(t, func(t *testing.T, _ []*BlockType, name *Name) {
		names++
		for _, n := range append([]Name{*name}, name.Type.Names...) {
			if !strings.HasSuffix(n.Doc, ".") || n.Example == "" {
				t.Errorf("%s: description %q, example %q", n.Name, n.Doc, n.Example)
			}
			if n.Required && n.Default != "" {
				t.Errorf("%s is required and has a default", n.Name)
			}
		}
	})
	if names < 100 {
		t.Errorf("the table has %d names only", names)
	}
}

// TestExamples reads each example of the table by the type that it is an example of.
func TestExamples(t *testing.T) {
	files := append(libraryFiles(t), parse("world.hcl", []byte(world)))
	eachName(t, func(t *testing.T, _ []*BlockType, name *Name) {
		for _, n := range append([]Name{*name}, name.Type.Names...) {
			d := &decoder{bytes: map[string][]byte{"example": []byte(n.Example)}, labels: map[Ref]*Label{}, lets: map[string]*let{}}
			d.in.Files = files
			d.collect()
			d.sortKeys()
			x, diags := hclsyntax.ParseExpression([]byte(n.Example), "example", hcl.InitialPos)
			if diags.HasErrors() {
				t.Fatalf("example %s: %v", n.Example, diags)
			}
			if _, ok := d.convert(d.eval(x, nil), &n.Type, n.Name); !ok || len(d.diags) > 0 {
				t.Errorf("%s = %s: %v", n.Name, n.Example, d.diags)
			}
		}
	})
}

// TestEveryNameArrives sets each name of the table alone and demands that the specification
// shows it: a name that is read and dropped would be a silent loss.
func TestEveryNameArrives(t *testing.T) {
	library := libraryFiles(t)
	decode := func(text string) *Spec {
		s, _ := Decode(Input{Files: append(append([]*syntax.File{}, library...), parse("world.hcl", []byte(world)), parse("case.hcl", []byte(text)))})
		return s
	}
	eachName(t, func(t *testing.T, path []*BlockType, name *Name) {
		if len(path) == 1 {
			return // language and id stand in the world; include is read by source
		}
		without, with := decode(nested(path[1:], "")), decode(nested(path[1:], name.Name+" = "+name.Example))
		// Places and the mark of a faulty block differ in any case.
		ignore := cmp.Options{cmpopts.IgnoreTypes(hcl.Range{}), cmpopts.IgnoreFields(Label{}, "Broken"), cmpopts.IgnoreFields(Spec{}, "Broken")}
		if cmp.Equal(without, with, ignore) {
			t.Errorf("%s.%s = %s changes nothing:\n%s", nameOf(path), name.Name, name.Example, nested(path[1:], name.Name+" = "+name.Example))
		}
	})
}

// nested writes blocks within each other, and text in the innermost.
func nested(path []*BlockType, text string) string {
	b := path[0]
	label := map[LabelRule]string{KeyLabel: ` "some_key"`, StepLabel: ` "some_step"`, NumberLabel: ` "3"`, CodeLabel: ` "weekly-growth"`}[b.Label]
	inner := text
	if len(path) > 1 {
		inner = nested(path[1:], text)
	}
	return fmt.Sprintf("%s%s {\n%s\n}\n", b.Kind, label, inner)
}

func TestFunctionExamples(t *testing.T) {
	for _, f := range Functions() {
		call, want, ok := strings.Cut(f.Example, " is ")
		if !ok {
			t.Errorf("%s: the example %q shows no result", f.Name, f.Example)
			continue
		}
		d := &decoder{bytes: map[string][]byte{"example": []byte(call)}}
		x, diags := hclsyntax.ParseExpression([]byte(call), "example", hcl.InitialPos)
		if diags.HasErrors() {
			t.Fatalf("%s: %v", call, diags)
		}
		v := d.eval(x, nil)
		if got := quoted(v.text); got != want || len(d.diags) > 0 {
			t.Errorf("%s gives %s %v, want %s", call, got, d.diags, want)
		}
	}
}
