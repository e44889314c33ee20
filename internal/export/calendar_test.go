package export

import (
	"bytes"
	"fmt"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"pgregory.net/rapid"

	"towpath/internal/prescription"
	"towpath/internal/record"
	"towpath/internal/units"
	"towpath/internal/zone"
)

// The reader of this file follows RFC 5545 to the letter and shares nothing with the writer: what
// the writer makes is read back by the standard's own words.

// line is a content line (section 3.1).
type line struct {
	name   string
	params map[string]string
	value  string
}

// vcomponent is a component with its lines and inner components (section 3.6).
type vcomponent struct {
	name  string
	lines []line
	inner []*vcomponent
}

func (c *vcomponent) all(name string) (values []line) {
	for _, l := range c.lines {
		if l.name == name {
			values = append(values, l)
		}
	}
	return values
}

func (c *vcomponent) value(name string) string {
	if all := c.all(name); len(all) > 0 {
		return all[0].value
	}
	return ""
}

func (c *vcomponent) components(name string) (out []*vcomponent) {
	for _, in := range c.inner {
		if in.name == name {
			out = append(out, in)
		}
	}
	return out
}

var contentLine = regexp.MustCompile(`^([A-Z][A-Z0-9-]*)((?:;[A-Z][A-Z0-9-]*=[A-Za-z0-9+/_.-]+)*):(.*)$`)

// readCalendar parses and checks a calendar.
func readCalendar(data []byte) (*vcomponent, error) {
	text := string(data)
	if !utf8.ValidString(text) {
		return nil, fmt.Errorf("not UTF-8")
	}
	if !strings.HasSuffix(text, "\r\n") {
		return nil, fmt.Errorf("the last line has no end")
	}
	var logical []string
	for n, l := range strings.Split(strings.TrimSuffix(text, "\r\n"), "\r\n") {
		if len(l) > 75 { // section 3.1: octets, without the line break
			return nil, fmt.Errorf("line %d has %d octets", n+1, len(l))
		}
		for _, r := range l {
			if r < ' ' || r == 0x7F || r >= 0x80 && r < 0xA0 { // section 3.1, VALUE-CHAR; no HTAB from us
				return nil, fmt.Errorf("line %d holds the control character %U", n+1, r)
			}
		}
		switch {
		case strings.HasPrefix(l, " ") && len(logical) > 0:
			logical[len(logical)-1] += l[1:]
		case l == "":
			return nil, fmt.Errorf("line %d is empty", n+1)
		default:
			logical = append(logical, l)
		}
	}
	root := &vcomponent{}
	stack := []*vcomponent{root}
	for _, l := range logical {
		m := contentLine.FindStringSubmatch(l)
		if m == nil {
			return nil, fmt.Errorf("no content line: %q", l)
		}
		top := stack[len(stack)-1]
		switch m[1] {
		case "BEGIN":
			c := &vcomponent{name: m[3]}
			top.inner = append(top.inner, c)
			stack = append(stack, c)
		case "END":
			if top.name != m[3] {
				return nil, fmt.Errorf("END:%s closes %s", m[3], top.name)
			}
			stack = stack[:len(stack)-1]
		default:
			params := map[string]string{}
			for _, p := range strings.Split(m[2], ";")[1:] {
				k, v, _ := strings.Cut(p, "=")
				params[k] = v
			}
			top.lines = append(top.lines, line{m[1], params, m[3]})
		}
	}
	if len(stack) != 1 || len(root.inner) != 1 || len(root.lines) != 0 || root.inner[0].name != "VCALENDAR" {
		return nil, fmt.Errorf("not one VCALENDAR")
	}
	return root.inner[0], checkCalendar(root.inner[0])
}

