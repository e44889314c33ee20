package plan

import (
	"towpath/internal/physiology"
	"towpath/internal/spec"
	"towpath/internal/units"
)

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
	l.WeeklyGrowth = own(s.WeeklyGrowth, l.WeeklyGrowth)
	l.LongShare = own(s.LongShare, l.LongShare)
	l.LongDaysApart = own(s.LongDaysApart, l.LongDaysApart)
	l.RestDays = own(s.RestDays, l.RestDays)
	l.RidingDaysInARow = own(s.RidingDaysInARow, l.RidingDaysInARow)
	l.LoadingWeeks = own(s.LoadingWeeks, l.LoadingWeeks)
	l.RecoveryDepth = own(s.RecoveryDepth, l.RecoveryDepth)
	if s.StartVolume.Set {
		l.StartVolume = Limit[units.Minutes]{Value: s.StartVolume.V.Minutes(), Written: true, Range: s.StartVolume.Range}
	}
	if s.SessionSpike.Set {
		l.SessionSpike = Limit[Increase]{Value: increase(s.SessionSpike.V), Written: true, Range: s.SessionSpike.Range}
	}
	if s.BigWeekend.Set {
		l.BigWeekend = Limit[Increase]{Value: increase(s.BigWeekend.V), Written: true, Range: s.BigWeekend.Range}
	}
	return l
}

func byDefault[T any](v T) Limit[T] { return Limit[T]{Value: v} }

func own[T any](v spec.Value[T], def Limit[T]) Limit[T] {
	if !v.Set {
		return def
	}
	return Limit[T]{Value: v.V, Written: true, Range: v.Range}
}

func increase(a spec.Amount) Increase {
	if a.IsShare {
		return Increase{Share: a.Share}
	}
	return Increase{Minutes: a.Duration.Minutes()}
}
