package continuity

import (
	"container/heap"
	"math"
	"slices"

	"wythe/renderer/detail"
	"wythe/renderer/geometry"
	"wythe/renderer/section"
)

// endReach is how near a declared end must be to a part that carries the
// control: 2 in, the width of a hand's mark on a drawing.
const endReach = 50800 // µm

// ended traces a control that is declared to stop. Two things are proved: a
// chain of carriers runs whole from the cut, or from one end to the other, to
// each declared end; and no way is left from inside to outside through air
// alone. What lies in the ground or in solid parts beyond the end is excused:
// the reason is printed beside the verdict.
func (t *tracer) ended() {
	r := t.report
	for range mostRounds {
		if !t.endedRound() {
			break
		}
	}
	t.airWay()
	r.Gaps = slices.CompactFunc(r.Gaps, func(a, b Gap) bool { return a.At == b.At && a.Between == b.Between })
}

// endedRound looks for the cheapest chain to each end; it reports whether a
// gap was closed, so that the chain must be looked for again.
func (t *tracer) endedRound() bool {
	m, r := t.m, t.report
	p := m.pieces()
	touches := p.touchBonds(nil, unsealedWeight)
	ends := make([]int32, len(r.Ends))
	for i, e := range r.Ends {
		ends[i] = p.nearest(e)
		if ends[i] < 0 {
			r.Verdict, r.Reason = NotTraced, "no part that carries it stands at its declared end"
			return false
		}
	}
	r.Chain, r.Lines = nil, nil
	lined := map[int32]bool{cutPiece: true}
	for i := range ends {
		goal := map[int32]bool{cutPiece: true}
		for k := range ends {
			if ends[k] != ends[i] {
				goal[ends[k]] = true
			}
		}
		var run []bond
		m.within(func(width float64) (cost float64) {
			run, cost = cheapest(ends[i], goal, len(p.item), append(touches, p.gapBonds(nil, 0, width)...))
			return cost
		})
		if run == nil && i == 0 && len(ends) == 1 {
			r.Verdict, r.Reason = NotTraced, "the part at its declared end reaches no cut"
			return false
		}
		closed := false
		for _, b := range run {
			if b.gap {
				r.Verdict = Broken
				t.shut(p, b)
				closed = true
			}
		}
		if closed {
			t.rebuild()
			return true
		}
		for _, b := range run {
			if b.contact < 0 || m.contacts[b.contact].joined {
				continue
			}
			k := &m.contacts[b.contact]
			if r.Verdict != Broken {
				r.Verdict = Unsealed
			}
			r.Gaps = append(r.Gaps, Gap{
				Between: [2]string{m.name(k.a), m.name(k.b)}, At: point(m.place(k)), Ends: m.contactEnds(k), Touch: true,
				Fault: k.fault, Mend: t.sealMend(k),
			})
			t.forced = append(t.forced, force{k.a, k.b, m.a.Points[k.vertices[0]]})
			k.join("forced")
			closed = true
		}
		if closed {
			return true
		}
		t.addChain(p, ends, i, run, lined)
	}
	return false
}

// addChain names the pieces of a run from the cut, or another end, to an end,
// and adds the line of each that has none yet.
func (t *tracer) addChain(p *pieces, ends []int32, i int, run []bond, lined map[int32]bool) {
	names := []string{}
	at, piece := t.report.Ends[i].Place, ends[i]
	add := func(next geometry.Point) {
		if piece == cutPiece || t.m.closing(p.item[piece]) {
			return
		}
		n := p.name(piece, geometry.Vec{})
		if k := len(names); k == 0 || names[k-1] != n {
			names = append(names, n)
		}
		if !lined[piece] {
			lined[piece] = true
			t.pieceLine(p, piece, at, next)
		}
	}
	for _, b := range run {
		next := p.passage(piece, b)
		add(next)
		at, piece = next, b.b
	}
	if k := slices.Index(ends, piece); k >= 0 {
		add(t.report.Ends[k].Place)
	}
	slices.Reverse(names)
	for _, n := range names {
		if k := len(t.report.Chain); k == 0 || t.report.Chain[k-1] != n {
			t.report.Chain = append(t.report.Chain, n)
		}
	}
}

// passage is where a chain leaves a piece by a bond: the middle of a touch, or
// of the stretch in which the piece meets the cut.
func (p *pieces) passage(piece int32, b bond) geometry.Point {
	m := p.m
	switch {
	case b.contact >= 0:
		return point(m.place(&m.contacts[b.contact]))
	case b.b != cutPiece:
		return point(geometry.Vec{X: (b.from.X + b.to.X) / 2, Y: (b.from.Y + b.to.Y) / 2})
	}
	best, at := -1.0, geometry.Point{}
	for e := range m.a.Edges {
		l, r := m.left(int32(e)), m.right(int32(e))
		if (l == wall) == (r == wall) {
			continue
		}
		if id, ok := p.onEdge(int32(e), p.item[piece]); ok && id == piece {
			u, v := m.ends(int32(e))
			if d := u.Distance(v); d > best {
				best, at = d, geometry.Point{X: (u.X + v.X) / 2, Y: (u.Y + v.Y) / 2}
			}
		}
	}
	return at
}

