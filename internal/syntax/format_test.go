package syntax

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/hashicorp/hcl/v2"
	"github.com/hashicorp/hcl/v2/hclsyntax"
)

// canonical stands for the units' rewriting, which this package does not know.
func canonical(s string) string {
	switch s {
	case "75min":
		return "75 min"
	case "8%": // two tokens of the lexer's
		return "8 %"
	}
	return s
}

func TestFormat(t *testing.T) {
	for _, test := range []struct{ name, text, want string }{
		{"nothing", "", ""},
		{"empty lines only", "\n\n", ""},
		{"alignment and the last line", "a=1\nbbb   =  2 # c", "a   = 1\nbbb = 2 # c\n"},
		{"empty lines", "\n\na = 1\n\n\n\nb = 2\n\n\n", "a = 1\n\nb = 2\n"},
		{
			"blocks apart", "a = 1\nb {\n\n  c = 1\n  d {\n    e = 1\n  }\n  f {\n    g = 1\n  }\n  h = 1\n\n}\nc {\n}\n",
			"a = 1\n\nb {\n  c = 1\n\n  d {\n    e = 1\n  }\n  f {\n    g = 1\n  }\n  h = 1\n}\n\nc {\n}\n",
		},
		{"comments go with what follows", "a = 1\n# about b\n# and more\nb {\n}\n", "a = 1\n\n# about b\n# and more\nb {\n}\n"},
		{"comment after a brace", "a { # why\n\n  b = 1\n}\n", "a { # why\n  b = 1\n}\n"},
		{"lists", "a = [ 1,\n2,\n  {b=1,\nc=2}]\nd = f(1,\n2)\n", "a = [1,\n  2,\n  { b = 1,\n    c = 2 }]\nd = f(1,\n  2)\n"},
		{"rows", "stages = [\n{power=\"70 W\"},\n    {power=\"90 W\"}, # last\n]\n", "stages = [\n  { power = \"70 W\" },\n  { power = \"90 W\" }, # last\n]\n"},
		{"two brackets at once", "a = [{\nb = 1\n}]\n", "a = [{\n  b = 1\n}]\n"},
		{"texts of several lines stay", "a {\n  b = <<EOT\n   x  \n\n\ny\nEOT\n}\n", "a {\n  b = <<EOT\n   x  \n\n\ny\nEOT\n}\n"},
		{"long comments stay", "a {\n/* x\n      y  \n\n\n z */\nb = 1\n}\n", "a {\n  /* x\n      y  \n\n\n z */\n  b = 1\n}\n"},
		{"tabs and spaces at the end", "a {\n\tb = 1\t \n\t# c  \n}\n", "a {\n  b = 1\n  # c\n}\n"},
		{
			"canonical values", "a \"75min\" {\n  b = \"75min\"\n  c = [\"75min\", \"x\"]\n  d = { \"75min\" = \"75min\" }\n  e = \"${\"75min\"}\"\n}\n",
			"a \"75min\" {\n  b = \"75 min\"\n  c = [\"75 min\", \"x\"]\n  d = { \"75min\" = \"75 min\" }\n  e = \"${\"75 min\"}\"\n}\n",
		},
		{"canonical shares", "a = \"8%\"\nb = \"8%%\"\nc = \"8${x}%\"\n", "a = \"8 %\"\nb = \"8%%\"\nc = \"8${x}%\"\n"},
		{"a mark at the start", "\xef\xbb\xbfa=1\n", "a = 1\n"},
		{"other line ends", "a=1\r\n\r\n\r\nb {\r\n}\r\n", "a = 1\r\n\r\nb {\r\n}\r\n"},
	} {
		t.Run(test.name, func(t *testing.T) {
			got, diags := Format("t.hcl", []byte(test.text), canonical)
			if diags != nil {
				t.Fatal(told(diags))
			}
			if diff := cmp.Diff(test.want, string(got)); diff != "" {
				t.Errorf("want -, got +:\n%s", diff)
			}
			keeps(t, []byte(test.text), got)
		})
	}
}

func TestFormatRefusesMistakes(t *testing.T) {
	for _, text := range []string{"a = 1\nb = 5 h\n", strings.Repeat(" a {\n", 20_000)} { // the second would grow to 800 MB
		if got, diags := Format("t.hcl", []byte(text), nil); got != nil || !diags.HasErrors() {
			t.Errorf("got %d bytes, %v", len(got), diags)
		}
	}
}

// TestFormatLibrary holds the built-in files to the canonical form.
func TestFormatLibrary(t *testing.T) {
	for name, text := range plans(t) {
		got, diags := Format(name, text, nil)
		if diags != nil {
			t.Fatal(told(diags))
		}
		if diff := cmp.Diff(string(text), string(got)); diff != "" {
			t.Errorf("%s: want -, got +:\n%s", name, diff)
		}
		keeps(t, text, got)
	}
}

// plans reads all plans of the project: seeds and samples.
func plans(t testing.TB) map[string][]byte {
	t.Helper()
	files, err := filepath.Glob("../../plans/*/*.hcl")
	if err != nil || len(files) == 0 {
		t.Fatalf("no plans found: %v", err)
	}
	texts := map[string][]byte{}
	for _, f := range files {
		if texts[f], err = os.ReadFile(f); err != nil {
			t.Fatal(err)
		}
	}
	return texts
}

// keeps fails where formatting lost or changed a word or a comment, or does not come to rest.
func keeps(t testing.TB, before, after []byte) {
	t.Helper()
	if diff := cmp.Diff(words(before), words(after)); diff != "" {
		t.Errorf("words changed, before -, after +:\n%s", diff)
	}
	again, diags := Format("t.hcl", after, canonical)
	if diags != nil || !bytes.Equal(again, after) {
		t.Errorf("formatting again changes more: %s\n%s", told(diags), cmp.Diff(string(after), string(again)))
	}
}

// words are the tokens of a text, with canonical values, without the number of empty lines.
func words(text []byte) []string {
	text = bytes.ReplaceAll(text, []byte("\r"), nil)
	tokens, _ := hclsyntax.LexConfig(text, "t.hcl", hcl.InitialPos)
	var out []string
	for i := 0; i < len(tokens); i++ {
		t := tokens[i]
		s := string(t.Bytes)
		switch t.Type {
		case hclsyntax.TokenEOF:
			continue
		case hclsyntax.TokenComment:
			s = strings.TrimRight(s, " \t\n")
			if strings.HasSuffix(string(t.Bytes), "\n") {
				out = append(out, s)
				s = "\n"
			}
		case hclsyntax.TokenQuotedLit:
			for ; tokens[i+1].Type == hclsyntax.TokenQuotedLit; i++ {
				s += string(tokens[i+1].Bytes)
			}
			s = canonical(s)
		}
		if s == "\n" && (len(out) == 0 || out[len(out)-1] == "\n") {
			continue
		}
		out = append(out, s)
	}
	if len(out) > 0 && out[len(out)-1] != "\n" {
		out = append(out, "\n")
	}
	return out
}

func FuzzFormat(f *testing.F) {
	for _, text := range plans(f) {
		f.Add(text)
	}
	for _, text := range nasty {
		f.Add([]byte(text))
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		got, diags := Format("t.hcl", text, canonical)
		if diags.HasErrors() {
			return
		}
		keeps(t, text, got)
	})
}
