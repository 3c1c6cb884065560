package sheet

import (
	"bytes"
	"compress/gzip"
	"math"
	"strconv"
	"testing"

	"wythe/renderer/detail"
	"wythe/renderer/drawing"
	"wythe/renderer/drawing/svg"
	"wythe/renderer/figures"
	"wythe/renderer/heatflow"
)

// TestHeatPictures holds the temperatures over every junction of the
// demonstration library: each number stands on its line and clear of the
// others, most lines have theirs, each band is lighter than the colder one, and
// the shading is light.
func TestHeatPictures(t *testing.T) {
	lib, err := detail.Read("../../details")
	if err != nil {
		t.Fatal(err)
	}
	context := figures.Context{Settings: &lib.Settings, Climate: lib.Climate}
	drawn, lines, numbers := 0, 0, 0
	for _, d := range lib.Details {
		if d.Junction == nil || figures.Lesson(d) {
			continue
		}
		f := figures.OfJunction(context, d, lib.Detail)
		f.SolveHeat(context, lib.Detail, heatflow.Cache{})
		if f.Heat == nil || !f.Heat.Temperatures {
			continue
		}
		drawn++
		for _, dress := range []drawing.Dress{drawing.Wide, drawing.Phone} {
			c := drawable{d, f.Section, f.Continuity}
			j, placed := c.drawn(dress)
			h := &Heat{HeatFlow: f.Heat}
			j.isotherms(newRoom(placed), h)
			root := j.draft.Root()
			var taken []drawing.Box
			var cold, warm drawing.Ink
			var walk func(g *drawing.Group, kind string)
			walk = func(g *drawing.Group, kind string) {
				if g.Tag.Kind != "" {
					kind = g.Tag.Kind
				}
				for _, n := range g.Nodes {
					switch n := n.(type) {
					case *drawing.Group:
						walk(n, kind)
					case *drawing.Path:
						if kind != "shade" {
							continue
						}
						if cold == 0 {
							cold = n.Fill
						}
						if n.Fill < warm {
							t.Errorf("%s: a warmer band is shaded as a colder one", d.Mark)
						}
						warm = n.Fill
					case *drawing.Text:
						w := drawing.Measure(n.Face, n.Weight, n.Size, n.Text)
						var b drawing.Box
						b.Add(n.At.X-w/2, n.At.Y-n.Size*0.7)
						b.Add(n.At.X+w/2, n.At.Y)
						for _, o := range taken {
							if o.Overlaps(b) {
								t.Errorf("%s, dress %d: %q covers another number", d.Mark, dress, n.Text)
							}
						}
						taken = append(taken, b)
						v, err := strconv.ParseFloat(n.Text, 64)
						if err != nil {
							continue // the coldest place, with its sign
						}
						numbers++
						p, ok := j.real(drawing.Point{X: n.At.X, Y: n.At.Y - 0.9})
						got, felt := f.Heat.Field.TemperatureAt(float64(p.X)*1e-6, float64(p.Y)*1e-6)
						if want := (v - 32) / 1.8; !ok || !felt || math.Abs(got-want) > 0.8 {
							t.Errorf("%s, dress %d: the number %s stands at %.1f °C, want %.1f", d.Mark, dress, n.Text, got, want)
						}
					}
				}
			}
			walk(&root, "")
			if cold != drawing.InkShade || warm != drawing.InkShade+drawing.Shades {
				t.Errorf("%s, dress %d: shaded from %d to %d", d.Mark, dress, cold-drawing.InkShade, warm-drawing.InkShade)
			}
			low, high := math.Inf(1), math.Inf(-1)
			for _, s := range f.Heat.Spaces {
				low, high = min(low, float64(s.Temperature)), max(high, float64(s.Temperature))
			}
			lines += len(j.roundTemperatures(low, high))
			if n := packedShade(t, &root); n > 4000 {
				t.Errorf("%s, dress %d: shading takes %d bytes, compressed", d.Mark, dress, n)
			}
		}
	}
	if drawn < 10 || numbers < lines*3/4 {
		t.Errorf("%d pictures, %d numbers on %d lines", drawn, numbers, lines)
	}
}

// packedShade is what the shading in a drawing costs a page, compressed.
func packedShade(t *testing.T, root *drawing.Group) int {
	t.Helper()
	heat := root.Nodes[0].(*drawing.Group)
	shade := heat.Nodes[0].(*drawing.Group)
	if shade.Tag.Kind != "shade" {
		t.Fatalf("the first of the heat picture is %q", shade.Tag.Kind)
	}
	var out, packed bytes.Buffer
	if err := svg.Write(&out, &drawing.Drawing{Title: "shading", Width: 258, Height: 200, Root: *shade}, svg.Options{}); err != nil {
		t.Fatal(err)
	}
	z := gzip.NewWriter(&packed)
	if _, err := z.Write(out.Bytes()); err != nil {
		t.Fatal(err)
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	return packed.Len()
}
