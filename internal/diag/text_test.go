package diag

import (
	"bytes"
	"encoding/json"
	"fmt"
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"

	"github.com/google/go-cmp/cmp"
	"github.com/hashicorp/hcl/v2"
	"github.com/hashicorp/hcl/v2/hclsyntax"
	"pgregory.net/rapid"
)

// span gives the range of the first occurrence of part in src.
func span(t *testing.T, name, src, part string) Range {
	t.Helper()
	i := strings.Index(src, part)
	if i < 0 {
		t.Fatalf("%q is not in the text", part)
	}
	return between(name, i, i+len(part))
}

func between(name string, from, to int) Range {
	return Range{Filename: name, Start: hcl.Pos{Line: 1, Column: 1, Byte: from}, End: hcl.Pos{Line: 1, Column: 1, Byte: to}}
}

func text(t *testing.T, list List, files map[string][]byte, o TextOptions) string {
	t.Helper()
	var b bytes.Buffer
	if err := WriteText(&b, list, files, o); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func TestWriteTextWhole(t *testing.T) {
	src := "block \"autumn\" {\n  volume {\n    first  = \"5 h\"\n    growth = \"14 %\" # bold\n  }\n  limits {\n    weekly_growth = \"10 %\"\n  }\n}\n"
	const name = "plans/autumn/block.hcl"
	files := map[string][]byte{name: []byte(src)}
	list := List{
		{
			Code: "weekly-growth", Severity: Warning, Summary: "Week 3 grows by 14 % over week 2",
			Detail:    "5 h 40 min → 6 h 25 min; this block allows 10 %. At most 6 h 10 min keeps the limit, and the weeks after it follow from there.",
			Subject:   span(t, name, src, `"14 %"`),
			Related:   []Related{{"the limit", span(t, name, src, `weekly_growth`)}},
			Fix:       &Fix{Title: "grow by 10 %", Edits: []Edit{{span(t, name, src, `"14 %"`), `"10 %"`}}},
			SourceKey: "somebody1999",
		},
		{
			Code: "long-share", Severity: Advice, Summary: "The long ride is 60 % of week 1",
			Subject: span(t, name, src, "volume"),
			Waived:  &Waiver{Reason: "One free day a week."},
		},
		{Code: "no-plan", Severity: Error, Summary: "There is no plan in this folder"},
	}
	got := text(t, list, files, TextOptions{Source: func(key string) string { return "Somebody 1999 (" + key + ")" }})
	want := `plans/autumn/block.hcl:4:14: warning: Week 3 grows by 14 % over week 2 [weekly-growth]
   |
 4 |     growth = "14 %" # bold
   |              ^^^^^^
   5 h 40 min → 6 h 25 min; this block allows 10 %. At most 6 h 10 min keeps the
   limit, and the weeks after it follow from there.
   plans/autumn/block.hcl:7:5: the limit
 7 |     weekly_growth = "10 %"
   write: growth = "10 %" # bold
   source: Somebody 1999 (somebody1999)

plans/autumn/block.hcl:2:3: advice, waived: The long ride is 60 % of week 1 [long-share]
   reason: One free day a week.

error: There is no plan in this folder [no-plan]

1 error, 1 warning, 1 waived
`
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("(-want +got)\n%s", diff)
	}
	colored := text(t, list, files, TextOptions{Color: true})
	if !strings.Contains(colored, "\x1b[1;31merror\x1b[0m") || strings.Contains(got, "\x1b") {
		t.Errorf("colour appears when asked for, and only then:\n%q\n%q", colored, got)
	}
}

