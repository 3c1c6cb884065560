package heatflow

// mesh is a constrained Delaunay triangulation. Triangles turn left.
type mesh struct {
	p    []pt
	tri  []triangle
	seg  []segment // the constraints: pieces of edges of the section
	last int32     // where the next search starts
	todo []flipEdge
}

// triangle has, opposite each corner, the neighbour (−1: none) and the
// segment that runs there (−1: none).
type triangle struct {
	v, n, s [3]int32
	region  int32 // −1 outside the section
}

// segment is a piece of an edge of the section.
type segment struct {
	a, b int32 // points
	edge int32 // of the problem's edges: what it separates, what lies on it
}

type flipEdge struct{ t, i int32 } // the edge opposite corner i of triangle t

func after(i int32) int32  { return (i + 1) % 3 }
func before(i int32) int32 { return (i + 2) % 3 }

// newMesh returns the triangulation of one big triangle round a box.
func newMesh(lo, hi pt) *mesh {
	w := max(hi.x-lo.x, hi.y-lo.y) + 1
	m := &mesh{}
	m.p = append(m.p,
		pt{lo.x - 20*w, lo.y - 10*w},
		pt{hi.x + 20*w, lo.y - 10*w},
		pt{(lo.x + hi.x) / 2, hi.y + 20*w})
	m.tri = append(m.tri, triangle{v: [3]int32{0, 1, 2}, n: [3]int32{-1, -1, -1}, s: [3]int32{-1, -1, -1}, region: -1})
	return m
}

// corner returns which corner of t a point is.
func (m *mesh) corner(t, v int32) int32 {
	for i, w := range m.tri[t].v {
		if w == v {
			return int32(i)
		}
	}
	panic("heatflow: a point is no corner of its triangle")
}

// facing returns which corner of t lies opposite its neighbour u.
func (m *mesh) facing(t, u int32) int32 {
	for i, w := range m.tri[t].n {
		if w == u {
			return int32(i)
		}
	}
	panic("heatflow: two triangles do not know each other")
}

// join makes u, at its corner j, the neighbour of t opposite corner i.
func (m *mesh) join(t, i, u, j int32) {
	m.tri[t].n[i] = u
	if u >= 0 {
		m.tri[u].n[j] = t
	}
}

// where says what a search came upon.
type where int

const (
	inside  where = iota // strictly in the triangle
	onEdge               // on the edge opposite corner i
	onPoint              // on corner i
	blocked              // a segment, opposite corner i, or the rim lies in the way
)

// locate walks from triangle t towards a place. With stop it goes no further
// than the first segment in the way.
func (m *mesh) locate(t int32, at pt, stop bool) (int32, int32, where) {
	from := int32(-1)
	for range 4*len(m.tri) + 16 {
		tr := &m.tri[t]
		zero, zeros := int32(-1), 0
		moved := false
		for k := range int32(3) {
			i := (k + at32(at)) % 3 // a different first corner for each place: no walk in rings
			if tr.n[i] == from && from >= 0 {
				continue
			}
			switch orient(m.p[tr.v[after(i)]], m.p[tr.v[before(i)]], at) {
			case -1:
				if (stop && tr.s[i] >= 0) || tr.n[i] < 0 {
					return t, i, blocked
				}
				from, t, moved = t, tr.n[i], true
			case 0:
				zero = i
				zeros++
			}
			if moved {
				break
			}
		}
		if moved {
			continue
		}
		for i := range int32(3) {
			if m.p[tr.v[i]] == at {
				return t, i, onPoint
			}
		}
		if zeros > 0 {
			return t, zero, onEdge
		}
		return t, 0, inside
	}
	panic("heatflow: a search in the mesh did not end")
}

func at32(p pt) int32 { return int32(uint64(p.x*31+p.y) % 3) }

// add sets a point into the mesh and returns its index; a point that is
// already there is returned. region and segments are inherited.
func (m *mesh) add(at pt) int32 {
	t, i, w := m.locate(m.last, at, false)
	if w == onPoint {
		return m.tri[t].v[i]
	}
	v := int32(len(m.p))
	m.p = append(m.p, at)
	if w == onEdge {
		m.splitEdge(t, i, v)
	} else {
		m.splitTriangle(t, v)
	}
	return v
}

// splitTriangle sets v into t.
func (m *mesh) splitTriangle(t, v int32) {
	old := m.tri[t]
	t1, t2 := int32(len(m.tri)), int32(len(m.tri)+1)
	a, b, c := old.v[0], old.v[1], old.v[2]
	m.tri[t] = triangle{v: [3]int32{v, b, c}, n: [3]int32{old.n[0], t1, t2}, s: [3]int32{old.s[0], -1, -1}, region: old.region}
	m.tri = append(m.tri,
		triangle{v: [3]int32{a, v, c}, n: [3]int32{t, old.n[1], t2}, s: [3]int32{-1, old.s[1], -1}, region: old.region},
		triangle{v: [3]int32{a, b, v}, n: [3]int32{t, t1, old.n[2]}, s: [3]int32{-1, -1, old.s[2]}, region: old.region})
	m.tell(old.n[1], t, t1)
	m.tell(old.n[2], t, t2)
	m.last = t
	m.todo = append(m.todo, flipEdge{t, 0}, flipEdge{t1, 1}, flipEdge{t2, 2})
	m.legalise()
}

// tell says to triangle u that its neighbour old is now young.
func (m *mesh) tell(u, old, young int32) {
	if u >= 0 {
		m.tri[u].n[m.facing(u, old)] = young
	}
}

