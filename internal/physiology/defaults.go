package physiology

import "towpath/internal/units"

// What holds where a plan says nothing.
var (
	// UsualRide is the length that a session is given where minutes are free.
	UsualRide = Number[units.Minutes]{Value: 60, Kind: Convention, Note: "own choice, no source"}
	// MaximumRide bounds a session that names no most.
	MaximumRide = Number[units.Minutes]{Value: 720, Kind: Convention, Note: "own choice, no source: a bound against typing errors"}
	// RecoveryKeep is what a recovery week keeps of the last loading week.
	RecoveryKeep = Number[units.Share]{Value: 0.60, Kind: Convention, Note: "common practice, no source"}
	// LowerThird and UpperThird divide the band; a session above UpperThird is demanding, one
	// below LowerThird is light. Written shares are whole percents: a third is 33 % or 34 %.
	LowerThird = Number[units.Share]{Value: 0.34, Kind: Definition, Note: "a third, to the next whole percent"}
	UpperThird = Number[units.Share]{Value: 0.67, Kind: Definition, Note: "two thirds, to the next whole percent"}
	BandMiddle = Number[units.Share]{Value: 0.50, Kind: Definition, Note: "half of the way from floor to ceiling"}
	// CeilingOfThreshold gives a threshold where only a ceiling is known.
	CeilingOfThreshold = Number[units.Share]{Value: 0.95, Kind: Convention, Note: "own choice, no source: the ceiling that coaches commonly write, read backwards"}
)
