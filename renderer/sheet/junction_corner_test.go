package sheet

import (
	"math"
	"strconv"
	"testing"

	"wythe/renderer/drawing"
	"wythe/renderer/geometry"
)

// TestCorner holds enlarged corners: within the view, at 1:4 and under a label
// that says so, with the numbers of the drawing, filled with what is built, and
// only where the drawing is smaller.
func TestCorner(t *testing.T) {
	found := 0
	for _, c := range both(t) {
		main, placed := c.drawn(drawing.Wide)
		sh := c.sheet()
		d := sh.Corner(false)
		box, ok := main.corner()
		if (d != nil) != ok {
			t.Errorf("%s: crowded is %t, and enlarged %t", c.d.Mark, ok, d != nil)
		}
		if d == nil {
			continue
		}
		found++
		built, all := 0, 0
		for x := box.Min.X + box.Width()/80; x < box.Max.X; x += box.Width() / 40 {
			for y := box.Min.Y + box.Height()/80; y < box.Max.Y; y += box.Height() / 40 {
				if all++; main.solid(geometry.Point{X: x, Y: y}) {
					built++
				}
			}
		}
		if least := 0.7; float64(built) < least*float64(all) {
			t.Errorf("%s: %.0f %% of the corner is built, want at least %.0f", c.d.Mark, 100*float64(built)/float64(all), 100*least)
		}
		if main.scale <= cornerScale {
			t.Errorf("%s: drawn at 1:%g and enlarged", c.d.Mark, main.scale)
		}
		if v := c.s.View; !v.Contains(box.Min) || !v.Contains(box.Max) {
			t.Errorf("%s: the corner %v leaves the view", c.d.Mark, box)
		}
		if d.Scale != 4 || d.Width > junctionPhone+2 {
			t.Errorf("%s: enlarged to 1:%g, %g mm wide", c.d.Mark, d.Scale, d.Width)
		}
		names := map[int]string{}
		for i := range placed {
			names[placed[i].Key] = placed[i].Tag.Part
		}
		labelled, framed, bubbles := false, false, 0
		var walk func(n drawing.Node, tag drawing.Tag)
		walk = func(n drawing.Node, tag drawing.Tag) {
			switch n := n.(type) {
			case *drawing.Group:
				if n.Tag.Kind == "callout" {
					tag = n.Tag
					bubbles++
					if names[tag.Key] != tag.Part {
						t.Errorf("%s: %d is %s, and %s in the drawing", c.d.Mark, tag.Key, tag.Part, names[tag.Key])
					}
				}
				for _, in := range n.Nodes {
					walk(in, tag)
				}
			case *drawing.Text:
				labelled = labelled || n.Text == "SCALE 1:4"
				if k, err := strconv.Atoi(n.Text); err == nil && tag.Kind == "callout" && k != tag.Key {
					t.Errorf("%s: a bubble says %d for %d", c.d.Mark, k, tag.Key)
				}
			case *drawing.Path:
				b := drawing.Bounds(&drawing.Path{Segs: n.Segs})
				framed = framed || len(n.Segs) == 5 && math.Abs(b.Width()-float64(box.Width())/4000) < 1e-6 && math.Abs(b.Height()-float64(box.Height())/4000) < 1e-6
			}
		}
		walk(&d.Root, drawing.Tag{})
		if !labelled || !framed || bubbles < 3 {
			t.Errorf("%s: labelled %t, framed at 1:4 %t, %d parts named", c.d.Mark, labelled, framed, bubbles)
		}
	}
	if found < 3 {
		t.Errorf("%d corners are enlarged", found)
	}
}