func TestMarker(t *testing.T) {
	tests := []struct {
		name, src string
		from, to  int // bytes
		want      string
	}{
		{"plain", "a = \"1 X\"\n", 4, 9, " 1 | a = \"1 X\"\n   |     ^^^^^\n"},
		{"tabs", "\ta\t= 1\n", 3, 4, " 1 |     a   = 1\n   |         ^\n"},
		{"carriage returns", "x = 1\r\ny = 2\r\n", 11, 12, " 2 | y = 2\n   |     ^\n"},
		{"byte order mark", "\uFEFFx = 1\n", 3, 4, " 1 | x = 1\n   | ^\n"},
		{"before the byte order mark", "\uFEFFx = 1\n", 0, 0, " 1 | x = 1\n   | ^\n"},
		{"wide letters", "t = \"山道\" + x\n", 4, 12, " 1 | t = \"山道\" + x\n   |     ^^^^^^\n"},
		{"after wide letters", "t = \"山道\" + x\n", 15, 16, " 1 | t = \"山道\" + x\n   |              ^\n"},
		{"combining mark", "n = \"e\u0301te\u0301\" ! x\n", 15, 16, " 1 | n = \"e\u0301te\u0301\" ! x\n   |            ^\n"},
		{"emoji of several parts", "n = \"👩‍🚴\" ! x\n", 19, 20, " 1 | n = \"👩‍🚴\" ! x\n   |           ^\n"},
		{"end of line", "x =\ny = 2\n", 3, 3, " 1 | x =\n   |    ^\n"},
		{"line end itself", "x =\ny = 2\n", 3, 4, " 1 | x =\n   |    ^\n"},
		{"end of file", "x = {\n", 6, 6, " 2 |\n   | ^\n"},
		{"end of file without line end", "x = {", 5, 5, " 1 | x = {\n   |      ^\n"},
		{"past the end", "x = 1", 99, 120, " 1 | x = 1\n   |      ^\n"},
		{"empty file", "", 0, 0, " 1 |\n   | ^\n"},
		{"nothing", "x = 1\n", 2, 2, " 1 | x = 1\n   |   ^\n"},
		{"several lines", "x {\n  y = 1\n}\n", 0, 11, " 1 | x {\n   | ^^^\n"},
		{"end before start", "x = 1\n", 4, 1, " 1 | x = 1\n   |     ^\n"},
		{"broken bytes", "x = \"\xff\xfe\" ! y\n", 9, 10, " 1 | x = \"\uFFFD\uFFFD\" ! y\n   |          ^\n"},
		{"terminal escapes", "x = \"\x1b[2J\" ! y\n", 11, 12, " 1 | x = \"␛[2J\" ! y\n   |            ^\n"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got := text(t, List{{Summary: "s", Subject: between("f", tt.from, tt.to)}}, map[string][]byte{"f": []byte(tt.src)}, TextOptions{})
			_, got, _ = strings.Cut(got, "   |\n")
			got, _, _ = strings.Cut(got, "\n\n")
			if diff := cmp.Diff(tt.want, got+"\n"); diff != "" {
				t.Errorf("(-want +got)\n%s", diff)
			}
		})
	}
}

// A line longer than the terminal is shown around what the diagnostic speaks of.
func TestLongLine(t *testing.T) {
	src := "x = [" + strings.Repeat("11, ", 500) + "BAD, " + strings.Repeat("22, ", 500) + "]\n"
	files := map[string][]byte{"f": []byte(src)}
	for _, part := range []string{"x", "BAD", "]"} {
		for width := 30; width < 100; width += 7 {
			lines := strings.Split(text(t, List{{Summary: "s", Subject: span(t, "f", src, part)}}, files, TextOptions{Width: width}), "\n")
			source, marker := []rune(lines[2]), []rune(lines[3])
			if len(source) > width || len(marker) > width {
				t.Fatalf("width %d: lines of %d and %d columns", width, len(source), len(marker))
			}
			at := strings.IndexByte(string(marker), '^')
			if got := string(source[at : at+len(part)]); got != part {
				t.Errorf("width %d: the marker is under %q, not %q\n%s\n%s", width, got, part, string(source), string(marker))
			}
		}
	}
}

func TestLimit(t *testing.T) {
	var list List
	for i := range 70 {
		list.Add(Diagnostic{Severity: Advice, Summary: fmt.Sprintf("advice %d", i)})
	}
	list.Add(Diagnostic{Severity: Error, Summary: "the error at the end"})
	got := text(t, list, nil, TextOptions{})
	for _, want := range []string{"the error at the end", "advice 48\n", "21 more not shown", "1 error, 70 pieces of advice"} {
		if !strings.Contains(got, want) {
			t.Errorf("missing %q", want)
		}
	}
	if strings.Contains(got, "advice 49\n") {
		t.Error("more than 50 are printed")
	}
}

