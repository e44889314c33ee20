package compile_test

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"time"

	"towpath/internal/units"
)

// draw makes the plan of a seed. Most compile; some ask for what cannot be, and are refused.
func draw(seed uint64) *drawn {
	p := &drawn{Rand: rand.New(rand.NewPCG(seed, 1))}
	p.start = units.NewDate(2027, 1, 4).Add(7*p.IntN(48) + p.IntN(7)*p.yes(25))
	p.fixedUp, p.sprints = p.chance(50), p.chance(30)
	keys := []string{"ada", "bo", "cyril", "dee"}[:1+p.IntN(4)]
	taken := p.IntN(len(keys) + 1) // so many belong to the first squad, which has defaults
	if p.chance(40) {
		taken = 0
	}
	for i, key := range keys {
		r := &drawnRider{key: key, meter: p.chance(75), heart: p.chance(75)}
		if i >= taken {
			r.habits = p.habits(100)
		} else if p.chance(40) {
			r.habits = p.habits(25)
		}
		if p.chance(30) {
			r.fixed = p.fixed([]string{"club", "spin"}, nil, 0)
		}
		r.bands = p.bands(r)
		p.riders = append(p.riders, r)
	}
	if taken > 0 {
		h := p.habits(100)
		s := &drawnSquad{key: "north", athletes: keys[:taken], defaults: &h}
		if p.chance(50) {
			s.fixed = p.fixed([]string{"club", "evening"}, s.athletes, 0)
		}
		p.squads = append(p.squads, s)
	}
	if p.chance(20) {
		p.squads = append(p.squads, &drawnSquad{key: "all", athletes: keys, fixed: p.fixed([]string{"evening"}, keys, 0)})
	}
	for start, n := p.start, 1+p.yes(20); n > 0; n-- {
		k := p.block(fmt.Sprintf("b%d", n), start, keys)
		p.blocks = append(p.blocks, k)
		start = k.start.Add(7*k.weeks + 7*p.IntN(2))
	}
	for i := range p.IntN(3) * p.yes(50) {
		p.events = append(p.events, drawnEvent{fmt.Sprintf("e%d", i), p.some(keys), p.date()})
	}
	return p
}

func (p *drawn) chance(percent int) bool { return p.IntN(100) < percent }

func (p *drawn) yes(percent int) int {
	if p.chance(percent) {
		return 1
	}
	return 0
}

func pick[T any](p *drawn, from ...T) T { return from[p.IntN(len(from))] }

// some are one or more of a list, in its order.
func (p *drawn) some(list []string) []string {
	out := slices.DeleteFunc(slices.Clone(list), func(string) bool { return p.chance(40) })
	if len(out) == 0 {
		return list[:1]
	}
	return out
}

// most is a weekday, mostly that on which there is time.
func (p *drawn) most() time.Weekday {
	if p.chance(65) {
		return time.Saturday
	}
	return p.weekday()
}

// date is one in the weeks after the start.
func (p *drawn) date() units.Date { return p.start.Add(p.IntN(35)) }

func (p *drawn) weekday() time.Weekday { return time.Weekday(p.IntN(7)) }

func (p *drawn) zone() string {
	if p.fixedUp {
		return pick(p, "Africa/Nairobi", "Asia/Tokyo", "America/Bogota")
	}
	return pick(p, "Europe/Oslo", "America/Denver", "Australia/Sydney", "Asia/Tokyo")
}

func (p *drawn) day() drawnDay {
	place := func() string { return pick(p, "", "", "outdoor", "indoor") }
	long := func() int { return pick(p, 45, 60, 75, 75, 90, 90, 120, 180, 240) - 3*p.yes(10) }
	one := window{minutes: long(), at: -1, place: place(), easy: p.chance(8)}
	if p.chance(60) {
		one.at = 60*(6+p.IntN(13)) + 15*p.IntN(4)
		if p.chance(3) {
			one.at = pick(p, 90, 150)
		}
	}
	if one.place != "" && p.chance(25) {
		one.orMinutes, one.orPlace = pick(p, 45, 60, 90), map[string]string{"indoor": "outdoor", "outdoor": "indoor"}[one.place]
	}
	switch {
	case p.chance(75):
		return drawnDay{one}
	case p.chance(50):
		one.at = pick(p, -1, 18*60)
		way := window{minutes: pick(p, 20, 25, 35), at: pick(p, -1, 7*60), commute: true}
		return drawnDay{way, one}
	default:
		one.at = 17 * 60
		other := window{minutes: pick(p, 30, 45, 60, 90), at: 7 * 60, place: place(), easy: p.chance(8)}
		return drawnDay{other, one}
	}
}

