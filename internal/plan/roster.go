package plan

import (
	"cmp"
	"errors"
	"fmt"
	"regexp"
	"slices"
	"strings"

	"towpath/internal/diag"
	"towpath/internal/spec"
	"towpath/internal/table"
	"towpath/internal/units"
)

// rostered are the dates from start to end on which a roster rules. A roster holds until its last
// day, or until the next one begins; of a file, the dates that it leaves out are usual days.
func (r *resolver) rostered(a *spec.Athlete, start, end units.Date) map[units.Date]Day {
	rosters := r.inOrder(a)
	s := r.shifts(a)
	var out map[units.Date]Day
	for i, ro := range rosters {
		last := end
		if ro.Until.Set {
			last = min(last, ro.Until.V)
		}
		if i+1 < len(rosters) {
			next := rosters[i+1]
			if ro.Until.Set && ro.Until.V >= next.From.V || ro.From.V == next.From.V {
				r.add(diag.Error, "rosters-overlap", next.From.Range, fmt.Sprintf("Two rosters hold %s", next.From.V),
					"A roster without a last day ends where the next one begins. Let one begin later, or the other end before.",
					diag.Related{Message: "the other roster", Range: ro.Range})
			}
			last = min(last, next.From.V-1)
		}
		shiftOn := r.shiftsOf(ro.Roster, ro.From.V, s)
		for d := max(ro.From.V, start); d <= last; d++ {
			if on, ok := shiftOn(d); ok {
				if out == nil {
					out = map[units.Date]Day{}
				}
				out[d] = on
			}
		}
	}
	return out
}

// begun is a roster with its first day, which its file may be left to say.
type begun struct {
	*spec.Roster
	From spec.Value[units.Date]
}

// inOrder lists the rosters that hold a day by their first ones. Spec has said what is wrong with
// one that ends before it begins; of a file, only its dates tell.
func (r *resolver) inOrder(a *spec.Athlete) (out []begun) {
	for _, ro := range a.Rosters {
		first := begun{ro, ro.From}
		if !ro.From.Set && ro.File.Set {
			var found diag.List
			rows := r.rosterRows(ro, &found)
			if len(rows) == 0 {
				r.diags.Add(found...)
				continue
			}
			first.From = spec.Value[units.Date]{V: rows[0].date, Range: ro.File.Range, Set: true}
			if ro.Until.Set && ro.Until.V < first.From.V {
				r.add(diag.Error, "roster-value", ro.Until.Range, fmt.Sprintf("The roster ends on %s, before its file begins on %s", ro.Until.V, first.From.V), "Change the one or the other.")
			}
		}
		if first.From.Set && (!ro.Until.Set || ro.Until.V >= first.From.V) {
			out = append(out, first)
		}
	}
	slices.SortStableFunc(out, func(x, y begun) int { return cmp.Compare(x.From.V, y.From.V) })
	return out
}

// shifts are what an athlete's days hold on each shift, in the order of the text.
type shifts struct {
	keys []string
	days map[string]Day
	at   diag.Range // where they stand, or could
}

func (r *resolver) shifts(a *spec.Athlete) shifts {
	s := shifts{days: map[string]Day{}, at: a.Header}
	for _, shift := range a.Shifts {
		s.keys = append(s.keys, shift.Key.V)
		s.days[shift.Key.V] = day(shift.Day, shift.Key.Range)
	}
	return s
}

// shiftsOf tells what a roster says of each date; ok is false where it says nothing. Every shift of
// the roster is looked up, also on dates that no block has.
func (r *resolver) shiftsOf(ro *spec.Roster, from units.Date, s shifts) func(units.Date) (on Day, ok bool) {
	var found diag.List
	defer func() { r.diags.Add(found.OncePerCause()...) }()
	if !ro.File.Set {
		days := make([]*Day, len(ro.Days))
		for i, key := range ro.Days {
			days[i] = s.look(key.V, key.V, key.Range, `"`, &found)
		}
		return func(d units.Date) (Day, bool) {
			if len(days) == 0 {
				return Day{}, false
			}
			on := days[d.Sub(from)%len(days)]
			if on == nil {
				return Day{}, false
			}
			return *on, true
		}
	}
	dates := map[units.Date]Day{}
	for _, row := range r.rosterRows(ro, &found) {
		if on := s.look(spec.PlainKey(row.shift.Text), row.shift.Text, row.shift.At, "", &found); on != nil {
			dates[row.date] = *on
		}
	}
	return func(d units.Date) (Day, bool) {
		on, ok := dates[d]
		return on, ok
	}
}

// look finds a shift, and says where there is none of that name. Quote stands around it in the text.
func (s *shifts) look(key, written string, at diag.Range, quote string, found *diag.List) *Day {
	if on, ok := s.days[key]; ok {
		return &on
	}
	d := diag.Diagnostic{Code: "unknown-shift", Severity: diag.Error, Subject: at}
	if len(s.keys) == 0 {
		d.Summary = fmt.Sprintf("The roster names the shift %s, but the athlete has no shifts", table.Quote(written))
		d.Detail = `Say what a day holds on each: shifts = { early = "70 min, 15:20", off = "none" }.`
		found.Add(d)
		return nil
	}
	d.Summary = fmt.Sprintf("There is no shift %s", table.Quote(written))
	d.Related = []diag.Related{{Message: "the first of the shifts", Range: s.days[s.keys[0]].Range}}
	d.Detail = fmt.Sprintf("The shifts are %s.", inWords(s.keys))
	offer(&d, spec.Nearest(key, s.keys), quote)
	found.Add(d)
	return nil
}

