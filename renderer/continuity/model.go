package continuity

import (
	"slices"

	"wythe/renderer/detail"
	"wythe/renderer/geometry"
	"wythe/renderer/section"
)

// Items that are no carrier.
const (
	open int32 = -1 // what does not carry the control
	wall int32 = -2 // beyond the view
)

// model is a section seen by one control: what carries it, what is open, and
// where carriers touch. Items are regions, then films.
type model struct {
	s        *section.Section
	a        *geometry.Arrangement
	control  detail.Control
	regions  int32
	carries  []bool  // by item
	item     []int32 // by arrangement face: its carrier, open or wall
	films    [][]int32
	laneAt   []int32 // by edge, into lanes; one more
	lanes    []lane
	contacts []contact
	byVertex map[int32][]int32 // contacts that reach a vertex
	carrierV []bool            // a carrier touches the vertex
	inside   []source
	outside  []source
	soil     bool // soil is outside somewhere
}

// lane is the slit between two carriers along one edge.
type lane struct {
	edge    int32
	a, b    int32 // items, from U's left hand to its right
	contact int32
}

// contact is a connected stretch, or a point, in which two carriers touch.
type contact struct {
	a, b     int32 // a < b
	lanes    []int32
	vertices []int32
	joined   bool
	by       string  // why it is joined
	length   float64 // µm
	fault    string  // why it is not, where something was tried
}

// source is a face that lies in a space.
type source struct {
	face int32
	name string
}

func newModel(s *section.Section, c detail.Control) *model {
	m := &model{s: s, a: s.Arrangement, control: c, regions: int32(len(s.Regions))}
	m.carries = make([]bool, len(s.Regions)+len(s.Films))
	for i := range s.Regions {
		g := &s.Regions[i]
		m.carries[i] = !g.Hole && slices.Contains(g.Control, c)
	}
	for i := range s.Films {
		f := &s.Films[i]
		carries := slices.Contains(f.Control, c)
		switch {
		case f.Seal == section.ClosingFilm:
			carries = true
		case f.Seal >= 0:
			carries = true
			for _, member := range s.Seals[f.Seal].Joins {
				carries = carries && m.memberCarries(member)
			}
		}
		m.carries[int(m.regions)+i] = carries
	}
	m.item = make([]int32, m.a.Faces())
	for f := range m.item {
		switch o := s.Owner[f]; {
		case o == section.Outside:
			m.item[f] = wall
		case o >= 0 && m.carries[o]:
			m.item[f] = o
		default:
			m.item[f] = open
		}
	}
	m.films = make([][]int32, len(m.a.Edges))
	for e, list := range s.FilmsOn {
		for _, f := range list {
			if i := m.regions + f.Film; m.carries[i] {
				m.films[e] = append(m.films[e], i)
			}
		}
	}
	m.findLanes()
	m.findContacts()
	m.findSources()
	return m
}

func (m *model) memberCarries(member section.Member) bool {
	for i := range m.s.Regions {
		if g := &m.s.Regions[i]; m.carries[i] && g.Part == member.Part && (member.Layer < 0 || g.Layer == member.Layer) {
			return true
		}
	}
	for i := range m.s.Films {
		if f := &m.s.Films[i]; f.Seal == -1 && slices.Contains(f.Control, m.control) && f.Part == member.Part && (member.Layer < 0 || f.Layer == member.Layer) {
			return true
		}
	}
	return false
}

// is reports whether an item belongs to a seal's member.
func (m *model) is(item int32, member section.Member) bool {
	if item < m.regions {
		g := &m.s.Regions[item]
		return g.Part == member.Part && (member.Layer < 0 || g.Layer == member.Layer)
	}
	f := &m.s.Films[item-m.regions]
	return f.Seal == -1 && f.Part == member.Part && (member.Layer < 0 || f.Layer == member.Layer)
}

// name of an item.
func (m *model) name(item int32) string {
	switch {
	case item < 0:
		return ""
	case item < m.regions:
		return m.s.Regions[item].Name
	}
	return m.s.Films[item-m.regions].Name
}

func (m *model) film(item int32) *section.Film {
	if item < m.regions {
		return nil
	}
	return &m.s.Films[item-m.regions]
}

// left and right are the items of the faces beside an edge.
func (m *model) left(e int32) int32  { return m.item[m.a.FaceOf(geometry.Half(2*e))] }
func (m *model) right(e int32) int32 { return m.item[m.a.FaceOf(geometry.Half(2*e+1))] }

// slit reports whether two neighbours across an edge leave a slit between
// them: two carriers that are not one body.
func slit(x, y int32) bool { return x >= 0 && y >= 0 && x != y }

// findLanes lists the slits of every edge.
func (m *model) findLanes() {
	m.laneAt = make([]int32, len(m.a.Edges)+1)
	for e := range m.a.Edges {
		prev := m.left(int32(e))
		for _, f := range m.films[e] {
			m.addLane(int32(e), prev, f)
			prev = f
		}
		m.addLane(int32(e), prev, m.right(int32(e)))
		m.laneAt[e+1] = int32(len(m.lanes))
	}
}

