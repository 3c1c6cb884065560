package drawing_test

import (
	"math"
	"testing"

	"wythe/renderer/drawing"
	"wythe/renderer/units"
)

// TestPeelBack: each layer is as thick as to scale, each stands back from the
// one under it by the same step, members are cut on their layer's face at their
// spacing and run back from it, each layer has its label, and nothing leaves
// the paper.
func TestPeelBack(t *testing.T) {
	s := &drawing.Stack{Mark: "F-1", InsideTop: true, Scale: 10, Layers: []drawing.StackLayer{
		{Part: "slab", Hatch: "concrete", Thickness: units.Millimeters(120), Key: 1, Head: "concrete"},
		{Part: "film", Hatch: "membrane", Film: true, Thickness: units.Millimeters(0.4), Key: 2, Head: "vapor retarder film"},
		{Part: "joists", Hatch: "batt", Thickness: units.Millimeters(200), Key: 3, Head: "batt", Framing: &drawing.StackFraming{Hatch: "sawn timber", Width: units.Millimeters(40), Spacing: units.Millimeters(400)}},
		{Part: "foam", Hatch: "rigid insulation", Thickness: units.Millimeters(80), Courses: 2, Key: 4, Head: "XPS type IV"},
	}, Beyond: &drawing.StackLayer{Part: "ground", Hatch: "earth", Key: 5, Head: "subgrade"}}
	for _, dress := range []drawing.Dress{drawing.Wide, drawing.Phone} {
		s.Dress = dress
		d := s.PeelBack()
		if box := drawing.Bounds(&d.Root); box.Min.X < 0 || box.Min.Y < 0 || box.Max.X > d.Width || box.Max.Y > d.Height {
			t.Errorf("dress %d: drawn %v on paper of %g × %g", dress, box, d.Width, d.Height)
		}
		faces := map[string]drawing.Box{}     // the cut outline of each part
		members := map[string][]drawing.Box{} // narrower outlines on it
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
				if b := drawing.Bounds(&drawing.Path{Segs: n.Segs}); n.Stroke.Pen >= drawing.PenTick && n.Fill == drawing.InkNone && len(n.Segs) == 5 {
					if b.Width() < 20 {
						members[part] = append(members[part], b)
					} else {
						faces[part] = b
					}
				}
			case *drawing.Text:
				labels[part] += n.Text + " "
			}
		}
		walk(&d.Root, "")
		for part, want := range map[string]float64{"slab": 12, "joists": 20, "foam": 16} {
			if got := faces[part].Height(); math.Abs(got-want) > 1e-9 {
				t.Errorf("dress %d: %s is %g mm thick; want %g", dress, part, got, want)
			}
		}
		// From foam to joists is one step, from joists to slab two: a film lies between.
		one := faces["joists"].Min.X - faces["foam"].Min.X
		if rise := faces["foam"].Min.Y - faces["joists"].Max.Y; one <= 1 || math.Abs(rise-one) > 1e-9 {
			t.Errorf("dress %d: the joists stand %g mm back and %g mm up from the foam", dress, one, rise)
		}
		if two := faces["slab"].Min.X - faces["joists"].Min.X; math.Abs(two-2*one) > 1e-9 {
			t.Errorf("dress %d: the slab stands %g mm back, want %g", dress, two, 2*one)
		}
		m := members["joists"]
		if want := int(faces["joists"].Width() / 40); len(m) < want {
			t.Fatalf("dress %d: %d members, want %d or more", dress, len(m), want)
		}
		for i, b := range m {
			if math.Abs(b.Width()-4) > 1e-9 || math.Abs(b.Height()-20) > 1e-9 {
				t.Errorf("dress %d: a member is %g × %g mm", dress, b.Width(), b.Height())
			}
			if i > 0 && math.Abs(b.Min.X-m[i-1].Min.X-40) > 1e-9 {
				t.Errorf("dress %d: members stand %g mm apart, want 40", dress, b.Min.X-m[i-1].Min.X)
			}
		}
		for _, part := range []string{"slab", "film", "joists", "foam", "ground"} {
			if labels[part] == "" {
				t.Errorf("dress %d: %s has no label", dress, part)
			}
		}
	}
}
