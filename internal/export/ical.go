package export

import (
	"fmt"
	"io"
	"strconv"
	"time"

	ics "github.com/arran4/golang-ical"

	"towpath/internal/units"
)

// This file is all of the iCalendar library that is used: properties in call order, escaping of
// text and folding of lines. Its helpers for times, durations, zones and removal write files that
// RFC 5545 forbids (version 0.3.4), so every value is formed here.

const (
	icalLocal = "20060102T150405"
	icalUTC   = "20060102T150405Z"
	icalDate  = "20060102"
)

// component is a calendar component under construction.
type component struct{ base *ics.ComponentBase }

// text adds a TEXT property: the coach's words, cleaned, then escaped by the library.
func (c component) text(name, value string) {
	c.base.AddProperty(ics.ComponentProperty(name), cleanText(value))
}

// raw adds a property whose value is formed here and holds no coach's text.
func (c component) raw(name, value string, params ...ics.PropertyParameter) {
	c.base.AddProperty(ics.ComponentProperty(name), value, params...)
}

// date adds a property with a civil date.
func (c component) date(name string, d units.Date) {
	c.raw(name, d.UTC().Format(icalDate), param("VALUE", "DATE"))
}

// instant adds a property with a time, in UTC or as local time of the named zone.
func (c component) instant(name string, t time.Time, zone string) {
	if isUTC(zone) {
		c.raw(name, t.UTC().Format(icalUTC))
		return
	}
	c.raw(name, t.Format(icalLocal), param("TZID", zone))
}

// alarm adds a reminder on the screen so long before the start (RFC 5545 section 3.6.6).
func (c component) alarm(before units.Minutes, text string) {
	inner := &ics.VAlarm{}
	c.base.Components = append(c.base.Components, inner)
	a := component{&inner.ComponentBase}
	a.raw("ACTION", "DISPLAY")
	a.raw("TRIGGER", fmt.Sprintf("-PT%dM", int(before)))
	a.text("DESCRIPTION", text)
}

func (c component) number(name string, n int) { c.raw(name, strconv.Itoa(n)) }

func param(key, value string) ics.PropertyParameter {
	return &ics.KeyValues{Key: key, Value: []string{value}}
}

// isUTC: readers want UTC written with a Z and refuse it as a TZID.
func isUTC(zone string) bool { return zone == "UTC" || zone == "Etc/UTC" }

// calendarFile is a VCALENDAR under construction.
type calendarFile struct{ cal ics.Calendar }

func (f *calendarFile) property(name, value string, params ...ics.PropertyParameter) {
	p := ics.BaseProperty{IANAToken: name, Value: cleanLine(value), ICalParameters: map[string][]string{}}
	for _, kv := range params {
		k, v := kv.KeyValue()
		p.ICalParameters[k] = v
	}
	f.cal.CalendarProperties = append(f.cal.CalendarProperties, ics.CalendarProperty{BaseProperty: p})
}

func (f *calendarFile) event() component {
	e := &ics.VEvent{}
	f.cal.Components = append(f.cal.Components, e)
	return component{&e.ComponentBase}
}

func (f *calendarFile) timezone(name string, observances []observance) {
	z := &ics.VTimezone{}
	component{&z.ComponentBase}.raw("TZID", name)
	for _, o := range observances {
		var c component
		if o.daylight {
			d := &ics.Daylight{}
			z.Components, c = append(z.Components, d), component{&d.ComponentBase}
		} else {
			s := &ics.Standard{}
			z.Components, c = append(z.Components, s), component{&s.ComponentBase}
		}
		c.raw("DTSTART", o.start.Format(icalLocal))
		c.raw("TZOFFSETFROM", offset(o.from))
		c.raw("TZOFFSETTO", offset(o.to))
		if o.rule != "" {
			c.raw("RRULE", o.rule)
		}
		c.text("TZNAME", o.name)
	}
	f.cal.Components = append(f.cal.Components, z)
}

// offset prints seconds east of Greenwich as "+0100"; RFC 5545 wants seconds only where there
// are any.
func offset(seconds int) string {
	sign := "+"
	if seconds < 0 {
		sign, seconds = "-", -seconds
	}
	out := fmt.Sprintf("%s%02d%02d", sign, seconds/3600, seconds/60%60)
	if s := seconds % 60; s != 0 {
		out += fmt.Sprintf("%02d", s)
	}
	return out
}

// write folds lines at 75 octets and ends them with CR LF, as RFC 5545 section 3.1 wants.
func (f *calendarFile) write(w io.Writer) error {
	_, err := io.WriteString(w, f.cal.Serialize(ics.WithNewLineWindows))
	return err
}
