package compile_test

import (
	"fmt"
	"math"
	"slices"

	"towpath/internal/plan"
	"towpath/internal/prescription"
	"towpath/internal/units"
)

// holder checks one prescription of a drawn plan, each thing from its definition.
type holder struct {
	*drawn
	*prescription.Prescription
	rider  *drawnRider
	squads []*drawnSquad // of the rider
	shared habits        // of the squad with defaults
	block  *drawnBlock
	own    drawnFor // what the block has for the rider
	start  units.Date
	first  int // the number of the first week
	fault  func(format string, args ...any)
}

func (p *drawn) holderOf(out *prescription.Prescription, fault func(string, ...any)) *holder {
	h := &holder{drawn: p, Prescription: out, first: 1}
	h.fault = func(format string, args ...any) {
		fault("%s/%s: "+format, append([]any{out.Block.Athlete.Key, out.Block.Key}, args...)...)
	}
	for _, r := range p.riders {
		if r.key == out.Block.Athlete.Key {
			h.rider = r
		}
	}
	for _, s := range p.squads {
		if slices.Contains(s.athletes, h.rider.key) {
			if h.squads = append(h.squads, s); s.defaults != nil {
				h.shared = *s.defaults
			}
		}
	}
	for _, k := range p.blocks {
		if k.key == out.Block.Key {
			h.block = k
		}
	}
	h.start = h.block.start
	for _, f := range h.block.others {
		if slices.Contains(f.athletes, h.rider.key) {
			h.own = f
			if f.start != 0 {
				h.start = f.start
			}
			h.first = max(1, f.fromWeek)
		}
	}
	return h
}

// exception is what a date of its own says of a day.
func (h *holder) exception(d units.Date) (drawnDay, bool) {
	for _, on := range slices.Concat(h.rider.on, h.shared.on) {
		if on.from <= d && d <= on.to {
			return on.day, true
		}
	}
	return nil, false
}

// day is what the rider has on a date, and whether only the usual week says so.
func (h *holder) day(d units.Date) (drawnDay, bool) {
	if day, ok := h.exception(d); ok {
		return day, false
	}
	rosters, shifts := h.rider.rosters, h.shared.shifts
	if rosters == nil {
		rosters = h.shared.rosters
	}
	for _, r := range rosters {
		if d < r.from || r.until != 0 && d > r.until {
			continue
		}
		shift, worked := r.rows[d]
		if r.file == "" {
			shift, worked = r.days[d.Sub(r.from)%len(r.days)], true
		}
		if worked {
			if day, ok := h.rider.shifts[shift]; ok {
				return day, false
			}
			return shifts[shift], false
		}
	}
	i := (int(d.Weekday()) + 6) % 7
	if h.rider.days[i] != nil {
		return h.rider.days[i], true
	}
	return h.shared.days[i], true
}

func (w window) most() int { return max(w.minutes, w.orMinutes) }

// holds is the longest ride at a place.
func (w window) holds(place string) int {
	switch {
	case w.orMinutes == 0:
		return w.minutes
	case place == "":
		return w.most()
	case place == w.orPlace:
		return w.orMinutes
	}
	return w.minutes
}

// main is the window for placed sessions.
func (d drawnDay) main() (out window) {
	for _, w := range d {
		if !w.commute && w.most() > out.most() {
			out = w
		}
	}
	return out
}

// room is the longest ride that the day holds at a place, and all the minutes that it has.
func (d drawnDay) room(place string) (longest, all int) {
	for _, w := range d {
		if !w.commute {
			longest, all = max(longest, w.holds(place)), all+w.most()
		}
	}
	return longest, all
}

func (h *holder) travel(d units.Date) string {
	for _, t := range slices.Concat(h.rider.travels, h.shared.travels) {
		if t.from <= d && d <= t.to {
			return t.zone
		}
	}
	return ""
}

func (h *holder) event(d units.Date) bool {
	return slices.ContainsFunc(h.events, func(e drawnEvent) bool { return e.date == d && slices.Contains(e.athletes, h.rider.key) })
}

// demanding tells of demanding sport on a date.
func (h *holder) demanding(d units.Date) bool {
	on := func(o drawnOther) bool {
		return o.demanding && (o.date == d || o.date == 0 && o.weekday == d.Weekday() && h.travel(d) == "")
	}
	return slices.ContainsFunc(h.rider.others, on) || slices.ContainsFunc(h.shared.others, func(o drawnOther) bool {
		mine := slices.ContainsFunc(h.rider.others, func(m drawnOther) bool { return m.label == o.label })
		return !mine && on(o)
	})
}

