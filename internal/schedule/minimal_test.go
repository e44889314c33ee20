package schedule

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
	"time"

	"towpath/internal/plan"
	"towpath/internal/units"
)

// A conflict is smallest: with every other constraint lifted the week stays impossible, and with any
// one of its own lifted as well it becomes possible. Lifting more never makes a week impossible, and
// each repair of a total, a day or a given session mends the week by what the brute force says too.
func TestConflictsAreSmallest(t *testing.T) {
	blocks, found, repaired := 3000, 0, 0
	if testing.Short() {
		blocks /= 10
	}
	for seed := range blocks {
		block := func() *plan.Block {
			b, _, _ := small{rand.New(rand.NewPCG(uint64(seed), 7)), 1}.block()
			b.TakeWhatFits = false
			return b
		}
		b := block()
		pl := newPlacer(b, nil, 0)
		pl.longDay = 45
		c := newChain(pl)
		if len(c.reach(0, []carry{{}})) > 0 {
			continue
		}
		found++
		d := &diagnosis{chain: c, week: b.Weeks[0], carries: []carry{{}}, accept: func(carry) bool { return true }}
		got := c.conflict(b.Weeks[0], d.carries)
		lifted := (groupEnd - 1) &^ got.groups
		if d.fits(lifted, nil) {
			t.Fatalf("seed %d: without %b the week is possible", seed, lifted)
		}
		for g := groupRun; g < groupEnd; g <<= 1 {
			if got.groups&g != 0 && !d.fits(lifted|g, nil) {
				t.Fatalf("seed %d: %b does not belong to the conflict %b", seed, g, got.groups)
			}
		}
		r := rand.New(rand.NewPCG(uint64(seed), 8))
		some := groups(r.UintN(uint(groupEnd)))
		if more := some | groups(r.UintN(uint(groupEnd))); d.fits(some, nil) && !d.fits(more, nil) {
			t.Fatalf("seed %d: possible without %b, impossible without %b", seed, some, more)
		}
		one := false
		for total := int(b.Weeks[0].Asked); total >= c.least(b.Weeks[0]); total -= quantum {
			one = one || d.fitsAt(total, some&^groupTotal, nil)
		}
		if got := d.fits(some&^groupTotal, nil); got != one {
			t.Fatalf("seed %d: without %b possible %v, one total after the other %v", seed, some, got, one)
		}
		for _, mended := range got.repairs {
			if again := block(); applied(again, &mended) {
				repaired++
				if _, ok := newOracle(again, nil, 0, pl.longDay, pl.percent).place(0, nil); !ok {
					t.Fatalf("seed %d: the repair %q mends nothing", seed, mended.what+mended.day+mended.after)
				}
			}
		}
	}
	t.Logf("%d conflicts of %d blocks, %d repairs", found, blocks, repaired)
	if found < blocks/10 || repaired < found {
		t.Errorf("only %d conflicts and %d repairs", found, repaired)
	}
}

// applied makes a repair of a total, of a weekday's limit or of a given session.
func applied(b *plan.Block, r *repair) bool {
	w := b.Weeks[0]
	day := slices.IndexFunc(units.Weekdays[:], func(d time.Weekday) bool { return d.String() == r.day })
	switch {
	case strings.HasPrefix(r.what, "a week of "):
		w.Asked -= units.Minutes(r.minutes)
		if strings.HasSuffix(r.what, "more)") {
			w.Asked += units.Minutes(2 * r.minutes)
		}
	case r.group == groupLimits:
		b.Athlete.Days[day].Limit += units.Minutes(r.minutes)
	case r.group == groupEasy:
		b.Athlete.Days[day].Easy = false
	case r.group == groupGiven && strings.HasPrefix(r.what, "without "):
		w.Given = slices.DeleteFunc(w.Given, func(g *plan.Given) bool {
			return g.Date == w.Start.Add(day) && r.what == fmt.Sprintf("without %s on ", g.Session.Title) && int(g.Minutes) == r.minutes
		})
	default:
		return false
	}
	return true
}
