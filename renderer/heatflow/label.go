package heatflow

// sides of an edge of the section: which region lies left and right of it,
// −1 outside.
type sides struct{ left, right int32 }

// triangulate lays points and edges out as a mesh whose triangles know their
// region; what lies outside is dropped. Edges meet at points only.
func triangulate(points []pt, ends [][2]int32, of []sides) *mesh {
	lo, hi := points[0], points[0]
	for _, p := range points {
		lo.x, lo.y = min(lo.x, p.x), min(lo.y, p.y)
		hi.x, hi.y = max(hi.x, p.x), max(hi.y, p.y)
	}
	m := newMesh(lo, hi)
	index := make([]int32, len(points))
	for i, p := range points {
		index[i] = m.add(p)
	}
	for e, v := range ends {
		m.constrain(index[v[0]], index[v[1]], int32(e))
	}
	m.label(of)
	return m.inner()
}

// label floods the regions from the segments into the triangles.
func (m *mesh) label(of []sides) {
	known := make([]bool, len(m.tri))
	var front []int32
	for t := range m.tri {
		for i := range int32(3) {
			if s := m.tri[t].s[i]; s >= 0 {
				r := of[m.seg[s].edge].right
				if m.tri[t].v[after(i)] == m.seg[s].a {
					r = of[m.seg[s].edge].left
				}
				m.tri[t].region, known[t] = r, true
			}
		}
		if known[t] {
			front = append(front, int32(t))
		}
	}
	for len(front) > 0 {
		t := front[len(front)-1]
		front = front[:len(front)-1]
		for i := range 3 {
			if u := m.tri[t].n[i]; u >= 0 && m.tri[t].s[i] < 0 && !known[u] {
				m.tri[u].region, known[u] = m.tri[t].region, true
				front = append(front, u)
			}
		}
	}
}

// inner returns the mesh without the triangles outside the section.
func (m *mesh) inner() *mesh {
	young := make([]int32, len(m.tri))
	out := &mesh{seg: m.seg}
	points := make([]int32, len(m.p))
	for i := range points {
		points[i] = -1
	}
	for t := range m.tri {
		young[t] = -1
		if m.tri[t].region < 0 {
			continue
		}
		young[t] = int32(len(out.tri))
		tr := m.tri[t]
		for i, v := range tr.v {
			if points[v] < 0 {
				points[v] = int32(len(out.p))
				out.p = append(out.p, m.p[v])
			}
			tr.v[i] = points[v]
		}
		out.tri = append(out.tri, tr)
	}
	for t := range out.tri {
		for i, u := range out.tri[t].n {
			if u >= 0 {
				out.tri[t].n[i] = young[u]
			}
		}
	}
	for s := range out.seg {
		out.seg[s].a, out.seg[s].b = points[out.seg[s].a], points[out.seg[s].b]
	}
	out.part()
	return out
}
