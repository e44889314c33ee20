package main

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
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
	text := strings.ReplaceAll(newPlan, placeholderStart, "2027-03-01")
	text = uncomment(text, "  # screening {", "  # }\n")
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
	tested = strings.Replace(tested, "  date     = \"2027-03-01\"", "  date     = \"2027-02-20\"", 1)
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