// dayOff is a day that may be closed.
func (p *drawn) dayOff() drawnDay {
	if p.chance(50) {
		return drawnDay{}
	}
	return p.day()
}

// habits writes so many per cent of what can be written.
func (p *drawn) habits(percent int) (h habits) {
	if p.chance(percent) {
		h.zone = p.zone()
	}
	open := 0
	for i := range h.days {
		if p.chance(percent) {
			switch h.days[i] = p.day(); {
			case i == 5: // tests, pins and fixed rides stand here most often
				h.days[i] = drawnDay{{minutes: pick(p, 120, 180, 240), at: pick(p, -1, 540), place: pick(p, "", "outdoor")}}
			case p.chance(30) && (percent < 100 || open+7-i > 4):
				h.days[i] = drawnDay{}
			}
			open += len(h.days[i])
		}
	}
	next := p.start.Add(p.IntN(7))
	for range p.IntN(4) * p.yes(percent/2) {
		to := next.Add(p.yes(40) * p.IntN(6))
		h.on = append(h.on, drawnDates{next, to, p.dayOff()})
		next = to.Add(1 + p.IntN(14))
	}
	if p.chance(percent / 4) {
		h.shifts = map[string]drawnDay{"early": p.day(), "night": p.dayOff(), "off": {window{minutes: 150, at: -1}}}
		words := func(n int) (out []string) {
			for range n {
				out = append(out, pick(p, "early", "night", "off", "off"))
			}
			return out
		}
		r := drawnRoster{from: p.start.Add(p.IntN(14) - 7)}
		if p.chance(30) {
			r.file, r.rows = fmt.Sprintf("r%d.csv", p.IntN(1e6)), map[units.Date]string{}
			for i := range 40 {
				if p.chance(70) {
					r.rows[r.from.Add(i)] = words(1)[0]
				}
			}
		} else if r.days = words(3 + p.IntN(4)); p.chance(40) {
			r.until = r.from.Add(6 + p.IntN(14))
			h.rosters = append(h.rosters, drawnRoster{from: r.until.Add(1 + p.IntN(4)), days: words(3)})
		}
		h.rosters = append(h.rosters, r)
	}
	for _, label := range []string{"judo", "swim"} {
		if p.chance(percent / 8) {
			o := drawnOther{label: label, weekday: p.weekday(), demanding: p.chance(60)}
			if p.chance(40) {
				o.date = p.date()
			}
			h.others = append(h.others, o)
		}
	}
	if p.chance(percent / 6) {
		from := p.date()
		h.travels = append(h.travels, drawnTravel{from, from.Add(p.IntN(9)), p.zone()})
	}
	if p.chance(percent / 3) {
		h.device = pick(p, `most_steps = 20`, `letters = "plain"`, `heart_rate = false`)
	}
	if p.chance(percent / 3) {
		h.calendar = pick(p, `hours = false`, `reminder = "30 min"`)
	}
	return h
}

func (p *drawn) fixed(labels, athletes []string, weeks int) (out []drawnFixed) {
	for _, label := range labels {
		if p.chance(40) {
			continue
		}
		f := drawnFixed{label: label, at: -1, session: pick(p, "group_ride", "recovery_spin", "steady", "commute"), minutes: pick(p, 30, 30, 40, 60)}
		if p.chance(25) {
			if f.date = p.date(); weeks > 0 {
				f.date = p.start.Add(p.IntN(7 * weeks))
			}
		} else {
			f.weekdays = []time.Weekday{p.most()}
			if w := p.weekday(); w != f.weekdays[0] && p.chance(30) {
				f.weekdays = append(f.weekdays, w)
			}
			if weeks > 0 && p.chance(40) {
				f.weeks = p.weeks(weeks)
			}
		}
		if p.chance(25) {
			f.at = 60 * (6 + p.IntN(14))
		}
		f.place = pick(p, "", "", "", "outdoor", "indoor")
		if athletes != nil && p.chance(30) {
			f.athletes = p.some(athletes)
		}
		out = append(out, f)
	}
	return out
}

