package compile_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"towpath/internal/compile"
	"towpath/internal/diag"
	library "towpath/plans/library"
)

// What holds for one athlete is the same whether the others are compiled as well, and each has the
// findings about that athlete alone.
func TestOfAnAthlete(t *testing.T) {
	several := 0
	for _, path := range archives(t) {
		fsys, all := planOf(t, path)
		var keys []string
		for _, a := range all.Spec.Athletes {
			keys = append(keys, a.Key)
		}
		if len(keys) < 2 {
			continue
		}
		several++
		for _, key := range keys {
			of := all.Of(key)
			alone := compile.Compile(compile.Input{FS: fsys, Dir: "plan", Library: library.FS, Athletes: []string{key}})
			if diff := cmp.Diff(summary(alone), summary(of)); diff != "" {
				t.Errorf("%s of %s (-alone +of all):\n%s", key, path, diff)
			}
			if diff := cmp.Diff(places(alone.Findings), places(of.Findings)); diff != "" {
				t.Errorf("%s of %s: findings (-alone +of all):\n%s", key, path, diff)
			}
			for _, d := range of.Findings {
				for _, other := range keys {
					if _, who, ok := strings.Cut(d.Summary, " ("); ok && other != key && slices.Contains(strings.Split(strings.TrimSuffix(who, ")"), ", "), other) {
						t.Errorf("%s of %s is told what is about another: %s", key, path, d.Summary)
					}
				}
			}
		}
	}
	if several < 3 {
		t.Errorf("only %d plans with several athletes", several)
	}
}

func places(list diag.List) (out []string) {
	for _, d := range list {
		out = append(out, fmt.Sprintf("%s %s:%d", d.Code, d.Subject.Filename, d.Subject.Start.Line))
	}
	return out
}
