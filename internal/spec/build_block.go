package spec

import (
	"fmt"
	"slices"
	"strconv"
	"time"

	"towpath/internal/units"
)

func (d *decoder) trainingBlock(n *node) *Block {
	b := &Block{
		Title:        get[string](n, "title"),
		Aim:          get[string](n, "aim"),
		Note:         get[string](n, "note"),
		Athletes:     many[Ref](n, "athletes"),
		Start:        get[units.Date](n, "start"),
		Weeks:        get[int](n, "weeks"),
		RidesPerWeek: get[units.Range[int]](n, "rides_per_week"),
	}
	for i, a := range b.Athletes {
		if slices.ContainsFunc(b.Athletes[:i], func(e Value[Ref]) bool { return e.V == a.V }) {
			d.report(codeDoubleName, a.Range, fmt.Sprintf("%s.%s is named twice", a.V.Kind, a.V.Key), "Name each athlete once.")
			n.Broken = true
		}
	}
	for _, c := range n.nodes {
		switch c.block.Kind {
		case "volume":
			b.Volume = d.volume(c)
		case "recovery":
			b.Recovery = d.recovery(c)
		case "ride":
			b.Rides = append(b.Rides, d.ride(c))
		case "test_day":
			b.TestDays = append(b.TestDays, d.testDay(c))
		case "week":
			b.WeekNotes = append(b.WeekNotes, d.week(c))
		case "limits":
			b.Limits = d.limits(c)
		case "waive":
			b.Waivers = append(b.Waivers, &Waiver{Label: c.Label, Weeks: get[[]int](c, "weeks"), Reason: get[string](c, "reason")})
		}
	}
	d.checkWeeks(n, b)
	d.checkPins(n, b)
	d.checkVolume(n, b)
	n.Broken = n.Broken || anyBroken(n)
	b.Label = n.Label
	return b
}

func (d *decoder) volume(n *node) *Volume {
	v := &Volume{
		Range:     n.Header,
		First:     get[Amount](n, "first"),
		Growth:    get[Amount](n, "growth"),
		AtMost:    get[units.Duration](n, "at_most"),
		WhenShort: get[string](n, "when_short"),
	}
	if v.First.Set && !v.First.V.IsShare && v.AtMost.Set && v.AtMost.V < v.First.V.Duration {
		d.report(codeOutOfRange, v.AtMost.Range, fmt.Sprintf("at_most = %s is below first = %s", quoted(v.AtMost.V.String()), quoted(v.First.V.Duration.String())), "Change one of the two.", diagRelated("first stands here", v.First.Range))
		n.Broken = true
	}
	d.adds(n, "growth", v.Growth, "Write what each loading week adds; weeks that shrink are written as week \"3\" { hours = … }.")
	return v
}

// adds refuses an addition that takes away.
func (d *decoder) adds(n *node, name string, v Value[Amount], detail string) {
	if v.Set && (v.V.Share < 0 || v.V.Duration < 0) {
		d.report(codeOutOfRange, v.Range, name+" is below 0", detail)
		n.Broken = true
	}
}

func (d *decoder) recovery(n *node) *Recovery {
	r := &Recovery{
		Range: n.Header,
		Weeks: get[[]int](n, "weeks"),
		Every: get[int](n, "every"),
		Keep:  get[units.Share](n, "keep"),
	}
	for _, c := range n.nodes {
		r.Rides = append(r.Rides, d.ride(c))
	}
	d.exclusive(n, "Name the recovery weeks, or write how often they come.", "weeks", "every")
	if !n.wrote("weeks") && !n.wrote("every") && !n.Broken {
		d.report(codeOneOf, n.Header, "recovery does not say which weeks", "Write weeks = [4, 8] or every = 4.")
		n.Broken = true
	}
	d.shareBounds(n, "keep")
	return r
}

// shareBounds refuses a share of a whole that is not above 0 and at most 100 %.
func (d *decoder) shareBounds(n *node, name string) {
	if v := get[units.Share](n, name); v.Set && (v.V <= 0 || v.V > 1) {
		d.report(codeOutOfRange, v.Range, fmt.Sprintf("%s = %s is out of range", name, quoted(v.V.String())), "It is a part of a whole: above 0 %, at most 100 %.")
		n.Broken = true
	}
}

