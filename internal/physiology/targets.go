package physiology

import "towpath/internal/units"

// Steps of a session: how short and how long their parts may become when a session is laid out
// over the minutes that a day has.
var (
	// SpareAtMost is how much longer the cool-down may become before the work takes the rest.
	SpareAtMost = Number[units.Minutes]{Value: 10, Kind: Convention, Note: "own choice, no source: a cool-down that grows further is no cool-down"}
	// ShortestFill is the least a step that fills the session gets; below it, other steps give way.
	ShortestFill = Number[units.Minutes]{Value: 5, Kind: Convention, Note: "own choice, no source"}
	// ShortestEnd is how far a warm-up or a cool-down may shrink, and never under ShrinkAtMost of
	// its written length.
	ShortestEnd  = Number[units.Minutes]{Value: 5, Kind: Convention, Note: "common practice, no source: 5 min are enough where the work stays low"}
	ShrinkAtMost = Number[units.Share]{Value: 0.5, Kind: Convention, Note: "own choice, no source"}
)

// Power targets.
var (
	// BelowFrom is the lower end of riding below the floor, as a share of the threshold.
	BelowFrom = Number[units.Share]{Value: 0.50, Kind: Convention, Note: "common practice, no source"}
	// StageRounding is what the stages of a first test are rounded to.
	StageRounding = Number[units.Power]{Value: 5, Kind: Convention, Note: "own choice, no source"}
	// NarrowestPower and NarrowestPowerShare are the least width of a power range; the larger of
	// the two holds. The share is of the upper end.
	NarrowestPower      = Number[units.Power]{Value: 12, Kind: Convention, Note: "own choice, no source: a rider on a road cannot hold less"}
	NarrowestPowerShare = Number[units.Share]{Value: 0.10, Kind: Convention, Note: "own choice, no source"}
)

// Riding above the band for a short time, where the coach allows it.
var (
	// LongestSprint is how long a step above the band may be for "all out" to be proposed as what
	// the band should allow; for a longer one UsualAllowance of the ceiling is.
	LongestSprint  = Number[units.Duration]{Value: 30, Kind: Convention, Note: "own choice, no source: longer efforts all out are tests"}
	UsualAllowance = Number[units.Share]{Value: 1.10, Kind: Convention, Note: "own choice, no source: a start for the coach to change"}
)

// Long rides: the first threshold sinks while one rides, so the upper watts are lower.
var (
	// LongRideCap is the upper end of long rides, as a share of the threshold: whole from CapWhole.
	LongRideCap = Number[units.Share]{
		Value: 0.90, Kind: Derived, Source: "stevenson2022", Locator: "abstract",
		Population: "14 trained cyclists and triathletes, 13 of them men",
		Note:       "our reading of a fall by 9.7 %: power at the first ventilatory threshold 217 to 196 W after two hours at 90 % of it",
	}
	// VeryLongRideCap is the upper end after FreshTime in rides over VeryLongRide.
	VeryLongRideCap = Number[units.Share]{
		Value: 0.85, Kind: Derived, Source: "gallo2024", Locator: "abstract",
		Population: "12 trained cyclists, 40 years (SD 8)",
		Note:       "our reading, in its direction alone: the threshold goes on falling, and not on a straight line, but by 5 % only after 139 min (SD 78), half of what stevenson2022 found by then; the step down from LongRideCap is our own choice",
	}
	// CapFrom and CapWhole are the ride lengths between which the cap comes in on a straight line,
	// so that five minutes more never cost five watts.
	CapFrom      = Number[units.Minutes]{Value: 105, Kind: Convention, Note: "own choice, no source"}
	CapWhole     = Number[units.Minutes]{Value: 135, Kind: Convention, Note: "own choice, no source"}
	VeryLongRide = Number[units.Minutes]{Value: 180, Kind: Convention, Note: "own choice, no source"}
	FreshTime    = Number[units.Minutes]{
		Value: 120, Kind: Derived, Source: "stevenson2022", Locator: "abstract",
		Population: "14 trained cyclists and triathletes, 13 of them men",
		Note:       "our reading: the threshold was measured again after two hours",
	}
)

