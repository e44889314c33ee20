package plan

import (
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"towpath/internal/diag"
	"towpath/internal/physiology"
	"towpath/internal/record"
	"towpath/internal/spec"
	"towpath/internal/units"
)

// small is a whole plan: one athlete, a typed band, a block of two weeks.
func small() *spec.Spec {
	day := set(spec.Day{Limit: 120})
	return &spec.Spec{
		ID:       set("p1"),
		Athletes: []*spec.Athlete{{Label: spec.Label{Key: "a"}, Days: [7]spec.Value[spec.Day]{1: day, 3: day, 5: day}}},
		Bands:    []*spec.Band{{Label: spec.Label{Key: "now"}, Athlete: ref("athlete", "a"), Power: watts(100, 140)}},
		Sessions: []*spec.Session{{Label: spec.Label{Key: "steady"}, Steps: []spec.Step{{Fill: true, Position: set(units.Range[units.Share]{High: 1})}}}},
		Blocks:   []*spec.Block{smallBlock("spring", march)},
	}
}

func smallBlock(key string, start units.Date) *spec.Block {
	b := &spec.Block{Label: spec.Label{Key: key}, Start: set(start), Weeks: set(2), Volume: &spec.Volume{First: minutes(200), Growth: minutes(20)}}
	b.Header.Start.Byte = int(start) // places differ
	b.Rides = []*spec.Ride{{Label: spec.Label{Key: "steady"}, Session: ref("session", "steady")}}
	return b
}

// resolve is Resolve with all that was said.
func resolve(s *spec.Spec, records map[string]*record.Athlete, asOf units.Date) (*Plan, diag.List) {
	p, diags := Resolve(s, records, asOf)
	return p, append(diags, diag.Among(p.Parts, func(diag.Range) bool { return false })...).Sorted()
}