// pieceLine adds the line of a piece: a film's own; through a body that keeps
// heat, from where the chain enters it to where it leaves; of another body its
// wet face.
func (t *tracer) pieceLine(p *pieces, piece int32, from, to geometry.Point) {
	m := t.m
	name := m.name(p.item[piece])
	if f := m.film(p.item[piece]); f != nil {
		if slices.ContainsFunc(t.report.Lines, func(l Line) bool { return l.Name == name }) {
			return
		}
		for _, run := range t.s.Runs {
			if t.s.Films[run.Film].Name == name {
				t.report.Lines = append(t.report.Lines, Line{Name: name, Points: run.Line})
			}
		}
		return
	}
	if m.control == detail.Thermal {
		t.report.Lines = append(t.report.Lines, Line{Name: name, Points: []geometry.Point{from, to}})
		return
	}
	wet := m.wetness()
	for _, o := range t.s.Outlines {
		for k, side := range [...]int32{o.Left, o.Right} {
			other := [...]int32{o.Right, o.Left}[k]
			if side < 0 || other < 0 || p.ofFace[side] != piece {
				continue
			}
			if mid(wet, t.s, other) > mid(wet, t.s, side) {
				t.report.Lines = append(t.report.Lines, Line{Name: name, Points: o.Line})
			}
		}
	}
}

// mid is the wetness of the first arrangement face of a section's face.
func mid(wet []int64, s *section.Section, face int32) int64 {
	i := slices.Index(s.FaceOf, face)
	return wet[i]
}

// nearest finds the piece at a declared end; -1 where none stands there.
func (p *pieces) nearest(e section.End) int32 {
	m := p.m
	best, at := float64(endReach), int32(-1)
	try := func(edge, item int32) {
		id, ok := p.onEdge(edge, item)
		if !ok {
			return
		}
		u, v := m.ends(edge)
		if _, d := geometry.Nearest(e.Place.Vec(), u.Vec(), v.Vec()); d < best || d == best && id < at {
			best, at = d, id
		}
	}
	for edge := range m.a.Edges {
		for _, f := range m.films[edge] {
			try(int32(edge), f)
		}
		l, r := m.left(int32(edge)), m.right(int32(edge))
		if l >= 0 && l != r {
			try(int32(edge), l)
		}
		if r >= 0 && l != r {
			try(int32(edge), r)
		}
	}
	return at
}

// cheapest run of bonds from a piece to any goal, and its cost; nil where none
// is reached.
func cheapest(from int32, goal map[int32]bool, pieceCount int, bonds []bond) ([]bond, float64) {
	next := make([][]int32, pieceCount)
	for i, b := range bonds {
		next[b.a] = append(next[b.a], int32(i))
		if b.a != b.b {
			next[b.b] = append(next[b.b], int32(i))
		}
	}
	cost := make([]float64, len(next))
	back := make([]int32, len(next))
	done := make([]bool, len(next))
	for i := range cost {
		cost[i], back[i] = math.Inf(1), -1
	}
	cost[from] = 0
	q := visits{{from, 0}}
	for len(q) > 0 {
		v := heap.Pop(&q).(visit)
		if done[v.cell] {
			continue
		}
		done[v.cell] = true
		if goal[v.cell] {
			var run []bond
			for k := v.cell; k != from; {
				b := bonds[back[k]]
				if b.b != k {
					b.a, b.b, b.from, b.to = b.b, b.a, b.to, b.from
				}
				run = append(run, b)
				k = b.a
			}
			slices.Reverse(run)
			return run, v.cost
		}
		for _, i := range next[v.cell] {
			b := &bonds[i]
			to := b.a + b.b - v.cell
			if c := v.cost + b.weight; c < cost[to] {
				cost[to], back[to] = c, i
				heap.Push(&q, visit{to, c})
			}
		}
	}
	return nil, math.Inf(1)
}

// airWay reports a way from inside to outside through air alone, which no
// declared end excuses.
func (t *tracer) airWay() {
	m := t.m
	plain := m.item
	solid := slices.Clone(m.item)
	for f := range solid {
		if o := m.s.Owner[f]; solid[f] == open && o >= 0 && !m.s.Regions[o].Air() {
			solid[f] = wall
		}
	}
	m.item = solid
	g := m.reach(false)
	inside, outside := m.inside, m.outside
	m.outside = nil
	for _, s := range outside {
		if solid[s.face] == open {
			m.outside = append(m.outside, s)
		}
	}
	if nodes, _, from, to := g.route(); nodes != nil {
		t.report.Verdict = Broken
		l := Leak{from.name, to.name}
		t.report.Leaks = append(t.report.Leaks, l)
		z := m.trapezoids()
		a, b := m.point(from), m.point(to)
		t.report.Path = rounded(z.path(z.cellAt(from.face, a), z.cellAt(to.face, b), a, b))
	}
	m.item, m.inside, m.outside = plain, inside, outside
}
