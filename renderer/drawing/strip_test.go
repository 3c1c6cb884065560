package drawing_test

import (
	"math"
	"strconv"
	"testing"

	"wythe/renderer/drawing"
	"wythe/renderer/units"
)

// TestStrip measures the temperature strip against its scales: each face's
// dot at the face's height and temperature, °F and °C telling the same.
func TestStrip(t *testing.T) {
	for _, s := range []*drawing.Stack{basementSlab(), deepWall(), terraceRoof(), attic(), brickWall()} {
		for _, dress := range []drawing.Dress{drawing.Wide, drawing.Phone} {
			s.Dress = dress
			t.Run(s.Mark, func(t *testing.T) { measureStrip(t, s, s.Draw()) })
		}
	}
}

func measureStrip(t *testing.T, s *drawing.Stack, d *drawing.Drawing) {
	var strip, outline *drawing.Group
	eachGroup(&d.Root, "temperature", func(g *drawing.Group) { strip = g })
	eachGroup(&d.Root, "outline", func(g *drawing.Group) { outline = g })
	if strip == nil || outline == nil {
		t.Fatal("no strip")
	}
	// Figures of the scales: °F over the section, °C under it.
	type figure struct{ x, y, value float64 }
	var figures []figure
	var signs []*drawing.Text
	values := map[string]int{}
	for _, x := range texts(strip, nil) {
		if x.Text == "°F" || x.Text == "°C" {
			signs = append(signs, x)
			continue
		}
		v, err := strconv.ParseFloat(x.Text, 64)
		switch {
		case err != nil:
		case x.Ink == drawing.InkMark:
			values[x.Text]++
		default:
			figures = append(figures, figure{x.At.X, x.At.Y, v})
		}
	}
	if len(signs) != 2 || signs[0].Text != "°F" || signs[0].At.Y >= signs[1].At.Y {
		t.Fatalf("°F does not stand over °C")
	}
	scale := func(y float64) (at func(float64) float64) {
		var row []figure
		for _, f := range figures {
			if f.y == y {
				row = append(row, f)
			}
		}
		if len(row) < 2 {
			t.Fatalf("a scale of %d figures", len(row))
		}
		a, b := row[0], row[len(row)-1]
		return func(v float64) float64 { return a.x + (v-a.value)/(b.value-a.value)*(b.x-a.x) }
	}
	atF, atC := scale(signs[0].At.Y), scale(signs[1].At.Y)
	for _, c := range []float64{-40, -10, 0, 20} {
		if math.Abs(atC(c)-atF(c*9/5+32)) > 1e-6 {
			t.Errorf("%g °C stands at %.4f, %g °F at %.4f", c, atC(c), c*9/5+32, atF(c*9/5+32))
		}
	}
	var dots []drawing.Point
	for _, n := range strip.Nodes {
		if c, ok := n.(*drawing.Circle); ok {
			dots = append(dots, c.Center)
		}
	}
	faces := s.Temperatures.Faces
	ys := levels(outline)
	y := ys[len(ys)-1] - float64(s.Thickness())*1000/d.Scale // of the top face: loose fill has no line there
	if !s.InsideTop {
		back := make([]units.Temperature, len(faces))
		for i, f := range faces {
			back[len(faces)-1-i] = f
		}
		faces = back
	}
	k := 0
	for i, f := range faces {
		if i > 0 {
			l := s.Layers[i-1]
			if !s.InsideTop {
				l = s.Layers[len(s.Layers)-i]
			}
			if l.Film {
				continue
			}
			y += float64(l.Thickness) * float64(max(1, l.Courses)) * 1000 / d.Scale
		}
		if k == len(dots) {
			t.Fatalf("%d dots for more faces", len(dots))
		}
		if want := atC(float64(f)); math.Abs(dots[k].X-want) > 1e-6 || math.Abs(dots[k].Y-y) > 1e-6 {
			t.Errorf("face %d at %.3f, %.3f; want %.3f, %.3f", i, dots[k].X, dots[k].Y, want, y)
		}
		v := float64(f)
		if s.System == units.Inch {
			v = v*9/5 + 32
		}
		if text := strconv.FormatFloat(v, 'f', 1, 64); values[text] == 0 {
			t.Errorf("%s is not printed", text)
		} else {
			values[text]--
		}
		k++
	}
	if k != len(dots) {
		t.Errorf("%d dots for %d faces", len(dots), k)
	}
}
