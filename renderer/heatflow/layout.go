package heatflow

import (
	"math"

	"wythe/renderer/geometry"
)

// Layout is a section as a draughtsman lays it: areas in order, of which a
// later one covers what lies under it, then lines for films and surfaces.
type Layout struct {
	Areas    []Area
	Surfaces []Line // of the outline: Of is an index into the surfaces
	Films    []Line // anywhere: Of is an index into the films
}

// Area is a polygon of one region; None cuts a hole.
type Area struct {
	Region int32
	Ring   geometry.Ring
}

// Line is a polyline to which a surface or a film belongs.
type Line struct {
	Of     int32
	Points []geometry.Point
}

// near is how far, µm, an edge may lie from a line to which it belongs:
// crossings round to the micrometre, and a bent edge passes one more.
const near = 2.5

// Problem turns the layout into points and edges; regions, surfaces, films
// and spaces are the caller's.
func (l *Layout) Problem() *Problem {
	var s []geometry.Segment
	for i, a := range l.Areas {
		for k, p := range a.Ring {
			s = append(s, geometry.Segment{A: p, B: a.Ring[(k+1)%len(a.Ring)], Label: int32(i)})
		}
	}
	films := int32(len(l.Areas))
	for i, f := range l.Films {
		for k := range f.Points[1:] {
			s = append(s, geometry.Segment{A: f.Points[k], B: f.Points[k+1], Label: films + int32(i)})
		}
	}
	a := geometry.Arrange(s)
	region := l.regions(a, films)
	p := &Problem{Points: a.Points}
	for e := range a.Edges {
		h := geometry.Half(2 * e)
		edge := Edge{A: a.From(h), B: a.To(h), Left: region[a.FaceOf(h)], Right: region[a.FaceOf(h.Twin())], Surface: None, Film: None}
		for _, u := range a.Uses(int32(e)) {
			if u.Label >= films {
				edge.Film = l.Films[u.Label-films].Of
			}
		}
		if edge.Left == edge.Right && (edge.Film == None || edge.Left == None) {
			continue
		}
		if (edge.Left == None) != (edge.Right == None) {
			for _, line := range l.Surfaces {
				if Along(a.Start(h), a.End(h), line.Points) {
					edge.Surface = line.Of
				}
			}
		}
		p.Edges = append(p.Edges, edge)
	}
	return p
}

// regions returns the region of each face: that of the last area over it.
func (l *Layout) regions(a *geometry.Arrangement, films int32) []int32 {
	words := (len(l.Areas) + 63) / 64
	over := make([][]uint64, a.Faces()) // the areas over each face
	over[0] = make([]uint64, words)
	for todo := []int32{0}; len(todo) > 0; {
		f := todo[len(todo)-1]
		todo = todo[:len(todo)-1]
		for _, h := range a.Halves(f) {
			g := a.FaceOf(h.Twin())
			if over[g] != nil {
				continue
			}
			over[g] = append([]uint64(nil), over[f]...)
			for _, u := range a.Uses(h.Edge()) {
				if u.Label < films {
					over[g][u.Label/64] ^= 1 << (u.Label % 64)
				}
			}
			todo = append(todo, g)
		}
	}
	region := make([]int32, a.Faces())
	for f, set := range over {
		region[f] = None
		for i := len(l.Areas) - 1; i >= 0 && set != nil; i-- {
			if set[i/64]>>(i%64)&1 == 1 {
				region[f] = l.Areas[i].Region
				break
			}
		}
	}
	return region
}

// Along reports whether both ends of an edge lie near the same piece of a line:
// within 2.5 µm, by which rounded crossings may leave it.
func Along(p, q geometry.Point, line []geometry.Point) bool {
	for i := range line[1:] {
		if apart(p, line[i], line[i+1]) <= near && apart(q, line[i], line[i+1]) <= near {
			return true
		}
	}
	return false
}

// apart returns how far p lies from the segment a–b, µm.
func apart(p, a, b geometry.Point) float64 {
	d, e := b.Sub(a), p.Sub(a)
	s := 0.0
	if n := float64(geometry.Dot(d, d)); n > 0 {
		s = min(max(float64(geometry.Dot(d, e))/n, 0), 1)
	}
	return math.Hypot(float64(e.X)-s*float64(d.X), float64(e.Y)-s*float64(d.Y))
}
