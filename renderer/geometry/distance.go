package geometry

import "math"

// Vec is a place or direction in floats, µm: for distances and drawing, never
// for a predicate.
type Vec struct{ X, Y float64 }

// Vec returns p in floats.
func (p Point) Vec() Vec { return Vec{float64(p.X), float64(p.Y)} }

// Distance returns the distance of two points, µm.
func (p Point) Distance(q Point) float64 {
	return math.Hypot(float64(p.X-q.X), float64(p.Y-q.Y))
}

// Nearest returns the place on the closed segment a–b nearest to p, and its
// distance, µm. Float error is below 1e-6 µm within [Limit].
func Nearest(p, a, b Vec) (Vec, float64) {
	dx, dy := b.X-a.X, b.Y-a.Y
	l := dx*dx + dy*dy
	t := 0.0
	if l > 0 {
		t = math.Min(1, math.Max(0, ((p.X-a.X)*dx+(p.Y-a.Y)*dy)/l))
	}
	q := Vec{a.X + t*dx, a.Y + t*dy}
	return q, math.Hypot(p.X-q.X, p.Y-q.Y)
}

// SegmentDistance returns the least distance of two closed segments, µm, and
// the places where it is taken. Segments that share a point have distance 0
// there. Parallel segments take the middle of the stretch they share.
func SegmentDistance(a, b, c, d Point) (p, q Vec, dist float64) {
	if segmentsMeet(a, b, c, d) {
		if x, ok := crossing(a, b, c, d); ok {
			return x.Vec(), x.Vec(), 0
		}
		for _, e := range [...]Point{a, b} {
			if OnSegment(e, c, d) {
				return e.Vec(), e.Vec(), 0
			}
		}
		return c.Vec(), c.Vec(), 0
	}
	if u, v := b.Sub(a), d.Sub(c); Cross(u, v) == 0 && u != (Point{}) && v != (Point{}) {
		l := math.Hypot(float64(u.X), float64(u.Y))
		ux, uy := float64(u.X)/l, float64(u.Y)/l
		s := float64(c.X-a.X)*ux + float64(c.Y-a.Y)*uy
		t := float64(d.X-a.X)*ux + float64(d.Y-a.Y)*uy
		lo, hi := math.Max(0, math.Min(s, t)), math.Min(l, math.Max(s, t))
		if lo < hi {
			m := (lo + hi) / 2
			p = Vec{float64(a.X) + ux*m, float64(a.Y) + uy*m}
			q, dist = Nearest(p, c.Vec(), d.Vec())
			return p, q, dist
		}
	}
	dist = math.Inf(1)
	try := func(from, to Vec, swap bool, l float64) {
		if l < dist {
			dist, p, q = l, from, to
			if swap {
				p, q = to, from
			}
		}
	}
	for _, e := range [...]Point{c, d} {
		n, l := Nearest(e.Vec(), a.Vec(), b.Vec())
		try(n, e.Vec(), false, l)
	}
	for _, e := range [...]Point{a, b} {
		n, l := Nearest(e.Vec(), c.Vec(), d.Vec())
		try(n, e.Vec(), true, l)
	}
	return p, q, dist
}