func TestFix(t *testing.T) {
	src := "block \"b\" {\n\tweeks = 4\n\tstart = \"soon\"\n}\n"
	other := "x = 1\n"
	files := map[string][]byte{"f": []byte(src), "g": []byte(other)}
	at := func(part string) Range { return span(t, "f", src, part) }
	tests := []struct {
		name  string
		title string
		edits []Edit
		want  string
	}{
		{"one value", "t", []Edit{{at("4"), "5"}}, "   write: weeks = 5\n"},
		{"two in one line", "t", []Edit{{at("4"), "5"}, {at("weeks"), "days"}}, "   write: days = 5\n"},
		{"another line", "t", []Edit{{at(`"soon"`), `"2026-09-14"`}}, "   write in line 3: start = \"2026-09-14\"\n"},
		{"another file", "t", []Edit{{span(t, "g", other, "1"), "2"}}, "   write in g:1:5: x = 2\n"},
		{"taken away", "t", []Edit{{at("weeks = 4"), ""}}, "   remove: weeks = 4\n"},
		{
			"added lines", "grow slowly",
			[]Edit{{between("f", 22, 22), "\n\tvolume {\n\t\tfirst = \"3 h\"\n\t}"}},
			"   grow slowly:\n   write:\n       weeks = 4\n       volume {\n           first = \"3 h\"\n       }\n",
		},
		{
			"two lines apart", "both",
			[]Edit{{at("4"), "5"}, {at(`"soon"`), `"2026-09-14"`}},
			"   both:\n   write: weeks = 5\n   write in line 3: start = \"2026-09-14\"\n",
		},
		{"no text at hand", "t", []Edit{{Range{Filename: "gone.hcl", Start: hcl.Pos{Line: 7, Column: 1}}, "x = 2\x1b[0m"}}, "   write in gone.hcl:7:1: x = 2␛[0m\n"},
		{"outside the text", "t", []Edit{{between("f", 500, 900), "x = 2"}}, "   write in line 1: x = 2\n"},
		{"overlapping", "t", []Edit{{at("weeks = 4"), "weeks = 5"}, {at("= 4"), "= 6"}}, "   t:\n   write: weeks = 5\n   write: \tweeks = 6\n"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got := text(t, List{{Summary: "s", Subject: at("weeks"), Fix: &Fix{Title: tt.title, Edits: tt.edits}}}, files, TextOptions{})
			got, _, _ = strings.Cut(got, "\n\n")
			_, got, _ = strings.Cut(got, "^^^^^\n")
			if diff := cmp.Diff(strings.ReplaceAll(tt.want, "\t", ""), got+"\n"); diff != "" {
				t.Errorf("(-want +got)\n%s", diff)
			}
		})
	}
}

// A column of values to mend fills no screen.
func TestFixOfManyLines(t *testing.T) {
	src, fix := "", &Fix{Title: "all"}
	for n := range fixLimit + 3 {
		fix.Edits = append(fix.Edits, Edit{between("f", 6*n, 6*n+1), "y"})
		src += "x = 1\n"
	}
	got := text(t, List{{Summary: "s", Subject: between("f", 0, 1), Fix: fix}}, map[string][]byte{"f": []byte(src)}, TextOptions{})
	if want := fmt.Sprintf("   write in line %d: y = 1\n   … 3 more lines\n", fixLimit); !strings.Contains(got, want) {
		t.Error(got)
	}
}

// What the fix says as a whole line is not said twice.
func TestFixSaidOnce(t *testing.T) {
	src := "weeks = 4\n"
	d := Diagnostic{Summary: "s", Detail: "Expected five. Write 5.", Subject: between("f", 8, 9), Fix: &Fix{Edits: []Edit{{between("f", 8, 9), "5"}}}}
	got := text(t, List{d}, map[string][]byte{"f": []byte(src)}, TextOptions{})
	if !strings.Contains(got, "   Expected five.\n   write: weeks = 5\n") {
		t.Error(got)
	}
}