// checkCalendar holds the counts of sections 3.6, 3.6.1 and 3.6.5.
func checkCalendar(cal *vcomponent) error {
	if err := counts(cal, map[string][2]int{"PRODID": {1, 1}, "VERSION": {1, 1}, "CALSCALE": {0, 1}, "METHOD": {0, 0}}); err != nil {
		return err
	}
	for _, l := range append(cal.all("NAME"), cal.all("X-WR-CALNAME")...) {
		if _, err := unescape(l.value); err != nil {
			return fmt.Errorf("%s: %w", l.name, err)
		}
	}
	zones := map[string]bool{}
	for _, z := range cal.components("VTIMEZONE") {
		if err := counts(z, map[string][2]int{"TZID": {1, 1}}); err != nil {
			return err
		}
		if zones[z.value("TZID")] {
			return fmt.Errorf("two VTIMEZONE of %s", z.value("TZID"))
		}
		zones[z.value("TZID")] = true
		if len(z.inner) == 0 {
			return fmt.Errorf("VTIMEZONE %s is empty", z.value("TZID"))
		}
		for _, o := range z.inner {
			if o.name != "STANDARD" && o.name != "DAYLIGHT" {
				return fmt.Errorf("a %s in a VTIMEZONE", o.name)
			}
			if err := counts(o, map[string][2]int{"DTSTART": {1, 1}, "TZOFFSETFROM": {1, 1}, "TZOFFSETTO": {1, 1}, "RRULE": {0, 1}, "RDATE": {0, 0}}); err != nil {
				return err
			}
		}
	}
	uids := map[string]bool{}
	for _, e := range cal.components("VEVENT") {
		if err := counts(e, map[string][2]int{
			"UID": {1, 1}, "DTSTAMP": {1, 1}, "DTSTART": {1, 1}, "SEQUENCE": {1, 1}, "SUMMARY": {1, 1}, "DESCRIPTION": {1, 1},
			"STATUS": {1, 1}, "TRANSP": {1, 1}, "LAST-MODIFIED": {0, 1}, "DTEND": {0, 1}, "DURATION": {0, 1}, "RRULE": {0, 0},
		}); err != nil {
			return err
		}
		if len(e.all("DTEND"))+len(e.all("DURATION")) != 1 {
			return fmt.Errorf("event %s has not one end", e.value("UID"))
		}
		if uids[e.value("UID")] {
			return fmt.Errorf("two events %s", e.value("UID"))
		}
		uids[e.value("UID")] = true
		for _, l := range append(e.all("DTSTART"), e.all("DTEND")...) {
			if id, ok := l.params["TZID"]; ok && !zones[id] {
				return fmt.Errorf("TZID %s has no VTIMEZONE", id)
			}
		}
		for _, l := range e.lines {
			if slices.Contains([]string{"SUMMARY", "DESCRIPTION", "CATEGORIES", "LOCATION"}, l.name) {
				if _, err := unescape(l.value); err != nil {
					return fmt.Errorf("%s of %s: %w", l.name, e.value("UID"), err)
				}
			}
		}
	}
	return nil
}

func counts(c *vcomponent, want map[string][2]int) error {
	for name, n := range want {
		if got := len(c.all(name)); got < n[0] || got > n[1] {
			return fmt.Errorf("%s has %d %s", c.name, got, name)
		}
	}
	return nil
}

// unescape reads a TEXT value (section 3.3.11).
func unescape(s string) (string, error) {
	var b strings.Builder
	for i := 0; i < len(s); i++ {
		switch s[i] {
		case ',', ';':
			return "", fmt.Errorf("a bare %c in %q", s[i], s)
		case '\\':
			i++
			if i == len(s) || !strings.ContainsRune(`\;,nN`, rune(s[i])) {
				return "", fmt.Errorf("a lone backslash in %q", s)
			}
			if s[i] == 'n' || s[i] == 'N' {
				b.WriteByte('\n')
			} else {
				b.WriteByte(s[i])
			}
		default:
			b.WriteByte(s[i])
		}
	}
	return b.String(), nil
}

// instantOf reads a DATE-TIME with the VTIMEZONE of the file alone (section 3.6.5).
func instantOf(t testing.TB, cal *vcomponent, l line) time.Time {
	t.Helper()
	if at, err := time.Parse("20060102T150405Z", l.value); err == nil {
		return at
	}
	local, err := time.Parse("20060102T150405", l.value)
	if err != nil {
		t.Fatal(err)
	}
	for _, z := range cal.components("VTIMEZONE") {
		if z.value("TZID") == l.params["TZID"] {
			return local.Add(-offsetOf(t, z, local))
		}
	}
	t.Fatalf("no VTIMEZONE for %v", l)
	return local
}

// offsetOf finds the latest onset at or before a local time among the observances of a zone.
func offsetOf(t testing.TB, z *vcomponent, local time.Time) time.Duration {
	t.Helper()
	var latest time.Time
	var offset time.Duration
	for _, o := range z.inner {
		start, err := time.Parse("20060102T150405", o.value("DTSTART"))
		if err != nil {
			t.Fatal(err)
		}
		for _, onset := range onsets(t, start, o.value("RRULE"), local.Year()) {
			if !onset.After(local) && !onset.Before(latest) {
				latest, offset = onset, utcOffset(t, o.value("TZOFFSETTO"))
			}
		}
	}
	if latest.IsZero() {
		t.Fatalf("no observance of %s covers %s", z.value("TZID"), local)
	}
	return offset
}

