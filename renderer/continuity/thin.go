package continuity

import (
	"container/heap"
	"math"
	"slices"

	"wythe/renderer/geometry"
	"wythe/renderer/units"
)

// thin finds the least insulation that heat can cross from inside to outside:
// the shortest way between the two through carriers, all else counting
// nothing. Below the least thickness the control is thin there.
func (t *tracer) thin() {
	m := t.m
	least := float64(t.o.thermalLeast(t.s.Junction)) * 1e6
	g := t.last
	type crossing struct {
		other    int32
		length   float64
		from, to geometry.Vec
	}
	// Edges at which each open stretch faces a carrier.
	type face struct {
		root int32
		u, v geometry.Point
	}
	var list []face
	for e := range m.a.Edges {
		u, v := m.ends(int32(e))
		for _, h := range [...]geometry.Half{geometry.Half(2 * e), geometry.Half(2*e + 1)} {
			f, o := m.a.FaceOf(h), m.a.FaceOf(h.Twin())
			if m.item[f] == open && (m.item[o] >= 0 || len(m.films[e]) > 0) {
				list = append(list, face{g.find(f), u, v})
			}
		}
	}
	slices.SortStableFunc(list, func(a, b face) int {
		switch {
		case a.u.X < b.u.X: // u is the left end
			return -1
		case a.u.X > b.u.X:
			return 1
		}
		return 0
	})
	next := map[int32][]crossing{}
	// Only ways shorter than the least thickness matter, so only pairs within
	// it: those that overlap in x, or nearly.
	for i := range list {
		x := &list[i]
		for k := i + 1; k < len(list); k++ {
			y := &list[k]
			if float64(y.u.X-x.v.X) >= least {
				break
			}
			if x.root == y.root || apart(&exposed{0, x.u, x.v}, &exposed{0, y.u, y.v}) >= least {
				continue
			}
			from, to, d := geometry.SegmentDistance(x.u, x.v, y.u, y.v)
			if d < least-thinRounding {
				next[x.root] = append(next[x.root], crossing{y.root, d, from, to})
				next[y.root] = append(next[y.root], crossing{x.root, d, to, from})
			}
		}
	}
	cost := map[int32]float64{}
	back := map[int32]crossing{}
	prev := map[int32]int32{}
	var q visits
	for _, s := range m.inside {
		r := g.find(s.face)
		if _, ok := cost[r]; !ok {
			cost[r] = 0
			heap.Push(&q, visit{r, 0})
		}
	}
	goal := map[int32]string{}
	for _, s := range m.outside {
		if r := g.find(s.face); goal[r] == "" {
			goal[r] = s.name
		}
	}
	done := map[int32]bool{}
	for len(q) > 0 {
		v := heap.Pop(&q).(visit)
		if done[v.cell] {
			continue
		}
		done[v.cell] = true
		if name, ok := goal[v.cell]; ok {
			var steps []step
			at := v.cell
			for c, ok := back[at]; ok; c, ok = back[at] {
				steps = append(steps, step{prev[at], c.from, c.to})
				at = prev[at]
			}
			slices.Reverse(steps)
			t.reportThin(v.cost, steps, v.cell, name)
			return
		}
		for _, c := range next[v.cell] {
			sum := v.cost + c.length
			if old, ok := cost[c.other]; sum < least-thinRounding && (!ok || sum < old) {
				cost[c.other] = sum
				back[c.other] = c
				prev[c.other] = v.cell
				heap.Push(&q, visit{c.other, sum})
			}
		}
	}
}

// thinRounding is how far two rounded faces may leave a thickness short, µm.
const thinRounding = 2

// step is one crossing of carriers, from the open stretch it starts in.
type step struct {
	root     int32
	from, to geometry.Vec
}

// reportThin names the widest crossing of the way, where it is thinnest to
// say so, and draws the whole way.
func (t *tracer) reportThin(thickness float64, steps []step, last int32, outside string) {
	m, r := t.m, t.report
	r.Verdict = Thin
	widest := steps[0]
	for _, s := range steps {
		if math.Hypot(s.from.X-s.to.X, s.from.Y-s.to.Y) > math.Hypot(widest.from.X-widest.to.X, widest.from.Y-widest.to.Y) {
			widest = s
		}
	}
	g := Gap{
		At:    point(geometry.Vec{X: (widest.from.X + widest.to.X) / 2, Y: (widest.from.Y + widest.to.Y) / 2}),
		Ends:  [2]geometry.Point{point(widest.from), point(widest.to)},
		Width: units.Length(thickness * 1e-6), Mend: "thicken it there",
		Through: t.through(widest.from, widest.to),
	}
	if n := len(g.Through); n > 0 {
		g.Between = [2]string{g.Through[0], g.Through[n-1]}
	} else {
		g.Between = t.touching(g.At)
	}
	r.Gaps = append(r.Gaps, g)

	var from, to source
	for _, s := range m.inside {
		if t.last.find(s.face) == steps[0].root {
			from = s
			break
		}
	}
	for _, s := range m.outside {
		if t.last.find(s.face) == last && s.name == outside {
			to = s
			break
		}
	}
	r.Leaks = append(r.Leaks, Leak{from.name, to.name})
	z := m.trapezoids()
	at := m.point(from)
	path := []geometry.Vec{at}
	leg := func(root int32, end geometry.Vec) {
		p := z.path(z.cellIn(t.last, root, at), z.cellIn(t.last, root, end), at, end)
		if len(p) > 0 {
			path = append(path, p[1:]...)
		} else {
			path = append(path, end)
		}
	}
	for _, s := range steps {
		leg(s.root, s.from)
		path = append(path, s.to)
		at = s.to
	}
	leg(last, m.point(to))
	r.Path = rounded(path)
}

// touching names the two carriers that meet at a place.
func (t *tracer) touching(p geometry.Point) [2]string {
	m := t.m
	for i := range m.contacts {
		c := &m.contacts[i]
		if m.distance(c, p) <= 2 {
			return [2]string{m.name(c.a), m.name(c.b)}
		}
	}
	return [2]string{}
}
