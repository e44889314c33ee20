package spec

import (
	"fmt"
	"strconv"
	"time"

	"towpath/internal/units"
)

func (d *decoder) trainingBlock(n *node) *Block {
	d.lastWeek = get[units.Range[int]](n, "weeks").V.High
	b := d.partsOfBlock(n)
	d.checkDecide(n, b)
	for _, c := range n.nodes {
		if c.block.Kind == "for_athlete" {
			b.ForAthletes = append(b.ForAthletes, d.forAthlete(c, n.Label))
		}
	}
	d.checkWeeks(n, b, b)
	d.checkRides(n, b, b)
	d.checkVolume(n, b)
	for _, f := range b.ForAthletes {
		d.checkWeeks(n, b, f.Block)
		d.checkRides(n, b, f.Block)
	}
	n.Broken = n.Broken || anyBroken(n)
	b.Label = n.Label
	return b
}

// partsOfBlock builds a block, or what a for_athlete within it holds of one.
func (d *decoder) partsOfBlock(n *node) *Block {
	weeks := get[units.Range[int]](n, "weeks")
	b := &Block{
		Title:        get[string](n, "title"),
		Aim:          get[string](n, "aim"),
		Note:         get[string](n, "note"),
		Start:        get[units.Date](n, "start"),
		Weeks:        Value[int]{weeks.V.High, weeks.Range, weeks.Set},
		Shortest:     Value[int]{Range: n.Header},
		Decide:       get[int](n, "decide"),
		RidesPerWeek: get[units.Range[int]](n, "rides_per_week"),
		Fixed:        d.fixedRides(n),
	}
	if n.block == &blockBlock { // in for_athlete they are those of whom it is for
		b.Athletes, b.Squads = d.references(n, "athletes"), d.references(n, "squads")
	}
	if weeks.V.Low < weeks.V.High {
		b.Shortest = Value[int]{weeks.V.Low, weeks.Range, true}
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
			b.Waivers = append(b.Waivers, &Waiver{Label: c.Label, Weeks: d.weeks(c, "weeks"), Reason: get[string](c, "reason")})
		}
	}
	return b
}

// forAthlete builds what differs for some of a block's athletes.
func (d *decoder) forAthlete(n *node, of Label) *ForAthlete {
	f := &ForAthlete{
		Range:    n.Header,
		Athletes: d.references(n, "athletes"),
		FromWeek: get[int](n, "from_week"),
		Without:  many[string](n, "without"),
		Block:    d.partsOfBlock(n),
	}
	namedOnce(d, n, f.Without, quoted)
	if len(n.nodes) == 0 && len(n.written) == 1 && n.wrote("athletes") && !n.Broken {
		d.refuse(n, codeOneOf, n.Header, "for_athlete changes nothing", `Write what differs for these riders, such as without = ["upper"] or volume { first = "4 h" }, or take the block out.`)
	}
	n.Broken = n.Broken || anyBroken(n)
	f.Block.Label = of
	f.Block.Broken = n.Broken
	return f
}

func (d *decoder) volume(n *node) *Volume {
	v := &Volume{
		Range:     n.Header,
		First:     get[Amount](n, "first"),
		Growth:    get[Amount](n, "growth"),
		AtMost:    get[units.Duration](n, "at_most"),
		WhenShort: get[string](n, "when_short"),
		Tolerance: get[units.Share](n, "tolerance"),
	}
	if v.First.Set && !v.First.V.IsShare && v.AtMost.Set && v.AtMost.V < v.First.V.Duration {
		d.refuse(n, codeOutOfRange, v.AtMost.Range, fmt.Sprintf("at_most = %s is below first = %s", quoted(v.AtMost.V.String()), quoted(v.First.V.Duration.String())), "Change one of the two.", diagRelated("first stands here", v.First.Range))
	}
	d.shareBounds(n, "tolerance")
	if v.WhenShort.V == "take what fits" && n.wrote("tolerance") {
		d.refuse(n, codeOneOf, n.written["tolerance"], "tolerance says nothing beside when_short = \"take what fits\"", "That takes what fits, however little it is: keep one of the two.", diagRelated("when_short stands here", v.WhenShort.Range))
	}
	d.adds(n, "growth", v.Growth, "Write what each loading week adds; weeks that shrink are written as week \"3\" { hours = … }.")
	return v
}

// adds refuses an addition that takes away.
func (d *decoder) adds(n *node, name string, v Value[Amount], detail string) {
	if v.Set && (v.V.Share < 0 || v.V.Duration < 0) {
		d.refuse(n, codeOutOfRange, v.Range, name+" is below 0", detail)
	}
}

