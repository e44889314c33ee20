package spec

import (
	"testing"

	"github.com/hashicorp/hcl/v2"
	"github.com/hashicorp/hcl/v2/hclsyntax"
)

// evaluate computes one expression in a plan with two athletes.
func evaluate(t *testing.T, src string) (value, *decoder) {
	t.Helper()
	d := &decoder{bytes: map[string][]byte{"x": []byte(src)}, labels: map[Ref]*Label{{"athlete", "signe"}: {}, {"athlete", "joao"}: {}}, lets: map[string]*let{}}
	d.sortKeys()
	x, diags := hclsyntax.ParseExpression([]byte(src), "x", hcl.InitialPos)
	if diags.HasErrors() {
		t.Fatalf("%s: %v", src, diags)
	}
	return d.eval(x, nil), d
}

func TestEval(t *testing.T) {
	tests := []struct{ expr, want string }{
		{`1 + 2 * 3`, "7"},
		{`(1 + 2) * 3`, "9"},
		{`0.1 + 0.2 == 0.3`, "true"},
		{`7 % 3`, "1"},
		{`-7 % 3`, "-1"},
		{`0.3 % 0.1`, "0"},
		{`"${0 * -1} min"`, "0 min"},
		{`7 / 2`, "3.5"},
		{`-(3 - 5)`, "2"},
		{`2 < 3 && 3 <= 3 && 4 > 3 && 3 >= 3`, "true"},
		{`1 == 2 || !(1 == 2)`, "true"},
		{`1 != 2 ? "a" : "b"`, "a"},
		{`"monday" == "monday"`, "true"},
		{`true == false`, "false"},
		{`[1, "a"] == [1, "a"]`, "true"},
		{`{ a = 1 } == { b = 1 }`, "false"},
		{`athlete.signe == athlete.joao`, "false"},
		{`athlete.signe != athlete.joao`, "true"},
		{`null == null`, "true"},
		{`"${2 * 30} min and ${true}"`, "60 min and true"},
		{`"${"75 min"}"`, "75 min"},
		{`"%{ if 1 == 1 }yes%{ else }no%{ endif }"`, "yes"},
		{`[for i, d in ["a", "b"] : "${i}${d}"][1]`, "1b"},
		{`{ for k, v in { a = 1, b = 2 } : k => v + 1 if v > 1 }["b"]`, "3"},
		{`{ "x y" = 4 }["x y"]`, "4"},
		{`{ 7 = "seven" }["7"]`, "seven"},
		{`[[1, 2], [3, 4]][1][0]`, "3"},
		{`scale("118-142 W", 0.5)`, "59-71 W"},
		{`scale("10 min", 1 / 3)`, "3 min 20 s"},
		{`plus("8 %", "2 %")`, "10 %"},
		{`minus("30 min", "1 h")`, "-30 min"},
		{`minus("100 W", "90-95 W")`, "5-10 W"},
		{`most("100-120 W", "110-120 W")`, "110-120 W"},
		{`least("60 min", "1 h")`, "60 min"},
		{`total([for i in [1, 2, 3] : "${i} h"])`, "6 h"},
		{`date_add("2026-12-30", "1 week")`, "2027-01-06"},
		{`date_add("2028-02-28", "1 day")`, "2028-02-29"},
		{`date_add("2026-03-01", "-1 day")`, "2026-02-28"},
		{`weekday(date_add("2026-10-05", "-1 days"))`, "sunday"},
	}
	for _, tt := range tests {
		v, d := evaluate(t, tt.expr)
		if got, ok := v.spelled(); !ok || got != tt.want || len(d.diags) > 0 {
			t.Errorf("%s = %q (%s) %v, want %q", tt.expr, got, v.form, d.diags, tt.want)
		}
	}
}

// TestEvalRefuses counts the diagnostics: one for one mistake.
func TestEvalRefuses(t *testing.T) {
	tests := []struct{ expr, code string }{
		{`1 / 0`, codeOutOfRange},
		{`1 % 0`, codeOutOfRange},
		{`999999999 + 1`, codeOutOfRange},
		{`1 && true`, codeWrongType},
		{`!1`, codeWrongType},
		{`-true`, codeWrongType},
		{`"a" < "b"`, codeTextMath},
		{`"1 h" != "60 min"`, codeTextMath},
		{`"1 h" == 60`, codeTextMath},
		{`1 + true`, codeTextMath},
		{`[1][0.5]`, codeOutOfRange},
		{`[1][-1]`, codeOutOfRange},
		{`{ a = 1 }.b`, codeUnknownName},
		{`true[0]`, codeWrongType},
		{`scale("100 W", -1)`, codeWrongValue},
		{`scale("2000 W", 2)`, codeWrongValue},
		{`total(["1 h", 2])`, codeWrongValue},
		{`plus("1 h", nothing)`, codeUnknownName},
		{`total([nothing, "1 h"])`, codeUnknownName},
		{`date_add("2199-12-31", "1 day")`, codeWrongValue},
		{`date_add("2026-01-01", "1 month")`, codeWrongValue},
		{`nothing + 1 == 2 ? "a" : "b"`, codeUnknownName},
		{`"${nothing} and ${1}"`, codeUnknownName},
		{`[for x in [1] : nothing]`, codeUnknownName},
		{`{ for x in [1, 2] : x => nothing }`, codeUnknownName},
		{`{ for x in [1, 2] : "k" => x... }`, codeUnknownName},
		{`{ (athlete.signe) = 1 }`, codeWrongType},
		{`athlete.signe.mass`, codeUnknownRef},
		{`athlete.zoe`, codeUnknownRef},
		{`[athlete.zoe] == [athlete.signe]`, codeUnknownRef},
	}
	for _, tt := range tests {
		_, d := evaluate(t, tt.expr)
		if len(d.diags) != 1 || d.diags[0].Code != tt.code {
			t.Errorf("%s: got %v, want one %s", tt.expr, d.diags, tt.code)
		}
	}
}
