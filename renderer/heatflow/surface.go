package heatflow

import "math"

// Direction of the heat flow at a face.
type Direction int

const (
	Horizontal Direction = iota // within 30° of the horizontal plane
	Upward
	Downward
)

// InsideFace returns which way heat leaves a warmer room through a face whose
// normal (nx, ny) points into the room, y up: a ceiling looks down and heat
// flows up through it.
//
// Source: ISO 6946:2017, 6.8: the values for horizontal flow hold within 30° of
// the horizontal plane.
func InsideFace(nx, ny float64) Direction {
	const limit = 0.5 * (1 + 1e-9) // sin 30°
	switch s := ny / math.Hypot(nx, ny); {
	case s > limit:
		return Downward
	case s < -limit:
		return Upward
	}
	return Horizontal
}

// SurfaceInside returns the inside surface resistance, m²·K/W.
//
// Source: ISO 6946:2017, table 7 (number from memory).
func SurfaceInside(d Direction) float64 {
	switch d {
	case Upward:
		return 0.10
	case Downward:
		return 0.17
	}
	return 0.13
}

const (
	// SurfaceOutside is the outside surface resistance, m²·K/W (ISO 6946:2017, table 7).
	SurfaceOutside = 0.04
	// SurfaceMold is the inside surface resistance for the check against mold,
	// m²·K/W: furniture and curtains hold the room's warmth back (ISO 13788:2012, 4.4.1).
	SurfaceMold = 0.25
	// SurfaceMoldGlazed is the same at windows and their frames.
	SurfaceMoldGlazed = 0.13
)

// Normal returns the direction an edge's outline faces: from the region that
// conducts to the void. ok is false where an edge has both or neither.
func (p *Problem) Normal(edge int32) (nx, ny float64, ok bool) {
	e := &p.Edges[edge]
	if (e.Left == None) == (e.Right == None) {
		return 0, 0, false
	}
	d := p.Points[e.B].Sub(p.Points[e.A])
	nx, ny = float64(d.Y), float64(-d.X) // to the right of A to B
	if e.Right != None {
		nx, ny = -nx, -ny
	}
	l := math.Hypot(nx, ny)
	return nx / l, ny / l, true
}
