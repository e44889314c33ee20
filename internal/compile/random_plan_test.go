package compile_test

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing/fstest"
	"time"

	"towpath/internal/units"
)

// A drawn plan is one at random, over the whole language: what its text says is kept beside it, so
// that what becomes of the text can be held against it without any of the program's own reading.
type drawn struct {
	*rand.Rand
	start   units.Date
	fixedUp bool // no zone of the plan changes its clocks
	sprints bool // each band allows short sprints
	riders  []*drawnRider
	squads  []*drawnSquad
	blocks  []*drawnBlock
	events  []drawnEvent
	gone    string // the rider who is taken out of all that names several
}

// window is a part of a day that can hold a ride; a day without one is closed.
type window struct {
	minutes, orMinutes int
	at                 int // minutes after midnight, -1 for none
	place, orPlace     string
	easy, commute      bool
}

type drawnDay []window

// habits are what an athlete writes, and a squad's defaults as well.
type habits struct {
	zone             string
	days             [7]drawnDay // Monday first; nil is not written
	on               []drawnDates
	shifts           map[string]drawnDay
	rosters          []drawnRoster
	others           []drawnOther
	travels          []drawnTravel
	device, calendar string
}

type drawnDates struct {
	from, to units.Date
	day      drawnDay
}

type drawnRoster struct {
	from, until units.Date // until 0: it goes on
	days        []string
	file        string
	rows        map[units.Date]string
}

type drawnOther struct {
	label     string
	weekday   time.Weekday
	date      units.Date // 0: on the weekday
	demanding bool
}

type drawnTravel struct {
	from, to units.Date
	zone     string
}

type drawnFixed struct {
	label, session string
	minutes        int
	weekdays       []time.Weekday
	date           units.Date // 0: on the weekdays
	at             int
	place          string
	weeks          []int // nil: all
	athletes       []string
}

type drawnRider struct {
	key string
	habits
	meter, heart bool // has a power meter; heart rate can be used
	fixed        []drawnFixed
	bands        []drawnBand
}

type drawnBand struct {
	label     string
	from      units.Date // 0: from the beginning
	place     string
	low, high float64 // 0 where a test gives them, or nothing does
	topBeat   int     // 0 where nothing gives it
	text      string
}

type drawnSquad struct {
	key      string
	athletes []string
	defaults *habits
	fixed    []drawnFixed
}

type drawnEvent struct {
	key      string
	athletes []string
	date     units.Date
}

type drawnRide struct {
	label, session  string
	low, high       int // per week; high 0: not written
	share           string
	atLeast, atMost int // 0: not written
	weekdays        []time.Weekday
	weeks           []int
	athletes        []string
}

type drawnTest struct {
	label, protocol string
	weeks           []int
	weekday         time.Weekday
}

type drawnPin struct {
	week    int
	weekday time.Weekday
	ride    string // "" where session is named
	session string
	minutes int
}

type drawnBlock struct {
	key              string
	start            units.Date
	weeks, shortest  int // shortest 0: no range
	decide           int
	athletes, squads []string
	volume           drawnVolume
	recovery         []int
	keep             int // per cent
	without          []string
	rides            []drawnRide
	tests            []drawnTest
	pins             []drawnPin
	hours            map[int]int
	fixed            []drawnFixed
	limits           drawnLimits
	others           []drawnFor
}

type drawnVolume struct {
	first, growth, growthShare, atMost int // growthShare in per cent
	takes                              bool
	tolerance                          int // per cent
}

type drawnLimits struct{ restDays, inARow int } // 0: not written

type drawnFor struct {
	athletes []string
	start    units.Date // 0: not written
	fromWeek int
	without  []string
	first    int
	hours    map[int]int
	ride     *drawnRide
	fixed    *drawnFixed
	limits   drawnLimits
}

var weekdayNames = [7]string{"sunday", "monday", "tuesday", "wednesday", "thursday", "friday", "saturday"}

