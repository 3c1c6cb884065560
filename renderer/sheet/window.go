package sheet

import (
	"wythe/renderer/drawing"
	"wythe/renderer/geometry"
	"wythe/renderer/section"
)

// breakGap is the room between the two sides of a break in the view, mm.
const breakGap = 4.2

// piece is a stretch of an axis that is drawn: lo to hi, µm, from at mm on paper.
type piece struct {
	lo, hi int64
	at     float64
}

// axis is a direction of the view: the stretches that are drawn, in the order
// of the paper. Up is true for heights, which fall as paper rises.
type axis struct {
	pieces []piece
	k      float64 // mm of paper per µm
	up     bool
	length float64 // mm of paper
}

func newAxis(lo, hi int64, breaks []section.Break, across bool, k float64) axis {
	a := axis{k: k, up: !across}
	cuts := []piece{{lo: lo, hi: hi}}
	for _, b := range breaks {
		if b.Across != across {
			continue
		}
		var next []piece
		for _, c := range cuts {
			from, to := max(b.From, c.lo), min(b.From+b.Omit, c.hi)
			if from >= to {
				next = append(next, c)
				continue
			}
			if from > c.lo {
				next = append(next, piece{lo: c.lo, hi: from})
			}
			if to < c.hi {
				next = append(next, piece{lo: to, hi: c.hi})
			}
		}
		cuts = next
	}
	if a.up { // from the top of the paper
		for i, j := 0, len(cuts)-1; i < j; i, j = i+1, j-1 {
			cuts[i], cuts[j] = cuts[j], cuts[i]
		}
	}
	for i := range cuts {
		if i > 0 {
			a.length += breakGap
		}
		cuts[i].at = a.length
		a.length += float64(cuts[i].hi-cuts[i].lo) * k
	}
	a.pieces = cuts
	return a
}

// paper returns the place of v, and false where it is left out of the drawing.
func (a *axis) paper(v int64) (float64, bool) {
	for _, p := range a.pieces {
		if v >= p.lo && v <= p.hi {
			return a.in(p, v), true
		}
	}
	return 0, false
}

func (a *axis) in(p piece, v int64) float64 {
	if a.up {
		return p.at + float64(p.hi-v)*a.k
	}
	return p.at + float64(v-p.lo)*a.k
}

// window is one rectangle of the section as it stands on paper.
type window struct {
	box    geometry.Box
	on     drawing.Box // mm
	dx, dy float64     // paper = dx + k·x, dy − k·y
	k      float64
}

func (w *window) point(p geometry.Point) drawing.Point {
	return drawing.Point{X: w.dx + w.k*float64(p.X), Y: w.dy - w.k*float64(p.Y)}
}

// metres is where a place given in metres stands.
func (w *window) metres(p [2]float64) drawing.Point {
	return drawing.Point{X: w.dx + w.k*p[0]*1e6, Y: w.dy - w.k*p[1]*1e6}
}

// windows returns the rectangles that x and y make, from the top left.
func windows(x, y *axis, at drawing.Point) []window {
	var list []window
	for _, v := range y.pieces {
		for _, h := range x.pieces {
			w := window{box: geometry.Box{Min: geometry.Point{X: h.lo, Y: v.lo}, Max: geometry.Point{X: h.hi, Y: v.hi}}, k: x.k}
			w.dx = at.X + h.at - float64(h.lo)*x.k
			w.dy = at.Y + v.at + float64(v.hi)*y.k
			lo, hi := w.point(geometry.Point{X: h.lo, Y: v.hi}), w.point(geometry.Point{X: h.hi, Y: v.lo})
			w.on = drawing.Box{Min: lo, Max: hi}
			list = append(list, w)
		}
	}
	return list
}