var ruleForm = regexp.MustCompile(`^FREQ=YEARLY;BYMONTH=(\d+);BYDAY=(-1|[1-5])(SU|MO|TU|WE|TH|FR|SA)$`)

func onsets(t testing.TB, start time.Time, rule string, lastYear int) []time.Time {
	t.Helper()
	if rule == "" {
		return []time.Time{start}
	}
	m := ruleForm.FindStringSubmatch(rule)
	if m == nil {
		t.Fatalf("unexpected rule %q", rule)
	}
	var month, nth int
	fmt.Sscan(m[1], &month)
	fmt.Sscan(m[2], &nth)
	weekday := time.Weekday(slices.Index([]string{"SU", "MO", "TU", "WE", "TH", "FR", "SA"}, m[3]))
	var out []time.Time
	for year := start.Year(); year <= lastYear; year++ {
		var days []time.Time
		for d := time.Date(year, time.Month(month), 1, start.Hour(), start.Minute(), start.Second(), 0, time.UTC); d.Month() == time.Month(month); d = d.AddDate(0, 0, 1) {
			if d.Weekday() == weekday {
				days = append(days, d)
			}
		}
		if nth < 0 {
			out = append(out, days[len(days)-1])
		} else {
			out = append(out, days[nth-1])
		}
	}
	return out
}

func utcOffset(t testing.TB, s string) time.Duration {
	t.Helper()
	var h, m int
	if _, err := fmt.Sscanf(s[1:], "%2d%2d", &h, &m); err != nil {
		t.Fatalf("offset %q: %v", s, err)
	}
	d := time.Duration(h)*time.Hour + time.Duration(m)*time.Minute
	if s[0] == '-' {
		return -d
	}
	return d
}

func calendarOf(t testing.TB, p *prescription.Prescription, rec *record.Athlete) *vcomponent {
	t.Helper()
	var buf bytes.Buffer
	if err := Calendar(&buf, p, rec); err != nil {
		t.Fatal(err)
	}
	cal, err := readCalendar(buf.Bytes())
	if err != nil {
		t.Fatalf("%v in\n%s", err, buf.String())
	}
	return cal
}

// Zones with half hours, southern summers, a winter that is the exception (Dublin), no change at
// all, changes by the moon (Casablanca), and rules that no nth weekday describes (Santiago).
var someZones = []string{
	"Europe/Lisbon", "Europe/Dublin", "America/New_York", "America/Santiago", "America/St_Johns", "Africa/Casablanca",
	"Asia/Kolkata", "Asia/Kathmandu", "Australia/Lord_Howe", "Pacific/Chatham", "Asia/Gaza", "UTC",
}

// yearIn is a year of Sundays, when clocks change, in a zone: each at another hour, at noon where
// clocks leave that hour out or show it twice.
func yearIn(t testing.TB, name string) (*prescription.Prescription, *time.Location) {
	t.Helper()
	loc, err := zone.Load(name)
	if err != nil {
		t.Fatal(err)
	}
	p := spring()
	p.Sessions = nil
	for week := range 52 {
		s := steadySession(units.NewDate(2026, 1, 4).Add(7 * week))
		s.UID, s.Zone, s.Start = fmt.Sprintf("%08d-0000-5000-8000-000000000000", week), name, units.NewClock(week%24, 30)
		if _, ok := s.Date.At(s.Start, loc); !ok {
			s.Start = units.NewClock(12, 30)
		}
		p.Sessions = append(p.Sessions, s)
	}
	return p, loc
}

func TestInstantsInTwelveZones(t *testing.T) {
	for _, name := range someZones {
		p, loc := yearIn(t, name)
		cal := calendarOf(t, p, nil)
		for i, e := range cal.components("VEVENT") {
			want, _ := p.Sessions[i].Date.At(p.Sessions[i].Start, loc)
			got := instantOf(t, cal, e.all("DTSTART")[0])
			if !got.Equal(want) {
				t.Errorf("%s: event %d starts at %s, want %s", name, i, got, want.UTC())
			}
			if ends := e.all("DTEND"); len(ends) == 1 {
				if end := instantOf(t, cal, ends[0]); !end.Equal(want.Add(75 * time.Minute)) {
					t.Errorf("%s: event %d ends at %s, want %s", name, i, end, want.Add(75*time.Minute).UTC())
				}
			} else if e.value("DURATION") != "PT75M" {
				t.Errorf("%s: event %d lasts %s", name, i, e.value("DURATION"))
			}
		}
	}
}

