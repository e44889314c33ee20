package physiology

import "towpath/internal/units"

// The numbers by which a lactate step test is read. A convention marked "own choice" has no
// authority behind it at all: it is a decision taken here, and a coach may see it differently.

// Limits of what a stage can hold: outside the first range a value is refused, outside the second
// it is questioned.
var (
	StagePowerPossible = Number[units.Range[units.Power]]{
		Value: units.Range[units.Power]{Low: 0, High: 700}, Kind: Convention,
		Note: "own choice, no source: beyond any step test of an endurance cyclist",
	}
	StagePowerUsual = Number[units.Range[units.Power]]{
		Value: units.Range[units.Power]{Low: 30, High: 500}, Kind: Convention,
		Note: "own choice, no source",
	}
	HeartRatePossible = Number[units.Range[units.HeartRate]]{
		Value: units.Range[units.HeartRate]{Low: 25, High: 230}, Kind: Convention,
		Note: "own choice, no source",
	}
	HeartRateUsual = Number[units.Range[units.HeartRate]]{
		Value: units.Range[units.HeartRate]{Low: 50, High: 210}, Kind: Convention,
		Note: "own choice, no source: in exercise",
	}
	LactatePossible = Number[units.Range[units.Lactate]]{
		Value: units.Range[units.Lactate]{Low: 0.1, High: 30}, Kind: Convention,
		Note: "own choice, no source",
	}
	LactateUsual = Number[units.Range[units.Lactate]]{
		Value: units.Range[units.Lactate]{Low: 0.5, High: 20}, Kind: Convention,
		Note: "own choice, no source: in exercise",
	}
	FirstStageLactateUsual = Number[units.Lactate]{
		Value: 3, Kind: Convention,
		Note: "own choice, no source: a first stage above this was not easy",
	}
	EffortScale = Number[units.Range[units.Effort]]{
		Value: units.Range[units.Effort]{Low: 6, High: 20}, Kind: Definition,
		Note: "the scale of perceived exertion runs from 6 to 20",
	}
	StageDurationPossible = Number[units.Range[units.Duration]]{
		Value: units.Range[units.Duration]{Low: 10, High: 3600}, Kind: Convention,
		Note: "own choice, no source",
	}
	// LactateMgPerDl converts: 1 mmol/L of lactate (90.1 g/mol) is 9.01 mg/dL.
	LactateMgPerDl = Number[float64]{Value: 9.01, Kind: Definition, Note: "from the molar mass of lactic acid, 90.08 g/mol"}
)

// Cleaning a step test.
var (
	StageComplete = Number[units.Share]{
		Value: 0.95, Kind: Convention,
		Note: "own choice, no source: a stage ridden this far counts as whole",
	}
	LactateOfIncomplete = Number[units.Share]{
		Value: 0.5, Kind: Convention,
		Note: "own choice, no source: below this share of a stage its lactate belongs to the stage before",
	}
	SuspectDrop = Number[units.Lactate]{
		Value: 0.5, Kind: Convention,
		Note: "own choice, no source: more than a later reading by this much cannot be right while power rises",
	}
	SuspectDropFirst = Number[units.Lactate]{
		Value: 1.0, Kind: Convention,
		Note: "own choice, no source: a nervous start raises the first reading",
	}
	SuspectShare = Number[units.Share]{
		Value: 0.20, Kind: Convention,
		Note: "own choice, no source: with more left out the test is not read",
	}
	StagesForThreshold = Number[int]{
		Value: 4, Kind: Convention,
		Note: "own choice, no source: fewest stages with lactate for any threshold",
	}
	StagesForCurve = Number[int]{
		Value: 5, Kind: Convention,
		Note: "own choice, no source: a cubic has four coefficients, a broken line as many",
	}
	AnalyserLowest = Number[units.Lactate]{
		Value: 0.5, Kind: Convention,
		Note: "own choice, no source: instruments stop between 0.3 and 0.8; equal readings at or below this look cut off",
	}
	StepWide = Number[units.Power]{
		Value: 40, Kind: Convention,
		Note: "own choice, no source: wider steps make every first threshold vague",
	}
	StageShort = Number[units.Duration]{
		Value: 180, Kind: Convention,
		Note: "own choice, no source: in shorter stages lactate lags behind power",
	}
	SampleDelayFine = Number[units.Duration]{
		Value: 30, Kind: Convention,
		Note: "own choice, no source; no validated correction is known",
	}
	SampleDelayMost = Number[units.Duration]{
		Value: 60, Kind: Convention,
		Note: "own choice, no source; no validated correction is known",
	}
	HeartRateFall = Number[units.HeartRate]{
		Value: 5, Kind: Convention,
		Note: "own choice, no source: a fall from stage to stage that wants a look",
	}
)

// Errors of one lactate reading.
var (
	LactateErrorHandheld = Number[units.Lactate]{
		Value: 0.2, Kind: Derived, Source: "mentzoni2024", Locator: "abstract",
		Population: "venous blood in exercise, four hand-held meters against a bench analyser, 0.88-4.89 mmol/L",
		Note:       "our reading, rounded: residual standard errors of 0.15, 0.18, 0.20 and 0.22 mmol/L; what a drop from a finger or an ear adds was not measured there",
	}
	LactateErrorBench = Number[units.Lactate]{
		Value: 0.1, Kind: Convention,
		Note: "own choice, no source: a second bench analyser agreed to 0.06 mmol/L (mentzoni2024); the drop of blood adds to it",
	}
)

