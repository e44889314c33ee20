package rules

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"towpath/internal/diag"
	"towpath/internal/physiology"
	"towpath/internal/plan"
	"towpath/internal/prescription"
)

// leaping is a block whose weeks 2 and 4 grow by too much; nothing else is to be said of it.
func leaping(waivers ...*plan.Waiver) *prescription.Prescription {
	p := blockOf("- 200 - 200 - - -", "- 240 - 240 - - -", "R - 140 - 140 - - -", "- 280 - 280 - - -")
	p.Block.Limits.SessionSpike.Value.Share = 9 // not this rule's day
	p.Block.Athlete.Longest = 300
	p.Block.Athlete.Recent = append(p.Block.Athlete.Recent, 390, 390, 390, 390)
	for i, w := range waivers {
		w.Range, w.Reason = line(waiverLine+100*i), "The rider asked."
	}
	p.Block.Waivers = waivers
	return p
}

// said is what a test compares of all findings of a block.
type said struct {
	Code, Summary string
	Waived        bool
}

func TestWaivers(t *testing.T) {
	t.Parallel()
	const first, both = "Week 2 grows by 20 % over week 1", "Week 2 grows by 20 % over week 1; 1 more in week 4"
	const second = "Week 4 grows by 17 % over week 2"
	tests := []struct {
		name    string
		waivers []*plan.Waiver
		want    []said
	}{
		{"none", nil, []said{{"weekly-growth", both, false}}},
		{"all weeks", []*plan.Waiver{{Code: "weekly-growth"}}, []said{{"weekly-growth", both, true}}},
		{"one week of two", []*plan.Waiver{{Code: "weekly-growth", Weeks: []int{4}}}, []said{{"weekly-growth", first, false}, {"weekly-growth", second, true}}},
		{"another week", []*plan.Waiver{{Code: "weekly-growth", Weeks: []int{3}}}, []said{
			{"weekly-growth", both, false}, {"unused-waiver", `Waiver "weekly-growth" accepts nothing in its weeks`, false},
		}},
		{"a rule that found nothing", []*plan.Waiver{{Code: "long-share"}}, []said{
			{"weekly-growth", both, false}, {"unused-waiver", `Waiver "long-share" accepts nothing`, false},
		}},
		{"a slip in the code", []*plan.Waiver{{Code: "weekly-grwth"}}, []said{
			{"weekly-growth", both, false}, {"unused-waiver", `There is no rule "weekly-grwth" to waive`, false},
		}},
		{"the same twice", []*plan.Waiver{{Code: "weekly-growth"}, {Code: "weekly-growth"}}, []said{
			{"weekly-growth", both, true}, {"unused-waiver", `Waiver "weekly-growth" accepts nothing`, false},
		}},
		{"a waiver of the unused", []*plan.Waiver{{Code: "weekly-growth"}, {Code: "unused-waiver"}}, []said{
			{"weekly-growth", both, true}, {"unused-waiver", `Waiver "unused-waiver" accepts nothing`, false},
		}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			var got []said
			for _, d := range Check(leaping(tt.waivers...)) {
				got = append(got, said{d.Code, d.Summary, d.Waived != nil})
				if d.Waived != nil && (d.Waived.Reason != "The rider asked." || d.Waived.Range.Filename == "") {
					t.Errorf("the waiver came without its reason or its place: %+v", d.Waived)
				}
			}
			if diff := cmp.Diff(tt.want, got); diff != "" {
				t.Errorf("(-want +got):\n%s", diff)
			}
		})
	}
}

func TestErrorsCannotBeWaived(t *testing.T) {
	t.Parallel()
	p := leaping(&plan.Waiver{Code: "weekly-growth"})
	p.Block.Limits.WeeklyGrowth = own(p.Block.Limits.WeeklyGrowth.Value)
	list := Check(p)
	if len(list) != 2 || list[0].Severity != diag.Error || list[0].Waived != nil {
		t.Fatalf("got %+v, want an error that is not waived", list)
	}
	if want := `Waiver "weekly-growth" is for an error, and an error cannot be waived`; list[1].Summary != want {
		t.Errorf("got %q, want %q", list[1].Summary, want)
	}
}

func TestCheckOfNothing(t *testing.T) {
	t.Parallel()
	for _, p := range []*prescription.Prescription{nil, {}, {Block: &plan.Block{}}, {Block: &plan.Block{Athlete: &plan.Athlete{}}}} {
		if list := Check(p); list != nil {
			t.Errorf("got %+v of a block that has nothing", list)
		}
	}
	if list := Check(blockOf("- - - - - - -")); list != nil {
		t.Errorf("got %+v of a week without rides", list)
	}
}

// TestDocumentation demands that each rule says all that a coach may ask.
func TestDocumentation(t *testing.T) {
	t.Parallel()
	seen := map[string]bool{}
	for _, r := range All {
		if seen[r.Code] {
			t.Errorf("%s is there twice", r.Code)
		}
		seen[r.Code] = true
		if found, ok := Find(r.Code); !ok || found.Title != r.Title {
			t.Errorf("%s is not found by its code", r.Code)
		}
		for name, text := range map[string]string{
			"Title": r.Title, "Why": r.Why, "Mend": r.Mend, "Default": r.Default, "Evidence": r.Evidence,
			"Good": r.Good(), "Bad": r.Bad(), "Finding": r.Finding(),
		} {
			if text == "" {
				t.Errorf("%s: %s is missing", r.Code, name)
			}
			if strings.Contains(strings.ToLower(text), "injur") || strings.Contains(strings.ToLower(text), "risk") {
				t.Errorf("%s: %s speaks of a risk that nobody can tell", r.Code, name)
			}
		}
		if len(r.Sources) > 0 != (r.Population != "" || r.Code == screeningMissing.Code) {
			t.Errorf("%s: sources and the people they studied go together", r.Code)
		}
		for _, key := range r.Sources {
			if _, ok := physiology.Sources[key]; !ok {
				t.Errorf("%s: %s is not in the bibliography", r.Code, key)
			}
		}
	}
}
