package schedule

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"towpath/internal/plan"
	"towpath/internal/record"
	"towpath/internal/units"
)

// TestAgainstGLPK asks a general solver of mixed integer programs, GLPK's glpsol, for the least of
// each term, each fixed before the next. It runs where glpsol is found; TOWPATH_OUTSIDE=1 demands
// it.
func TestAgainstGLPK(t *testing.T) {
	path, err := exec.LookPath("glpsol")
	if err != nil {
		if os.Getenv("TOWPATH_OUTSIDE") == "1" {
			t.Fatal("TOWPATH_OUTSIDE=1 demands glpsol, and it is not installed (Debian: glpk-utils)")
		}
		t.Skip("glpsol is not installed (Debian: glpk-utils)")
	}
	t.Parallel()
	weeks, solves, cut := 60, 0, 0
	if testing.Short() {
		weeks = 6
	}
	for seed, proven := 0, 0; proven < weeks; seed++ {
		b, rec := wholeWeek(rand.New(rand.NewPCG(uint64(seed), 60)))
		pl := newPlacer(b, rec, b.Start)
		pl.longDay, pl.percent = 90, 0
		pl.base = pl.baseWeek()
		p := pl.problem(b.Weeks[0], int(b.Weeks[0].Asked), 0)
		got := solve(p, carry{}, func(carry) bool { return true })
		m := newModel(b, rec, pl.base, 90)
		if got == nil {
			solves++
			cut += m.largest(t, path, seed, pl)
			continue
		}
		for _, term := range m.terms(got, b.Weeks[0].Rides) {
			least, status := m.least(t, path, term.expression)
			solves++
			if status != "o" || least != term.value {
				t.Fatalf("seed %d: %s is %d by the solver, %d by GLPK (status %s)", seed, term.name, term.value, least, status)
			}
			m.rows = append(m.rows, fmt.Sprintf("%s <= %d", term.expression, term.value))
		}
		proven++
	}
	t.Logf("%d weeks proven term by term in %d programs, %d of weeks that had to be cut", weeks, solves, cut)
}

// largest compares the largest total to which a week can be cut; it is 1 where there is one.
func (m *model) largest(t *testing.T, glpsol string, seed int, pl *placer) int {
	t.Helper()
	m.rows = slices.DeleteFunc(m.rows, func(row string) bool { return row == m.total })
	asked := int(pl.block.Weeks[0].Asked)
	m.rows = append(m.rows, fmt.Sprintf("%s <= %d", m.minutes, (asked-m.given)/5))
	most, status := m.least(t, glpsol, "- "+strings.ReplaceAll(m.minutes, " + ", " - "))
	pl.block.Tolerance = 1
	for total := range newChain(pl).totals(0) {
		if solve(pl.problem(pl.block.Weeks[0], total, 0), carry{}, func(carry) bool { return true }) != nil {
			if status != "o" || total != m.given-5*most {
				t.Fatalf("seed %d: the solver can place %d of %d min, GLPK %d (status %s)", seed, total, asked, m.given-5*most, status)
			}
			return 1
		}
	}
	if status != "n" {
		t.Fatalf("seed %d: the solver cannot place the week at any total, GLPK says %q", seed, status)
	}
	return 0
}

// wholeWeek is a random week of ordinary size: up to seven open days and 2 to 4 rides.
func wholeWeek(r *rand.Rand) (*plan.Block, *record.Athlete) {
	b := build{longApart: r.IntN(2) == 0, given: nil}
	sum := 0
	for i := range b.days {
		if r.IntN(6) > 0 {
			b.days[i] = 45 + 5*r.IntN(24)
			sum += b.days[i]
		}
	}
	kinds := 2 + r.IntN(3)
	for k := range kinds {
		b.rides = append(b.rides, small{r, 1}.ride(k, kinds))
	}
	b.totals = []int{sum * (3 + r.IntN(5)) / 10 / 5 * 5}
	out := b.block()
	out.Limits.RestDays.Value, out.Limits.RidingDaysInARow.Value = 1+r.IntN(2), 3+r.IntN(3)
	fixedWeek(r, out, b.rides)
	rec := &record.Athlete{}
	if r.IntN(2) == 0 {
		for i := range 7 {
			if r.IntN(2) == 0 {
				key := string(rune('a' + r.IntN(kinds)))
				rec.Sessions = append(rec.Sessions, record.Session{Block: "block", Key: "block/w01/" + key + "-1", Date: monday.Add(i), Ride: key, Session: key, Minutes: units.Minutes(30 + 5*r.IntN(20))})
			}
		}
	}
	return out, rec
}

