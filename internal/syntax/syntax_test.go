package syntax

import (
	"fmt"
	"strings"
	"testing"

	"towpath/internal/diag"
)

func told(diags diag.List) string {
	var out strings.Builder
	for _, d := range diags {
		fmt.Fprintf(&out, "%d:%d-%d:%d [%s] %s | %s\n", d.Subject.Start.Line, d.Subject.Start.Column, d.Subject.End.Line, d.Subject.End.Column, d.Code, d.Summary, d.Detail)
		for _, r := range d.Related {
			fmt.Fprintf(&out, "    %d:%d %s\n", r.Range.Start.Line, r.Range.Start.Column, r.Message)
		}
		if d.Fix != nil {
			for _, e := range d.Fix.Edits {
				fmt.Fprintf(&out, "    fix %d:%d-%d:%d %s\n", e.Range.Start.Line, e.Range.Start.Column, e.Range.End.Line, e.Range.End.Column, e.Text)
			}
		}
	}
	return out.String()
}
func TestZZ(t *testing.T) {
	for _, s := range []string{
		"a {\n  t = \"Autumn\n  b = 1\n}\nc = \"x\"\n",
		"a {\n  t = [\"Autumn, 1]\n  u = \"\n  v = 5 h\n}\nc = 8 9\n",
		"a = “75 min”\nb = „x“\n", "a = '75 min'\nb = 1\n",
		"a = 40 %\nb = 5 h\nc = 18:30\nd = 118–142 W # x\n", "a = \"x${b\nc=1\n", "a = <<EOT\nfoo\nbar = 1\n", "a = 1; b = 2\n",
		"a = \"\xff\"\nb=\xff\n", "a = \"\\q\"\n", "a = 1\na = 2\nb {\n  c = 1\n  c = 2\n}\n",
		"block \"a\" {\n  volume {\n    first = \"5 h\"\n\n  recovery {\n    x = 1\n  }\n}\n\nblock \"b\" {\n  y = 1 +\n}\n",
		"block \"a\" {\n  volume {\n  }\n  }\n}\nx = 1\n",
		"a = [1, 2\nb = 3\n", "a = [1 2]\nb = { c 3 }\nd = { e = 1 f = 2 }\n", "a {\n  foo\n  \"x\" = 1\n  b = {\n", "a \"b\"\n{\n}\n",
		"athlete marta {\n  x = 1,\n}\n", "a { b = 1, c = 2 }\n", "a = f(1 2)\nb = x.\nc = true ? 1\nd = [for x in y]\n", "= 3\n{\n}\n", "a = foo[1\n", "a \"${x}\" {\n}\n",
		"a = " + strings.Repeat("[", 100) + "\nb = 8 9\n", "a = 1e100000\nb = 1 2\n", "a = ((1)\n", "a = )\n", "a ***\n",
		"a = \"b\" \"c\"\n", "a = \"\"\"b\"\"\"\n", "a = x ~ y\n", "a = `b`\n", "\ufeffa = 8 9\n", "a = 8 9\r\nb = 7 h\r\n",
	} {
		f, d := Parse("x", []byte(s))
		n := -1
		if f.Body != nil {
			n = len(f.Body.Attributes)*100 + len(f.Body.Blocks)
		}
		fmt.Printf("--- %q  %d\n%s", s, n, told(d))
	}
}