// Every zone of the world ends its list of changes: Go's ZoneBounds stands still at the end of a
// leap year.
func TestObservancesOfEveryZone(t *testing.T) {
	for _, name := range zone.Names() {
		loc, err := zone.Load(name)
		if err != nil {
			t.Fatal(err)
		}
		first := time.Date(2026, 1, 4, 0, 0, 0, 0, time.UTC)
		for _, o := range observances(loc, first, first.AddDate(1, 0, 0)) {
			if o.rule == "" && o.from == o.to && o.daylight {
				t.Errorf("%s: summer without a change", name)
			}
		}
	}
}

func TestHoursThatClocksSkipOrRepeat(t *testing.T) {
	for _, c := range []struct {
		date units.Date
		at   units.Clock
	}{
		{units.NewDate(2026, 3, 29), units.NewClock(1, 30)},  // missing in Lisbon
		{units.NewDate(2026, 10, 25), units.NewClock(1, 30)}, // twice
	} {
		p := spring()
		p.Sessions[0].Date, p.Sessions[0].Start = c.date, c.at
		err := Calendar(&bytes.Buffer{}, p, nil)
		if err == nil || !strings.Contains(err.Error(), c.at.String()) {
			t.Errorf("a start at %s on %s: %v", c.at, c.date, err)
		}
	}
	// An end in a repeated hour is written as a duration.
	p := spring()
	p.Sessions[0].Date, p.Sessions[0].Start = units.NewDate(2026, 10, 25), units.NewClock(0, 15)
	e := calendarOf(t, p, nil).components("VEVENT")[0]
	if e.value("DURATION") != "PT75M" || e.value("DTEND") != "" {
		t.Errorf("end %q, duration %q", e.value("DTEND"), e.value("DURATION"))
	}
	p.Sessions[0].Zone = "Local"
	if err := Calendar(&bytes.Buffer{}, p, nil); err == nil {
		t.Error("the machine's own zone was accepted")
	}
}

func TestCalendarDetails(t *testing.T) {
	p := spring()
	rec := &record.Athlete{Sessions: []record.Session{{UID: p.Sessions[2].UID, Sequence: 4, RevisedAt: "2026-03-20T08:00:00+01:00"}}}
	events := calendarOf(t, p, rec).components("VEVENT")
	if len(events) != len(p.Sessions) {
		t.Fatalf("%d events for %d sessions", len(events), len(p.Sessions))
	}
	for _, c := range []struct {
		event      int
		name, want string
	}{
		{0, "SEQUENCE", "0"},
		{0, "DTSTAMP", "20000101T000000Z"},
		{0, "LAST-MODIFIED", ""},
		{0, "TRANSP", "OPAQUE"},
		{0, "SUMMARY", "75 min steady · 117-128 W"},
		{0, "LOCATION", "outdoor"},
		{2, "SEQUENCE", "4"},
		{2, "DTSTAMP", "20260320T070000Z"},
		{2, "LAST-MODIFIED", "20260320T070000Z"},
		{3, "DTSTART", "20260329"},
		{3, "DTEND", "20260330"},
		{3, "TRANSP", "TRANSPARENT"},
	} {
		if got := events[c.event].value(c.name); got != c.want {
			t.Errorf("event %d: %s is %q, want %q", c.event, c.name, got, c.want)
		}
	}
	rec.Sessions[0].RevisedAt = "yesterday"
	if err := Calendar(&bytes.Buffer{}, p, rec); err == nil {
		t.Error("a record without a time was accepted")
	}
}

// The days of a block moved by a week move the events by a week and change nothing else.
func TestMovedByAWeek(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		weeks := rapid.IntRange(1, 30).Draw(rt, "weeks")
		p := spring()
		before := calendarOf(t, p, nil).components("VEVENT")
		for i := range p.Sessions {
			p.Sessions[i].Date = p.Sessions[i].Date.Add(7 * weeks)
		}
		for i, e := range calendarOf(t, p, nil).components("VEVENT") {
			was, _ := time.Parse("20060102", before[i].value("DTSTART")[:8])
			is, _ := time.Parse("20060102", e.value("DTSTART")[:8])
			if is.Sub(was) != time.Duration(weeks)*7*24*time.Hour || e.value("UID") != before[i].value("UID") ||
				e.value("DESCRIPTION") != before[i].value("DESCRIPTION") || e.value("DTSTART")[8:] != before[i].value("DTSTART")[8:] {
				rt.Fatalf("event %d changed beyond its date", i)
			}
		}
	})
}
