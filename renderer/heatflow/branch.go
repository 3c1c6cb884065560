package heatflow

import "fmt"

// Where a space lies in a hole of the section, heat may run round no loop and
// yet leave the hole: the stream function then grows by that heat at each turn
// about the hole. A cut from the hole to another outline, across which it jumps,
// makes it one-valued.

// branch is a way along edges from one outline to another.
type branch struct{ path []int32 }

// loops returns for each side of the rim which loop of it it is of, and for
// each loop whether a surface lies on it.
func (g *grid) loops(m *model) (loop []int32, surface []bool) {
	loop = make([]int32, len(g.rim))
	at := make(map[[2]int32]int32, len(g.rim))
	for k, s := range g.rim {
		loop[k] = -1
		at[[2]int32{s.t, s.i}] = int32(k)
	}
	for k := range g.rim {
		if loop[k] >= 0 {
			continue
		}
		id := int32(len(surface))
		surface = append(surface, false)
		for j := int32(k); loop[j] < 0; {
			loop[j] = id
			if l, _ := m.faces(g.rim[j].edge); l >= 0 {
				surface[id] = true
			}
			// On round the far end, through triangles, to the next side.
			t, i := g.rim[j].t, g.rim[j].i
			v := g.tri[t].v[before(i)]
			// The edge that leaves v is opposite the corner before it.
			for i = before(g.corner(t, v)); g.tri[t].n[i] >= 0; {
				t = g.tri[t].n[i]
				i = before(g.corner(t, v))
			}
			j = at[[2]int32{t, i}]
		}
	}
	return loop, surface
}

// branches returns a cut for each outline with surfaces beyond the first of
// its body. ok is false where the mesh is too coarse to lay one.
func (m *model) branches(g *grid) (out []branch, ok bool) {
	loop, surface := g.loops(m)
	if len(surface) < 2 {
		return nil, true
	}
	body := make([]int32, len(surface))
	for k, s := range g.rim {
		body[loop[k]] = g.body[s.t]
	}
	root := map[int32]int32{}
	for l, b := range body {
		if !surface[l] {
			continue
		}
		if r, known := root[b]; !known {
			root[b] = int32(l)
		} else if path := m.way(g, loop, int32(l), r); path != nil {
			out = append(out, branch{path})
		} else {
			return nil, false
		}
	}
	return out, true
}

// way returns the shortest way along edges between two loops that touches no
// outline between, no conducting film, and ends between two sides with surfaces.
func (m *model) way(g *grid, loop []int32, from, to int32) []int32 {
	const free = -1
	kind := make([]int32, len(g.p)) // free, or a loop that may be met, or −2: shut
	for v := range kind {
		kind[v] = free
	}
	for k, s := range g.rim {
		v := g.tri[s.t].v
		l, _ := m.faces(s.edge)
		for _, w := range [2]int32{v[after(s.i)], v[before(s.i)]} {
			_, film := m.sheathed(s.edge)
			switch {
			case l < 0 || film:
				kind[w] = -2
			case kind[w] == free:
				kind[w] = loop[k]
			case kind[w] != loop[k]:
				kind[w] = -2
			}
		}
	}
	for _, s := range m.films(g, false) {
		v := g.tri[s.t].v
		kind[v[after(s.i)]], kind[v[before(s.i)]] = -2, -2
	}
	next := make([][]int32, len(g.p))
	for t := range g.tri {
		for i := range int32(3) {
			if u := g.tri[t].n[i]; u > int32(t) {
				a, b := g.tri[t].v[after(i)], g.tri[t].v[before(i)]
				next[a], next[b] = append(next[a], b), append(next[b], a)
			}
		}
	}
	came := make([]int32, len(g.p))
	for v := range came {
		came[v] = -1
	}
	var queue []int32
	for v, k := range kind {
		if k == from {
			came[v] = int32(v)
			queue = append(queue, int32(v))
		}
	}
	for len(queue) > 0 {
		v := queue[0]
		queue = queue[1:]
		for _, w := range next[v] {
			if came[w] >= 0 || (kind[w] != free && kind[w] != to) {
				continue
			}
			came[w] = v
			if kind[w] == to {
				path := []int32{w}
				for came[w] != w {
					w = came[w]
					path = append(path, w)
				}
				return path
			}
			queue = append(queue, w)
		}
	}
	return nil
}

// sidesOf returns the edges of a way as sides of the triangles on its left.
func (g *grid) sidesOf(b branch) []side {
	on := map[[2]int32]bool{}
	for i := range b.path[1:] {
		on[[2]int32{b.path[i], b.path[i+1]}] = true
	}
	var out []side
	for t := range g.tri {
		for i := range int32(3) {
			v := g.tri[t].v
			if on[[2]int32{v[after(i)], v[before(i)]}] {
				out = append(out, side{int32(t), i, -1})
			}
		}
	}
	return out
}