// files are the plan's.
func (p *drawn) files() fstest.MapFS {
	out := fstest.MapFS{"plan/plan.hcl": {Data: []byte(p.text())}}
	add := func(h *habits) {
		for _, r := range h.rosters {
			if r.file == "" {
				continue
			}
			var b strings.Builder
			b.WriteString("date,shift\n")
			for d := r.from; d < r.from+60; d++ {
				if s, ok := r.rows[d]; ok {
					fmt.Fprintf(&b, "%s,%s\n", d, s)
				}
			}
			out["plan/"+r.file] = &fstest.MapFile{Data: []byte(b.String())}
		}
	}
	for _, r := range p.riders {
		add(&r.habits)
	}
	for _, s := range p.squads {
		if s.defaults != nil {
			add(s.defaults)
		}
	}
	return out
}

// without is a list of athletes less the one who is gone.
func (p *drawn) without(list []string) []string {
	return slices.DeleteFunc(slices.Clone(list), func(a string) bool { return a == p.gone })
}

// nobody tells that all of those whom something names are gone.
func (p *drawn) nobody(list []string) bool { return len(list) > 0 && len(p.without(list)) == 0 }

func (d drawnDay) String() string {
	var out []string
	for _, w := range d {
		s := fmt.Sprintf("%d min", w.minutes)
		if w.at >= 0 {
			s += fmt.Sprintf(", %02d:%02d", w.at/60, w.at%60)
		}
		if w.place != "" {
			s += ", " + w.place
			if w.orMinutes > 0 {
				s += fmt.Sprintf(" or %d min %s", w.orMinutes, w.orPlace)
			}
		}
		if w.easy {
			s += ", easy"
		}
		if w.commute {
			s += ", commute"
		}
		out = append(out, fmt.Sprintf("%q", s))
	}
	switch len(out) {
	case 0:
		return `"none"`
	case 1:
		return out[0]
	}
	return "[" + strings.Join(out, ", ") + "]"
}

func weekdayList(days []time.Weekday) string {
	var out []string
	for _, d := range days {
		out = append(out, fmt.Sprintf("%q", weekdayNames[d]))
	}
	return "[" + strings.Join(out, ", ") + "]"
}

func refs(kind string, keys []string) string {
	var out []string
	for _, k := range keys {
		out = append(out, kind+"."+k)
	}
	return "[" + strings.Join(out, ", ") + "]"
}

func intList(n []int) string { return strings.ReplaceAll(fmt.Sprint(n), " ", ", ") }

func textList(s []string) string {
	return strings.ReplaceAll(fmt.Sprintf("%q", s), `" "`, `", "`)
}

// text is the plan as a coach would type it, with little care for its looks.
func (p *drawn) text() string {
	var b strings.Builder
	line := func(format string, args ...any) { fmt.Fprintf(&b, format+"\n", args...) }
	line("language = 1\nid = \"r4nd0m00\"")
	line("session \"hills\" {\ntitle = \"Hills\"\nat_least = \"40 min\"\nat_most = \"2 h\"\nusual = \"70 min\"")
	line("step \"warm_up\" {\nduration = \"10 min\"\nposition = \"below\"\n}\nstep \"work\" {\nduration = \"fill\"\nposition = \"50-100 %%\"\n}\n}")
	for _, r := range p.riders {
		p.writeRider(line, r)
	}
	for _, s := range p.squads {
		if p.nobody(s.athletes) {
			continue
		}
		line("squad %q {\nathletes = %s", s.key, refs("athlete", p.without(s.athletes)))
		if s.defaults != nil {
			line("defaults {")
			s.defaults.write(line)
			line("}")
		}
		for i := range s.fixed {
			p.writeFixed(line, &s.fixed[i])
		}
		line("}")
	}
	for _, e := range p.events {
		if !p.nobody(e.athletes) {
			line("event %q {\nathletes = %s\ndate = %q\nlasts = \"5 h\"\n}", e.key, refs("athlete", p.without(e.athletes)), e.date)
		}
	}
	for _, k := range p.blocks {
		p.writeBlock(line, k)
	}
	return b.String()
}

