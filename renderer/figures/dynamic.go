package figures

import (
	"wythe/renderer/basis"
	"wythe/renderer/dynamic"
	"wythe/renderer/material"
)

// dynamic works out how the assembly answers to a daily swing, along the path
// through the insulation.
func (a *Assembly) dynamic() {
	t := a.Thermal
	if t == nil {
		a.miss("dynamic", "the thermal resistance is not computed")
		return
	}
	asm := a.Detail.Assembly
	s := &dynamic.Stack{SurfaceInside: t.SurfaceInside, SurfaceOutside: t.SurfaceOutside}
	n := inner(asm)
	if n < len(asm.Layers) {
		s.SurfaceOutside = t.SurfaceInside
	}
	if t.OnGround {
		s.SurfaceOutside = 0
	}
	for i, l := range asm.Layers[:n] {
		d := dynamic.Layer{Name: l.Name, Thickness: l.Total(), Conductivity: l.Material.Conductivity, Density: l.Material.Density, SpecificHeat: l.Material.SpecificHeat}
		if l.Film() || l.Material.Hatch == material.Air || l.Material.Conductivity <= 0 {
			d = dynamic.Layer{Name: l.Name, Resistance: t.Layers[i].Resistance, Massless: true}
		} else if l.Material.Density <= 0 || l.Material.SpecificHeat <= 0 {
			what := "density"
			if l.Material.Density > 0 {
				what = "specific heat"
			}
			a.miss("dynamic", (&basis.MissingError{Method: "ISO 13786:2017", Quantity: what + ` of "` + l.Material.Name + `"`, Put: "materials.yaml"}).Error())
			return
		}
		s.Layers = append(s.Layers, d)
	}
	r, err := dynamic.Solve(s)
	if err != nil {
		a.miss("dynamic", reason(err))
		return
	}
	a.Dynamic = r
}
