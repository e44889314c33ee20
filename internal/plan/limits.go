package plan

import (
	"towpath/internal/diag"
	"towpath/internal/physiology"
	"towpath/internal/spec"
	"towpath/internal/units"
)

// Limit is a limit of the rule book as it holds here: the coach's where written, else the
// default. A limit that the coach wrote is kept, or it is an error; a warning with WarnOnly.
type Limit[T any] struct {
	Value    T
	Written  bool
	WarnOnly bool       // limits.when_broken = "warn"
	Range    diag.Range // where it was written
}

// Limits are the limits in force.
type Limits struct {
	WeeklyGrowth     Limit[units.Share]
	StartVolume      Limit[units.Minutes] // 0 where not written: the default depends on the athlete
	SessionSpike     Limit[Increase]
	LongShare        Limit[units.Share]
	BigWeekend       Limit[Increase]
	LongDaysApart    Limit[bool]
	RestDays         Limit[int]
	RidingDaysInARow Limit[int]
	LoadingWeeks     Limit[int]
	RecoveryDepth    Limit[units.Range[units.Share]]
	TwoDays          Limit[units.Share] // off where not written
}

// Increase is a rise by a share or by minutes, whichever is set.
type Increase struct {
	Share   units.Share
	Minutes units.Minutes
}

// limits puts the coach's limits in front of the defaults: the one place where both meet.
func limits(s *spec.Limits) Limits {
	l := Limits{
		WeeklyGrowth:     byDefault(physiology.WeeklyGrowthAdvice.Value),
		SessionSpike:     byDefault(Increase{Share: physiology.SpikeAdviceShare.Value}),
		LongShare:        byDefault(physiology.LongShareAdvice.Value),
		BigWeekend:       byDefault(Increase{Share: physiology.BigWeekendShare.Value, Minutes: physiology.BigWeekendMinutes.Value}),
		RestDays:         byDefault(physiology.RestDays.Value),
		RidingDaysInARow: byDefault(physiology.RidingDaysInARow.Value),
		LoadingWeeks:     byDefault(physiology.LoadingWeeksAdvice.Value),
		RecoveryDepth:    byDefault(physiology.RecoveryDepth.Value),
	}
	if s == nil {
		return l
	}
	warn := s.WhenBroken.V == "warn"
	own(&l.WeeklyGrowth, s.WeeklyGrowth, warn, same)
	own(&l.StartVolume, s.StartVolume, warn, units.Duration.Minutes)
	own(&l.SessionSpike, s.SessionSpike, warn, increase)
	own(&l.LongShare, s.LongShare, warn, same)
	own(&l.BigWeekend, s.BigWeekend, warn, increase)
	own(&l.TwoDays, s.TwoDays, warn, same)
	own(&l.LongDaysApart, s.LongDaysApart, warn, same)
	own(&l.RestDays, s.RestDays, warn, same)
	own(&l.RidingDaysInARow, s.RidingDaysInARow, warn, same)
	own(&l.LoadingWeeks, s.LoadingWeeks, warn, same)
	own(&l.RecoveryDepth, s.RecoveryDepth, warn, same)
	return l
}

// usualDays fits the default of riding days in a row to what is fixed: where fixed rides alone fill
// as many days of a week, the way to work from Monday to Friday, a ride at the weekend would break it
// each week. All days but the rest days may then be in a row.
func (l *Limits) usualDays(weeks []*Week) {
	run := &l.RidingDaysInARow
	if run.Written {
		return
	}
	for _, w := range weeks {
		fixed := map[units.Date]bool{}
		for _, g := range w.Given {
			if g.Fixed != "" {
				fixed[g.Date] = true
			}
		}
		if len(fixed) >= run.Value {
			run.Value = max(run.Value, daysInWeek-l.RestDays.Value)
		}
	}
}

func byDefault[T any](v T) Limit[T] { return Limit[T]{Value: v} }

// own replaces a limit where the coach wrote one.
func own[W, T any](l *Limit[T], v spec.Value[W], warn bool, as func(W) T) {
	if v.Set {
		*l = Limit[T]{Value: as(v.V), Written: true, WarnOnly: warn, Range: v.Range}
	}
}

func same[T any](v T) T { return v }

func increase(a spec.Amount) Increase {
	if a.IsShare {
		return Increase{Share: a.Share}
	}
	return Increase{Minutes: a.Duration.Minutes()}
}
