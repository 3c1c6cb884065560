package thermal

import (
	"fmt"
	"math"

	"wythe/renderer/basis"
	"wythe/renderer/units"
)

// Steel studs. Source: ASHRAE 90.1 Table A9.2-1; IECC Table C402.1.4.1 (from
// memory). Studs of 33 to 54 mil; girts, brackets and stacked tracks are not
// covered.
const studTable = "ASHRAE 90.1 Table A9.2-1"

// studRow is one depth and spacing: the rated cavity R and its factor, R rising.
type studRow struct {
	depth, spacing float64      // in
	factors        [][2]float64 // h·ft²·°F/Btu, 1
}

var studRows = []studRow{
	{3.5, 16, [][2]float64{{11, 0.50}, {13, 0.46}, {15, 0.43}}},
	{6, 16, [][2]float64{{19, 0.37}, {21, 0.35}}},
	{8, 16, [][2]float64{{25, 0.31}}},
	{3.5, 24, [][2]float64{{11, 0.60}, {13, 0.55}, {15, 0.52}}},
	{6, 24, [][2]float64{{19, 0.45}, {21, 0.43}}},
	{8, 24, [][2]float64{{25, 0.38}}},
}

// The nominal 3 1/2 in stud measures 3 5/8 in, and metric spacings of 400 and
// 600 mm stand for 16 and 24 in.
const (
	studDepthWithin   = 0.2 // in
	studSpacingWithin = 0.5 // in
)

// StudLayer is a steel-stud layer with its cavity insulation.
type StudLayer struct {
	Cavity    units.ThermalResistance
	Factor    units.Ratio
	Effective units.ThermalResistance
	Note      string // how the table was read where the cavity is not one of its values
}

// SteelStuds returns the effective resistance of cavity insulation between
// steel studs.
//
// Method: ASHRAE 90.1, Table A9.2-1 (from memory): effective R = factor ×
// cavity R. Between two table values of one depth and spacing the factor is
// read off a straight line. Above the greatest, the effective R of the
// greatest is kept; below the least, the factor of the least: both are on the
// safe side, and Note says so.
// Errors: *[basis.RefusedError] for a depth or spacing not in the table;
// *[units.RangeError] for a cavity R not above zero.
func SteelStuds(s Studs, cavity units.ThermalResistance) (StudLayer, error) {
	if err := basis.Positive("cavity resistance", float64(cavity), "m²·K/W"); err != nil {
		return StudLayer{}, err
	}
	for _, row := range studRows {
		if math.Abs(s.Depth.Inches()-row.depth) > studDepthWithin || math.Abs(s.Spacing.Inches()-row.spacing) > studSpacingWithin {
			continue
		}
		out := StudLayer{Cavity: cavity}
		// A rated R in whole numbers, through SI and back.
		const rounding = 1e-9
		r := float64(cavity.RValue())
		f := row.factors
		least, most := f[0], f[len(f)-1]
		switch {
		case r > most[0]*(1+rounding):
			out.Factor = units.Ratio(most[1] * most[0] / r)
			out.Note = fmt.Sprintf("cavity R %.1f is above the table: the effective R of R %g is kept", r, most[0])
		case r < least[0]*(1-rounding):
			out.Factor = units.Ratio(least[1])
			out.Note = fmt.Sprintf("cavity R %.1f is below the table: the factor of R %g is kept", r, least[0])
		default:
			out.Factor = units.Ratio(least[1])
			for i := 1; i < len(f); i++ {
				a, b := f[i-1], f[i]
				if r >= a[0] {
					out.Factor = units.Ratio(a[1] + (b[1]-a[1])*(r-a[0])/(b[0]-a[0]))
				}
			}
		}
		out.Effective = units.ThermalResistance(float64(out.Factor) * float64(cavity))
		return out, nil
	}
	return StudLayer{}, &basis.RefusedError{
		Method: studTable,
		Case:   fmt.Sprintf("steel studs %.3g in deep at %.3g in", s.Depth.Inches(), s.Spacing.Inches()),
		Why:    "it has studs 3 1/2, 6 and 8 in deep at 16 and 24 in; work others out in two dimensions",
	}
}
