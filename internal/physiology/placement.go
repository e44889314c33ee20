package physiology

import "towpath/internal/units"

// What the placement of rides on days goes by. Every one is a choice or a habit of the trade: no
// study tells on which day of a week a ride belongs.
var (
	// LongDay and LongDayPercent tell when a day is long: the larger of the two, the second as
	// percent of the week's minutes.
	LongDay        = Number[units.Minutes]{Value: 150, Kind: Convention, Note: "own choice, no source"}
	LongDayPercent = Number[int]{Value: 35, Kind: Convention, Note: "own choice, no source"}
	// DayBeforeTest is the most that may be ridden on the day before a maximal test, and then
	// lightly; two days before, the riding stays under TwoDaysBeforeTest.
	DayBeforeTest     = Number[units.Minutes]{Value: 60, Kind: Convention, Note: "common practice, no source; the minutes are ours"}
	TwoDaysBeforeTest = Number[units.Minutes]{Value: 120, Kind: Convention, Note: "common practice, no source; the minutes are ours"}
	// MixSlack is how far a ride's minutes may lie from those wished before a session is moved for
	// it; from MixStated on, the plan says so.
	MixSlack  = Number[units.Minutes]{Value: 10, Kind: Convention, Note: "own choice, no source: two quanta"}
	MixStated = Number[units.Minutes]{Value: 15, Kind: Convention, Note: "own choice, no source: three quanta"}
	// HeldDays is how many days from the day of the plan are in the rider's hand already.
	HeldDays = Number[int]{Value: 7, Kind: Convention, Note: "common practice, no source: riders arrange a week ahead"}
	// MostRides bounds the rides of a week's mix: the search is exact, and grows with each.
	MostRides = Number[int]{Value: 8, Kind: Convention, Note: "own choice, no source"}
)
