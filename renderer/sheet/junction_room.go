package sheet

import (
	"math"

	"wythe/renderer/drawing"
	"wythe/renderer/geometry"
)

// room knows what stands on the sheet already, so that small marks are set
// where they cover nothing and no leader runs through them.
type room struct {
	placed []drawing.PlacedCallout
	taken  []drawing.Box
}

// box is a rectangle about a center.
func boxAt(c drawing.Point, wide, high float64) drawing.Box {
	var b drawing.Box
	b.Add(c.X-wide/2, c.Y-high/2)
	b.Add(c.X+wide/2, c.Y+high/2)
	return b
}

// cost is what it would spoil to set something down in a box: 0 nothing.
func (r *room) cost(b drawing.Box) float64 {
	cost := 0.0
	for _, t := range r.taken {
		if b.Overlaps(t) {
			cost += 4
		}
	}
	cost += 3 * float64(drawing.Crossed(r.placed, b))
	for i := range r.placed {
		if p := &r.placed[i]; p.Box.Overlaps(b) {
			cost += 6
		} else if inBox(p.At, b, 0.8) {
			cost += 3
		}
	}
	return cost
}

func inBox(p drawing.Point, b drawing.Box, margin float64) bool {
	return p.X > b.Min.X-margin && p.X < b.Max.X+margin && p.Y > b.Min.Y-margin && p.Y < b.Max.Y+margin
}

func (r *room) take(b drawing.Box) { r.taken = append(r.taken, b) }

// real is the place in the section that shows at a place on paper.
func (w *window) real(p drawing.Point) geometry.Point {
	return geometry.Point{X: int64(math.Round((p.X - w.dx) / w.k)), Y: int64(math.Round((w.dy - p.Y) / w.k))}
}

// face is the index of the face that shows at a place on paper; -1 where none
// does.
func (j *junction) face(p drawing.Point) int32 {
	for i := range j.windows {
		w := &j.windows[i]
		if p.X < w.on.Min.X || p.X > w.on.Max.X || p.Y < w.on.Min.Y || p.Y > w.on.Max.Y {
			continue
		}
		f, _ := j.s.Arrangement.FaceAt(w.real(p))
		return j.s.FaceOf[f]
	}
	return -1
}

// clear reports whether nothing built shows at a place on paper.
func (j *junction) clear(p drawing.Point) bool {
	f := j.face(p)
	return f < 0 || j.s.Faces[f].Region < 0
}
