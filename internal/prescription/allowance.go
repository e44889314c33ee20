package prescription

import (
	"fmt"
	"slices"
	"strings"

	"towpath/internal/diag"
	"towpath/internal/physiology"
	"towpath/internal/plan"
	"towpath/internal/schedule"
	"towpath/internal/units"
)

// over is the allowance that a step is ridden by; ok is false for other steps.
func (a *aim) over(s *plan.Step) (allowed plan.Allowance, ok bool) {
	if s.Target != plan.Over || a.band == nil {
		return allowed, false
	}
	return a.band.Allowance(s.Over)
}

// overPower gives the watts of a step that is ridden by an allowance: from the floor, so that no
// device nags from below, to what is allowed. All out has none.
func (a *aim) overPower(p *piece) (*units.Range[int], *diag.Origin) {
	allowed, ok := a.over(p.step)
	if !ok || allowed.AllOut {
		return nil, nil
	}
	w := Inwards(units.Range[units.Power]{Low: a.band.Power.Low, High: allowed.Power}, allowed.Power)
	return &w, &diag.Origin{
		What:  fmt.Sprintf("at most %d W: the allowance %q", w.High, allowed.Name),
		Range: p.step.Range, From: []diag.Origin{a.allowedOrigin(&allowed)},
	}
}

// allowed is what the rider may do above the band anywhere in a ride. Indoors no road asks for it,
// in a test it would spoil the reading, and what is all out is told in the steps that name it.
func (a *aim) allowed(place string) (out []Allowance) {
	if place == plan.Indoor || a.test || !a.hasPower() {
		return nil
	}
	for i := range a.band.Allowances {
		of := &a.band.Allowances[i]
		if of.AllOut {
			continue
		}
		watts := down(of.Power)
		out = append(out, Allowance{Name: of.Name, Duration: of.Duration, Power: &watts, Origin: a.allowedOrigin(of)})
	}
	return out
}

// allowedOrigin tells where an allowance comes from.
func (a *aim) allowedOrigin(of *plan.Allowance) diag.Origin {
	return diag.Origin{
		What:  fmt.Sprintf("%s: up to %s at a time, at most %s of the ceiling %s, as the coach wrote it", of.Name, of.Duration, of.Share, oneDecimal(a.band.Power.High)),
		Range: of.Range, From: []diag.Origin{a.band.Origin},
	}
}

// check finds what a session asks of its band that the band does not have, and the lack of a band.
func (l *lowering) check(in *schedule.Session, s *Session) {
	if s.Band != nil {
		l.faults.steps(in, s.Band, in.Session.Steps)
		return
	}
	if len(l.block.Bands) == 0 {
		return
	}
	other := l.block.Bands[0]
	at := l.athlete.DayOn(in.Date).Range
	if in.Given != nil || at.Filename == "" {
		at = place(in)
	}
	is := "is"
	if in.Place != s.Place {
		is = "may be"
	}
	l.faults.once("no-band/"+s.Place, diag.Diagnostic{
		Code: "no-band", Severity: diag.Error, Subject: at,
		Summary: fmt.Sprintf("No band holds %ss, where %s on %s %s ridden", s.Place, in.Session.Title, in.Date, is),
		Detail: fmt.Sprintf("Band %q holds %ss only. Write one for riding %ss as well, place = \"%s\", or leave place out of band %q: then it holds wherever no other does.",
			other.Key, other.Place, s.Place, s.Place, other.Key),
		Related: []diag.Related{{Message: "the band that there is", Range: other.Range}},
	})
}

// steps holds steps that are ridden by an allowance against those of the band.
func (f *faults) steps(in *schedule.Session, b *plan.Band, steps []plan.Step) {
	for i := range steps {
		s := &steps[i]
		if s.Repeat != nil {
			f.steps(in, b, s.Repeat.Steps)
			continue
		}
		if s.Target != plan.Over {
			continue
		}
		b := writer(b)
		d := diag.Diagnostic{
			Code: "allowance-exceeded", Severity: diag.Error, Subject: place(in),
			Related: []diag.Related{{Message: "the step", Range: s.Range}, {Message: "the band", Range: b.Range}},
		}
		allowed, ok := b.Allowance(s.Over)
		switch {
		case s.Fill:
			d.Summary = fmt.Sprintf("Step %q of %s takes what the other steps leave, all of it above the band", s.Name, in.Session.Title)
			d.Detail = "What is ridden above the band has a time of its own: duration = \"2 min\", in a repeat where it comes again."
		case !ok:
			d.Code = "no-allowance"
			d.Summary = fmt.Sprintf("%s rides %q above the band, which band %q does not allow", in.Session.Title, s.Over, b.Key)
			d.Detail = fmt.Sprintf("Where it is meant, write in band %q: %s. Otherwise choose another session.", b.Key, suggestion(b, s))
		case s.Duration > allowed.Duration:
			d.Summary = fmt.Sprintf("Step %q of %s lasts %s, but band %q allows %q for %s at a time", s.Name, in.Session.Title, s.Duration, b.Key, s.Over, allowed.Duration)
			d.Detail = fmt.Sprintf("Shorten the step to %s, or allow %s in the band.", allowed.Duration, s.Duration)
			d.Related[1] = diag.Related{Message: "the allowance", Range: allowed.Range}
		default:
			continue
		}
		f.once(fmt.Sprintf("%s/%s/%s", in.Session.Key, b.Key, s.Over), d)
	}
}

// writer is the band in which the allowances of b were written: a raised band has those of the band
// before, unless it writes some.
func writer(b *plan.Band) *plan.Band {
	same := func(x, y plan.Allowance) bool { return x.Range == y.Range }
	for b.Raises != nil && slices.EqualFunc(b.Allowances, b.Raises.Allowances, same) {
		b = b.Raises
	}
	return b
}

// suggestion is what to write in a band so that it allows a step, beside what it allows already.
func suggestion(b *plan.Band, s *plan.Step) string {
	of := "all out"
	if s.Duration > physiology.LongestSprint.Value {
		of = physiology.UsualAllowance.Value.String()
	}
	all := []string{fmt.Sprintf("\"%s: %s, %s\"", s.Over, s.Duration, of)}
	for _, have := range b.Allowances {
		of := "all out"
		if !have.AllOut {
			of = have.Share.String()
		}
		all = append(all, fmt.Sprintf("\"%s: %s, %s\"", have.Name, have.Duration, of))
	}
	if len(all) == 1 {
		return "over = " + all[0]
	}
	return "over = [" + strings.Join(all, ", ") + "]"
}
