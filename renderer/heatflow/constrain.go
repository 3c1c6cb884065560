package heatflow

// constrain makes the segment a–b, which meets no other and passes no point,
// an edge of the mesh.
//
// Method: the edges it crosses are flipped where their quadrilateral is convex
// until none is left (Sloan 1993), then Delaunay is restored round it.
func (m *mesh) constrain(a, b, edge int32) {
	if t, i, ok := m.findEdge(a, b); ok {
		m.fix(t, i, a, b, edge)
		return
	}
	type pair struct{ v, w int32 }
	var crossed []pair
	t, i := m.towards(a, b)
	for {
		v, w := m.tri[t].v[after(i)], m.tri[t].v[before(i)]
		crossed = append(crossed, pair{v, w})
		u := m.tri[t].n[i]
		j := m.facing(u, t)
		apex := m.tri[u].v[j]
		if apex == b {
			break
		}
		// Leave u by the edge that the line crosses next.
		side := orient(m.p[a], m.p[b], m.p[apex])
		if side == 0 {
			panic("heatflow: a segment passes a point; its section is not noded")
		}
		if side == orient(m.p[a], m.p[b], m.p[v]) {
			t, i = u, m.corner(u, v)
		} else {
			t, i = u, m.corner(u, w)
		}
	}
	var made []pair
	for len(crossed) > 0 {
		c := crossed[0]
		crossed = crossed[1:]
		t, i, ok := m.findEdge(c.v, c.w)
		if !ok {
			panic("heatflow: an edge was lost while a segment was laid")
		}
		u := m.tri[t].n[i]
		apex, far := m.tri[t].v[i], m.tri[u].v[m.facing(u, t)]
		if orient(m.p[apex], m.p[far], m.p[c.v])*orient(m.p[apex], m.p[far], m.p[c.w]) >= 0 {
			crossed = append(crossed, c) // not convex yet
			continue
		}
		m.flip(t, i)
		if apex != a && apex != b && far != a && far != b &&
			orient(m.p[a], m.p[b], m.p[apex])*orient(m.p[a], m.p[b], m.p[far]) < 0 {
			crossed = append(crossed, pair{apex, far})
		} else if !(apex == a && far == b) && !(apex == b && far == a) {
			made = append(made, pair{apex, far})
		}
	}
	t, i, ok := m.findEdge(a, b)
	if !ok {
		panic("heatflow: a segment could not be laid")
	}
	m.fix(t, i, a, b, edge)
	for _, e := range made {
		if t, i, ok := m.findEdge(e.v, e.w); ok {
			m.todo = append(m.todo, flipEdge{t, i})
		}
	}
	m.legaliseAll()
}

// legaliseAll is legalise for edges that need not face the newest point.
func (m *mesh) legaliseAll() {
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
		for k := range int32(3) {
			m.todo = append(m.todo, flipEdge{t, k}, flipEdge{u, k})
		}
	}
}

// fix marks the edge opposite corner i of t as a segment.
func (m *mesh) fix(t, i, a, b, edge int32) {
	s := int32(len(m.seg))
	m.seg = append(m.seg, segment{a, b, edge})
	m.tri[t].s[i] = s
	if u := m.tri[t].n[i]; u >= 0 {
		m.tri[u].s[m.facing(u, t)] = s
	}
}

// at returns a triangle with corner v.
func (m *mesh) at(v int32) int32 {
	t, _, w := m.locate(m.last, m.p[v], false)
	if w != onPoint {
		panic("heatflow: a point is not in the mesh")
	}
	m.last = t
	return t
}

// findEdge returns the triangle and corner opposite the edge a–b.
func (m *mesh) findEdge(a, b int32) (t, i int32, ok bool) {
	m.around(m.at(a), a, func(u, k int32) bool {
		for j, w := range m.tri[u].v {
			if w == b {
				t, i, ok = u, 3-k-int32(j), true
				return false
			}
		}
		return true
	})
	return t, i, ok
}

// towards returns the triangle at a whose opposite edge the line to b crosses.
func (m *mesh) towards(a, b int32) (t, i int32) {
	found := false
	m.around(m.at(a), a, func(u, k int32) bool {
		v, w := m.tri[u].v[after(k)], m.tri[u].v[before(k)]
		ov, ow := orient(m.p[a], m.p[b], m.p[v]), orient(m.p[a], m.p[b], m.p[w])
		if ov < 0 && ow > 0 {
			t, i, found = u, k, true
			return false
		}
		return true
	})
	if !found {
		panic("heatflow: a segment leaves its point along another; its section is not noded")
	}
	return t, i
}
