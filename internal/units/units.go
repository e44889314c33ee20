// Package units holds the quantities a training plan is made of: power, heart rate, lactate,
// perceived effort, cadence, mass, shares, durations, dates, clock times and ranges of them.
// Text goes in (`"4 h 30 min"`), a typed value comes out, and String prints the form that Parse
// reads back. It knows nothing of the language around the text, nor of athletes.
package units

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// The quantities. Each is a type of its own so that watts and beats cannot be mixed.
type (
	Power     float64 // watts (W)
	HeartRate float64 // beats per minute (bpm)
	Lactate   float64 // blood lactate concentration (mmol/L)
	Effort    float64 // perceived exertion, 6 to 20
	Cadence   float64 // revolutions per minute (rpm)
	Mass      float64 // kilograms (kg)
	Share     float64 // a fraction; "8 %" is 0.08
	RampRate  float64 // watts per minute (W/min)
	Energy    float64 // kilojoules (kJ)
	Minutes   int     // whole minutes, the measure of a day's riding
	Duration  int     // whole seconds, the measure of a step
)

// Range is a closed interval, Low <= High.
type Range[T any] struct{ Low, High T }

// One gives the range that holds v alone.
func One[T any](v T) Range[T] { return Range[T]{v, v} }

// Map applies f to both ends.
func Map[T, U any](r Range[T], f func(T) U) Range[U] { return Range[U]{f(r.Low), f(r.High)} }

// PerMillion is the share in millionths, rounded to the nearest: for arithmetic on integers.
func (s Share) PerMillion() int { return int(math.Round(float64(s) * 1e6)) }

// Minutes rounds a duration down to whole minutes.
func (d Duration) Minutes() Minutes { return Minutes(int(d) / 60) }

// Duration is m as seconds.
func (m Minutes) Duration() Duration { return Duration(m * 60) }

func (p Power) String() string     { return number(float64(p)) + " W" }
func (h HeartRate) String() string { return number(float64(h)) + " bpm" }
func (l Lactate) String() string   { return number(float64(l)) + " mmol/L" }
func (e Effort) String() string    { return number(float64(e)) }
func (c Cadence) String() string   { return number(float64(c)) + " rpm" }
func (m Mass) String() string      { return number(float64(m)) + " kg" }
func (s Share) String() string     { return number(float64(s)*100) + " %" }
func (r RampRate) String() string  { return number(float64(r)) + " W/min" }
func (e Energy) String() string    { return number(float64(e)) + " kJ" }

func (m Minutes) String() string { return m.Duration().String() }

// String prints minutes below two hours ("75 min"), hours and minutes above ("4 h 30 min"),
// and seconds only where there are any ("1 min 30 s").
func (d Duration) String() string {
	sign := ""
	if d < 0 {
		sign, d = "-", -d
	}
	h, m, s := int(d)/3600, int(d)/60%60, int(d)%60
	if h < 2 {
		h, m = 0, m+60*h
	}
	var parts []string
	for _, p := range []struct {
		n    int
		unit string
	}{{h, "h"}, {m, "min"}, {s, "s"}} {
		if p.n > 0 {
			parts = append(parts, strconv.Itoa(p.n)+" "+p.unit)
		}
	}
	if parts == nil {
		return "0 min"
	}
	return sign + strings.Join(parts, " ")
}

// String prints "118-142 W", or one value where both ends are equal.
func (r Range[T]) String() string {
	low, high := fmt.Sprint(r.Low), fmt.Sprint(r.High)
	if low == high {
		return low
	}
	if n, unit, ok := strings.Cut(low, " "); ok && strings.HasSuffix(high, " "+unit) {
		return n + "-" + high
	}
	return low + "-" + high
}

// number prints the shortest decimal that differs from v by less than 1e-6: a share of 0.07 is
// "7", not "7.000000000000001".
func number(v float64) string {
	r := math.Round(v*1e6) / 1e6
	if r == 0 {
		r = 0 // no minus zero
	}
	return strconv.FormatFloat(r, 'f', -1, 64)
}