func (p *drawn) writeRider(line func(string, ...any), r *drawnRider) {
	line("athlete %q {\nborn = 1985\nmass = \"64 kg\"\nbackground = \"regular\"\nrecent = [\"5 h\", \"5 h\", \"5 h\", \"5 h\"]\nlongest = \"3 h\"", r.key)
	line("screening {\non = %q\nallows = \"maximal\"\n}", p.start-30)
	if !r.meter {
		line("power_meter = false")
	}
	if r.heart {
		line("heart_rate {\nresting = \"50 bpm\"\nmaximum = \"185 bpm\"\nfrom = \"measured\"\n}")
	} else {
		line("heart_rate { usable = false }")
	}
	r.write(line)
	for i := range r.fixed {
		p.writeFixed(line, &r.fixed[i])
	}
	line("}")
	for _, b := range r.bands {
		line("%s", b.text)
	}
}

func (h *habits) write(line func(string, ...any)) {
	if h.zone != "" {
		line("time_zone = %q", h.zone)
	}
	if slices.ContainsFunc(h.days[:], func(d drawnDay) bool { return d != nil }) {
		line("days {")
		for i, d := range h.days {
			if d != nil {
				line("%s = %s", weekdayNames[(i+1)%7], d)
			}
		}
		line("}")
	}
	if len(h.on) > 0 {
		line("on = {")
		for _, o := range h.on {
			if o.to > o.from {
				line("\"%s to %s\" = %s", o.from, o.to, o.day)
			} else {
				line("%q = %s", o.from, o.day)
			}
		}
		line("}")
	}
	if h.shifts != nil {
		line("shifts = { early = %s, night = %s, off = %s }", h.shifts["early"], h.shifts["night"], h.shifts["off"])
	}
	for _, r := range h.rosters {
		line("roster {\nfrom = %q", r.from)
		if r.until != 0 {
			line("until = %q", r.until)
		}
		if r.file != "" {
			line("file = %q", r.file)
		}
		if r.days != nil {
			line("days = %s", textList(r.days))
		}
		line("}")
	}
	for _, o := range h.others {
		line("other %q {\nminutes = \"60 min\"", o.label)
		if o.date != 0 {
			line("date = %q", o.date)
		} else {
			line("days = [%q]", weekdayNames[o.weekday])
		}
		if o.demanding {
			line("demand = \"demanding\"")
		}
		line("}")
	}
	for _, t := range h.travels {
		line("travel {\nfrom = %q\nto = %q\ntime_zone = %q\n}", t.from, t.to, t.zone)
	}
	if h.device != "" {
		line("device { %s }", h.device)
	}
	if h.calendar != "" {
		line("calendar { %s }", h.calendar)
	}
}

func (p *drawn) writeFixed(line func(string, ...any), f *drawnFixed) {
	if p.nobody(f.athletes) {
		return
	}
	line("fixed %q {\nsession = session.%s\nminutes = \"%d min\"", f.label, f.session, f.minutes)
	if f.date != 0 {
		line("date = %q", f.date)
	} else {
		line("days = %s", weekdayList(f.weekdays))
	}
	if f.at >= 0 {
		line("at = \"%02d:%02d\"", f.at/60, f.at%60)
	}
	if f.place != "" {
		line("place = %q", f.place)
	}
	if f.weeks != nil {
		line("weeks = %s", intList(f.weeks))
	}
	if f.athletes != nil {
		line("athletes = %s", refs("athlete", p.without(f.athletes)))
	}
	line("}")
}

func (p *drawn) writeRide(line func(string, ...any), r *drawnRide) {
	if p.nobody(r.athletes) {
		return
	}
	line("ride %q {\nsession = session.%s", r.label, r.session)
	if r.high > 0 {
		line("per_week = \"%d-%d\"", r.low, r.high)
	}
	if r.share != "" {
		line("%s", r.share)
	}
	if r.atLeast > 0 {
		line("at_least = \"%d min\"", r.atLeast)
	}
	if r.atMost > 0 {
		line("at_most = \"%d min\"", r.atMost)
	}
	if r.weekdays != nil {
		line("days = %s", weekdayList(r.weekdays))
	}
	if r.weeks != nil {
		line("weeks = %s", intList(r.weeks))
	}
	if r.athletes != nil {
		line("athletes = %s", refs("athlete", p.without(r.athletes)))
	}
	line("}")
}

