package figures

import (
	"strings"

	"wythe/renderer/basis"
	"wythe/renderer/bearing"
	"wythe/renderer/detail"
	"wythe/renderer/material"
	"wythe/renderer/units"
)

// Bearing is the check of insulation under a slab.
type Bearing struct {
	*bearing.Result
	Slab, Insulation string // names of the layers
	Trace            basis.Trace
}

// weights turns the layers into what weighs.
func weights(layers []*detail.Layer) []bearing.Layer {
	out := make([]bearing.Layer, 0, len(layers))
	for _, l := range layers {
		// A film of no stated density weighs next to nothing: it is left out.
		light := l.Material.Hatch == material.Air || l.Film() && l.Material.Density == 0
		w := bearing.Layer{Name: l.Name, Thickness: l.Total(), Density: l.Material.Density, Weightless: light}
		if f := l.Framing; f != nil {
			w.Fraction, w.FramingDensity = f.Fraction, f.Material.Density
			if w.Fraction == 0 && f.Spacing > 0 {
				w.Fraction = units.Ratio(f.Width / f.Spacing)
			}
		}
		out = append(out, w)
	}
	return out
}

// folded reports whether a layer's members are of thin metal, whose width and
// depth say nothing of how much metal there is.
func folded(f *detail.Framing) bool {
	return f != nil && f.Material != nil && (f.Material.Hatch == material.Steel || f.Material.Hatch == material.Metal)
}

func thinMetal(l *detail.Layer) string {
	return "the members of " + l.Name + " are of thin metal, whose thickness is not stated"
}

func (a *Assembly) dead() {
	for _, l := range a.Detail.Assembly.Layers {
		if folded(l.Framing) {
			a.miss("dead_load_Pa", thinMetal(l))
			return
		}
	}
	d, err := bearing.Weigh(weights(a.Detail.Assembly.Layers))
	if err != nil {
		a.miss("dead_load_Pa", reason(err))
		return
	}
	a.Dead = d
	if len(d.Missing) > 0 {
		a.miss("dead_load_Pa", "density not stated of "+strings.Join(d.Missing, ", ")+"; put it in materials.yaml")
	}
}

// bearing checks the insulation that carries a slab on the ground.
func (a *Assembly) bearing() {
	asm := a.Detail.Assembly
	if asm.Element != detail.FloorOnGround {
		return
	}
	slab, foam := -1, -1
	for i, l := range asm.Layers {
		switch l.Material.Hatch {
		case material.Concrete, material.ReinforcedConcrete:
			if foam < 0 {
				slab = i
			}
		case material.RigidInsulation:
			if slab >= 0 && (foam < 0 || l.Material.Compressive < asm.Layers[foam].Material.Compressive) {
				foam = i
			}
		}
	}
	if slab < 0 || foam < 0 {
		return
	}
	a.pour(slab, foam)
	if asm.Loads == nil {
		a.miss("bearing", (&basis.MissingError{Method: "The bearing check", Quantity: "loads", Put: "the assembly (loads: {live: …})"}).Error())
		return
	}
	load := &bearing.Load{Live: asm.Loads.Live, Rated: asm.Layers[foam].Material.Compressive, Derating: asm.Loads.Derating,
		Slab: bearing.Slab{Thickness: asm.Layers[slab].Total()}}
	above, err := bearing.Weigh(weights(asm.Layers[:foam]))
	if err != nil {
		a.miss("bearing", reason(err))
		return
	}
	load.Dead = above.Weight
	if p := asm.Loads.Point; p != nil {
		load.Point = &bearing.Point{Force: p.Load, On: p.On, Where: bearing.Where(p.Where), Lasts: p.Lasts}
		load.Bed = bed(asm, slab)
	}
	r, err := bearing.Solve(load)
	if err != nil {
		a.miss("bearing", reason(err))
		return
	}
	for _, n := range r.NotComputed {
		a.miss("bearing."+n.Key, n.Why)
	}
	a.Bearing = &Bearing{Result: r, Slab: asm.Layers[slab].Name, Insulation: asm.Layers[foam].Name, Trace: r.Trace()}
}

// bed is the foundation moduli of the insulation courses under the slab; none
// where one is not known.
func bed(asm *detail.Assembly, slab int) []bearing.FoundationModulus {
	var beds []bearing.FoundationModulus
	for _, l := range asm.Layers[slab+1:] {
		if l.Material.Hatch != material.RigidInsulation {
			continue
		}
		if !strings.HasPrefix(l.Material.Name, "XPS") {
			return nil
		}
		k, err := bearing.XPSModulus(l.Material.Compressive, l.Thickness)
		if err != nil {
			return nil
		}
		for range l.Courses {
			beds = append(beds, k)
		}
	}
	return beds
}

// pour holds the insulation down while concrete is placed on it.
func (a *Assembly) pour(slab, foam int) {
	asm := a.Detail.Assembly
	p := &bearing.Pour{Concrete: asm.Layers[slab].Material.Density}
	for _, l := range asm.Layers[slab+1:] {
		if l.Material.Hatch == material.RigidInsulation {
			p.Floats = append(p.Floats, weights([]*detail.Layer{l})...)
		}
	}
	p.On = weights(asm.Layers[slab+1 : firstInsulation(asm, slab)])
	r, err := p.Solve()
	if err != nil {
		a.miss("pour", reason(err))
		return
	}
	a.Pour = r
}

func firstInsulation(asm *detail.Assembly, slab int) int {
	for i := slab + 1; i < len(asm.Layers); i++ {
		if asm.Layers[i].Material.Hatch == material.RigidInsulation {
			return i
		}
	}
	return len(asm.Layers)
}
