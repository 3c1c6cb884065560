package material

import (
	"fmt"
	"math"

	"wythe/renderer/basis"
	"wythe/renderer/units"
)

const (
	thickestAirLayer = 0.3         // m, ISO 6946
	highEmissivity   = 0.8         // ISO 6946: from here table 8 holds
	usualEmissivity  = 0.9         // of a face that states none
	stefanBoltzmann  = 5.67e-8     // W/(m²·K⁴)
	meanOfLayer      = 10 + 273.15 // K, the mean temperature of annex D
	stillAir         = 0.025       // W/(m·K)
)

// table8 is the resistance of an unventilated air layer with both faces of
// high emissivity: thickness in mm, then m²·K/W for heat flow up, horizontal
// and down; linear between rows.
//
// Source: ISO 6946:2017, table 8 (from memory; all 24 values reproduced by
// annex D at 10 °C mean and 5 K).
var table8 = [...][4]float64{
	{0, 0, 0, 0},
	{5, 0.11, 0.11, 0.11},
	{7, 0.13, 0.13, 0.13},
	{10, 0.15, 0.15, 0.15},
	{15, 0.16, 0.17, 0.17},
	{25, 0.16, 0.18, 0.19},
	{50, 0.16, 0.18, 0.21},
	{100, 0.16, 0.18, 0.22},
	{300, 0.16, 0.18, 0.23},
}

// AirLayerResistance returns the resistance of an unventilated air layer of
// thickness d (m), in m²·K/W, with faces of the emissivities e1 and e2 (0: 0.9).
//
// Method: ISO 6946:2017, 6.9.2: table 8 where both emissivities are at least
// 0.8, and annex D at 10 °C mean and up to 5 K across else. A slightly
// ventilated layer is worked out on the whole element (6.9.3), a well
// ventilated one is left out with all that is outside of it (6.9.4).
// Valid for layers between plane, parallel faces square to the heat flow, up
// to 0.3 m thick and at most a tenth as thick as they are long or wide, with
// no air exchange with the inside.
// Errors: *[units.RangeError] if d is negative, over 0.3 m or not finite, or
// an emissivity is outside 0 to 1.
func AirLayerResistance(d units.Length, dir Direction, e1, e2 units.Emissivity) (units.ThermalResistance, basis.Trace, error) {
	e1, e2, err := faces(e1, e2)
	if err != nil {
		return 0, basis.Trace{}, err
	}
	if err := basis.Within("air layer thickness", float64(d), 0, thickestAirLayer, "m"); err != nil {
		return 0, basis.Trace{}, err
	}
	by := basis.Trace{
		Method: basis.Method{Name: "ISO 6946:2017", Clause: "6.9.2 table 8", Says: "Unventilated air layer, heat flow " + dir.String()},
		Inputs: []basis.Input{{Name: "thickness", Value: d.Millimeter()}},
		Limits: []string{"no air from inside or outside moves through the layer"},
	}
	if e1 >= highEmissivity && e2 >= highEmissivity {
		return units.ThermalResistance(lookup8(float64(d)*1000, dir)), by, nil
	}
	by.Method.Clause = "annex D"
	by.Inputs = append(by.Inputs, basis.Input{Name: "emissivities of the faces", Value: fmt.Sprintf("%g and %g", float64(e1), float64(e2))})
	by.Limits = append(by.Limits, "10 °C mean and up to 5 K across the layer", "a bright face stays bright only while it is clean and dry")
	if d == 0 {
		return 0, by, nil
	}
	conduction := stillAir / float64(d)
	var ha float64
	switch dir {
	case Up:
		ha = math.Max(1.95, conduction)
	case Down:
		ha = math.Max(0.12*math.Pow(float64(d), -0.44), conduction)
	default:
		ha = math.Max(1.25, conduction)
	}
	hr0 := 4 * stefanBoltzmann * meanOfLayer * meanOfLayer * meanOfLayer
	return units.ThermalResistance(1 / (ha + float64(EffectiveEmittance(e1, e2))*hr0)), by, nil
}

// faces puts the usual emissivity for one that is not stated.
func faces(e1, e2 units.Emissivity) (units.Emissivity, units.Emissivity, error) {
	for _, e := range []*units.Emissivity{&e1, &e2} {
		if *e == 0 {
			*e = usualEmissivity
		}
		if !(*e > 0 && *e <= 1) {
			return 0, 0, &units.RangeError{Quantity: "emissivity", Value: float64(*e), Limit: 1, Says: "must lie above 0 and at most at 1"}
		}
	}
	return e1, e2, nil
}

// EffectiveEmittance returns E = 1/(1/ε1 + 1/ε2 - 1) of two large parallel
// faces. Both must lie above 0 and at most at 1.
//
// Method: ISO 6946:2017, annex D; the same in ASHRAE.
func EffectiveEmittance(e1, e2 units.Emissivity) units.Emissivity {
	return 1 / (1/e1 + 1/e2 - 1)
}

func lookup8(mm float64, dir Direction) float64 {
	column := [...]int{Up: 1, Horizontal: 2, Down: 3}[dir]
	for i := 1; i < len(table8); i++ {
		lo, hi := &table8[i-1], &table8[i]
		if mm <= hi[0] {
			return lo[column] + (hi[column]-lo[column])*(mm-lo[0])/(hi[0]-lo[0])
		}
	}
	return table8[len(table8)-1][column] // 300 mm and the rounding above it
}
