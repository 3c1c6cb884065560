package continuity

import (
	"container/heap"
	"math"
	"math/bits"
	"slices"

	"wythe/renderer/geometry"
)

// trapezoids cuts the open faces into upright trapezoids between the vertices'
// places, for a path that stays inside them.
type trapezoids struct {
	m     *model
	cells []cell
	doors [][]door
}

// cell is a trapezoid between two edges over one band of x.
type cell struct {
	lo, hi int32 // edges below and above
	face   int32
	x0, x1 int64
}

// door leads into another cell through a place.
type door struct {
	to int32
	at geometry.Vec
}

func (m *model) trapezoids() *trapezoids {
	t := &trapezoids{m: m}
	xs := make([]int64, 0, len(m.a.Points))
	for _, p := range m.a.Points {
		xs = append(xs, p.X)
	}
	xs = slices.Compact(xs) // points are sorted by x
	upright := map[int64][]int32{}
	for e := range m.a.Edges {
		if u, v := m.ends(int32(e)); u.X == v.X {
			upright[u.X] = append(upright[u.X], int32(e))
		}
	}
	for _, l := range upright {
		slices.SortFunc(l, func(a, b int32) int {
			u, _ := m.ends(a)
			v, _ := m.ends(b)
			return int(u.Y - v.Y)
		})
	}
	var before []int32 // cells of the band to the left
	var active []int32
	next := 0
	order := make([]int32, len(m.a.Edges)) // edges are sorted by U, so by x
	for i := range order {
		order[i] = int32(i)
	}
	for i := 0; i+1 < len(xs); i++ {
		x0, x1 := xs[i], xs[i+1]
		kept := active[:0]
		for _, e := range active {
			if _, v := m.ends(e); v.X > x0 {
				kept = append(kept, e)
			}
		}
		active = kept
		for ; next < len(order); next++ {
			u, v := m.ends(order[next])
			if u.X > x0 {
				break
			}
			if v.X > x0 {
				active = append(active, order[next])
			}
		}
		slices.SortFunc(active, func(a, b int32) int { return m.compareAt(a, b, x0+x1) })
		var here []int32
		below := int32(-1)
		for k := 0; k+1 < len(active); k++ {
			f := m.a.FaceOf(geometry.Half(2 * active[k]))
			if m.item[f] != open {
				below = -1
				continue
			}
			id := int32(len(t.cells))
			t.cells = append(t.cells, cell{active[k], active[k+1], f, x0, x1})
			t.doors = append(t.doors, nil)
			if below >= 0 && len(m.films[active[k]]) == 0 {
				mid := float64(x0+x1) / 2
				t.join(below, id, geometry.Vec{X: mid, Y: m.height(active[k], mid)})
			}
			below = id
			here = append(here, id)
		}
		t.joinBands(before, here, x0, upright[x0])
		before = here
	}
	return t
}

func (m *model) ends(e int32) (u, v geometry.Point) {
	return m.a.Points[m.a.Edges[e].U], m.a.Points[m.a.Edges[e].V]
}

// height of an edge at x.
func (m *model) height(e int32, x float64) float64 {
	u, v := m.ends(e)
	return float64(u.Y) + (x-float64(u.X))*float64(v.Y-u.Y)/float64(v.X-u.X)
}

// compareAt orders two edges by height at half x2, exactly.
func (m *model) compareAt(a, b int32, x2 int64) int {
	if a == b {
		return 0
	}
	u, v := m.ends(a)
	p, q := m.ends(b)
	// Height over 2·dx, measured from u.
	d1, d2 := v.X-u.X, q.X-p.X
	n1 := (x2 - 2*u.X) * (v.Y - u.Y)
	n2 := (x2-2*p.X)*(q.Y-p.Y) + 2*d2*(p.Y-u.Y)
	if c := compareProducts(n1, d2, n2, d1); c != 0 {
		return c
	}
	return int(a - b)
}