// fixedRides are those of the rider in the block: the nearest of each label.
func (h *holder) fixedRides() (out []drawnFixed) {
	add := func(list []drawnFixed) {
		nearer := out
		for _, f := range list {
			has := slices.ContainsFunc(nearer, func(o drawnFixed) bool { return o.label == f.label })
			if !has && (f.athletes == nil || slices.Contains(f.athletes, h.rider.key)) && !slices.Contains(h.own.without, f.label) {
				out = append(out, f)
			}
		}
	}
	if h.own.fixed != nil {
		add([]drawnFixed{*h.own.fixed})
	}
	add(h.block.fixed)
	add(h.rider.fixed)
	var squads []drawnFixed // two squads may have a ride of the same label: both are ridden
	for _, s := range h.squads {
		squads = append(squads, s.fixed...)
	}
	add(squads)
	return out
}

// rides is the mix of a week.
func (h *holder) rides(week int) (out []drawnRide) {
	for _, r := range h.block.rides {
		if h.own.ride != nil && h.own.ride.label == r.label {
			r = *h.own.ride
		}
		switch {
		case r.athletes != nil && !slices.Contains(r.athletes, h.rider.key):
		case r.weeks != nil && !slices.Contains(r.weeks, week):
		case slices.Contains(h.own.without, r.label):
		case h.recovers(week) && slices.Contains(h.block.without, r.label):
		default:
			out = append(out, r)
		}
	}
	return out
}

func (h *holder) recovers(week int) bool { return slices.Contains(h.block.recovery, week) }

// light are the sessions of the drawn plans without a step above the lower third.
func light(session string) bool { return session == "recovery_spin" || session == "commute" }

func (h *holder) check() {
	if got := h.Block.Start; got != h.start.Add(7*(h.first-1)) {
		h.fault("begins on %s", got)
	}
	if len(h.Weeks) != h.block.weeks-h.first+1 {
		h.fault("%d weeks from week %d on", len(h.Weeks), h.first)
	}
	h.totals()
	on := map[units.Date][]*prescription.Session{}
	for i := range h.Sessions {
		s := &h.Sessions[i]
		on[s.Date] = append(on[s.Date], s)
		h.session(s)
	}
	for i := range h.Weeks {
		w := &h.Weeks[i]
		start := h.start.Add(7 * (w.Number - 1))
		sum := 0
		for d := start; d < start+7; d++ {
			h.date(w, d, on[d])
			for _, s := range on[d] {
				sum += int(s.Minutes)
				if s.Week != w.Number {
					h.fault("%s of week %d on %s", s.Key, s.Week, d)
				}
			}
			delete(on, d)
		}
		if sum != int(w.Placed) {
			h.fault("week %d says %s, its sessions last %d min", w.Number, w.Placed, sum)
		}
		h.mix(w)
	}
	for d := range on {
		h.fault("a session on %s, outside of the block", d)
	}
	h.restDays()
}

// totals reckons what each week asks.
func (h *holder) totals() {
	v := h.block.volume
	if h.own.first > 0 {
		v.first = h.own.first
	}
	floor5 := func(hundredths int) int { return hundredths / 500 * 5 }
	base := 0
	for i := range h.Weeks {
		w := &h.Weeks[i]
		hours, written := h.own.hours[w.Number]
		if !written {
			hours, written = h.block.hours[w.Number]
		}
		reference := base
		if base == 0 {
			reference = v.first
		}
		want := hours
		switch {
		case written:
		case h.recovers(w.Number):
			want = floor5(reference * h.block.keep)
		case base == 0:
			want = v.first
		default:
			want = floor5(100*(base+v.growth) + base*v.growthShare)
			if v.atMost > 0 {
				want = min(want, v.atMost/5*5)
			}
		}
		cut := want - int(w.Placed)
		switch {
		case int(w.Asked) != want:
			h.fault("week %d asks %s, want %d min", w.Number, w.Asked, want)
		case cut < 0:
			h.fault("week %d holds more than it asks", w.Number)
		case cut > 0 && (!v.takes && 100*cut > want*v.tolerance || len(w.Stated) == 0):
			h.fault("week %d is cut by %d of %d min, stated %q", w.Number, cut, want, w.Stated)
		}
		if !h.recovers(w.Number) && want > 0 && cut == 0 {
			base = want
		}
		if got, want := w.Provisional, h.block.shortest > 0 && w.Number > h.block.shortest; got != want {
			h.fault("week %d provisional: %v", w.Number, got)
		}
		if (w.Kind == plan.Recovery) != h.recovers(w.Number) {
			h.fault("week %d is %s", w.Number, w.Kind)
		}
	}
}

