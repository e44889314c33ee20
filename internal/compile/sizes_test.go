package compile_test

import (
	"fmt"
	"runtime"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"github.com/google/go-cmp/cmp"
)

// mostAllocated is twice the memory that the largest of these plans takes in all, freed or not: more
// is a blow-up. It does not depend on how busy the machine is, as a time would.
const mostAllocated = 500 << 20

// largePlan is one that no coach writes, with what comes of it: prescriptions, and findings by code.
type largePlan struct {
	name, text    string
	prescriptions int
	findings      map[string]int
}

// Plans that no coach writes still have an answer, of a bounded size and at a bounded price.
func TestLargePlans(t *testing.T) {
	for _, tt := range largePlans() {
		t.Run(tt.name, func(t *testing.T) {
			var before, after runtime.MemStats
			runtime.ReadMemStats(&before)
			res := compiled(tt.files())
			runtime.ReadMemStats(&after)
			findings := map[string]int{}
			for _, d := range res.Findings {
				findings[d.Code]++
			}
			if diff := cmp.Diff(tt.findings, findings); diff != "" || len(res.Prescriptions) != tt.prescriptions {
				t.Errorf("%d prescriptions, want %d; findings (-want +got):\n%s", len(res.Prescriptions), tt.prescriptions, diff)
			}
			if allocated := after.TotalAlloc - before.TotalAlloc; allocated > mostAllocated {
				t.Errorf("took %d MB", allocated>>20)
			}
		})
	}
}

// BenchmarkLargePlans tells how long each takes.
func BenchmarkLargePlans(b *testing.B) {
	for _, tt := range largePlans() {
		b.Run(tt.name, func(b *testing.B) {
			for b.Loop() {
				compiled(tt.files())
			}
		})
	}
}

func (p *largePlan) files() fstest.MapFS {
	return fstest.MapFS{"plan/block.hcl": &fstest.MapFile{Data: []byte(p.text)}}
}

func largePlans() []largePlan {
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
	gap := func(riders, gaps int) map[string]int {
		return map[string]int{"screening-missing": riders, "recovery-gap": gaps}
	}
	hundred := func(each func(i int) string) string {
		return head + many(100, func(i int) string { return fmt.Sprintf("athlete \"a%d\" { born = 1990 }\n", i) }) +
			"squad \"all\" {\n  athletes = [" + many(100, func(i int) string { return fmt.Sprintf("athlete.a%d, ", i) }) + "]\n" +
			strings.Replace(athlete("x"), "athlete \"x\"", "defaults", 1) + "}\n" +
			many(100, func(i int) string {
				return fmt.Sprintf("band \"b%d\" {\n  athlete = athlete.a%d\n  power = \"100-140 W\"\n}\n", i, i)
			}) + block(8, "  squads = [squad.all]\n"+many(100, func(i int) string {
			return fmt.Sprintf("  for_athlete {\n    athletes = [athlete.a%d]\n%s  }\n", i, each(i))
		}))
	}
	return []largePlan{
		{"a thousand typed bands", head + athlete("a") + block(8, "") + many(1000, func(i int) string {
			return fmt.Sprintf("band \"b%d\" {\n  from = \"%s\"\n  power = \"100-140 W\"\n}\n", i, time.Date(2027, 1, 1+i, 0, 0, 0, 0, time.UTC).Format("2006-01-02"))
		}), 1, gap(1, 1)},
		{"a thousand bands from one test", head + athlete("a") + block(8, "") + steps + many(1000, func(i int) string {
			return fmt.Sprintf("band \"b%d\" {\n  from = \"%s\"\n  tests = [test.steps]\n  heart_rate_line { up_to = \"150 W\" }\n}\n", i, time.Date(2027, 1, 1+i, 0, 0, 0, 0, time.UTC).Format("2006-01-02"))
		}), 1, gap(1, 1)},
		{"a chain of a thousand raises", head + athlete("a") + block(8, "") + oneBand + many(1000, func(i int) string {
			from := "now"
			if i > 0 {
				from = fmt.Sprintf("b%d", i-1)
			}
			return fmt.Sprintf("band \"b%d\" {\n  from = \"%s\"\n  raises = band.%s\n  by = \"0.1 %%\"\n}\n", i, time.Date(2027, 1, 1+i, 0, 0, 0, 0, time.UTC).Format("2006-01-02"), from)
		}), 1, gap(1, 1)},
		{"a thousand bands on one day", head + athlete("a") + block(8, "") + many(1000, func(i int) string {
			return fmt.Sprintf("band \"b%d\" { power = \"100-140 W\" }\n", i)
		}), 0, map[string]int{"bands-overlap": 1}},
		{"ten thousand waivers of one rule", head + athlete("a") + oneBand + block(8, many(10000, func(i int) string {
			return fmt.Sprintf("  waive \"long-share\" {\n    weeks = %d\n    reason = \"Because %d.\"\n  }\n", i%8+1, i)
		})), 0, map[string]int{"double-name": 199, "too-large": 1}},
		{"a year of weeks", head + athlete("a") + oneBand + block(52, ""), 1, gap(1, 1)},
		{"ten years of weeks", head + athlete("a") + oneBand + many(10, func(i int) string {
			start := time.Date(2027, 3, 1+364*i, 0, 0, 0, 0, time.UTC).Format("2006-01-02")
			return strings.NewReplacer(`"b"`, fmt.Sprintf(`"b%d"`, i), "2027-03-01", start).Replace(block(52, ""))
		}), 10, gap(1, 10)},
		{"a block of 520 weeks", head + athlete("a") + oneBand + block(520, ""), 0, map[string]int{"out-of-range": 1}},
		{"fifty athletes", head + many(50, func(i int) string { return athlete(fmt.Sprintf("a%d", i)) }) +
			many(50, func(i int) string {
				return fmt.Sprintf("band \"b%d\" {\n  athlete = athlete.a%d\n  power = \"100-140 W\"\n}\n", i, i)
			}) + block(8, "  athletes = ["+many(50, func(i int) string { return fmt.Sprintf("athlete.a%d, ", i) })+"]\n"), 50, gap(50, 1)},
		{"a squad of a hundred, each with a week of their own", hundred(func(i int) string {
			return fmt.Sprintf("    week \"%d\" { note = \"Yours.\" }\n", i%8+1)
		}), 100, gap(100, 1)},
		{"a squad of a hundred, each with waivers of their own", hundred(func(i int) string {
			return fmt.Sprintf("    waive \"recovery-gap\" { reason = \"Because %d.\" }\n    waive \"long-share\" { reason = \"Because %d.\" }\n", i, i)
		}), 100, map[string]int{"screening-missing": 100, "recovery-gap": 1, "unused-waiver": 100}},
		{"three hundred blocks on the same days", head + athlete("a") + oneBand + many(300, func(i int) string {
			return strings.Replace(block(2, ""), `"b"`, fmt.Sprintf(`"b%d"`, i), 1)
		}), 0, map[string]int{"blocks-overlap": 299}},
	}
}
