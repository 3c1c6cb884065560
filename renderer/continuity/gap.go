package continuity

import (
	"cmp"
	"container/heap"
	"math"
	"slices"

	"wythe/renderer/geometry"
	"wythe/renderer/section"
)

// bond is one step a chain may take from piece to piece: a touch, or a gap to
// be closed. Odd bonds cross the path from inside to outside.
type bond struct {
	a, b     int32
	odd      bool
	weight   float64 // µm; more than the width where no one would close it so
	width    float64 // µm
	contact  int32   // of a touch; -1 none
	gap      bool
	from, to geometry.Vec
}

// unsealedWeight makes a chain prefer touches that are joined, µm.
const unsealedWeight = 1

// exposed is an edge at which a piece, or the cut, faces what is open.
type exposed struct {
	piece int32
	u, v  geometry.Point
}

// exposures lists them, no longer than step (µm), so that a bond may be found
// to either side of the path's ends; step 0 leaves carriers' edges whole.
func (p *pieces) exposures(step int64) []exposed {
	m := p.m
	var out []exposed
	add := func(e, item int32) {
		u, v := m.ends(e)
		id, most := cutPiece, max(m.s.View.Width(), m.s.View.Height())/12
		if item != wall {
			id, _ = p.onEdge(e, item)
			most = step
		}
		n := int64(1)
		if most > 0 {
			n += int64(u.Distance(v)) / most
		}
		from := u
		for k := int64(1); k <= n; k++ {
			to := geometry.Point{X: u.X + (v.X-u.X)*k/n, Y: u.Y + (v.Y-u.Y)*k/n}
			out = append(out, exposed{id, from, to})
			from = to
		}
	}
	for e := range m.a.Edges {
		l, r := m.left(int32(e)), m.right(int32(e))
		f := m.films[e]
		switch {
		case len(f) > 0:
			if l == open {
				add(int32(e), f[0])
			}
			if r == open && (l != open || f[len(f)-1] != f[0]) {
				add(int32(e), f[len(f)-1])
			}
		case l == open && r != open:
			add(int32(e), r)
		case r == open && l != open:
			add(int32(e), l)
		}
	}
	return out
}

// within calls look with a growing width until what it finds costs no more
// than the width: no gap wider than that could make it cheaper. look returns
// the cost of what it found; +Inf where it found nothing.
func (m *model) within(look func(width float64) float64) {
	v := m.s.View
	far := 2 * float64(v.Width()+v.Height())
	for width := far / 128; ; width *= 4 {
		if look(width) <= width || width > far {
			return
		}
	}
}

// gapBonds finds, for each pair of pieces, the least gap under a width that
// the path does not cross and the least that it crosses an odd number of times.
func (p *pieces) gapBonds(path []geometry.Vec, step int64, width float64) []bond {
	type key struct {
		a, b int32
		odd  bool
	}
	best := map[key]bond{}
	list := p.exposures(step)
	slices.SortStableFunc(list, func(x, y exposed) int {
		return cmp.Compare(min(x.u.X, x.v.X), min(y.u.X, y.v.X))
	})
	for i := range list {
		x := &list[i]
		end := float64(max(x.u.X, x.v.X)) + width
		for k := i; k < len(list); k++ {
			y := &list[k]
			if float64(min(y.u.X, y.v.X)) >= end {
				break
			}
			if apart(x, y) >= width {
				continue
			}
			a, b := min(x.piece, y.piece), max(x.piece, y.piece)
			if a == cutPiece && b == cutPiece {
				continue
			}
			odd, hasOdd := best[key{a, b, true}]
			even, hasEven := best[key{a, b, false}]
			limit := width
			if hasOdd && (hasEven || a == b) {
				limit = math.Min(width, odd.weight)
				if a != b {
					limit = math.Min(width, math.Max(odd.weight, even.weight))
				}
			}
			if apart(x, y) >= limit {
				continue
			}
			from, to, d := geometry.SegmentDistance(x.u, x.v, y.u, y.v)
			if d == 0 || d >= limit {
				continue
			}
			o := crossings(path, from, to)%2 == 1
			if a == b && !o || p.m.hitsSpace(from, to) {
				continue
			}
			n := bond{a: a, b: b, odd: o, weight: d, width: d, contact: -1, gap: true, from: from, to: to}
			if x.piece != a {
				n.from, n.to = to, from
			}
			old, ok := best[key{a, b, o}]
			if ok && d >= old.weight {
				continue
			}
			if (p.m.soil || a == cutPiece) && p.m.idle(from, to, a == cutPiece) {
				n.weight *= idleWeight
			}
			if !ok || n.weight < old.weight {
				best[key{a, b, o}] = n
			}
		}
	}
	out := make([]bond, 0, len(best))
	for _, b := range best {
		out = append(out, b)
	}
	slices.SortFunc(out, func(x, y bond) int {
		switch {
		case x.a != y.a:
			return int(x.a - y.a)
		case x.b != y.b:
			return int(x.b - y.b)
		case x.odd:
			return 1
		}
		return -1
	})
	return out
}

// overlap is how far a closing reaches into what it joins, µm: more than
// noding bends an edge.
const overlap = 3

