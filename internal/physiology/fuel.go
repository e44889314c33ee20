package physiology

import "towpath/internal/units"

// Food and drink on the bike below the first threshold, by the length of the ride. The amounts of
// the literature are for harder riding; the review named here says to adjust them downwards where
// the intensity is low, and so do these. For comfort and performance, not a diet.
var (
	// FoodOptionalFrom is the length from which food may be welcome, FoodFrom from which it is
	// advised, and FoodMoreFrom from which more of it is.
	FoodOptionalFrom = Number[units.Minutes]{Value: 60, Kind: Convention, Note: "own choice, no source"}
	FoodFrom         = Number[units.Minutes]{Value: 90, Kind: Convention, Note: "own choice, no source"}
	FoodMoreFrom     = Number[units.Minutes]{Value: 150, Kind: Convention, Note: "own choice, no source"}
	// Food and FoodMore are grams of carbohydrate an hour.
	Food = Number[units.Range[int]]{
		Value: units.Range[int]{Low: 20, High: 40}, Kind: Derived, Source: "jeukendrup2014", Locator: "abstract",
		Population: "most athletes, by a review", Note: "our reading: up to about 60 g an hour for 2-3 h there, less where the intensity is low; how much less it does not say",
	}
	FoodMore = Number[units.Range[int]]{
		Value: units.Range[int]{Low: 30, High: 60}, Kind: Derived, Source: "jeukendrup2014", Locator: "abstract",
		Population: "most athletes, by a review", Note: "our reading: about 60 g an hour for 2-3 h there and about 90 beyond, less where the intensity is low; how much less it does not say",
	}
	// DrinkFrom is the length from which drink is carried; Drink is in tenths of a litre an hour.
	DrinkFrom = Number[units.Minutes]{
		Value: 40, Kind: Derived, Source: "mosler2020", Locator: "abstract",
		Population: "athletes, by a position paper", Note: "our reading: under 30 to 40 min nothing need be drunk",
	}
	Drink = Number[units.Range[int]]{
		Value: units.Range[int]{Low: 4, High: 8}, Kind: Derived, Source: "thomas2016", Locator: "fluid during exercise",
		Population: "athletes, by a position paper", Note: "our reading, as a start: its 0.4 to 0.8 L an hour, from memory",
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