func TestResolve(t *testing.T) {
	second := func(s *spec.Spec, key string) {
		s.Athletes = append(s.Athletes, &spec.Athlete{Label: spec.Label{Key: key}, Days: s.Athletes[0].Days})
	}
	tests := []struct {
		name   string
		edit   func(*spec.Spec)
		blocks []string // key and athlete; ! where faulty
		codes  []string
	}{
		{"whole", func(*spec.Spec) {}, []string{"spring a"}, nil},
		{"no block", func(s *spec.Spec) { s.Blocks = nil }, nil, []string{"no-block"}},
		{"no block that could be read", func(s *spec.Spec) { s.Blocks, s.Broken = nil, true }, nil, nil},
		{"no band", func(s *spec.Spec) { s.Bands = nil }, nil, []string{"no-band"}},
		{"no volume", func(s *spec.Spec) { s.Blocks[0].Volume = nil }, nil, nil},
		{"no start", func(s *spec.Spec) { s.Blocks[0].Start = spec.Value[units.Date]{} }, nil, nil},
		{"nobody rides", func(s *spec.Spec) { s.Athletes = nil }, nil, []string{"block-without-athlete"}},
		{"one of two rides", func(s *spec.Spec) { second(s, "b") }, nil, []string{"block-without-athlete"}},
		{"one of two, named twice", func(s *spec.Spec) {
			second(s, "b")
			s.Blocks[0].Athletes = []spec.Value[spec.Ref]{ref("athlete", "a"), ref("athlete", "a"), ref("athlete", "lost")}
		}, []string{"spring a"}, nil},
		{"two, and one has no band", func(s *spec.Spec) {
			second(s, "b")
			s.Blocks[0].Athletes = []spec.Value[spec.Ref]{ref("athlete", "b"), ref("athlete", "a")}
		}, []string{"spring a"}, []string{"no-band"}},
		{"in order of start", func(s *spec.Spec) {
			s.Blocks = append(s.Blocks, smallBlock("winter", march.Add(-14)), smallBlock("summer", march.Add(14)))
		}, []string{"winter a", "spring a", "summer a"}, nil},
		{"two that share a day", func(s *spec.Spec) { s.Blocks = append(s.Blocks, smallBlock("summer", march.Add(13))) }, []string{"spring a!", "summer a!"}, []string{"blocks-overlap"}},
		{"a short one within a long one, and one behind both", func(s *spec.Spec) {
			s.Blocks[0].Weeks = set(6)
			s.Blocks = append(s.Blocks, smallBlock("camp", march.Add(7)), smallBlock("summer", march.Add(35)))
		}, []string{"spring a!", "camp a!", "summer a!"}, []string{"blocks-overlap", "blocks-overlap"}},
		{"an athlete's fault holds back each block", func(s *spec.Spec) {
			s.Athletes[0].TimeZone = set("Europe/Lissabon")
			s.Blocks = append(s.Blocks, smallBlock("summer", march.Add(14)))
		}, []string{"spring a!", "summer a!"}, []string{"unknown-time-zone"}},
		{"a test's fault is told once for two blocks", func(s *spec.Spec) {
			s.Tests = []*spec.Test{{Label: spec.Label{Key: "t"}, Date: set(march.Add(-9)), Protocol: ref("protocol", "lactate_step")}}
			s.Bands[0] = &spec.Band{Label: spec.Label{Key: "now"}, Athlete: ref("athlete", "a"), Tests: []spec.Value[spec.Ref]{ref("test", "t")}}
			s.Blocks = append(s.Blocks, smallBlock("summer", march.Add(14)))
		}, nil, []string{"test-without-data"}},
		{"an hour without a zone", func(s *spec.Spec) { s.Athletes[0].Days[1].V.Start = units.NewClock(18, 0) }, []string{"spring a!"}, []string{"missing-time-zone"}},
		{"an hour of one date without a zone", func(s *spec.Spec) {
			s.Athletes[0].On = []spec.DatedDay{{Date: set(march), Day: set(spec.Day{Limit: 60, Start: units.NewClock(7, 0)})}}
		}, []string{"spring a!"}, []string{"missing-time-zone"}},
		{"an hour of a pin without a zone", func(s *spec.Spec) {
			s.Blocks[0].WeekNotes = []*spec.Week{{Number: set(1), Pins: []spec.Pin{{Day: time.Tuesday, Ride: set("steady"), At: set(units.NewClock(7, 0))}}}}
		}, []string{"spring a!"}, []string{"missing-time-zone"}},
		{"no day", func(s *spec.Spec) { s.Athletes[0].Days = [7]spec.Value[spec.Day]{} }, []string{"spring a!"}, []string{"no-days"}},
		{"dated days alone", func(s *spec.Spec) {
			s.Athletes[0].Days = [7]spec.Value[spec.Day]{}
			s.Athletes[0].On = []spec.DatedDay{{Date: set(march), Day: set(spec.Day{Limit: 60})}}
		}, []string{"spring a"}, nil},
		{"a session that replaces a built-in one", func(s *spec.Spec) { s.Sessions[0].Replaces.Filename = "built-in" }, []string{"spring a"}, []string{"replaces-built-in"}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			s := small()
			tt.edit(s)
			p, diags := resolve(s, nil, 0)
			var got []string
			for _, b := range p.Blocks {
				name := b.Key + " " + b.Athlete.Key
				if b.Faulty {
					name += "!"
				}
				got = append(got, name)
				if b.PlanID != "p1" {
					t.Errorf("plan %q", b.PlanID)
				}
			}
			if diff := cmp.Diff(tt.blocks, got); diff != "" {
				t.Errorf("blocks (-want +got):\n%s", diff)
			}
			if diff := cmp.Diff(tt.codes, codes(diags)); diff != "" {
				t.Errorf("codes (-want +got):\n%s", diff)
			}
		})
	}
}

