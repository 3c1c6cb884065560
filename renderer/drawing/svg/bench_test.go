package svg

import (
	"testing"

	"wythe/renderer/drawing"
)

// slab is about what a page's drawing of an assembly holds: five hatched
// layers, outlines, and some sixty lines of text.
func slab(seed string) *drawing.Drawing {
	d := &drawing.Drawing{Title: "Insulated basement slab", Desc: "From inside: concrete, film, foam, stone, ground", Width: 258, Height: 130, Scale: 8}
	ends := drawing.SideLeft | drawing.SideRight
	y := 16.0
	for i, l := range []struct {
		word string
		high float64
	}{{"concrete", 15.875}, {"rigid insulation", 19.05}, {"washed stone", 25.4}, {"earth", 14}, {"gypsum", 1.5875}} {
		g := &drawing.Group{Tag: drawing.Tag{Kind: "hatch", Part: l.word, Key: i + 1}}
		g.Nodes = drawing.Hatch(l.word, drawing.RectRegion(70, y, 165, y+l.high), drawing.Hatching{Seed: seed, Courses: 2, Open: ends})
		y += l.high
		face := new(drawing.Path).Move(70, y).Line(165, y)
		face.Stroke = drawing.Stroke{Pen: drawing.PenCut, Ink: drawing.InkLine}
		d.Root.Nodes = append(d.Root.Nodes, g, face)
	}
	for i := range 60 {
		t := &drawing.Text{At: drawing.Point{X: 190, Y: float64(i) * 2}, Size: 3.2, Weight: 600, Ink: drawing.InkLine, Text: "VAPOR RETARDER FILM, 15 MIL"}
		if i%6 == 0 {
			t.Text = "3 1/2″"
		}
		lead := new(drawing.Path).Move(188, float64(i)*2).Line(180, float64(i)*2).Line(150, 40)
		lead.Stroke = drawing.Stroke{Pen: drawing.PenDimension, Ink: drawing.InkLine}
		d.Root.Nodes = append(d.Root.Nodes, lead, t)
	}
	return d
}

// Sizes of what a page carries: the look's budget for a drawing, 35 KB.
func TestDrawingIsSmall(t *testing.T) {
	n := len(Append(nil, slab("F-101"), Options{Prefix: "f-101"}))
	if n > 35_000 {
		t.Errorf("a slab's drawing is %d bytes, more than 35,000", n)
	}
}

func BenchmarkAppend(b *testing.B) {
	d := slab("F-101")
	var buf []byte
	b.ReportAllocs()
	for b.Loop() {
		buf = Append(buf[:0], d, Options{Prefix: "f-101"})
	}
	b.SetBytes(int64(len(buf)))
}

// BenchmarkHatchAndAppend draws and writes anew, with hatches no drawing had
// before.
func BenchmarkHatchAndAppend(b *testing.B) {
	var buf []byte
	b.ReportAllocs()
	x := 0.0
	for b.Loop() {
		x += 0.001
		d := &drawing.Drawing{Width: 258, Height: 130}
		d.Root.Nodes = drawing.Hatch("washed stone", drawing.RectRegion(10, 10, 105, 35+x), drawing.Hatching{Open: drawing.SideLeft | drawing.SideRight})
		d.Root.Nodes = append(d.Root.Nodes, drawing.Hatch("concrete", drawing.RectRegion(10, 10, 105, 25+x), drawing.Hatching{Open: drawing.SideLeft | drawing.SideRight})...)
		buf = Append(buf[:0], d, Options{Prefix: "f-101"})
	}
}
