package schedule

import (
	"math/rand/v2"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"towpath/internal/plan"
	"towpath/internal/units"
)

// ordinary is a block of a few weeks of ordinary size.
func ordinary(r *rand.Rand) *plan.Block {
	b, _ := wholeWeek(r)
	first := b.Weeks[0]
	for n := 1; n < 3; n++ {
		w := *first
		w.Number, w.Start, w.Asked = n+1, first.Start.Add(7*n), first.Asked+units.Minutes(5*r.IntN(4))
		w.Given = later(first.Given, 7*n)
		b.Weeks = append(b.Weeks, &w)
	}
	return b
}

// later are given sessions a few days later.
func later(given []*plan.Given, days int) (out []*plan.Given) {
	for _, g := range given {
		again := *g
		again.Date += units.Date(days)
		out = append(out, &again)
	}
	return out
}

func TestProperties(t *testing.T) {
	placed := 0
	rapid.Check(t, func(t *rapid.T) {
		seed := rapid.Uint64().Draw(t, "seed")
		b := ordinary(rand.New(rand.NewPCG(seed, 1)))
		s, diags := Place(b, nil, 0)
		more := ordinary(rand.New(rand.NewPCG(seed, 1)))
		day := rapid.IntRange(0, 6).Draw(t, "day")
		more.Athlete.Days[day].Limit += units.Minutes(5 * rapid.IntRange(1, 20).Draw(t, "more"))
		if _, again := Place(more, nil, 0); !diags.HasErrors() && again.HasErrors() {
			t.Fatalf("more room made the block impossible: %s", again[0].Summary)
		}
		if diags.HasErrors() {
			return
		}
		placed++
		for _, w := range s.Weeks {
			if w.Placed != w.Asked {
				t.Fatalf("week %d: placed %s, asked %s", w.Number, w.Placed, w.Asked)
			}
			for _, x := range w.Sessions {
				if x.Given != nil {
					continue
				}
				room := b.Athlete.DayOn(x.Date).Limit
				for _, y := range w.Sessions {
					if y.Given != nil && !y.Given.Apart && y.Date == x.Date {
						room -= y.Minutes
					}
				}
				if x.Minutes < x.Ride.AtLeast || x.Minutes > x.Ride.AtMost || x.Minutes > room {
					t.Fatalf("%s lasts %s: outside its ride or its day", x.Date, x.Minutes)
				}
			}
		}
		moved := ordinary(rand.New(rand.NewPCG(seed, 1)))
		moved.Start += 7
		for _, w := range moved.Weeks {
			w.Start += 7
			w.Given = later(w.Given, 7)
		}
		shifted, _ := Place(moved, nil, 0)
		for i, w := range s.Weeks {
			if !slices.EqualFunc(w.Sessions, shifted.Weeks[i].Sessions, func(x, y Session) bool {
				return x.Date+7 == y.Date && x.Minutes == y.Minutes && x.Session.Key == y.Session.Key
			}) {
				t.Fatalf("week %d differs when all dates move by a week", w.Number)
			}
		}
	})
	if placed < 20 {
		t.Errorf("only %d blocks could be placed", placed)
	}
}

// One line of a delivered block is edited at a random day: few sessions move, and none of the past.
func TestStability(t *testing.T) {
	var moves []int
	commute := &plan.Session{Key: "commute", Title: "Way to work"}
	for seed := range 200 {
		r := rand.New(rand.NewPCG(uint64(seed), 2))
		commutes := r.IntN(2) == 0
		block := func(in build) *plan.Block {
			b := in.block()
			for _, w := range b.Weeks {
				if commutes && w.Number != 4 {
					w.Given = append(slices.Clone(w.Given), &plan.Given{Date: w.Start, Minutes: 40, Session: commute, Fixed: "commute", Apart: true},
						&plan.Given{Date: w.Start.Add(1), Minutes: 25, Session: commute, Fixed: "commute"})
					w.Asked += 65
				}
			}
			return b
		}
		was, _ := Place(block(twelve(8)), nil, 0)
		asOf := monday.Add(r.IntN(56))
		edited := twelve(8)
		switch r.IntN(5) {
		case 0:
			edited = twelve(7 + 2*r.IntN(2))
		case 1:
			edited.days[[]int{1, 2, 3, 5, 6}[r.IntN(5)]] += 5 * (r.IntN(7) - 3)
		case 2:
			edited.away = append(edited.away, asOf.Add(r.IntN(20)))
		case 3:
			edited.rides[0].Share += units.Share(r.IntN(5)-2) / 100
		default:
			edited.rides[1].AtLeast += units.Minutes(5 * r.IntN(3))
		}
		rec := delivered(was)
		b := block(edited)
		for _, w := range b.Weeks {
			if w.Start.Add(7) <= asOf {
				w.Asked = was.Weeks[w.Number-1].Asked
			}
			w.Given = slices.DeleteFunc(slices.Clone(w.Given), func(g *plan.Given) bool { return !g.Apart && b.Athlete.DayOn(g.Date).Limit < g.Minutes })
		}
		is, diags := Place(b, rec, asOf)
		if diags.HasErrors() {
			continue
		}
		moved := 0
		for i, w := range was.Weeks {
			for _, x := range w.Sessions {
				found := slices.ContainsFunc(is.Weeks[i].Sessions, func(y Session) bool {
					return x.Date == y.Date && x.Session.Key == y.Session.Key && (x.Date >= asOf || x.Minutes == y.Minutes)
				})
				if !found && x.Date < asOf {
					t.Errorf("seed %d: the past of %s changed", seed, x.Date)
				}
				if !found {
					moved++
				}
			}
		}
		moves = append(moves, moved)
	}
	slices.Sort(moves)
	if len(moves) < 120 {
		t.Fatalf("only %d edits could be placed", len(moves))
	}
	t.Logf("%d edits: median %d, 90th percentile %d, most %d", len(moves), moves[len(moves)/2], moves[len(moves)*9/10], moves[len(moves)-1])
	if moves[len(moves)/2] > 0 || moves[len(moves)-1] > 3 {
		t.Errorf("moved sessions: %v", moves)
	}
}