func (d *decoder) ride(n *node) *Ride {
	r := &Ride{
		Session: get[Ref](n, "session"),
		PerWeek: get[units.Range[int]](n, "per_week"),
		Share:   get[units.Share](n, "share"),
		Rest:    says(n, "share", "rest"),
		Minutes: get[units.Duration](n, "minutes"),
		AtLeast: get[units.Duration](n, "at_least"),
		AtMost:  get[units.Duration](n, "at_most"),
		Days:    many[time.Weekday](n, "days"),
		Weeks:   get[[]int](n, "weeks"),
	}
	d.exclusive(n, "A ride has a share of the week or its own minutes.", "share", "minutes")
	d.ordered(n, "at_least", "at_most")
	d.shareBounds(n, "share")
	for i, day := range r.Days {
		if slices.ContainsFunc(r.Days[:i], func(e Value[time.Weekday]) bool { return e.V == day.V }) {
			d.report(codeDoubleName, day.Range, fmt.Sprintf("days names %s twice", units.WeekdayKey(day.V)), "Name each day once.")
			n.Broken = true
		}
	}
	r.Label = n.Label
	return r
}

func (d *decoder) testDay(n *node) *TestDay {
	t := &TestDay{
		Protocol: get[Ref](n, "protocol"),
		Weeks:    get[[]int](n, "weeks"),
		Day:      get[time.Weekday](n, "day"),
		At:       get[units.Clock](n, "at"),
		Place:    get[string](n, "place"),
		Meter:    get[Ref](n, "meter"),
	}
	d.exclusive(n, "Write the one week, or the list of weeks.", "week", "weeks")
	if one := get[int](n, "week"); one.Set && !t.Weeks.Set {
		t.Weeks = Value[[]int]{[]int{one.V}, one.Range, true}
	}
	if !n.wrote("week") && !n.wrote("weeks") && !n.Broken {
		d.report(codeOneOf, n.Header, fmt.Sprintf("%s does not say in which week", n.title()), `Write week = 8 or weeks = "1-7".`)
		n.Broken = true
	}
	t.Label = n.Label
	return t
}

func (d *decoder) week(n *node) *Week {
	w := &Week{
		Number: Value[int]{Range: n.Range},
		Hours:  get[units.Duration](n, "hours"),
		Note:   get[string](n, "note"),
	}
	if number, err := strconv.Atoi(n.Key); err == nil && number >= 1 {
		w.Number.V, w.Number.Set = number, true
	}
	for _, day := range units.Weekdays {
		for _, it := range get[[]item](n, units.WeekdayKey(day)).V {
			if row, ok := it.v.(*node); ok {
				w.Pins = append(w.Pins, d.pin(row, day))
				n.Broken = n.Broken || row.Broken
			}
		}
	}
	w.Label = n.Label
	return w
}

func (d *decoder) pin(n *node, day time.Weekday) Pin {
	p := Pin{
		Day:     day,
		Range:   n.Header,
		Ride:    get[string](n, "ride"),
		Session: get[Ref](n, "session"),
		Minutes: get[units.Duration](n, "minutes"),
		At:      get[units.Clock](n, "at"),
		Note:    get[string](n, "note"),
	}
	d.exclusive(n, "A pinned day names a ride of the mix, or a session outside of it.", "ride", "session")
	if !n.wrote("ride") && !n.wrote("session") && !n.Broken {
		d.report(codeOneOf, n.Header, fmt.Sprintf("The pinned %s does not say what is ridden", units.WeekdayKey(day)), `Write ride = "long", a ride of the mix, or session = session.long_ride.`)
		n.Broken = true
	}
	return p
}