// date looks at all that a date holds.
func (h *holder) date(w *prescription.Week, d units.Date, on []*prescription.Session) {
	day, usual := h.day(d)
	var placed, test *prescription.Session
	ways, apart, sum := map[int]int{}, 0, 0
	for i, s := range on {
		switch {
		case s.Test:
			test = s
			sum += int(s.Minutes)
		case !s.Given:
			if placed != nil {
				h.fault("%s and %s are both placed on %s", placed.Key, s.Key, d)
			}
			placed = s
			sum += int(s.Minutes)
		case s.Fixed == plan.WayToWork:
			ways[int(s.Minutes)]++
		case s.Fixed != "" && usual && len(day) == 0:
			apart++
		default:
			sum += int(s.Minutes)
		}
		for _, o := range on[:i] {
			if !s.Start.IsZero() && !o.Start.IsZero() && s.Start.Minute() < o.Start.Minute()+int(o.Minutes) && o.Start.Minute() < s.Start.Minute()+int(s.Minutes) {
				h.fault("%s and %s at the same time of %s", s.Key, o.Key, d)
			}
		}
	}
	_, all := day.room("")
	if pinnedWay := slices.ContainsFunc(h.block.pins, func(p drawnPin) bool { return p.session == "commute" && h.pinned(p, w.Number, d) }); sum > all && !pinnedWay {
		h.fault("%d min on %s, which holds %d", sum, d, all)
	}
	if placed != nil {
		h.placed(placed, day, d)
		if test != nil {
			h.fault("%s beside %s", placed.Key, test.Key)
		}
	}
	h.givens(w, d, day, usual, on)
}

func (h *holder) pinned(p drawnPin, week int, d units.Date) bool {
	_, dropped := h.mixRide(p.ride, week)
	return p.week == week && p.weekday == d.Weekday() && (p.ride == "" || dropped)
}

func (h *holder) mixRide(label string, week int) (drawnRide, bool) {
	for _, r := range h.rides(week) {
		if r.label == label {
			return r, true
		}
	}
	return drawnRide{}, false
}

func (h *holder) placed(s *prescription.Session, day drawnDay, d units.Date) {
	main := day.main()
	if int(s.Minutes) > main.holds(s.Place) || s.Minutes%5 != 0 || s.Minutes < 30 {
		h.fault("%s of %s on %s, which holds %d min", s.Key, s.Minutes, d, main.minutes)
	}
	if main.at < 0 != s.Start.IsZero() || main.at >= 0 && s.Start.Minute() < main.at {
		h.fault("%s at %s, the window opens at %d", s.Key, s.Start, main.at)
	}
	if s.Place != main.place && s.Place != main.orPlace {
		h.fault("%s is %s, the window %s", s.Key, s.Place, main.place)
	}
	if (main.easy || h.demanding(d) || h.event(d+1)) && !light(s.Session) {
		h.fault("%s on %s, which takes light rides only", s.Key, d)
	}
	if h.event(d) {
		h.fault("%s on the day of an event", s.Key)
	}
	if h.event(d+1) && s.Minutes > 60 {
		h.fault("%s of %s on the day before an event", s.Key, s.Minutes)
	}
	if there := s.Instead; there != nil {
		if main.orMinutes == 0 || there.Place == s.Place || int(there.Minutes) > main.holds(there.Place) || there.Minutes > s.Minutes {
			h.fault("instead of %s %s, %s %s", s.Minutes, s.Place, there.Minutes, there.Place)
		}
		h.targets(there)
	} else if other := min(main.minutes, main.orMinutes); other-h.given(d) >= int(s.Minutes) {
		h.fault("%s has nothing for the other place", s.Key)
	}
	ride, ok := h.mixRide(s.Ride, s.Week)
	if !ok || ride.session != s.Session {
		h.fault("%s is no ride of week %d", s.Key, s.Week)
	}
	if int(s.Minutes) < ride.atLeast || ride.atMost > 0 && int(s.Minutes) > ride.atMost {
		h.fault("%s lasts %s", s.Key, s.Minutes)
	}
	if ride.weekdays != nil && !slices.Contains(ride.weekdays, d.Weekday()) {
		h.fault("%s on a %s", s.Key, d.Weekday())
	}
}

