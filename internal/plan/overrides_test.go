package plan

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"towpath/internal/spec"
	"towpath/internal/units"
)

// shared is a block of four weeks that two athletes ride.
func shared() *spec.Spec {
	s := small()
	s.Athletes = append(s.Athletes, &spec.Athlete{Label: spec.Label{Key: "b"}, Days: s.Athletes[0].Days})
	s.Bands = append(s.Bands, &spec.Band{Label: spec.Label{Key: "hers"}, Athlete: ref("athlete", "b"), Power: watts(90, 120)})
	s.Protocols = []*spec.Session{{Label: spec.Label{Key: "step"}, Protocol: true, Demand: set("maximal"), Minutes: set(units.Minutes(60).Duration())}}
	b := s.Blocks[0]
	b.Athletes, b.Weeks = riders("a", "b"), set(4)
	b.Note, b.Volume.Tolerance = at(1, "For all."), at(1, units.Share(0.2))
	b.Recovery = &spec.Recovery{Weeks: at(2, []int{4}), Keep: at(3, units.Share(0.5))}
	b.Limits = &spec.Limits{RestDays: at(4, 2), LongShare: at(5, units.Share(0.5))}
	b.Rides = append(b.Rides, mixed("long", 6, 0.4))
	b.TestDays = []*spec.TestDay{{Label: spec.Label{Key: "retest"}, Protocol: ref("protocol", "step"), Weeks: set([]int{4}), Day: set(time.Saturday)}}
	b.WeekNotes = []*spec.Week{{Number: set(2), Note: at(7, "Hills."), Pins: []spec.Pin{pin(time.Saturday, "long", 8), pin(time.Tuesday, "steady", 9)}}}
	return s
}

func mixed(key string, line int, share units.Share) *spec.Ride {
	return &spec.Ride{Label: spec.Label{Key: key, Range: at(line, 0).Range}, Session: ref("session", "steady"), Share: set(share)}
}

func pin(day time.Weekday, ride string, line int) spec.Pin {
	return spec.Pin{Day: day, Ride: set(ride), Range: at(line, 0).Range}
}

// only is a for_athlete of one athlete.
func only(athlete string, edit func(*spec.ForAthlete)) *spec.ForAthlete {
	f := &spec.ForAthlete{Athletes: riders(athlete), Block: &spec.Block{}}
	edit(f)
	return f
}