// fixedWeek adds up to three fixed rides, in the day's window or apart, and other sport.
func fixedWeek(r *rand.Rand, b *plan.Block, rides []*plan.Ride) {
	w := b.Weeks[0]
	for n, day := range r.Perm(7)[:r.IntN(4)] {
		g := &plan.Given{Date: w.Start.Add(day), Minutes: units.Minutes(20 + 5*r.IntN(9)), Fixed: fmt.Sprint("f", n)}
		g.Session = &plan.Session{Key: g.Fixed, Title: g.Fixed, Demanding: r.IntN(3) == 0}
		if r.IntN(2) == 0 {
			g.Ride = rides[r.IntN(len(rides))]
			g.Session = g.Ride.Session
		}
		limit := b.Athlete.Days[day].Limit
		g.Apart = limit < g.Minutes || r.IntN(2) == 0
		w.Given, w.Asked = append(w.Given, g), w.Asked+g.Minutes
	}
	for _, day := range r.Perm(7)[:r.IntN(2)] {
		b.Athlete.Other = append(b.Athlete.Other, &plan.Other{Days: []time.Weekday{units.Weekdays[day]}, Demanding: r.IntN(3) > 0})
	}
}

// model is a week as a mixed integer program, in quanta of 5 minutes: y is whether ride k stands on
// date d, m its quanta. The sums and distances made from them are whole by themselves and are left
// continuous, which makes the proofs short.
type model struct {
	rows              []string
	binary, general   []string
	held, resized     []string
	base, wish, space []string
	coarse            []string
	fine, lengths     []string
	minutes, total    string // all that is placed, and the row that binds it
	given             int
}

func newModel(b *plan.Block, rec *record.Athlete, base *[7]string, longDay int) *model {
	w := b.Weeks[0]
	m := &model{}
	row := func(format string, args ...any) { m.rows = append(m.rows, fmt.Sprintf(format, args...)) }
	m.binary = append(m.binary, "zero")
	row("zero = 0")
	o := &oracle{b: b, longDay: longDay}
	wished := o.wished(0, int(w.Asked))
	var all []string
	var fresh [7][]string // what makes a date a riding date; nil where something given does
	var given [7]int
	pinned, pinnedQuanta := make([]int, len(w.Rides)), make([]int, len(w.Rides))
	for d := range 7 {
		var riding, minutes, hard []string
		window, demanding, lightOnly := 0, false, false
		for _, g := range w.Given {
			if g.Date != w.Start.Add(d) {
				continue
			}
			given[d] += int(g.Minutes) / 5
			if !g.Apart {
				window += int(g.Minutes)
			}
			demanding, lightOnly = demanding || g.Session.Demanding, lightOnly || g.Session.Demanding
			for k, r := range w.Rides {
				if g.Ride == r {
					pinned[k], pinnedQuanta[k] = pinned[k]+1, pinnedQuanta[k]+int(g.Minutes)/5
				}
			}
		}
		for _, other := range b.Athlete.Other {
			if other.Demanding && other.On(w.Start.Add(d)) {
				demanding, lightOnly = true, true
			}
		}
		m.given += 5 * given[d]
		limit := int(b.Athlete.Days[d].Limit)
		for k, r := range w.Rides {
			y, q := fmt.Sprintf("y%d_%d", d, k), fmt.Sprintf("m%d_%d", d, k)
			m.binary, m.general = append(m.binary, y), append(m.general, q)
			high := 0
			if limit > 0 {
				high = max(min(limit-window, int(r.AtMost))/5, 0)
			}
			row("%s - %d %s >= 0", q, (int(r.AtLeast)+4)/5, y)
			row("%s - %d %s <= 0", q, high, y)
			rank := 0
			if len(r.Days) > 0 {
				rank = slices.Index(r.Days, units.Weekdays[d])
			}
			if rank < 0 || high == 0 || lightOnly && !r.Session.Light {
				row("%s = 0", y)
			} else if rank > 0 {
				m.wish = append(m.wish, fmt.Sprintf("%d %s", rank, y))
			}
			riding, minutes = append(riding, y), append(minutes, q)
			if r.Session.Demanding {
				hard = append(hard, y)
			}
			usual := int(r.Usual) / 5
			if rank >= 0 && high >= int(r.AtLeast)/5 {
				m.lengths = append(m.lengths, m.square(fmt.Sprintf("l%d_%d", d, k), fmt.Sprintf("%s - %d %s", q, usual, y), fmt.Sprintf("%d %s - %s", usual, y, q), 0, 0, max(high-usual, usual-int(r.AtLeast)/5)))
			}
		}
		all = append(all, minutes...)
		row("%s <= 1", strings.Join(riding, " + "))
		if given[d] == 0 {
			fresh[d] = riding
		}
		m.neighbours(d, "r", riding, given[d] > 0, &m.space)
		m.neighbours(d, "h", hard, demanding, &m.wish)
		if b.Limits.LongDaysApart.Value {
			l := fmt.Sprintf("long%d", d)
			m.binary = append(m.binary, l)
			row("%s - %d %s <= %d", strings.Join(minutes, " + "), max(limit/5+given[d]-longDay/5+1, 1), l, longDay/5-1-given[d])
			if d > 0 && (given[d] < longDay/5 || given[d-1] < longDay/5) {
				row("%s + long%d <= 1", l, d-1)
			}
		}
		if base != nil {
			m.baseOf(d, w, base[d], riding)
		}
		for _, s := range rec.Sessions {
			if s.Date == w.Start.Add(d) {
				m.recordOf(d, w, s)
			}
		}
	}
	m.minutes = strings.Join(all, " + ")
	m.total = fmt.Sprintf("%s = %d", m.minutes, (int(w.Asked)-m.given)/5)
	m.rows = append(m.rows, m.total)
	m.riding(b, fresh)
	for k, r := range w.Rides {
		var count, quanta []string
		for d := range 7 {
			count, quanta = append(count, fmt.Sprintf("y%d_%d", d, k)), append(quanta, fmt.Sprintf("m%d_%d", d, k))
		}
		row("%s >= %d", strings.Join(count, " + "), r.PerWeek.Low-pinned[k])
		row("%s <= %d", strings.Join(count, " + "), max(r.PerWeek.High, pinned[k])-pinned[k])
		x := fmt.Sprintf("x%d", k)
		row("%s - %s = %d", strings.Join(quanta, " + "), x, -pinnedQuanta[k])
		wish := wished[k] / 5
		c := fmt.Sprintf("c%d", k)
		row("%s - %s >= %d", c, x, -wish-2)
		row("%s + %s >= %d", c, x, wish-2)
		m.coarse = append(m.coarse, c)
		m.fine = append(m.fine, m.square(fmt.Sprintf("f%d", k), x, "- "+x, wish, -wish, max(wish, int(w.Asked)/5-wish)))
	}
	return m
}