// Rises and levels that define the threshold methods, in mmol/L.
var (
	FirstRise = Number[units.Lactate]{
		Value: 0.3, Kind: Convention,
		Note: "common practice, no source: a rise above the baseline beyond the error of one reading",
	}
	Rise04 = Number[units.Lactate]{Value: 0.4, Kind: Convention, Note: "common practice, no source"}
	Rise05 = Number[units.Lactate]{
		Value: 0.5, Kind: Definition, Source: "pallares2016", Locator: "abstract", Population: "14 trained men, cycle ergometer",
		Note: "there above the lactate at the first rise; here above the baseline, and above the minimum",
	}
	Rise10 = Number[units.Lactate]{
		Value: 1.0, Kind: Definition, Source: "coyle1983", Locator: "abstract", Population: "trained cardiac patients and healthy runners, treadmill",
	}
	Rise15 = Number[units.Lactate]{
		Value: 1.5, Kind: Definition, Source: "dickhuth1999", Locator: "abstract", Population: "11 men, treadmill",
		Note: "there above the lactate at the lowest lactate per load",
	}
	Onset2 = Number[units.Lactate]{Value: 2, Kind: Convention, Note: "common practice, no source"}
	Onset3 = Number[units.Lactate]{Value: 3, Kind: Convention, Note: "common practice, no source"}
	Onset4 = Number[units.Lactate]{
		Value: 4, Kind: Definition, Source: "heck1985", Locator: "title",
	}
	ChordStartRise = Number[units.Lactate]{
		Value: 0.4, Kind: Definition, Source: "bishop1998", Locator: "methods", Population: "24 trained women, cycle ergometer",
		Note: "as others quote it: the chord starts at the stage before the first rise of this size",
	}
	AmbiguousFit = Number[units.Share]{
		Value: 0.02, Kind: Convention,
		Note: "own choice, no source: two breaks whose squared errors differ by less cannot be told apart",
	}
	// ExponentialRate bounds c in lactate = a + b e^(c (P - P1)), per watt.
	ExponentialRate = Number[units.Range[float64]]{
		Value: units.Range[float64]{Low: 5e-4, High: 0.15}, Kind: Convention,
		Note: "own choice, no source: at a bound the curve is a straight line or a step, and no fit",
	}
)

// The heart-rate line.
var (
	LineLactate = Number[units.Lactate]{
		Value: 4, Kind: Convention,
		Note: "own choice, no source: above, heart rate bends towards its maximum",
	}
	LineStages = Number[int]{Value: 3, Kind: Convention, Note: "own choice, no source: fewest stages for a line with an error"}
	LineError  = Number[units.HeartRate]{
		Value: 4, Kind: Convention,
		Note: "own choice, no source: residual standard error, or gap to the neighbouring stages, that wants a look",
	}
	LineErrorLeast = Number[units.HeartRate]{
		Value: 3, Kind: Convention,
		Note: "own choice, no source: the same power on another day differs by as much",
	}
	LineSlope = Number[units.Range[float64]]{
		Value: units.Range[float64]{Low: 0.15, High: 0.9}, Kind: Convention,
		Note: "own choice, no source: beats per watt",
	}
	LineInterval = Number[units.Share]{Value: 0.95, Kind: Convention, Note: "common practice, no source: 95 % intervals"}
)

// The band threshold, its standard error and the band.
var (
	// RangeFactor2 and RangeFactor3 turn the range of two or three values into a standard
	// deviation: the mean range of so many normal values.
	RangeFactor2 = Number[float64]{Value: 1.128, Kind: Definition, Note: "2/sqrt(pi)"}
	RangeFactor3 = Number[float64]{Value: 1.693, Kind: Definition, Note: "3/sqrt(pi)"}
	SingleError  = Number[units.Share]{
		Value: 0.08, Kind: Convention,
		Note: "own choice, no source: standard error of a threshold that one method alone supports",
	}
	GoodErrorWatts = Number[units.Power]{Value: 10, Kind: Convention, Note: "own choice, no source"}
	GoodErrorShare = Number[units.Share]{Value: 0.06, Kind: Convention, Note: "own choice, no source"}
	FairErrorWatts = Number[units.Power]{Value: 20, Kind: Convention, Note: "own choice, no source"}
	FairErrorShare = Number[units.Share]{Value: 0.12, Kind: Convention, Note: "own choice, no source"}
	// TestsTogether is how many days the tests of one band may lie apart before it is remarked on.
	TestsTogether = Number[int]{
		Value: 84, Kind: Convention,
		Note: "own choice, no source: over twelve weeks the older test tells of another rider",
	}
	// LactateGasAgree is how far a threshold from lactate and one from gas exchange may lie apart for
	// their mean to be used; farther apart the lower one is.
	LactateGasAgree = Number[units.Power]{
		Value: 20, Kind: Convention,
		Note: "own choice, no source: about the error of either",
	}
	// CautionUsual and CautionStrict are the standard errors by which the ceiling stays below the
	// threshold. Neither is a probability: the threshold itself tends to lie above the first rise.
	CautionUsual = Number[float64]{
		Value: 0.6745, Kind: Convention,
		Note: "own choice, no source: the quartile of the normal distribution",
	}
	CautionStrict = Number[float64]{Value: 1, Kind: Convention, Note: "own choice, no source"}
	// FloorShare is the floor as a share of the ceiling.
	FloorShare = Number[units.Share]{
		Value: 0.75, Kind: Convention,
		Note: "own choice, no source: no published lower bound of the low-intensity band is known",
	}
	ThresholdRatio = Number[units.Range[units.Share]]{
		Value: units.Range[units.Share]{Low: 0.6, High: 0.9}, Kind: Convention,
		Note: "own choice, no source: first over second threshold",
	}
	ThresholdOfPeak = Number[units.Range[units.Share]]{
		Value: units.Range[units.Share]{Low: 0.3, High: 0.75}, Kind: Convention,
		Note: "own choice, no source: first threshold over the step test's peak",
	}
)
