package units

import (
	"math"
	"strings"
)

const degree = math.Pi / 180 // rad

// largestBare is the largest ratio taken without a percent sign: 2.8 is a heat
// pump, 280 was meant as 280 %.
const largestBare = 10

// ParseRatio reads a ratio, 25 % or 25 percent or 0.25, and returns it as a
// fraction of 1. It must not be negative and may exceed 1 (a heat pump's 280 %).
// A bare number above 10 is refused.
// Errors: *[ParseError].
func ParseRatio(s string) (Ratio, error) {
	n, bad := scan(s, 0)
	if bad != nil {
		if bad.Mend == "" {
			bad.Mend = "write it as 25 %"
		}
		return 0, bad
	}
	if n.value < 0 {
		return 0, &ParseError{s, 0, "a share must not be negative", ""}
	}
	at := skipSpace(s, n.end)
	switch strings.TrimSpace(s[at:]) {
	case "":
		if n.value > largestBare {
			num := strings.TrimSpace(s)
			return 0, &ParseError{s, at, "a share this large is written in percent", "write " + num + " %"}
		}
		return Ratio(n.value), nil
	case "%", "percent", "per cent":
		return Ratio(n.value / 100), nil
	}
	return 0, &ParseError{s, at, "\"" + shorten(s[at:]) + "\" does not belong after a share", "write it as 25 %"}
}

// ParseShare reads a ratio that is at most 1: 25 %, 45 % relative humidity.
// A bare number other than 0 and 1 is refused, for 45 could be meant as 45 %.
// Errors: *[ParseError].
func ParseShare(s string) (Ratio, error) {
	r, err := ParseRatio(s)
	if err != nil {
		return 0, err
	}
	t := strings.TrimSpace(s)
	if isDigit(t[len(t)-1]) && r != 0 && r != 1 {
		return 0, &ParseError{s, len(s), "a share is written in percent", "write " + t + " %"}
	}
	if r > 1 {
		return 0, &ParseError{s, 0, "a share cannot exceed 100 %", ""}
	}
	return r, nil
}

// ParseEmissivity reads the emissivity of a face, above 0 and at most 1.
// Errors: *[ParseError].
func ParseEmissivity(s string) (Emissivity, error) {
	v, err := ParseNumber(s)
	if err != nil {
		return 0, err
	}
	if v <= 0 || v > 1 {
		return 0, &ParseError{s, 0, "an emissivity lies above 0 and at most at 1", "bare foil is 0.05, most faces 0.9"}
	}
	return Emissivity(v), nil
}

// ParseAngle reads a slope and returns radians: 30 deg, 30°, or a rise in 12,
// 8 in 12 (also 8:12). It may be negative and lies between -90 and 90 degrees.
// Errors: *[ParseError].
func ParseAngle(s string) (Angle, error) {
	n, bad := scan(s, 0)
	if bad != nil {
		if bad.Mend == "" {
			bad.Mend = "write a slope as 8 in 12 or 30 deg"
		}
		return 0, bad
	}
	at := skipSpace(s, n.end)
	rest := s[at:]
	run := -1
	switch {
	case strings.HasPrefix(rest, "in ") && len(rest) > 3:
		run = at + 3
	case strings.HasPrefix(rest, ":"):
		run = at + 1
	}
	if run >= 0 {
		r, bad := scan(s, run)
		if bad != nil {
			return 0, bad
		}
		if end := skipSpace(s, r.end); end < len(s) || r.value <= 0 {
			return 0, &ParseError{s, run, "after \"in\" comes the run, alone", "write a slope as 8 in 12"}
		}
		return Angle(math.Atan2(n.value, r.value)), nil
	}
	var v float64
	switch strings.TrimSpace(rest) {
	case "°", "deg", "degrees", "degree":
		v = n.value * degree
	case "":
		if n.value != 0 {
			num := strings.TrimSpace(s)
			return 0, &ParseError{s, at, "a slope needs a unit", "write " + num + " in 12 or " + num + " deg"}
		}
	default:
		return 0, &ParseError{s, at, "\"" + shorten(rest) + "\" is not how a slope is written", "write a slope as 8 in 12 or 30 deg"}
	}
	if math.Abs(v) > math.Pi/2 {
		return 0, &ParseError{s, 0, "a slope lies between -90 and 90 degrees", ""}
	}
	return Angle(v), nil
}

// ParseLeakage reads an air leakage at a test pressure: 0.6 per hour at 50 Pa.
// Errors: *[ParseError].
func ParseLeakage(s string) (AirChange, Pressure, error) {
	const mend = "write it as 0.6 per hour at 50 Pa"
	n, bad := scan(s, 0)
	if bad != nil {
		if bad.Mend == "" {
			bad.Mend = mend
		}
		return 0, 0, bad
	}
	if n.value < 0 {
		return 0, 0, &ParseError{s, 0, "an air leakage must not be negative", ""}
	}
	at := skipSpace(s, n.end)
	rest, ok := strings.CutPrefix(s[at:], "per hour")
	if !ok {
		if rest, ok = strings.CutPrefix(s[at:], "/h"); !ok {
			return 0, 0, &ParseError{s, at, "an air leakage is counted per hour at a test pressure", mend}
		}
	}
	rest, ok = strings.CutPrefix(rest, " at ")
	if !ok {
		return 0, 0, &ParseError{s, len(s) - len(rest), "an air leakage needs the test pressure", mend}
	}
	p, err := ParsePressure(rest)
	if err != nil {
		return 0, 0, moved(err, s, len(s)-len(rest))
	}
	if p == 0 {
		return 0, 0, &ParseError{s, len(s) - len(rest), "the test pressure must be above 0", mend}
	}
	return AirChange(n.value), p, nil
}

// priceUnits are what a price may be for.
var priceUnits = []string{"kWh", "MWh", "therm", "gal", "ccf", "mcf", "MMBtu", "MJ", "GJ", "L", "m3", "lb", "kg", "ton", "cord", "bag"}

// ParsePrice reads a price for so much fuel, 0.24 per kWh or $3.10 per gal,
// and returns the amount of money and what it buys. Money has no unit here.
// Errors: *[ParseError].
func ParsePrice(s string) (money float64, per string, err error) {
	const mend = "write it as 0.24 per kWh"
	i := skipSpace(s, 0)
	if i < len(s) && s[i] == '$' {
		i++
	}
	n, bad := scan(s, i)
	if bad != nil {
		if bad.Mend == "" {
			bad.Mend = mend
		}
		return 0, "", bad
	}
	if n.value < 0 {
		return 0, "", &ParseError{s, 0, "a price must not be negative", ""}
	}
	at := skipSpace(s, n.end)
	rest, ok := strings.CutPrefix(s[at:], "per ")
	if !ok {
		if rest, ok = strings.CutPrefix(s[at:], "/"); !ok {
			return 0, "", &ParseError{s, at, "a price is for so much: per kWh, per therm, per gal", mend}
		}
	}
	rest = strings.TrimSpace(rest)
	for _, u := range priceUnits {
		if u == rest {
			return n.value, u, nil
		}
	}
	return 0, "", &ParseError{s, len(s) - len(rest), "unknown unit \"" + shorten(rest) + "\"", "write one of " + strings.Join(priceUnits, ", ")}
}