// riding bounds the riding dates, and those in a row, where what is given leaves something to bound.
func (m *model) riding(b *plan.Block, fresh [7][]string) {
	given := 0
	for _, ys := range fresh {
		if ys == nil {
			given++
		}
	}
	bound := func(from, to, most int) {
		var ys []string
		for d := from; d < to; d++ {
			ys = append(ys, fresh[d]...)
		}
		if ys != nil {
			m.rows = append(m.rows, fmt.Sprintf("%s <= %d", strings.Join(ys, " + "), most))
		}
	}
	bound(0, 7, max(7-b.Limits.RestDays.Value, given)-given)
	n := b.Limits.RidingDaysInARow.Value
	for d := 0; d+n < 7; d++ {
		open := -1
		for _, ys := range fresh[d : d+n+1] {
			if ys != nil {
				open++
			}
		}
		bound(d, d+n+1, open)
	}
}

// square gives a variable that is at least the square of a distance v, by its secants; v is at
// least a less the first offset, and at least b less the second.
func (m *model) square(name, a, b string, offsetA, offsetB, most int) string {
	v, q := "v"+name, "q"+name
	minus := func(e string) string {
		e = " " + strings.TrimPrefix(e, "- ")
		if strings.HasPrefix(b, "- ") && strings.TrimSpace(e) == strings.TrimPrefix(b, "- ") && e != " "+a {
			return " +" + e
		}
		return " -" + e
	}
	if strings.HasPrefix(b, "- ") { // distance of one variable from a number
		m.rows = append(m.rows, fmt.Sprintf("%s - %s >= %d", v, a, -offsetA), fmt.Sprintf("%s + %s >= %d", v, a, -offsetB))
	} else {
		flip := strings.NewReplacer(" - ", " + ")
		m.rows = append(m.rows, v+minus(flip.Replace(a))+" >= 0", v+minus(flip.Replace(b))+" >= 0")
	}
	for j := range most {
		m.rows = append(m.rows, fmt.Sprintf("%s - %d %s >= %d", q, 2*j+1, v, -j*(j+1)))
	}
	return q
}

// neighbours counts pairs of neighbouring dates of a kind; always tells that this one is.
func (m *model) neighbours(d int, name string, ys []string, always bool, into *[]string) {
	v := fmt.Sprintf("%s%d", name, d)
	m.binary = append(m.binary, v)
	if always {
		m.rows = append(m.rows, v+" = 1")
	} else if len(ys) == 0 {
		m.rows = append(m.rows, v+" = 0")
	} else {
		m.rows = append(m.rows, fmt.Sprintf("%s - %s = 0", strings.Join(ys, " + "), v))
	}
	if d > 0 {
		pair := fmt.Sprintf("pair%s", v)
		m.binary = append(m.binary, pair)
		m.rows = append(m.rows, fmt.Sprintf("%s - %s - %s%d >= -1", pair, v, name, d-1))
		*into = append(*into, pair)
	}
}

