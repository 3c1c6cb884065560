package heatflow

// model is a problem laid out for solving.
type model struct {
	*Problem
	film   []int32 // of each edge
	active []int32 // spaces that a surface faces, rising
	load   []int32 // of each space: its place in active; −1
}

func newModel(p *Problem) *model {
	m := &model{Problem: p, film: make([]int32, len(p.Edges)), load: make([]int32, len(p.Spaces))}
	faced := make([]bool, len(p.Spaces))
	for i, e := range p.Edges {
		m.film[i] = e.Film
		if (e.Left == None) != (e.Right == None) && e.Surface != None {
			faced[p.Surfaces[e.Surface].Space] = true
		}
	}
	for s, f := range faced {
		m.load[s] = -1
		if f {
			m.load[s] = int32(len(m.active))
			m.active = append(m.active, int32(s))
		}
	}
	return m
}

// faces returns the load (−1: adiabatic) of the space an edge of the outline
// faces and the resistance between, m²·K/W, its film included.
func (m *model) faces(edge int32) (load int32, r float64) {
	e := &m.Edges[edge]
	if e.Surface == None {
		return -1, 0
	}
	s := m.Surfaces[e.Surface]
	r = s.Resistance
	if e.Film != None {
		r += m.Films[e.Film].resistance()
	}
	return m.load[s.Space], r
}

// filmAt returns a film between two regions, and whether it resists.
func (m *model) filmAt(edge int32) (f Film, resists bool) {
	e := &m.Edges[edge]
	f = m.Films[e.Film]
	return f, f.resists(m.Regions[e.Left].Conductivity, m.Regions[e.Right].Conductivity)
}

// sheathed reports whether a film on an edge of the outline carries heat along
// it, and its conductance, W/K.
func (m *model) sheathed(edge int32) (conductance float64, ok bool) {
	e := &m.Edges[edge]
	if e.Film == None {
		return 0, false
	}
	f, lambda := m.Films[e.Film], m.Regions[max(e.Left, e.Right)].Conductivity
	return f.conductance(), !f.resists(lambda, lambda)
}

// films returns the edges whose film resists, or those whose film conducts.
func (m *model) films(g *grid, resists bool) (out []side) {
	for _, s := range g.filmy {
		if _, r := m.filmAt(s.edge); r == resists {
			out = append(out, s)
		}
	}
	return out
}

// heldAt says which loads hold a node: two where surfaces of different spaces
// meet; their mean is taken.
type heldAt struct{ load [2]int32 }

func (h heldAt) weight(load int32) (w float64) {
	for _, l := range h.load {
		if l == load {
			w += 0.5
		}
	}
	return w
}

// primal is the solve for temperature. Its energy is never below the true one.
type primal struct {
	*system
	held map[int32]heldAt
}

// newPrimal lays out the equations for temperature: conduction in the
// triangles, surfaces on the rim, films.
func (m *model) newPrimal(g *grid, idle []bool, w *workspace) *primal {
	cuts := m.films(g, true)
	node, nodes, twin := g.opened(cuts)
	p := &primal{newSystem(g, node, nodes, twin, w), map[int32]heldAt{}}
	for _, s := range g.rim {
		l, r := m.faces(s.edge)
		if l < 0 || r > 0 {
			continue
		}
		for _, v := range p.onSide(s) {
			h, known := p.held[v]
			if !known {
				h.load = [2]int32{l, l}
			} else if h.load[0] != l {
				h.load[1] = l
			}
			p.held[v] = h
			p.stand[v] = -1
		}
	}
	p.number(idle, func(t int32) float64 { return m.Regions[g.tri[t].region].Conductivity })
	for _, s := range g.rim {
		if idle[s.t] {
			continue
		}
		length := g.length(s.t, s.i)
		if l, r := m.faces(s.edge); l >= 0 && r > 0 {
			p.list[p.index[s.t]].k.onSide(s.i, &massOf, length/(30*r))
		}
		if c, ok := m.sheathed(s.edge); ok {
			p.list[p.index[s.t]].k.onSide(s.i, &stretchOf, c/(3*length))
		}
	}
	for _, s := range g.filmy {
		if idle[s.t] {
			continue
		}
		f, resists := m.filmAt(s.edge)
		if length := g.length(s.t, s.i); resists {
			n := p.bothSides(s)
			p.add(&n).k = across(1/f.resistance(), length)
		} else {
			p.list[p.index[s.t]].k.onSide(s.i, &stretchOf, f.conductance()/(3*length))
		}
	}
	return p
}