// Without another day, a record's own tells which weeks are past.
func TestResolveByTheRecordsDay(t *testing.T) {
	rec := &record.Athlete{AsOf: march.Add(7), Sessions: []record.Session{{Block: "spring", Date: march.Add(1), WeekAsked: 150}}}
	for _, tt := range []struct {
		asOf units.Date
		want units.Minutes
	}{{0, 150}, {march.Add(6), 200}, {march.Add(9), 150}} {
		p, _ := resolve(small(), map[string]*record.Athlete{"a": rec}, tt.asOf)
		if got := p.Blocks[0].Weeks[0].Asked; got != tt.want {
			t.Errorf("as of %v: got %s, want %s", tt.asOf, got, tt.want)
		}
	}
}

// The block before is what was ridden lately, unless the coach says until when the weeks go.
func TestRecentWeeksOfTheNextBlock(t *testing.T) {
	tests := []struct {
		name  string
		start units.Date // of the second block; the first ends on day 13
		until units.Date
		want  []units.Minutes
		end   units.Date
	}{
		{"the day after", march.Add(14), 0, []units.Minutes{170, 180, 200, 220}, march.Add(13)},
		{"six days later", march.Add(20), 0, []units.Minutes{170, 180, 200, 220}, march.Add(13)},
		{"a week later", march.Add(21), 0, []units.Minutes{150, 160, 170, 180}, march.Add(20)},
		{"until a day that the coach wrote", march.Add(14), march.Add(12), []units.Minutes{150, 160, 170, 180}, march.Add(12)},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			s := small()
			a := s.Athletes[0]
			for _, m := range []units.Minutes{150, 160, 170, 180} {
				a.Recent = append(a.Recent, set(m.Duration()))
			}
			a.RecentSet = true
			if tt.until != 0 {
				a.RecentUntil = set(tt.until)
			}
			s.Blocks = append([]*spec.Block{smallBlock("next", tt.start)}, s.Blocks...)
			p, diags := resolve(s, nil, 0)
			if diags != nil || len(p.Blocks) != 2 {
				t.Fatalf("%d blocks, %v", len(p.Blocks), diags)
			}
			got := p.Blocks[1].Athlete
			if diff := cmp.Diff(tt.want, got.Recent); diff != "" || got.RecentUntil != tt.end {
				t.Errorf("until %s (-want +got):\n%s", got.RecentUntil, diff)
			}
		})
	}
}

func TestDatesOfABlock(t *testing.T) {
	p, _ := resolve(small(), nil, 0)
	b := p.Blocks[0]
	if b.End() != march.Add(13) || b.WeekOn(march.Add(-1)) != nil || b.WeekOn(march.Add(14)) != nil {
		t.Errorf("ends on %s", b.End())
	}
	if w := b.WeekOn(march.Add(7)); w == nil || w.Number != 2 {
		t.Errorf("got week %v", w)
	}
	b.Bands = []*Band{{Key: "x", From: march.Add(5)}, {Key: "y", From: march.Add(9)}}
	for day, want := range map[int]string{0: "x", 8: "x", 9: "y", 100: "y"} {
		if got := b.BandOn(march.Add(day), ""); got.Key != want {
			t.Errorf("day %d: got %s, want %s", day, got.Key, want)
		}
	}
	if (&Block{}).BandOn(march, "") != nil {
		t.Error("a band out of nothing")
	}
}