// limits refuses what no block could be held to.
func (d *decoder) limits(n *node) *Limits {
	l := &Limits{
		Range:            n.Header,
		WeeklyGrowth:     get[units.Share](n, "weekly_growth"),
		StartVolume:      get[units.Duration](n, "start_volume"),
		SessionSpike:     get[Amount](n, "session_spike"),
		LongShare:        get[units.Share](n, "long_share"),
		BigWeekend:       get[Amount](n, "big_weekend"),
		LongDaysApart:    get[bool](n, "long_days_apart"),
		RestDays:         get[int](n, "rest_days"),
		RidingDaysInARow: get[int](n, "riding_days_in_a_row"),
		LoadingWeeks:     get[int](n, "loading_weeks"),
		RecoveryDepth:    get[units.Range[units.Share]](n, "recovery_depth"),
	}
	growth := Value[Amount]{Amount{Share: l.WeeklyGrowth.V, IsShare: true}, l.WeeklyGrowth.Range, l.WeeklyGrowth.Set}
	const most = "It is the most that may be added: write 0 or more."
	d.adds(n, "weekly_growth", growth, most)
	d.adds(n, "session_spike", l.SessionSpike, most)
	d.adds(n, "big_weekend", l.BigWeekend, most)
	d.shareBounds(n, "long_share")
	if depth := l.RecoveryDepth; depth.Set && (depth.V.Low < 0 || depth.V.High > 1) {
		d.report(codeOutOfRange, depth.Range, fmt.Sprintf("recovery_depth = %s is out of range", quoted(depth.V.String())), "It is what is taken off a whole: from 0 % to 100 %.")
		n.Broken = true
	}
	return l
}

// checkWeeks refuses week numbers beyond the block's end.
func (d *decoder) checkWeeks(n *node, b *Block) {
	if !b.Weeks.Set {
		return
	}
	check := func(weeks Value[[]int]) {
		if !weeks.Set || len(weeks.V) == 0 {
			return
		}
		if last := weeks.V[len(weeks.V)-1]; last > b.Weeks.V {
			d.report(codeOutOfRange, weeks.Range, fmt.Sprintf("The block has no week %d", last), fmt.Sprintf("It has weeks 1 to %d. Name one of these, or let the block last longer.", b.Weeks.V), diagRelated("its weeks stand here", b.Weeks.Range))
			n.Broken = true
		}
	}
	for _, r := range b.Rides {
		check(r.Weeks)
	}
	for _, t := range b.TestDays {
		check(t.Weeks)
	}
	for _, w := range b.Waivers {
		check(w.Weeks)
	}
	for _, w := range b.WeekNotes {
		check(Value[[]int]{[]int{w.Number.V}, w.Number.Range, w.Number.Set})
	}
	if r := b.Recovery; r != nil {
		check(r.Weeks)
		for _, ride := range r.Rides {
			check(ride.Weeks)
		}
	}
}

// checkPins refuses a pinned ride that is not in the mix.
func (d *decoder) checkPins(n *node, b *Block) {
	var rides []string
	for _, r := range b.Rides {
		rides = append(rides, r.Key)
	}
	if b.Recovery != nil {
		for _, r := range b.Recovery.Rides {
			rides = append(rides, r.Key)
		}
	}
	known := map[string]bool{}
	for _, r := range rides {
		known[r] = true
	}
	for _, w := range b.WeekNotes {
		for _, p := range w.Pins {
			if !p.Ride.Set || known[p.Ride.V] || d.lostRide(n) {
				continue
			}
			near := d.nearest(p.Ride.V, rides)
			diagnostic := d.diagnostic(codeUnknownRef, p.Ride.Range, fmt.Sprintf("The mix has no ride %s", quoted(p.Ride.V)), didYouMean(near))
			if len(rides) > 0 {
				diagnostic.Detail += "The block has " + some(rides) + "."
			} else {
				diagnostic.Detail += "The block has no ride yet; session = session.long_ride pins one outside of the mix."
			}
			if near != "" && string(d.source(p.Ride.Range)) == quoted(p.Ride.V) {
				diagnostic.Fix = replace("Write "+quoted(near), p.Ride.Range, quoted(near))
			}
			d.diags.Add(diagnostic)
			n.Broken = true
		}
	}
}

// lostRide tells whether the block may hold a ride whose block or label could not be read.
func (d *decoder) lostRide(n *node) bool {
	for _, c := range n.nodes {
		if c.block == &rideBlock && c.Key == "" {
			return true
		}
	}
	return false
}

// checkVolume wants hours for every week: from volume, or week by week.
func (d *decoder) checkVolume(n *node, b *Block) {
	if b.Volume != nil || !b.Weeks.Set || n.Broken || anyBroken(n) {
		return
	}
	for week := 1; week <= b.Weeks.V; week++ {
		written := slices.ContainsFunc(b.WeekNotes, func(w *Week) bool { return w.Number.V == week && w.Hours.Set })
		if !written {
			d.report(codeMissingBlock, n.Header, fmt.Sprintf("%s does not say how many hours week %d has", n.title(), week), `Write volume { first = "5 h" }, or hours for each week.`)
			n.Broken = true
			return
		}
	}
}
