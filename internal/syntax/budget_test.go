package syntax

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/hashicorp/hcl/v2"
	"github.com/hashicorp/hcl/v2/hclsyntax"
	"github.com/zclconf/go-cty/cty"
)

// evaluate runs lines of `name = expression` in order, each knowing those before it, as a plan's
// own values are.
func evaluate(t testing.TB, text string) (cty.Value, []string) {
	t.Helper()
	file, diags := Parse("t.hcl", []byte(text))
	if file.Broken {
		t.Fatalf("parse: %v", diags)
	}
	budget := NewBudget()
	ctx := &hcl.EvalContext{Variables: map[string]cty.Value{}}
	var last cty.Value
	var codes []string
	for i := 0; ; i++ {
		attr := file.Body.Attributes[fmt.Sprintf("v%d", i)]
		if attr == nil {
			return last, codes
		}
		v, problems, refused := budget.Value(attr.Expr, ctx)
		for _, d := range refused {
			codes = append(codes, d.Code)
			if d.Subject.Start.Byte < 0 || d.Subject.End.Byte > len(text) || d.Subject.Filename != "t.hcl" {
				t.Errorf("range %v outside of the text", d.Subject)
			}
		}
		for _, p := range problems {
			codes = append(codes, p.Summary)
		}
		ctx.Variables[attr.Name], last = v, v
	}
}

func chain(n int, first, format string) string {
	var s strings.Builder
	fmt.Fprintf(&s, "v0 = %s\n", first)
	for i := 1; i <= n; i++ {
		s.WriteString(strings.NewReplacer("N", fmt.Sprint(i), "P", fmt.Sprintf("v%d", i-1)).Replace(format) + "\n")
	}
	return s.String()
}

func TestBudgetRefuses(t *testing.T) {
	twenty := "[" + strings.TrimSuffix(strings.Repeat("1, ", 20), ", ") + "]"
	for _, test := range []struct{ name, text, want string }{
		{"loops in loops", "v0 = " + twenty + "\nv1 = [for a in v0 : [for b in v0 : [for c in v0 : [for d in v0 : a]]]]\n", "plan-too-costly"},
		{"texts that double", chain(30, `"0123456789"`, `vN = "${P}${P}"`), "value-too-large"},
		{"lists that double", chain(30, `[1]`, `vN = [P, P]`), "value-too-large"},
		{"numbers that square", chain(30, `99`, `vN = P * P`), "number-too-large"},
		{"division by zero", "v0 = 1 / 0\n", "number-too-large"},
		{"a large literal", "v0 = 9999999999999\n", "number-too-large"},
		{"a number in a text", "v0 = \"${1e99}\"\n", "number-too-large"},
		{"a key of an object", "v0 = { for i in [1e99] : i => 1 }\n", "number-too-large"},
		{"a splat over a list", "v0 = " + twenty + "\nv1 = [for a in v0 : [for b in v0 : v0[*]]]\nv2 = [for a in v0 : [for b in v0 : v0[*]]]", "plan-too-costly"},
	} {
		t.Run(test.name, func(t *testing.T) {
			start := time.Now()
			_, codes := evaluate(t, test.text)
			if len(codes) == 0 || codes[0] != test.want {
				t.Errorf("got %v, want %s first", codes, test.want)
			}
			if d := time.Since(start); d > 2*time.Second {
				t.Errorf("took %v", d)
			}
		})
	}
}

// TestBudgetChangesNothing: within the budget a bounded expression yields what it yields without.
func TestBudgetChangesNothing(t *testing.T) {
	for _, text := range []string{
		`1 + 2 * 3`, `-(4)`, `!true`, `[for x in [1, 2, 3] : x * 2 if x > 1]`, `{ for k, x in { a = 1, b = 2 } : k => x... }`,
		`{ a = 1, "b c" = [2], (true ? "d" : "e") = 3 }`, `true ? 1 : 2`, `"a ${1 + 1} b"`, `"${[1, 2][0]}"`, `{ a = { b = 3 } }.a.b`,
		`[{ a = 1 }, { a = 2 }][*].a`, `[{ a = 1 }, { a = 2 }].*.a`, `["x", "y"][1]`, `"%{ for x in [1, 2] }${x},%{ endfor }"`, `null`,
	} {
		e, problems := hclsyntax.ParseExpression([]byte(text), "t.hcl", hcl.InitialPos)
		if problems.HasErrors() {
			t.Fatalf("%s: %v", text, problems)
		}
		want, _ := e.Value(nil)
		got, problems, refused := NewBudget().Value(e, nil)
		if problems.HasErrors() || refused != nil || !got.RawEquals(want) {
			t.Errorf("%s: got %#v (%v %v), want %#v", text, got, problems, refused, want)
		}
		again, _ := e.Value(nil)
		if !again.RawEquals(want) {
			t.Errorf("%s: evaluation changed the expression", text)
		}
	}
}

func TestNumbersInTexts(t *testing.T) {
	start := time.Now()
	_, codes := evaluate(t, "v0 = \"1e1000000000\" * 1\nv1 = -\"1e999999999\"\nv2 = \"1e999999\" > 1\n")
	if d := time.Since(start); d > time.Second {
		t.Errorf("took %v: %v", d, codes)
	}
}
