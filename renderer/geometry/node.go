package geometry

import (
	"fmt"
	"slices"
)

// Segment is one straight piece of an outline or a film. Label says whose.
type Segment struct {
	A, B  Point
	Label int32
}

// Use is one label's use of an edge: Turn is +1 where the labelled segment
// ran from the edge's U to V, −1 the other way.
type Use struct {
	Label int32
	Turn  int8
}

// Edge joins two vertices, U < V. Its uses are sorted by label.
type Edge struct {
	U, V       int32
	start, end int32
}

// Noded is a set of segments cut at every meeting.
type Noded struct {
	Points []Point // sorted by x, then y
	Edges  []Edge  // sorted by U, then V
	uses   []Use
}

// Uses returns the labels that run along edge e.
func (n *Noded) Uses(e int32) []Use { return n.uses[n.Edges[e].start:n.Edges[e].end] }

// Node cuts segments where they meet, by snap rounding: each end point and
// each crossing, rounded to its micrometre, is a hot pixel; a segment is bent
// through the middle of every hot pixel it passes. See the package's laws.
//
// A segment of no length leaves its point as a vertex and no edge.
// A coordinate beyond [Limit] panics: callers bound their input.
func Node(segments []Segment) *Noded {
	box := EmptyBox()
	for _, s := range segments {
		box = box.Grow(s.A).Grow(s.B)
	}
	if len(segments) == 0 {
		return &Noded{}
	}
	if box.Min.X < -Limit || box.Min.Y < -Limit || box.Max.X > Limit || box.Max.Y > Limit {
		panic(fmt.Sprintf("geometry: segment beyond ±%d µm: %v", int64(Limit), box))
	}
	g := newGrid(box, len(segments))
	g.fill(len(segments), func(i int) (Point, Point) { return segments[i].A, segments[i].B })
	hot := hotPixels(segments, g)
	return bend(segments, hot, g)
}

// hotPixels returns every end point and rounded crossing, sorted, once each.
func hotPixels(segments []Segment, g *grid) []Point {
	hot := make([]Point, 0, 4*len(segments))
	for i := range segments {
		hot = append(hot, segments[i].A, segments[i].B)
	}
	for c := range g.nx * g.ny {
		list := g.in(c)
		for i, a := range list {
			s := &segments[a]
			for _, b := range list[i+1:] {
				t := &segments[b]
				if s.A == t.A || s.A == t.B || s.B == t.A || s.B == t.B {
					continue // a shared end is hot already
				}
				if p, ok := crossing(s.A, s.B, t.A, t.B); ok {
					hot = append(hot, p)
				}
			}
		}
	}
	slices.SortFunc(hot, comparePoints)
	return slices.Compact(hot)
}

func comparePoints(p, q Point) int {
	switch {
	case p.X < q.X:
		return -1
	case p.X > q.X:
		return 1
	case p.Y < q.Y:
		return -1
	case p.Y > q.Y:
		return 1
	}
	return 0
}

// bend runs each segment through the hot pixels it passes and gathers edges.
func bend(segments []Segment, hot []Point, g *grid) *Noded {
	// Hot pixels by cell, in the order of their index.
	start := make([]int32, g.nx*g.ny+1)
	cellOf := make([]int32, len(hot))
	for i, p := range hot {
		c := g.row(float64(p.Y))*g.nx + g.column(float64(p.X))
		cellOf[i] = int32(c)
		start[c+1]++
	}
	for c := 1; c < len(start); c++ {
		start[c] += start[c-1]
	}
	byCell := make([]int32, len(hot))
	at := make([]int32, g.nx*g.ny)
	copy(at, start)
	for i := range hot {
		byCell[at[cellOf[i]]] = int32(i)
		at[cellOf[i]]++
	}

	type piece struct {
		key uint64 // U, V
		use Use
	}
	pieces := make([]piece, 0, 4*len(segments))
	type stop struct {
		along int64
		v     int32
	}
	var stops []stop
	for i := range segments {
		s := &segments[i]
		d := s.B.Sub(s.A)
		low := Point{min(s.A.X, s.B.X) - 1, min(s.A.Y, s.B.Y) - 1}
		high := Point{max(s.A.X, s.B.X) + 1, max(s.A.Y, s.B.Y) + 1}
		stops = stops[:0]
		g.walk(s.A, s.B, func(c int) {
			for _, v := range byCell[start[c]:start[c+1]] {
				p := hot[v]
				if p.X < low.X || p.X > high.X || p.Y < low.Y || p.Y > high.Y {
					continue
				}
				if inPixel(s.A, s.B, p) {
					stops = append(stops, stop{Dot(p.Sub(s.A), d), v})
				}
			}
		})
		slices.SortFunc(stops, func(a, b stop) int {
			switch {
			case a.along < b.along:
				return -1
			case a.along > b.along:
				return 1
			}
			return int(a.v) - int(b.v)
		})
		for k := 1; k < len(stops); k++ {
			u, v, turn := stops[k-1].v, stops[k].v, int8(1)
			if u == v {
				continue
			}
			if u > v {
				u, v, turn = v, u, -1
			}
			pieces = append(pieces, piece{key: uint64(u)<<32 | uint64(v), use: Use{s.Label, turn}})
		}
	}
	slices.SortFunc(pieces, func(a, b piece) int {
		switch {
		case a.key < b.key:
			return -1
		case a.key > b.key:
			return 1
		case a.use.Label != b.use.Label:
			return int(a.use.Label) - int(b.use.Label)
		}
		return int(a.use.Turn) - int(b.use.Turn)
	})
	n := &Noded{Points: hot, uses: make([]Use, 0, len(pieces))}
	n.Edges = make([]Edge, 0, len(pieces))
	for k, p := range pieces {
		if k == 0 || p.key != pieces[k-1].key {
			n.Edges = append(n.Edges, Edge{U: int32(p.key >> 32), V: int32(p.key & 0xffffffff), start: int32(len(n.uses))})
		}
		n.uses = append(n.uses, p.use)
		n.Edges[len(n.Edges)-1].end = int32(len(n.uses))
	}
	return n
}
