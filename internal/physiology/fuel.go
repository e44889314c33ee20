package physiology

import "towpath/internal/units"

// Food and drink on the bike below the first threshold, by the length of the ride. The amounts of
// the literature are for harder riding; the review named here says to adjust them downwards where
// the intensity is low, and so do these. For comfort and performance, not a diet.
var (
	// FoodOptionalFrom is the length from which food may be welcome, FoodFrom from which it is
	// advised, and FoodMoreFrom from which more of it is.
	FoodOptionalFrom = Number[units.Minutes]{Value: 60, Kind: Convention, Note: "common practice, no source"}
	FoodFrom         = Number[units.Minutes]{Value: 90, Kind: Convention, Note: "common practice, no source"}
	FoodMoreFrom     = Number[units.Minutes]{Value: 150, Kind: Convention, Note: "common practice, no source"}
	// Food and FoodMore are grams of carbohydrate an hour.
	Food = Number[units.Range[int]]{
		Value: units.Range[int]{Low: 20, High: 40}, Kind: Measured, Source: "jeukendrup2014", Locator: "abstract",
		Population: "trained athletes at higher intensities", Note: "up to 60 g an hour for 2-3 h there; adjusted downwards for low intensity",
	}
	FoodMore = Number[units.Range[int]]{
		Value: units.Range[int]{Low: 30, High: 60}, Kind: Measured, Source: "jeukendrup2014", Locator: "abstract",
		Population: "trained athletes at higher intensities", Note: "60 to 90 g an hour there; adjusted downwards for low intensity",
	}
	// DrinkFrom is the length from which drink is carried; Drink is in tenths of a litre an hour.
	DrinkFrom = Number[units.Minutes]{Value: 40, Kind: Convention, Note: "common practice, no source"}
	Drink     = Number[units.Range[int]]{
		Value: units.Range[int]{Low: 4, High: 8}, Kind: Measured, Source: "thomas2016", Locator: "fluid during exercise",
		Population: "athletes", Note: "a start; from memory",
	}
)

// CarbohydratePerHour is what to eat on a ride of this length, in grams an hour; zero where
// nothing is needed.
func CarbohydratePerHour(ride units.Minutes) units.Range[int] {
	switch {
	case ride >= FoodMoreFrom.Value:
		return FoodMore.Value
	case ride >= FoodFrom.Value:
		return Food.Value
	}
	return units.Range[int]{}
}
