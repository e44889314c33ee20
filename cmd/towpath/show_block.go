package main

import (
	"bytes"
	"fmt"
	"strings"

	"towpath/internal/diag"
	"towpath/internal/plan"
	"towpath/internal/prescription"
	"towpath/internal/units"
)

// sheet lays out a block in text. Nothing in it depends on colour.
type sheet struct {
	out   *bytes.Buffer
	width int // columns
	color bool
}

// roomy is the width from which on dates are written out and hours of day are shown.
const roomy = 60

func (s *sheet) roomy() bool { return s.width >= roomy }

func (s *sheet) line(format string, args ...any) {
	fmt.Fprintln(s.out, strings.TrimRight(fmt.Sprintf(format, args...), " "))
}

// wrapped prints a text after a first indent, and further lines after a hanging one; nothing where
// there is no text.
func (s *sheet) wrapped(first, hanging, text string) {
	if text == "" {
		return
	}
	for i, l := range diag.Wrap(text, s.width-diag.Columns(hanging)) {
		if i == 0 {
			s.line("%s%s", first, l)
		} else {
			s.line("%s%s", hanging, l)
		}
	}
}

// heading prints a line in bold where there is colour.
func (s *sheet) heading(text string) {
	for _, l := range diag.Wrap(text, s.width) {
		s.line("%s", s.painted("\x1b[1m", l))
	}
}

// bar paints in the one hue that a block is shown in.
func (s *sheet) bar(text string) string { return s.painted("\x1b[36m", text) }

func (s *sheet) painted(escape, text string) string {
	if !s.color || text == "" {
		return text
	}
	return escape + text + "\x1b[0m"
}

func (s *sheet) block(p *prescription.Prescription) {
	b := p.Block
	s.heading(b.Title)
	s.wrapped("", "", strings.Join(whoAndWhen(b), dot))
	s.wrapped("", "", b.Aim)
	s.wrapped("", "", b.Note)
	for _, e := range b.Events {
		s.wrapped("", "", eventLine(e)+dot+longDate(e.Date))
	}
	s.line("")
	s.bands(b)
	s.line("")
	s.overview(p)
	for i := range p.Weeks {
		s.line("")
		s.week(&p.Weeks[i], p)
	}
}

// whoAndWhen tells whose block it is, how long, from when, and what of that is open.
func whoAndWhen(b *plan.Block) []string {
	length := weeks(len(b.Weeks))
	if before := b.FirstWeek() - 1; b.Decide > 0 {
		length = fmt.Sprintf("%d to %s", max(0, b.Shortest-before), length)
	}
	parts := []string{b.Athlete.Name, fmt.Sprintf("%s from %s", length, longDate(b.Start))}
	if b.FirstWeek() > 1 {
		parts = append(parts, fmt.Sprintf("joins in week %d", b.FirstWeek()))
	}
	if b.Decide > 0 {
		parts = append(parts, "length decided by "+longDate(b.DecidedBy()))
	}
	return parts
}

func weeks(n int) string {
	if n == 1 {
		return "1 week"
	}
	return fmt.Sprintf("%d weeks", n)
}

// ridingDay is a date with all that is ridden on it.
type ridingDay struct {
	date    units.Date
	minutes units.Minutes
	test    bool
}

func ridingDays(week int, sessions []prescription.Session) []ridingDay {
	var out []ridingDay
	for i := range sessions {
		x := &sessions[i]
		if x.Week != week {
			continue
		}
		if n := len(out); n == 0 || out[n-1].date != x.Date {
			out = append(out, ridingDay{date: x.Date})
		}
		last := &out[len(out)-1]
		last.minutes += x.Minutes
		last.test = last.test || x.Test
	}
	return out
}

