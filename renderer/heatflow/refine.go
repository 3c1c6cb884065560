package heatflow

import "math"

// shape returns the squared edges opposite the corners and twice the area.
func (m *mesh) shape(t int32) (e [3]float64, area2 float64) {
	v := m.tri[t].v
	a, b, c := m.p[v[0]], m.p[v[1]], m.p[v[2]]
	e = [3]float64{square(b, c), square(c, a), square(a, b)}
	area2 = float64(b.x-a.x)*float64(c.y-a.y) - float64(b.y-a.y)*float64(c.x-a.x)
	return e, area2
}

func square(p, q pt) float64 {
	x, y := float64(p.x-q.x), float64(p.y-q.y)
	return x*x + y*y
}

// longest returns the corner opposite the longest edge of t and its square.
func (m *mesh) longest(t int32) (int32, float64) {
	v := &m.tri[t].v
	a, b, c := m.p[v[0]], m.p[v[1]], m.p[v[2]]
	i, e := int32(0), square(b, c)
	if f := square(c, a); f > e {
		i, e = 1, f
	}
	if f := square(a, b); f > e {
		i, e = 2, f
	}
	return i, e
}

// refine sets points into a mesh until it has what is wanted, or most points.
//
// Method: the edge that is the longest of both its triangles, found by going
// from a triangle across its longest edge as often as need be, is halved, and
// Delaunay is restored (Rivara 1997). Each cut halves an edge longer than the
// size asked for, so the process ends at any angle of the section; a cut that
// rounding would spoil is left out.
func (m *mesh) refine(w *wants, most int) {
	queue := make([]int32, 0, 4*len(m.tri))
	for t := range m.tri {
		for _, v := range m.tri[t].v {
			if !math.IsInf(w.point[v], 1) {
				queue = append(queue, int32(t))
				break
			}
		}
	}
	for k := 0; k < len(queue) && len(m.p) < most; k++ {
		t := queue[k]
		v := &m.tri[t].v
		want := min(w.point[v[0]], w.point[v[1]], w.point[v[2]])
		i, long := m.longest(t)
		if long <= want*want {
			continue
		}
		n := m.halveFrom(t, i, long, w)
		if n < 0 {
			continue
		}
		m.around(m.last, n, func(x, _ int32) bool {
			queue = append(queue, x)
			return true
		})
		queue = append(queue, t)
	}
	for _, s := range w.spots {
		for t := s.near; len(m.p) < most; {
			t, _, _ = m.locate(t, s.at, true)
			i, long := m.longest(t)
			if long <= s.size*s.size || m.halveFrom(t, i, long, w) < 0 {
				break
			}
		}
	}
}

// halveFrom halves the edge to which longest edges lead from t; −1: it could
// not be.
func (m *mesh) halveFrom(t, i int32, long float64, w *wants) int32 {
	t, i = m.terminal(t, i, long)
	a, b := m.tri[t].v[after(i)], m.tri[t].v[before(i)]
	length := math.Sqrt(square(m.p[a], m.p[b]))
	n := m.halveEdge(t, i)
	if n >= 0 {
		w.between(a, b, length)
	}
	return n
}

// terminal walks from t across longest edges to one that is the longest of
// both its triangles.
func (m *mesh) terminal(t, i int32, long float64) (int32, int32) {
	for {
		u := m.tri[t].n[i]
		if u < 0 {
			return t, i
		}
		j, far := m.longest(u)
		if far <= long {
			return t, i
		}
		t, i, long = u, j, far
	}
}

// halveEdge sets a point at the middle of the edge of t opposite corner i; −1:
// the edge is so short, or a triangle so flat, that rounding would turn it over.
func (m *mesh) halveEdge(t, i int32) int32 {
	a, b := m.p[m.tri[t].v[after(i)]], m.p[m.tri[t].v[before(i)]]
	at := pt{a.x + (b.x-a.x)/2, a.y + (b.y-a.y)/2}
	if !m.fits(t, i, at) {
		return -1
	}
	if u := m.tri[t].n[i]; u >= 0 && !m.fits(u, m.facing(u, t), at) {
		return -1
	}
	v := int32(len(m.p))
	m.p = append(m.p, at)
	m.splitEdge(t, i, v)
	return v
}

// fits reports whether a point on the edge opposite corner i cuts t in two
// triangles that turn left.
func (m *mesh) fits(t, i int32, at pt) bool {
	v := &m.tri[t].v
	return orient(m.p[v[i]], m.p[v[after(i)]], at) > 0 && orient(m.p[v[before(i)]], m.p[v[i]], at) > 0
}