// What is written for some holds for them name by name; the others have the block as it is.
func TestOverrides(t *testing.T) {
	tests := []struct {
		name string
		edit func(*spec.ForAthlete)
		want string // what differs, of "name: value"
	}{
		{"nothing", func(*spec.ForAthlete) {}, ""},
		{"start", func(f *spec.ForAthlete) { f.Block.Start = set(march.Add(7)) }, "start: 2027-03-08; given: 2027-03-16 steady on line 9, 2027-03-20 long on line 8, 2027-04-03 test"},
		{"rides per week", func(f *spec.ForAthlete) { f.Block.RidesPerWeek = set(units.Range[int]{Low: 3, High: 4}) }, "rides per week: 3-4"},
		{"note", func(f *spec.ForAthlete) { f.Block.Note = set("For you.") }, "note: For you."},
		{"first", func(f *spec.ForAthlete) { f.Block.Volume = &spec.Volume{First: minutes(150)} }, "weeks: 150 170 190 95R"},
		{"growth and the most", func(f *spec.ForAthlete) {
			f.Block.Volume = &spec.Volume{Growth: minutes(60), AtMost: set(units.Minutes(300).Duration())}
		}, "weeks: 200 260 300 150R"},
		{"a tolerance", func(f *spec.ForAthlete) { f.Block.Volume = &spec.Volume{Tolerance: set(units.Share(0.1))} }, "fits: false, tolerance 10 %"},
		{"what fits, in place of a tolerance", func(f *spec.ForAthlete) { f.Block.Volume = &spec.Volume{WhenShort: set("take what fits")} }, "fits: true, tolerance 0 %"},
		{"recovery weeks", func(f *spec.ForAthlete) { f.Block.Recovery = &spec.Recovery{Every: set(3)} }, "weeks: 200 220 110R 240"},
		{"what recovery keeps", func(f *spec.ForAthlete) { f.Block.Recovery = &spec.Recovery{Keep: set(units.Share(0.75))} }, "weeks: 200 220 240 180R"},
		{"recovery without a ride", func(f *spec.ForAthlete) {
			f.Block.Recovery = &spec.Recovery{Without: []spec.Value[string]{set("long")}}
		}, "mix: steady long|steady long|steady long|steady"},
		{"recovery with rides of its own", func(f *spec.ForAthlete) { f.Block.Recovery = &spec.Recovery{Rides: []*spec.Ride{mixed("spin", 20, 1)}} }, "mix: steady long|steady long|steady long|spin"},
		{"limits", func(f *spec.ForAthlete) { f.Block.Limits = &spec.Limits{RestDays: at(24, 3)} }, "rest days: 3 on line 24, long share 0.5 on line 5"},
		{"another ride in place of one", func(f *spec.ForAthlete) { f.Block.Rides = []*spec.Ride{mixed("steady", 26, 0.6)} }, "shares: steady 0.6 long 0.4"},
		{"one more ride", func(f *spec.ForAthlete) { f.Block.Rides = []*spec.Ride{mixed("club", 26, 0.1)} }, "mix: steady long club|steady long club|steady long club|steady long club; shares: steady rest long 0.4 club 0.1"},
		{"a ride left out, and what is pinned of it", func(f *spec.ForAthlete) { f.Without = []spec.Value[string]{set("long")} }, "mix: steady|steady|steady|steady; shares: steady rest; given: 2027-03-09 steady on line 9, 2027-03-27 test"},
		{"another day for the test", func(f *spec.ForAthlete) {
			f.Block.TestDays = []*spec.TestDay{{Label: spec.Label{Key: "retest"}, Protocol: ref("protocol", "step"), Weeks: set([]int{4}), Day: set(time.Thursday)}}
		}, "given: 2027-03-09 steady on line 9, 2027-03-13 long on line 8, 2027-03-25 test"},
		{"one more test", func(f *spec.ForAthlete) {
			f.Block.TestDays = []*spec.TestDay{{Label: spec.Label{Key: "first"}, Protocol: ref("protocol", "step"), Weeks: set([]int{1}), Day: set(time.Thursday)}}
		}, "given: 2027-03-04 test, 2027-03-09 steady on line 9, 2027-03-13 long on line 8, 2027-03-27 test"},
		{"a week's hours", func(f *spec.ForAthlete) {
			f.Block.WeekNotes = []*spec.Week{{Number: set(2), Hours: set(units.Minutes(180).Duration())}}
		}, "weeks: 200 180 200 100R"},
		{"a week's note and a day of it", func(f *spec.ForAthlete) {
			f.Block.WeekNotes = []*spec.Week{{Number: set(2), Note: set("Flat."), Pins: []spec.Pin{pin(time.Saturday, "steady", 29)}}}
		}, "given: 2027-03-09 steady on line 9, 2027-03-13 steady on line 29, 2027-03-27 test; week 2: Flat."},
		{"a week of their own", func(f *spec.ForAthlete) {
			f.Block.WeekNotes = []*spec.Week{{Number: set(3), Pins: []spec.Pin{pin(time.Tuesday, "long", 29)}}}
		}, "given: 2027-03-09 steady on line 9, 2027-03-13 long on line 8, 2027-03-16 long on line 29, 2027-03-27 test"},
		{"a waiver", func(f *spec.ForAthlete) {
			f.Block.Waivers = []*spec.Waiver{{Label: spec.Label{Key: "long-share"}}}
		}, "waivers: long-share"},
		{"joining in week 3", func(f *spec.ForAthlete) { f.FromWeek = set(3) }, "start: 2027-03-15; weeks: 200 100R; mix: steady long|steady long; given: 2027-03-27 test; "},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			s := shared()
			s.Blocks[0].ForAthletes = []*spec.ForAthlete{only("b", tt.edit)}
			p, diags := resolve(s, nil, 0)
			if len(p.Blocks) != 2 || len(diags) > 0 {
				t.Fatalf("%d blocks, %v", len(p.Blocks), diags)
			}
			as := described(p.Blocks[0])
			for i, had := range described(resolved(t, shared())[0]) {
				if as[i] != had {
					t.Errorf("of the other athlete: got %q, had %q", as[i], had)
				}
			}
			var got []string
			for i, is := range described(p.Blocks[1]) {
				if is != as[i] {
					got = append(got, is)
				}
			}
			if diff := cmp.Diff(tt.want, strings.Join(got, "; ")); diff != "" {
				t.Errorf("(-want +got):\n%s", diff)
			}
		})
	}
}

