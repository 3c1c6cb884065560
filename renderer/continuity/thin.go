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
			t.reportThin(v.cost, least, back[v.cell].from, back[v.cell].to, name, func(f func(a, b geometry.Vec)) {
				for r := v.cell; ; r = prev[r] {
					c, ok := back[r]
					if !ok {
						return
					}
					f(c.from, c.to)
				}
			})
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

func (t *tracer) reportThin(cost, least float64, _, _ geometry.Vec, outside string, steps func(func(a, b geometry.Vec))) {
	r := t.report
	r.Verdict = Thin
	var best Gap
	longest := -1.0
	steps(func(a, b geometry.Vec) {
		d := math.Hypot(a.X-b.X, a.Y-b.Y)
		if d <= longest {
			return
		}
		longest = d
		mid := point(geometry.Vec{X: (a.X + b.X) / 2, Y: (a.Y + b.Y) / 2})
		best = Gap{At: mid, Ends: [2]geometry.Point{point(a), point(b)}, Width: units.Length(cost * 1e-6), Mend: "thicken it there"}
		best.Through = t.through(a, b)
	})
	if len(best.Through) > 0 {
		best.Between = [2]string{best.Through[0], best.Through[len(best.Through)-1]}
	} else {
		best.Between = t.touching(best.At)
	}
	r.Gaps = append(r.Gaps, best)
	r.Path = []geometry.Point{best.Ends[0], best.Ends[1]}
	inside := ""
	if len(t.m.inside) > 0 {
		inside = t.m.inside[0].name
	}
	r.Leaks = append(r.Leaks, Leak{inside, outside})
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
