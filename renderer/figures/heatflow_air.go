package figures

import (
	"fmt"

	"wythe/renderer/basis"
	"wythe/renderer/detail"
	"wythe/renderer/geometry"
	"wythe/renderer/heatflow"
	"wythe/renderer/section"
	"wythe/renderer/thermal"
	"wythe/renderer/units"
)

// cavities gives air that no space claims its equivalent conductivity: by the
// layer's resistance where it is an air layer, else by its box. A well-
// ventilated layer is outside air.
func (b *heatBuilder) cavities() {
	a := b.s.Arrangement
	done := make([]bool, a.Faces())
	for f := int32(1); f < int32(a.Faces()); f++ {
		o := b.s.Owner[f]
		if done[f] || b.space[f] != none32 || o == section.Outside || o >= 0 && !b.s.Regions[o].Air() {
			continue
		}
		group := []int32{f}
		done[f] = true
		box, area := geometry.EmptyBox(), 0.0
		settled, cut := false, false
		for k := 0; k < len(group); k++ {
			g := group[k]
			area += float64(a.Area2(g)) / 2
			for _, h := range a.Halves(g) {
				box = box.Grow(a.Start(h))
				t := a.FaceOf(h.Twin())
				cut = cut || b.s.Owner[t] == section.Outside
				settled = settled || b.settled(a.Start(h), a.End(h)) != nil
				if !done[t] && b.space[t] == none32 && b.s.Owner[t] == o {
					done[t] = true
					group = append(group, t)
				}
			}
		}
		if o >= 0 && b.s.Regions[o].LayerOf != nil && b.s.Regions[o].LayerOf.Ventilation == detail.WellVentilated {
			if out, ok := b.outdoors(); ok {
				for _, g := range group {
					b.space[g] = out
				}
				b.note("%s: well ventilated, taken as outside air", b.s.Regions[o].Name)
				continue
			}
		}
		if settled {
			continue // the author says what its edges face
		}
		lambda, err := 0.0, error(nil)
		open := cut && b.openAir(f) // runs past the view: no cavity
		if !open {
			lambda, err = b.cavity(o, box, area)
		}
		if open || err != nil {
			b.note("air at %.0f, %.0f mm belongs to no space: no heat crosses it", float64(box.Min.X)/1000, float64(box.Min.Y)/1000)
			continue
		}
		var of *section.Region
		if o >= 0 {
			of = &b.s.Regions[o]
		}
		k := b.addRegion(lambda, of)
		for _, g := range group {
			b.region[g] = k
		}
	}
}

// cavity returns the conductivity that stands for air in a box, W/(m·K).
func (b *heatBuilder) cavity(owner int32, box geometry.Box, area float64) (float64, error) {
	if owner >= 0 && b.s.Regions[owner].LayerOf != nil {
		l := b.s.Regions[owner].LayerOf
		r, _, err := airLayer(b.set(), b.direction(b.s.Regions[owner].Mark), l)
		if err != nil || r <= 0 {
			return 0, err
		}
		name := b.s.Regions[owner].Name
		if l.Ventilation == detail.SlightlyVentilated {
			less, err := b.slight(b.s.Regions[owner].Mark, l)
			if err == nil && less >= r {
				err = fmt.Errorf("what lies outside it would count for less than nothing")
			}
			if err == nil {
				r -= less
				b.note("%s: slightly ventilated, its resistance lowered so that the assembly's total is that of ISO 6946:2017, 6.9.3", name)
			} else {
				b.note("%s: slightly ventilated, counted as unventilated: %s", name, reason(err))
			}
		}
		b.note("%s: air of %.3g W/mK by the resistance of its layer", name, float64(l.Total())/float64(r))
		return float64(l.Total()) / float64(r), nil
	}
	// Heat crosses the lesser extent: level where that is the width.
	along, across := float64(box.Width())*1e-6, float64(box.Height())*1e-6
	dir := heatflow.Horizontal
	if across < along {
		along, across, dir = across, along, heatflow.Upward
	}
	along, across = heatflow.AsRectangle(area*1e-12, along, across)
	lambda, err := heatflow.Cavity{Along: along, Across: across, Direction: dir, Warm: 0.9, Cold: 0.9, Mean: 10}.ISO6946()
	if err == nil {
		b.note("air of %.0f by %.0f mm counts as a solid of %.3g W/mK (ISO 6946 annex D, ε 0.9, 10 °C)", along*1000, across*1000, lambda)
	}
	return lambda, err
}

// slight returns by how much slight ventilation of a layer lowers the total
// resistance of its assembly: ISO 6946:2017, 6.9.3.
func (b *heatBuilder) slight(mark string, of *detail.Layer) (units.ThermalResistance, error) {
	missing := &basis.MissingError{Method: "ISO 6946:2017 6.9.3", Quantity: "assembly of the slightly ventilated layer", Put: "the junction"}
	if b.lookup == nil || b.c.Settings == nil {
		return 0, missing
	}
	d := b.lookup(mark)
	if d == nil || d.Assembly == nil {
		return 0, missing
	}
	stack, _, err := thermalStack(b.c, d.Assembly)
	if err != nil {
		return 0, err
	}
	var total [2]units.ThermalResistance
	for i := range total {
		solved, err := thermal.Solve(stack)
		if err != nil {
			return 0, err
		}
		if !solved.Resistance.Computed {
			return 0, &basis.MissingError{Method: "ISO 6946:2017 6.9.3", Quantity: "total resistance of " + mark, Put: "the assembly"}
		}
		total[i] = 1 / units.ThermalResistance(solved.Transmittance)
		for k, l := range d.Assembly.Layers {
			if l.Name == of.Name {
				air := *stack.Layers[k].Air
				air.Ventilation = thermal.Unventilated
				stack.Layers[k].Air = &air
			}
		}
	}
	return total[1] - total[0], nil
}

// outdoors returns the first space that is outside.
func (b *heatBuilder) outdoors() (int32, bool) {
	for i, s := range b.spaces {
		if !s.Inside {
			return int32(i), true
		}
	}
	return 0, false
}
