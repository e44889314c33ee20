package main

import (
	"bytes"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"towpath/internal/units"
)

// The examples of a new plan that stand behind a # compile as well, once it is taken away.
func TestNewPlanCommentedExamples(t *testing.T) {
	hash := regexp.MustCompile(`(?m)^(\s*)# ?`)
	uncomment := func(text, first, last string) string {
		from := strings.Index(text, first)
		if from < 0 {
			t.Fatalf("the template has no %q", first)
		}
		to := strings.Index(text[from:], last)
		if to < 0 {
			t.Fatalf("the template has no %q after %q", last, first)
		}
		to += from + len(last)
		return text[:from] + hash.ReplaceAllString(text[from:to], "$1") + text[to:]
	}
	template, err := readTemplate(kinds[0].name)
	if err != nil {
		t.Fatal(err)
	}
	text := template.files[0].text
	text = uncomment(text, "  # on = {", "  # }\n")
	text = uncomment(text, "    # hours ", "minutes = \"105 min\" }\n")
	text = uncomment(text, "  # test_day ", "  # }\n")

	typed := strings.Index(text, "band \"now\" {")
	end := typed + strings.Index(text[typed:], "}\n") + 2
	tested := text[:typed] + text[end:]
	tested = uncomment(tested, "# test \"steps\" {", "#   ]\n# }\n")
	tested = strings.Replace(tested, "    # … one line per stage", `    { power = "120 W", heart_rate = "115 bpm", lactate = "1.2 mmol/L", rpe = 10 },
    { power = "140 W", heart_rate = "124 bpm", lactate = "1.5 mmol/L", rpe = 12 },
    { power = "160 W", heart_rate = "133 bpm", lactate = "2.3 mmol/L", rpe = 14 },
    { power = "180 W", heart_rate = "142 bpm", lactate = "3.9 mmol/L", rpe = 16 },
    # … one line per stage`, 1)
	tested = uncomment(tested, "# band \"now\" {", "# }\n")

	noMeter := strings.Replace(text, "  # power_meter = false", "  power_meter = false", 1)
	noMeter = strings.Replace(noMeter, "  power      = \"105-140 W\"\n", "", 1)

	for name, plan := range map[string]string{"typed": text, "tested": tested, "no-meter": noMeter} {
		path := filepath.Join(t.TempDir(), name+".hcl")
		if err := os.WriteFile(path, []byte(plan), 0o600); err != nil {
			t.Fatal(err)
		}
		code, stdout, stderr := try(t, "check", path)
		if code != 0 || strings.Contains(stdout, "warning") || stderr != "" {
			t.Errorf("%s: exit %d\n%s%s", name, code, stdout, stderr)
		}
	}
}

// The demo plans stay short. Comments aside, each has at most so many lines, blank ones among them.
func TestDemoPlansAreShort(t *testing.T) {
	comment := regexp.MustCompile(`(?m)^ *#.*\n`)
	most := map[string]int{"six-weeks": 80, "first-hours": 35, "comeback": 80, "roster": 60, "club": 200, "two-bikes": 80}
	for _, k := range kinds {
		template, err := readTemplate(k.name)
		if err != nil {
			t.Fatal(err)
		}
		lines := 0
		for _, f := range template.files {
			if strings.HasSuffix(f.name, ".hcl") {
				lines += strings.Count(comment.ReplaceAllString(f.text, ""), "\n")
			}
		}
		if lines == 0 || lines > most[k.name] {
			t.Errorf("%s has %d lines, at most %d", k.name, lines, most[k.name])
		}
	}
}

// Whenever a plan is begun, it compiles as it stands: no finding is worse than advice, and of that
// there are two at most. Every date moves by the same whole weeks.
func TestNewPlansOfEveryKind(t *testing.T) {
	for _, k := range kinds {
		t.Run(k.name, func(t *testing.T) {
			template, err := readTemplate(k.name)
			if err != nil || len(template.files) == 0 {
				t.Fatal(template, err)
			}
			for _, start := range []string{"2027-01-04", "2027-03-22", "2027-06-07", "2027-08-30", "2027-10-25", "2028-02-07"} {
				code, out, stderr := try(t, "new", "made", "--kind", k.name, "--start", start)
				if code != 0 || strings.Count(out, "made/") < len(template.files) {
					t.Fatalf("exit %d\n%s%s", code, out, stderr)
				}
				code, out, stderr = checkHere(t, "made")
				if code != 0 || strings.Contains(out, "warning") || strings.Count(out, ": advice: ") > 2 {
					t.Errorf("from %s: exit %d\n%s%s", start, code, out, stderr)
				}
				first, _ := units.ParseDate(start)
				for _, f := range template.files {
					text, err := os.ReadFile(filepath.Join("made", filepath.FromSlash(f.name)))
					if err != nil {
						t.Fatal(err)
					}
					was, is := writtenDate.FindAllString(f.text, -1), writtenDate.FindAllString(string(text), -1)
					for i := range was {
						before, _ := units.ParseDate(was[i])
						after, err := units.ParseDate(is[i])
						if by := first.Sub(template.start); err != nil || after.Sub(before) != by || by%7 != 0 {
							t.Errorf("%s: %s became %s", f.name, was[i], is[i])
						}
					}
					if strings.Contains(f.text, "\nid ") && strings.Contains(string(text), writtenID.FindString(f.text)) {
						t.Errorf("%s kept the name of the plan", f.name)
					}
				}
			}
		})
	}
}

// checkHere checks a plan in the folder where `try` has left the test.
func checkHere(t *testing.T, plan string) (code int, stdout, stderr string) {
	t.Helper()
	var out, errs bytes.Buffer
	code = run([]string{"check", plan}, machine{stdout: &out, stderr: &errs, getenv: func(string) string { return "" }})
	return code, out.String(), errs.String()
}
