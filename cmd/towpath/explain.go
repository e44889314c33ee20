package main

import (
	"bytes"
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"towpath/internal/diag"
	"towpath/internal/plan"
	"towpath/internal/prescription"
	"towpath/internal/schedule"
	"towpath/internal/units"
	"towpath/internal/words"
)

func (a *app) explainCommand() *cobra.Command {
	var f planFlags
	cmd := &cobra.Command{
		Use:   "explain PLAN WHAT",
		Short: "Tell where a day, a week or a band comes from",
		Long: `explain tells where what a rider sees comes from, down to the line of the plan, the figure of the test
and the source. WHAT is one of

  2027-03-06     a date: why this ride on this day, its minutes, each target
  week.3         a week: its total, what was wished of each ride and what was placed
  band.spring    a band: its edges, its threshold and every method's reading`,
		Args: between(2, 2, "a plan and what to explain"),
		RunE: func(_ *cobra.Command, args []string) error {
			return compilePlan(args[0], f, func(c *compiled) error { return a.explain(c, &f, args[1]) })
		},
	}
	f.register(cmd, false, false)
	return cmd
}

func (a *app) explain(c *compiled, f *planFlags, what string) error {
	if err := a.refusal(c, f); err != nil {
		return err
	}
	var out bytes.Buffer
	e := explainer{out: &out, c: c, told: map[string]bool{}, options: diag.TextOptions{Width: a.width(), Color: a.colored(a.stdout), Path: c.display, Source: cite}}
	if err := e.explain(what); err != nil {
		return err
	}
	return a.deliver(out.Bytes())
}

// explainer prints origins of a compiled plan.
type explainer struct {
	out     *bytes.Buffer
	c       *compiled
	options diag.TextOptions
	told    map[string]bool // what was told with all that it is made of, by words and place
}

// explain finds what is meant in the prescriptions. That nothing is meant is wrong use.
func (e *explainer) explain(what string) error {
	kind, key, _ := strings.Cut(strings.Replace(what, " ", ".", 1), ".") // "week 3" is as good
	switch kind {
	case "band":
		return e.band(key)
	case "week":
		n, err := strconv.Atoi(key)
		if err != nil {
			return usageError("%q names no week; write for example week.3", what)
		}
		return e.week(n)
	}
	date, err := units.ParseDate(what)
	if err != nil {
		if e := new(units.Error); errors.As(err, &e) && e.Repair != "" {
			return usageError("%q is no date; write %s", what, e.Repair)
		}
		return usageError("%q is no date, week or band; write for example 2027-03-06, week.3 or band.spring", what)
	}
	return e.date(date)
}

func (e *explainer) origin(o diag.Origin) {
	// A buffer takes whatever is written.
	_ = diag.WriteOrigin(e.out, e.once(o), e.c.texts, e.options)
}

// once leaves out what was told before: three targets of a session share one ceiling.
func (e *explainer) once(o diag.Origin) diag.Origin {
	if len(o.From) == 0 {
		return o
	}
	at := o.What + "\x00" + o.Range.String()
	if e.told[at] {
		return diag.Origin{What: o.What + " (as above)"}
	}
	e.told[at] = true
	from := make([]diag.Origin, len(o.From))
	for i := range o.From {
		from[i] = e.once(o.From[i])
	}
	o.From = from
	return o
}

// heading begins a part: which athlete and block are spoken of.
func (e *explainer) heading(p *prescription.Prescription, what string) {
	clear(e.told)
	if e.out.Len() > 0 {
		fmt.Fprintln(e.out)
	}
	title := fmt.Sprintf("%s · %s · %s", p.Block.Athlete.Name, p.Block.Title, what)
	for _, l := range diag.Wrap(title, e.options.Width) {
		fmt.Fprintln(e.out, l)
	}
	fmt.Fprintln(e.out)
}

func (e *explainer) band(key string) error {
	var keys []string
	for _, p := range e.c.Prescriptions {
		for _, b := range p.Block.Bands {
			keys = append(keys, b.Key)
			if b.Key == key {
				where := ""
				if b.Place != "" {
					where = " " + words.There(b.Place)
				}
				e.heading(p, "band "+key+where+" from "+longDate(b.From))
				e.origin(b.Origin)
				e.methods(b)
			}
		}
	}
	if e.out.Len() == 0 {
		slices.Sort(keys)
		return usageError("no band %q is in force in a block; there is: %s", key, strings.Join(slices.Compact(keys), ", "))
	}
	return nil
}

// methods lists every reading of the band's tests with how it fared, and what the laboratory read.
func (e *explainer) methods(b *plan.Band) {
	for _, x := range b.Tests {
		which := "the test"
		if len(b.Tests) > 1 {
			which = fmt.Sprintf("test %s of %s", x.Key, longDate(x.Date))
		}
		if x.Result != nil {
			fmt.Fprintf(e.out, "\nAll readings of %s, baseline %.2f mmol/L, %d stages:\n", which, float64(x.Result.Baseline), x.Result.StagesUsed)
			for _, m := range slices.Concat(x.Result.First, x.Result.Second) {
				reading := "-"
				if m.Power != nil {
					reading = fmt.Sprintf("%.1f W", float64(*m.Power))
				}
				fmt.Fprintf(e.out, "  %-28s %9s  %s\n", m.ID, reading, m.Status)
			}
		}
		if x.Lab != nil {
			fmt.Fprintln(e.out)
			for _, l := range diag.Wrap(diag.Printable(fmt.Sprintf("Of %s %s", which, x.Lab)), e.options.Width) {
				fmt.Fprintln(e.out, l)
			}
		}
	}
}

