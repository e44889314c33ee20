package main

import (
	"io/fs"
	"regexp"
	"strings"
	"testing"

	"towpath/plans/library"
)

// What the built-in sessions say reaches riders without a power meter or a heart rate that counts, and riders are told
// neither thresholds by number nor loads. "When to stop" is written before the stop text.
func TestLibraryTextsFitEveryRider(t *testing.T) {
	t.Parallel()
	text := regexp.MustCompile(`(?m)^  (purpose|feel|if_wrong|stop) *= "(.*)"$`)
	files, err := fs.Glob(library.FS, "*.hcl")
	if err != nil || len(files) < 2 {
		t.Fatalf("files %v, %v", files, err)
	}
	found := 0
	for _, name := range files {
		src, err := fs.ReadFile(library.FS, name)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range text.FindAllStringSubmatch(string(src), -1) {
			found++
			said := m[2]
			if regexp.MustCompile(`(?i)\bwatts?\b|\d W\b|LT1|LT2|TRIMP|RPE`).MatchString(said) {
				t.Errorf("%s: %s = %q", name, m[1], said)
			}
			if name == "sessions.hcl" && strings.Contains(strings.ToLower(said), "heart rate") {
				t.Errorf("%s: %s = %q, also to whom heart rate means nothing", name, m[1], said)
			}
			if m[1] == "stop" && strings.HasPrefix(said, "Stop") || m[1] == "if_wrong" && strings.HasPrefix(said, "If ") {
				t.Errorf("%s: %s repeats its label: %q", name, m[1], said)
			}
		}
	}
	if found < 40 {
		t.Errorf("%d texts found", found)
	}
}
