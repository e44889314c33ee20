package prescription

import (
	"cmp"
	"fmt"
	"slices"

	"towpath/internal/diag"
	"towpath/internal/physiology"
	"towpath/internal/plan"
	"towpath/internal/schedule"
	"towpath/internal/units"
	"towpath/internal/words"
)

// Prescribe gives each session of a schedule its steps, targets, load, key and title. asOf is
// the date before which days are past; zero where none is. A session whose steps do not fit its
// minutes is an error; the others are prescribed all the same.
func Prescribe(s *schedule.Schedule, asOf units.Date) (*Prescription, diag.List) {
	if s == nil || s.Block == nil {
		return nil, nil
	}
	p := &Prescription{Block: s.Block, Schedule: s, AsOf: asOf}
	lower := lowering{block: s.Block, athlete: s.Block.Athlete, ridden: map[units.Date]units.Minutes{}}
	if lower.athlete == nil {
		lower.athlete = &plan.Athlete{}
	}
	for _, week := range s.Weeks {
		for _, in := range week.Sessions {
			if in.Given == nil || !in.Given.Apart {
				lower.ridden[in.Date] += in.Minutes
			}
		}
		sessions := slices.Clone(week.Sessions)
		slices.SortStableFunc(sessions, func(a, b schedule.Session) int {
			return cmp.Or(cmp.Compare(a.Date, b.Date), cmp.Compare(a.Start, b.Start))
		})
		for i := range sessions {
			p.Sessions = append(p.Sessions, lower.session(&sessions[i]))
		}
	}
	addTalkCheck(p.Sessions)
	p.Weeks = sumWeeks(s.Weeks, p.Sessions)
	diags := lower.faults.list()
	diags.Add(clockFaults(p.Sessions, lower.athlete.Key)...)
	diags.Add(deviceFaults(p.Sessions, lower.athlete)...)
	return p, diags
}

// lowering is the work on one block.
type lowering struct {
	block   *plan.Block
	athlete *plan.Athlete
	ridden  map[units.Date]units.Minutes // in the window in which sessions are placed
	faults  faults
}

// session lowers one session.
func (l *lowering) session(in *schedule.Session) Session {
	key := keyOf(l.block, in)
	out := Session{
		Key: key, UID: uidOf(l.block, key), Week: in.Week, Date: in.Date, Start: in.Start,
		Zone: l.athlete.ZoneOn(in.Date), Place: in.Place, Minutes: in.Minutes, Given: in.Given != nil, Origin: in.Origin,
	}
	if w := l.block.WeekOn(in.Date); w != nil && w.Provisional {
		out.Provisional, out.DecidedBy = true, l.block.DecidedBy()
	}
	if in.Ride != nil {
		out.Ride = in.Ride.Key
	}
	if in.Given != nil {
		out.Note, out.Fixed = in.Given.Note, in.Given.Fixed
	}
	if in.Session == nil {
		out.Name, out.Leads = out.Ride, "effort"
		out.Title = words.Title(out.Minutes, out.Name, words.Targets{}, "")
		return out
	}
	s := in.Session
	out.Session, out.Name, out.Why, out.Feel, out.IfWrong, out.Stop = s.Key, s.Title, s.Purpose, s.Feel, s.IfWrong, s.Stop
	out.Test, out.Maximal = s.Protocol, s.Protocol && s.Maximal
	out.Instead = l.instead(in, out)
	if short := l.fill(&out, in); short > 0 {
		l.faults.add(in, short)
	}
	return out
}

// fill gives a session, of which place and minutes are settled, its band, steps and targets. short
// is the time that its steps need where the minutes are too few for them, else 0.
func (l *lowering) fill(out *Session, in *schedule.Session) (short units.Duration) {
	s := in.Session
	out.Band = l.bandOf(s, in.Date, out.Place)
	l.check(in, out)
	var test *plan.TestDay
	if in.Given != nil {
		test = in.Given.Test
	}
	if test != nil {
		out.Meter = test.Meter
	}
	a := newAim(l.athlete, out, s, test)
	laid, short := l.lay(in, a)
	for i := range laid {
		out.Steps = append(out.Steps, a.step(&laid[i]))
	}
	out.Targets = together(out.Steps, s.Range, func(s *Step) bool { return s.Over == "" })
	if a.beyond && out.Targets.Power == nil {
		out.Targets = Targets{} // what its easy stages have is nothing to ride the test by
	}
	out.Leads = leading(a.leads, together(out.Steps, s.Range, func(*Step) bool { return true }))
	allowances(out)
	out.Allowed = a.allowed(out.Place)
	if short == 0 {
		out.Load = a.load(laid, out.Steps, out.Maximal, s.Rating)
	}
	shown := out.Targets.words()
	if a.beyond {
		shown = words.Targets{} // the stages of a test say nothing in a title
	}
	out.Title = words.Title(out.Minutes, out.Name, shown, out.Leads)
	return short
}

