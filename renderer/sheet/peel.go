package sheet

import (
	"wythe/renderer/detail"
	"wythe/renderer/drawing"
	"wythe/renderer/units"
)

// PeelBack returns an assembly as an axonometric cutaway in a dress, Wide or
// Phone, each layer stepped back from the one beneath, hatched on its cut face
// and labelled.
func PeelBack(d *detail.Detail, system units.System, dress drawing.Dress) *drawing.Drawing {
	a := d.Assembly
	s := &drawing.Stack{Mark: d.Mark, Title: d.Title, System: system, InsideTop: InsideTop(a.Element), Dress: dress, Beyond: Beyond(a)}
	s.Layers = make([]drawing.StackLayer, len(a.Layers))
	for i, l := range a.Layers {
		s.Layers[i] = stackLayer(d, l, Key(a, i))
	}
	return s.PeelBack()
}
