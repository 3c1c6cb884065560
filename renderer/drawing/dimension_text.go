package drawing

import (
	"math"
	"strconv"
	"strings"

	"wythe/renderer/units"
)

// DimensionText prints a length as dimensions do: feet and inches to 1/16
// ("3 1/2″", "1′-7″"), or millimetres without their sign ("127"): by halves
// below 300 mm where the length is one ("12.5"), by tenths below 10 mm, by
// hundredths below 1 mm.
func DimensionText(l units.Length, system units.System) string {
	if system == units.Inch {
		return l.FeetInchDrawing()
	}
	mm := float64(l) * 1000
	step, places := 1.0, 0
	switch a := math.Abs(mm); {
	case a < 1:
		step, places = 0.01, 2
	case a < 9.95:
		step, places = 0.1, 1
	case a < 300 && math.Abs(math.Mod(a, 1)-0.5) < 0.06:
		step, places = 0.5, 1
	}
	s := strconv.FormatFloat(math.Round(mm/step)*step, 'f', places, 64)
	if places > 0 {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	if s == "" || s == "-" || s == "-0" {
		return "0"
	}
	return s
}