// compareProducts compares a·b with c·d for positive b and d.
func compareProducts(a, b, c, d int64) int {
	if (a < 0) != (c < 0) {
		if a < 0 {
			return -1
		}
		return 1
	}
	mag := func(x int64) uint64 {
		if x < 0 {
			return uint64(-x)
		}
		return uint64(x)
	}
	h1, l1 := bits.Mul64(mag(a), uint64(b))
	h2, l2 := bits.Mul64(mag(c), uint64(d))
	r := 0
	switch {
	case h1 > h2 || h1 == h2 && l1 > l2:
		r = 1
	case h1 < h2 || h1 == h2 && l1 < l2:
		r = -1
	}
	if a < 0 {
		r = -r
	}
	return r
}

func (t *trapezoids) join(a, b int32, at geometry.Vec) {
	t.doors[a] = append(t.doors[a], door{b, at})
	t.doors[b] = append(t.doors[b], door{a, at})
}

// joinBands opens doors between neighbouring bands at x, where no edge stands
// or one that does not part them.
func (t *trapezoids) joinBands(left, right []int32, x int64, edges []int32) {
	m := t.m
	fx := float64(x)
	for _, l := range left {
		a := t.cells[l]
		lo, hi := m.height(a.lo, fx), m.height(a.hi, fx)
		for _, r := range right {
			b := t.cells[r]
			y0 := math.Max(lo, m.height(b.lo, fx))
			y1 := math.Min(hi, m.height(b.hi, fx))
			if y0 >= y1 {
				continue
			}
			// The widest stretch without a blocking edge.
			best, at := 0.0, 0.0
			free := func(from, to float64) {
				if to-from > best {
					best, at = to-from, (from+to)/2
				}
			}
			from := y0
			for _, e := range edges {
				u, v := m.ends(e)
				e0, e1 := math.Max(y0, float64(u.Y)), math.Min(y1, float64(v.Y))
				if e0 >= e1 || len(m.films[e]) == 0 && m.left(e) == open && m.right(e) == open {
					continue
				}
				free(from, e0)
				from = math.Max(from, e1)
			}
			free(from, y1)
			if best > 0 {
				t.join(l, r, geometry.Vec{X: fx, Y: at})
			}
		}
	}
}

// middle of a cell.
func (t *trapezoids) middle(c int32) geometry.Vec {
	k := t.cells[c]
	x := float64(k.x0+k.x1) / 2
	return geometry.Vec{X: x, Y: (t.m.height(k.lo, x) + t.m.height(k.hi, x)) / 2}
}

// cellAt finds the cell of a face that holds a place, or the nearest one.
func (t *trapezoids) cellAt(face int32, p geometry.Vec) int32 {
	return t.nearest(p, func(f int32) bool { return f == face })
}

// cellIn finds the cell of an open stretch nearest a place.
func (t *trapezoids) cellIn(g *graph, root int32, p geometry.Vec) int32 {
	return t.nearest(p, func(f int32) bool { return g.find(f) == root })
}

func (t *trapezoids) nearest(p geometry.Vec, of func(face int32) bool) int32 {
	best, at := math.Inf(1), int32(-1)
	for i, c := range t.cells {
		if !of(c.face) {
			continue
		}
		x := math.Min(math.Max(p.X, float64(c.x0)), float64(c.x1))
		y := math.Min(math.Max(p.Y, t.m.height(c.lo, x)), t.m.height(c.hi, x))
		if d := math.Hypot(x-p.X, y-p.Y); d < best {
			best, at = d, int32(i)
		}
	}
	return at
}

type visit struct {
	cell int32
	cost float64
}

type visits []visit

func (v visits) Len() int { return len(v) }
func (v visits) Less(i, j int) bool {
	return v[i].cost < v[j].cost || v[i].cost == v[j].cost && v[i].cell < v[j].cell
}
func (v visits) Swap(i, j int) { v[i], v[j] = v[j], v[i] }
func (v *visits) Push(x any)   { *v = append(*v, x.(visit)) }
func (v *visits) Pop() any     { old := *v; x := old[len(old)-1]; *v = old[:len(old)-1]; return x }

