package heatflow

// part gives parts of the section that touch at a point alone a point each: no
// heat passes through a point, and no mesh round one would ever be fine enough.
func (m *mesh) part() {
	leave := make([]int, len(m.p)) // sides of the rim that leave each point: one for each part there
	touches := false
	for t := range m.tri {
		for i, u := range m.tri[t].n {
			if u < 0 {
				v := m.tri[t].v[after(int32(i))]
				leave[v]++
				touches = touches || leave[v] > 1
			}
		}
	}
	if !touches {
		return
	}
	for t := range m.tri {
		for i := range int32(3) {
			v := m.tri[t].v[after(i)]
			if m.tri[t].n[i] >= 0 || int(v) >= len(leave) || leave[v] < 2 {
				continue
			}
			leave[v]-- // the last part keeps the point
			m.p = append(m.p, m.p[v])
			m.rename(int32(t), v, int32(len(m.p)-1))
		}
	}
}

// rename calls point v by the name w in the triangles round it that hang
// together, from t, whose side that leaves v is of the rim.
func (m *mesh) rename(t, v, w int32) {
	for t >= 0 {
		tr := &m.tri[t]
		k := m.corner(t, v)
		for _, s := range [2]int32{tr.s[after(k)], tr.s[before(k)]} {
			if s < 0 {
				continue
			}
			if g := &m.seg[s]; g.a == v {
				g.a = w
			} else if g.b == v {
				g.b = w
			}
		}
		tr.v[k] = w
		t = tr.n[after(k)]
	}
}
