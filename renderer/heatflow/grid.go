package heatflow

import "math"

// grid is a mesh with its quadratic nodes: the corners first, then a node at
// the middle of each edge.
type grid struct {
	*mesh
	x, y  []float64  // of the nodes, m
	node  [][6]int32 // of each triangle: its corners, then the middle opposite each
	nodes int
	rim   []side  // edges with one triangle
	filmy []side  // edges with a film and two triangles, once each
	body  []int32 // of each triangle: which connected body it is of
}

// side is the edge of triangle t opposite its corner i.
type side struct{ t, i, edge int32 }

func newGrid(m *mesh, film []int32) *grid {
	n := len(m.tri)
	g := &grid{mesh: m, node: make([][6]int32, n)}
	nodes := len(m.p) + (3*n)/2 + 16
	g.x, g.y = make([]float64, len(m.p), nodes), make([]float64, len(m.p), nodes)
	for i, p := range m.p {
		g.x[i], g.y[i] = p.metres()
	}
	for t := range m.tri {
		tr := &m.tri[t]
		copy(g.node[t][:3], tr.v[:])
		for i := range int32(3) {
			u, s := tr.n[i], tr.s[i]
			if u >= 0 && u < int32(t) {
				g.node[t][3+i] = g.node[u][3+m.facing(u, int32(t))]
				continue
			}
			if u < 0 {
				g.rim = append(g.rim, side{int32(t), i, m.seg[s].edge})
			} else if s >= 0 && film[m.seg[s].edge] >= 0 {
				g.filmy = append(g.filmy, side{int32(t), i, m.seg[s].edge})
			}
			a, b := tr.v[after(i)], tr.v[before(i)]
			g.node[t][3+i] = int32(len(g.x))
			g.x = append(g.x, (g.x[a]+g.x[b])/2)
			g.y = append(g.y, (g.y[a]+g.y[b])/2)
		}
	}
	g.nodes = len(g.x)
	return g
}

// length of the edge of t opposite corner i, m.
func (g *grid) length(t, i int32) float64 {
	v := &g.tri[t].v
	a, b := v[after(i)], v[before(i)]
	return math.Hypot(g.x[a]-g.x[b], g.y[a]-g.y[b])
}

// opened returns the nodes of the triangles with those on the cuts doubled,
// and how many there are. Where an edge is cut, its two sides do not share its
// middle, nor its ends unless they hold together round them.
// twin gives, for each added node, one of the grid in the same place. through
// are further cuts.
func (g *grid) opened(cuts []side, through ...[]side) (node [][6]int32, nodes int, twin []int32) {
	if len(cuts)+len(through) == 0 {
		return g.node, g.nodes, nil
	}
	node = make([][6]int32, len(g.node))
	copy(node, g.node)
	double := func(v int32) int32 {
		twin = append(twin, v)
		return int32(g.nodes + len(twin) - 1)
	}
	isCut := make(map[[2]int32]bool, 2*len(cuts))
	ends := map[int32]bool{}
	open := func(c side) {
		u := g.tri[c.t].n[c.i]
		if isCut[[2]int32{c.t, u}] {
			return
		}
		isCut[[2]int32{c.t, u}], isCut[[2]int32{u, c.t}] = true, true
		node[u][3+g.facing(u, c.t)] = double(g.node[c.t][3+c.i])
		ends[g.tri[c.t].v[after(c.i)]], ends[g.tri[c.t].v[before(c.i)]] = true, true
	}
	for _, c := range cuts {
		open(c)
	}
	for _, t := range through {
		for _, c := range t {
			open(c)
		}
	}
	first := map[int32]bool{}
	done := map[[2]int32]bool{}
	for t := range g.tri {
		for i, v := range g.tri[t].v {
			if !ends[v] || done[[2]int32{int32(t), v}] {
				continue
			}
			// The triangles round v that hold together with t: a sector.
			name := v
			if first[v] {
				name = double(v)
			}
			first[v] = true
			todo := []int32{int32(t)}
			done[[2]int32{int32(t), v}] = true
			node[t][i] = name
			for len(todo) > 0 {
				w := todo[len(todo)-1]
				todo = todo[:len(todo)-1]
				k := g.corner(w, v)
				for _, j := range [2]int32{after(k), before(k)} {
					u := g.tri[w].n[j]
					if u < 0 || isCut[[2]int32{w, u}] || done[[2]int32{u, v}] {
						continue
					}
					done[[2]int32{u, v}] = true
					node[u][g.corner(u, v)] = name
					todo = append(todo, u)
				}
			}
		}
	}
	return node, g.nodes + len(twin), twin
}

// bodies finds the connected parts and which triangles no surface reaches,
// also through films.
func (g *grid) bodies(m *model) (idle []bool) {
	g.body = make([]int32, len(g.tri))
	for t := range g.body {
		g.body[t] = -1
	}
	var reached []bool
	var todo []int32
	for t := range g.tri {
		if g.body[t] >= 0 {
			continue
		}
		b := int32(len(reached))
		reached = append(reached, false)
		g.body[t] = b
		todo = append(todo[:0], int32(t))
		for len(todo) > 0 {
			w := todo[len(todo)-1]
			todo = todo[:len(todo)-1]
			for i, u := range g.tri[w].n {
				switch {
				case u < 0:
					if l, _ := m.faces(m.edgeAt(g, w, int32(i))); l >= 0 {
						reached[b] = true
					}
				case g.body[u] < 0:
					g.body[u] = b
					todo = append(todo, u)
				}
			}
		}
	}
	idle = make([]bool, len(g.tri))
	for t, b := range g.body {
		idle[t] = !reached[b]
	}
	return idle
}

func (m *model) edgeAt(g *grid, t, i int32) int32 { return g.seg[g.tri[t].s[i]].edge }
