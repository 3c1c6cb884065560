package bearing

import (
	"fmt"
	"math"

	"wythe/renderer/basis"
	"wythe/renderer/units"
)

// xpsRow is the foundation modulus of XPS by thickness, in lbf/in³. Source: a
// manufacturer's foundation property table.
type xpsRow struct {
	rated float64 // psi
	k     []float64
}

var (
	xpsThickness = []float64{1, 1.5, 2, 2.5, 3, 4} // in
	xpsRows      = []xpsRow{
		{15, []float64{590, 550, 500, 450, 400, 300}},
		{25, []float64{750, 710, 675, 595, 565, 510}},
		{40, []float64{1100, 1000, 900, 780, 680, 650}},
		{60, []float64{1520, 1400, 1275, 1150, 1040, 790}},
	}
)

// xps100 is the one value of the 100 psi type, at 2 in.
const xps100 = 2600

// XPSModulus returns the foundation modulus of one course of XPS of a rated
// resistance, read off straight lines between the thicknesses of the table.
//
// Source: a manufacturer's foundation property table.
// Errors: *[basis.RefusedError] for a rated resistance not in the table;
// *[units.RangeError] for a thickness outside 1 to 4 in.
func XPSModulus(rated units.Pressure, thickness units.Length) (FoundationModulus, error) {
	const near = 0.5 // psi: a rating through SI, or rounded
	in := float64(thickness) / inch
	if math.Abs(float64(rated)/psi-100) <= near && math.Abs(in-2) < 0.05 {
		return PerCubicInch(xps100), nil
	}
	for _, row := range xpsRows {
		if math.Abs(float64(rated)/psi-row.rated) > near {
			continue
		}
		// The ends are met by way of SI.
		const rounding = 1e-9
		if err := basis.Within("thickness of an XPS course", in, xpsThickness[0]-rounding, xpsThickness[len(xpsThickness)-1]+rounding, "in"); err != nil {
			return 0, err
		}
		for i := 1; ; i++ {
			if a, b := xpsThickness[i-1], xpsThickness[i]; in <= b || i == len(xpsThickness)-1 {
				return PerCubicInch(row.k[i-1] + (row.k[i]-row.k[i-1])*(in-a)/(b-a)), nil
			}
		}
	}
	return 0, &basis.RefusedError{Method: "foundation modulus of XPS", Case: fmt.Sprintf("a rated resistance of %.3g psi", float64(rated)/psi), Why: "the table has 15, 25, 40, 60 and (2 in) 100 psi; state the modulus"}
}

// EPSType is a geofoam type with its stress at 1 % strain.
type EPSType struct {
	Name       string
	OnePercent units.Pressure
}

// EPSTypes are the types of ASTM D6817. Geofoam practice holds dead and live
// load within the stress at 1 % (NCHRP Report 529, from memory).
var EPSTypes = []EPSType{
	{"EPS12", 15e3}, {"EPS15", 25e3}, {"EPS19", 40e3}, {"EPS22", 50e3}, {"EPS29", 75e3}, {"EPS39", 103e3},
}

// InSeries returns the modulus of beds one on the other: 1/Σ(1/k); two like
// courses have half of one.
//
// Errors: *[units.RangeError] for none, or one not above zero.
func InSeries(beds []FoundationModulus) (FoundationModulus, error) {
	sum := 0.0
	for _, k := range beds {
		if err := basis.Positive("foundation modulus", float64(k), "Pa/m"); err != nil {
			return 0, err
		}
		sum += 1 / float64(k)
	}
	if sum == 0 {
		return 0, basis.Positive("foundation modulus", 0, "Pa/m")
	}
	return FoundationModulus(1 / sum), nil
}
