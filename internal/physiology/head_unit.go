package physiology

import "towpath/internal/units"

// What a head unit takes of a session.
var (
	// HeadUnitSteps is the most steps of one workout; the files themselves set no limit.
	HeadUnitSteps = Number[int]{Value: 50, Kind: Convention, Note: "common practice, no source: what most head units are said to take; from memory"}
	// A head unit knows no ramp: it becomes stairs, each of StairTime and StairRise at the least.
	StairTime = Number[units.Duration]{Value: 2 * 60, Kind: Convention, Note: "own choice, no source: shorter stairs would only beep"}
	StairRise = Number[units.Power]{Value: 5, Kind: Convention, Note: "own choice, no source: finer stairs would only beep"}
)