// given are the minutes of a date's given sessions.
func (h *holder) given(d units.Date) (sum int) {
	for _, s := range h.Sessions {
		if s.Date == d && s.Given {
			sum += int(s.Minutes)
		}
	}
	return sum
}

// givens holds a date's given sessions against what is to be given, or to pause.
func (h *holder) givens(w *prescription.Week, d units.Date, day drawnDay, usual bool, on []*prescription.Session) {
	var want []string
	say := func(kind, session string, minutes int) {
		want = append(want, fmt.Sprint(kind, " ", session, " ", minutes))
	}
	tested, pinnedSessions := false, map[string]int{}
	for _, t := range h.block.tests {
		if slices.Contains(t.weeks, w.Number) && t.weekday == d.Weekday() {
			tested = true
			say("test", t.protocol, map[string]int{"standard_ride": 60, "lactate_step": 75, "talk_test": 60}[t.protocol])
		}
	}
	for _, p := range h.block.pins {
		if h.pinned(p, w.Number, d) {
			session := p.session
			if ride, ok := h.mixRide(p.ride, w.Number); ok {
				session = ride.session
			}
			pinnedSessions[session]++
			say("pin", session, p.minutes)
		}
	}
	paused := map[string]int{}
	out := w.Asked == 0 || tested || h.event(d)
	for _, f := range h.fixedRides() {
		room, _ := day.room(f.place)
		easy := !slices.ContainsFunc(day, func(w window) bool { return !w.commute && !w.easy && w.holds(f.place) >= f.minutes })
		switch {
		case f.date != 0 && f.date != d, f.date == 0 && !slices.Contains(f.weekdays, d.Weekday()), f.weeks != nil && !slices.Contains(f.weeks, w.Number):
			continue
		case f.date != 0:
		case out, h.travel(d) != "", pinnedSessions[f.session] > 0, !usual && room < f.minutes,
			h.recovers(w.Number) && slices.Contains(h.block.without, f.label), !usual && easy && !light(f.session):
			paused[f.label]++
			continue
		}
		say(f.label, f.session, f.minutes)
	}
	_, exception := h.exception(d)
	left := pinnedSessions["commute"]
	for _, w := range day {
		switch {
		case !w.commute:
		case out, h.travel(d) != "" && !exception, left > 0:
			left--
			paused[plan.WayToWork]++
		default:
			say(plan.WayToWork, "commute", w.minutes)
		}
	}
	var got []string
	for _, s := range on {
		switch kind := s.Fixed; {
		case !s.Given:
			continue
		case s.Test:
			got = append(got, fmt.Sprint("test ", s.Session, " ", int(s.Minutes)))
		case kind == "":
			got = append(got, fmt.Sprint("pin ", s.Session, " ", int(s.Minutes)))
		default:
			got = append(got, fmt.Sprint(kind, " ", s.Session, " ", int(s.Minutes)))
		}
	}
	slices.Sort(got)
	slices.Sort(want)
	if !slices.Equal(got, want) {
		h.fault("given on %s %s: %q, want %q", d.Weekday(), d, got, want)
	}
	for _, p := range w.Paused {
		if p.Date == d {
			if paused[p.Fixed] == 0 {
				h.fault("%s pauses on %s %s: %s", p.Fixed, d.Weekday(), d, p.Why)
			}
			if paused[p.Fixed]--; paused[p.Fixed] <= 0 || p.Fixed == plan.WayToWork { // the two ways are told together
				delete(paused, p.Fixed)
			}
		}
	}
	if len(paused) > 0 {
		h.fault("not told on %s: %v", d, paused)
	}
}

// mix counts the rides of a week.
func (h *holder) mix(w *prescription.Week) {
	for _, r := range h.rides(w.Number) {
		n := 0
		for _, s := range h.Sessions {
			if s.Week == w.Number && s.Ride == r.label && !s.Given {
				n++
			}
		}
		if r.high > 0 && n > r.high {
			h.fault("%d times %s in week %d", n, r.label, w.Number)
		}
	}
}