func writeLimits(line func(string, ...any), l drawnLimits) {
	if l == (drawnLimits{}) {
		return
	}
	line("limits {")
	if l.restDays > 0 {
		line("rest_days = %d", l.restDays)
	}
	if l.inARow > 0 {
		line("riding_days_in_a_row = %d", l.inARow)
	}
	line("}")
}

func (p *drawn) writeBlock(line func(string, ...any), k *drawnBlock) {
	line("block %q {\nstart = %q", k.key, k.start)
	if k.shortest > 0 {
		line("weeks = \"%d-%d\"\ndecide = %d", k.shortest, k.weeks, k.decide)
	} else {
		line("weeks = %d", k.weeks)
	}
	if a := p.without(k.athletes); len(a) > 0 {
		line("athletes = %s", refs("athlete", a))
	}
	if len(k.squads) > 0 && !p.nobody(p.squads[0].athletes) {
		line("squads = %s", refs("squad", k.squads))
	}
	v := k.volume
	line("volume {\nfirst = \"%d min\"", v.first)
	switch {
	case v.growthShare > 0:
		line("growth = \"%d %%\"", v.growthShare)
	case v.growth > 0:
		line("growth = \"%d min\"", v.growth)
	}
	if v.atMost > 0 {
		line("at_most = \"%d min\"", v.atMost)
	}
	if v.takes {
		line("when_short = \"take what fits\"")
	}
	if v.tolerance > 0 {
		line("tolerance = \"%d %%\"", v.tolerance)
	}
	line("}")
	if k.recovery != nil {
		weeks := intList(k.recovery)
		if k.recovery[len(k.recovery)-1] == k.weeks {
			weeks = strings.Replace(weeks, fmt.Sprintf("%d]", k.weeks), `"last"]`, 1)
		}
		line("recovery {\nweeks = %s\nkeep = \"%d %%\"", weeks, k.keep)
		if k.without != nil {
			line("without = %s", textList(k.without))
		}
		line("}")
	}
	for i := range k.rides {
		p.writeRide(line, &k.rides[i])
	}
	for _, t := range k.tests {
		line("test_day %q {\nprotocol = protocol.%s\nweeks = %s\nday = %q\n}", t.label, t.protocol, intList(t.weeks), weekdayNames[t.weekday])
	}
	for i := range k.fixed {
		p.writeFixed(line, &k.fixed[i])
	}
	for n := 1; n <= k.weeks; n++ {
		p.writeWeek(line, n, k.hours, k.pins)
	}
	writeLimits(line, k.limits)
	for _, f := range k.others {
		if p.nobody(f.athletes) {
			continue
		}
		line("for_athlete {\nathletes = %s\nnote = \"Yours.\"", refs("athlete", p.without(f.athletes)))
		if f.start != 0 {
			line("start = %q", f.start)
		}
		if f.fromWeek > 0 {
			line("from_week = %d", f.fromWeek)
		}
		if f.without != nil {
			line("without = %s", textList(f.without))
		}
		if f.first > 0 {
			line("volume { first = \"%d min\" }", f.first)
		}
		for n := 1; n <= k.weeks; n++ {
			p.writeWeek(line, n, f.hours, nil)
		}
		if f.ride != nil {
			p.writeRide(line, f.ride)
		}
		if f.fixed != nil {
			p.writeFixed(line, f.fixed)
		}
		writeLimits(line, f.limits)
		line("}")
	}
	line("}")
}

func (p *drawn) writeWeek(line func(string, ...any), n int, hours map[int]int, pins []drawnPin) {
	h, ok := hours[n]
	pins = slices.DeleteFunc(slices.Clone(pins), func(p drawnPin) bool { return p.week != n })
	if !ok && len(pins) == 0 {
		return
	}
	line("week \"%d\" {", n)
	if ok {
		line("hours = \"%d min\"", h)
	}
	for _, p := range pins {
		what := fmt.Sprintf("ride = %q", p.ride)
		if p.ride == "" {
			what = "session = session." + p.session
		}
		line("%s = { %s, minutes = \"%d min\" }", weekdayNames[p.weekday], what, p.minutes)
	}
	line("}")
}