// onSide returns the nodes on an edge: ends and middle.
func (s *system) onSide(e side) [3]int32 {
	n := &s.node[e.t]
	return [3]int32{n[after(e.i)], n[before(e.i)], n[3+e.i]}
}

// bothSides returns the nodes of an edge on either side: ends and middle.
func (s *system) bothSides(e side) [6]int32 {
	u := s.g.tri[e.t].n[e.i]
	j := s.g.facing(u, e.t)
	a, b := &s.node[e.t], &s.node[u]
	return [6]int32{a[after(e.i)], a[before(e.i)], a[3+e.i], b[before(j)], b[after(j)], b[3+j]}
}

// solve finds the temperatures for each load: 1 in one space, 0 in the rest.
// The last follows from the others, as they sum to 1.
func (p *primal) solve(m *model) error {
	if err := p.factor(); err != nil {
		return err
	}
	last := len(m.active) - 1
	b := make([]float64, p.n)
	sum := make([]float64, p.nodes)
	for i := range sum {
		sum[i] = 1
	}
	for l := range int32(last) {
		clear(b)
		p.load(m, l, b)
		u := p.solved(b, func(v int32) float64 { return p.held[v].weight(l) })
		for i, v := range u {
			sum[i] -= v
		}
		p.u = append(p.u, u)
	}
	p.u = append(p.u, sum)
	return nil
}

// load adds what a space at 1 brings to the right-hand side.
func (p *primal) load(m *model, l int32, b []float64) {
	for _, s := range p.g.rim {
		k, r := m.faces(s.edge)
		if k != l || r == 0 {
			continue
		}
		c := p.g.length(s.t, s.i) / (6 * r)
		for i, v := range p.onSide(s) {
			if d := p.dof[v]; d >= 0 {
				b[d] += c * [3]float64{1, 1, 4}[i]
			}
		}
	}
	p.eachHeld(func(e, j int, h heldAt) {
		if w := h.weight(l); w != 0 {
			for i, d := range p.list[e].at {
				if d >= 0 {
					b[d] -= p.list[e].k[i][j] * w
				}
			}
		}
	})
}

// eachHeld calls f with each place of an element whose node is held.
func (p *primal) eachHeld(f func(e, j int, h heldAt)) {
	if len(p.held) == 0 {
		return
	}
	for e := range p.list {
		for j, d := range p.list[e].at {
			if d >= 0 {
				continue
			}
			if h, ok := p.held[p.ends[e][j]]; ok {
				f(e, j, h)
			}
		}
	}
}

// flows returns the heat each space gives off under each load, W/(m·K).
func (p *primal) flows(m *model) [][]float64 {
	n := len(m.active)
	out := square0(n)
	for l, u := range p.u {
		for _, s := range p.g.rim {
			if k, r := m.faces(s.edge); k >= 0 && r > 0 {
				v := p.onSide(s)
				own := 0.0
				if int(k) == l {
					own = 1
				}
				out[k][l] += p.g.length(s.t, s.i) / r * (own - (u[v[0]]+u[v[1]]+4*u[v[2]])/6)
			}
		}
		p.eachHeld(func(e, j int, h heldAt) {
			sum := 0.0
			for i, v := range p.ends[e] {
				sum += p.list[e].k[i][j] * u[v]
			}
			out[h.load[0]][l] += sum / 2
			out[h.load[1]][l] += sum / 2
		})
	}
	return out
}

func square0(n int) [][]float64 {
	out := make([][]float64, n)
	for i := range out {
		out[i] = make([]float64, n)
	}
	return out
}