func (m *model) baseOf(d int, w *plan.Week, key string, riding []string) {
	v := fmt.Sprintf("base%d", d)
	m.binary = append(m.binary, v)
	m.base = append(m.base, v)
	if key == "" {
		m.rows = append(m.rows, fmt.Sprintf("%s - %s = 0", strings.Join(riding, " + "), v))
		return
	}
	for k, r := range w.Rides {
		if r.Key == key {
			m.rows = append(m.rows, fmt.Sprintf("%s + y%d_%d = 1", v, d, k))
		}
	}
}

func (m *model) recordOf(d int, w *plan.Week, s record.Session) {
	for k, r := range w.Rides {
		if r.Key != s.Ride {
			continue
		}
		y, q := fmt.Sprintf("y%d_%d", d, k), fmt.Sprintf("m%d_%d", d, k)
		held, same, resized := fmt.Sprintf("held%d", d), fmt.Sprintf("same%d", d), fmt.Sprintf("resized%d", d)
		m.binary = append(m.binary, held, same, resized)
		quanta := int(s.Minutes) / 5
		m.rows = append(m.rows,
			fmt.Sprintf("%s + %s = 1", held, y), fmt.Sprintf("%s - %s <= 0", same, y), fmt.Sprintf("%s - %s + %s = 0", resized, y, same),
			fmt.Sprintf("%s + %d %s <= %d", q, 100, same, quanta+100), fmt.Sprintf("%s - %d %s >= %d", q, quanta, same, 0))
		m.held, m.resized = append(m.held, held), append(m.resized, resized)
	}
}

type modelTerm struct {
	name, expression string
	value            int
}

// terms are the terms of the objective in order, with the solver's values in quanta.
func (m *model) terms(got *placement, rides []*plan.Ride) []modelTerm {
	sum := func(parts []string) string {
		if len(parts) == 0 {
			return "0 zero"
		}
		return strings.Join(parts, " + ")
	}
	v := got.terms
	out := []modelTerm{
		{"held", sum(m.held), v[termHeld]},
		{"mix, coarse", sum(m.coarse), v[termCoarse] / 5},
		{"resized", sum(m.resized), v[termResized]},
		{"base week", sum(m.base), v[termBase]},
		{"wishes", sum(m.wish), v[termWish]},
		{"mix, fine", sum(m.fine), v[termFine] / 25},
	}
	for k := range rides {
		out = append(out, modelTerm{"mix of " + rides[k].Key, fmt.Sprintf("- x%d", k), -got.mix[k] / 5})
	}
	return append(out,
		modelTerm{"lengths", sum(m.lengths), v[termLengths] / 25},
		modelTerm{"spacing", sum(m.space), v[termSpacing]})
}

// patience is how long GLPK may look for a proof of one term. None needs a tenth of it.
const patience = time.Minute

// least solves for the least of an expression, with GLPK's status: "o" for a proven least, "n" for
// no solution, "f" and "u" where the time ran out.
func (m *model) least(t *testing.T, glpsol, expression string) (int, string) {
	t.Helper()
	var lp strings.Builder
	fmt.Fprintf(&lp, "Minimize\n obj: %s\nSubject To\n", fold(expression))
	for i, r := range m.rows {
		fmt.Fprintf(&lp, " r%d: %s\n", i, fold(r))
	}
	fmt.Fprintf(&lp, "Generals\n%s\nBinaries\n%s\nEnd\n", strings.Join(m.general, "\n"), strings.Join(m.binary, "\n"))
	dir := t.TempDir()
	in, out := filepath.Join(dir, "week.lp"), filepath.Join(dir, "week.sol")
	if err := os.WriteFile(in, []byte(lp.String()), 0o600); err != nil {
		t.Fatal(err)
	}
	if text, err := exec.Command(glpsol, "--lp", in, "--cuts", "--tmlim", fmt.Sprint(int(patience.Seconds())), "-w", out).CombinedOutput(); err != nil {
		t.Fatalf("glpsol: %v\n%s", err, text)
	}
	text, err := os.ReadFile(out)
	if err != nil {
		t.Fatal(err)
	}
	for line := range strings.Lines(string(text)) {
		f := strings.Fields(line)
		if len(f) == 6 && f[0] == "s" {
			z, err := strconv.ParseFloat(f[5], 64)
			if err != nil {
				t.Fatal(err)
			}
			return int(math.Round(z)), f[4]
		}
	}
	t.Fatalf("no solution line in %s", text)
	return 0, ""
}

// fold breaks long lines between terms: the format wants short ones.
func fold(s string) string { return strings.ReplaceAll(s, " + ", "\n + ") }
