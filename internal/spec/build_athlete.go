package spec

import (
	"fmt"

	"towpath/internal/units"
)

func (d *decoder) athlete(n *node) *Athlete {
	a := d.person(n)
	if c := n.child("heart_rate"); c != nil {
		a.HeartRate = d.heartRate(c)
	}
	a.Fixed = d.fixedRides(n)
	n.Broken = n.Broken || anyBroken(n)
	a.Label = n.Label
	return a
}

// person builds an athlete, or the defaults of a squad, which hold a part of what an athlete can.
func (d *decoder) person(n *node) *Athlete {
	a := &Athlete{
		Name:          get[string](n, "name"),
		Born:          get[int](n, "born"),
		Sex:           get[string](n, "sex"),
		Mass:          get[units.Mass](n, "mass"),
		TimeZone:      get[string](n, "time_zone"),
		Background:    get[string](n, "background"),
		Recent:        many[units.Duration](n, "recent"),
		RecentSet:     n.wrote("recent"),
		RecentRange:   n.place("recent"),
		RecentUntil:   get[units.Date](n, "recent_until"),
		Longest:       get[units.Duration](n, "longest"),
		PowerMeter:    get[bool](n, "power_meter"),
		GuardianAgree: get[bool](n, "guardian_consent"),
		ByClinician:   get[bool](n, "led_by_clinician"),
	}
	for _, p := range get[[]pair](n, "meters").V {
		if place, ok := p.key.v.(string); ok {
			ref, _ := p.value.v.(Ref)
			a.Meters = append(a.Meters, PlaceMeter{place, Value[Ref]{ref, p.value.at, true}})
		}
	}
	a.On = d.datedDays(n)
	for _, p := range get[[]pair](n, "shifts").V {
		key, ok := p.key.v.(string)
		day, ok2 := p.value.v.(Day)
		if ok && ok2 {
			a.Shifts = append(a.Shifts, Shift{Value[string]{key, p.key.at, true}, Value[Day]{day, p.value.at, true}})
		}
	}
	for i := range a.Days {
		a.Days[i].Range = n.Header
	}
	for _, c := range n.nodes {
		switch c.block.Kind {
		case "days":
			a.DaysBlock = c.Header
			for i, day := range units.Weekdays {
				a.Days[i] = get[Day](c, units.WeekdayKey(day))
			}
		case "screening":
			a.Screening = d.screening(c)
		case "roster":
			a.Rosters = append(a.Rosters, d.roster(c))
		case "travel":
			a.Travels = append(a.Travels, d.travel(c))
		case "other":
			a.Other = append(a.Other, d.other(c))
		case "device":
			a.Device = &Device{
				Range:     c.Header,
				Leads:     get[string](c, "leads"),
				Letters:   get[string](c, "letters"),
				MostSteps: get[int](c, "most_steps"),
				HeartRate: get[bool](c, "heart_rate"),
			}
		case "calendar":
			a.Calendar = &Calendar{Range: c.Header, Hours: get[bool](c, "hours"), Reminder: get[units.Duration](c, "reminder")}
		}
	}
	return a
}

func (d *decoder) heartRate(n *node) *HeartRate {
	h := &HeartRate{
		Range:    n.Header,
		Resting:  get[units.HeartRate](n, "resting"),
		Maximum:  get[units.HeartRate](n, "maximum"),
		FromTest: get[Ref](n, "from"),
		Usable:   get[bool](n, "usable"),
		From:     Value[string]{Range: n.place("from")},
	}
	switch it := n.items["from"]; {
	case it.word:
		h.From.V, h.From.Set = it.v.(string)
	case h.FromTest.Set:
		h.From = Value[string]{h.FromTest.V.Key, h.FromTest.Range, true}
	}
	if h.Resting.Set && h.Maximum.Set && h.Resting.V >= h.Maximum.V {
		d.refuse(n, codeOutOfRange, h.Resting.Range, fmt.Sprintf("Resting heart rate %s is not below the maximum %s", h.Resting.V, h.Maximum.V), "Change one of the two.", diagRelated("the maximum stands here", h.Maximum.Range))
	}
	return h
}

func (d *decoder) screening(n *node) *Screening {
	s := &Screening{
		Range:  n.Header,
		On:     get[units.Date](n, "on"),
		Until:  get[units.Date](n, "until"),
		By:     get[string](n, "by"),
		Allows: get[string](n, "allows"),
	}
	if s.On.Set && s.Until.Set && s.Until.V < s.On.V {
		d.refuse(n, codeOutOfRange, s.Until.Range, fmt.Sprintf("The screening ends on %s, before its own date %s", s.Until.V, s.On.V), "Change one of the two.", diagRelated("its date stands here", s.On.Range))
	}
	return s
}

// anyBroken tells whether a block within was found wrong.
func anyBroken(n *node) bool {
	for _, c := range n.nodes {
		if c.Broken || anyBroken(c) {
			return true
		}
	}
	return false
}

func (d *decoder) meter(n *node) *Meter {
	m := &Meter{
		Kind:     get[string](n, "kind"),
		Reads:    get[units.Share](n, "reads"),
		Against:  get[Ref](n, "against"),
		Compared: get[units.Date](n, "compared"),
	}
	if n.wrote("reads") != n.wrote("against") {
		has, lacks := "reads", "against"
		if n.wrote("against") {
			has, lacks = lacks, has
		}
		d.refuse(n, codeOneOf, n.written[has], fmt.Sprintf("%s is written without %s", has, lacks), `The two belong together: reads = "-1.6 %", against = meter.pedals.`)
	}
	if m.Against.Set && m.Against.V.Key == n.Key {
		d.refuse(n, codeUnknownRef, m.Against.Range, fmt.Sprintf("meter %s is compared with itself", quoted(n.Key)), "Name the other meter.")
	}
	m.Label = n.Label
	return m
}
