package syntax

import (
	"strings"
	"testing"
)

// nasty are texts that break parsers, or that break a reader's habits.
var nasty = []string{
	"", "\n", "\xef\xbb\xbfa = 1\n", "a = 1\r\nb = 2\r\n", "a = \"\x00\"\n", "a = \"\xff\"\n", "a=1#c", "/* x\n */ a = 1\n", "/*", "a = <<EOT\n", "a = <<-EOT\n  ${\n1}\n  EOT\n",
	"a = [[[[[[{{{{((((\n", "a = !!!!!!!!!!--------1\n", "a = 1e99\n", "a = \"${\"${\"${1}\"}\"}\"\n", "a = \"%{if x}%{if y}%{endif}%{endif}\"\n",
	"a { b { c { d = 1 } } }\n", "a {\n( } )\n b {\n( } )\n c {\n", "a = “75min”\n", "a = \"75min\n", "a = \"\\", "a = \"$\nb = \"%\nc = \"\\\n", "\"\n\"\n\"", "a = x ? y : z ? w : v\n",
	"a = [for x in y : x]\n", "a = {for k, v in y : k => v...}\n", "a = x.*.y[*].z[0]\n", "a::b = c::d(1)\n", "}}}}", "a \"b\"\n{\n}\n", "é = \"é\"\n", "a = \"e\u0301\" # 🚴‍♀️\nb = '1'\n",
}

// FuzzParse: no text ends the process or takes long, and each diagnostic lies in the text.
func FuzzParse(f *testing.F) {
	for _, text := range plans(f) {
		f.Add(text)
	}
	for _, text := range nasty {
		f.Add([]byte(text))
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		file, diags := Parse("t.hcl", text)
		if file.Broken != diags.HasErrors() {
			t.Errorf("broken is %v with %s", file.Broken, told(diags))
		}
		inside := func(what string, start, end int) {
			if start < 0 || end < start || end > len(text) {
				t.Errorf("%s covers bytes %d to %d of %d", what, start, end, len(text))
			}
		}
		for _, d := range diags {
			inside(d.Summary, d.Subject.Start.Byte, d.Subject.End.Byte)
			if d.Subject.Filename != "t.hcl" || d.Summary == "" || d.Detail == "" || strings.ContainsAny(d.Summary, "\n") {
				t.Errorf("lacks something: %+v", d)
			}
			for _, r := range d.Related {
				inside(r.Message, r.Range.Start.Byte, r.Range.End.Byte)
			}
			if d.Fix != nil {
				if _, err := Apply(text, d.Fix.Edits); err != nil {
					t.Errorf("%s: fix: %v", d.Summary, err)
				}
			}
		}
	})
}
