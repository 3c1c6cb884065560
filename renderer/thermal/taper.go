package thermal

import (
	"fmt"
	"math"

	"wythe/renderer/basis"
	"wythe/renderer/units"
)

const annexE = "ISO 6946:2017 Annex E"

// TaperedTransmittance returns the mean transmittance, in W/(m²·K), of an
// area whose one tapered layer grows from no resistance to r, beside the
// constant resistance r0 of all else, films included.
//
// Method: ISO 6946:2017, Annex E: U = 1/r ln(1+r/r0) for a rectangle,
// 2/r [(1+r0/r) ln(1+r/r0) - 1] for a triangle thickest at its apex,
// 2/r [1 - r0/r ln(1+r/r0)] for one thinnest at its apex.
// Valid for slopes of up to 5 %. Errors: *[units.RangeError] if r < 0 or
// r0 ≤ 0, or the shape is unknown.
func TaperedTransmittance(shape TaperShape, r0, r units.ThermalResistance) (units.ThermalTransmittance, error) {
	if err := basis.Positive("resistance beside the taper", float64(r0), "m²·K/W"); err != nil {
		return 0, err
	}
	if err := basis.NotNegative("resistance of the taper", float64(r), "m²·K/W"); err != nil {
		return 0, err
	}
	if err := basis.Finite("resistance of the taper", float64(r), "m²·K/W"); err != nil {
		return 0, err
	}
	a, b := float64(r0), float64(r)
	x := b / a
	// Below this the closed forms lose digits: their series to the fifth
	// power of x, whose next term is under 1e-12, take over.
	small := x < 1e-2
	switch shape {
	case Rectangle, noTaper:
		if x == 0 {
			return units.ThermalTransmittance(1 / a), nil
		}
		return units.ThermalTransmittance(math.Log1p(x) / b), nil
	case ThickestAtApex:
		if small {
			return units.ThermalTransmittance((1 - x*(1.0/3-x*(1.0/6-x*(1.0/10-x*(1.0/15-x/21))))) / a), nil
		}
		return units.ThermalTransmittance(2 / b * ((1+1/x)*math.Log1p(x) - 1)), nil
	case ThinnestAtApex:
		if small {
			return units.ThermalTransmittance((1 - x*(2.0/3-x*(1.0/2-x*(2.0/5-x*(1.0/3-x*2/7))))) / a), nil
		}
		return units.ThermalTransmittance(2 / b * (1 - math.Log1p(x)/x)), nil
	}
	return 0, &units.RangeError{Quantity: fmt.Sprintf("shape %q", shape), Says: "must be one of those of " + annexE}
}

// TriangleTransmittance returns the mean transmittance, in W/(m²·K), of a
// triangle whose tapered layer has no resistance at one corner, r1 at another
// and r2 ≥ r1 at the third, beside the constant resistance r0.
//
// Method: ISO 6946:2017, Annex E, triangular area of different thickness at
// each apex. Errors: *[units.RangeError] if r0 ≤ 0, r1 < 0 or r2 < r1.
func TriangleTransmittance(r0, r1, r2 units.ThermalResistance) (units.ThermalTransmittance, error) {
	if err := basis.NotNegative("resistance at the middle corner", float64(r1), "m²·K/W"); err != nil {
		return 0, err
	}
	if !(r2 >= r1) {
		return 0, &units.RangeError{Quantity: "resistance at the thickest corner", Value: float64(r2), Limit: float64(r1), Unit: "m²·K/W", Says: "must be at least that of the middle corner"}
	}
	a, b, c := float64(r0), float64(r1), float64(r2)
	switch near := 1e-4 * (a + c); {
	case b < near: // a triangle thickest at one corner, 0 at the two others
		return TaperedTransmittance(ThickestAtApex, r0+r1/2, r2-r1/2)
	case c-b < near:
		return TaperedTransmittance(ThinnestAtApex, r0, (r1+r2)/2)
	}
	if err := basis.Positive("resistance beside the taper", a, "m²·K/W"); err != nil {
		return 0, err
	}
	sum := a*b*math.Log1p(c/a) - a*c*math.Log1p(b/a) + b*c*math.Log((a+c)/(a+b))
	return units.ThermalTransmittance(2 * sum / (b * c * (c - b))), nil
}

// taper returns the stack's one taper: its shape and the resistance that it
// adds to the least thickness.
func taper(layers []Layer) (TaperShape, float64, error) {
	shape, added := noTaper, 0.0
	for i := range layers {
		l := &layers[i]
		if l.Taper == nil {
			continue
		}
		switch {
		case shape != noTaper:
			return shape, 0, &basis.RefusedError{Method: annexE, Case: fmt.Sprintf("%q is the second tapered layer", l.Name), Why: "one layer may be tapered; divide the roof into areas"}
		case l.Given:
			return shape, 0, &basis.RefusedError{Method: annexE, Case: fmt.Sprintf("%q is tapered and gives a resistance for its sheet", l.Name), Why: "give its conductivity"}
		case !(l.Taper.To >= l.Thickness) || math.IsInf(float64(l.Taper.To), 1):
			return shape, 0, &units.RangeError{Quantity: fmt.Sprintf("thick end of %q", l.Name), Value: float64(l.Taper.To), Limit: float64(l.Thickness), Unit: "m", Says: "must be at least its thin end"}
		}
		if run := l.Taper.Run; run > 0 {
			if slope := float64((l.Taper.To - l.Thickness) / run); slope > greatestSlope {
				return shape, 0, &units.RangeError{Quantity: fmt.Sprintf("slope of %q", l.Name), Value: slope, Limit: greatestSlope, Says: "must not be over 5 %"}
			}
		}
		shape = l.Taper.Shape
		if shape == noTaper {
			shape = Rectangle
		}
		added = float64(l.Taper.To-l.Thickness) / float64(l.Conductivity)
	}
	return shape, added, nil
}
