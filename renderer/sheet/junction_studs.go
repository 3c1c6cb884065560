package sheet

import (
	"wythe/renderer/drawing"
	"wythe/renderer/geometry"
	"wythe/renderer/material"
	"wythe/renderer/section"
)

// Thickness on paper, mm, between which a sheet is a mat with one row of
// studs: a thinner one is a black line, a thicker one has room for its hatch.
const (
	studLeast = 0.8
	studMost  = 2.2
)

// studded reports how thick a mat is on paper, and whether it stands upright;
// 0 where the face is no mat, or lies on a slope.
func (j *junction) studded(f *section.Face) (thick float64, upright bool) {
	r := &j.s.Regions[f.Region]
	if f.Material.Hatch != material.Membrane || r.Slope != 0 || j.thumb() {
		return 0, false
	}
	b := f.Polygon.Bounds()
	wide, high := float64(b.Width())/(1000*j.scale), float64(b.Height())/(1000*j.scale)
	thick, upright = min(wide, high), wide < high
	if thick < studLeast || thick > studMost {
		return 0, false
	}
	return thick, upright
}

// studs draws a mat: one row of studs between its faces.
func (j *junction) studs(f *section.Face, w *window, thick float64, upright bool) {
	b := f.Polygon.Bounds()
	step := int64(thick * 1.15 * 1000 * j.scale)
	var row drawing.Path
	row.Stroke = drawing.Stroke{Pen: drawing.Pen(thick * 0.5), Ink: drawing.InkHatch, Round: true}
	at := geometry.Point{X: (b.Min.X + b.Max.X) / 2, Y: (b.Min.Y + b.Max.Y) / 2}
	from, to, along := b.Min.X, b.Max.X, &at.X
	if upright {
		from, to, along = b.Min.Y, b.Max.Y, &at.Y
	}
	for *along = from + step/2; *along < to; *along += step {
		if w.box.Contains(at) && f.Polygon.Locate(at) == geometry.In {
			row.Segs = append(row.Segs, drawing.Seg{Op: drawing.Dot, P: [3]drawing.Point{w.point(at)}})
		}
	}
	if len(row.Segs) > 0 {
		j.draft.Add(&row)
	}
}
