package geometry

// Ring is a closed line; the last point joins the first.
type Ring []Point

// Area2 returns twice the signed area, µm², positive counter-clockwise.
// Exact within [Limit].
func (r Ring) Area2() int64 {
	if len(r) < 3 {
		return 0
	}
	o := r[0]
	var sum int64
	for i := 1; i+1 < len(r); i++ {
		sum += Cross(r[i].Sub(o), r[i+1].Sub(o))
	}
	return sum
}

// Bounds returns the ring's box.
func (r Ring) Bounds() Box {
	b := EmptyBox()
	for _, p := range r {
		b = b.Grow(p)
	}
	return b
}

// Reversed returns the ring run the other way.
func (r Ring) Reversed() Ring {
	out := make(Ring, len(r))
	for i, p := range r {
		out[len(r)-1-i] = p
	}
	return out
}

// Simple reports whether the ring neither crosses nor touches itself and
// encloses an area. Quadratic: for outlines an author wrote.
func (r Ring) Simple() bool {
	n := len(r)
	if n < 3 || r.Area2() == 0 {
		return false
	}
	for i := range n {
		a, b := r[i], r[(i+1)%n]
		if a == b {
			return false
		}
		for j := i + 1; j < n; j++ {
			c, d := r[j], r[(j+1)%n]
			switch {
			case j == i+1 || (i == 0 && j == n-1):
				// Neighbours share one end and must not fold back.
				if j == i+1 && OnSegment(d, a, b) || i == 0 && j == n-1 && OnSegment(c, a, b) {
					return false
				}
			case segmentsMeet(a, b, c, d):
				return false
			}
		}
	}
	return true
}

// segmentsMeet reports whether two closed segments share a point.
func segmentsMeet(a, b, c, d Point) bool {
	o1, o2 := Orient(a, b, c), Orient(a, b, d)
	o3, o4 := Orient(c, d, a), Orient(c, d, b)
	if o1*o2 < 0 && o3*o4 < 0 {
		return true
	}
	return OnSegment(c, a, b) || OnSegment(d, a, b) || OnSegment(a, c, d) || OnSegment(b, c, d)
}

// Place says where a point lies.
type Place int

const (
	Out Place = iota
	On
	In
)

// Locate says where p lies of the ring, exactly, by the even-odd rule.
func (r Ring) Locate(p Point) Place {
	in := false
	for i, a := range r {
		b := r[(i+1)%len(r)]
		if OnSegment(p, a, b) {
			return On
		}
		if (a.Y > p.Y) != (b.Y > p.Y) {
			if a.Y > b.Y {
				a, b = b, a
			}
			if Orient(a, b, p) > 0 {
				in = !in
			}
		}
	}
	if in {
		return In
	}
	return Out
}

// Polygon is a counter-clockwise outer ring with clockwise holes. Rings may
// touch themselves and each other in points.
type Polygon struct {
	Outer Ring
	Holes []Ring
}

// Area2 returns twice the area, µm².
func (p Polygon) Area2() int64 {
	a := p.Outer.Area2()
	for _, h := range p.Holes {
		a += h.Area2()
	}
	return a
}

// Bounds returns the polygon's box.
func (p Polygon) Bounds() Box { return p.Outer.Bounds() }

// Locate says where q lies of the polygon.
func (p Polygon) Locate(q Point) Place {
	if at := p.Outer.Locate(q); at != In {
		return at
	}
	for _, h := range p.Holes {
		switch h.Locate(q) {
		case On:
			return On
		case In:
			return Out
		}
	}
	return In
}
