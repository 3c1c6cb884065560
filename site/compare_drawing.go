package site

import (
	"wythe/renderer/drawing"
	"wythe/renderer/geometry"
	"wythe/renderer/units"
	"wythe/site/revision"
)

// Room for a drawing of what changed, mm.
const (
	changesWidth  = 180.0
	changesHeight = 150.0
	changesMargin = 4.0
	changesFoot   = 14.0
)

// changesDrawing draws a detail's lines as they were and as they are: what
// stayed is thin, what came heavy, what went dashed and red. It is nil where
// there is nothing to draw.
func changesDrawing(mark string, l *revision.Linework, system units.System) *drawing.Drawing {
	box, any := geometry.EmptyBox(), false
	lists := [][]geometry.Segment{l.Same, l.Added, l.Removed, l.SameFilms, l.AddedFilms, l.RemovedFilms}
	for _, list := range lists {
		for _, s := range list {
			box = box.Grow(s.A).Grow(s.B)
			any = true
		}
	}
	if !any {
		return nil
	}
	width, height := float64(box.Max.X-box.Min.X)*1e-3, float64(box.Max.Y-box.Min.Y)*1e-3 // mm
	scale := drawing.ChooseScale(system, 1, func(ratio float64) bool {
		return width/ratio <= changesWidth && height/ratio <= changesHeight
	})
	d := &drawing.Drawing{
		Title: mark + ": what changed", Desc: "Heavy lines were added, dashed lines removed, thin lines stayed.",
		Width: max(width/scale, 96) + 2*changesMargin, Height: height/scale + 2*changesMargin + changesFoot, Scale: scale,
	}
	path := func(list []geometry.Segment, stroke drawing.Stroke) {
		if len(list) == 0 {
			return
		}
		p := &drawing.Path{Tag: drawing.Tag{Kind: "outline"}, Stroke: stroke}
		for _, s := range list {
			for i, q := range [2]geometry.Point{s.A, s.B} {
				at := drawing.Point{
					X: changesMargin + float64(q.X-box.Min.X)*1e-3/scale,
					Y: changesMargin + float64(box.Max.Y-q.Y)*1e-3/scale,
				}
				op := drawing.LineTo
				if i == 0 {
					op = drawing.MoveTo
				}
				p.Segs = append(p.Segs, drawing.Seg{Op: op, P: [3]drawing.Point{at}})
			}
		}
		d.Root.Nodes = append(d.Root.Nodes, p)
	}
	thin := drawing.Stroke{Pen: drawing.PenDimension, Ink: drawing.InkLine}
	came := drawing.Stroke{Pen: drawing.PenControl, Ink: drawing.InkLine, Round: true}
	went := drawing.Stroke{Pen: drawing.PenTick, Ink: drawing.InkMark, Dash: []float64{2, 1.2}}
	path(l.Same, thin)
	path(l.SameFilms, drawing.Stroke{Pen: drawing.PenTick, Ink: drawing.InkLine})
	path(l.Removed, went)
	path(l.RemovedFilms, went)
	path(l.Added, came)
	path(l.AddedFilms, drawing.Stroke{Pen: drawing.PenMembrane, Ink: drawing.InkLine, Round: true})

	y := height/scale + 2*changesMargin + 5
	x := changesMargin
	for _, key := range []struct {
		stroke drawing.Stroke
		words  string
	}{{came, "added"}, {went, "removed"}, {thin, "as it was"}} {
		d.Root.Nodes = append(d.Root.Nodes,
			&drawing.Path{Tag: drawing.Tag{Kind: "title"}, Stroke: key.stroke, Segs: []drawing.Seg{
				{Op: drawing.MoveTo, P: [3]drawing.Point{{X: x, Y: y - 1}}}, {Op: drawing.LineTo, P: [3]drawing.Point{{X: x + 9, Y: y - 1}}}}},
			&drawing.Text{Tag: drawing.Tag{Kind: "title"}, At: drawing.Point{X: x + 11, Y: y}, Size: 3, Face: drawing.Reading, Weight: 400, Ink: drawing.InkLine, Text: key.words})
		x += 31
	}
	words, ratio := scaleWords(scale, system)
	if words != "" {
		ratio = words + " (" + ratio + ")"
	}
	d.Root.Nodes = append(d.Root.Nodes, &drawing.Text{Tag: drawing.Tag{Kind: "title"}, At: drawing.Point{X: changesMargin, Y: y + 6}, Size: 2.7, Face: drawing.Reading, Weight: 400, Ink: drawing.InkSecond, Text: "Scale " + ratio})
	return d
}