func resolved(t *testing.T, s *spec.Spec) []*Block {
	t.Helper()
	p, diags := resolve(s, nil, 0)
	if diags.HasErrors() {
		t.Fatal(diags)
	}
	return p.Blocks
}

// described tells what can differ between the athletes of a block.
func described(b *Block) []string {
	var weeks, mix, shares, given, notes, waivers []string
	for _, w := range b.Weeks {
		total := fmt.Sprint(int(w.Asked))
		if w.Kind == Recovery {
			total += "R"
		}
		weeks = append(weeks, total)
		var keys []string
		for _, r := range w.Rides {
			keys = append(keys, r.Key)
		}
		mix = append(mix, strings.Join(keys, " "))
		for _, g := range w.Given {
			what := "test"
			if g.Test == nil {
				what = fmt.Sprintf("%s on line %d", g.Ride.Key, g.Range.Start.Line)
			}
			given = append(given, fmt.Sprintf("%s %s", g.Date, what))
		}
		if w.Number == 2 {
			notes = append(notes, "week 2: "+w.Note)
		}
	}
	for _, r := range b.Weeks[0].Rides {
		is := fmt.Sprint(float64(r.Share))
		if r.Rest {
			is = "rest"
		}
		shares = append(shares, r.Key+" "+is)
	}
	for _, w := range b.Waivers {
		waivers = append(waivers, w.Code)
	}
	l := b.Limits
	return []string{
		fmt.Sprintf("start: %s", b.Start),
		fmt.Sprintf("rides per week: %d-%d", b.RidesPerWeek.Low, b.RidesPerWeek.High),
		"note: " + b.Note,
		"weeks: " + strings.Join(weeks, " "),
		fmt.Sprintf("fits: %v, tolerance %s", b.TakeWhatFits, b.Tolerance),
		"mix: " + strings.Join(mix, "|"),
		"shares: " + strings.Join(shares, " "),
		fmt.Sprintf("rest days: %d on line %d, long share %v on line %d", l.RestDays.Value, l.RestDays.Range.Start.Line, float64(l.LongShare.Value), l.LongShare.Range.Start.Line),
		"given: " + strings.Join(given, ", "),
		strings.Join(notes, ""),
		"waivers: " + strings.Join(waivers, " "),
	}
}

// The athletes of one block may begin on different dates: each is held against what that athlete
// rides before.
func TestOverridesOfTheStart(t *testing.T) {
	s := shared()
	s.Blocks = append(s.Blocks, smallBlock("camp", march))
	s.Blocks[1].Athletes = riders("b")
	if _, diags := resolve(s, nil, 0); !cmp.Equal(codes(diags), []string{"blocks-overlap"}) {
		t.Errorf("both at once: %v", diags)
	}
	for name, edit := range map[string]func(*spec.ForAthlete){
		"moved":   func(f *spec.ForAthlete) { f.Block.Start = set(march.Add(14)) },
		"joining": func(f *spec.ForAthlete) { f.FromWeek = set(3) },
	} {
		s.Blocks[0].ForAthletes = []*spec.ForAthlete{only("b", edit)}
		s.Blocks[0].Volume.First = set(spec.Amount{Share: 1, IsShare: true, OfRecent: true})
		s.Athletes[0].Recent, s.Athletes[0].RecentSet = []spec.Value[units.Duration]{set(units.Minutes(100).Duration())}, true
		blocks := resolved(t, s)
		last := blocks[2]
		if last.Key != "spring" || last.FirstWeek() != map[string]int{"moved": 1, "joining": 3}[name] {
			t.Fatalf("%s: block %s from week %d", name, last.Key, last.FirstWeek())
		}
		if a := last.Athlete; a.RecentUntil != march.Add(13) || !cmp.Equal(a.Recent, []units.Minutes{200, 220}) || last.Weeks[0].Asked != 210 {
			t.Errorf("%s: recent weeks %v until %s, first week %s", name, a.Recent, a.RecentUntil, last.Weeks[0].Asked)
		}
		if w := last.Week(last.FirstWeek()); w != last.Weeks[0] || w.Start != march.Add(14) || last.Week(last.FirstWeek()-1) != nil || last.Week(5) != nil {
			t.Errorf("%s: the first week begins on %s", name, w.Start)
		}
	}
}