// A fix without any place does not break the printer.
func TestFixWithoutPlace(t *testing.T) {
	got := text(t, List{{Summary: "s", Fix: &Fix{Edits: []Edit{{Text: "x = 1"}}}}}, nil, TextOptions{})
	if !strings.Contains(got, "write: x = 1\n") {
		t.Error(got)
	}
}

// Whatever a plan or a folder holds, nothing but letters reaches the terminal, no line is wider than
// it, and the places of the JSON form lie in their texts.
func TestHostileText(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		piece := rapid.SampledFrom([]string{"a", " ", "\n", "\r\n", "\r", "\t", "\x1b[31m", "\x07", "\x9b", "\u202e", "\u200b", "山", "👩‍🚴", "e\u0301", "\xff", "\u2028", "\uFEFF", "\"", "🇵🇹", "\x00"})
		words := func(label string) string {
			return strings.Join(rapid.SliceOfN(piece, 0, 40).Draw(t, label), "")
		}
		src := words("source")
		place := func(label string) Range {
			return between("f", rapid.IntRange(-3, len(src)+3).Draw(t, label), rapid.IntRange(-3, len(src)+3).Draw(t, label))
		}
		width := rapid.IntRange(1, 100).Draw(t, "width")
		list := List{{
			Code: words("code"), Summary: words("summary"), Detail: words("detail"), Subject: place("subject"),
			Related: []Related{{words("related"), place("other")}},
			Fix:     &Fix{Title: words("title"), Edits: []Edit{{place("edit"), words("edit")}, {place("edit"), words("edit")}}},
		}}
		files := map[string][]byte{"f": []byte(src)}
		var b bytes.Buffer
		if err := WriteText(&b, list, files, TextOptions{Width: width}); err != nil {
			t.Fatal(err)
		}
		checkLetters(t, b.String())
		_, inside, _ := strings.Cut(b.String(), "   |\n")
		for _, l := range strings.Split(inside, "\n")[:2] {
			if Columns(l) > max(width, narrowest) {
				t.Fatalf("%d columns on a terminal of %d: %q", Columns(l), width, l)
			}
		}
		b.Reset()
		if err := WriteOrigin(&b, Origin{What: words("what"), Range: place("origin"), From: []Origin{{What: words("from")}}}, files, TextOptions{Width: width}); err != nil {
			t.Fatal(err)
		}
		checkLetters(t, b.String())
		for _, d := range JSON(list, files) {
			for _, at := range []JSONPos{d.Range.Start, d.Range.End, d.Fix.Edits[0].Range.Start} {
				if at.Line < 1 || at.Column < 1 || at.Byte < 0 || at.Byte > len(src) {
					t.Fatalf("outside the text: %+v", at)
				}
			}
		}
		if _, err := json.Marshal(JSON(list, files)); err != nil {
			t.Fatal(err)
		}
	})
}

func checkLetters(t *rapid.T, out string) {
	for i, r := range out {
		if r != '\n' && r != '\u200D' && (r == utf8.RuneError && !strings.HasPrefix(out[i:], "\uFFFD") || unicode.IsControl(r) || unicode.Is(unicode.Cf, r)) {
			t.Fatalf("%U reaches the terminal in %q", r, out)
		}
	}
}

// Lines, columns and bytes are compared with those that the language's parser counts.
func TestJSONPositions(t *testing.T) {
	src := "\uFEFFa = \"é\" # 山\r\nbb = \"e\u0301\"\r\n\tc = true"
	f, diags := hclsyntax.ParseConfig([]byte(src), "f", hcl.InitialPos)
	if diags.HasErrors() {
		t.Fatal(diags)
	}
	files := map[string][]byte{"f": []byte(src)}
	// The parser counts what a reader sees as one letter; code points are counted here. So "é" of
	// two code points adds one.
	wants := map[string]JSONRange{
		"a":  {"f", JSONPos{1, 1, 3}, JSONPos{1, 8, 11}},
		"bb": {"f", JSONPos{2, 1, 19}, JSONPos{2, 10, 29}},
		"c":  {"f", JSONPos{3, 2, 32}, JSONPos{3, 10, 40}},
	}
	for name, attr := range f.Body.(*hclsyntax.Body).Attributes {
		if diff := cmp.Diff(wants[name], *NewJSONRange(attr.SrcRange, files)); diff != "" {
			t.Errorf("%s (-want +got)\n%s", name, diff)
		}
		if got := NewJSONRange(attr.SrcRange, files).Start.Line; got != attr.SrcRange.Start.Line {
			t.Errorf("%s: line %d, the parser says %d", name, got, attr.SrcRange.Start.Line)
		}
	}
}