// weeks are one or more of n.
func (p *drawn) weeks(n int) (out []int) {
	for w := 1; w <= n; w++ {
		if p.chance(50) {
			out = append(out, w)
		}
	}
	if out == nil {
		return []int{n}
	}
	return out
}

func (p *drawn) bands(r *drawnRider) []drawnBand {
	label := r.key
	head := fmt.Sprintf("band %q {\nathlete = athlete.%s\n", label, r.key)
	own := drawnBand{label: label}
	over := []string{}
	if p.sprints {
		over = append(over, "sprints: 10 s, all out")
	}
	switch {
	case r.meter && p.chance(20): // from tests
		tests, names := "", []string{label + "_1"}
		if p.chance(50) {
			names = append(names, label+"_2")
		}
		for i, name := range names {
			tests += fmt.Sprintf("test %q {\nathlete = athlete.%s\ndate = %q\nprotocol = protocol.lactate_step\nstages = [", name, r.key, p.start-30+units.Date(9*i))
			for k, lactate := range []string{"1.2", "1.1", "1.1", "1.3", "1.7", "2.6", "4.2"} {
				tests += fmt.Sprintf("{ power = \"%d W\", heart_rate = \"%d bpm\", lactate = \"%s mmol/L\", rpe = %d },\n", 70+20*k+3*i, 99+9*k, lactate, 7+k)
			}
			tests += "]\n}\n"
		}
		own.text = tests + head + "tests = " + refs("test", names) + "\n"
	case r.meter:
		own.low, own.high = float64(100+p.IntN(30)), float64(140+p.IntN(40))
		own.text = fmt.Sprintf("%spower = \"%.0f-%.0f W\"\n", head, own.low, own.high)
		if r.heart && p.chance(40) {
			own.topBeat = 128 + p.IntN(8)
			own.text += fmt.Sprintf("heart_rate = \"108-%d bpm\"\n", own.topBeat)
		}
		if p.chance(30) {
			over = append(over, "climbs: 3 min, 115 %")
		}
	case r.heart:
		own.topBeat = 128 + p.IntN(8)
		own.text = fmt.Sprintf("%sheart_rate = \"108-%d bpm\"\n", head, own.topBeat)
	default:
		own.text = head + "rpe = \"9-12\"\n"
	}
	if len(over) > 0 {
		own.text += "over = " + textList(over) + "\n"
	}
	own.text += "}"
	out := []drawnBand{own}
	raise := func(from drawnBand, label string, percent int, date units.Date, place string) drawnBand {
		b := from
		b.label, b.from, b.place = label, date, place
		b.low, b.high = b.low*(1+float64(percent)/100), b.high*(1+float64(percent)/100)
		b.text = fmt.Sprintf("band %q {\nathlete = athlete.%s\nraises = band.%s\nby = \"%d %%\"\n", label, r.key, from.label, percent)
		if date != 0 {
			b.text += fmt.Sprintf("from = %q\n", date)
		}
		if place != "" {
			b.text += fmt.Sprintf("place = %q\n", place)
		}
		b.text += "}"
		return b
	}
	if !r.meter {
		return out
	}
	if p.chance(30) {
		out = append(out, raise(own, label+"_more", 2, p.date(), ""))
	}
	if p.chance(30) {
		in := raise(own, label+"_in", -3, 0, "indoor")
		out = append(out, in)
		if p.chance(40) {
			out = append(out, raise(in, label+"_in_more", 2, p.date(), "indoor"))
		}
	}
	return out
}

