package figures

import (
	"fmt"
	"math"

	"wythe/renderer/basis"
	"wythe/renderer/detail"
	"wythe/renderer/material"
	"wythe/renderer/thermal"
	"wythe/renderer/units"
)

// Thermal is the steady heat flow of an assembly, and the temperatures on the
// design day.
type Thermal struct {
	*thermal.Result
	SurfaceInside, SurfaceOutside units.ThermalResistance
	OnGround                      bool
	Trace                         basis.Trace

	// Insulation and Equivalent are the temperatures on the design day; both
	// nil where the library has no climate.
	Insulation, Equivalent *thermal.Temperatures
}

// Direction returns the direction of heat flow through an element in winter.
// A roof steeper than 60° counts as a wall.
//
// Source: ISO 6946:2017, 6.8 (horizontal applies within 30° of the horizontal plane).
func Direction(a *detail.Assembly) material.Direction {
	switch a.Element {
	case detail.Wall, detail.WallBelowGrade:
		return material.Horizontal
	case detail.Floor, detail.FloorOnGround:
		return material.Down
	}
	if a.Pitch != nil && float64(a.Pitch.Angle) >= math.Pi/3 {
		return material.Horizontal
	}
	return material.Up
}

// OnGround reports whether the outside face of an element lies on earth.
func OnGround(e detail.Element) bool {
	return e == detail.FloorOnGround || e == detail.WallBelowGrade
}

func (a *Assembly) thermal(c Context) {
	stack, notes, err := thermalStack(c, a.Detail.Assembly)
	if err != nil {
		a.miss("thermal", reason(err))
		return
	}
	result, err := thermal.Solve(stack)
	if err != nil {
		a.miss("thermal", reason(err))
		return
	}
	result.Notes = append(result.Notes, notes...)
	t := &Thermal{
		Result:         result,
		SurfaceInside:  stack.SurfaceInside,
		SurfaceOutside: stack.SurfaceOutside,
		OnGround:       stack.OnGround,
		Trace:          result.Trace(),
	}
	t.Trace.Inputs = withSources(t.Trace.Inputs, a.Detail.Assembly, c.Settings.Surfaces)
	if c.Climate != nil && result.Resistance.Computed {
		outside := c.Climate.Heating
		if stack.OnGround {
			outside = c.Climate.Ground
		}
		insulation, equivalent := result.Temperatures(c.Settings.Inside.Temperature, outside)
		t.Insulation, t.Equivalent = &insulation, &equivalent
	}
	for _, n := range result.NotComputed {
		a.miss("thermal."+n.Key, n.Why)
	}
	a.Thermal = t
}

// thermalStack turns an assembly into the input of the thermal methods, with
// what a page says beside them.
func thermalStack(c Context, asm *detail.Assembly) (*thermal.Stack, []string, error) {
	dir := Direction(asm)
	s := &thermal.Stack{OnGround: OnGround(asm.Element), Headline: thermal.Method(c.Settings.Headline)}
	s.SurfaceInside, s.SurfaceOutside = surfaces(c.Settings.Surfaces, dir)
	s.SurfaceSheltered = s.SurfaceInside
	if asm.Surfaces != nil {
		s.SurfaceInside, s.SurfaceOutside = asm.Surfaces.Inside, asm.Surfaces.Outside
	}
	var notes []string
	waterproof := -1
	for i, l := range asm.Layers {
		t, note, err := thermalLayer(c.Settings.Surfaces, dir, l)
		if err != nil {
			return nil, nil, fmt.Errorf("layer %q: %w", l.Name, err)
		}
		if note != "" {
			notes = append(notes, l.Name+": "+note)
		}
		s.Layers = append(s.Layers, t)
		for _, control := range l.Control {
			if control == detail.Water {
				waterproof = i
			}
		}
	}
	if asm.Corrections.RainPerDay > 0 {
		rain := &thermal.Rain{PerDay: asm.Corrections.RainPerDay, DrainageFactor: asm.Corrections.DrainageFactor}
		for i, l := range asm.Layers {
			if i > waterproof && waterproof >= 0 && l.Material.Hatch == material.RigidInsulation {
				rain.Above = append(rain.Above, i)
			}
		}
		if len(rain.Above) == 0 {
			return nil, nil, &basis.MissingError{Method: "ISO 6946:2017, annex F.4", Quantity: "insulation outside a layer with control: [water]", Put: "the assembly"}
		}
		s.Rain = rain
	}
	return s, notes, nil
}

func surfaces(set detail.SurfaceSet, dir material.Direction) (inside, outside units.ThermalResistance) {
	if set == detail.SurfacesISO6946 {
		inside, outside, _ = material.SurfacesISO6946(dir)
	} else {
		inside, outside, _ = material.SurfacesASHRAEWinter(dir)
	}
	return inside, outside
}

