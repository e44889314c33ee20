package compile_test

import (
	"fmt"
	"strings"
	"testing"
	"testing/fstest"
	"time"
)

// Plans that no coach writes still end soon, with an answer. The bound is what a coach would wait;
// the race detector's slower run gets more.
func TestLargePlans(t *testing.T) {
	const head = "language = 1\nid = \"l4r6e000\"\n"
	athlete := func(key string) string {
		return fmt.Sprintf("athlete %q {\n  recent = [\"4 h\", \"4 h\"]\n  days {\n    tuesday = \"75 min\"\n    thursday = \"75 min\"\n    saturday = \"3 h\"\n  }\n}\n", key)
	}
	block := func(weeks int, more string) string {
		return fmt.Sprintf("block \"b\" {\n  start = \"2027-03-01\"\n  weeks = %d\n  volume {\n    first = \"4 h\"\n  }\n  ride \"steady\" { session = session.steady }\n%s}\n", weeks, more)
	}
	many := func(n int, one func(i int) string) string {
		var b strings.Builder
		for i := range n {
			b.WriteString(one(i))
		}
		return b.String()
	}
	const oneBand = "band \"now\" { power = \"100-140 W\" }\n"
	const steps = `test "steps" {
  date = "2027-02-01"
  protocol = protocol.lactate_step
  stages = [
    { power = "70 W", heart_rate = "99 bpm", lactate = "1.2 mmol/L" }, { power = "90 W", heart_rate = "107 bpm", lactate = "1.1 mmol/L" },
    { power = "110 W", heart_rate = "116 bpm", lactate = "1.1 mmol/L" }, { power = "130 W", heart_rate = "124 bpm", lactate = "1.3 mmol/L" },
    { power = "150 W", heart_rate = "133 bpm", lactate = "1.7 mmol/L" }, { power = "170 W", heart_rate = "143 bpm", lactate = "2.6 mmol/L" },
  ]
}
`
	tests := []struct{ name, text string }{
		{"a thousand typed bands", head + athlete("a") + block(8, "") + many(1000, func(i int) string {
			return fmt.Sprintf("band \"b%d\" {\n  from = \"%s\"\n  power = \"100-140 W\"\n}\n", i, time.Date(2027, 1, 1+i, 0, 0, 0, 0, time.UTC).Format("2006-01-02"))
		})},
		{"a thousand bands from one test", head + athlete("a") + block(8, "") + steps + many(1000, func(i int) string {
			return fmt.Sprintf("band \"b%d\" {\n  from = \"%s\"\n  tests = [test.steps]\n  heart_rate_line { up_to = \"150 W\" }\n}\n", i, time.Date(2027, 1, 1+i, 0, 0, 0, 0, time.UTC).Format("2006-01-02"))
		})},
		{"a chain of a thousand raises", head + athlete("a") + block(8, "") + oneBand + many(1000, func(i int) string {
			from := "now"
			if i > 0 {
				from = fmt.Sprintf("b%d", i-1)
			}
			return fmt.Sprintf("band \"b%d\" {\n  from = \"%s\"\n  raises = band.%s\n  by = \"0.1 %%\"\n}\n", i, time.Date(2027, 1, 1+i, 0, 0, 0, 0, time.UTC).Format("2006-01-02"), from)
		})},
		{"a thousand bands on one day", head + athlete("a") + block(8, "") + many(1000, func(i int) string {
			return fmt.Sprintf("band \"b%d\" { power = \"100-140 W\" }\n", i)
		})},
		{"ten thousand waivers", head + athlete("a") + oneBand + block(8, many(10000, func(i int) string {
			return fmt.Sprintf("  waive \"long-share\" {\n    weeks = %d\n    reason = \"Because %d.\"\n  }\n", i%8+1, i)
		}))},
		{"a year of weeks", head + athlete("a") + oneBand + block(52, "")},
		{"ten years of weeks", head + athlete("a") + oneBand + many(10, func(i int) string {
			start := time.Date(2027, 3, 1+364*i, 0, 0, 0, 0, time.UTC).Format("2006-01-02")
			return strings.NewReplacer(`"b"`, fmt.Sprintf(`"b%d"`, i), "2027-03-01", start).Replace(block(52, ""))
		})},
		{"a block of 520 weeks", head + athlete("a") + oneBand + block(520, "")},
		{"fifty athletes", head + many(50, func(i int) string { return athlete(fmt.Sprintf("a%d", i)) }) +
			many(50, func(i int) string {
				return fmt.Sprintf("band \"b%d\" {\n  athlete = athlete.a%d\n  power = \"100-140 W\"\n}\n", i, i)
			}) + block(8, "  athletes = ["+many(50, func(i int) string { return fmt.Sprintf("athlete.a%d, ", i) })+"]\n")},
		{"a squad of a hundred, each with a week of their own", head + many(100, func(i int) string { return fmt.Sprintf("athlete \"a%d\" { born = 1990 }\n", i) }) +
			"squad \"all\" {\n  athletes = [" + many(100, func(i int) string { return fmt.Sprintf("athlete.a%d, ", i) }) + "]\n" +
			strings.Replace(athlete("x"), "athlete \"x\"", "defaults", 1) + "}\n" +
			many(100, func(i int) string {
				return fmt.Sprintf("band \"b%d\" {\n  athlete = athlete.a%d\n  power = \"100-140 W\"\n}\n", i, i)
			}) + block(8, "  squads = [squad.all]\n"+many(100, func(i int) string {
			return fmt.Sprintf("  for_athlete {\n    athletes = [athlete.a%d]\n    week \"%d\" { note = \"Yours.\" }\n  }\n", i, i%8+1)
		}))},
		{"three hundred blocks on the same days", head + athlete("a") + oneBand + many(300, func(i int) string {
			return strings.Replace(block(2, ""), `"b"`, fmt.Sprintf(`"b%d"`, i), 1)
		})},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			began := time.Now()
			res := compiled(fstest.MapFS{"plan/block.hcl": &fstest.MapFile{Data: []byte(tt.text)}})
			took := time.Since(began)
			t.Logf("%d KiB, %d prescriptions, %d findings, %v", len(tt.text)>>10, len(res.Prescriptions), len(res.Findings), took)
			if len(res.Prescriptions) == 0 && len(res.Findings) == 0 {
				t.Error("neither sessions nor a message")
			}
			if took > 2*time.Second*slower {
				t.Errorf("took %v", took)
			}
		})
	}
}