func (d *decoder) recovery(n *node) *Recovery {
	r := &Recovery{
		Range: n.Header,
		Weeks: d.weeks(n, "weeks"),
		Every: get[int](n, "every"),
		Keep:  get[units.Share](n, "keep"),

		Without: many[string](n, "without"),
	}
	for _, c := range n.nodes {
		r.Rides = append(r.Rides, d.ride(c))
	}
	d.exclusive(n, "Name the recovery weeks, or write how often they come.", "weeks", "every")
	if n.block == &recoveryBlock {
		d.needsOne(n, "recovery does not say which weeks", "Write weeks = [4, 8] or every = 4.", "weeks", "every")
	}
	if len(r.Rides) > 0 && n.wrote("without") {
		d.refuse(n, codeOneOf, n.written["without"], "without cannot stand beside rides of its own", "The rides in recovery replace the mix whole: take one of the two out.", diagRelated("the first of these rides", r.Rides[0].Header))
	}
	namedOnce(d, n, r.Without, quoted)
	d.shareBounds(n, "keep")
	return r
}

// shareBounds refuses a share of a whole that is not above 0 and at most 100 %.
func (d *decoder) shareBounds(n *node, name string) {
	if v := get[units.Share](n, name); v.Set && (v.V <= 0 || v.V > 1) {
		d.refuse(n, codeOutOfRange, v.Range, fmt.Sprintf("%s = %s is out of range", name, quoted(v.V.String())), "It is a part of a whole: above 0 %, at most 100 %.")
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
		Weeks:   d.weeks(n, "weeks"),

		Athletes: d.references(n, "athletes"),
	}
	d.exclusive(n, "A ride has a share of the week or its own minutes.", "share", "minutes")
	d.ordered(n, "at_least", "at_most")
	d.shareBounds(n, "share")
	namedOnce(d, n, r.Days, units.WeekdayKey)
	r.Label = n.Label
	return r
}

func (d *decoder) testDay(n *node) *TestDay {
	t := &TestDay{
		Protocol: get[Ref](n, "protocol"),
		Weeks:    d.weeks(n, "weeks"),
		Day:      get[time.Weekday](n, "day"),
		At:       get[units.Clock](n, "at"),
		Place:    get[string](n, "place"),
		Meter:    get[Ref](n, "meter"),
	}
	d.exclusive(n, "Write the one week, or the list of weeks.", "week", "weeks")
	switch one := get[int](n, "week"); {
	case t.Weeks.Set:
	case one.Set:
		t.Weeks = Value[[]int]{[]int{one.V}, one.Range, true}
	case says(n, "week", lastWord) && d.lastWeek > 0:
		t.Weeks = Value[[]int]{[]int{d.lastWeek}, n.place("week"), true}
	}
	d.needsOne(n, fmt.Sprintf("%s does not say in which week", n.title()), `Write week = 8 or weeks = "1-7".`, "week", "weeks")
	t.Label = n.Label
	return t
}

func (d *decoder) week(n *node) *Week {
	w := &Week{
		Number: Value[int]{Range: n.Range},
		Hours:  get[units.Duration](n, "hours"),
		Note:   get[string](n, "note"),
	}
	if n.Key == lastWord && d.lastWeek > 0 {
		n.Key = strconv.Itoa(d.lastWeek)
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
	d.needsOne(n, fmt.Sprintf("The pinned %s does not say what is ridden", units.WeekdayKey(day)), `Write ride = "long", a ride of the mix, or session = session.long_ride.`, "ride", "session")
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
		TwoDays:          get[units.Share](n, "two_days"),
		WhenBroken:       get[string](n, "when_broken"),
	}
	growth := Value[Amount]{Amount{Share: l.WeeklyGrowth.V, IsShare: true}, l.WeeklyGrowth.Range, l.WeeklyGrowth.Set}
	const most = "It is the most that may be added: write 0 or more."
	d.adds(n, "weekly_growth", growth, most)
	d.adds(n, "session_spike", l.SessionSpike, most)
	d.adds(n, "big_weekend", l.BigWeekend, most)
	d.shareBounds(n, "long_share")
	d.shareBounds(n, "two_days")
	if depth := l.RecoveryDepth; depth.Set && (depth.V.Low < 0 || depth.V.High > 1) {
		d.refuse(n, codeOutOfRange, depth.Range, fmt.Sprintf("recovery_depth = %s is out of range", quoted(depth.V.String())), "It is what is taken off a whole: from 0 % to 100 %.")
	}
	return l
}
