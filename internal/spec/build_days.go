package spec

import (
	"errors"
	"fmt"
	"io/fs"
	"time"

	"towpath/internal/units"
)

// datedDays builds the exceptions of `on`. One date may stand out of several days in a row; else two
// for one date are refused.
func (d *decoder) datedDays(n *node) []DatedDay {
	var out []DatedDay
	for _, p := range get[[]pair](n, "on").V {
		dates, ok := p.key.v.(units.Range[units.Date])
		day, ok2 := p.value.v.(Day)
		if !ok || !ok2 {
			continue
		}
		for _, o := range out {
			one, another := dates.Low == dates.High, o.Date.V == o.Until
			if dates.Low > o.Until || o.Date.V > dates.High || one != another {
				continue
			}
			d.refuse(n, codeDoubleName, p.key.at, fmt.Sprintf("on says twice what %s holds", max(dates.Low, o.Date.V)),
				"Each date stands in one entry: end the one before the other begins. A date alone may stand out of several in a row.", diagRelated("the first one", o.Date.Range))
			break
		}
		out = append(out, DatedDay{Value[units.Date]{dates.Low, p.key.at, true}, dates.High, Value[Day]{day, p.value.at, true}})
	}
	return out
}

func (d *decoder) roster(n *node) *Roster {
	r := &Roster{
		Range: n.Header,
		From:  get[units.Date](n, "from"),
		Until: get[units.Date](n, "until"),
		Days:  many[string](n, "days"),
		File:  get[string](n, "file"),
	}
	d.fromTo(n, "roster", r.From, r.Until)
	if n.wrote("days") && !n.wrote("from") {
		d.refuse(n, codeMissingValue, n.Header, "roster lacks from", `The first day of the roster. Write, for example, from = "2026-09-14".`)
	}
	d.exclusive(n, "The shifts stand in the plan or in a file.", "days", "file")
	d.needsOne(n, "roster does not say which shifts are worked", `Write days = ["early", "early", "off"], which repeats, or file = "roster.csv".`, "days", "file")
	d.notEmpty(n, "days", len(r.Days), "The roster names no shift", `Write the shifts of one day after the other: days = ["early", "early", "off"].`)
	if !n.wrote("days") {
		r.FileText, r.FileName = d.readData(n, r.File)
	}
	return r
}

// fromTo refuses a time that ends before it begins.
func (d *decoder) fromTo(n *node, what string, from, to Value[units.Date]) {
	if from.Set && to.Set && to.V < from.V {
		d.refuse(n, codeOutOfRange, to.Range, fmt.Sprintf("The %s ends on %s, before it begins on %s", what, to.V, from.V), "Change one of the two.", diagRelated("it begins here", from.Range))
	}
}

func (d *decoder) travel(n *node) *Travel {
	t := &Travel{
		Range:    n.Header,
		From:     get[units.Date](n, "from"),
		To:       get[units.Date](n, "to"),
		TimeZone: get[string](n, "time_zone"),
	}
	d.fromTo(n, "journey", t.From, t.To)
	return t
}

// fixedRides builds the fixed rides of a block.
func (d *decoder) fixedRides(n *node) []*Fixed {
	var out []*Fixed
	for _, c := range n.nodes {
		if c.block.Kind != "fixed" {
			continue
		}
		f := &Fixed{
			Session:  get[Ref](c, "session"),
			Minutes:  get[units.Duration](c, "minutes"),
			Days:     many[time.Weekday](c, "days"),
			Date:     get[units.Date](c, "date"),
			At:       get[units.Clock](c, "at"),
			Place:    get[string](c, "place"),
			Weeks:    d.weeks(c, "weeks"),
			Athletes: d.references(c, "athletes"),
			Note:     get[string](c, "note"),
		}
		d.daysOrDate(c, f.Days)
		d.exclusive(c, "A ride on one date needs no weeks.", "date", "weeks")
		f.Label = c.Label
		out = append(out, f)
	}
	return out
}

// daysOrDate wants either the weekdays or the date of a ride or other sport.
func (d *decoder) daysOrDate(n *node, days []Value[time.Weekday]) {
	d.exclusive(n, "Write the days of every week, or the one date.", "days", "date")
	d.needsOne(n, n.title()+" does not say on which day", `Write days = ["monday"] for every week, or date = "2026-10-10" for once.`, "days", "date")
	d.notEmpty(n, "days", len(days), "days names no day", `Write one at least, such as days = ["monday"].`)
	namedOnce(d, n, days, units.WeekdayKey)
}

func (d *decoder) other(n *node) *Other {
	o := &Other{
		Title:   get[string](n, "title"),
		Days:    many[time.Weekday](n, "days"),
		Date:    get[units.Date](n, "date"),
		Minutes: get[units.Duration](n, "minutes"),
		At:      get[units.Clock](n, "at"),
		Demand:  get[string](n, "demand"),
	}
	d.daysOrDate(n, o.Days)
	o.Label = n.Label
	return o
}

func (d *decoder) squad(n *node) *Squad {
	s := &Squad{
		Title:    get[string](n, "title"),
		Athletes: d.references(n, "athletes"),
		Fixed:    d.fixedRides(n),
	}
	if c := n.child("defaults"); c != nil {
		s.Defaults = d.person(c)
		c.Broken = c.Broken || anyBroken(c)
		s.Defaults.Label = c.Label
	}
	n.Broken = n.Broken || anyBroken(n)
	s.Label = n.Label
	return s
}

func (d *decoder) event(n *node) *Event {
	e := &Event{
		Title:    get[string](n, "title"),
		Athletes: d.references(n, "athletes"),
		Date:     get[units.Date](n, "date"),
		Lasts:    get[units.Duration](n, "lasts"),
	}
	if all := d.keys("athlete"); !n.wrote("athletes") && len(all) > 1 {
		d.refuse(n, codeMissingValue, n.Header, n.title()+" does not say who takes part", fmt.Sprintf("The plan has %s. Write athletes = [athlete.%s], or others.", some(all), all[0]))
	}
	e.Label = n.Label
	return e
}

// readData reads the file that a name of a block names.
func (d *decoder) readData(n *node, path Value[string]) (data []byte, name string) {
	if d.in.ReadData == nil || !path.Set {
		return nil, ""
	}
	data, name, err := d.in.ReadData(n.file, path.V)
	if err == nil {
		return data, name
	}
	if errors.Is(err, fs.ErrNotExist) {
		d.refuse(n, codeMissingFile, path.Range, fmt.Sprintf("There is no file %s", quoted(path.V)), fmt.Sprintf("Paths start from the file that names them: this one leads to %s.", name))
	} else {
		d.refuse(n, codeMissingFile, path.Range, fmt.Sprintf("The file %s cannot be read", quoted(path.V)), "The reason: "+err.Error()+".")
	}
	return data, name
}
