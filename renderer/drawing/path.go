package drawing

import "math"

// Move starts a new stretch of p at (x, y).
func (p *Path) Move(x, y float64) *Path {
	p.Segs = append(p.Segs, Seg{Op: MoveTo, P: [3]Point{{x, y}}})
	return p
}

// Line continues p to (x, y).
func (p *Path) Line(x, y float64) *Path {
	p.Segs = append(p.Segs, Seg{Op: LineTo, P: [3]Point{{x, y}}})
	return p
}

// Curve continues p to e by a cubic with control points c and d.
func (p *Path) Curve(c, d, e Point) *Path {
	p.Segs = append(p.Segs, Seg{Op: CurveTo, P: [3]Point{c, d, e}})
	return p
}

// Arc continues p to e on a circle of radius r mm: the larger of the two arcs
// where large, turning clockwise on paper where sweep.
func (p *Path) Arc(r float64, large, sweep bool, e Point) *Path {
	p.Segs = append(p.Segs, Seg{Op: ArcTo, P: [3]Point{e}, R: r, Large: large, Sweep: sweep})
	return p
}

// Shut closes the current stretch of p.
func (p *Path) Shut() *Path {
	p.Segs = append(p.Segs, Seg{Op: Close})
	return p
}

// Rect adds the closed rectangle between two opposite corners to p.
func (p *Path) Rect(x0, y0, x1, y1 float64) *Path {
	return p.Move(x0, y0).Line(x1, y0).Line(x1, y1).Line(x0, y1).Shut()
}

// Polyline adds the open line through pts to p.
func (p *Path) Polyline(pts ...Point) *Path {
	for i, q := range pts {
		if i == 0 {
			p.Move(q.X, q.Y)
		} else {
			p.Line(q.X, q.Y)
		}
	}
	return p
}

// Polygon adds the closed line through pts to p.
func (p *Path) Polygon(pts ...Point) *Path { return p.Polyline(pts...).Shut() }

// Box is an upright rectangle on paper, mm. Its zero value is empty.
type Box struct {
	Min, Max Point
	full     bool
}

// Empty reports whether nothing was added to b.
func (b Box) Empty() bool { return !b.full }

// Width and Height are b's sides, mm; 0 if empty.
func (b Box) Width() float64  { return b.Max.X - b.Min.X }
func (b Box) Height() float64 { return b.Max.Y - b.Min.Y }

// Add widens b to hold (x, y).
func (b *Box) Add(x, y float64) {
	if !b.full {
		*b = Box{Point{x, y}, Point{x, y}, true}
		return
	}
	b.Min.X, b.Max.X = min(b.Min.X, x), max(b.Max.X, x)
	b.Min.Y, b.Max.Y = min(b.Min.Y, y), max(b.Max.Y, y)
}

// Join widens b to hold c.
func (b *Box) Join(c Box) {
	if c.full {
		b.Add(c.Min.X, c.Min.Y)
		b.Add(c.Max.X, c.Max.Y)
	}
}

// Overlaps reports whether b and c share more than an edge.
func (b Box) Overlaps(c Box) bool {
	return b.full && c.full && b.Min.X < c.Max.X && c.Min.X < b.Max.X && b.Min.Y < c.Max.Y && c.Min.Y < b.Max.Y
}

// Text heights, parts of the font size: what the faces' capitals and
// descenders reach, rounded up to hold both faces.
const (
	ascent  = 0.75
	descent = 0.22
)

// Bounds returns the box that holds what n draws, mm, in the coordinates n
// stands in: pens and casings excluded, curves by their control points (never
// less than the curve). A *Use is empty: what it draws stands elsewhere.
func Bounds(n Node) Box {
	var b Box
	bounds(n, Point{}, &b)
	return b
}