// jump is a field that is 1 on the left of a cut and 0 elsewhere.
type jump struct{ left []int32 }

// lay ties the nodes on both sides of the cuts to each other and returns their
// jumps.
func (d *dual) lay(cuts [][]side, tie func(a, b int32)) (out []jump) {
	if len(cuts) == 0 {
		return nil
	}
	onCut := map[int32]bool{}
	for _, c := range cuts {
		j := jump{}
		has := map[int32]bool{}
		for _, s := range c {
			for _, v := range d.onSide(s) {
				if !has[v] {
					has[v] = true
					j.left = append(j.left, v)
				}
				onCut[d.place(v)] = true
			}
		}
		out = append(out, j)
	}
	for k, v := range d.twin {
		if onCut[v] {
			tie(int32(d.g.nodes+k), v)
		}
	}
	return out
}

// turns solves for the field of each jump and for the heat that turns about
// each hole, and adds it to each load.
//
// With z the jump and what answers it, the energy is least where
// Σ_h a(z_g, z_h) Γ_h = −F(z_g).
func (d *dual) turns(m *model) error {
	if len(d.jumps) == 0 {
		return nil
	}
	n := len(d.jumps)
	z := make([][]float64, n)
	matrix := square0(n)
	for g, j := range d.jumps {
		w := make([]float64, d.nodes)
		for _, v := range j.left {
			w[v] = 1
		}
		b := make([]float64, d.n)
		d.eachOf(w, func(e int, i, k int) {
			if at := d.list[e].at[i]; at >= 0 {
				b[at] -= d.list[e].k[i][k] * w[d.ends[e][k]]
			}
		})
		z[g] = d.solved(b, func(int32) float64 { return 0 })
		for v := range w {
			z[g][v] += w[v]
		}
	}
	for g, j := range d.jumps {
		w := make([]float64, d.nodes)
		for _, v := range j.left {
			w[v] = 1
		}
		for h := range n {
			d.eachOf(w, func(e int, i, k int) {
				matrix[g][h] += z[h][d.ends[e][i]] * d.list[e].k[i][k] * w[d.ends[e][k]]
			})
		}
	}
	for l := range d.u[:len(d.u)] {
		right := make([]float64, n)
		for g := range n {
			for i, s := range d.g.rim {
				if k, _ := m.faces(s.edge); int(k) == l {
					e := d.outer[i]
					right[g] += z[g][e[0]] - z[g][e[1]]
				}
			}
		}
		gamma, ok := solveSmall(matrix, right)
		if !ok {
			return fmt.Errorf("heat flow: the holes of the section do not tell their flows apart")
		}
		for g, c := range gamma {
			for v := range d.u[l] {
				d.u[l][v] += c * z[g][v]
			}
		}
	}
	return nil
}

// eachOf calls f with the places i, k of each element where w is not 0 at k.
func (d *dual) eachOf(w []float64, f func(e, i, k int)) {
	for e := range d.ends {
		for k, v := range d.ends[e] {
			if w[v] == 0 {
				continue
			}
			for i := range 6 {
				f(e, i, k)
			}
		}
	}
}

// solveSmall solves a small symmetric positive definite system.
func solveSmall(a [][]float64, b []float64) (x []float64, ok bool) {
	n := len(b)
	m := square0(n)
	for i := range a {
		copy(m[i], a[i])
	}
	x = append([]float64(nil), b...)
	for k := range n {
		if !(m[k][k] > 0) {
			return nil, false
		}
		for i := k + 1; i < n; i++ {
			l := m[i][k] / m[k][k]
			for j := k; j < n; j++ {
				m[i][j] -= l * m[k][j]
			}
			x[i] -= l * x[k]
		}
	}
	for k := n - 1; k >= 0; k-- {
		for j := k + 1; j < n; j++ {
			x[k] -= m[k][j] * x[j]
		}
		x[k] /= m[k][k]
	}
	return x, true
}

// loosen halves the edges of the rim that have surfaces, and then all long
// edges, so that a cut finds its way.
func (m *model) loosen(msh *mesh, all bool) {
	count := len(msh.tri)
	for t := range int32(count) {
		for i := range int32(3) {
			if msh.tri[t].n[i] >= 0 && !all {
				continue
			}
			if !all {
				if l, _ := m.faces(msh.seg[msh.tri[t].s[i]].edge); l < 0 {
					continue
				}
			}
			msh.halveEdge(t, i)
			break
		}
	}
}
