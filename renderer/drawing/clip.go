package drawing

import (
	"math"
	"slices"
)

// stroke collects one path of a hatch, in paper mm.
type stroke struct {
	frame frame
	segs  []Seg
}

func (s *stroke) move(x, y float64) {
	p := s.frame.out(Point{x, y})
	s.segs = append(s.segs, Seg{Op: MoveTo, P: [3]Point{p}})
}

func (s *stroke) line(x, y float64) {
	p := s.frame.out(Point{x, y})
	s.segs = append(s.segs, Seg{Op: LineTo, P: [3]Point{p}})
}

// dot is a point as wide as the pen.
func (s *stroke) dot(x, y float64) {
	s.segs = append(s.segs, Seg{Op: Dot, P: [3]Point{s.frame.out(Point{x, y})}})
}

// segment draws a line from a to b.
func (s *stroke) segment(a, b Point) {
	s.move(a.X, a.Y)
	s.line(b.X, b.Y)
}

// shortest is the length under which a clipped piece is left out, mm: less
// than a pen is wide.
const shortest = 0.12

// clipSegment draws the parts of the line from a to b that lie in d.
func (s *stroke) clipSegment(d *field, a, b Point) {
	if d.rect {
		if a, b, ok := d.clipRect(a, b); ok {
			s.segment(a, b)
		}
		return
	}
	var few [8]float64
	ts := d.cuts(few[:0], a, b)
	length := math.Hypot(b.X-a.X, b.Y-a.Y)
	at := func(t float64) Point { return Point{a.X + t*(b.X-a.X), a.Y + t*(b.Y-a.Y)} }
	for i := 0; i+1 < len(ts); i++ {
		if (ts[i+1]-ts[i])*length < shortest {
			continue
		}
		if m := at((ts[i] + ts[i+1]) / 2); d.inside(m.X, m.Y) {
			s.segment(at(ts[i]), at(ts[i+1]))
		}
	}
}

// cuts appends to ts, sorted, 0, 1 and where the line from a to b crosses an
// edge of d.
func (d *field) cuts(ts []float64, a, b Point) []float64 {
	ts = append(ts, 0, 1)
	dx, dy := b.X-a.X, b.Y-a.Y
	for i := range d.edges {
		p, q := &d.edges[i].a, &d.edges[i].b
		ex, ey := q.X-p.X, q.Y-p.Y
		det := dx*ey - dy*ex
		if det == 0 {
			continue
		}
		t := ((p.X-a.X)*ey - (p.Y-a.Y)*ex) / det
		u := ((p.X-a.X)*dy - (p.Y-a.Y)*dx) / det
		if t > 0 && t < 1 && u >= 0 && u <= 1 {
			ts = append(ts, t)
		}
	}
	slices.Sort(ts)
	return ts
}

// clipRect cuts the line from a to b to a rectangular field.
func (d *field) clipRect(a, b Point) (Point, Point, bool) {
	t0, t1 := 0.0, 1.0
	dx, dy := b.X-a.X, b.Y-a.Y
	for _, c := range [...][2]float64{{-dx, a.X - d.x0}, {dx, d.x1 - a.X}, {-dy, a.Y - d.y0}, {dy, d.y1 - a.Y}} {
		switch p, q := c[0], c[1]; {
		case p == 0:
			if q < 0 {
				return a, b, false
			}
		case p < 0:
			t0 = max(t0, q/p)
		default:
			t1 = min(t1, q/p)
		}
	}
	if (t1-t0)*math.Hypot(dx, dy) < shortest {
		return a, b, false
	}
	from, to := a, b
	if t0 > 0 {
		from = Point{a.X + t0*dx, a.Y + t0*dy}
	}
	if t1 < 1 {
		to = Point{a.X + t1*dx, a.Y + t1*dy}
	}
	return from, to, true
}

// clipArc draws the parts of a circle's arc that lie in d: from angle start,
// turning by turn (radians, positive from x to y). join continues the path
// where it ends at the arc's start.
func (s *stroke) clipArc(d *field, c Point, r, start, turn float64, join bool) {
	at := func(t float64) Point {
		sin, cos := math.Sincos(start + t*turn)
		return Point{c.X + r*cos, c.Y + r*sin}
	}
	if d.disc(c.X, c.Y, r) {
		s.arc(c, r, start, turn, 0, 1, join)
		return
	}
	var few [16]float64
	ts := append(few[:0], 0, 1)
	cross := func(p, q Point) {
		ex, ey := q.X-p.X, q.Y-p.Y
		fx, fy := p.X-c.X, p.Y-c.Y
		qa, qb, qc := ex*ex+ey*ey, fx*ex+fy*ey, fx*fx+fy*fy-r*r
		disc := qb*qb - qa*qc
		if disc <= 0 {
			return
		}
		for _, root := range [...]float64{(-qb - math.Sqrt(disc)) / qa, (-qb + math.Sqrt(disc)) / qa} {
			if root < 0 || root > 1 {
				continue
			}
			a := math.Atan2(fy+root*ey, fx+root*ex) - start
			if turn < 0 {
				a = -a
			}
			a = math.Mod(a+4*math.Pi, 2*math.Pi)
			if t := a / math.Abs(turn); t > 0 && t < 1 {
				ts = append(ts, t)
			}
		}
	}
	if d.rect {
		cross(Point{d.x0, d.y0}, Point{d.x1, d.y0})
		cross(Point{d.x1, d.y0}, Point{d.x1, d.y1})
		cross(Point{d.x1, d.y1}, Point{d.x0, d.y1})
		cross(Point{d.x0, d.y1}, Point{d.x0, d.y0})
	} else {
		for i := range d.edges {
			cross(d.edges[i].a, d.edges[i].b)
		}
	}
	slices.Sort(ts)
	for i := 0; i+1 < len(ts); i++ {
		if (ts[i+1]-ts[i])*math.Abs(turn)*r < shortest {
			continue
		}
		if m := at((ts[i] + ts[i+1]) / 2); d.inside(m.X, m.Y) {
			s.arc(c, r, start, turn, ts[i], ts[i+1], join && i == 0)
		}
	}
}

