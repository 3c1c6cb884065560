package material

import (
	"fmt"

	"wythe/renderer/basis"
	"wythe/renderer/units"
)

// planeAirSpaces are resistances at a mean of 50 °F and 10 °F across:
// thickness in inches, then h·ft²·°F/Btu for the effective emittances below.
//
// Source: ASHRAE Handbook-Fundamentals ch. 26, thermal resistances of plane
// air spaces (from memory, consistent with one convective conductance per row
// within 0.012 Btu/h·ft²·°F).
var (
	planeEmittances = [...]float64{0.03, 0.05, 0.2, 0.5, 0.82}
	planeHorizontal = [][6]float64{
		{0.5, 2.66, 2.54, 1.88, 1.24, 0.91},
		{0.75, 3.70, 3.46, 2.35, 1.43, 1.01},
		{1.5, 3.79, 3.55, 2.39, 1.45, 1.02},
		{3.5, 3.63, 3.40, 2.33, 1.42, 1.01},
	}
	planeUp = [][6]float64{
		{0.5, 2.13, 2.05, 1.60, 1.11, 0.84},
	}
)

// AirSpaceResistance returns the resistance of a plane air space of thickness
// d (m), in m²·K/W, at a mean of 50 °F with 10 °F across, with faces of the
// emittances e1 and e2 (0: 0.9). Between rows and columns of the table the
// conductance is taken as linear.
//
// Method: ASHRAE Handbook-Fundamentals ch. 26, thermal resistances of plane
// air spaces. The table here holds heat flow horizontal from 1/2 to 3 1/2 in,
// and up at 1/2 in.
// Errors: *[units.RangeError] for a thickness or an effective emittance outside
// the table; *[basis.RefusedError] for heat flow down, of which no row is held.
func AirSpaceResistance(d units.Length, dir Direction, e1, e2 units.Emissivity) (units.ThermalResistance, basis.Trace, error) {
	const name = "ASHRAE Handbook-Fundamentals"
	e1, e2, err := faces(e1, e2)
	if err != nil {
		return 0, basis.Trace{}, err
	}
	rows := planeHorizontal
	switch dir {
	case Up:
		rows = planeUp
	case Down:
		return 0, basis.Trace{}, &basis.RefusedError{Method: name + " ch. 26", Case: "an air space with heat flow down", Why: "the table here holds no such row; ISO 6946 serves"}
	}
	inches := d.Inches()
	const rounding = 1e-9
	first, last := rows[0][0], rows[len(rows)-1][0]
	if err := basis.Within("air space thickness", inches, first-rounding, last+rounding, "in"); err != nil {
		limit := first
		if inches > last {
			limit = last
		}
		return 0, basis.Trace{}, &units.RangeError{Quantity: "air space thickness", Value: inches, Limit: limit, Unit: "in",
			Says: fmt.Sprintf("lies outside the table, which runs from %g to %g in for heat flow %s", first, last, dir)}
	}
	e := float64(EffectiveEmittance(e1, e2))
	if err := basis.Within("effective emittance", e, planeEmittances[0], planeEmittances[len(planeEmittances)-1], ""); err != nil {
		return 0, basis.Trace{}, err
	}
	h := conductance(rows[0], e)
	for i := 1; i < len(rows); i++ {
		lo, hi := rows[i-1], rows[i]
		if inches >= lo[0] {
			t := min(1, (inches-lo[0])/(hi[0]-lo[0]))
			h = conductance(lo, e) + t*(conductance(hi, e)-conductance(lo, e))
		}
	}
	return units.RValue(1 / h).SI(), basis.Trace{
		Method: basis.Method{Name: name, Clause: "ch. 26, plane air spaces", Says: "Plane air space, heat flow " + dir.String()},
		Inputs: []basis.Input{
			{Name: "thickness", Value: d.InchFraction()},
			{Name: "effective emittance", Value: fmt.Sprintf("%.2g", e)},
		},
		Limits: []string{"mean 50 °F and 10 °F across the space", "no air moves through the space"},
	}, nil
}

// conductance returns 1/R of a row at effective emittance e.
func conductance(row [6]float64, e float64) float64 {
	for i := 1; i < len(planeEmittances); i++ {
		if lo, hi := planeEmittances[i-1], planeEmittances[i]; e <= hi {
			return 1/row[i] + (1/row[i+1]-1/row[i])*(e-lo)/(hi-lo)
		}
	}
	return 1 / row[len(row)-1]
}
