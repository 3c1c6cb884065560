package units

import (
	"math"
	"strconv"
	"strings"
)

// A Shower prints itself in one system of units.
type Shower interface{ Show(System) string }

// Pair returns q in the library's system and in the other.
func Pair(q Shower, s System) (main, other string) { return q.Show(s), q.Show(s.Other()) }

// Other returns the system that stands beside s.
func (s System) Other() System {
	if s == Inch {
		return Metric
	}
	return Inch
}

// String returns the word of library.yaml: inch or metric.
func (s System) String() string {
	if s == Metric {
		return "metric"
	}
	return "inch"
}

// significant prints v with n significant digits, without an exponent, with
// commas from 1,000 on. What is not finite prints as a dash.
func significant(v float64, n int) string {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return "–"
	}
	if v == 0 {
		return "0"
	}
	places := n - 1 - int(math.Floor(math.Log10(math.Abs(v))))
	places = max(0, min(places, 14))
	s := strconv.FormatFloat(v, 'f', places, 64)
	// 9.996 to three digits is 10.0, not 10.00.
	if r, _ := strconv.ParseFloat(s, 64); places > 0 && r != 0 &&
		math.Floor(math.Log10(math.Abs(r))) > math.Floor(math.Log10(math.Abs(v))) {
		s = strconv.FormatFloat(v, 'f', places-1, 64)
	}
	return commas(s)
}

// fixed prints v with so many decimals, with commas from 1,000 on, and never
// as minus zero.
func fixed(v float64, places int) string {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return "–"
	}
	s := strconv.FormatFloat(v, 'f', places, 64)
	if s[0] == '-' && strings.Trim(s, "-0.") == "" {
		s = s[1:]
	}
	return commas(s)
}

// trimmed is fixed without the zeros at its end.
func trimmed(v float64, places int) string {
	s := fixed(v, places)
	if strings.IndexByte(s, '.') >= 0 {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	return s
}

// rounded is significant without the zeros after the point: what was written
// as 25 psi prints so.
func rounded(v float64, n int) string {
	s := significant(v, n)
	if strings.IndexByte(s, '.') >= 0 {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	return s
}

// Whole returns a number without decimals and to three significant digits, for
// what is worked out and not counted: "8,620", "42".
func Whole(v float64) string {
	if math.Abs(v) < 999.5 {
		return fixed(v, 0)
	}
	step := math.Pow(10, math.Floor(math.Log10(math.Abs(v)))-2)
	return fixed(math.Round(v/step)*step, 0)
}

// Figure returns a number to three significant digits and no finer than so many
// decimals, for what is worked out: "8,620", "42.2", "0.3".
func Figure(v float64, places int) string {
	if math.Abs(v) >= 999.5 {
		return Whole(v)
	}
	if v == 0 || math.IsNaN(v) {
		return fixed(v, places)
	}
	least := 2 - int(math.Floor(math.Log10(math.Abs(v))))
	if p := math.Pow(10, float64(least)); math.Round(math.Abs(v)*p) >= 1000 {
		least-- // 9.996 is 10.0
	}
	return fixed(v, max(0, min(places, least)))
}

// RoundUp returns a number that is not negative rounded up to three significant
// digits, for what is worked out and has to suffice: 1,746.8 is 1,750.
func RoundUp(v float64) float64 {
	if !(v > 0) || math.IsInf(v, 1) {
		return v
	}
	const slip = 1e-9 // of conversions
	if places := 2 - math.Floor(math.Log10(v)); places >= 0 {
		p := math.Pow(10, places)
		return math.Ceil(v*p-slip) / p
	} else {
		step := math.Pow(10, -places)
		return math.Ceil(v/step-slip) * step
	}
}

// commas parts the digits before the point in groups of three.
func commas(s string) string {
	sign := ""
	if strings.HasPrefix(s, "-") {
		sign, s = "-", s[1:]
	}
	whole, rest := s, ""
	if i := strings.IndexByte(s, '.'); i >= 0 {
		whole, rest = s[:i], s[i:]
	}
	if len(whole) <= 3 {
		return sign + s
	}
	b := make([]byte, 0, len(s)+len(whole)/3+1)
	b = append(b, sign...)
	for i := 0; i < len(whole); i++ {
		if i > 0 && (len(whole)-i)%3 == 0 {
			b = append(b, ',')
		}
		b = append(b, whole[i])
	}
	return string(append(b, rest...))
}
