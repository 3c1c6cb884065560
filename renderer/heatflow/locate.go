package heatflow

import (
	"math"
	"sync"
)

// locator finds the triangles near a place: boxes about halves of halves of
// the mesh, in the order of [dissect]. It is made when first asked.
type locator struct {
	once  sync.Once
	order []int32
	boxes [][4]float64 // of each part, as its halves are met: x0, y0, x1, y1
	first []int32      // of each part: its second half; the first follows it
}

func (l *locator) prepare(g *grid) {
	n := len(g.tri)
	x, y := make([]float64, n), make([]float64, n)
	for t := range g.tri {
		for _, v := range g.tri[t].v {
			x[t] += g.x[v]
			y[t] += g.y[v]
		}
	}
	l.order = make([]int32, n)
	dissect(l.order, x, y, nil)
	l.part(g, 0, n)
}

func (l *locator) part(g *grid, lo, hi int) [4]float64 {
	k := len(l.boxes)
	box := [4]float64{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)}
	l.boxes, l.first = append(l.boxes, box), append(l.first, -1)
	grow := func(b [4]float64) {
		box = [4]float64{min(box[0], b[0]), min(box[1], b[1]), max(box[2], b[2]), max(box[3], b[3])}
	}
	if hi-lo <= leafSize {
		for _, t := range l.order[lo:hi] {
			for _, v := range g.tri[t].v {
				grow([4]float64{g.x[v], g.y[v], g.x[v], g.y[v]})
			}
		}
	} else {
		mid := (lo + hi) / 2
		grow(l.part(g, lo, mid))
		l.first[k] = int32(len(l.boxes))
		grow(l.part(g, mid, hi))
	}
	l.boxes[k] = box
	return box
}

// near calls f with each triangle whose box comes within reach of a place.
func (l *locator) near(g *grid, x, y, reach float64, f func(t int32)) {
	l.once.Do(func() { l.prepare(g) })
	var visit func(k, lo, hi int)
	visit = func(k, lo, hi int) {
		b := &l.boxes[k]
		if x < b[0]-reach || x > b[2]+reach || y < b[1]-reach || y > b[3]+reach {
			return
		}
		if l.first[k] < 0 {
			for _, t := range l.order[lo:hi] {
				f(t)
			}
			return
		}
		mid := (lo + hi) / 2
		visit(k+1, lo, mid)
		visit(int(l.first[k]), mid, hi)
	}
	visit(0, 0, len(l.order))
}