// arc draws the part from t0 to t1 of an arc.
func (s *stroke) arc(c Point, r, start, turn, t0, t1 float64, join bool) {
	sin0, cos0 := math.Sincos(start + t0*turn)
	sin1, cos1 := math.Sincos(start + t1*turn)
	if !join {
		s.move(c.X+r*cos0, c.Y+r*sin0)
	}
	s.segs = append(s.segs, Seg{
		Op: ArcTo, P: [3]Point{s.frame.out(Point{c.X + r*cos1, c.Y + r*sin1})}, R: r,
		Large: math.Abs((t1-t0)*turn) > math.Pi,
		Sweep: (turn > 0) != s.frame.swap,
	})
}

// clipPolyline draws the parts of the line through pts that lie in d.
func (s *stroke) clipPolyline(d *field, pts []Point) {
	drawn := false // the path ends at pts[i]
	for i := 0; i+1 < len(pts); i++ {
		a, b := pts[i], pts[i+1]
		if d.rect {
			p, q, ok := d.clipRectExact(a, b)
			if !ok {
				drawn = false
				continue
			}
			if !drawn || p != a {
				s.move(p.X, p.Y)
			}
			s.line(q.X, q.Y)
			drawn = q == b
			continue
		}
		var few [8]float64
		ts := d.cuts(few[:0], a, b)
		for k := 0; k+1 < len(ts); k++ {
			m := (ts[k] + ts[k+1]) / 2
			if ts[k+1] == ts[k] || !d.inside(a.X+m*(b.X-a.X), a.Y+m*(b.Y-a.Y)) {
				drawn = false
				continue
			}
			if !drawn {
				s.move(a.X+ts[k]*(b.X-a.X), a.Y+ts[k]*(b.Y-a.Y))
			}
			s.line(a.X+ts[k+1]*(b.X-a.X), a.Y+ts[k+1]*(b.Y-a.Y))
			drawn = true
		}
	}
}

// clipRectExact is clipRect for pieces of any length.
func (d *field) clipRectExact(a, b Point) (Point, Point, bool) {
	if d.inside(a.X, a.Y) && d.inside(b.X, b.Y) {
		return a, b, true
	}
	t0, t1 := 0.0, 1.0
	dx, dy := b.X-a.X, b.Y-a.Y
	for _, c := range [...][2]float64{{-dx, a.X - d.x0}, {dx, d.x1 - a.X}, {-dy, a.Y - d.y0}, {dy, d.y1 - a.Y}} {
		switch p, q := c[0], c[1]; {
		case p == 0:
			if q < 0 {
				return a, b, false
			}
		case p < 0:
			t0 = max(t0, q/p)
		default:
			t1 = min(t1, q/p)
		}
	}
	if t1 <= t0 {
		return a, b, false
	}
	from, to := a, b
	if t0 > 0 {
		from = Point{a.X + t0*dx, a.Y + t0*dy}
	}
	if t1 < 1 {
		to = Point{a.X + t1*dx, a.Y + t1*dy}
	}
	return from, to, true
}

// clipLines draws parallel lines across d: at angle (radians, from x to y),
// pitch mm apart, each drawn by line, which gets a piece in d and the number
// of its line.
func (s *stroke) clipLines(d *field, angle, pitch, phase float64, line func(a, b Point, n int)) {
	sin, cos := math.Sincos(angle)
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, c := range [...]Point{{d.x0, d.y0}, {d.x1, d.y0}, {d.x1, d.y1}, {d.x0, d.y1}} {
		v := c.Y*cos - c.X*sin
		lo, hi = min(lo, v), max(hi, v)
	}
	long := d.x1 - d.x0 + d.y1 - d.y0
	cx, cy := (d.x0+d.x1)/2, (d.y0+d.y1)/2
	for n := int(math.Ceil((lo - phase) / pitch)); float64(n)*pitch+phase < hi; n++ {
		v := float64(n)*pitch + phase
		// the point of the line nearest the middle
		off := v - (cy*cos - cx*sin)
		m := Point{cx - off*sin, cy + off*cos}
		a, b := Point{m.X - long*cos, m.Y - long*sin}, Point{m.X + long*cos, m.Y + long*sin}
		if d.rect {
			if a, b, ok := d.clipRect(a, b); ok {
				line(a, b, n)
			}
			continue
		}
		var few [8]float64
		ts := d.cuts(few[:0], a, b)
		for i := 0; i+1 < len(ts); i++ {
			if (ts[i+1]-ts[i])*2*long < shortest {
				continue
			}
			t := (ts[i] + ts[i+1]) / 2
			if d.inside(a.X+t*(b.X-a.X), a.Y+t*(b.Y-a.Y)) {
				line(Point{a.X + ts[i]*(b.X-a.X), a.Y + ts[i]*(b.Y-a.Y)}, Point{a.X + ts[i+1]*(b.X-a.X), a.Y + ts[i+1]*(b.Y-a.Y)}, n)
			}
		}
	}
}