func (e *explainer) week(n int) error {
	var all []int
	for _, p := range e.c.Prescriptions {
		for i := range p.Weeks {
			w := &p.Weeks[i]
			all = append(all, w.Number)
			if w.Number != n {
				continue
			}
			e.heading(p, fmt.Sprintf("week %d from %s", n, longDate(w.Start)))
			e.origin(w.Origin)
			e.provisional(p.Block, p.Block.WeekOn(w.Start))
			for _, o := range schedule.Given(p.Block, w.Week) {
				e.origin(o)
			}
			for _, m := range w.Mix {
				e.origin(diag.Origin{What: m.String(), Range: m.Ride.Range})
			}
			for _, s := range w.Stated {
				e.origin(diag.Origin{What: "not as wished: " + s})
			}
		}
	}
	if len(all) == 0 {
		return usageError("there is no week %d: no block is ridden", n)
	}
	if e.out.Len() == 0 {
		return usageError("there is no week %d; the weeks are %d to %d", n, slices.Min(all), slices.Max(all))
	}
	return nil
}

func (e *explainer) date(d units.Date) error {
	var blocks []string
	for _, p := range e.c.Prescriptions {
		blocks = append(blocks, fmt.Sprintf("%s from %s for %s", p.Block.Key, p.Block.Start, weeks(len(p.Weeks))))
		if p.Block.WeekOn(d) == nil {
			continue
		}
		found := false
		for i := range p.Sessions {
			if s := &p.Sessions[i]; s.Date == d {
				found = true
				e.session(p, s)
			}
		}
		if !found {
			e.restDay(p, d)
		}
		for _, o := range schedule.Beside(p.Block, d) {
			e.origin(o)
		}
		e.provisional(p.Block, p.Block.WeekOn(d))
	}
	if e.out.Len() == 0 {
		e.eventAt(d)
	}
	if e.out.Len() == 0 {
		return usageError("%s lies in no block; there is: %s", d, strings.Join(blocks, ", "))
	}
	return nil
}

// eventAt tells of an event on a date that lies in no block.
func (e *explainer) eventAt(d units.Date) {
	for _, p := range e.c.Prescriptions {
		for _, event := range p.Block.Events {
			if event.Date != d {
				continue
			}
			e.heading(p, d.Weekday().String()+" "+longDate(d))
			what := "the event " + event.Title
			if event.Lasts > 0 {
				what += fmt.Sprintf(", about %s", event.Lasts)
			}
			e.origin(diag.Origin{What: fmt.Sprintf("%s: outside of the block, which goes from %s to %s", what, longDate(p.Block.Start), longDate(p.Block.End())), Range: event.Range})
		}
	}
}

// provisional tells of a week that the block may not have.
func (e *explainer) provisional(b *plan.Block, w *plan.Week) {
	if w.Provisional {
		e.origin(diag.Origin{What: fmt.Sprintf("week %d is provisional: in week %d it is decided whether the block goes on after week %d", w.Number, b.Decide, b.Shortest), Range: b.Range})
	}
}

// session tells why a session stands where it stands, and where each of its targets comes from.
func (e *explainer) session(p *prescription.Prescription, s *prescription.Session) {
	e.heading(p, s.Date.Weekday().String()+" "+longDate(s.Date))
	fmt.Fprintln(e.out, diag.Printable(s.Title))
	e.origin(s.Origin)
	if !s.Given {
		if o, ok := schedule.Explain(p.Schedule, s.Date); ok {
			o.What = "Otherwise: " + o.What
			e.origin(o)
		}
	}
	for _, o := range []*diag.Origin{s.Targets.PowerOrigin, s.Targets.HeartRateOrigin, s.Targets.EffortOrigin} {
		if o != nil {
			e.origin(*o)
		}
	}
	e.steps(s.Steps, 1)
	for _, a := range s.Allowed {
		e.origin(a.Origin)
	}
	if there := s.Instead; there != nil {
		what := fmt.Sprintf("Or %s: %s", words.There(there.Place), there.Title)
		e.origin(diag.Origin{What: what, Range: p.Block.Athlete.DayOn(s.Date).Range})
		if there.Band != s.Band && there.Targets.PowerOrigin != nil {
			e.origin(*there.Targets.PowerOrigin)
		}
	}
}

// steps tells of each step whose targets differ from those of the session.
func (e *explainer) steps(steps []prescription.Step, from int) {
	for i := range steps {
		s := &steps[i]
		if s.Kind == prescription.Rounds {
			e.steps(s.Steps, from)
			continue
		}
		if s.Role == prescription.Work || s.Targets.PowerOrigin == nil {
			continue
		}
		e.origin(diag.Origin{What: fmt.Sprintf("%s, %s: %s", s.Name, s.Duration, s.Targets.PowerOrigin.What), Range: s.Origin.Range, SourceKey: s.Targets.PowerOrigin.SourceKey})
	}
}

func (e *explainer) restDay(p *prescription.Prescription, d units.Date) {
	e.heading(p, d.Weekday().String()+" "+longDate(d))
	day := p.Block.Athlete.DayOn(d)
	what := fmt.Sprintf("no ride: the day could hold %s, and the week is placed without it", day.Limit)
	switch {
	case slices.ContainsFunc(p.Block.Events, func(e *plan.Event) bool { return e.Date == d }):
		what = "no ride of the plan: the day is for its event"
	case day.Limit == 0:
		what = "no ride: the day is closed"
	}
	e.origin(diag.Origin{What: what, Range: day.Range, From: []diag.Origin{p.Block.WeekOn(d).Origin}})
}
