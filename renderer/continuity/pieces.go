package continuity

import (
	"wythe/renderer/detail"
	"wythe/renderer/geometry"
)

// pieces are the connected stretches in which carriers show: a film that a
// pipe cuts in two is two pieces. Piece 0 is the cut: the edge of the view.
type pieces struct {
	m      *model
	item   []int32 // per piece; open for the cut
	ofFace []int32 // by the section's face
	ofFilm map[filmAt]int32
	ties   []tie
}

type filmAt struct {
	edge, item int32
}

// cutPiece is the edge of the view.
const cutPiece int32 = 0

// tie joins two pieces that touch.
type tie struct {
	a, b    int32
	contact int32 // -1: both reach it for good (the cut, a body with itself)
	joined  bool
}

func (m *model) pieces() *pieces {
	p := &pieces{m: m, item: []int32{open}, ofFace: make([]int32, len(m.s.Faces)), ofFilm: map[filmAt]int32{}}
	for i, f := range m.s.Faces {
		p.ofFace[i] = -1
		if f.Region >= 0 && m.carries[f.Region] {
			p.ofFace[i] = int32(len(p.item))
			p.item = append(p.item, f.Region)
		}
	}
	p.filmPieces()
	for i := range m.contacts {
		c := &m.contacts[i]
		a, b := p.at(c, c.a), p.at(c, c.b)
		p.ties = append(p.ties, tie{a, b, int32(i), c.joined})
	}
	p.cutTies()
	return p
}

// filmPieces numbers the connected stretches of each film that carries.
func (p *pieces) filmPieces() {
	m := p.m
	type end struct{ vertex, item int32 }
	byEnd := map[end][]int32{} // edges of a film at a vertex
	for e := range m.a.Edges {
		for _, f := range m.films[e] {
			byEnd[end{m.a.Edges[e].U, f}] = append(byEnd[end{m.a.Edges[e].U, f}], int32(e))
			byEnd[end{m.a.Edges[e].V, f}] = append(byEnd[end{m.a.Edges[e].V, f}], int32(e))
		}
	}
	var stack []int32
	for e := range m.a.Edges {
		for _, f := range m.films[e] {
			if _, known := p.ofFilm[filmAt{int32(e), f}]; known {
				continue
			}
			id := int32(len(p.item))
			p.item = append(p.item, f)
			p.ofFilm[filmAt{int32(e), f}] = id
			stack = append(stack[:0], int32(e))
			for len(stack) > 0 {
				k := stack[len(stack)-1]
				stack = stack[:len(stack)-1]
				for _, v := range [...]int32{m.a.Edges[k].U, m.a.Edges[k].V} {
					for _, n := range byEnd[end{v, f}] {
						if _, known := p.ofFilm[filmAt{n, f}]; !known {
							p.ofFilm[filmAt{n, f}] = id
							stack = append(stack, n)
						}
					}
				}
			}
		}
	}
}

// at finds the piece of an item that takes part in a contact.
func (p *pieces) at(c *contact, item int32) int32 {
	m := p.m
	for _, l := range c.lanes {
		if id, ok := p.onEdge(m.lanes[l].edge, item); ok {
			return id
		}
	}
	for _, v := range c.vertices {
		for _, h := range m.a.Outgoing(v) {
			if id, ok := p.onEdge(h.Edge(), item); ok {
				return id
			}
		}
	}
	panic("continuity: a contact without its carriers")
}

// onEdge finds the piece of an item on or beside an edge.
func (p *pieces) onEdge(e, item int32) (int32, bool) {
	m := p.m
	if item >= m.regions {
		id, ok := p.ofFilm[filmAt{e, item}]
		return id, ok
	}
	for _, h := range [...]geometry.Half{geometry.Half(2 * e), geometry.Half(2*e + 1)} {
		if f := m.a.FaceOf(h); m.item[f] == item {
			return p.ofFace[m.s.FaceOf[f]], true
		}
	}
	return 0, false
}

// cutTies joins what reaches the edge of the view to the cut.
func (p *pieces) cutTies() {
	m := p.m
	seen := map[int32]bool{}
	add := func(id int32) {
		if !seen[id] {
			seen[id] = true
			p.ties = append(p.ties, tie{cutPiece, id, -1, true})
		}
	}
	border := make([]bool, len(m.a.Points))
	for e := range m.a.Edges {
		l, r := m.left(int32(e)), m.right(int32(e))
		if (l == wall) == (r == wall) {
			continue
		}
		border[m.a.Edges[e].U], border[m.a.Edges[e].V] = true, true
		if i := max(l, r); i >= 0 {
			id, _ := p.onEdge(int32(e), i)
			add(id)
		}
	}
	for e := range m.a.Edges {
		if border[m.a.Edges[e].U] || border[m.a.Edges[e].V] {
			for _, f := range m.films[e] {
				add(p.ofFilm[filmAt{int32(e), f}])
			}
		}
	}
}

// name of a piece; the cut is named with its side where a place on it is known.
func (p *pieces) name(id int32, at geometry.Vec) string {
	if id != cutPiece {
		return p.m.name(p.item[id])
	}
	v := p.m.s.View
	side, best := detail.Left, at.X-float64(v.Min.X)
	for s, d := range map[detail.Side]float64{
		detail.Right: float64(v.Max.X) - at.X, detail.Bottom: at.Y - float64(v.Min.Y), detail.Top: float64(v.Max.Y) - at.Y,
	} {
		if d < best || d == best && s < side {
			side, best = s, d
		}
	}
	return "cut at " + string(side)
}