func TestLimits(t *testing.T) {
	def := limits(nil)
	if def.WeeklyGrowth.Written || def.WeeklyGrowth.Value != physiology.WeeklyGrowthAdvice.Value || def.RestDays.Value != physiology.RestDays.Value {
		t.Errorf("defaults %+v", def)
	}
	if got := limits(&spec.Limits{}); !cmp.Equal(got, def) {
		t.Errorf("an empty block changes the defaults: %s", cmp.Diff(def, got))
	}
	for _, warn := range []bool{false, true} {
		written := &spec.Limits{
			WeeklyGrowth: on(units.Share(0.08), 1), StartVolume: on(units.Minutes(360).Duration(), 2),
			SessionSpike: on(spec.Amount{Duration: units.Minutes(30).Duration()}, 3), LongShare: on(units.Share(0.5), 4),
			BigWeekend: on(spec.Amount{Share: 0.2, IsShare: true}, 5), LongDaysApart: on(true, 6), RestDays: on(2, 7),
			RidingDaysInARow: on(3, 8), LoadingWeeks: on(2, 9), RecoveryDepth: on(units.Range[units.Share]{Low: 0.3, High: 0.4}, 10),
			TwoDays: on(units.Share(0.6), 11),
		}
		if warn {
			written.WhenBroken = on("warn", 12)
		}
		place := func(line int) diag.Range { return on(0, line).Range }
		want := Limits{
			WeeklyGrowth: Limit[units.Share]{0.08, true, warn, place(1)}, StartVolume: Limit[units.Minutes]{360, true, warn, place(2)},
			SessionSpike: Limit[Increase]{Increase{Minutes: 30}, true, warn, place(3)}, LongShare: Limit[units.Share]{0.5, true, warn, place(4)},
			BigWeekend: Limit[Increase]{Increase{Share: 0.2}, true, warn, place(5)}, LongDaysApart: Limit[bool]{true, true, warn, place(6)},
			RestDays: Limit[int]{2, true, warn, place(7)}, RidingDaysInARow: Limit[int]{3, true, warn, place(8)}, LoadingWeeks: Limit[int]{2, true, warn, place(9)},
			RecoveryDepth: Limit[units.Range[units.Share]]{units.Range[units.Share]{Low: 0.3, High: 0.4}, true, warn, place(10)},
			TwoDays:       Limit[units.Share]{0.6, true, warn, place(11)},
		}
		if diff := cmp.Diff(want, limits(written)); diff != "" {
			t.Errorf("(-want +got):\n%s", diff)
		}
	}
}

func TestSession(t *testing.T) {
	position := func(low, high units.Share) spec.Step {
		return spec.Step{Fill: true, Position: set(units.Range[units.Share]{Low: low, High: high})}
	}
	minutes := func(m units.Minutes) spec.Value[units.Duration] { return set(m.Duration()) }
	tests := []struct {
		name             string
		in               spec.Session
		demanding, light bool
		usual, length    units.Minutes
	}{
		{"in the middle", spec.Session{Steps: []spec.Step{position(0.33, 0.67)}}, false, false, 60, 0},
		{"in the upper third", spec.Session{Steps: []spec.Step{{Repeat: &spec.Repeat{Times: set(3), Steps: []spec.Step{position(0.67, 1)}}}}}, true, false, 60, 0},
		{"in the lower third", spec.Session{Steps: []spec.Step{position(0, 0.34)}}, false, true, 60, 0},
		{"below the floor", spec.Session{Steps: []spec.Step{{Below: true}}}, false, true, 60, 0},
		{"without a target", spec.Session{Steps: []spec.Step{{Fill: true}}}, false, false, 60, 0},
		{"by the threshold, below the floor", spec.Session{Steps: []spec.Step{{OfThreshold: set(units.Range[units.Share]{Low: 0.5, High: 0.7})}}}, false, true, 60, 0},
		{"by the threshold, above the floor", spec.Session{Steps: []spec.Step{{OfThreshold: set(units.Range[units.Share]{Low: 0.5, High: 0.9})}}}, false, false, 60, 0},
		{"long", spec.Session{Usual: minutes(180), Steps: []spec.Step{position(0, 0.3)}}, true, false, 180, 0},
		{"demanding, in the coach's word", spec.Session{Demand: set("demanding"), Steps: []spec.Step{position(0, 0.3)}}, true, false, 60, 0},
		{"usual time within its bounds", spec.Session{AtMost: minutes(50), Steps: []spec.Step{position(0.3, 0.5)}}, false, false, 50, 0},
		{"a protocol that says how long", spec.Session{Protocol: true, Minutes: minutes(75)}, false, false, 60, 75},
		{"a protocol that does not", spec.Session{Protocol: true, Steps: []spec.Step{
			{Duration: set(units.Duration(600)), Power: watts(100, 110)},
			{Repeat: &spec.Repeat{Times: set(3), Steps: []spec.Step{{Duration: set(units.Duration(250)), AllOut: set(true), Cadence: set(units.Range[units.Cadence]{Low: 80, High: 95})}}}},
		}}, false, false, 60, 23},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			s := resolverOf(nil).session(&tt.in)
			if s.Demanding != tt.demanding || s.Light != tt.light || s.Usual != tt.usual || s.Minutes != tt.length {
				t.Errorf("demanding %v, light %v, usually %s, lasts %s", s.Demanding, s.Light, s.Usual, s.Minutes)
			}
		})
	}
}