// path runs from one place to another through open cells; nil where none leads.
func (t *trapezoids) path(from, to int32, start, end geometry.Vec) []geometry.Vec {
	if from < 0 || to < 0 {
		return nil
	}
	type state struct {
		cost float64
		at   geometry.Vec
		back int32
		done bool
	}
	st := make([]state, len(t.cells))
	for i := range st {
		st[i].cost = math.Inf(1)
	}
	st[from] = state{0, start, -1, false}
	q := visits{{from, 0}}
	for len(q) > 0 {
		v := heap.Pop(&q).(visit)
		s := &st[v.cell]
		if s.done {
			continue
		}
		s.done = true
		if v.cell == to {
			break
		}
		for _, d := range t.doors[v.cell] {
			c := s.cost + math.Hypot(d.at.X-s.at.X, d.at.Y-s.at.Y)
			if n := &st[d.to]; c < n.cost {
				*n = state{c, d.at, v.cell, false}
				heap.Push(&q, visit{d.to, c})
			}
		}
	}
	if !st[to].done {
		return nil
	}
	out := []geometry.Vec{end}
	for c := to; c >= 0; c = st[c].back {
		// Two doors on one side of a cell: go through its middle, not along
		// the side, where a carrier may stand between them.
		if p := out[len(out)-1]; p.X == st[c].at.X {
			out = append(out, t.middle(c))
		}
		out = append(out, st[c].at)
	}
	slices.Reverse(out)
	return t.m.shorten(out)
}

// shorten leaves out places of a path that can be passed by without meeting a
// carrier.
func (m *model) shorten(p []geometry.Vec) []geometry.Vec {
	var blocks [][2]geometry.Vec
	for e := range m.a.Edges {
		if len(m.films[e]) == 0 && m.left(int32(e)) == open && m.right(int32(e)) == open {
			continue
		}
		u, v := m.ends(int32(e))
		blocks = append(blocks, [2]geometry.Vec{u.Vec(), v.Vec()})
	}
	clear := func(a, b geometry.Vec) bool {
		for _, k := range blocks {
			if crosses(a, b, k[0], k[1]) {
				return false
			}
		}
		return true
	}
	out := p[:1:1]
	for i := 0; i < len(p)-1; {
		j := i + 1
		for k := min(len(p)-1, i+40); k > j; k-- {
			if clear(p[i], p[k]) {
				j = k
				break
			}
		}
		out = append(out, p[j])
		i = j
	}
	return out
}

// crosses reports whether two segments cross or touch, in floats.
func crosses(a, b, c, d geometry.Vec) bool {
	if math.Max(a.X, b.X) < math.Min(c.X, d.X) || math.Max(c.X, d.X) < math.Min(a.X, b.X) ||
		math.Max(a.Y, b.Y) < math.Min(c.Y, d.Y) || math.Max(c.Y, d.Y) < math.Min(a.Y, b.Y) {
		return false
	}
	turn := func(p, q, r geometry.Vec) float64 { return (q.X-p.X)*(r.Y-p.Y) - (q.Y-p.Y)*(r.X-p.X) }
	return turn(a, b, c)*turn(a, b, d) <= 0 && turn(c, d, a)*turn(c, d, b) <= 0
}

// crossings counts how often a path crosses the segment p–q, for places of
// the path in general position; a place on the line counts as on its left.
func crossings(path []geometry.Vec, p, q geometry.Vec) int {
	n := 0
	for i := 1; i < len(path); i++ {
		a, b := path[i-1], path[i]
		sa := (q.X-p.X)*(a.Y-p.Y)-(q.Y-p.Y)*(a.X-p.X) >= 0
		sb := (q.X-p.X)*(b.Y-p.Y)-(q.Y-p.Y)*(b.X-p.X) >= 0
		if sa == sb {
			continue
		}
		u := (b.X-a.X)*(p.Y-a.Y) - (b.Y-a.Y)*(p.X-a.X)
		v := (b.X-a.X)*(q.Y-a.Y) - (b.Y-a.Y)*(q.X-a.X)
		if (u > 0) != (v > 0) {
			n++
		}
	}
	return n
}