func bounds(n Node, shift Point, b *Box) {
	switch n := n.(type) {
	case *Group:
		shift.X += n.Shift.X
		shift.Y += n.Shift.Y
		if n.Clip == nil {
			for _, c := range n.Nodes {
				bounds(c, shift, b)
			}
			return
		}
		var in, clip Box
		for _, c := range n.Nodes {
			bounds(c, shift, &in)
		}
		bounds(n.Clip, shift, &clip)
		if in.Overlaps(clip) {
			b.Add(max(in.Min.X, clip.Min.X), max(in.Min.Y, clip.Min.Y))
			b.Add(min(in.Max.X, clip.Max.X), min(in.Max.Y, clip.Max.Y))
		}
	case *Path:
		if len(n.Again) == 0 {
			pathBounds(n, shift, b)
			return
		}
		var own Box
		pathBounds(n, shift, &own)
		b.Join(own)
		for _, a := range n.Again {
			b.Add(own.Min.X+a.X, own.Min.Y+a.Y)
			b.Add(own.Max.X+a.X, own.Max.Y+a.Y)
		}
	case *Circle:
		b.Add(shift.X+n.Center.X-n.R, shift.Y+n.Center.Y-n.R)
		b.Add(shift.X+n.Center.X+n.R, shift.Y+n.Center.Y+n.R)
	case *Text:
		textBounds(n, shift, b)
	}
}

func pathBounds(p *Path, shift Point, b *Box) {
	var from Point
	for i := range p.Segs {
		s := &p.Segs[i]
		switch s.Op {
		case MoveTo, LineTo, Dot:
			from = s.P[0]
			b.Add(shift.X+from.X, shift.Y+from.Y)
		case CurveTo:
			for _, q := range s.P {
				b.Add(shift.X+q.X, shift.Y+q.Y)
			}
			from = s.P[2]
		case ArcTo:
			arcBounds(from, s, shift, b)
			from = s.P[0]
		}
	}
}

// arcBounds adds the end of an arc and those of its extreme points that lie
// on it.
func arcBounds(from Point, s *Seg, shift Point, b *Box) {
	end := s.P[0]
	b.Add(shift.X+end.X, shift.Y+end.Y)
	c, r, start, turn := ArcCenter(from, s)
	for k := range 4 {
		a := float64(k) * math.Pi / 2
		d := math.Mod(a-start, 2*math.Pi)
		if turn > 0 && d < 0 {
			d += 2 * math.Pi
		}
		if turn < 0 && d > 0 {
			d -= 2 * math.Pi
		}
		if math.Abs(d) <= math.Abs(turn) {
			b.Add(shift.X+c.X+r*math.Cos(a), shift.Y+c.Y+r*math.Sin(a))
		}
	}
}

// ArcCenter returns the circle of an ArcTo that starts at from: its center,
// its radius (made just large enough where s.R is too small to reach, as SVG
// does), the angle of its start and the signed angle it turns through, in
// radians, positive clockwise on paper.
func ArcCenter(from Point, s *Seg) (c Point, r, start, turn float64) {
	end := s.P[0]
	dx, dy := end.X-from.X, end.Y-from.Y
	half := math.Hypot(dx, dy) / 2
	r = max(s.R, half)
	if half == 0 {
		return from, r, 0, 0
	}
	h := math.Sqrt(max(r*r-half*half, 0)) / (2 * half)
	if s.Large == s.Sweep {
		h = -h
	}
	c = Point{(from.X+end.X)/2 - dy*h, (from.Y+end.Y)/2 + dx*h}
	start = math.Atan2(from.Y-c.Y, from.X-c.X)
	turn = math.Atan2(end.Y-c.Y, end.X-c.X) - start
	if s.Sweep && turn < 0 {
		turn += 2 * math.Pi
	}
	if !s.Sweep && turn > 0 {
		turn -= 2 * math.Pi
	}
	return c, r, start, turn
}

func textBounds(t *Text, shift Point, b *Box) {
	w := t.Width()
	x := 0.0
	switch t.Anchor {
	case Middle:
		x = -w / 2
	case End:
		x = -w
	}
	sin, cos := math.Sincos(t.Turn * math.Pi / 180)
	for _, q := range [...]Point{{x, -ascent * t.Size}, {x + w, -ascent * t.Size}, {x, descent * t.Size}, {x + w, descent * t.Size}} {
		// counter-clockwise on paper, where y runs down
		b.Add(shift.X+t.At.X+q.X*cos+q.Y*sin, shift.Y+t.At.Y-q.X*sin+q.Y*cos)
	}
}
