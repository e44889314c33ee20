package main

import (
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/txtar"
)

// jargon are words of parsers and programs, which mean nothing to a coach, and words that scold.
var jargon = regexp.MustCompile(`(?i)\b(attributes?|traversals?|cty|hcl|arguments?|identifiers?|expressions?|null|nil|strings?|booleans?|tokens?|tuples?|objects?|templates?|interpolation|operators?|operands?|parsed?|parser|unmarshal|regexp?|undefined|undeclared|schema|struct|index|element|invalid|illegal|unsupported|please|sorry|oops)\b`)

// golden is a text in which messages stand: those of one broken plan or test, mostly.
type golden struct{ name, text string }

// goldens are all texts of the repository that hold messages.
func goldens(t *testing.T) []golden {
	t.Helper()
	var out []golden
	for _, root := range []string{"../../testdata", "../../internal/rules/examples"} {
		err := filepath.WalkDir(root, func(path string, entry fs.DirEntry, err error) error {
			if err != nil || entry.IsDir() {
				return err
			}
			src, err := os.ReadFile(path)
			if err != nil {
				return err
			}
			switch filepath.Ext(path) {
			case ".out":
				out = append(out, golden{path, string(src)})
			case ".txtar":
				for _, f := range txtar.Parse(src).Files {
					if f.Name == "findings.txt" || strings.HasSuffix(f.Name, ".out") {
						out = append(out, golden{path + ": " + f.Name, string(f.Data)})
					}
				}
			}
			return nil
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	return out
}

var (
	theirs = regexp.MustCompile("\"(?:[^\"\\\\]|\\\\.)*\"|`[^`]*`") // what the coach wrote, in quotes
	paths  = regexp.MustCompile(`\S+\.(hcl|csv)\b`)
	codes  = regexp.MustCompile(`\[[a-z-]+\]`)
)

// said is what a golden says in our own words: without lines of the plan and what is quoted of it.
func said(text string) string {
	var out []string
	for line := range strings.Lines(text) {
		if before, _, cut := strings.Cut(line, "|"); cut && strings.Trim(before, " 0123456789") == "" {
			continue
		}
		for _, quoted := range []*regexp.Regexp{theirs, paths, codes} {
			line = quoted.ReplaceAllString(line, "")
		}
		out = append(out, line)
	}
	return strings.Join(out, "")
}

// TestNoJargon reads every message of every golden text. Plans that are wrong, each with what is
// said of it, are what keeps the messages good: there must be many.
func TestNoJargon(t *testing.T) {
	broken := 0
	for _, g := range goldens(t) {
		if strings.Contains(g.text, "error") || strings.Contains(g.name, "syntax/") {
			broken++
		}
		for line := range strings.Lines(said(g.text)) {
			if word := jargon.FindString(line); word != "" {
				t.Errorf("%s says %q: %s", g.name, word, line)
			}
		}
	}
	t.Logf("%d broken plans and tests have a message that is held", broken)
	if broken < 200 {
		t.Errorf("%d broken plans and tests have a message that is held, at least 200 were expected", broken)
	}
}