func TestFaultyOverrides(t *testing.T) {
	two := func(edit func(*spec.ForAthlete)) []*spec.ForAthlete {
		return []*spec.ForAthlete{only("b", edit), {Athletes: riders("a", "b"), Block: only("b", edit).Block, FromWeek: only("b", edit).FromWeek, Without: only("b", edit).Without}}
	}
	one := func(edit func(*spec.ForAthlete)) []*spec.ForAthlete { return []*spec.ForAthlete{only("b", edit)} }
	twice := []string{"said-twice"}
	tests := []struct {
		name  string
		of    []*spec.ForAthlete
		codes []string
		says  string
	}{
		{"the same start twice", two(func(f *spec.ForAthlete) { f.Block.Start = set(march) }), twice, `start is written twice for the same athlete (b)`},
		{"the same first hours twice", two(func(f *spec.ForAthlete) { f.Block.Volume = &spec.Volume{First: minutes(150)} }), twice, `volume.first is written twice for the same athlete (b)`},
		{"the same ride twice", two(func(f *spec.ForAthlete) { f.Block.Rides = []*spec.Ride{mixed("long", 9, 0.1)} }), twice, `ride "long" is written twice for the same athlete (b)`},
		{"the same test twice", two(func(f *spec.ForAthlete) {
			f.Block.TestDays = []*spec.TestDay{{Label: spec.Label{Key: "retest"}, Protocol: ref("protocol", "step"), Weeks: set([]int{4}), Day: set(time.Thursday)}}
		}), twice, `test_day "retest" is written twice for the same athlete (b)`},
		{"the same week's note twice", two(func(f *spec.ForAthlete) {
			f.Block.WeekNotes = []*spec.Week{{Number: set(3), Note: set("Easy.")}}
		}), twice, `week "3": note is written twice for the same athlete (b)`},
		{"the same day twice", two(func(f *spec.ForAthlete) {
			f.Block.WeekNotes = []*spec.Week{{Number: set(3), Pins: []spec.Pin{pin(time.Tuesday, "long", 9)}}}
		}), twice, `week "3": tuesday is written twice for the same athlete (b)`},
		{"recovery weeks by number and by their distance", []*spec.ForAthlete{
			only("b", func(f *spec.ForAthlete) { f.Block.Recovery = &spec.Recovery{Every: set(2)} }),
			only("b", func(f *spec.ForAthlete) { f.Block.Recovery = &spec.Recovery{Weeks: set([]int{3})} }),
		}, twice, `recovery.weeks is written twice for the same athlete (b)`},
		{"a ride left out and put in", one(func(f *spec.ForAthlete) {
			f.Block.Rides, f.Without = []*spec.Ride{mixed("long", 9, 0.1)}, []spec.Value[string]{set("long")}
		}), twice, `ride "long" is written twice for the same athlete (b)`},
		{"two waivers of one code", two(func(f *spec.ForAthlete) {
			f.Block.Waivers = []*spec.Waiver{{Label: spec.Label{Key: "long-share"}}}
		}), nil, ""},
		{"a ride that there is not, left out", one(func(f *spec.ForAthlete) { f.Without = []spec.Value[string]{set("lond")} }), []string{"unknown-ride"}, `The nearest is "long". There are the rides "long" and "steady".`},
		{"a ride that there is not, left out of recovery", one(func(f *spec.ForAthlete) {
			f.Block.Recovery = &spec.Recovery{Without: []spec.Value[string]{set("spin")}}
		}), []string{"unknown-ride"}, `There is no ride "spin" to leave out There are the rides "long" and "steady".`},
		{"somebody who does not ride", []*spec.ForAthlete{only("c", func(*spec.ForAthlete) {})}, []string{"not-among-them"}, `Athlete "c" is not among the athletes of block "spring"`},
		{"a ride of somebody who does not ride", one(func(f *spec.ForAthlete) {}), []string{"not-among-them"}, "Take athlete.c out"},
		{"moved and joining", one(func(f *spec.ForAthlete) { f.Block.Start, f.FromWeek = set(march.Add(7)), set(2) }), []string{"start-and-join"}, "The same athlete has another start and joins in week 2 (b)"},
		{"a fixed ride left out and put in", one(func(f *spec.ForAthlete) {
			f.Without = []spec.Value[string]{set("club")}
			f.Block.Fixed = []*spec.Fixed{{Label: spec.Label{Key: "club"}, Session: ref("session", "steady"), Days: []spec.Value[time.Weekday]{set(time.Tuesday)}, Minutes: set(units.Minutes(30).Duration())}}
		}), []string{"said-twice"}, `fixed "club" is left out and written for the same athlete (b)`},
		{"a week before they join", one(func(f *spec.ForAthlete) {
			f.FromWeek, f.Block.WeekNotes = set(3), []*spec.Week{{Number: set(2), Note: set("Easy.")}}
		}), []string{"week-before-joining"}, "Week 2 comes before week 3, in which the same athlete joins (b)"},
		{"joining behind the end", one(func(f *spec.ForAthlete) { f.FromWeek = set(5) }), []string{"no-week-to-join"}, "The block has no week 5"},
		{"less than the first week", one(func(f *spec.ForAthlete) {
			f.Block.Volume = &spec.Volume{AtMost: set(units.Minutes(150).Duration())}
		}), []string{"first-above-most"}, `at_most = "2 h 30 min" is below first = "3 h 20 min" of the same athlete (b)`},
		{"no rides left", one(func(f *spec.ForAthlete) { f.Without = []spec.Value[string]{set("long"), set("steady")} }), []string{"no-rides"}, `Block "spring" has no rides (b)`},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			s := shared()
			s.Athletes = append(s.Athletes, &spec.Athlete{Label: spec.Label{Key: "c"}})
			s.Blocks[0].ForAthletes = tt.of
			if strings.HasPrefix(tt.name, "a ride of somebody") {
				s.Blocks[0].Rides[1].Athletes = riders("a", "b", "c")
			}
			if strings.HasPrefix(tt.name, "a fixed ride") {
				s.Blocks[0].Fixed = []*spec.Fixed{{Label: spec.Label{Key: "club"}, Session: ref("session", "steady"), Date: set(march.Add(1)), Minutes: set(units.Minutes(30).Duration())}}
			}
			_, diags := resolve(s, nil, 0)
			if diff := cmp.Diff(tt.codes, codes(diags)); diff != "" {
				t.Errorf("codes (-want +got):\n%s\n%v", diff, diags)
			}
			if len(diags) > 0 && !strings.Contains(diags[0].Summary+" "+diags[0].Detail, tt.says) {
				t.Errorf("got %q %q, want %q", diags[0].Summary, diags[0].Detail, tt.says)
			}
		})
	}
}

