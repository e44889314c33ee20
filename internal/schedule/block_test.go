package schedule

import (
	"cmp"
	"fmt"
	"strings"
	"testing"
	"time"

	gocmp "github.com/google/go-cmp/cmp"

	"towpath/internal/plan"
	"towpath/internal/record"
	"towpath/internal/units"
)

// monday is the first day of the blocks in these tests.
var monday = units.NewDate(2027, time.March, 1)

// build is a block to be placed, in few words.
type build struct {
	days      [7]int
	away      []units.Date
	totals    []int
	recovery  []int // week numbers
	rides     []*plan.Ride
	given     map[int][]*plan.Given // by week number
	longApart bool
	inARow    int // riding days in a row, 0 for the usual 5
	start     units.Date
}

func (b build) block() *plan.Block {
	start := b.start
	if start == 0 {
		start = monday
	}
	a := &plan.Athlete{Key: "a", Exceptions: map[units.Date]plan.Day{}}
	for i, m := range b.days {
		a.Days[i].Limit = units.Minutes(m)
	}
	for _, d := range b.away {
		a.Exceptions[d] = plan.Day{}
	}
	out := &plan.Block{Key: "block", Athlete: a, Start: start}
	out.Limits.RestDays.Value, out.Limits.RidingDaysInARow.Value = 1, cmp.Or(b.inARow, 5)
	out.Limits.LongDaysApart.Value = b.longApart
	for i, t := range b.totals {
		w := &plan.Week{Number: i + 1, Start: start.Add(7 * i), Kind: plan.Loading, Asked: units.Minutes(t), Rides: b.rides, Given: b.given[i+1]}
		for _, n := range b.recovery {
			if n == w.Number {
				w.Kind, w.Light = plan.Recovery, true
			}
		}
		for _, g := range w.Given {
			w.Light = w.Light || g.Session.Maximal
		}
		out.Weeks = append(out.Weeks, w)
	}
	return out
}

func rideOf(key string, atLeast, usual int) *plan.Ride {
	return &plan.Ride{
		Key: key, PerWeek: units.Range[int]{Low: 0, High: 7}, AtLeast: units.Minutes(atLeast), AtMost: 720, Usual: units.Minutes(usual),
		Session: &plan.Session{Key: key, Title: key, Usual: units.Minutes(usual)},
	}
}

// twelve is a block of eight weeks with two tests, two days away and the rule that days of two
// hours are no neighbours.
func twelve(growth int) build {
	long := rideOf("long", 75, 180)
	long.Share, long.PerWeek, long.Days = 0.4, units.One(1), []time.Weekday{time.Saturday, time.Sunday}
	long.Session.Demanding = true
	steady := rideOf("steady", 30, 60)
	steady.Rest = true
	upper := rideOf("upper", 45, 60)
	upper.Share, upper.PerWeek = 0.2, units.One(1)
	upper.Session.Demanding = true
	floor5 := func(m int) int { return m / 5 * 5 }
	var totals []int
	for base := 300; len(totals) < 8; {
		if n := len(totals); n == 3 || n == 7 {
			totals = append(totals, floor5(base*60/100))
			continue
		} else if n > 0 {
			base = floor5(base * (100 + growth) / 100)
		}
		totals = append(totals, base)
	}
	return build{
		days: [7]int{0, 75, 90, 75, 0, 270, 150}, away: []units.Date{monday.Add(22), monday.Add(23)},
		totals: totals, recovery: []int{4, 8}, rides: []*plan.Ride{long, steady, upper}, longApart: true,
		given: map[int][]*plan.Given{
			4: {{Date: monday.Add(26), Minutes: 75, Session: &plan.Session{Key: "anchor", Title: "Anchor ride", Protocol: true, KeepsWatts: true}, Test: &plan.TestDay{}}},
			8: {{Date: monday.Add(54), Minutes: 75, Session: &plan.Session{Key: "step", Title: "Step test", Protocol: true, Maximal: true}, Test: &plan.TestDay{}}},
		},
	}
}

// placeAt places with another measure of long days.
func placeAt(t *testing.T, b *plan.Block, rec *record.Athlete, asOf units.Date, longDay, percent int) (*Schedule, []*placement) {
	t.Helper()
	pl := newPlacer(b, rec, asOf)
	pl.longDay, pl.percent = longDay, percent
	pl.base = pl.baseWeek()
	c := newChain(pl)
	problems, placements, ok := c.place()
	if !ok {
		t.Fatalf("the block cannot be placed")
	}
	s := &Schedule{Block: b, chain: c, problems: problems, placements: placements}
	for i, w := range b.Weeks {
		s.Weeks = append(s.Weeks, pl.week(w, problems[i], placements[i]))
	}
	return s, placements
}

