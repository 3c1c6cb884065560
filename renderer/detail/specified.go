package detail

import (
	"slices"

	"wythe/renderer/finding"
	"wythe/renderer/material"
	"wythe/renderer/strict"
	"wythe/renderer/units"
)

// Specified is a material that a section specifies, with what it states of it.
type Specified struct {
	Material    *material.Material
	Thickness   units.Length   // of one course; 0 not stated
	Compressive units.Pressure // 0 not stated
	At          finding.Position
}

// specifies reads the materials of a section, with what it states of each.
func (r *reader) specifies(n strict.Node) {
	before := map[*material.Material]bool{}
	for _, i := range n.List() {
		m, ok := open(i, specifiedKeys)
		if !ok {
			continue
		}
		s := Specified{
			Material:  r.material(m.Get("material")),
			Thickness: positive(m.Get("thickness"), units.ParseLength), Compressive: positive(m.Get("compressive"), units.ParsePressure), At: i.At(),
		}
		switch {
		case s.Material == nil:
		case before[s.Material]:
			i.Errorf("stands-twice", "keep one of them", "%q stands twice", s.Material.Name)
		default:
			before[s.Material] = true
			r.d.Spec.Specifies = append(r.d.Spec.Specifies, s)
		}
	}
}

// elsewhere reads the materials that sections outside the library specify.
func (r *reader) elsewhere(n strict.Node) {
	for _, i := range n.List() {
		m := r.material(i)
		switch {
		case m == nil:
		case slices.Contains(r.d.Spec.Elsewhere, m):
			i.Errorf("stands-twice", "keep one of them", "%q stands twice", m.Name)
		default:
			r.d.Spec.Elsewhere = append(r.d.Spec.Elsewhere, m)
		}
	}
}