func (m *model) addLane(e, x, y int32) {
	if slit(x, y) {
		m.lanes = append(m.lanes, lane{edge: e, a: x, b: y, contact: -1})
	}
}

// findContacts gathers slits, and vertices where two carriers touch, into
// connected contacts.
func (m *model) findContacts() {
	type touch struct {
		a, b   int32
		vertex int32
	}
	var touches []touch
	var items []int32
	m.carrierV = make([]bool, len(m.a.Points))
	for v := range m.a.Points {
		items = items[:0]
		for _, h := range m.a.Outgoing(int32(v)) {
			for _, f := range m.films[h.Edge()] {
				items = append(items, f)
			}
			if i := m.item[m.a.FaceOf(h)]; i >= 0 {
				items = append(items, i)
			}
		}
		if len(items) == 0 {
			continue
		}
		m.carrierV[v] = true
		slices.Sort(items)
		items = slices.Compact(items)
		for k, x := range items {
			for _, y := range items[k+1:] {
				touches = append(touches, touch{x, y, int32(v)})
			}
		}
	}
	slices.SortFunc(touches, func(x, y touch) int {
		if x.a != y.a {
			return int(x.a) - int(y.a)
		}
		if x.b != y.b {
			return int(x.b) - int(y.b)
		}
		return int(x.vertex) - int(y.vertex)
	})
	type pair struct{ a, b int32 }
	lanesOf := map[pair][]int32{}
	for i, l := range m.lanes {
		p := pair{min(l.a, l.b), max(l.a, l.b)}
		lanesOf[p] = append(lanesOf[p], int32(i))
	}
	m.byVertex = map[int32][]int32{}
	for i := 0; i < len(touches); {
		j := i
		for j < len(touches) && touches[j].a == touches[i].a && touches[j].b == touches[i].b {
			j++
		}
		m.connect(touches[i].a, touches[i].b, func(yield func(int32)) {
			for _, t := range touches[i:j] {
				yield(t.vertex)
			}
		}, lanesOf[pair{touches[i].a, touches[i].b}])
		i = j
	}
}

// connect parts the touches of one pair into connected contacts.
func (m *model) connect(a, b int32, vertices func(func(int32)), lanes []int32) {
	root := map[int32]int32{}
	var find func(v int32) int32
	find = func(v int32) int32 {
		if root[v] != v {
			root[v] = find(root[v])
		}
		return root[v]
	}
	vertices(func(v int32) { root[v] = v })
	for _, l := range lanes {
		e := m.a.Edges[m.lanes[l].edge]
		root[find(e.U)] = find(e.V)
	}
	index := map[int32]int32{}
	vertices(func(v int32) {
		r := find(v)
		c, ok := index[r]
		if !ok {
			c = int32(len(m.contacts))
			index[r] = c
			m.contacts = append(m.contacts, contact{a: a, b: b})
		}
		m.contacts[c].vertices = append(m.contacts[c].vertices, v)
		m.byVertex[v] = append(m.byVertex[v], c)
	})
	for _, l := range lanes {
		e := m.a.Edges[m.lanes[l].edge]
		c := index[find(e.U)]
		m.lanes[l].contact = c
		m.contacts[c].lanes = append(m.contacts[c].lanes, l)
		m.contacts[c].length += m.a.Points[e.U].Distance(m.a.Points[e.V])
	}
}

// findSources lists the faces of inside and outside spaces, and the soil that
// reaches a cut, which is outside.
func (m *model) findSources() {
	for _, sp := range m.s.Spaces {
		for _, p := range sp.Points {
			f, on := m.a.FaceAt(p)
			if on || m.item[f] != open {
				continue
			}
			if sp.Inside {
				m.inside = append(m.inside, source{f, sp.Name})
			} else {
				m.outside = append(m.outside, source{f, sp.Name})
			}
		}
	}
	for f := int32(1); f < int32(m.a.Faces()); f++ {
		o := m.s.Owner[f]
		if o < 0 || m.item[f] != open || !m.s.Regions[o].Soil() || !m.s.Faces[m.s.FaceOf[f]].AtCut {
			continue
		}
		m.soil = true
		m.outside = append(m.outside, source{f, m.s.Regions[o].Name})
	}
}

// place is where a contact is: the middle of its longest lane, or its vertex.
func (m *model) place(c *contact) geometry.Vec {
	best := -1.0
	at := m.a.Points[c.vertices[0]].Vec()
	for _, l := range c.lanes {
		e := m.a.Edges[m.lanes[l].edge]
		u, v := m.a.Points[e.U], m.a.Points[e.V]
		if d := u.Distance(v); d > best {
			best = d
			at = geometry.Vec{X: float64(u.X+v.X) / 2, Y: float64(u.Y+v.Y) / 2}
		}
	}
	return at
}