func table(s *Schedule) string {
	var out strings.Builder
	for _, w := range s.Weeks {
		fmt.Fprintf(&out, "%d %d:", w.Number, w.Placed)
		for _, x := range w.Sessions {
			fmt.Fprintf(&out, " %s %s %d,", x.Date.Weekday().String()[:3], x.Session.Key, x.Minutes)
		}
		out.WriteString(" wished")
		for _, m := range w.Mix {
			fmt.Fprintf(&out, " %d", m.Wished)
		}
		fmt.Fprintf(&out, " %s\n", strings.Join(w.Stated, "; "))
	}
	return out.String()
}

// delivered makes the record of a schedule.
func delivered(s *Schedule) *record.Athlete {
	rec := &record.Athlete{}
	for _, w := range s.Weeks {
		for _, x := range w.Sessions {
			r := record.Session{Block: s.Block.Key, Date: x.Date, Session: x.Session.Key, Minutes: x.Minutes, WeekAsked: w.Asked}
			if x.Ride != nil {
				r.Ride = x.Ride.Key
			}
			rec.Sessions = append(rec.Sessions, r)
		}
	}
	return rec
}

const twelveWant = `1 300: Tue steady 60, Thu upper 60, Sat long 120, Sun steady 60, wished 120 120 60 
2 320: Tue steady 65, Thu upper 65, Sat long 130, Sun steady 60, wished 130 125 65 
3 345: Tue steady 70, Thu upper 70, Sat long 140, Sun steady 65, wished 140 135 70 
4 205: Thu steady 55, Sat anchor 75, Sun long 75, wished 55 50 25 long: 20 min more than the 55 min wished; upper: none of the 25 min wished: one lasts at least 45 min
5 370: Tue steady 75, Thu upper 75, Sat long 150, Sun steady 70, wished 150 145 75 
6 395: Tue steady 75, Thu upper 75, Sat long 165, Sun steady 80, wished 160 155 80 
7 425: Tue steady 75, Thu upper 75, Sat long 175, Sun steady 100, wished 170 170 85 
8 255: Tue steady 60, Thu upper 45, Sat step 75, Sun long 75, wished 75 70 35 
`

func TestBlockOfEightWeeks(t *testing.T) {
	s, _ := placeAt(t, twelve(8).block(), nil, 0, 120, 0)
	if diff := gocmp.Diff(twelveWant, table(s)); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
}

// differences compares two schedules of one block date by date.
func differences(was, is *Schedule) string {
	at := func(s *Schedule, week int, d units.Date) string {
		for _, x := range s.Weeks[week].Sessions {
			if x.Date == d {
				return fmt.Sprintf("%s %d", x.Session.Key, x.Minutes)
			}
		}
		return "-"
	}
	var out strings.Builder
	for w := range was.Weeks {
		for d := was.Weeks[w].Start; d < was.Weeks[w].Start.Add(7); d++ {
			if a, b := at(was, w, d), at(is, w, d); a != b {
				fmt.Fprintf(&out, "%d %s: %s -> %s\n", w+1, d.Weekday().String()[:3], a, b)
			}
		}
	}
	return out.String()
}

// Growth goes from 8 to 9 % after the block was delivered: minutes change, one session moves.
func TestGrowthEdited(t *testing.T) {
	was, _ := placeAt(t, twelve(8).block(), nil, 0, 120, 0)
	is, got := placeAt(t, twelve(9).block(), delivered(was), monday, 120, 0)
	want := `2 Sun: steady 60 -> steady 65
3 Sun: steady 65 -> steady 70
4 Thu: steady 55 -> steady 60
5 Sat: long 150 -> long 160
6 Sun: steady 80 -> steady 95
7 Wed: - -> upper 90
7 Thu: upper 75 -> -
7 Sat: long 175 -> long 180
8 Tue: steady 60 -> steady 70
`
	if diff := gocmp.Diff(want, differences(was, is)); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
	if n := got[6].terms[termMoved]; n != 1 {
		t.Errorf("week 7 moved %d, want 1", n)
	}
}

// A Thursday is lost at the beginning of its week.
func TestDayLost(t *testing.T) {
	was, _ := placeAt(t, twelve(8).block(), nil, 0, 120, 0)
	lost := twelve(8)
	lost.away = append(lost.away, monday.Add(17))
	is, got := placeAt(t, lost.block(), delivered(was), monday.Add(14), 120, 0)
	want := "3 Wed: - -> upper 70\n3 Thu: upper 70 -> -\n"
	if diff := gocmp.Diff(want, differences(was, is)); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
	if n := got[2].terms[termHeld]; n != 1 {
		t.Errorf("held %d, want 1", n)
	}
}
