package section

import (
	"math"

	"wythe/renderer/geometry"
	"wythe/renderer/units"
)

// nm is a coordinate in nanometres.
type nm int64

// nanometres rounds a length to the nanometre.
func nanometres(l units.Length) nm { return nm(math.Round(float64(l) * 1e9)) }

// micrometres rounds to the micrometre, halves up.
func (n nm) micrometres() int64 {
	m := n + 500
	q := int64(m / 1000)
	if m%1000 < 0 {
		q--
	}
	return q
}

// axis is what a number measures.
type axis int

const (
	across axis = iota // x
	upward             // y
)

func (a axis) other() axis { return 1 - a }

// vec is a place in floats, nm.
type vec struct{ x, y float64 }

// line is where a side lies: plumb (x = at), level (y = at), or slanting
// through p along d.
type line struct {
	slant bool
	axis  axis // across: plumb; upward: level
	at    nm
	p, d  vec
	// reach is the side's farthest corner, where a pitched part's end slants.
	reach   nm
	reaches bool
}

func straight(a axis, at nm) line { return line{axis: a, at: at} }

// through is the slanting line through p along d; a level or plumb d gives a
// straight line.
func through(p, d vec) line {
	if d.y == 0 {
		return straight(upward, nm(math.Round(p.y)))
	}
	if d.x == 0 {
		return straight(across, nm(math.Round(p.x)))
	}
	return line{slant: true, p: p, d: d}
}

// point and direction of any line.
func (l line) form() (p, d vec) {
	switch {
	case l.slant:
		return l.p, l.d
	case l.axis == across:
		return vec{float64(l.at), 0}, vec{0, 1}
	}
	return vec{0, float64(l.at)}, vec{1, 0}
}

// shifted moves the line by n along an axis.
func (l line) shifted(a axis, n nm) line {
	switch {
	case l.slant && a == across:
		l.p.x += float64(n)
		l.reach += n
	case l.slant:
		l.p.y += float64(n)
	case l.axis == a:
		l.at += n
	}
	return l
}

// at returns where a slanting or straight line stands on axis a at the place
// on the other axis. ok is false where it runs along a.
func (l line) where(a axis, place float64) (float64, bool) {
	p, d := l.form()
	if a == across {
		if d.y == 0 {
			return 0, false
		}
		return p.x + (place-p.y)*d.x/d.y, true
	}
	if d.x == 0 {
		return 0, false
	}
	return p.y + (place-p.x)*d.y/d.x, true
}

// meet returns where two lines cross; ok is false where they are parallel.
func meet(a, b line) (vec, bool) {
	if !a.slant && !b.slant {
		switch {
		case a.axis == b.axis:
			return vec{}, false
		case a.axis == across:
			return vec{float64(a.at), float64(b.at)}, true
		}
		return vec{float64(b.at), float64(a.at)}, true
	}
	p, d := a.form()
	q, e := b.form()
	den := d.x*e.y - d.y*e.x
	if math.Abs(den) < 1e-12*math.Hypot(d.x, d.y)*math.Hypot(e.x, e.y) {
		return vec{}, false
	}
	// A level or plumb line keeps its own coordinate exact.
	t := ((q.x-p.x)*e.y - (q.y-p.y)*e.x) / den
	m := vec{p.x + t*d.x, p.y + t*d.y}
	for _, l := range [...]line{a, b} {
		if !l.slant && l.axis == across {
			m.x = float64(l.at)
		}
		if !l.slant && l.axis == upward {
			m.y = float64(l.at)
		}
	}
	return m, true
}

// round gives the place in whole micrometres.
func (v vec) round() geometry.Point {
	return geometry.Point{X: nm(math.Round(v.x)).micrometres(), Y: nm(math.Round(v.y)).micrometres()}
}

// halfPlane keeps the side of l that lies towards keep.
type halfPlane struct {
	l    line
	keep vec
}

// clipAll returns the convex polygon common to the half-planes, within
// ±half a metre beyond the limit of coordinates.
func clipAll(planes []halfPlane) []vec {
	const far = float64(geometry.Limit) * 1000
	poly := []vec{{-far, -far}, {far, -far}, {far, far}, {-far, far}}
	for _, h := range planes {
		p, d := h.l.form()
		s := d.x*h.keep.y - d.y*h.keep.x // positive: keep lies to the left of d
		side := func(v vec) float64 {
			z := (v.y-p.y)*d.x - (v.x-p.x)*d.y
			if s < 0 {
				return -z
			}
			return z
		}
		var out []vec
		for i, a := range poly {
			b := poly[(i+1)%len(poly)]
			sa, sb := side(a), side(b)
			if sa >= 0 {
				out = append(out, a)
			}
			if sa < 0 && sb > 0 || sa > 0 && sb < 0 {
				if m, ok := meet(h.l, through2(a, b)); ok {
					out = append(out, m)
				}
			}
		}
		poly = out
	}
	return poly
}

// through2 is the line through two places; a straight one where they share a
// coordinate to the nanometre.
func through2(a, b vec) line { return through(a, vec{b.x - a.x, b.y - a.y}) }
