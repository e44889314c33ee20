package units

import "math"

// PerMillion is the share in millionths, rounded to the nearest: for arithmetic on integers.
func (s Share) PerMillion() int { return int(math.Round(float64(s) * 1e6)) }
