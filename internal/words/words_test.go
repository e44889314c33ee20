package words_test

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"towpath/internal/units"
	"towpath/internal/words"
)

func ptr[T any](v T) *T { return &v }

func watts(low, high int) *units.Range[int] { return &units.Range[int]{Low: low, High: high} }

func TestTitle(t *testing.T) {
	t.Parallel()
	all := words.Targets{Power: watts(102, 112), HeartRateLow: ptr(118), HeartRate: ptr(131), Effort: ptr(11)}
	for _, tt := range []struct {
		minutes units.Minutes
		name    string
		targets words.Targets
		leads   string
		want    string
	}{
		{75, "Steady", all, "power", "75 min steady · 102-112 W"},
		{75, "Steady", all, "heart_rate", "75 min steady · 118-131 bpm"},
		{75, "Steady", all, "effort", "75 min steady · effort at most 11"},
		{45, "Spin", words.Targets{HeartRate: ptr(112)}, "heart_rate", "45 min spin · at most 112 bpm"},
		{270, "Long ride", words.Targets{Power: watts(100, 100)}, "power", "4 h 30 min long ride · 100 W"},
		{75, "Lactate step test", words.Targets{}, "power", "75 min lactate step test"},
		{60, "TT bike", words.Targets{}, "", "60 min TT bike"},
		{60, "Étape", words.Targets{}, "", "60 min étape"},
		{60, "", words.Targets{}, "", "60 min"},
	} {
		if got := words.Title(tt.minutes, tt.name, tt.targets, tt.leads); got != tt.want {
			t.Errorf("got %q, want %q", got, tt.want)
		}
	}
}

func TestStepLines(t *testing.T) {
	t.Parallel()
	all := words.Targets{Power: watts(102, 112), HeartRate: ptr(127), Effort: ptr(11)}
	for _, tt := range []struct {
		step words.Step
		want string
	}{
		{words.Step{Duration: 600, Rising: true, Targets: words.Targets{Power: watts(70, 98)}}, "10 min rising from 70 to 98 W"},
		{words.Step{Duration: 600, Falling: true, Targets: words.Targets{Power: watts(70, 98)}}, "10 min falling from 98 to 70 W"},
		{words.Step{Duration: 600, Rising: true, Targets: words.Targets{Power: watts(70, 70)}}, "10 min at 70 W"},
		{words.Step{Duration: 600, Rising: true, Targets: words.Targets{Effort: ptr(10)}}, "10 min rising gently, effort at most 10"},
		{words.Step{Duration: 240, Note: words.HarderStage}, "4 min, a little harder than the stage before"},
		{words.Step{Duration: 120, AtMost: true, Targets: words.Targets{Power: watts(110, 163)}}, "2 min at most 163 W"},
		{words.Step{Duration: 3300, Targets: all}, "55 min at 102-112 W, at most 127 bpm and effort 11"},
		{words.Step{Duration: 3300, Targets: all, Cadence: watts(85, 95), Note: " hands low "}, "55 min at 102-112 W, at most 127 bpm and effort 11, 85-95 rpm, hands low"},
		{words.Step{Duration: 3300, Targets: words.Targets{HeartRateLow: ptr(118), HeartRate: ptr(131)}}, "55 min, 118-131 bpm"},
		{words.Step{Duration: 3300, Targets: words.Targets{HeartRateLow: ptr(118), HeartRate: ptr(131), Effort: ptr(11)}}, "55 min, 118-131 bpm, effort at most 11"},
		{words.Step{Duration: 180, AllOut: true}, "3 min as hard as you can"},
		{words.Step{Duration: 900}, "15 min as you like"},
		{
			words.Step{Duration: 900, Times: 3, Steps: []words.Step{{Duration: 720, Targets: all}, {Duration: 180, Targets: words.Targets{Power: watts(71, 100)}}}},
			"3 times:\n- 12 min at 102-112 W, at most 127 bpm and effort 11\n- 3 min at 71-100 W",
		},
	} {
		if diff := cmp.Diff(tt.want, strings.Join(words.StepLines(tt.step), "\n")); diff != "" {
			t.Errorf("(-want +got)\n%s", diff)
		}
	}
}

func TestFoodNote(t *testing.T) {
	t.Parallel()
	drink := units.Range[int]{Low: 4, High: 12}
	for _, tt := range []struct {
		food words.Food
		want string
	}{
		{words.Food{}, "Food: not needed. Drink: to thirst."},
		{words.Food{Optional: true, Drink: drink}, "Food: as you like. Drink: to thirst, often 0.4-1.2 litres an hour, never so much that you gain weight."},
		{words.Food{Optional: true, Grams: units.Range[int]{Low: 20, High: 40}}, "Food: 20-40 g of carbohydrate an hour, from the first half hour on. Drink: to thirst."},
	} {
		if got := words.FoodNote(tt.food); got != tt.want {
			t.Errorf("got %q, want %q", got, tt.want)
		}
	}
}