// Nothing that is said in recovery by itself makes a week a recovery week.
func TestRecoveryWithoutWeeks(t *testing.T) {
	s := shared()
	s.Blocks[0].Recovery = nil
	s.Blocks[0].ForAthletes = []*spec.ForAthlete{only("b", func(f *spec.ForAthlete) { f.Block.Recovery = &spec.Recovery{Keep: set(units.Share(0.5))} })}
	if _, diags := resolve(s, nil, 0); !cmp.Equal(codes(diags), []string{"no-recovery-weeks"}) {
		t.Errorf("got %v", diags)
	}
}

// A block's later weeks are provisional where its length is open.
func TestProvisionalWeeks(t *testing.T) {
	s := small()
	b := resolved(t, s)[0]
	if b.Shortest != 2 || b.Decide != 0 || b.Weeks[1].Provisional {
		t.Errorf("one length: shortest %d, decided in %d, week 2 provisional: %v", b.Shortest, b.Decide, b.Weeks[1].Provisional)
	}
	s.Blocks[0].Weeks, s.Blocks[0].Shortest, s.Blocks[0].Decide = set(4), set(2), set(1)
	b = resolved(t, s)[0]
	var got []bool
	for _, w := range b.Weeks {
		got = append(got, w.Provisional)
	}
	if diff := cmp.Diff([]bool{false, false, true, true}, got); diff != "" || b.Shortest != 2 || b.Decide != 1 {
		t.Errorf("shortest %d, decided in %d, provisional (-want +got):\n%s", b.Shortest, b.Decide, diff)
	}
}
