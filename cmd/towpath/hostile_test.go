package main

import (
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"
)

// What a hostile plan may cost. Both are several times what the worst case takes, so that they tell a
// blow-up and not a busy machine; TestHostile -v prints what each case took.
const (
	mostMemory    = 500 // MB
	mostProcessor = 20 * time.Second
	mostOutput    = 100_000 // bytes
)

// hostile is a plan that is made to exhaust the program.
type hostile struct {
	name string
	// files by name; plan.hcl is the plan unless at says otherwise. A text "-> x" is a link to x.
	files map[string]string
	at    string
	fine  bool   // it compiles
	want  string // a code that is among the findings
	fmt   bool   // it is formatted as well
}

// TestHostile checks and formats plans that are made to exhaust the program: each ends soon, in little
// memory, and with messages that are few and ordinary.
func TestHostile(t *testing.T) {
	if testing.Short() {
		t.Skip("the program is run on some eighty large plans")
	}
	program := filepath.Join(t.TempDir(), "towpath")
	if out, err := exec.Command("go", "build", "-o", program, ".").CombinedOutput(); err != nil {
		t.Fatalf("building: %v\n%s", err, out)
	}
	for _, h := range hostilePlans() {
		t.Run(h.name, func(t *testing.T) {
			root := t.TempDir()
			put(t, filepath.Join(root, ".git", "HEAD"), "")
			for name, text := range h.files {
				full := filepath.Join(root, filepath.FromSlash(name))
				if target, ok := strings.CutPrefix(text, "-> "); ok {
					link(t, target, full)
				} else {
					put(t, full, text)
				}
			}
			checked := limited(t, root, program, "check", filepath.Join(".", filepath.FromSlash(h.at)))
			if checked.code == 0 != h.fine || h.want != "" && !strings.Contains(checked.output, "["+h.want+"]") {
				t.Errorf("exit code %d; want %q\n%.2000s", checked.code, h.want, checked.output)
			}
			if h.fmt {
				limited(t, root, program, "fmt", ".")
			}
		})
	}
}

// outcome is how a run of the program ended.
type outcome struct {
	code   int
	output string
}

// limited runs the program and holds it to the bounds.
func limited(t *testing.T, dir, program string, args ...string) outcome {
	t.Helper()
	cmd := exec.CommandContext(t.Context(), program, args...)
	cmd.Dir = dir
	cmd.Env = append(os.Environ(), "NO_COLOR=1")
	out, err := cmd.CombinedOutput()
	var exit *exec.ExitError
	if err != nil && !errors.As(err, &exit) {
		t.Fatal(err)
	}
	state := cmd.ProcessState
	code, processor, memory := state.ExitCode(), state.UserTime()+state.SystemTime(), peakMemory(state.SysUsage())
	first, _, _ := strings.Cut(string(out), "\n")
	told := fmt.Sprintf("%s: %.2f s, %d MB, exit code %d, %d bytes: %.150s", args[0], processor.Seconds(), memory, code, len(out), first)
	t.Log(told)
	switch {
	case code < 0 || code > exitFailure || strings.Contains(string(out), "goroutine "):
		t.Errorf("exit code %d\n%.2000s", code, out)
	case processor > mostProcessor || memory > mostMemory || len(out) > mostOutput:
		t.Errorf("it costs too much: %s", told)
	}
	return outcome{code, string(out)}
}

const hostileHead = "language = 1\nid = \"hostile1\"\n"

// hostilePlans are the plans of TestHostile. What they hold is found by the limits of syntax, source,
// spec and plan.
func hostilePlans() []hostile {
	var out []hostile
	one := func(name, want, text string) {
		out = append(out, hostile{name: name, want: want, fmt: true, files: map[string]string{"plan.hcl": text}})
	}
	many := func(format string, n int) string {
		var b strings.Builder
		for i := range n {
			fmt.Fprintf(&b, format+"\n", i)
		}
		return b.String()
	}
	let := func(format string, n int) string {
		var b strings.Builder
		b.WriteString(hostileHead + "let {\n  l0 = \"0123456789\"\n  x0 = 10\n  n0 = [1, 2]\n")
		for i := 1; i <= n; i++ {
			fmt.Fprintf(&b, "  "+format+"\n", i, i-1)
		}
		return b.String() + "}\n"
	}
	ten := "[0, 1, 2, 3, 4, 5, 6, 7, 8, 9]"

	// Texts that break a parser.
	for _, open := range []string{"(", "{a=", "\"${", "!", "1 +"} {
		one("nested "+open, "nesting-too-deep", "x = "+strings.Repeat(open, 50_000))
	}
	for _, open := range []string{"a {\n", "[for a in "} {
		one("nested "+strings.TrimSpace(open), "file-too-large", "x = "+strings.Repeat(open, 100_000))
	}
	one("nested past the size", "file-too-large", "x = "+strings.Repeat("[", 2_000_000))
	one("blocks in blocks", "file-too-large", hostileHead+strings.Repeat("athlete \"a\" {\n", 60_000))
	one("a long number", "number-too-long", hostileHead+"x = "+strings.Repeat("9", 900_000))
	one("a number past the size", "file-too-large", hostileHead+"x = "+strings.Repeat("9", 8_000_000))
	one("an exponent in text", "number-too-long", hostileHead+`let { x = "${1e100000000}" }`)
	one("an exponent in a list", "number-too-long", hostileHead+"let { x = {for i in [1e10000000]: i => 1} }")
	one("many equal names", "syntax", hostileHead+"athlete \"a\" {\n"+many("born = 1980 # %d", 20_000)+"}\n")
	one("marks of order", "no-block", "\ufeff"+hostileHead)
	one("zeros and no text", "not-utf-8", hostileHead+"x = \"\x00\xff\xfe\"")
	out = append(out, hostile{name: "lines of another system", fine: true, files: map[string]string{"plan.hcl": strings.ReplaceAll(goodPlan, "\n", "\r\n")}})
	one("a long heredoc", "unknown-name", hostileHead+"x = <<E\n"+strings.Repeat("${a}\n", 50_000)+"E\n")
	one("a long comment", "no-block", hostileHead+"# "+strings.Repeat("x", 900_000))

	// Computations that never end.
	one("doubled text", "too-large", let(`l%d = "${let.l%[2]d}${let.l%[2]d}"`, 30))
	one("doubled list", "too-large", let(`n%d = [let.n%[2]d, let.n%[2]d]`, 30))
	one("tenfold list", "too-large", let(`n%d = [let.n%[2]d, let.n%[2]d, let.n%[2]d, let.n%[2]d, let.n%[2]d, let.n%[2]d, let.n%[2]d, let.n%[2]d]`, 12))
	one("squared number", "out-of-range", let(`x%d = let.x%[2]d * let.x%[2]d`, 30))
	one("a long chain", "too-large", let(`l%d = let.l%d`, 5000))
	one("rounds in rounds", "too-large", hostileHead+"let {\n t = "+ten+"\n a = [for a in let.t : [for b in let.t : [for c in let.t : [for d in let.t : [for e in let.t : 1]]]]]\n}")
	one("dynamic blocks", "unknown-block", hostileHead+"dynamic \"athlete\" {\n  for_each = "+ten+"\n  content {}\n}\n")

	return slices.Concat(out, hostileFolders(), hostileWords())
}
