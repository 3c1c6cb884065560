package sheet

import (
	"math"
	"slices"
	"testing"

	"wythe/renderer/drawing"
	"wythe/renderer/geometry"
)

// TestTrimAir holds what is trimmed of views: air alone, with no level, no
// dimension and no point of a space in it, and some.
func TestTrimAir(t *testing.T) {
	trimmed := 0
	for _, c := range everySection(t) {
		j, _ := c.drawn(drawing.Wide)
		was, is := c.s.View, j.s.View
		if was == is {
			continue
		}
		trimmed++
		if was.Min.X != is.Min.X || was.Max.X != is.Max.X || is.Min.Y < was.Min.Y || is.Max.Y > was.Max.Y {
			t.Errorf("%s: the view %v became %v", c.d.Mark, was, is)
		}
		if math.Abs(j.below*1000-float64(is.Min.Y-was.Min.Y)) > 1e-6 || math.Abs(j.above*1000-float64(was.Max.Y-is.Max.Y)) > 1e-6 {
			t.Errorf("%s: %g and %g mm are said to be trimmed, of %v to %v", c.d.Mark, j.below, j.above, was, is)
		}
		gone := func(y int64) bool { return was.Min.Y < y && y < is.Min.Y || is.Max.Y < y && y < was.Max.Y }
		for x := was.Min.X + 500; x < was.Max.X; x += 2000 {
			for y := was.Min.Y + 500; y < was.Max.Y; y += 2000 {
				if p := (geometry.Point{X: x, Y: y}); gone(y) && j.solid(p) {
					t.Fatalf("%s: something is built at %v, which was trimmed", c.d.Mark, p)
				}
			}
		}
		for _, s := range c.s.Spaces {
			if slices.ContainsFunc(s.Points, func(p geometry.Point) bool { return gone(p.Y) }) {
				t.Errorf("%s: a point of %s was trimmed", c.d.Mark, s.Name)
			}
		}
		for _, l := range c.s.Levels {
			if gone(l.Y) {
				t.Errorf("%s: a level was trimmed", c.d.Mark)
			}
		}
		for _, d := range c.s.Dimensions {
			if !d.Across && (gone(d.From) || gone(d.To)) {
				t.Errorf("%s: an end of a dimension was trimmed", c.d.Mark)
			}
		}
	}
	if trimmed < 3 {
		t.Errorf("%d views were trimmed", trimmed)
	}
}
