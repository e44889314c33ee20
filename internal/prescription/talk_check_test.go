package prescription_test

import (
	"strings"
	"testing"

	"towpath/internal/plan"
	"towpath/internal/prescription"
	"towpath/internal/schedule"
)

// A band of strict caution is tried by talk once: on the first ride in the band that the scheduler chose.
func TestTalkCheck(t *testing.T) {
	t.Parallel()
	given := func(s schedule.Session, note string) schedule.Session {
		s.Given = &plan.Given{Session: s.Session, Minutes: s.Minutes, Note: note}
		return s
	}
	noMeter := rider()
	noMeter.PowerMeter = false
	byHeart := usualBand()
	byHeart.Leads = "heart_rate"
	for _, tt := range []struct {
		name     string
		caution  string
		athlete  *plan.Athlete
		band     *plan.Band
		sessions []schedule.Session
		at       int // the session that has the check, -1: none
		want     string
	}{
		{"usual caution", "usual", rider(), usualBand(), []schedule.Session{ride(60, steady()), ride(75, steady())}, -1, ""},
		{"first ride", "strict", rider(), usualBand(), []schedule.Session{ride(60, steady()), ride(75, steady())}, 0, "5 min at the top of your band, 133 W, "},
		{"not the test", "strict", rider(), usualBand(), []schedule.Session{testDay(60, standardRide(), nil), ride(75, steady())}, 1, "take 10 W off"},
		{"not the given one", "strict", rider(), usualBand(), []schedule.Session{given(ride(60, steady()), ""), ride(75, steady())}, 1, "133 W"},
		{"only given ones", "strict", rider(), usualBand(), []schedule.Session{given(ride(60, steady()), "Bring a light.")}, 0, "Bring a light. Talk check"},
		{"not the spin below the floor", "strict", rider(), usualBand(), []schedule.Session{ride(45, recoverySpin()), ride(60, steady())}, 1, "133 W"},
		{"a given ride in the band before a spin", "strict", rider(), usualBand(), []schedule.Session{ride(45, recoverySpin()), given(ride(60, steady()), "")}, 1, "133 W"},
		{"only a spin", "strict", rider(), usualBand(), []schedule.Session{ride(45, recoverySpin())}, 0, "133 W"},
		{"not the spin by heart rate", "strict", noMeter, byHeart, []schedule.Session{ride(45, recoverySpin()), ride(60, steady())}, 1, "120 bpm"},
		{"heart rate leads", "strict", noMeter, byHeart, []schedule.Session{ride(60, steady())}, 0, "top of your band, 120 bpm, and say whole sentences aloud. They must come easily; if not, ride easier"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			band := *tt.band
			band.Caution = tt.caution
			p, diags := prescription.Prescribe(blockOf(tt.athlete, []*plan.Band{&band}, tt.sessions...), 0)
			if len(diags) > 0 {
				t.Fatalf("diagnostics: %v", diags)
			}
			for i := range p.Sessions {
				note := p.Sessions[i].Note
				if has := strings.Contains(note, "Talk check"); has != (i == tt.at) {
					t.Errorf("session %d: note %q", i, note)
				}
				if i == tt.at && !strings.Contains(note, tt.want) {
					t.Errorf("session %d: note %q lacks %q", i, note, tt.want)
				}
			}
		})
	}
}
