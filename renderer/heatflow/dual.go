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
	outer [][3]int32 // of each side of the rim: its nodes outside a film that lies there
}

// newDual lays out the equations for the stream function.
func (m *model) newDual(g *grid, idle []bool, holes []branch, w *workspace) *dual {
	cuts := m.films(g, false)
	var jumps [][]side
	for _, h := range holes {
		jumps = append(jumps, g.sidesOf(h))
	}
	node, nodes, twin := g.opened(cuts, jumps...)
	outer, nodes, twin, same, at := m.outside(g, node, nodes, twin)
	d := &dual{system: newSystem(g, node, nodes, twin, w), outer: outer}
	var root func(v int32) int32
	root = func(v int32) int32 {
		for d.stand[v] != v {
			d.stand[v] = d.stand[d.stand[v]]
			v = d.stand[v]
		}
		return v
	}
	for _, s := range same {
		d.stand[root(s[0])] = root(s[1])
	}
	// No heat runs along a film through one that resists: on all of these at a
	// point, and outside it, ψ is one.
	for _, s := range m.films(g, true) {
		for _, k := range [2]int32{after(s.i), before(s.i)} {
			v, n := g.tri[s.t].v[k], node[s.t][k]
			if o, known := at[v]; known && o >= 0 {
				d.stand[root(n)] = root(o)
			} else {
				at[v] = n
			}
		}
	}
	for k, s := range g.rim {
		if l, _ := m.faces(s.edge); l < 0 {
			n := d.outer[k]
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
	for k, s := range g.rim {
		if b := g.body[s.t]; !grounded[b] {
			grounded[b] = true
			r := d.stand[d.outer[k][0]]
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
	for k, s := range g.rim {
		if idle[s.t] {
			continue
		}
		d.give(d.outer[k][:])
		l, r := m.faces(s.edge)
		length := g.length(s.t, s.i)
		c, film := m.sheathed(s.edge)
		if !film {
			if l >= 0 && r > 0 {
				d.list[d.index[s.t]].k.onSide(s.i, &stretchOf, r/(3*length))
			}
			continue
		}
		in, out := d.onSide(s), d.outer[k]
		e := d.add(&[6]int32{in[0], in[1], in[2], out[0], out[1], out[2]})
		e.k = across(1/c, length)
		if l >= 0 {
			for i := range 3 {
				for j := range 3 {
					e.k[3+i][3+j] += r / (3 * length) * stretchOf[i][j]
				}
			}
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
		u := d.solved(b, func(int32) float64 { return 0 })
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
	for i, s := range d.g.rim {
		if k, _ := m.faces(s.edge); k != l {
			continue
		}
		n := d.outer[i]
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
		for i, s := range d.g.rim {
			if k, _ := m.faces(s.edge); k >= 0 {
				n := d.outer[i]
				out[k][l] += u[n[0]] - u[n[1]]
			}
		}
	}
	return out
}

// outside returns the nodes of ψ outside the films on the rim: new ones where a
// film carries heat along it, the triangle's own elsewhere. At a point, all
// that lies outside is one: same lists the nodes that are. touched gives the
// node outside at points with a conducting film.
func (m *model) outside(g *grid, node [][6]int32, nodes int, twin []int32) (outer [][3]int32, total int, twins []int32, same [][2]int32, touched map[int32]int32) {
	outer = make([][3]int32, len(g.rim))
	touched = map[int32]int32{}
	put := func(v int32) int32 {
		twin = append(twin, v)
		nodes++
		return int32(nodes - 1)
	}
	touch := func(t, i int32) {
		for _, v := range [2]int32{g.tri[t].v[after(i)], g.tri[t].v[before(i)]} {
			if _, known := touched[v]; !known {
				touched[v] = -1
			}
		}
	}
	some := false
	for _, s := range g.rim {
		if _, film := m.sheathed(s.edge); film {
			touch(s.t, s.i)
			some = true
		}
	}
	for _, s := range m.films(g, false) {
		touch(s.t, s.i)
		some = true
	}
	for k, s := range g.rim {
		n, v := &node[s.t], &g.tri[s.t].v
		outer[k] = [3]int32{n[after(s.i)], n[before(s.i)], n[3+s.i]}
		if !some {
			continue
		}
		_, film := m.sheathed(s.edge)
		if film {
			outer[k][2] = put(g.node[s.t][3+s.i])
		}
		for e, w := range [2]int32{v[after(s.i)], v[before(s.i)]} {
			o, known := touched[w]
			switch {
			case !known:
				continue
			case o < 0:
				o = put(w)
				touched[w] = o
			}
			if film {
				outer[k][e] = o
			} else {
				same = append(same, [2]int32{o, outer[k][e]})
			}
		}
	}
	return outer, nodes, twin, same, touched
}