func TestAthlete(t *testing.T) {
	in := &spec.Athlete{
		Label: spec.Label{Key: "a"}, Name: set("Ana"), Longest: set(units.Minutes(150).Duration()),
		HeartRate: &spec.HeartRate{Resting: set(units.HeartRate(50)), Maximum: set(units.HeartRate(180)), From: set("estimated"), Usable: set(false)},
		Screening: &spec.Screening{On: set(march), By: set("clinic"), Allows: set("maximal")},
		On:        []spec.DatedDay{{Date: set(march), Day: set(spec.Day{Closed: true, Limit: 60})}},
		Days:      [7]spec.Value[spec.Day]{0: set(spec.Day{Limit: 60}), 6: set(spec.Day{Limit: 90})},
	}
	r := resolverOf(nil)
	a := r.athlete(in, march, march.Add(27), nil)
	if a.Name != "Ana" || a.Background != "regular" || !a.PowerMeter || a.HeartRate.Usable || a.Screening.Allows != "maximal" || a.Longest != 150 {
		t.Errorf("got %+v", a)
	}
	if a.RecentUntil != march.Add(-1) || a.DayOn(march).Limit != 0 || a.DayOn(march.Add(7)).Limit != 60 || a.DayOn(march.Add(6)).Limit != 90 {
		t.Errorf("until %s; Mondays %v and %v, Sunday %v", a.RecentUntil, a.DayOn(march), a.DayOn(march.Add(7)), a.DayOn(march.Add(6)))
	}
	if r.diags != nil {
		t.Errorf("got %v", r.diags)
	}
}

// Somebody who rides to work on five days may ride once at the weekend.
func TestUsualDays(t *testing.T) {
	week := func(days ...int) []*Week {
		w := &Week{}
		for _, d := range days {
			w.Given = append(w.Given, &Given{Date: march.Add(d), Fixed: "work"}, &Given{Date: march.Add(d), Fixed: "home"})
		}
		w.Given = append(w.Given, &Given{Date: march.Add(6)}) // pinned, not fixed
		return []*Week{{}, w}
	}
	written := Limit[int]{Value: 5, Written: true}
	for _, tt := range []struct {
		name  string
		run   Limit[int]
		rest  int
		weeks []*Week
		want  int
	}{
		{"no fixed rides", byDefault(5), 1, week(), 5},
		{"four days", byDefault(5), 1, week(0, 1, 2, 3), 5},
		{"five days", byDefault(5), 1, week(0, 1, 2, 3, 4), 6},
		{"with two rest days", byDefault(5), 2, week(0, 1, 2, 3, 4), 5},
		{"without one", byDefault(5), 0, week(0, 1, 2, 3, 4), 7},
		{"a limit of the coach's own stays", written, 1, week(0, 1, 2, 3, 4), 5},
	} {
		l := Limits{RidingDaysInARow: tt.run, RestDays: byDefault(tt.rest)}
		l.usualDays(tt.weeks)
		if l.RidingDaysInARow.Value != tt.want {
			t.Errorf("%s: got %d in a row, want %d", tt.name, l.RidingDaysInARow.Value, tt.want)
		}
	}
}
