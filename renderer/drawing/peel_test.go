package drawing_test

import (
	"math"
	"testing"

	"wythe/renderer/drawing"
	"wythe/renderer/units"
)

// TestPeelBack: each layer is as thick as to scale, each reaches further than
// the one on it, each has its label, and nothing leaves the paper.
func TestPeelBack(t *testing.T) {
	s := &drawing.Stack{Mark: "F-1", InsideTop: true, Scale: 10, Layers: []drawing.StackLayer{
		{Part: "slab", Hatch: "concrete", Thickness: units.Millimeters(120), Key: 1, Head: "concrete"},
		{Part: "film", Hatch: "membrane", Film: true, Thickness: units.Millimeters(0.4), Key: 2, Head: "vapor retarder film"},
		{Part: "foam", Hatch: "rigid insulation", Thickness: units.Millimeters(80), Courses: 2, Key: 3, Head: "XPS type IV"},
	}, Beyond: &drawing.StackLayer{Part: "ground", Hatch: "earth", Key: 4, Head: "subgrade"}}
	d := s.PeelBack()
	if box := drawing.Bounds(&d.Root); box.Min.X < 0 || box.Min.Y < 0 || box.Max.X > d.Width || box.Max.Y > d.Height {
		t.Errorf("drawn %v on paper of %g × %g", box, d.Width, d.Height)
	}
	faces := map[string]drawing.Box{} // the cut outline of each part
	labels := map[string]string{}
	var walk func(n drawing.Node, part string)
	walk = func(n drawing.Node, part string) {
		switch n := n.(type) {
		case *drawing.Group:
			if n.Tag.Part != "" {
				part = n.Tag.Part
			}
			for _, in := range n.Nodes {
				walk(in, part)
			}
		case *drawing.Path:
			if n.Stroke.Pen == drawing.PenTick && n.Fill == drawing.InkNone {
				faces[part] = drawing.Bounds(&drawing.Path{Segs: n.Segs})
			}
		case *drawing.Text:
			labels[part] += n.Text + " "
		}
	}
	walk(&d.Root, "")
	for part, want := range map[string]float64{"slab": 12, "foam": 16} {
		if got := faces[part].Height(); math.Abs(got-want) > 1e-9 {
			t.Errorf("%s is %g mm thick; want %g", part, got, want)
		}
	}
	if faces["foam"].Min.X >= faces["slab"].Min.X {
		t.Errorf("the foam does not reach further than the slab: %v, %v", faces["foam"], faces["slab"])
	}
	if math.Abs(faces["slab"].Max.Y-faces["foam"].Min.Y) > 1e-9 {
		t.Error("slab and foam do not meet")
	}
	for _, part := range []string{"slab", "film", "foam", "ground"} {
		if labels[part] == "" {
			t.Errorf("%s has no label", part)
		}
	}
}
