package material

import (
	"wythe/renderer/basis"
	"wythe/renderer/units"
)

// SurfacesISO6946 returns the surface resistances inside and outside of an
// element, in m²·K/W, by the direction of the heat flow: plane faces of
// emissivity 0.9, wind of 4 m/s outside.
//
// Method: ISO 6946:2017, 6.8, table 7 (from memory, reproduced by annex C).
func SurfacesISO6946(dir Direction) (inside, outside units.ThermalResistance, by basis.Trace) {
	inside = [...]units.ThermalResistance{Horizontal: 0.13, Up: 0.10, Down: 0.17}[dir]
	outside = 0.04
	source := basis.Source{Text: "ISO 6946:2017 table 7", Kind: basis.FromMemory}
	return inside, outside, basis.Trace{
		Method: basis.Method{Name: "ISO 6946:2017", Clause: "6.8 table 7", Says: "Surface resistances, heat flow " + dir.String()},
		Inputs: []basis.Input{
			{Name: "inside surface", Value: inside.Show(units.Metric), Source: source},
			{Name: "outside surface", Value: outside.Show(units.Metric), Source: source},
		},
		Limits: []string{"plane faces, emissivity 0.9, wind 4 m/s"},
	}
}

// SurfacesASHRAEWinter returns the air-film resistances inside and outside,
// in m²·K/W, by the direction of the heat flow: nonreflective faces, wind of
// 15 mph outside. In inch-pound 0.68, 0.61, 0.92 inside, 0.17 outside.
//
// Method: ASHRAE Handbook-Fundamentals, surface conductances and resistances
// (from memory).
func SurfacesASHRAEWinter(dir Direction) (inside, outside units.ThermalResistance, by basis.Trace) {
	r := [...]units.RValue{Horizontal: 0.68, Up: 0.61, Down: 0.92}[dir]
	inside, outside = r.SI(), units.RValue(0.17).SI()
	source := basis.Source{Text: "ASHRAE Handbook-Fundamentals, surface resistances", Kind: basis.FromMemory}
	return inside, outside, basis.Trace{
		Method: basis.Method{Name: "ASHRAE Handbook-Fundamentals", Clause: "surface conductances and resistances", Says: "Winter air films, heat flow " + dir.String()},
		Inputs: []basis.Input{
			{Name: "inside air film", Value: inside.Show(units.Inch), Source: source},
			{Name: "outside air film", Value: outside.Show(units.Inch), Source: source},
		},
		Limits: []string{"nonreflective faces, wind 15 mph"},
	}
}
