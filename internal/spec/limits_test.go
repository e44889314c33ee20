package spec

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"towpath/internal/syntax"
)

// TestHostile decodes texts that are made to exhaust a compiler. Each ends within seconds, with
// errors that are few and short enough to print.
func TestHostile(t *testing.T) {
	let := func(format string, n int) string {
		var b strings.Builder
		b.WriteString("let {\n  l0 = \"0123456789\"\n  x0 = 10\n  n0 = [1, 2]\n")
		for i := 1; i <= n; i++ {
			fmt.Fprintf(&b, "  "+format+"\n", i, i-1)
		}
		return b.String() + "}\n"
	}
	many := func(format string, n int) string {
		var b strings.Builder
		for i := range n {
			fmt.Fprintf(&b, format+"\n", i)
		}
		return b.String()
	}
	ten := "[0, 1, 2, 3, 4, 5, 6, 7, 8, 9]"
	tests := []struct {
		name, src string
		codes     string // that must be among the codes found
	}{
		{"doubled text", let(`l%d = "${let.l%[2]d}${let.l%[2]d}"`, 30), codeTooLarge},
		{"doubled list", let(`n%d = [let.n%[2]d, let.n%[2]d]`, 30), codeTooLarge},
		{"squared number", let(`x%d = let.x%[2]d * let.x%[2]d`, 30), codeOutOfRange},
		{"long chain", let(`l%d = let.l%d`, 1900), ""},
		{"too long a chain", let(`l%d = let.l%d`, 5000), codeTooLarge},
		{"large number", `athlete "a" { born = 99999999999999999 }`, codeOutOfRange},
		{"exponent", `athlete "a" { name = "${1e99}" }`, codeOutOfRange},
		{"nested for", "let {\n t = " + ten + "\n a = [for a in let.t : [for b in let.t : [for c in let.t : [for d in let.t : [for e in let.t : 1]]]]]\n}", codeTooLarge},
		{"for that builds lists", "let {\n t = [for a in " + ten + " : [for b in " + ten + " : b]]\n u = [for a in " + ten + " : [for b in " + ten + " : [for c in " + ten + ": let.t]]]\n}", codeTooLarge},
		{"large lists compared", "let {\n t = [for a in " + ten + " : [for b in " + ten + " : [for c in " + ten + ": c]]]\n u = [" + strings.Repeat("let.t == let.t, ", 900) + "]\n v = [" + strings.Repeat("let.t == let.t, ", 900) + "]\n}", codeTooLarge},
		{"many texts", "let {\n a = \"" + strings.Repeat("x", 4000) + "\"\n t = [for a in " + ten + " : [for b in " + ten + " : [for c in " + ten + ": \"${let.a}${a}\"]]]\n}\n" + many("let { u%d = [for a in "+ten+" : [for b in "+ten+" : [for c in "+ten+": \"${let.a}${a}\"]]] }", 9), codeTooLarge},
		{"many unknown names", "athlete \"a\" {\n" + many("  nam%d = 1", 20_000) + "}\n", codeUnknownName},
		{"many labels and wrong references", many(`meter "meter_%d" { kind = "x" }`, 10_000) + many(`test "t%[1]d" { meter = meter.meterr_%[1]d }`, 10_000), codeUnknownRef},
		{"many rides", "block \"b\" {\n" + many(`  ride "r%d" { share = "rest" }`, 20_000) + "}\n", codeMissingValue},
		{"long text in a wrong place", "athlete \"a\" {\n mass = \"" + strings.Repeat("9", 4000) + "\"\n}\n" + many(`meter "m%d" { reads = "`+strings.Repeat("%%", 2000)+`" }`, 100), codeWrongUnit},
		{"many shifts", "athlete \"a\" {\n shifts = {\n" + many(`s%d = "75 min"`, 1900) + "}\n" + many("roster {\nfrom = \"2026-01-01\"\ndays = [\"r%d\", "+strings.Repeat(`"s1800", `, 300)+"]\n}", 100) + "}\n", codeUnknownRef},
		{"many days that overlap", "athlete \"a\" {\n on = {\n" + many(`"20%02d-01-01 to 2099-12-31" = "none"`, 99) + "}\n" + many("travel {\nfrom = \"2026-01-01\"\nto = \"2026-01-0%d\"\ntime_zone = \"UTC\"\n}", 9) + "}\n", codeDoubleName},
		{"many riders", "squad \"q\" {\n athletes = [" + strings.Repeat("athlete.a, ", 1900) + "]\n}\nathlete \"a\" {}\n" + many("squad \"q%d\" {\n athletes = [athlete.a]\n defaults {\n shifts = { x = \"none\" }\n}\n}", 2000), codeDoubleName},
		{"many keys", "athlete \"a\" {\n on = {\n" + many(`"%d" = "none"`, 3000) + "}\n}\n", codeTooLarge},
	}
	library := libraryFiles(t)
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			start := time.Now()
			file, syntaxDiags := syntax.Parse("case.hcl", []byte("language = 1\nid = \"hostile1\"\n"+tt.src))
			_, diags := Decode(Input{Files: append(append([]*syntax.File{}, library...), file)})
			if took := time.Since(start); took > 20*time.Second {
				t.Errorf("took %v", took)
			}
			if len(syntaxDiags) > 0 {
				t.Fatalf("the case does not reach spec: %s", syntaxDiags[0].Summary)
			}
			found := false
			for _, d := range diags {
				found = found || d.Code == tt.codes
				if len(d.Summary) > 1010 || len(d.Detail) > 1010 {
					t.Fatalf("%s: a message of %d bytes", d.Code, len(d.Summary)+len(d.Detail))
				}
			}
			if tt.codes != "" && !found {
				t.Errorf("got %d diagnostics, none of them %s", len(diags), tt.codes)
			}
			if tt.codes == "" && len(diags) > 0 {
				t.Errorf("got %s: %s", diags[0].Code, diags[0].Summary)
			}
		})
	}
}
