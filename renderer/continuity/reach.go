package continuity

import (
	"slices"

	"wythe/renderer/geometry"
)

// graph is what is open: faces that do not carry the control, and slits
// between carriers that nothing joins. Nodes are arrangement faces, then lanes.
type graph struct {
	m     *model
	slits bool
	root  []int32
	keep  bool // links are kept, for a route
	links []link
}

// link joins two nodes across an edge, or through a vertex.
type link struct {
	a, b   int32
	vertex int32 // -1: across edge
	edge   int32
}

// reach builds the graph. With slits, carriers that touch and are not joined
// leave a slit; without, every touch counts as joined.
func (m *model) reach(slits bool) *graph {
	g := &graph{m: m, slits: slits, root: make([]int32, m.a.Faces()+len(m.lanes))}
	g.build()
	return g
}

func (g *graph) build() {
	m := g.m
	for i := range g.root {
		g.root[i] = int32(i)
	}
	for e := range m.a.Edges {
		if len(m.films[e]) > 0 || m.left(int32(e)) != open || m.right(int32(e)) != open {
			continue
		}
		l, r := m.a.FaceOf(geometry.Half(2*e)), m.a.FaceOf(geometry.Half(2*e+1))
		if l != r {
			g.join(link{l, r, -1, int32(e)})
		}
	}
	if !g.slits {
		return
	}
	var ring []token
	for v := range m.a.Points {
		if m.carrierV[v] {
			ring = m.tokens(int32(v), ring[:0])
			g.through(int32(v), ring)
		}
	}
}

func (g *graph) find(n int32) int32 {
	for g.root[n] != n {
		g.root[n] = g.root[g.root[n]]
		n = g.root[n]
	}
	return n
}

func (g *graph) join(l link) {
	if g.keep {
		g.links = append(g.links, l)
	}
	a, b := g.find(l.a), g.find(l.b)
	if a != b {
		g.root[max(a, b)] = min(a, b)
	}
}

// token is one thing met on the way round a vertex: a carrier (or the wall),
// or an open node.
type token struct {
	carrier bool
	id      int32 // item, or node
	class   int32
}

// tokens lists what stands around a vertex, counter-clockwise. Carriers with
// nothing open between them are of one class.
func (m *model) tokens(v int32, ring []token) []token {
	out := m.a.Outgoing(v)
	sector := func(k int) int32 { return m.a.FaceOf(out[(k+len(out))%len(out)]) }
	lanes := int32(m.a.Faces())
	for k, h := range out {
		e := h.Edge()
		prev := m.item[sector(k-1)]
		next := m.item[m.a.FaceOf(h)]
		films := m.films[e]
		at := m.laneAt[e]
		if h&1 == 0 { // from right to left
			at = m.laneAt[e+1] - 1
		}
		step := func(x, y int32) {
			if !slit(x, y) {
				return
			}
			if !m.contacts[m.lanes[at].contact].joined {
				ring = append(ring, token{id: lanes + at})
			}
			if h&1 == 0 {
				at--
			} else {
				at++
			}
		}
		x := prev
		for n := range films {
			f := films[n]
			if h&1 == 0 {
				f = films[len(films)-1-n]
			}
			step(x, f)
			ring = append(ring, token{carrier: true, id: f})
			x = f
		}
		step(x, next)
		if next == open {
			ring = append(ring, token{id: m.a.FaceOf(h)})
		} else {
			ring = append(ring, token{carrier: true, id: next})
		}
	}
	return ring
}

// through links the open nodes around a vertex that nothing parts there.
func (g *graph) through(v int32, ring []token) {
	opens := 0
	for i := range ring {
		if !ring[i].carrier {
			opens++
		}
	}
	if opens < 2 {
		return
	}
	n := len(ring)
	g.m.classes(v, ring)
	for i := range ring {
		for j := i + 1; j < n; j++ {
			if !ring[i].carrier && !ring[j].carrier && ring[i].id != ring[j].id && !parted(ring, i, j) {
				g.join(link{ring[i].id, ring[j].id, v, -1})
			}
		}
	}
}