// restDays counts riding days: only what is given may be more than the limits allow.
func (h *holder) restDays() {
	l, written := drawnLimits{1, 5}, false
	for _, own := range []drawnLimits{h.block.limits, h.own.limits} {
		if own.restDays > 0 {
			l.restDays = own.restDays
		}
		if own.inARow > 0 {
			l.inARow, written = own.inARow, true
		}
	}
	rides, given, fixed := map[units.Date]bool{}, map[units.Date]bool{}, map[int]map[units.Date]bool{}
	for _, s := range h.Sessions {
		if s.Fixed != "" {
			if fixed[s.Week] == nil {
				fixed[s.Week] = map[units.Date]bool{}
			}
			fixed[s.Week][s.Date] = true
		}
		rides[s.Date] = true
		given[s.Date] = given[s.Date] || s.Given
	}
	for _, days := range fixed { // where fixed rides fill the days, the default gives way
		if !written && len(days) >= 5 {
			l.inARow = max(5, 7-l.restDays)
		}
	}
	for _, e := range h.events {
		if slices.Contains(e.athletes, h.rider.key) {
			rides[e.date], given[e.date] = true, true
		}
	}
	for i := range h.Weeks {
		n, fixed := 0, 0
		for d := h.Weeks[i].Start; d < h.Weeks[i].Start+7; d++ {
			if rides[d] {
				n++
			}
			if given[d] {
				fixed++
			}
		}
		if n > 7-l.restDays && n > fixed {
			h.fault("%d riding days in week %d, %d of them given; %d rest days", n, h.Weeks[i].Number, fixed, l.restDays)
		}
	}
	row, allGiven := 0, true
	for d := h.start; d < h.start.Add(7*h.block.weeks+1); d++ {
		if rides[d] {
			row, allGiven = row+1, allGiven && given[d]
			continue
		}
		if row > l.inARow && !allGiven {
			h.fault("%d riding days in a row until %s, at most %d", row, d-1, l.inARow)
		}
		row, allGiven = 0, true
	}
}

// session looks at what a session says of itself.
func (h *holder) session(s *prescription.Session) {
	zone := h.rider.zone
	if zone == "" {
		zone = h.shared.zone
	}
	if t := h.travel(s.Date); t != "" {
		zone = t
	}
	if s.Zone != zone {
		h.fault("%s on %s by the clock of %q, want %q", s.Key, s.Date, s.Zone, zone)
	}
	if want := h.block.shortest > 0 && s.Week > h.block.shortest; s.Provisional != want {
		h.fault("%s provisional: %v", s.Key, s.Provisional)
	}
	if s.Provisional {
		if got, want := s.DecidedBy, h.start.Add(7*h.block.decide-1); got != want {
			h.fault("%s is decided by %s, want %s", s.Key, got, want)
		}
	}
	h.targets(s)
}

// targets holds each step against the band of the date and the place.
func (h *holder) targets(s *prescription.Session) {
	if got := seconds(s.Steps); got != s.Minutes.Duration() {
		h.fault("%s lasts %s, its steps %s", s.Key, s.Minutes, got)
	}
	b := h.band(s.Date, s.Place)
	top := b.high
	if s.Band != nil && top == 0 {
		top = float64(s.Band.Power.High)
	}
	var walk func(steps []prescription.Step)
	walk = func(steps []prescription.Step) {
		for _, st := range steps {
			walk(st.Steps)
			if p := st.Targets.Power; p != nil {
				switch {
				case !h.rider.meter:
					h.fault("%s asks watts of a rider without a meter", s.Key)
				case st.Over == "" && !s.Test && float64(p.High) > math.Max(top, 1)+1e-6:
					h.fault("%s asks %d W on %s %s, the ceiling is %.1f W", s.Key, p.High, s.Date, s.Place, top)
				case p.Low > p.High || p.Low < 1:
					h.fault("%s asks %d-%d W", s.Key, p.Low, p.High)
				}
			}
			if st.AllOut && !s.Test && (st.Over != "sprints" || st.Duration > 10) {
				h.fault("%s is all out for %s", s.Key, st.Duration)
			}
			if hr := st.Targets.HeartRate; hr != nil {
				if !h.rider.heart || b.topBeat > 0 && hr.High > b.topBeat {
					h.fault("%s asks at most %d bpm, the band ends at %d bpm", s.Key, hr.High, b.topBeat)
				}
			}
		}
	}
	walk(s.Steps)
	for _, a := range s.Allowed {
		if s.Place == "indoor" || s.Test || a.Name == "sprints" || a.Power != nil && b.high > 0 && float64(*a.Power) > b.high*1.15+1e-6 {
			h.fault("%s allows %s above the band", s.Key, a.Name)
		}
	}
}

// band is the rider's on a date at a place: the last of the place that has begun, else the last
// general one.
func (h *holder) band(d units.Date, place string) (out drawnBand) {
	for _, at := range []string{"", place} {
		for _, b := range h.rider.bands {
			if b.place == at && b.from <= d && (b.from >= out.from || out.place != at) {
				out = b
			}
		}
	}
	return out
}