// polygon returns a polygon in a window, clipped to it; false where nothing of
// it shows there.
//
// Method: Sutherland and Hodgman against the four sides, ring by ring. Where a
// ring leaves and enters again its clipped edges run along the side.
func (w *window) polygon(p geometry.Polygon) (drawing.Region, bool) {
	b := p.Bounds()
	if !overlap(b, w.box) {
		return drawing.Region{}, false
	}
	whole := b.Min.X >= w.box.Min.X && b.Max.X <= w.box.Max.X && b.Min.Y >= w.box.Min.Y && b.Max.Y <= w.box.Max.Y
	ring := func(r geometry.Ring) []drawing.Point {
		pts := make([]drawing.Point, len(r))
		for i, q := range r {
			pts[i] = w.point(q)
		}
		if !whole {
			pts = clipRing(pts, w.on)
		}
		return pts
	}
	out := drawing.Region{Outer: ring(p.Outer)}
	if len(out.Outer) < 3 {
		return out, false
	}
	for _, h := range p.Holes {
		if r := ring(h); len(r) >= 3 {
			out.Holes = append(out.Holes, r)
		}
	}
	return out, true
}

func overlap(a, b geometry.Box) bool {
	return a.Min.X < b.Max.X && b.Min.X < a.Max.X && a.Min.Y < b.Max.Y && b.Min.Y < a.Max.Y
}

func clipRing(pts []drawing.Point, box drawing.Box) []drawing.Point {
	for side := range 4 {
		if len(pts) == 0 {
			return nil
		}
		in := func(p drawing.Point) bool {
			switch side {
			case 0:
				return p.X >= box.Min.X
			case 1:
				return p.X <= box.Max.X
			case 2:
				return p.Y >= box.Min.Y
			}
			return p.Y <= box.Max.Y
		}
		var next []drawing.Point
		last := pts[len(pts)-1]
		for _, p := range pts {
			if in(p) != in(last) {
				next = append(next, cross(last, p, box, side))
			}
			if in(p) {
				next = append(next, p)
			}
			last = p
		}
		pts = next
	}
	return pts
}

func cross(a, b drawing.Point, box drawing.Box, side int) drawing.Point {
	switch side {
	case 0, 1:
		x := box.Min.X
		if side == 1 {
			x = box.Max.X
		}
		return drawing.Point{X: x, Y: a.Y + (b.Y-a.Y)*(x-a.X)/(b.X-a.X)}
	}
	y := box.Min.Y
	if side == 3 {
		y = box.Max.Y
	}
	return drawing.Point{X: a.X + (b.X-a.X)*(y-a.Y)/(b.Y-a.Y), Y: y}
}

// line returns the stretches of an open line that show in the window.
func (w *window) line(pts []drawing.Point) [][]drawing.Point {
	var out [][]drawing.Point
	var run []drawing.Point
	flush := func() {
		if len(run) > 1 {
			out = append(out, run)
		}
		run = nil
	}
	for i := 1; i < len(pts); i++ {
		a, b, ok := clipSegment(pts[i-1], pts[i], w.on)
		if !ok {
			flush()
			continue
		}
		if len(run) == 0 || run[len(run)-1] != a {
			flush()
			run = append(run, a)
		}
		run = append(run, b)
		if b != pts[i] {
			flush()
		}
	}
	flush()
	return out
}

// clipSegment clips a segment to a box by the method of Liang and Barsky.
func clipSegment(a, b drawing.Point, box drawing.Box) (drawing.Point, drawing.Point, bool) {
	t0, t1 := 0.0, 1.0
	dx, dy := b.X-a.X, b.Y-a.Y
	for _, e := range [4][2]float64{{-dx, a.X - box.Min.X}, {dx, box.Max.X - a.X}, {-dy, a.Y - box.Min.Y}, {dy, box.Max.Y - a.Y}} {
		switch {
		case e[0] == 0:
			if e[1] < -1e-9 {
				return a, b, false
			}
		case e[0] < 0:
			t0 = max(t0, e[1]/e[0])
		default:
			t1 = min(t1, e[1]/e[0])
		}
	}
	if t0 >= t1 {
		return a, b, false
	}
	p, q := a, b
	if t0 > 0 {
		p = drawing.Point{X: a.X + t0*dx, Y: a.Y + t0*dy}
	}
	if t1 < 1 {
		q = drawing.Point{X: a.X + t1*dx, Y: a.Y + t1*dy}
	}
	return p, q, true
}
