package schedule

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
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
	weeks, solves := 60, 0
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
			if _, status := m.least(t, path, "0 zero"); status != "n" {
				t.Fatalf("seed %d: the solver cannot place the week, GLPK says %q", seed, status)
			}
			solves++
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
	t.Logf("%d weeks proven term by term in %d programs", weeks, solves)
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
	b.totals = []int{sum * (3 + r.IntN(4)) / 10 / 5 * 5}
	out := b.block()
	out.Limits.RestDays.Value, out.Limits.RidingDaysInARow.Value = 1+r.IntN(2), 3+r.IntN(3)
	rec := &record.Athlete{}
	if r.IntN(2) == 0 {
		for i := range 7 {
			if r.IntN(2) == 0 {
				key := string(rune('a' + r.IntN(kinds)))
				rec.Sessions = append(rec.Sessions, record.Session{Block: "block", Date: monday.Add(i), Ride: key, Session: key, Minutes: units.Minutes(30 + 5*r.IntN(20))})
			}
		}
	}
	return out, rec
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
}

func newModel(b *plan.Block, rec *record.Athlete, base *[7]string, longDay int) *model {
	w := b.Weeks[0]
	m := &model{}
	row := func(format string, args ...any) { m.rows = append(m.rows, fmt.Sprintf(format, args...)) }
	m.binary = append(m.binary, "zero")
	row("zero = 0")
	o := &oracle{b: b, longDay: longDay}
	wished := o.wished(0, int(w.Asked))
	var all, dates []string
	for d := range 7 {
		var riding, minutes, hard []string
		for k, r := range w.Rides {
			y, q := fmt.Sprintf("y%d_%d", d, k), fmt.Sprintf("m%d_%d", d, k)
			m.binary, m.general = append(m.binary, y), append(m.general, q)
			high := min(int(b.Athlete.Days[d].Limit), int(r.AtMost)) / 5
			row("%s - %d %s >= 0", q, (int(r.AtLeast)+4)/5, y)
			row("%s - %d %s <= 0", q, max(high, 0), y)
			rank := 0
			if len(r.Days) > 0 {
				rank = -1
				for i, day := range r.Days {
					if day == units.Weekdays[d] {
						rank = i
					}
				}
			}
			if rank < 0 || high == 0 {
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
		all, dates = append(all, minutes...), append(dates, riding...)
		row("%s <= 1", strings.Join(riding, " + "))
		m.neighbours(d, "r", riding, &m.space)
		m.neighbours(d, "h", hard, &m.wish)
		if b.Limits.LongDaysApart.Value {
			l := fmt.Sprintf("long%d", d)
			m.binary = append(m.binary, l)
			row("%s - %d %s <= %d", strings.Join(minutes, " + "), max(int(b.Athlete.Days[d].Limit)/5-longDay/5+1, 1), l, longDay/5-1)
			if d > 0 {
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
	row("%s = %d", strings.Join(all, " + "), int(w.Asked)/5)
	row("%s <= %d", strings.Join(dates, " + "), 7-b.Limits.RestDays.Value)
	n := b.Limits.RidingDaysInARow.Value
	for d := 0; d+n < 7; d++ {
		row("%s <= %d", strings.Join(dates[d*len(w.Rides):(d+n+1)*len(w.Rides)], " + "), n)
	}
	for k, r := range w.Rides {
		var count, quanta []string
		for d := range 7 {
			count, quanta = append(count, fmt.Sprintf("y%d_%d", d, k)), append(quanta, fmt.Sprintf("m%d_%d", d, k))
		}
		low := r.PerWeek.Low
		row("%s >= %d", strings.Join(count, " + "), low)
		row("%s <= %d", strings.Join(count, " + "), r.PerWeek.High)
		x := fmt.Sprintf("x%d", k)
		row("%s - %s = 0", strings.Join(quanta, " + "), x)
		wish := wished[k] / 5
		c := fmt.Sprintf("c%d", k)
		row("%s - %s >= %d", c, x, -wish-2)
		row("%s + %s >= %d", c, x, wish-2)
		m.coarse = append(m.coarse, c)
		m.fine = append(m.fine, m.square(fmt.Sprintf("f%d", k), x, "- "+x, wish, -wish, max(wish, int(w.Asked)/5-wish)))
	}
	return m
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

// neighbours counts pairs of neighbouring dates of a kind.
func (m *model) neighbours(d int, name string, ys []string, into *[]string) {
	v := fmt.Sprintf("%s%d", name, d)
	m.binary = append(m.binary, v)
	if len(ys) == 0 {
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
