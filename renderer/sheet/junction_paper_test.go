package sheet

import (
	"testing"

	"wythe/renderer/detail"
	"wythe/renderer/drawing"
	"wythe/renderer/figures"
	"wythe/renderer/heatflow"
)

// TestTemperaturesOnPaper holds the pictures of the demonstration library: all
// stands within the picture, the view at the scale it says, no shading; only
// hatches are paler than in the drawing, which itself stays as it was.
func TestTemperaturesOnPaper(t *testing.T) {
	lib, err := detail.Read("../../details")
	if err != nil {
		t.Fatal(err)
	}
	context := figures.Context{Settings: &lib.Settings, Climate: lib.Climate}
	drawn := 0
	for _, d := range lib.Details {
		if d.Junction == nil || figures.Lesson(d) {
			continue
		}
		f := figures.OfJunction(context, d, lib.Detail)
		f.SolveHeat(context, lib.Detail, heatflow.Cache{})
		sh := NewJunction(d, f.Section, f.Continuity, lib.Settings.Units)
		if f.Heat == nil || !f.Heat.Temperatures {
			if sh.Temperatures(&Heat{HeatFlow: f.Heat}, 0) != nil {
				t.Errorf("%s: temperatures that are not known are drawn", d.Mark)
			}
			continue
		}
		drawn++
		main := sh.Draw(JunctionLook{Look: Look{System: lib.Settings.Units}})
		for _, scale := range []float64{0, 24} {
			p := sh.Temperatures(&Heat{HeatFlow: f.Heat}, scale)
			want := scale
			if scale == 0 {
				want = main.Scale
			}
			if p.Scale != want {
				t.Errorf("%s: drawn at 1:%g, want 1:%g", d.Mark, p.Scale, want)
			}
			if b := drawing.Bounds(&p.Root); b.Min.X < 0 || b.Min.Y < 0 || b.Max.X > p.Width+1e-9 || b.Max.Y > p.Height+1e-9 {
				t.Errorf("%s at 1:%g: %v leaves the %g × %g mm it says", d.Mark, p.Scale, b, p.Width, p.Height)
			}
			inks, words := map[string]map[drawing.Ink]int{}, false
			var walk func(n drawing.Node, kind string)
			walk = func(n drawing.Node, kind string) {
				count := func(i drawing.Ink) {
					if inks[kind] == nil {
						inks[kind] = map[drawing.Ink]int{}
					}
					inks[kind][i]++
				}
				switch n := n.(type) {
				case *drawing.Group:
					if n.Tag.Kind != "" {
						kind = n.Tag.Kind
					}
					for _, c := range n.Nodes {
						walk(c, kind)
					}
				case *drawing.Path:
					count(n.Stroke.Ink)
					count(n.Fill)
				case *drawing.Circle:
					count(n.Stroke.Ink)
				case *drawing.Text:
					_, ratio := drawing.ScaleWords(want)
					words = words || n.Text == "SCALE "+ratio
				}
			}
			walk(&p.Root, "")
			if len(inks["shade"]) > 0 || inks["hatch"][drawing.InkHatch] > 0 || inks["hatch"][drawing.InkHair] == 0 || inks["isotherm"][drawing.InkMark] == 0 || !words {
				t.Errorf("%s: inks %v, scale said %t", d.Mark, inks, words)
			}
		}
		again := sh.Draw(JunctionLook{Look: Look{System: lib.Settings.Units}})
		if a, b := dark(&main.Root), dark(&again.Root); a != b || a == 0 {
			t.Errorf("%s: %d dark hatches in the drawing before, %d after", d.Mark, a, b)
		}
	}
	if drawn < 10 {
		t.Errorf("%d pictures", drawn)
	}
}

// dark counts the paths in the ink of hatches.
func dark(g *drawing.Group) (n int) {
	for _, c := range g.Nodes {
		switch c := c.(type) {
		case *drawing.Group:
			n += dark(c)
		case *drawing.Path:
			if c.Stroke.Ink == drawing.InkHatch || c.Fill == drawing.InkHatch {
				n++
			}
		}
	}
	return n
}