func (p *drawn) block(key string, start units.Date, keys []string) *drawnBlock {
	k := &drawnBlock{key: key, start: start, weeks: 1 + p.IntN(5), hours: map[int]int{}}
	if k.weeks > 1 && p.chance(30) {
		k.shortest = 1 + p.IntN(k.weeks-1)
		k.decide = 1 + p.IntN(k.shortest)
	}
	riders := keys
	if len(p.squads) > 0 && p.chance(70) {
		k.squads = []string{p.squads[0].key}
		riders = p.squads[0].athletes
		for _, a := range keys {
			if !slices.Contains(riders, a) || p.chance(20) {
				k.athletes = append(k.athletes, a)
			}
		}
		riders = slices.Clone(keys)
	} else {
		k.athletes = keys
	}
	k.volume = drawnVolume{first: 5 * (24 + p.IntN(44)), takes: p.chance(60)}
	if !k.volume.takes && p.chance(60) {
		k.volume.tolerance = pick(p, 5, 20, 40)
	}
	switch p.IntN(3) {
	case 0:
		k.volume.growth = pick(p, 5, 15, 17, 30)
	case 1:
		k.volume.growthShare = pick(p, 4, 8, 15)
	}
	if p.chance(30) {
		k.volume.atMost = k.volume.first + pick(p, 10, 22, 60)
	}
	if p.chance(50) {
		k.recovery, k.keep = p.weeks(k.weeks), pick(p, 50, 60, 65)
	}
	k.rides = []drawnRide{{label: "steady", session: "steady", share: `share = "rest"`}}
	add := func(percent int, r drawnRide) {
		if !p.chance(percent) {
			return
		}
		if p.chance(20) {
			r.weekdays = []time.Weekday{time.Saturday, time.Sunday, time.Wednesday}
		}
		if p.chance(20) {
			r.weeks = p.weeks(k.weeks)
		}
		if p.chance(15) {
			r.athletes = p.some(riders)
		}
		k.rides = append(k.rides, r)
	}
	add(50, drawnRide{label: "long", session: "long_ride", high: 1, share: `share = "35 %"`})
	add(35, drawnRide{label: "upper", session: "upper_third", high: 2, share: `minutes = "60 min"`, atMost: 75})
	add(30, drawnRide{label: "easy", session: "recovery_spin", high: 2, share: `share = "10 %"`})
	add(20, drawnRide{label: "rolling", session: "hills", high: 1, share: `share = "15 %"`, atLeast: 50})
	if p.sprints {
		add(50, drawnRide{label: "quick", session: "short_sprints", high: 1, share: `minutes = "55 min"`})
	}
	var labels []string
	for _, r := range k.rides[1:] {
		labels = append(labels, r.label)
	}
	if k.recovery != nil && len(labels) > 0 && p.chance(40) {
		k.without = p.some(labels)
	}
	for _, t := range []string{"standard_ride", "lactate_step", "talk_test"} {
		if p.chance(15) {
			k.tests = append(k.tests, drawnTest{t[:4], t, p.weeks(k.weeks), p.most()})
		}
	}
	if p.chance(25) {
		pin := drawnPin{week: 1 + p.IntN(k.weeks), weekday: p.most(), ride: "steady", minutes: pick(p, 40, 60)}
		if p.chance(40) {
			pin.ride, pin.session = "", pick(p, "group_ride", "commute", "recovery_spin")
		}
		k.pins = append(k.pins, pin)
	}
	if p.chance(25) {
		k.hours[1+p.IntN(k.weeks)] = pick(p, 0, 120, 200, 300)
	}
	if p.chance(30) {
		k.fixed = p.fixed([]string{"club", "market"}, riders, k.weeks)
	}
	if p.chance(30) {
		k.limits = drawnLimits{pick(p, 0, 1, 2, 3), pick(p, 0, 2, 3, 6)}
	}
	k.others = p.forSome(k, riders, labels)
	return k
}

// forSome draws what differs for some, each athlete in one of them only.
func (p *drawn) forSome(k *drawnBlock, riders, labels []string) (out []drawnFor) {
	left := slices.Clone(riders)
	for len(left) > 0 && p.chance(45) {
		f := drawnFor{athletes: left[:1+p.IntN(len(left))], hours: map[int]int{}}
		left = left[len(f.athletes):]
		switch {
		case p.chance(20):
			f.start = k.start.Add(1 + p.IntN(14))
		case k.weeks > 1 && p.chance(30):
			f.fromWeek = 2 + p.IntN(k.weeks-1)
		}
		if len(labels) > 0 && p.chance(30) {
			f.without = labels[:1]
		}
		if p.chance(30) {
			f.first = min(5*(20+p.IntN(40)), k.volume.first)
		}
		if n := k.weeks; p.chance(20) && n >= f.fromWeek {
			f.hours[n] = pick(p, 0, 100, 250)
		}
		if p.chance(20) {
			f.ride = &drawnRide{label: "steady", session: pick(p, "steady", "progressive", "cadence_work"), share: `share = "rest"`}
		}
		if fixed := p.fixed([]string{"club"}, nil, k.weeks); fixed != nil && p.chance(30) {
			f.fixed = &fixed[0]
		}
		if p.chance(20) {
			f.limits = drawnLimits{pick(p, 0, 1, 2), pick(p, 0, 2, 4)}
		}
		out = append(out, f)
	}
	return out
}
