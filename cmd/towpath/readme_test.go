package main

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// piece is a marked code block of the README: a file's text, or a command's real output.
var piece = regexp.MustCompile("(?s)<!-- (file|output): ([^>]*?) -->\n```([a-z]*)\n(.*?)```\n")

// TestREADME holds the README to what the program prints today; with -update it rewrites it.
func TestREADME(t *testing.T) {
	root := filepath.Join("..", "..")
	path := filepath.Join(root, "README.md")
	was, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	program := filepath.Join(t.TempDir(), "towpath")
	if out, err := exec.Command("go", "build", "-o", program, ".").CombinedOutput(); err != nil {
		t.Fatalf("building: %v\n%s", err, out)
	}
	found := 0
	is := piece.ReplaceAllStringFunc(string(was), func(block string) string {
		found++
		m := piece.FindStringSubmatch(block)
		kind, what, language := m[1], m[2], m[3]
		text := readPiece(t, root, program, kind, what)
		return "<!-- " + kind + ": " + what + " -->\n```" + language + "\n" + strings.TrimRight(text, "\n") + "\n```\n"
	})
	before, rest, ok := strings.Cut(is, "<!-- kinds -->\n")
	_, after, ok2 := strings.Cut(rest, "<!-- /kinds -->\n")
	if !ok || !ok2 {
		t.Fatal("the README has no place for the kinds of plan")
	}
	var table strings.Builder
	table.WriteString("| kind | what |\n|---|---|\n")
	for _, k := range kinds {
		fmt.Fprintf(&table, "| [%s](plans/%s) | %s |\n", k.name, k.name, k.what)
	}
	is = before + "<!-- kinds -->\n" + table.String() + "<!-- /kinds -->\n" + after
	if found < 3 {
		t.Fatalf("found %d marked pieces in the README, want at least 3", found)
	}
	if is == string(was) {
		return
	}
	if *update {
		if err := os.WriteFile(path, []byte(is), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	t.Errorf("README.md differs from what the program prints; run go test ./cmd/towpath -run README -update and read it")
}

func readPiece(t *testing.T, root, program, kind, what string) string {
	t.Helper()
	if kind == "file" {
		text, err := os.ReadFile(filepath.Join(root, what))
		if err != nil {
			t.Fatal(err)
		}
		return string(text)
	}
	args := strings.Fields(what)
	cmd := exec.Command(program, args[1:]...)
	cmd.Dir = root
	cmd.Env = append(os.Environ(), "NO_COLOR=1", "COLUMNS=80")
	out, err := cmd.CombinedOutput()
	if err != nil {
		t.Fatalf("%s: %v\n%s", what, err, out)
	}
	return string(out)
}
