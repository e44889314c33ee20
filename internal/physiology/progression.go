package physiology

import "towpath/internal/units"

var (
	MinimumRide        = Number[units.Minutes]{Value: 30, Kind: Convention, Note: "common practice, no source"}
	Quantum            = Number[units.Minutes]{Value: 5, Kind: Convention, Note: "own choice, no source"}
	WeeklyGrowthAdvice = Number[units.Share]{Value: 0.10, Kind: Convention, Note: "common practice, no source"}
	SpikeAdviceShare   = Number[units.Share]{Value: 0.10, Kind: Convention, Note: "common practice, no source"}
	LongShareAdvice    = Number[units.Share]{Value: 0.45, Kind: Convention, Note: "common practice, no source"}
	BigWeekendShare    = Number[units.Share]{Value: 0.15, Kind: Convention, Note: "common practice, no source"}
	BigWeekendMinutes  = Number[units.Minutes]{Value: 30, Kind: Convention, Note: "common practice, no source"}
	RestDays           = Number[int]{Value: 1, Kind: Convention, Note: "common practice, no source"}
	RidingDaysInARow   = Number[int]{Value: 5, Kind: Convention, Note: "common practice, no source"}
	LoadingWeeksAdvice = Number[int]{Value: 3, Kind: Convention, Note: "common practice, no source"}
	RecoveryDepth      = Number[units.Range[units.Share]]{Value: units.Range[units.Share]{Low: 0.3, High: 0.5}, Kind: Convention, Note: "common practice, no source"}
)
