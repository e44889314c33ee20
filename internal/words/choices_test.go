package words_test

import (
	"testing"

	"towpath/internal/units"
	"towpath/internal/words"
)

func TestAllowedNote(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct {
		allowed []words.Allowance
		want    string
	}{
		{nil, ""},
		{[]words.Allowance{{Name: "climbs", Duration: 180, Power: ptr(155)}}, "Allowed above the band: climbs, up to 3 min at a time, at most 155 W."},
		{
			[]words.Allowance{{Name: "short\nclimbs", Duration: 90}, {Name: "sprints", Duration: 10, AllOut: true}},
			"Allowed above the band: short climbs, up to 1 min 30 s at a time; sprints, up to 10 s at a time, as hard as you can.",
		},
	} {
		if got := words.AllowedNote(tt.allowed); got != tt.want {
			t.Errorf("got %q, want %q", got, tt.want)
		}
	}
}

func TestInsteadNote(t *testing.T) {
	t.Parallel()
	inside := words.Session{
		Place: "indoor", Minutes: 60,
		Steps: []words.Step{
			{Duration: 600, Rising: true, Targets: words.Targets{Power: watts(71, 99)}},
			{Times: 2, Duration: 1500, Steps: []words.Step{{Duration: 1200, Targets: words.Targets{Power: watts(104, 118)}, Note: "hands low."}, {Duration: 300}}},
		},
	}
	outside := words.Session{Place: "outdoor", Minutes: 90, Allowed: []words.Allowance{{Name: "climbs", Duration: 180}}}
	for _, tt := range []struct {
		there *words.Session
		want  string
	}{
		{nil, ""},
		{&inside, "Indoors instead: 60 min, ridden as 10 min rising from 71 to 99 W; 2 times (20 min at 104-118 W, hands low; 5 min as you like)."},
		{&outside, "Outdoors instead: 90 min. Allowed above the band: climbs, up to 3 min at a time."},
	} {
		if got := (words.Session{Instead: tt.there}).InsteadNote(); got != tt.want {
			t.Errorf("got %q, want %q", got, tt.want)
		}
	}
}

func TestProvisionalNote(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct {
		session words.Session
		want    string
	}{
		{words.Session{}, ""},
		{
			words.Session{Provisional: true, DecidedBy: units.NewDate(2027, 4, 11)},
			"Provisional: by 11 April 2027 it is settled whether the block goes on this long.",
		},
	} {
		if got := tt.session.ProvisionalNote(); got != tt.want {
			t.Errorf("got %q, want %q", got, tt.want)
		}
	}
}

// A step by an allowance asks for no lower end.
func TestStepByAnAllowance(t *testing.T) {
	t.Parallel()
	got := words.StepLine(words.Step{Duration: 180, AtMost: true, Targets: words.Targets{Power: watts(104, 155)}})
	if want := "3 min at most 155 W"; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
}