// Heart-rate targets.
var (
	// ShortestHeartRateStep is the shortest step with a heart-rate target: before, the heart rate
	// is still on its way (97 % of the rise after 4 min at a time constant of 68.7 s).
	ShortestHeartRateStep = Number[units.Duration]{
		Value: 4 * 60, Kind: Derived, Source: "hunt2019", Locator: "abstract",
		Population: "25 healthy men on a cycle ergometer, at an effort of 13",
		Note:       "our reading of a time constant of 68.7 s (SD 21.5)",
	}
	// BelowHeartRate is where between the band's heart rates the cap of riding below the floor lies.
	BelowHeartRate = Number[units.Share]{Value: 0.5, Kind: Convention, Note: "own choice, no source: the middle, so that the cap leaves room for the heart to drift and still keeps below the work"}
	// FirstDrift and SecondDrift say how much the heart rate may rise over its cap late in a ride:
	// so many beats once that many minutes have been ridden.
	FirstDrift      = Number[units.HeartRate]{Value: 5, Kind: Derived, Source: "stevenson2022", Locator: "abstract", Population: "14 trained cyclists and triathletes, 13 of them men", Note: "our reading: heart rate at the threshold 142 to 151 bpm after two hours, half of it for 90 min"}
	FirstDriftFrom  = Number[units.Minutes]{Value: 90, Kind: Convention, Note: "own choice, no source"}
	SecondDrift     = Number[units.HeartRate]{Value: 10, Kind: Derived, Source: "stevenson2022", Locator: "abstract", Population: "14 trained cyclists and triathletes, 13 of them men", Note: "our reading, rounded: heart rate at the threshold 142 to 151 bpm after two hours"}
	SecondDriftFrom = Number[units.Minutes]{Value: 150, Kind: Convention, Note: "own choice, no source"}
	// HotAir is the air temperature, in degrees Celsius, from which the allowance does not hold.
	HotAir = Number[int]{Value: 27, Kind: Convention, Note: "own choice, no source"}
)

// The check of a ceiling by talk, on the first ride under a band that was derived with caution.
var (
	// TalkCheckTime is how long to ride at the ceiling before judging.
	TalkCheckTime = Number[units.Minutes]{Value: 5, Kind: Convention, Note: "own choice, no source: longer than the 4 min that a heart rate needs"}
	// TalkCheckStep is what to take off where whole sentences do not come easily.
	TalkCheckStep = Number[units.Power]{Value: 10, Kind: Convention, Note: "own choice, no source"}
)

// Effort targets, on the scale from 6 to 20.
var (
	// LowestEffortCap and HighestEffortCap bound the cap of a step.
	LowestEffortCap  = Number[units.Effort]{Value: 10, Kind: Convention, Note: "own choice, no source"}
	HighestEffortCap = Number[units.Effort]{
		Value: 12, Kind: Derived, Source: "scherr2013", Locator: "abstract",
		Population: "2,560 men and women, treadmill and cycle ergometer",
		Note:       "our reading of a rating of 10.8 (SD 1.8) at the lactate threshold",
	}
	// UsualEffortCap is the cap of work where the rider's own test has no ratings.
	UsualEffortCap = Number[units.Effort]{
		Value: 11, Kind: Derived, Source: "scherr2013", Locator: "abstract",
		Population: "2,560 men and women, treadmill and cycle ergometer",
		Note:       "our reading, rounded up: a rating of 10.8 (SD 1.8) at the lactate threshold",
	}
	// LateEffort may be reached in the last LateEffortLasts of rides over LateEffortOver.
	LateEffort      = Number[units.Effort]{Value: 13, Kind: Convention, Note: "own choice, no source"}
	LateEffortOver  = Number[units.Minutes]{Value: 150, Kind: Convention, Note: "own choice, no source"}
	LateEffortLasts = Number[units.Minutes]{Value: 30, Kind: Convention, Note: "own choice, no source"}
)

// TargetCap is the share of the threshold that the upper end of a power target may have in a ride
// of this length, given the ceiling's own share; late tells of the part after FreshTime. Below
// CapFrom it is the ceiling; between CapFrom and CapWhole it falls on a straight line. own is the
// coach's share for long rides, which stands in the place of both usual ones; 0 where they hold.
func TargetCap(ride units.Minutes, ceiling units.Share, late bool, own units.Share) units.Share {
	long, veryLong := LongRideCap.Value, VeryLongRideCap.Value
	if own > 0 {
		long, veryLong = own, own
	}
	switch {
	case late && ride > VeryLongRide.Value:
		return min(ceiling, veryLong)
	case ride >= CapWhole.Value:
		return min(ceiling, long)
	case ride > CapFrom.Value && ceiling > long:
		part := units.Share(ride-CapFrom.Value) / units.Share(CapWhole.Value-CapFrom.Value)
		return ceiling - units.Share(float64(part)*float64(ceiling-long))
	}
	return ceiling
}
