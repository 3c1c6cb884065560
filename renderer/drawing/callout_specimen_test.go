package drawing_test

import (
	"bytes"
	"os"
	"testing"

	"wythe/renderer/drawing"
	"wythe/renderer/drawing/svg"
)

// drawJoint draws a slab edge at a wall with what this package lends to
// sections: callouts in two columns, dimensions on three sides, level marks,
// references and a title. Coordinates are inches, from the footing's foot.
func drawJoint(bare bool) (*drawing.Drawing, []drawing.PlacedCallout) {
	const scale, slab = 8.0, 29.0
	ox, oy, k := 96.0, 12.0, 25.4/scale
	if bare {
		ox, oy, k = 30, 8, 25.4/16
	}
	at := func(x, y float64) drawing.Point { return drawing.Point{X: ox + x*k, Y: oy + (41-y)*k} }
	d := drawing.NewDraft()
	part := func(hatch string, x0, y0, x1, y1 float64) {
		a, b := at(x0, y1), at(x1, y0)
		d.Add(drawing.Hatch(hatch, drawing.RectRegion(a.X, a.Y, b.X, b.Y), drawing.Hatching{Seed: hatch, Grain: k / 3.175})...)
		d.Shape(drawing.Tag{Kind: "outline"}, drawing.Stroke{Pen: drawing.PenCut, Ink: drawing.InkLine}, drawing.InkNone,
			a, drawing.Point{X: b.X, Y: a.Y}, b, drawing.Point{X: a.X, Y: b.Y})
	}
	part("concrete", 0, 0, 20, 10)
	part("rigid insulation", 2, 10, 6, 41)
	part("reinforced concrete", 6, 10, 14, 41)
	part("washed stone", 14, 10, 33, 18)
	part("rigid insulation", 14, 18, 33, 24)
	part("rigid insulation", 14, 24, 16, slab)
	part("concrete", 16, 24, 33, slab)
	part("batt", 14, slab, 19.5, 41)
	part("gypsum", 19.5, 29.5, 20, 41)
	d.Break(drawing.Tag{Kind: "break"}, at(1.5, 41), at(20.5, 41), 0.55, 1.5)
	d.Break(drawing.Tag{Kind: "break"}, at(33, 9), at(33, 30), 0.5, 1.5)
	left, right := drawing.LeftSide, drawing.RightSide
	list := []drawing.Callout{
		{Head: "FINISHED GRADE", Note: "Falls 5 % for 10′", At: at(-6, 38), Side: left},
		{Head: "DRAINAGE MAT, 3/8″", Note: "From grade to the stone", At: at(1.8, 36.5), Side: left},
		{Head: "XPS TYPE IV, 4″", Note: "Ends on the footing", At: at(3, 32.4), Side: left},
		{Head: "DAMPPROOFING", Note: "Water control. A coat over the footing too", At: at(5.9, 29.4), Side: left},
		{Head: "CONCRETE WALL, 8″", Note: "Air and vapor control", At: at(8.4, 24.6), Side: left},
		{Head: "BACKFILL", Note: "Free-draining, in 8″ lifts", At: at(-3, 21), Side: left},
		{Head: "FILTER FABRIC", Note: "All round the stone", At: at(-6.2, 14.3), Side: left},
		{Head: "DRAIN PIPE, 4″", Note: "Holes down, falls 1/8″ per ft", At: at(-6.1, 5.2), Side: left},
		{Head: "FOOTING, 20″ × 10″", Note: "On undisturbed ground", At: at(1.4, 1.5), Side: left},
		{Head: "GYPSUM BOARD, 1/2″", Note: "1/2″ clear of the slab", At: at(19.75, 39.8), Side: right},
		{Head: "MINERAL WOOL, 3 1/2″", Note: "Between 2×4 studs", At: at(18.2, 37), Side: right},
		{Head: "MINERAL WOOL, 2″", Note: "Behind the studs", At: at(15.6, 33.4), Side: right},
		{Head: "SEALANT BEAD", Note: "Film to concrete", At: at(14.4, 31.2), Side: right},
		{Head: "PLATE, 2×4", Note: "On a gasket, all on the slab", At: at(18.6, 29.8), Side: right},
		{Head: "XPS UPTURN, 2″", Note: "Full depth of the slab", At: at(15.6, 28.5), Side: right},
		{Head: "CONCRETE SLAB, 5″", Note: "See F-101", At: at(28.2, 26.4), Side: right, Slide: 4.6 * k},
		{Head: "FILM, 15 MIL", Note: "Up, over and on to the wall", At: at(28.6, 24), Side: right},
		{Head: "XPS TYPE IV, 2 COURSES × 3″", Note: "Joints staggered", At: at(31, 19.4), Side: right},
		{Head: "WASHED STONE, 8″", Note: "Level to 1/4″", At: at(30.5, 14.6), Side: right},
		{Head: "SUBGRADE", Note: "Compacted", At: at(28.8, 7.4), Side: right},
	}
	width := 290.0
	cols := drawing.Columns{Left: drawing.Column{Edge: 62, Outer: 1}, Right: drawing.Column{Edge: 228, Outer: 289}, Top: 2, Bottom: 160}
	if bare {
		width = 92
		cols = drawing.Columns{Left: drawing.Column{Edge: 8, Outer: 1}, Right: drawing.Column{Edge: 90, Outer: 98}, Top: 2, Bottom: 84}
		width = 98
	}
	if !bare {
		d.Tiers(drawing.Below, at(0, 0).Y, 6,
			&drawing.Chain{Stops: []float64{at(0, 0).X, at(6, 0).X, at(14, 0).X, at(20, 0).X}, Texts: []string{"6″", "8″", "6″"}},
			&drawing.Chain{Stops: []float64{at(0, 0).X, at(20, 0).X}, Texts: []string{"1′-8″"}})
		d.Tiers(drawing.Above, at(0, 41).Y, 5, &drawing.Chain{
			Stops: []float64{at(2, 0).X, at(6, 0).X, at(14, 0).X, at(16, 0).X, at(19.5, 0).X, at(20, 0).X},
			Texts: []string{"4″", "8″", "2″", "3 1/2″", "1/2″"},
		})
		d.Dimension(&drawing.Chain{Border: drawing.RightOf, At: at(23.4, 0).X, Work: at(23.4, 0).X + 1.4, Cased: true,
			Stops: []float64{at(0, slab).Y, at(0, 24).Y, at(0, 18).Y, at(0, 10).Y}, Texts: []string{"5″", "6″", "8″"}})
		d.Level(drawing.Tag{}, at(27.6, slab), right, 0, "T.O. SLAB 0′-0″")
		d.Reference(drawing.Tag{Href: "../F-101/"}, at(26, 21), "F-101")
		d.Space(at(23, 36), drawing.Start, "INSIDE")
	}
	placed, _ := drawing.PlaceCallouts(list, cols, bare)
	d.Callouts(placed)
	height := at(0, -9).Y
	if !bare {
		_, down := d.Title(&drawing.TitleBlock{Mark: "J-901", Name: "Slab edge at wall and footing", View: "SECTION", Scale: scale}, drawing.Point{X: 6, Y: height + 8}, 172)
		d.ScaleBar(drawing.Point{X: 200, Y: height + 8}, scale, 0, 50)
		height += 8 + down + 1
	}
	return &drawing.Drawing{Title: "J-901 section", Width: width, Height: height, Scale: scale, Root: d.Root()}, placed
}

// TestJointSpecimens: the callouts and dimensions of a section with parts all
// over, in both dresses; measured, then compared with what was looked at.
func TestJointSpecimens(t *testing.T) {
	for name, bare := range map[string]bool{"joint": false, "joint-phone": true} {
		t.Run(name, func(t *testing.T) {
			d, placed := drawJoint(bare)
			if len(placed) != 20 {
				t.Errorf("%d callouts of 20", len(placed))
			}
			least := 2.0
			if bare {
				least = 0.25
			} else {
				measureTexts(t, d)
			}
			measureCallouts(t, callouts(d), least)
			got := svg.Append(nil, d, svg.Options{Dress: svg.Standalone, Prefix: name})
			file := "testdata/callout/" + name + ".svg"
			if *updateSpecimens {
				if err := os.MkdirAll("testdata/callout", 0o777); err != nil {
					t.Fatal(err)
				}
				if err := os.WriteFile(file, got, 0o666); err != nil {
					t.Fatal(err)
				}
				return
			}
			want, err := os.ReadFile(file)
			if err != nil || !bytes.Equal(got, want) {
				t.Errorf("%s differs (%v)", file, err)
			}
		})
	}
}