func TestJSONShape(t *testing.T) {
	src := "x = 1\n"
	list := List{
		{
			Code: "c", Severity: Warning, Summary: "s", Detail: "d", Subject: between("f", 4, 5),
			Related: []Related{{"m", between("f", 0, 1)}},
			Fix:     &Fix{"t", []Edit{{between("f", 4, 5), "2"}}}, Waived: &Waiver{Reason: "r"},
		},
		{Code: "c", Severity: Error, Summary: "s"},
	}
	got, err := json.Marshal(JSONReport{JSON(list, map[string][]byte{"f": []byte(src)})})
	if err != nil {
		t.Fatal(err)
	}
	want := `{"diagnostics":[{"code":"c","severity":"warning","summary":"s","detail":"d",` +
		`"range":{"file":"f","start":{"line":1,"column":5,"byte":4},"end":{"line":1,"column":6,"byte":5}},` +
		`"related":[{"message":"m","range":{"file":"f","start":{"line":1,"column":1,"byte":0},"end":{"line":1,"column":2,"byte":1}}}],` +
		`"fix":{"title":"t","edits":[{"range":{"file":"f","start":{"line":1,"column":5,"byte":4},"end":{"line":1,"column":6,"byte":5}},"text":"2"}]},` +
		`"waived":{"reason":"r"}},` +
		`{"code":"c","severity":"error","summary":"s","detail":"","range":null,"related":[],"fix":null,"waived":null}]}`
	if string(got) != want {
		t.Errorf("got  %s\nwant %s", got, want)
	}
}

func TestWrapAndClip(t *testing.T) {
	if diff := cmp.Diff([]string{"whole", "sentences", "come", "山道山道", "山", "", "end"}, Wrap("whole sentences come 山道山道山\n\nend\n", 9)); diff != "" {
		t.Errorf("(-want +got)\n%s", diff)
	}
	if diff := cmp.Diff([]string{"at most", "3 h", "50 min,", "or 12 %"}, Wrap("at most 3 h 50 min, or 12 %", 8)); diff != "" {
		t.Errorf("numbers part from their units (-want +got)\n%s", diff)
	}
	if diff := cmp.Diff([]string{"in all", "6 h 55"}, Wrap("in all 6 h 55", 10)); diff != "" {
		t.Errorf("hours part from their minutes (-want +got)\n%s", diff)
	}
	for s, want := range map[string]string{"75 min": "75 min", "75 min steady": "75 min st…", "山道山道山道": "山道山道…"} {
		if got := Clip(s, 10); got != want {
			t.Errorf("Clip(%q, 10) = %q, want %q", s, got, want)
		}
	}
}

func TestWriteOrigin(t *testing.T) {
	src := "band \"autumn\" {\n  tests = [test.steps]\n}\n"
	o := Origin{
		What: "ceiling 134 W", Range: span(t, "tests.hcl", src, "tests"),
		From: []Origin{{What: "threshold 142 W", SourceKey: "k", From: []Origin{{What: "stage 3"}}}, {What: "its standard error 12 W"}},
	}
	var b bytes.Buffer
	if err := WriteOrigin(&b, o, map[string][]byte{"tests.hcl": []byte(src)}, TextOptions{Source: func(string) string { return "A. Author 2001" }}); err != nil {
		t.Fatal(err)
	}
	want := `ceiling 134 W
    tests.hcl:2:3
    | tests = [test.steps]
  - threshold 142 W
      source: A. Author 2001
    - stage 3
  - its standard error 12 W
`
	if diff := cmp.Diff(want, b.String()); diff != "" {
		t.Errorf("(-want +got)\n%s", diff)
	}
}
