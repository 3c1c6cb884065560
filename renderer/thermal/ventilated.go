package thermal

import (
	"fmt"
	"math"

	"wythe/renderer/basis"
	"wythe/renderer/units"
)

const (
	unventilatedUpTo = 500e-6  // m² per m or per m²
	wellFrom         = 1500e-6 // m² per m or per m²
)

// ventilated returns the weight of the well-ventilated state of an air layer:
// 0 unventilated, 1 well ventilated, between them for slight ventilation.
//
// Method: ISO 6946:2017, 6.9.2 to 6.9.4: R = (1500-A)/1000 R_unventilated +
// (A-500)/1000 R_ventilated with A in mm² per m of length (vertical layers)
// or per m² (horizontal ones).
func ventilated(l *Layer) (float64, error) {
	if l.Air == nil {
		return 0, nil
	}
	switch l.Air.Ventilation {
	case "", Unventilated:
		return 0, nil
	case Well:
		return 1, nil
	case Slight:
		a := float64(l.Air.Openings)
		if a == 0 {
			return 0, &basis.MissingError{Method: "ISO 6946:2017 6.9.3", Quantity: fmt.Sprintf("area of openings of the slightly ventilated layer %q", l.Name), Put: "the layer's openings"}
		}
		if err := basis.Positive(fmt.Sprintf("openings of %q", l.Name), a, "m²/m"); err != nil {
			return 0, err
		}
		return math.Min(1, math.Max(0, (a-unventilatedUpTo)/(wellFrom-unventilatedUpTo))), nil
	}
	return 0, &units.RangeError{Quantity: fmt.Sprintf("ventilation %q of %q", l.Air.Ventilation, l.Name), Says: "must be none, slight or well"}
}

// SlightlyVentilated returns the total resistance of an element with a
// slightly ventilated air layer, from the totals of the element with that
// layer unventilated and well ventilated. openings is A_v, in m² per m or m².
// At and below 500 mm² the layer is unventilated, from 1500 mm² well
// ventilated.
//
// Method: ISO 6946:2017, 6.9.3.
// Errors: *[units.RangeError] if openings < 0.
func SlightlyVentilated(openings units.Area, unventilated, well units.ThermalResistance) (units.ThermalResistance, error) {
	if err := basis.NotNegative("openings", float64(openings), "m²/m"); err != nil {
		return 0, err
	}
	w := math.Min(1, math.Max(0, (float64(openings)-unventilatedUpTo)/(wellFrom-unventilatedUpTo)))
	return mix(unventilated, well, w), nil
}

func mix(a, b units.ThermalResistance, w float64) units.ThermalResistance {
	switch w {
	case 0:
		return a
	case 1:
		return b
	}
	return units.ThermalResistance((1-w)*float64(a) + w*float64(b))
}

// overVentilation works a total out for the stack as its air layers are: at
// each ventilated layer the stack that ends there, sheltered, is weighed
// against the stack that goes on.
func (c *core) overVentilation(total func(paths []path, films float64) float64) float64 {
	sum, left := 0.0, 1.0
	for i, p := range c.paths {
		if p.vent > 0 {
			sum += left * p.vent * total(c.paths[:i], c.inside+c.sheltered)
			if left *= 1 - p.vent; left == 0 {
				return sum
			}
		}
	}
	if left == 1 {
		return total(c.paths, c.inside+c.outside)
	}
	return sum + left*total(c.paths, c.inside+c.outside)
}
