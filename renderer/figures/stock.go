package figures

import (
	"strings"

	"wythe/renderer/carbon"
	"wythe/renderer/detail"
	"wythe/renderer/material"
	"wythe/renderer/takeoff"
	"wythe/renderer/units"
)

// form is how a layer's material is bought.
func form(l *detail.Layer) takeoff.Form {
	switch l.Material.Hatch {
	case material.Air, material.None:
		return takeoff.Void
	case material.Concrete, material.ReinforcedConcrete, material.WashedStone, material.Sand, material.Earth, material.Backfill, material.LooseFill, material.Mortar:
		return takeoff.Volume
	case material.Membrane:
		if l.Material.Name == "dampproofing" {
			return takeoff.Area
		}
		return takeoff.Roll
	case material.RigidInsulation, material.Plywood, material.Gypsum, material.FiberBoard:
		return takeoff.Board
	}
	return takeoff.Area
}

// takeoffArea is what a stack is counted for, where no building says: 100 sq ft
// or 10 m².
func takeoffArea(s units.System) units.Area {
	if s == units.Metric {
		return 10
	}
	return 9.290304
}

func (a *Assembly) takeoff(c Context) {
	r, err := Takeoff(a.Detail.Assembly, takeoffArea(c.Settings.Units))
	if err != nil {
		a.miss("takeoff", reason(err))
		return
	}
	a.Takeoff = r
}

// Takeoff counts an assembly's materials for an area.
func Takeoff(asm *detail.Assembly, area units.Area) (*takeoff.Result, error) {
	var layers []takeoff.Layer
	for _, l := range asm.Layers {
		t := takeoff.Layer{
			Name: l.Name, Material: l.Material.Name, Form: form(l), Thickness: l.Thickness, Courses: l.Courses,
			Sheet: l.Sheet, Lap: l.Lap, Taped: strings.Contains(l.Joints, "tape"), Waste: l.Waste, Density: l.Material.Density,
		}
		if f := l.Framing; f != nil {
			t.Framing = &takeoff.Framing{Material: f.Material.Name, Width: f.Width, Spacing: f.Spacing, Fraction: f.Fraction, Folded: folded(f)}
		}
		layers = append(layers, t)
	}
	return takeoff.Count(layers, area)
}

func (a *Assembly) carbon() {
	var layers []carbon.Layer
	for _, l := range a.Detail.Assembly.Layers {
		if folded(l.Framing) && l.Framing.Material.Carbon.Stated {
			a.miss("carbon", thinMetal(l))
			return
		}
		share := units.Ratio(0)
		if f := l.Framing; f != nil {
			fraction := f.Fraction
			if fraction == 0 && f.Spacing > 0 {
				fraction = units.Ratio(f.Width / f.Spacing)
			}
			layers = append(layers, carbonLayer(l, f.Material, fraction))
			share = 1 - fraction
		}
		layers = append(layers, carbonLayer(l, l.Material, share))
	}
	r, err := carbon.Solve(layers)
	if err != nil {
		a.miss("carbon", reason(err))
		return
	}
	a.Carbon = r
}

func carbonLayer(l *detail.Layer, m *material.Material, share units.Ratio) carbon.Layer {
	return carbon.Layer{
		Name: l.Name, Material: m.Name, Thickness: l.Total(), Share: share, Density: m.Density,
		PerKg: m.Carbon.KgCO2ePerKg, PerCubicM: m.Carbon.KgCO2ePerCubicM, Stated: m.Carbon.Stated,
		Weightless: m.Hatch == material.Air, Source: m.Origins[material.PropCarbon],
	}
}
