package main

import (
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/rogpeppe/go-internal/txtar"
)

// jargon are words of parsers and programs, which mean nothing to a coach, and words that scold.
var jargon = regexp.MustCompile(`(?i)\b(attributes?|traversals?|cty|hcl|arguments?|identifiers?|expressions?|null|nil|strings?|booleans?|tokens?|tuples?|objects?|templates?|interpolation|operators?|operands?|parsed?|parser|unmarshal|regexp?|undefined|undeclared|schema|struct|index|element|invalid|illegal|unsupported|labels?|bytes?|arrays?|duplicates?|variables?|loops?|redefined|unexpected|please|sorry|oops)\b`)

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

// mistakeKinds are the ways in which a plan can be wrong, each known by what is said then.
var mistakeKinds = map[string]func(text string) bool{
	"typing errors":            says(`The nearest (name )?is|Its (name|word) here is|\[label\]`),
	"wrong units":              says(`\[wrong-unit\]`),
	"missing pieces":           says(`\[(missing-\w+|no-\w+)\]`),
	"impossible dates":         says(`a day that exists|\[clock-change\]|before it begins`),
	"conflicts":                says(`cannot stand together|\[(day-too-short|week-does-not-fit|mix-over|start-and-join|said-twice|day-taken)\]|overlap`),
	"cycles":                   says(`\[(cycle|bands-in-a-loop)\]`),
	"double names":             says(`\[double-(name|block)\]`),
	"bad references":           says(`\[(unknown-reference|unknown-shift|not-among-them)\]`),
	"half-written files":       says(`\[syntax\]`),
	"wrong types inside lists": says(`Each entry of .*\[wrong-type\]`),
	"clashes between files":    clashes,
}

func says(pattern string) func(string) bool { return regexp.MustCompile(pattern).MatchString }

var place = regexp.MustCompile(`(?m)^( *)([\w./-]+\.(?:hcl|csv)):\d+:`)

// clashes tells whether an error has its other half in another file of the plan.
func clashes(text string) bool {
	subject := ""
	for _, m := range place.FindAllStringSubmatch(text, -1) {
		if m[1] == "" {
			subject = m[2]
		} else if m[2] != subject && !strings.HasPrefix(m[2], "built-in/") {
			return true
		}
	}
	return false
}

// summaries are the first lines of messages.
var summaries = regexp.MustCompile(`(?m)^\S+:\d+:[\d-]+: (?:error|warning|advice)(?:, waived)?: (.*) \[[a-z-]+\]$`)

// TestSummaries holds the first line of each message short, and without a full stop.
func TestSummaries(t *testing.T) {
	const longest = 125
	for _, g := range goldens(t) {
		for _, m := range summaries.FindAllStringSubmatch(g.text, -1) {
			if utf8.RuneCountInString(m[1]) > longest || strings.HasSuffix(m[1], ".") {
				t.Errorf("%s: %s", g.name, m[1])
			}
		}
	}
}

// TestNoJargon reads every message of every golden text.
func TestNoJargon(t *testing.T) {
	for _, g := range goldens(t) {
		for line := range strings.Lines(said(g.text)) {
			if word := jargon.FindString(line); word != "" {
				t.Errorf("%s says %q: %s", g.name, word, line)
			}
		}
	}
}

// TestBrokenPlans counts the plans and tests that are wrong, each with what is said of it: they are
// what keeps the messages good, so there must be many, of each kind.
func TestBrokenPlans(t *testing.T) {
	const least, each = 310, 5
	broken, count := 0, map[string]int{}
	for _, g := range goldens(t) {
		if !strings.Contains(g.text, "error") && !strings.Contains(g.text, "[syntax]") {
			continue
		}
		broken++
		for kind, is := range mistakeKinds {
			if is(g.text) {
				count[kind]++
			}
		}
	}
	t.Logf("%d broken plans and tests: %v", broken, count)
	if broken < least {
		t.Errorf("%d broken plans and tests have a message that is held, at least %d were expected", broken, least)
	}
	for kind := range mistakeKinds {
		if count[kind] < each {
			t.Errorf("%d of them show %s, at least %d were expected", count[kind], kind, each)
		}
	}
}
