package drawing_test

import (
	"bytes"
	"os"
	"testing"

	"wythe/renderer/drawing"
	"wythe/renderer/drawing/svg"
)

// hatchSheet shows every hatch word in a slab, a wall, a slope and an odd
// shape, at one grain.
func hatchSheet(grain float64, thumb bool) *drawing.Drawing {
	const row, wide = 24.0, 252.0
	words := drawing.Words()
	d := &drawing.Drawing{Title: "Hatches", Width: wide, Height: float64(len(words))*row + 6}
	outline := drawing.Stroke{Pen: drawing.PenCut, Ink: drawing.InkLine}
	for i, word := range words {
		y := 4 + float64(i)*row
		d.Root.Nodes = append(d.Root.Nodes, &drawing.Text{At: drawing.Point{X: 2, Y: y + 10}, Size: 3.2, Weight: 600, Ink: drawing.InkLine, Text: word})
		show := func(r drawing.Region, o drawing.Hatching) {
			o.Seed, o.Grain, o.Thumb = word, grain, thumb
			g := &drawing.Group{Tag: drawing.Tag{Kind: "hatch", Part: word}, Nodes: drawing.Hatch(word, r, o)}
			p := &drawing.Path{Stroke: outline}
			p.Polygon(r.Outer...)
			for _, h := range r.Holes {
				p.Polygon(h...)
			}
			d.Root.Nodes = append(d.Root.Nodes, g, p)
		}
		ends := drawing.SideLeft | drawing.SideRight
		fade := drawing.SideBottom | drawing.SideLeft
		show(drawing.RectRegion(40, y, 130, y+15.875), drawing.Hatching{Open: ends, Courses: 2, Fade: fade})
		show(drawing.RectRegion(134, y, 150, y+3.2), drawing.Hatching{Open: ends})
		show(drawing.RectRegion(134, y+5, 150, y+7), drawing.Hatching{Open: ends, Along: true})
		show(drawing.RectRegion(134, y+9, 150, y+15.875), drawing.Hatching{Open: ends, Along: true})
		show(drawing.RectRegion(154, y, 165, y+19), drawing.Hatching{Open: drawing.SideTop | drawing.SideBottom})
		show(drawing.RectRegion(168, y, 170, y+19), drawing.Hatching{Open: drawing.SideTop | drawing.SideBottom})
		show(drawing.RectRegion(173, y, 181, y+7), drawing.Hatching{})
		slope := []drawing.Point{{X: 184, Y: y + 19}, {X: 205, Y: y + 5}, {X: 210, Y: y + 5}, {X: 210, Y: y + 11}, {X: 193, Y: y + 22}, {X: 184, Y: y + 22}}
		show(drawing.Region{Outer: slope}, drawing.Hatching{Angle: 33.69, Open: drawing.SideRight})
		bore := []drawing.Point{{X: 226, Y: y + 6}, {X: 233, Y: y + 6}, {X: 233, Y: y + 12}, {X: 226, Y: y + 12}}
		show(drawing.Region{Outer: []drawing.Point{{X: 216, Y: y + 2}, {X: 228, Y: y}, {X: 246, Y: y}, {X: 244, Y: y + 19}, {X: 214, Y: y + 19}}, Holes: [][]drawing.Point{bore}}, drawing.Hatching{})
	}
	return d
}

func TestHatchSpecimens(t *testing.T) {
	for name, d := range map[string]*drawing.Drawing{
		"hatches-100":   hatchSheet(1, false),
		"hatches-072":   hatchSheet(0.72, false),
		"hatches-thumb": hatchSheet(0.62, true),
	} {
		got := svg.Append(nil, d, svg.Options{Dress: svg.Standalone})
		file := "testdata/" + name + ".svg"
		if *updateSpecimens {
			if err := os.WriteFile(file, got, 0o666); err != nil {
				t.Fatal(err)
			}
			continue
		}
		want, err := os.ReadFile(file)
		if err != nil || !bytes.Equal(got, want) {
			t.Errorf("%s differs from what is drawn (%v); look at it before -update", file, err)
		}
	}
}
