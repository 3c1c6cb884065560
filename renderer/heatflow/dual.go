package heatflow

// dual is the solve for the stream function ψ, whose slope along a line is the
// heat that crosses it: its energy is never above the true one.
//
// Method: the complementary energy of a flow without sources (Prager and
// Synge 1947): conductivity 1/λ, a surface of resistance R counts
// R ∫ (∂ψ/∂s)², a line without flow holds one value of ψ, and a film carries
// the difference of ψ across it.
type dual struct {
	*system
	jumps []jump
}

// newDual lays out the equations for the stream function.
func (m *model) newDual(g *grid, idle []bool, holes []branch, w *workspace) *dual {
	cuts := m.films(g, false)
	var jumps [][]side
	for _, h := range holes {
		jumps = append(jumps, g.sidesOf(h))
	}
	node, nodes, twin := g.opened(cuts, true, jumps...)
	d := &dual{system: newSystem(g, node, nodes, twin, w)}
	var root func(v int32) int32
	root = func(v int32) int32 {
		for d.stand[v] != v {
			d.stand[v] = d.stand[d.stand[v]]
			v = d.stand[v]
		}
		return v
	}
	for _, s := range g.rim {
		if l, _ := m.faces(s.edge); l < 0 {
			n := d.onSide(s)
			a := root(n[0])
			for _, v := range n[1:] {
				d.stand[root(v)] = a
			}
		}
	}
	d.jumps = d.lay(jumps, func(a, b int32) { d.stand[root(a)] = root(b) })
	for v := range d.stand {
		d.stand[v] = root(int32(v))
	}
	grounded := map[int32]bool{}
	for _, s := range g.rim {
		if b := g.body[s.t]; !grounded[b] {
			grounded[b] = true
			r := d.stand[d.onSide(s)[0]]
			d.ground = append(d.ground, r)
		}
	}
	for v, r := range d.stand {
		for _, z := range d.ground {
			if r == z {
				d.stand[v] = -1
			}
		}
	}
	d.number(idle, func(t int32) float64 { return 1 / m.Regions[g.tri[t].region].Conductivity })
	for _, s := range g.rim {
		if l, r := m.faces(s.edge); l >= 0 && r > 0 {
			d.list[d.index[s.t]].k.onSide(s.i, &stretchOf, r/(3*g.length(s.t, s.i)))
		}
	}
	for _, s := range g.filmy {
		if idle[s.t] {
			continue
		}
		f, resists := m.filmAt(s.edge)
		if length := g.length(s.t, s.i); resists {
			d.list[d.index[s.t]].k.onSide(s.i, &stretchOf, f.resistance()/(3*length))
		} else {
			n := d.bothSides(s)
			d.add(&n).k = across(1/f.conductance(), length)
		}
	}
	return d
}

// solve finds ψ for each load: 1 in one space, 0 in the rest.
func (d *dual) solve(m *model) error {
	if err := d.factor(); err != nil {
		return err
	}
	last := len(m.active) - 1
	b := make([]float64, d.n)
	sum := make([]float64, d.nodes)
	for l := range int32(last) {
		clear(b)
		d.load(m, l, b)
		given := append([]float64(nil), b...)
		u := d.spread(b, func(int32) float64 { return 0 })
		d.worst = max(d.worst, d.residual(u, given))
		for i, v := range u {
			sum[i] -= v
		}
		d.u = append(d.u, u)
	}
	d.u = append(d.u, sum)
	return d.turns(m)
}

// load adds what a space at 1 brings to the right-hand side.
func (d *dual) load(m *model, l int32, b []float64) {
	for _, s := range d.g.rim {
		if k, _ := m.faces(s.edge); k != l {
			continue
		}
		n := d.onSide(s)
		if i := d.dof[n[0]]; i >= 0 {
			b[i]++
		}
		if i := d.dof[n[1]]; i >= 0 {
			b[i]--
		}
	}
}

// flows returns the heat each space gives off under each load, W/(m·K).
func (d *dual) flows(m *model) [][]float64 {
	out := square0(len(m.active))
	for l, u := range d.u {
		for _, s := range d.g.rim {
			if k, _ := m.faces(s.edge); k >= 0 {
				n := d.onSide(s)
				out[k][l] += u[n[0]] - u[n[1]]
			}
		}
	}
	return out
}