// overview prints one row per week: its number, its hours, and its riding days as bars on one scale
// of time. A bar's letters are part of its length.
func (s *sheet) overview(p *prescription.Prescription) {
	widest, gap := 0, " "
	if s.roomy() {
		gap = "  "
	}
	days := make([][]ridingDay, len(p.Weeks))
	var recovery, provisional, test bool
	for i := range p.Weeks {
		days[i] = ridingDays(p.Weeks[i].Number, p.Sessions)
		widest = max(widest, len(hours(p.Weeks[i].Placed)))
		recovery = recovery || p.Weeks[i].Kind == plan.Recovery
		provisional = provisional || p.Weeks[i].Provisional
		for _, d := range days[i] {
			test = test || d.test
		}
	}
	marks := 1
	if provisional {
		marks = len("r?")
	}
	head := func(w *prescription.Week) string {
		mark := ""
		if w.Kind == plan.Recovery {
			mark = "r"
		}
		if w.Provisional {
			mark += "?"
		}
		return fmt.Sprintf("%2d%-*s %*s%s", w.Number, marks, mark, widest, hours(w.Placed), gap)
	}
	scale := timeScale(days, s.width-len("00 ")-marks-widest-len(gap))
	legend := "One column " + scale.String()
	if test {
		legend += " · * test"
	}
	if recovery {
		legend += " · r recovery"
	}
	if provisional {
		legend += " · ? provisional"
	}
	s.wrapped("", "", legend)
	for i := range p.Weeks {
		bars := make([]string, len(days[i]))
		for k, d := range days[i] {
			bars[k] = s.bar(dayBar(d, scale))
		}
		s.line("%s%s", head(&p.Weeks[i]), strings.Join(bars, " "))
	}
}

// timeScale is the smallest of a few round times for one column with which the longest week fits
// into the columns.
func timeScale(days [][]ridingDay, columns int) units.Minutes {
	steps := []units.Minutes{5, 10, 15, 20, 25, 30, 45, 60, 90, 120}
	for _, scale := range steps {
		widest := 0
		for _, week := range days {
			n := max(0, len(week)-1)
			for _, d := range week {
				n += barLength(d.minutes, scale)
			}
			widest = max(widest, n)
		}
		if widest <= columns {
			return scale
		}
	}
	return steps[len(steps)-1]
}

// barLength is the length of a bar in columns: never shorter than the day's letters.
func barLength(m, scale units.Minutes) int { return max(2, int((m+scale/2)/scale)) }

// dayBar draws a day: its letters, a star for a test, and a dash for each further column.
func dayBar(d ridingDay, scale units.Minutes) string {
	n := barLength(d.minutes, scale)
	label := d.date.Weekday().String()[:2]
	if d.test && n > len(label) {
		label += "*"
	}
	return label + strings.Repeat("━", n-len(label))
}

// loads tells a week's load, each scale by itself: the middle of the prediction, and its ends.
func loads(l prescription.Load) []string {
	var out []string
	if l.Work != nil {
		out = append(out, fmt.Sprintf("%.0f kJ (%.0f-%.0f)", float64(l.Work.Mid), float64(l.Work.Low), float64(l.Work.High)))
	}
	if l.TRIMP != nil {
		out = append(out, fmt.Sprintf("training impulse %.0f (%.0f-%.0f)", l.TRIMP.Mid, l.TRIMP.Low, l.TRIMP.High))
	}
	if out == nil && l.SessionRPE != nil {
		out = append(out, fmt.Sprintf("session-RPE %.0f (minutes x a rating of 0-10)", *l.SessionRPE))
	}
	return out
}

// hours prints minutes for a column: "5 h 05".
func hours(m units.Minutes) string { return fmt.Sprintf("%d h %02d", m/60, m%60) }

func longDate(d units.Date) string { return d.UTC().Format("2 January 2006") }

// span prints two dates: "15 to 21 March", "15-21 Mar" where room is short.
func (s *sheet) span(from, to units.Date) string {
	month, dash := "January", " to "
	if !s.roomy() {
		month, dash = "Jan", "-"
	}
	first := "2 " + month
	if from.UTC().Month() == to.UTC().Month() {
		first = "2"
	}
	return from.UTC().Format(first) + dash + to.UTC().Format("2 "+month)
}