// instead is the session at the other place that its day has, as long as that place allows beside
// what else is ridden in the same window. A test has none: it is to be compared with others at its
// place.
func (l *lowering) instead(in *schedule.Session, at Session) *Session {
	day := l.athlete.DayOn(in.Date)
	if at.Test || day.OrLimit == 0 || in.Given != nil && in.Given.Apart {
		return nil
	}
	var limit units.Minutes
	switch at.Place {
	case day.Place:
		at.Place, limit = day.OrPlace, day.OrLimit
	case day.OrPlace:
		at.Place, limit = day.Place, day.Limit
	default:
		return nil
	}
	at.Minutes = min(at.Minutes, limit-(l.ridden[in.Date]-at.Minutes))
	if at.Minutes < physiology.MinimumRide.Value || l.fill(&at, in) > 0 {
		return nil // what is left is no ride of this kind
	}
	at.Load = Load{}
	return &at
}

// bandOf is the band in force at a place, or the first one there for a test that keeps its watts.
func (l *lowering) bandOf(s *plan.Session, d units.Date, place string) *plan.Band {
	if s.KeepsWatts {
		d = l.block.Start
	}
	return l.block.BandOn(d, place)
}

// lay lays the session's steps out over its minutes.
func (l *lowering) lay(in *schedule.Session, a *aim) (laid []piece, short units.Duration) {
	s := in.Session
	laid = pieces(s.Steps, roles(s.Steps))
	laid = repeatStages(laid, earlierStages(in.Given))
	laid, short = layOut(laid, a.minutes.Duration(), s.Protocol)
	if short > 0 {
		return nil, short
	}
	var threshold units.Power
	if a.hasPower() {
		threshold = a.band.Threshold
	}
	laid = writeOutStages(laid, threshold)
	if !s.Protocol && a.minutes > physiology.VeryLongRide.Value && a.hasPower() {
		laid = splitAt(laid, physiology.FreshTime.Value.Duration(), a.sinks)
	}
	return laid, 0
}

// sinks reports whether a piece has fewer watts after the first hours of a very long ride.
func (a *aim) sinks(p *piece) bool {
	if p.isRepeat() {
		return slices.ContainsFunc(p.rounds, func(inner piece) bool { return a.sinks(&inner) })
	}
	late := *p
	late.late = true
	before, _ := a.power(p)
	after, _ := a.power(&late)
	return before != nil && after != nil && *before != *after
}

// step lowers one piece.
func (a *aim) step(p *piece) Step {
	why := p.why
	if why == "" {
		why = fmt.Sprintf("%s: as written", p.length)
	}
	out := Step{Name: p.step.Name, Role: p.role, Duration: p.length, Note: p.step.Note, Origin: diag.Origin{What: why, Range: p.step.Range}}
	if p.isRepeat() {
		out.Kind, out.Times = Rounds, p.times
		for i := range p.rounds {
			inner := p.rounds[i]
			inner.late = p.late
			out.Steps = append(out.Steps, a.step(&inner))
		}
		return out
	}
	out.Targets = a.targets(p)
	if p.harder && out.Note == "" {
		out.Note = words.HarderStage
	}
	out.AllOut = p.step.Target == plan.AllOut
	if allowed, ok := a.over(p.step); ok {
		out.Over, out.AllOut = allowed.Name, allowed.AllOut
	}
	switch {
	case p.step.Rising || p.step.Falling:
		out.Kind, out.Falling = Ramp, p.step.Falling
	case p.step.Target == plan.Free || out.AllOut:
		out.Kind = Open
	default:
		out.Kind = Steady
	}
	if c := p.step.Cadence; c != nil {
		rpm := Inwards(*c, c.High)
		out.Cadence = &rpm
	}
	return out
}

// leading is what leads as far as the session has it.
func leading(want string, t Targets) string {
	has := map[string]bool{"power": t.Power != nil, "heart_rate": t.HeartRate != nil, "effort": true}
	for _, leads := range []string{want, "power", "heart_rate"} {
		if has[leads] {
			return leads
		}
	}
	return "effort"
}

// inBand reports whether all work of a protocol is at a position in the band.
func inBand(steps []plan.Step) bool {
	r := roles(steps)
	for i := range steps {
		s := &steps[i]
		if s.Repeat != nil && !inBand(s.Repeat.Steps) || s.Repeat == nil && r[i] == Work && s.Target != plan.Position {
			return false
		}
	}
	return true
}