// closing is the film that would shut a gap.
func (b bond) closing() [2]geometry.Point {
	dx, dy := b.to.X-b.from.X, b.to.Y-b.from.Y
	k := overlap / math.Hypot(dx, dy)
	return [2]geometry.Point{
		point(geometry.Vec{X: b.from.X - k*dx, Y: b.from.Y - k*dy}),
		point(geometry.Vec{X: b.to.X + k*dx, Y: b.to.Y + k*dy}),
	}
}

// idleWeight turns chains away from gaps that no one would close: a sheet
// drawn through the ground has the outside on both its sides, and one drawn
// through a room's air to the edge of the view parts the room.
const idleWeight = 50

// idle reports whether a segment runs inside soil that is outside or, to the
// cut, through the air of a space.
func (m *model) idle(a, b geometry.Vec, cut bool) bool {
	for _, f := range [...]float64{0.25, 0.5, 0.75} {
		face, on := m.a.FaceAt(point(geometry.Vec{X: a.X + (b.X-a.X)*f, Y: a.Y + (b.Y-a.Y)*f}))
		id := m.s.FaceOf[face]
		if on || id < 0 {
			continue
		}
		seen := &m.s.Faces[id]
		if o := m.s.Owner[face]; o >= 0 && m.s.Regions[o].Soil() && seen.AtCut || cut && o == section.Open {
			return true
		}
	}
	return false
}

// hitsSpace reports whether a segment passes through the very place that
// stands for a space: it could not be said on which side that lies.
func (m *model) hitsSpace(a, b geometry.Vec) bool {
	for _, sp := range m.s.Spaces {
		for _, p := range sp.Points {
			if _, d := geometry.Nearest(p.Vec(), a, b); d < 2 {
				return true
			}
		}
	}
	return false
}

// apart is a lower bound of the distance of two edges.
func apart(x, y *exposed) float64 {
	dx := max(min(x.u.X, x.v.X)-max(y.u.X, y.v.X), min(y.u.X, y.v.X)-max(x.u.X, x.v.X), 0)
	dy := max(min(x.u.Y, x.v.Y)-max(y.u.Y, y.v.Y), min(y.u.Y, y.v.Y)-max(x.u.Y, x.v.Y), 0)
	return math.Max(float64(dx), float64(dy))
}

// touchBonds are the pieces' ties as bonds; odd says which contacts the path
// slips through an odd number of times.
func (p *pieces) touchBonds(odd map[int32]bool, unsealed float64) []bond {
	var out []bond
	for _, t := range p.ties {
		b := bond{a: t.a, b: t.b, contact: t.contact, odd: odd[t.contact]}
		if !t.joined {
			b.weight = unsealed
		}
		out = append(out, b)
	}
	return out
}

// chain finds the cheapest closed run of bonds that crosses the path an odd
// number of times: shortest paths over pieces and the parity so far. nil where
// there is none.
func chain(pieceCount int, bonds []bond) ([]bond, float64) {
	next := make([][]int32, pieceCount)
	starts := map[int32]bool{}
	for i, b := range bonds {
		next[b.a] = append(next[b.a], int32(i))
		if b.a != b.b {
			next[b.b] = append(next[b.b], int32(i))
		}
		if b.odd {
			starts[b.a] = true
		}
	}
	var best []bond
	least := math.Inf(1)
	for s := range int32(pieceCount) {
		if !starts[s] {
			continue
		}
		if run, cost := oddRun(s, bonds, next, least); run != nil {
			best, least = run, cost
		}
	}
	return best, least
}

// oddRun is the cheapest odd run from a piece back to itself, if it costs
// less than a limit.
func oddRun(s int32, bonds []bond, next [][]int32, limit float64) ([]bond, float64) {
	n := 2 * len(next)
	cost := make([]float64, n)
	back := make([]int32, n)
	done := make([]bool, n)
	for i := range cost {
		cost[i], back[i] = math.Inf(1), -1
	}
	cost[2*s] = 0
	q := visits{{2 * s, 0}}
	goal := 2*s + 1
	for len(q) > 0 {
		v := heap.Pop(&q).(visit)
		if done[v.cell] || v.cost >= limit {
			continue
		}
		done[v.cell] = true
		if v.cell == goal {
			break
		}
		at, parity := v.cell/2, v.cell%2
		for _, i := range next[at] {
			b := &bonds[i]
			to := 2*(b.a+b.b-at) + parity
			if b.odd {
				to ^= 1
			}
			if c := v.cost + b.weight; c < cost[to] {
				cost[to], back[to] = c, i
				heap.Push(&q, visit{to, c})
			}
		}
	}
	if !done[goal] {
		return nil, 0
	}
	var run []bond
	for k := goal; k != 2*s; {
		b := bonds[back[k]]
		at, parity := k/2, k%2
		prev := 2*(b.a+b.b-at) + parity
		if b.odd {
			prev ^= 1
		}
		if b.b != at && b.a == at { // written the way it is walked
			b.a, b.b, b.from, b.to = b.b, b.a, b.to, b.from
		}
		run = append(run, b)
		k = prev
	}
	slices.Reverse(run)
	return run, cost[goal]
}
