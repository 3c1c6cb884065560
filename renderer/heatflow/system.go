package heatflow

import (
	"math"
	"slices"
)

// system is a set of equations over the nodes of a grid.
type system struct {
	g     *grid
	node  [][6]int32 // of each triangle
	nodes int
	stand []int32 // of each node: the node that stands for it; −1 held
	dof   []int32 // of each node: its unknown; −1 held or idle
	n     int     // unknowns
	list  []element
	index []int32     // of each triangle: its element; −1 idle
	ends  [][6]int32  // of each element: its nodes
	u     [][]float64 // of each load: the value at each node

	w      *workspace
	twin   []int32 // of each node beyond the grid's: one in the same place
	ground []int32 // nodes held at 0, with all they stand for
	worst  float64 // residual of the solves
}

// workspace holds what one system after another uses: elements and factors are
// good until the next system is laid out in it.
type workspace struct {
	assembler
	list  []element
	ends  [][6]int32
	x, y  []float64
	reach []extent
	order []int32
}

func newSystem(g *grid, node [][6]int32, nodes int, twin []int32, w *workspace) *system {
	s := &system{g: g, node: node, nodes: nodes, twin: twin, w: w, stand: make([]int32, nodes), dof: make([]int32, nodes), index: make([]int32, len(g.tri))}
	for i := range s.stand {
		s.stand[i] = int32(i)
	}
	s.list = slices.Grow(w.list[:0], len(g.tri)+len(g.filmy))
	s.ends = slices.Grow(w.ends[:0], len(g.tri)+len(g.filmy))
	w.list, w.ends = s.list, s.ends
	return s
}

// number gives the nodes of triangles that are not idle their unknowns and
// makes an element of each triangle, of the conductivity lambda says.
func (s *system) number(idle []bool, lambda func(t int32) float64) {
	for i := range s.dof {
		s.dof[i] = -1
	}
	for t := range s.node {
		s.index[t] = -1
		if idle[t] {
			continue
		}
		s.give(s.node[t][:])
		s.index[t] = int32(len(s.list))
		e := s.add(&s.node[t])
		d := s.g.gradients(int32(t))
		stiffness(&d, lambda(int32(t)), &e.k)
	}
}

// give numbers the unknowns of nodes.
func (s *system) give(nodes []int32) {
	for _, v := range nodes {
		r := s.stand[v]
		if r < 0 {
			continue
		}
		if s.dof[r] < 0 {
			s.dof[r] = int32(s.n)
			s.n++
		}
		s.dof[v] = s.dof[r]
	}
}

// add appends an element between nodes whose unknowns are numbered.
func (s *system) add(node *[6]int32) *element {
	s.ends = append(s.ends, *node)
	n := len(s.list)
	s.list = slices.Grow(s.list, 1)[:n+1]
	e := &s.list[n]
	for i, v := range node {
		e.at[i] = s.dof[v]
	}
	return e
}

// factor orders and factors the equations.
func (s *system) factor() error {
	w := s.w
	w.x, w.y = zeroed(w.x, len(s.list)), zeroed(w.y, len(s.list))
	w.reach = slices.Grow(w.reach[:0], len(s.list))
	for e := range s.ends {
		b := extent{math.Inf(1), math.Inf(-1), math.Inf(1), math.Inf(-1)}
		for _, v := range s.ends[e][:3] {
			v = s.place(v)
			x, y := s.g.x[v], s.g.y[v]
			w.x[e] += x / 3
			w.y[e] += y / 3
			b = extent{min(b.x0, x), max(b.x1, x), min(b.y0, y), max(b.y1, y)}
		}
		w.reach = append(w.reach, b)
	}
	w.order = zeroed(w.order, len(s.list))
	dissect(w.order, w.x, w.y, w.reach)
	return w.assembler.factor(s.n, s.list, w.order)
}

// place returns a node of the grid where node v lies.
func (s *system) place(v int32) int32 {
	if int(v) < s.g.nodes {
		return v
	}
	return s.twin[int(v)-s.g.nodes]
}

// negligible is how small a share of its load a residual is left alone.
const negligible = 1e-11

// solved solves for b and returns the value at every node; at held nodes it is
// what hold says. Where contrasts leave a residual it is solved for again.
func (s *system) solved(b []float64, hold func(v int32) float64) []float64 {
	given := append([]float64(nil), b...)
	s.w.solve(b)
	u := make([]float64, s.nodes)
	for v, d := range s.dof {
		switch {
		case d >= 0:
			u[v] = b[d]
		case s.stand[v] < 0:
			u[v] = hold(int32(v))
		}
	}
	rest, off := s.residual(u, given)
	for range 3 {
		if off <= negligible {
			break
		}
		s.w.solve(rest)
		for v, d := range s.dof {
			if d >= 0 {
				u[v] += rest[d]
			}
		}
		was := off
		if rest, off = s.residual(u, given); off > was/2 {
			break
		}
	}
	s.worst = max(s.worst, off)
	return u
}

// residual returns b − A·x, summed element by element, and the largest of it
// over the largest of b.
func (s *system) residual(u, b []float64) (r []float64, share float64) {
	r = append([]float64(nil), b...)
	for e := range s.list {
		el, n := &s.list[e], &s.ends[e]
		for i, d := range el.at {
			if d < 0 {
				continue
			}
			for j := range n {
				if el.at[j] >= 0 {
					r[d] -= el.k[i][j] * u[n[j]]
				}
			}
		}
	}
	most, top := 0.0, 0.0
	for i := range r {
		most, top = max(most, math.Abs(r[i])), max(top, math.Abs(b[i]))
	}
	if top == 0 {
		return r, most
	}
	return r, most / top
}

// release lets go of what only solving needs.
func (s *system) release() { s.w, s.list, s.ends, s.dof, s.stand = nil, nil, nil, nil, nil }