// rosterForm is how a roster's file is written.
var rosterForm = table.Form{
	Code: "roster", File: "roster", Row: "day", Rows: "days", Header: "date,shift",
	MostBytes: 256 << 10, MostRows: 4000,
	Usual: "A roster has a line for each day", Suspect: "Leave out the days that are long past.",
}

// rosterRead is a roster's file as it was read.
type rosterRead struct {
	rows  []shiftRow
	found diag.List // said again for each block that uses it, so that each is held back
}

// rosterRows reads a roster's file, once. Where there is no text, spec has said why.
func (r *resolver) rosterRows(ro *spec.Roster, found *diag.List) []shiftRow {
	read, ok := r.rosters[ro]
	if !ok && ro.FileText != nil {
		read = &rosterRead{}
		read.rows = readRoster(ro, &read.found)
	}
	if read == nil {
		return nil
	}
	r.rosters[ro] = read
	found.Add(read.found...)
	return read.rows
}

// shiftRow is a row of a roster's file.
type shiftRow struct {
	date  units.Date
	shift table.Cell
}

// readRoster reads a roster's file: a date and a shift in each row, the dates in order.
func readRoster(ro *spec.Roster, found *diag.List) (out []shiftRow) {
	file, said := table.Open(ro.FileName, ro.FileText, rosterForm)
	found.Add(said...)
	if said.HasErrors() {
		return nil
	}
	dates, shifts := rosterColumns(file, found)
	if dates < 0 || shifts < 0 {
		return nil
	}
	rows, said := file.Rows()
	found.Add(said...)
	problem := func(at diag.Range, summary, detail string) *diag.Diagnostic {
		found.Add(diag.Diagnostic{Code: "roster-value", Severity: diag.Error, Subject: at, Summary: summary, Detail: detail})
		return &(*found)[len(*found)-1]
	}
	places := map[units.Date]diag.Range{}
	var last units.Date
	for _, row := range rows {
		date, shift := row.Cells[dates], row.Cells[shifts]
		d, err := rosterDate(date.Text)
		if err != nil {
			found.Add(wrongDate(date, err))
			continue
		}
		first, twice := places[d]
		switch {
		case twice:
			problem(date.At, fmt.Sprintf("%s stands here twice", d), "A day has one shift. Take one of the two lines out.").Related = []diag.Related{{Message: "the first one", Range: first}}
			continue
		case d < last:
			problem(date.At, fmt.Sprintf("%s stands below %s", d, last), "The days of a roster are written in order. A wrong month or year? Else sort the lines by date.")
		case shift.Text == "":
			problem(row.Range, fmt.Sprintf("%s has no shift", d), "Name the shift of that day, or take the line out: a day that the roster leaves out is a usual day.")
		default:
			out = append(out, shiftRow{d, shift})
		}
		places[d], last = date.At, d
	}
	return out
}

// rosterColumns finds the two columns, -1 where one is missing.
func rosterColumns(file *table.Table, found *diag.List) (dates, shifts int) {
	dates, shifts = -1, -1
	for i, c := range file.Header {
		if _, err := rosterDate(c.Text); err == nil {
			found.Add(file.NoHeader())
			return -1, -1
		}
		switch strings.ToLower(c.Text) {
		case "date":
			dates = i
		case "shift":
			shifts = i
		}
	}
	said := file.Repeated()
	found.Add(said...)
	if said.HasErrors() {
		return -1, -1
	}
	for _, need := range []struct {
		name string
		at   int
	}{{"date", dates}, {"shift", shifts}} {
		if need.at < 0 {
			found.Add(diag.Diagnostic{
				Code: "roster-columns", Severity: diag.Error, Subject: file.Range, Summary: "The roster has no column " + need.name,
				Detail: "Its first line names the columns: date,shift. Others may stand beside them and are not read.",
			})
		}
	}
	return dates, shifts
}

// dotted is a date as the spreadsheets of many countries write it. With dots the day always comes
// first; other signs leave that open, and are an error.
var dotted = regexp.MustCompile(`^\d\d?\.\d\d?\.\d{4}$`)

// rosterDate reads the date of a row: 2026-09-14 or 14.09.2026.
func rosterDate(text string) (units.Date, error) {
	d, err := units.ParseDate(text)
	if e := new(units.Error); dotted.MatchString(text) && errors.As(err, &e) && e.Repair != "" {
		return units.ParseDate(e.Repair)
	}
	return d, err
}

// wrongDate says of a cell that it holds no date.
func wrongDate(c table.Cell, err error) diag.Diagnostic {
	d := diag.Diagnostic{Code: "roster-value", Severity: diag.Error, Subject: c.At, Summary: fmt.Sprintf("date holds %s, which is not a date", table.Quote(c.Text))}
	if e := new(units.Error); errors.As(err, &e) {
		d.Detail = "Expected " + e.Wanted + "."
		if e.Repair != "" {
			d.Detail = fmt.Sprintf("Expected %s: write %s.", e.Wanted, e.Repair)
			d.Fix = &diag.Fix{Title: "Write " + e.Repair, Edits: []diag.Edit{{Range: c.At, Text: e.Repair}}}
		}
	}
	return d
}
