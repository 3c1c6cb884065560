package drawing

import (
	"math"
	"strconv"

	"wythe/renderer/units"
)

// DimensionText prints a length as dimensions do: feet and inches to 1/16
// ("3 1/2″", "1′-7″"), or millimetres without their sign ("127"), by halves
// below 100 mm where the length is one ("12.5").
func DimensionText(l units.Length, system units.System) string {
	if system == units.Inch {
		return l.FeetInchDrawing()
	}
	mm := float64(l) * 1000
	places := 0
	if half := math.Round(mm*2) / 2; math.Abs(mm) < 100 && math.Abs(mm-half) < 0.06 && half != math.Trunc(half) {
		mm, places = half, 1
	}
	if mm = math.Round(mm*2) / 2; mm == 0 {
		return "0"
	}
	return strconv.FormatFloat(mm, 'f', places, 64)
}