// splitEdge sets v on the edge of t opposite corner i, and splits the segment
// that runs there.
func (m *mesh) splitEdge(t, i, v int32) {
	u := m.tri[t].n[i]
	s := m.tri[t].s[i]
	s2 := int32(-1)
	a, b := m.tri[t].v[after(i)], m.tri[t].v[before(i)]
	if s >= 0 {
		// s keeps a's half, s2 takes b's.
		s2 = int32(len(m.seg))
		old := m.seg[s]
		half := segment{v, old.b, old.edge}
		if old.a == a {
			m.seg[s] = segment{a, v, old.edge}
		} else {
			half = segment{old.a, v, old.edge}
			m.seg[s] = segment{v, a, old.edge}
		}
		m.seg = append(m.seg, half)
	}
	t2 := m.halve(t, i, v, s, s2)
	if u >= 0 {
		j := m.facing(u, t)
		// In u the edge runs the other way: corner after j is b.
		u2 := m.halve(u, j, v, s2, s)
		// t keeps a–v, t2 has v–b; u keeps b–v, u2 has v–a.
		m.join(t, m.edgeOf(t, a, v), u2, m.edgeOf(u2, a, v))
		m.join(t2, m.edgeOf(t2, v, b), u, m.edgeOf(u, v, b))
	}
	m.last = t
	m.legalise()
}

// halve cuts t by the line from corner i to v on the opposite edge: t keeps
// the half with the corner after i, the other half is returned. first and
// second are the segments along the halves of the edge.
func (m *mesh) halve(t, i, v, first, second int32) int32 {
	old := m.tri[t]
	a, b, c := old.v[i], old.v[after(i)], old.v[before(i)]
	t2 := int32(len(m.tri))
	m.tri[t] = triangle{v: [3]int32{a, b, v}, n: [3]int32{-1, t2, old.n[before(i)]}, s: [3]int32{first, -1, old.s[before(i)]}, region: old.region}
	m.tri = append(m.tri, triangle{v: [3]int32{a, v, c}, n: [3]int32{-1, old.n[after(i)], t}, s: [3]int32{second, old.s[after(i)], -1}, region: old.region})
	m.tell(old.n[after(i)], t, t2)
	m.todo = append(m.todo, flipEdge{t, 2}, flipEdge{t2, 1})
	return t2
}

// edgeOf returns the corner of t opposite its edge a–b.
func (m *mesh) edgeOf(t, a, b int32) int32 {
	for i, w := range m.tri[t].v {
		if w != a && w != b {
			return int32(i)
		}
	}
	panic("heatflow: an edge is not of its triangle")
}

// legalise flips edges until all in question are Delaunay; segments stay.
func (m *mesh) legalise() {
	for len(m.todo) > 0 {
		e := m.todo[len(m.todo)-1]
		m.todo = m.todo[:len(m.todo)-1]
		t, i := e.t, e.i
		tr := &m.tri[t]
		u := tr.n[i]
		if u < 0 || tr.s[i] >= 0 {
			continue
		}
		j := m.facing(u, t)
		if inCircle(m.p[tr.v[0]], m.p[tr.v[1]], m.p[tr.v[2]], m.p[m.tri[u].v[j]]) <= 0 {
			continue
		}
		m.flip(t, i)
		// The far edges of u are in question: they face the point of t.
		v := m.tri[t].v[0]
		m.todo = append(m.todo, flipEdge{t, m.corner(t, v)}, flipEdge{u, m.corner(u, v)})
	}
}

// flip turns the edge opposite corner i of t. After it t and its old neighbour
// both have the old corner i, first in t.
func (m *mesh) flip(t, i int32) {
	u := m.tri[t].n[i]
	j := m.facing(u, t)
	p, q := m.tri[t], m.tri[u]
	a, b, c, d := p.v[i], p.v[after(i)], p.v[before(i)], q.v[j]
	// t = a b d, u = a d c
	nb, sb := p.n[before(i)], p.s[before(i)] // edge a–b
	nc, sc := p.n[after(i)], p.s[after(i)]   // edge c–a
	jb := after(j)                           // u's corner after d is c
	if q.v[jb] != c {
		jb = before(j)
	}
	jc := 3 - j - jb
	// opposite c in u: edge d–b; opposite b in u: edge c–d
	ndb, sdb := q.n[jb], q.s[jb]
	ncd, scd := q.n[jc], q.s[jc]
	m.tri[t] = triangle{v: [3]int32{a, b, d}, n: [3]int32{ndb, u, nb}, s: [3]int32{sdb, -1, sb}, region: p.region}
	m.tri[u] = triangle{v: [3]int32{a, d, c}, n: [3]int32{ncd, nc, t}, s: [3]int32{scd, sc, -1}, region: q.region}
	m.tell(ndb, u, t)
	m.tell(nc, t, u)
}

// around calls f with each triangle at point v and v's corner in it, until f
// returns false. start is any triangle at v.
func (m *mesh) around(start, v int32, f func(t, i int32) bool) {
	t := start
	for {
		i := m.corner(t, v)
		if !f(t, i) {
			return
		}
		t = m.tri[t].n[after(i)]
		if t == start {
			return
		}
		if t < 0 {
			break
		}
	}
	for t = m.tri[start].n[before(m.corner(start, v))]; t >= 0; {
		i := m.corner(t, v)
		if !f(t, i) {
			return
		}
		t = m.tri[t].n[before(i)]
	}
}
