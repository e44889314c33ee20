package physiology

import (
	"math"

	"towpath/internal/units"
)

// The training impulse after Banister weighs a minute at heart-rate reserve x with
// x * factor * exp(exponent * x). The exponents were chosen to follow group lactate curves, so a
// man's number is never compared with a woman's. The factors are in banister1991 alone: equation 2
// of morton1990 has none, which makes its impulses larger (for men by 1/0.64), so impulses
// reckoned elsewhere compare with these only where the factor is known.
var (
	ImpulseFactorMen     = Number[float64]{Value: 0.64, Kind: Definition, Source: "banister1991", Locator: "page 408", Population: "men", Note: "as others quote it"}
	ImpulseExponentMen   = Number[float64]{Value: 1.92, Kind: Definition, Source: "morton1990", Locator: "page 1172, equation 2", Population: "men", Note: "as others quote it; the same in banister1991"}
	ImpulseFactorWomen   = Number[float64]{Value: 0.86, Kind: Definition, Source: "banister1991", Locator: "page 408", Population: "women", Note: "as others quote it"}
	ImpulseExponentWomen = Number[float64]{Value: 1.67, Kind: Definition, Source: "morton1990", Locator: "page 1172, equation 2", Population: "women", Note: "as others quote it; the same in banister1991"}
)

// The session rating from 0 to 10 (CR10) that is expected of rides below the first threshold, by
// their length. At the same power longer rides are rated higher: the loads of 30, 60 and 90 min at
// 90 % of the individual anaerobic threshold (foster2001, table 4) come to ratings of 4.3, 4.5 and
// 4.8. The values themselves are a convention; the coach asks for the real rating after the ride.
var (
	ShortRideRating  = Number[float64]{Value: 2, Kind: Convention, Note: "own choice, no source"}
	MiddleRideRating = Number[float64]{Value: 3, Kind: Convention, Note: "own choice, no source"}
	LongRideRating   = Number[float64]{Value: 4, Kind: Convention, Note: "own choice, no source"}
	MaximalRating    = Number[float64]{Value: 7, Kind: Convention, Note: "own choice, no source: sessions that hold a maximal effort"}
	ShortRideAtMost  = Number[units.Minutes]{Value: 60, Kind: Convention, Note: "own choice, no source"}
	MiddleRideAtMost = Number[units.Minutes]{Value: 150, Kind: Convention, Note: "own choice, no source"}
)

// DaysOfMonotony are the days over which monotony is reckoned.
var DaysOfMonotony = Number[int]{Value: 7, Kind: Definition, Source: "foster2001", Locator: "table 5", Note: "a week"}

// EasyFrom is how far up from rest to the band's lower heart rate the least is that is expected of
// riding below the band by heart rate or by effort; the most is that lower heart rate.
var EasyFrom = Number[units.Share]{Value: 0.5, Kind: Convention, Note: "own choice, no source: nothing tells how easily a rider without watts rides there"}

// HeartRateReserve is where h lies between the resting and the maximal heart rate, as a share
// (karvonen1957, and as the ratio x of banister1991 and morton1990). Values outside are held to 0
// and 1, which is ours. ok is false where the two do not rise.
func HeartRateReserve(h, resting, maximum units.HeartRate) (x units.Share, ok bool) {
	if resting <= 0 || maximum <= resting {
		return 0, false
	}
	return units.Share(min(max((h-resting)/(maximum-resting), 0), 1)), true
}

// Impulse is the training impulse, in arbitrary units, of d at heart-rate reserve x (banister1991,
// page 408). Both sources mean a steady heart rate and add up parts that differ. ok is false where
// the sex is neither "female" nor "male": there are no coefficients then.
func Impulse(sex string, x units.Share, d units.Duration) (load float64, ok bool) {
	factor, exponent := ImpulseFactorMen.Value, ImpulseExponentMen.Value
	switch sex {
	case "male":
	case "female":
		factor, exponent = ImpulseFactorWomen.Value, ImpulseExponentWomen.Value
	default:
		return 0, false
	}
	minutes := float64(d) / 60
	return minutes * float64(x) * factor * math.Exp(exponent*float64(x)), true
}

// SessionRating is the rating from 0 to 10 that is expected of a session of this length.
func SessionRating(length units.Minutes, maximal bool) float64 {
	switch {
	case maximal:
		return MaximalRating.Value
	case length <= ShortRideAtMost.Value:
		return ShortRideRating.Value
	case length <= MiddleRideAtMost.Value:
		return MiddleRideRating.Value
	}
	return LongRideRating.Value
}

// SessionLoad is minutes times the session rating, in arbitrary units (foster2001, page 110).
func SessionLoad(length units.Minutes, rating float64) float64 {
	return float64(length) * rating
}

// Monotony is the mean of the daily loads of a week over their standard deviation (foster1998,
// abstract). Which standard deviation no paper says, and the one week that is printed with its
// monotony (foster2001, table 5) comes out by neither: ours is the sample's (n-1), which makes a
// monotony 0.926 of what the other gives. ok is false where it is undefined: another number of days
// than seven, all days equal.
func Monotony(daily []float64) (m float64, ok bool) {
	if len(daily) != DaysOfMonotony.Value {
		return 0, false
	}
	n := float64(len(daily))
	var sum float64
	for _, v := range daily {
		sum += v
	}
	mean := sum / n
	var squares float64
	for _, v := range daily {
		squares += float64((v - mean) * (v - mean))
	}
	sd := math.Sqrt(squares / (n - 1))
	if sd <= mean*equalDays {
		return 0, false
	}
	return mean / sd, true
}

// equalDays is the spread, as a share of the mean, under which days count as equal: rounding
// errors must not become a monotony of millions.
const equalDays = 1e-9