// classes gives carriers around a vertex that hang together one class: those
// with nothing open between them, a film that runs through, a body that meets
// itself, joined touches, and all that reaches the cut, where it runs on.
func (m *model) classes(v int32, ring []token) {
	atWall := false
	for i := range ring {
		ring[i].class = int32(i)
		atWall = atWall || ring[i].carrier && ring[i].id == wall
	}
	n := len(ring)
	for i := range ring {
		if !ring[i].carrier {
			continue
		}
		if j := (i + 1) % n; ring[j].carrier {
			merge(ring, i, j)
		}
		for k := i + 1; k < n; k++ {
			if !ring[k].carrier || ring[k].class == ring[i].class {
				continue
			}
			if x, y := ring[i].id, ring[k].id; atWall || x == y || m.joinedAt(v, x, y) {
				merge(ring, i, k)
			}
		}
	}
}

// merge makes the classes of two carriers one.
func merge(ring []token, i, j int) {
	from, to := ring[j].class, ring[i].class
	for k := range ring {
		if ring[k].carrier && ring[k].class == from {
			ring[k].class = to
		}
	}
}

// parted reports whether one class of carriers stands on both ways round from
// i to j.
func parted(ring []token, i, j int) bool {
	for a := i + 1; a < j; a++ {
		if !ring[a].carrier {
			continue
		}
		for b := j + 1; b < i+len(ring); b++ {
			if t := ring[b%len(ring)]; t.carrier && t.class == ring[a].class {
				return true
			}
		}
	}
	return false
}

// joinedAt reports whether x and y are joined where they touch at v.
func (m *model) joinedAt(v, x, y int32) bool {
	a, b := min(x, y), max(x, y)
	for _, c := range m.byVertex[v] {
		if k := &m.contacts[c]; k.a == a && k.b == b && k.joined {
			return true
		}
	}
	return false
}

// route returns the shortest run of links from any inside face to any outside
// one, by count, and its ends; nil where there is none.
func (g *graph) route() (nodes []int32, via []link, from, to source) {
	m := g.m
	target := map[int32]source{}
	for _, o := range m.outside {
		if _, ok := target[o.face]; !ok {
			target[o.face] = o
		}
	}
	hit := false
	reach := map[int32]bool{}
	for f := range target {
		reach[g.find(f)] = true
	}
	for _, s := range m.inside {
		hit = hit || reach[g.find(s.face)]
	}
	if !hit {
		return nil, nil, source{}, source{}
	}
	if !g.keep { // only now are the links wanted
		g.keep = true
		g.build()
	}
	next := make([][]int32, len(g.root))
	for i, l := range g.links {
		next[l.a] = append(next[l.a], int32(i))
		next[l.b] = append(next[l.b], int32(i))
	}
	came := make([]int32, len(g.root)) // link + 1; -1 a start
	start := map[int32]source{}
	var queue []int32
	for _, s := range m.inside {
		if came[s.face] == 0 {
			came[s.face] = -1
			start[s.face] = s
			queue = append(queue, s.face)
		}
	}
	for len(queue) > 0 {
		n := queue[0]
		queue = queue[1:]
		if t, ok := target[n]; ok {
			for k := n; ; {
				nodes = append(nodes, k)
				if came[k] < 0 {
					from = start[k]
					break
				}
				l := g.links[came[k]-1]
				via = append(via, l)
				k = l.a + l.b - k
			}
			slices.Reverse(nodes)
			slices.Reverse(via)
			return nodes, via, from, t
		}
		for _, i := range next[n] {
			if o := g.links[i].a + g.links[i].b - n; came[o] == 0 {
				came[o] = i + 1
				queue = append(queue, o)
			}
		}
	}
	panic("continuity: a joined pair has no route")
}
