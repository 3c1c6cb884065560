package drawing

import (
	"strconv"

	"wythe/renderer/units"
)

// inchScales are the trade's scales, largest first: the ratio and the inches
// of paper that stand for a foot. Ratio = 12 / inches.
//
// Source: the architect's scale, as printed on its edges; 1:2 and 1:192 are
// common practice.
var inchScales = []struct {
	ratio float64
	words string
}{
	{1, `12″ = 1′-0″`}, {2, `6″ = 1′-0″`}, {4, `3″ = 1′-0″`}, {8, `1 1/2″ = 1′-0″`},
	{12, `1″ = 1′-0″`}, {16, `3/4″ = 1′-0″`}, {24, `1/2″ = 1′-0″`}, {32, `3/8″ = 1′-0″`},
	{48, `1/4″ = 1′-0″`}, {64, `3/16″ = 1′-0″`}, {96, `1/8″ = 1′-0″`}, {128, `3/32″ = 1′-0″`},
	{192, `1/16″ = 1′-0″`},
}

// metricScales are the reductions of ISO 5455:1979, largest first.
var metricScales = []float64{1, 2, 5, 10, 20, 50, 100, 200, 500, 1000, 2000, 5000, 10000}

// StandardScale says whether 1 to ratio is a scale of ISO 5455 or of the
// trade's inch scales.
func StandardScale(ratio float64) bool {
	for _, s := range metricScales {
		if s == ratio {
			return true
		}
	}
	for _, s := range inchScales {
		if s.ratio == ratio {
			return true
		}
	}
	return false
}

// ChooseScale returns the largest standard scale of the system, no larger
// than 1:largest, at which fits holds; the smallest scale if none does.
func ChooseScale(system units.System, largest float64, fits func(ratio float64) bool) float64 {
	last := 0.0
	if system == units.Metric {
		for _, s := range metricScales {
			if last = s; s >= largest && fits(s) {
				return s
			}
		}
		return last
	}
	for _, s := range inchScales {
		if last = s.ratio; s.ratio >= largest && fits(s.ratio) {
			return s.ratio
		}
	}
	return last
}

// ScaleWords returns the scale as printed under a title: "1 1/2″ = 1′-0″"
// for a scale of the trade, empty for any other; and the ratio, "1:8".
func ScaleWords(ratio float64) (inch, colon string) {
	for _, s := range inchScales {
		if s.ratio == ratio {
			inch = s.words
		}
	}
	return inch, "1:" + strconv.FormatFloat(ratio, 'f', -1, 64)
}

// onPaper returns a length at 1:scale, in mm on paper.
func onPaper(l units.Length, scale float64) float64 { return float64(l) * 1000 / scale }
