package physiology

import "towpath/internal/units"

// How a block grows, eases off and rests. Nearly all evidence on growing comes from running, where
// the best of it speaks against the popular weekly rules; nothing here foretells what a step up
// does to one cyclist. So each of these is a reason to look again, never a verdict, and the coach's
// own limit goes before it. A first level is advice; a second one, where there is one, a warning.

// The measure of the plan itself.
var (
	// MinimumRide is the shortest ride worth the change of clothes.
	MinimumRide = Number[units.Minutes]{Value: 30, Kind: Convention, Note: "common practice, no source"}
	// Quantum is the step in which minutes are planned.
	Quantum = Number[units.Minutes]{Value: 5, Kind: Convention, Note: "own choice, no source"}
)

// Weekly growth, against the largest of the last RecentWeeks weeks: a recovery week is never the
// reference, or each return from one would look like a leap.
var (
	RecentWeeks        = Number[int]{Value: 4, Kind: Convention, Note: "own choice, no source: a month, so that it always holds a loading week"}
	WeeklyGrowthAdvice = Number[units.Share]{
		Value: 0.10, Kind: Convention,
		Note: "common practice, no source: a trial in 532 novice runners (buist2008) found no difference between growing by it over 13 weeks and a usual programme of 8",
	}
	WeeklyGrowthWarning = Number[units.Share]{
		Value: 0.30, Kind: Derived, Source: "nielsen2014", Locator: "abstract", Population: "874 novice runners",
		Note: "our reading, and weak: for complaints that go with distance a hazard ratio of 1.59 (0.96-2.66) above 30 % over two weeks, no difference over all; one week in place of two, hours in place of distance and riding in place of running are ours",
	}
	// WeeklyGrowthLeast may always be added: a tenth of a small week is less than a ride.
	WeeklyGrowthLeast = Number[units.Minutes]{Value: 30, Kind: Convention, Note: "own choice, no source"}
)

// The first week, against the weeks before the block.
var (
	StartVolumeFactor = Number[units.Share]{Value: 1.10, Kind: Convention, Note: "common practice, no source"}
	StartVolumeLeast  = Number[units.Minutes]{Value: 150, Kind: Convention, Note: "own choice, no source: below two and a half hours a start is small for anybody who rides"}
	// A rider who returns after a long time off begins with at most so many minutes in at most so
	// many rides, none longer than the longest of the last month or ReturningRide.
	ReturningVolume = Number[units.Minutes]{Value: 240, Kind: Convention, Note: "common practice, no source"}
	ReturningRides  = Number[int]{Value: 5, Kind: Convention, Note: "common practice, no source"}
	ReturningRide   = Number[units.Minutes]{Value: 75, Kind: Convention, Note: "common practice, no source"}
)

// The longest ride, against the longest of SpikeDays days, planned and done. The level is the
// largest of a share more, minutes more, and a length that never counts as a leap.
var (
	SpikeDays = Number[int]{
		Value: 30, Kind: Derived, Source: "frandsen2025", Locator: "abstract", Population: "5,205 runners, 78 % men",
		Note: "our reading: the window of the study; distance there, minutes here",
	}
	SpikeAdviceShare = Number[units.Share]{
		Value: 0.10, Kind: Derived, Source: "frandsen2025", Locator: "abstract", Population: "5,205 runners, 78 % men",
		Note: "our reading, and weak: a cohort, by distance, self-reported, not rising evenly with the size of the leap; the transfer to minutes on a bicycle is ours",
	}
	SpikeWarningShare = Number[units.Share]{
		Value: 0.30, Kind: Derived, Source: "frandsen2025", Locator: "abstract", Population: "5,205 runners, 78 % men",
		Note: "our reading, and weak: the second class of the study begins there, with no higher a rate than the first; the transfer to minutes on a bicycle is ours",
	}
	SpikeAdviceMinutes  = Number[units.Minutes]{Value: 20, Kind: Convention, Note: "own choice, no source"}
	SpikeWarningMinutes = Number[units.Minutes]{Value: 45, Kind: Convention, Note: "own choice, no source"}
	SpikeAdviceLeast    = Number[units.Minutes]{Value: 75, Kind: Convention, Note: "own choice, no source"}
	SpikeWarningLeast   = Number[units.Minutes]{Value: 105, Kind: Convention, Note: "own choice, no source"}
)

// The longest ride as a share of its week, in weeks of LongShareRides rides and more: with fewer,
// one of them is long by arithmetic.
var (
	LongShareAdvice  = Number[units.Share]{Value: 0.45, Kind: Convention, Note: "common practice, no source; the level is ours"}
	LongShareWarning = Number[units.Share]{Value: 0.55, Kind: Convention, Note: "common practice, no source; the level is ours"}
	LongShareRides   = Number[int]{Value: 4, Kind: Convention, Note: "own choice, no source"}
)

// Neighbouring days. Two days in a row are big where they hold more by both measures than any two
// in a row of the last RecentWeeks weeks, and more than BigWeekendLeast.
var (
	BigWeekendShare   = Number[units.Share]{Value: 0.15, Kind: Convention, Note: "own choice, no source"}
	BigWeekendMinutes = Number[units.Minutes]{Value: 30, Kind: Convention, Note: "own choice, no source"}
	BigWeekendLeast   = Number[units.Minutes]{Value: 150, Kind: Convention, Note: "own choice, no source: no more than one long day"}
)

// EventShare is how much of an event's length is ridden at a time before it.
var EventShare = Number[units.Share]{Value: 0.5, Kind: Convention, Note: "common practice, no source; the level is ours"}

// Rest.
var (
	RestDays            = Number[int]{Value: 1, Kind: Convention, Note: "common practice, no source: days without riding in a week"}
	RidingDaysInARow    = Number[int]{Value: 5, Kind: Convention, Note: "common practice, no source"}
	RidingDaysWarning   = Number[int]{Value: 7, Kind: Convention, Note: "own choice, no source: a week's worth of days, wherever it begins"}
	LoadingWeeksAdvice  = Number[int]{Value: 3, Kind: Convention, Note: "common practice, no source: coaches of strength sports agree on lighter weeks (bell2023); no trial in endurance sport was found"}
	LoadingWeeksWarning = Number[int]{Value: 4, Kind: Convention, Note: "common practice, no source"}
	// RecoveryDepth is how much less a recovery week holds than the last loading week.
	RecoveryDepth = Number[units.Range[units.Share]]{
		Value: units.Range[units.Share]{Low: 0.30, High: 0.50}, Kind: Convention, Note: "common practice, no source",
	}
)

// The band and its targets.
var (
	// BandJump is how far a band may rise above the one before without a new test.
	BandJump = Number[units.Share]{Value: 0.05, Kind: Convention, Note: "own choice, no source: a lactate threshold repeats to 3.4-3.7 % (pallares2016), so a larger rise is a claim that wants a test"}
	// MetersDiffer is from where on two power meters need a band each.
	MetersDiffer = Number[units.Share]{Value: 0.02, Kind: Convention, Note: "own choice, no source: makers state about as much as the error of one meter"}
	// A target that a coach typed is narrow under either of the two measures of power.
	NarrowPowerShare = Number[units.Share]{Value: 0.08, Kind: Convention, Note: "common practice, no source"}
	NarrowPower      = Number[units.Power]{Value: 10, Kind: Convention, Note: "common practice, no source"}
	NarrowHeartRate  = Number[units.HeartRate]{Value: 6, Kind: Convention, Note: "common practice, no source"}
)