// The official wording of the rating scales is licensed: the numbers have words of our own.
func TestEffortWordsAreOurOwn(t *testing.T) {
	t.Parallel()
	for n := 6; n <= 20; n++ {
		said := words.EffortMeans(n)
		if said == "" {
			t.Errorf("%d: no words", n)
		}
		for _, anchor := range []string{"light", "hard", "exertion", "maximal", "moderate", "heavy", "strong", "weak"} {
			if strings.Contains(said, anchor) {
				t.Errorf("%d: %q holds %q, a word of the official scales", n, said, anchor)
			}
		}
	}
}

// What a rider reads holds nothing of the coach's, and every caution that must stand there.
func TestDescription(t *testing.T) {
	t.Parallel()
	s := words.Session{
		Minutes: 240, Name: "Long ride", Leads: "power",
		Targets: words.Targets{Power: watts(101, 127), HeartRate: ptr(123), Effort: ptr(11)},
		Steps:   []words.Step{{Duration: 240 * 60, Targets: words.Targets{Power: watts(101, 127)}}},
		Purpose: "The length\nis the work.", Drift: []words.Drift{{After: 90, Beats: 5}, {After: 150, Beats: 10}}, Hot: 27,
		LateEffort: 13, LateMinutes: 30,
	}
	got := words.Description(s)
	for _, want := range []string{
		"Ride by watts: 101-127 W. Slow down if the heart rate passes 123 bpm or the effort passes 11.\n\n4 h at 101-127 W\n\nWhy: The length is the work.\n",
		"up to 5 beats more after 90 min, up to 10 beats more after 2 h 30 min, unless it is hotter than 27 °C",
		"In the last 30 min it may reach 13", "whole sentences come easily", "not medical advice", "licensed practice",
		"chest", "heat", "fever", "medicine", "Under 18", "pregnancy",
	} {
		if !strings.Contains(got, want) {
			t.Errorf("%q is missing in\n%s", want, got)
		}
	}
	for _, jargon := range []string{"TRIMP", "RPE", "load", "threshold", "monotony", "LT1", "position", "\n\n\n"} {
		if strings.Contains(got, jargon) {
			t.Errorf("%q stands in\n%s", jargon, got)
		}
	}
	if strings.HasPrefix(words.Description(words.Session{}), "\n") {
		t.Error("a description begins with an empty line")
	}
}

// What does not lead can only slow the rider down, whichever it is.
func TestGuards(t *testing.T) {
	t.Parallel()
	for leads, want := range map[string]string{
		"power":      "Ride by watts: 101-127 W. Slow down if the heart rate passes 123 bpm or the effort passes 11.\n",
		"heart_rate": "Ride by heart rate: at most 123 bpm. Slow down if the power passes 127 W or the effort passes 11.\n",
		"effort":     "Ride by feel: effort at most 11. Slow down if the heart rate passes 123 bpm or the power passes 127 W.\n",
	} {
		got := words.Description(words.Session{Leads: leads, Targets: words.Targets{Power: watts(101, 127), HeartRate: ptr(123), Effort: ptr(11)}})
		if !strings.HasPrefix(got, want) {
			t.Errorf("%s leads: got %q, want %q first", leads, got, want)
		}
	}
}

func TestAllowancesNeedATarget(t *testing.T) {
	t.Parallel()
	s := words.Session{Drift: []words.Drift{{After: 90, Beats: 5}}, LateEffort: 13, LateMinutes: 30}
	if s.HeartRateNote() != "" || s.EffortNote() != "" || s.TalkNote() != "" {
		t.Errorf("notes without targets: %q, %q, %q", s.HeartRateNote(), s.EffortNote(), s.TalkNote())
	}
	s.Maximal, s.Targets.Effort = true, ptr(11)
	if s.TalkNote() != "" {
		t.Errorf("a talk check in a test that goes to the limit: %q", s.TalkNote())
	}
}

// A rider without a power meter is never told watts.
func TestNoWattsWithoutAMeter(t *testing.T) {
	t.Parallel()
	for _, got := range []string{words.AtCeiling(""), words.TalkCheck(5, "125 bpm", "")} {
		if strings.Contains(got, " W ") || !strings.Contains(got, "ride easier") {
			t.Errorf("got %q", got)
		}
	}
	if got, want := words.AtCeiling("10 W"), "Whole sentences must come easily at this ceiling; if not, take 10 W off."; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
}
