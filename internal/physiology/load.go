package physiology

import (
	"math"

	"towpath/internal/units"
)

// The training impulse after Banister weighs a minute at heart-rate reserve x with
// x * factor * exp(exponent * x). The pairs come from group lactate curves, so a man's number is
// never compared with a woman's.
var (
	ImpulseFactorMen     = Number[float64]{Value: 0.64, Kind: Measured, Source: "morton1990", Locator: "training impulse", Population: "men", Note: "from memory"}
	ImpulseExponentMen   = Number[float64]{Value: 1.92, Kind: Measured, Source: "morton1990", Locator: "training impulse", Population: "men", Note: "from memory"}
	ImpulseFactorWomen   = Number[float64]{Value: 0.86, Kind: Measured, Source: "banister1991", Locator: "training impulse", Population: "women", Note: "from memory"}
	ImpulseExponentWomen = Number[float64]{Value: 1.67, Kind: Measured, Source: "banister1991", Locator: "training impulse", Population: "women", Note: "from memory"}
)

// The session rating from 0 to 10 (CR10) that is expected of rides below the first threshold, by
// their length. At the same power longer rides are rated higher: Foster and colleagues (2001,
// table 4) found 4.3, 4.5 and 4.8 for 30, 60 and 90 min at a higher intensity. The values
// themselves are a convention; the coach asks for the real rating after the ride.
var (
	ShortRideRating    = Number[float64]{Value: 2, Kind: Convention, Note: "own choice, no source"}
	MiddleRideRating   = Number[float64]{Value: 3, Kind: Convention, Note: "own choice, no source"}
	LongRideRating     = Number[float64]{Value: 4, Kind: Convention, Note: "own choice, no source"}
	MaximalRating      = Number[float64]{Value: 7, Kind: Convention, Note: "own choice, no source: sessions that hold a maximal effort"}
	ShortRideAtMost    = Number[units.Minutes]{Value: 60, Kind: Convention, Note: "own choice, no source"}
	MiddleRideAtMost   = Number[units.Minutes]{Value: 150, Kind: Convention, Note: "own choice, no source"}
	DaysOfMonotony     = Number[int]{Value: 7, Kind: Measured, Source: "foster1998", Locator: "abstract", Population: "25 trained athletes", Note: "daily mean over its standard deviation; the paper does not say which: ours is the sample's (n-1)"}
	SessionLoadMinutes = Number[float64]{Value: 1, Kind: Definition, Source: "foster2001", Locator: "page 110", Note: "load = rating times minutes"}
)

// HeartRateReserve is where h lies between the resting and the maximal heart rate, as a share;
// values outside are held to 0 and 1. ok is false where the two do not rise.
func HeartRateReserve(h, resting, maximum units.HeartRate) (x units.Share, ok bool) {
	if resting <= 0 || maximum <= resting {
		return 0, false
	}
	return units.Share(min(max((h-resting)/(maximum-resting), 0), 1)), true
}

// Impulse is the training impulse, in arbitrary units, of d at heart-rate reserve x. ok is false
// where the sex is neither "female" nor "male": there are no coefficients then.
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

// SessionLoad is minutes times the session rating, in arbitrary units.
func SessionLoad(length units.Minutes, rating float64) float64 {
	return SessionLoadMinutes.Value * float64(length) * rating
}

// Monotony is the mean of the daily loads of a week over their sample standard deviation (n-1).
// ok is false where it is undefined: another number of days than seven, all days equal.
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
