package continuity

import (
	"fmt"

	"wythe/renderer/detail"
	"wythe/renderer/geometry"
)

// sealContacts finds the touches that would shut the way found.
func (t *tracer) sealContacts(nodes []int32, via []link) bool {
	m := t.m
	odd := m.slipped(nodes, via)
	p := m.pieces()
	run, _ := chain(len(p.item), p.touchBonds(odd, 1))
	var hit []int32
	for _, b := range run {
		if b.contact >= 0 && !m.contacts[b.contact].joined {
			hit = append(hit, b.contact)
		}
	}
	if hit == nil { // no chain shuts it: take every touch that it slips through
		for c := range m.contacts {
			if odd[int32(c)] {
				hit = append(hit, int32(c))
			}
		}
	}
	for _, c := range hit {
		k := &m.contacts[c]
		at := m.place(k)
		if l := t.closing(k); !l {
			t.report.Gaps = append(t.report.Gaps, Gap{
				Between: [2]string{m.name(k.a), m.name(k.b)}, At: point(at), Ends: m.contactEnds(k), Touch: true,
				Fault: k.fault, Mend: t.sealMend(k),
			})
		}
		t.forced = append(t.forced, force{k.a, k.b, m.a.Points[k.vertices[0]]})
		k.join("forced")
	}
	return len(hit) > 0
}

func (t *tracer) closing(k *contact) bool { return t.m.closing(k.a) || t.m.closing(k.b) }

func (t *tracer) sealMend(k *contact) string {
	a, b := t.m.name(k.a), t.m.name(k.b)
	switch k.fault {
	case reverseLap:
		return "lay the upper sheet over the lower on the wet side"
	case "":
	default:
		if t.m.control == detail.Water && k.fault == "laps too little" {
			return fmt.Sprintf("lap %s over %s by at least 4 in, or seal the lap", a, b)
		}
	}
	return fmt.Sprintf("seal %s to %s where they touch", a, b)
}

// contactEnds are the outermost vertices of a contact.
func (m *model) contactEnds(c *contact) [2]geometry.Point {
	lo, hi := m.a.Points[c.vertices[0]], m.a.Points[c.vertices[0]]
	for _, v := range c.vertices {
		if p := m.a.Points[v]; p.Less(lo) {
			lo = p
		} else if hi.Less(p) {
			hi = p
		}
	}
	return [2]geometry.Point{lo, hi}
}

// slipped finds the contacts that a way passes through an odd number of times.
func (m *model) slipped(nodes []int32, via []link) map[int32]bool {
	faces := int32(m.a.Faces())
	odd := map[int32]bool{}
	contactOf := func(n int32) int32 {
		if n < faces {
			return -1
		}
		return m.lanes[n-faces].contact
	}
	last := int32(-1)
	for _, n := range nodes {
		c := contactOf(n)
		if c >= 0 && c != last {
			odd[c] = !odd[c]
		}
		last = c
	}
	var ring []token
	for i, l := range via {
		if l.vertex < 0 {
			continue
		}
		for _, c := range m.byVertex[l.vertex] {
			k := &m.contacts[c]
			if k.joined || c == contactOf(nodes[i]) || c == contactOf(nodes[i+1]) {
				continue
			}
			ring = m.tokens(l.vertex, ring[:0])
			m.classes(l.vertex, ring)
			if m.wouldPart(ring, k, nodes[i], nodes[i+1]) {
				odd[c] = !odd[c]
			}
		}
	}
	return odd
}

// wouldPart reports whether joining a contact at a vertex parts two open nodes.
func (m *model) wouldPart(ring []token, k *contact, from, to int32) bool {
	free := func() bool {
		for i := range ring {
			for j := i + 1; j < len(ring); j++ {
				x, y := ring[i], ring[j]
				if !x.carrier && !y.carrier && (x.id == from && y.id == to || x.id == to && y.id == from) && !parted(ring, i, j) {
					return true
				}
			}
		}
		return false
	}
	for i := range ring {
		for j := range ring {
			if ring[i].carrier && ring[j].carrier && ring[i].id == k.a && ring[j].id == k.b {
				merge(ring, i, j)
			}
		}
	}
	return !free()
}

// slipPath draws the way through faces and slits: by trapezoids through what
// is open, along the edges of slits.
func (t *tracer) slipPath(nodes []int32, via []link, from, to source) []geometry.Vec {
	m := t.m
	z := m.trapezoids()
	faces := int32(m.a.Faces())
	at := m.point(from)
	out := []geometry.Vec{at}
	face := nodes[0] // of the stretch in the open
	for i, l := range via {
		if l.vertex < 0 {
			continue
		}
		v := m.a.Points[l.vertex].Vec()
		if n := nodes[i]; n < faces {
			if p := z.path(z.cellAt(face, at), z.cellAt(n, v), at, v); len(p) > 0 {
				out = append(out, p[1:]...)
			}
		} else {
			out = append(out, v)
		}
		at = v
		if n := nodes[i+1]; n < faces {
			face = n
		}
	}
	end := m.point(to)
	if p := z.path(z.cellAt(face, at), z.cellAt(to.face, end), at, end); len(p) > 0 {
		out = append(out, p[1:]...)
	}
	return out
}
