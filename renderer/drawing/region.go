package drawing

import "math"

// Region is what a hatch fills: a polygon with holes, mm on paper. Corners run
// either way round; the rings neither cross nor touch themselves.
type Region struct {
	Outer []Point
	Holes [][]Point
}

// RectRegion is the upright rectangle between two corners.
func RectRegion(x0, y0, x1, y1 float64) Region {
	return Region{Outer: []Point{{x0, y0}, {x1, y0}, {x1, y1}, {x0, y1}}}
}

// Sides are sides of a region's bounding box.
type Sides uint8

const (
	SideLeft Sides = 1 << iota
	SideRight
	SideTop
	SideBottom
)

// onSide is how near, mm, a side of the box an edge must run to lie on it: a
// hundredth of the thinnest line.
const onSide = 0.001

// edge is one straight edge of a field.
type edge struct {
	a, b Point
	open bool // a cut, not a face
}

// field is a region in the frame in which it is hatched: its long direction
// along x. Rectangles are kept apart, since most regions are.
type field struct {
	frame          frame
	rect           bool
	x0, y0, x1, y1 float64 // bounds
	open           Sides   // of the bounds, in this frame
	edges          []edge  // nil for a rectangle
}

// frame turns paper into the frame of a field and back.
type frame struct {
	swap     bool // x and y change places
	turned   bool
	sin, cos float64
}

func (f frame) in(p Point) Point {
	if f.turned {
		p = Point{p.X*f.cos - p.Y*f.sin, p.X*f.sin + p.Y*f.cos}
	}
	if f.swap {
		p.X, p.Y = p.Y, p.X
	}
	return p
}

func (f frame) out(p Point) Point {
	if f.swap {
		p.X, p.Y = p.Y, p.X
	}
	if f.turned {
		p = Point{p.X*f.cos + p.Y*f.sin, -p.X*f.sin + p.Y*f.cos}
	}
	return p
}

// sides maps sides on paper to sides in the frame. A turned frame keeps none:
// its sides are not the paper's.
func (f frame) sides(s Sides) Sides {
	if !f.swap {
		return s
	}
	return s>>2&3 | s&3<<2
}

// newField sets r, whose cut sides are open, into f.
func newField(r Region, f frame, open Sides) *field {
	d := &field{frame: f, x0: math.Inf(1), y0: math.Inf(1), x1: math.Inf(-1), y1: math.Inf(-1)}
	paper := [4]float64{math.Inf(1), math.Inf(-1), math.Inf(1), math.Inf(-1)}
	for _, p := range r.Outer {
		paper[0], paper[1] = min(paper[0], p.X), max(paper[1], p.X)
		paper[2], paper[3] = min(paper[2], p.Y), max(paper[3], p.Y)
		q := f.in(p)
		d.x0, d.x1 = min(d.x0, q.X), max(d.x1, q.X)
		d.y0, d.y1 = min(d.y0, q.Y), max(d.y1, q.Y)
	}
	d.open = f.sides(open)
	if !f.turned && len(r.Holes) == 0 && isRect(r.Outer) {
		d.rect = true
		return d
	}
	n := len(r.Outer)
	for _, h := range r.Holes {
		n += len(h)
	}
	d.edges = make([]edge, 0, n)
	ring := func(pts []Point, outer bool) {
		for i, b := range pts {
			a := pts[(i+len(pts)-1)%len(pts)]
			if a == b {
				continue
			}
			cut := outer && open != 0 && (open&SideLeft != 0 && near(a.X, b.X, paper[0]) ||
				open&SideRight != 0 && near(a.X, b.X, paper[1]) ||
				open&SideTop != 0 && near(a.Y, b.Y, paper[2]) ||
				open&SideBottom != 0 && near(a.Y, b.Y, paper[3]))
			d.edges = append(d.edges, edge{f.in(a), f.in(b), cut})
		}
	}
	ring(r.Outer, true)
	for _, h := range r.Holes {
		ring(h, false)
	}
	return d
}

func near(a, b, side float64) bool {
	return math.Abs(a-side) <= onSide && math.Abs(b-side) <= onSide
}

func isRect(p []Point) bool {
	return len(p) == 4 &&
		(p[0].Y == p[1].Y && p[1].X == p[2].X && p[2].Y == p[3].Y && p[3].X == p[0].X ||
			p[0].X == p[1].X && p[1].Y == p[2].Y && p[2].X == p[3].X && p[3].Y == p[0].Y)
}

// inside reports whether (x, y) is in d.
func (d *field) inside(x, y float64) bool {
	if x < d.x0 || x > d.x1 || y < d.y0 || y > d.y1 {
		return false
	}
	if d.rect {
		return true
	}
	in := false
	for i := range d.edges {
		a, b := &d.edges[i].a, &d.edges[i].b
		if (a.Y > y) != (b.Y > y) && x < (b.X-a.X)*(y-a.Y)/(b.Y-a.Y)+a.X {
			in = !in
		}
	}
	return in
}

// reach returns how far (x, y), which is in d, is from the nearest face and
// from the nearest edge of any kind, mm. Without a face, the first is infinite.
func (d *field) reach(x, y float64) (face, any float64) {
	if d.rect {
		l, r, t, b := x-d.x0, d.x1-x, y-d.y0, d.y1-y
		any = min(l, r, t, b)
		face = math.Inf(1)
		if d.open&SideLeft == 0 {
			face = l
		}
		if d.open&SideRight == 0 {
			face = min(face, r)
		}
		if d.open&SideTop == 0 {
			face = min(face, t)
		}
		if d.open&SideBottom == 0 {
			face = min(face, b)
		}
		return face, any
	}
	face, any = math.Inf(1), math.Inf(1)
	for i := range d.edges {
		e := &d.edges[i]
		s := segmentDistance2(x, y, e.a, e.b)
		any = min(any, s)
		if !e.open {
			face = min(face, s)
		}
	}
	return math.Sqrt(face), math.Sqrt(any)
}

func segmentDistance2(x, y float64, a, b Point) float64 {
	dx, dy := b.X-a.X, b.Y-a.Y
	t := ((x-a.X)*dx + (y-a.Y)*dy) / (dx*dx + dy*dy)
	t = min(max(t, 0), 1)
	dx, dy = a.X+t*dx-x, a.Y+t*dy-y
	return dx*dx + dy*dy
}

// disc reports whether the disc about (x, y) of radius r is wholly in d.
func (d *field) disc(x, y, r float64) bool {
	if d.rect {
		return x-r >= d.x0 && x+r <= d.x1 && y-r >= d.y0 && y+r <= d.y1
	}
	if !d.inside(x, y) {
		return false
	}
	_, any := d.reach(x, y)
	return any >= r
}

// area bounds the area of d, mm².
func (d *field) area() float64 { return (d.x1 - d.x0) * (d.y1 - d.y0) }