// airLayer returns the resistance of an air layer by the library's family of
// surface resistances, and what a page says beside it. A well-ventilated layer
// has none of its own.
func airLayer(set detail.SurfaceSet, dir material.Direction, l *detail.Layer) (units.ThermalResistance, string, error) {
	if l.Ventilation == detail.WellVentilated {
		return 0, "", nil
	}
	var e [2]units.Emissivity
	copy(e[:], l.Emittances)
	if set == detail.SurfacesASHRAEWinter {
		if r, _, err := material.AirSpaceResistance(l.Total(), dir, e[0], e[1]); err == nil {
			return r, "", nil
		}
	}
	r, _, err := material.AirLayerResistance(l.Total(), dir, e[0], e[1])
	if err != nil {
		return 0, "", err
	}
	if set == detail.SurfacesASHRAEWinter {
		return r, "the ASHRAE table held here has no such air space; ISO 6946 serves", nil
	}
	return r, "", nil
}

func thermalLayer(set detail.SurfaceSet, dir material.Direction, l *detail.Layer) (thermal.Layer, string, error) {
	t := thermal.Layer{Name: l.Name, Material: l.Material.Name, Thickness: l.Total(), Gaps: l.Gaps}
	note := ""
	switch {
	case l.Material.Hatch == material.Air:
		r, said, err := airLayer(set, dir, l)
		if err != nil {
			return t, "", err
		}
		t.Resistance, t.Given, note = r, true, said
		t.Air = &thermal.Air{Ventilation: thermal.Ventilation(l.Ventilation), Openings: l.Openings}
	case l.Material.Resistance > 0:
		t.Resistance, t.Given = l.Material.Resistance, true
	case l.Material.Conductivity > 0:
		t.Conductivity = l.Material.Conductivity
	case l.Film():
		// A film without a conductivity: its resistance is below what any page prints.
		t.Given = true
		note = "a film without a stated conductivity counts as no resistance"
	default:
		return t, "", &basis.MissingError{Method: "Thermal resistance", Quantity: fmt.Sprintf("conductivity of %q", l.Material.Name), Put: "materials.yaml"}
	}
	if f := l.Framing; f != nil {
		if err := frame(&t, l, f); err != nil {
			return t, "", err
		}
	}
	if l.Taper != nil {
		t.Taper = &thermal.Taper{To: l.Taper.To, Shape: thermal.TaperShape(l.Taper.Shape)}
	}
	if f := l.Fasteners; f != nil {
		lambda := f.Material.Conductivity
		if lambda <= 0 {
			return t, "", &basis.MissingError{Method: "ISO 6946:2017, annex F.3", Quantity: fmt.Sprintf("conductivity of %q", f.Material.Name), Put: "materials.yaml"}
		}
		through := units.Length(0)
		if f.Recessed > 0 {
			through = l.Total() - f.Recessed
		}
		t.Fasteners = []thermal.Fastener{{Conductivity: lambda, Diameter: f.Diameter, Each: f.Each, Penetrates: through}}
	}
	return t, note, nil
}

// metalFrom is the conductivity from which framing is thin metal, to which
// the methods for wood do not apply, in W/(m·K).
const metalFrom = 10

func frame(t *thermal.Layer, l *detail.Layer, f *detail.Framing) error {
	lambda := f.Material.Conductivity
	if r := f.Material.Resistance; r > 0 && l.Total() > 0 {
		lambda = units.Conductivity(float64(l.Total()) / float64(r)) // a member given by its resistance
	}
	if lambda <= 0 {
		return &basis.MissingError{Method: "Framed layer", Quantity: fmt.Sprintf("conductivity of %q", f.Material.Name), Put: "materials.yaml"}
	}
	if lambda >= metalFrom && f.Spacing > 0 && t.Air == nil {
		t.Studs = &thermal.Studs{Depth: l.Total(), Spacing: f.Spacing}
		return nil
	}
	fraction := f.Fraction
	if fraction == 0 && f.Spacing > 0 {
		fraction = units.Ratio(float64(f.Width) / float64(f.Spacing))
	}
	t.Framing = &thermal.Framing{Fraction: fraction, Conductivity: lambda, Metal: lambda >= metalFrom}
	return nil
}

// withSources adds to each input the authority of the value behind it.
func withSources(inputs []basis.Input, asm *detail.Assembly, set detail.SurfaceSet) []basis.Input {
	for i := range inputs {
		for _, l := range asm.Layers {
			if l.Name != inputs[i].Name {
				continue
			}
			if l.Material.Resistance > 0 {
				inputs[i].Source = l.Material.Origins[material.PropResistance]
			} else {
				inputs[i].Source = l.Material.Origins[material.PropConductivity]
			}
		}
		switch inputs[i].Name {
		case "inside surface", "outside surface", "sheltered surface":
			switch {
			case asm.Surfaces != nil:
				inputs[i].Source = basis.Source{Text: "stated by the assembly", Kind: basis.Stated}
			case set == detail.SurfacesISO6946:
				inputs[i].Source = basis.Source{Text: "ISO 6946:2017, table 7", Kind: basis.Design}
			default:
				inputs[i].Source = basis.Source{Text: "ASHRAE Handbook-Fundamentals, surface resistances, winter", Kind: basis.Design}
			}
		}
	}
	return inputs
}
