package heatflow

import (
	"slices"

	"wythe/renderer/basis"
	"wythe/renderer/geometry"
)

// DefaultFloorWidth is the width of floor assumed where neither the junction
// nor a building gives one, m.
const DefaultFloorWidth = 8.0

// GroundExtent returns how far the ground is modelled for a floor of the given
// width, m: outwards from the wall and downwards from grade, and inwards.
//
// Source: ISO 10211:2017, 5.2.4 (clause from memory): 2.5 widths out and down, half
// a width in.
func GroundExtent(width float64) (outDown, in float64) { return 2.5 * width, 0.5 * width }

// Ground says how a section that soil leaves at its cuts goes on beyond them.
type Ground struct {
	View geometry.Box
	Soil []bool // of each region
	// Left, Right, Bottom are where the ground is to end, µm; at or within the
	// view: not beyond it.
	Left, Right, Bottom int64
}

// WithGround returns the problem with its ground: at each side that soil
// reaches, the stack in touch with the soil runs on level, with the surface and
// films it has at the cut; what then lies lowest runs on downwards. The new far
// sides are adiabatic. Errors: *basis.MissingError where no soil reaches a cut.
func (p *Problem) WithGround(g Ground) (*Problem, error) {
	out := &Problem{Regions: p.Regions, Surfaces: p.Surfaces, Films: p.Films, Spaces: p.Spaces}
	out.Points = slices.Clone(p.Points)
	x := &extension{Problem: out, soil: g.Soil, index: map[geometry.Point]int32{}, gone: map[int32]bool{}}
	for i, q := range out.Points {
		x.index[q] = int32(i)
	}
	out.Edges = slices.Clone(p.Edges)
	done := false
	if g.Left < g.View.Min.X {
		done = x.extrude(false, g.View.Min.X, g.Left) || done
	}
	if g.Right > g.View.Max.X {
		done = x.extrude(false, g.View.Max.X, g.Right) || done
	}
	if g.Bottom < g.View.Min.Y {
		done = x.extrude(true, g.View.Min.Y, g.Bottom) || done
	}
	if !done {
		return nil, &basis.MissingError{Method: method, Quantity: "soil at a cut"}
	}
	kept := out.Edges[:0:0]
	for i, e := range out.Edges {
		if !x.gone[int32(i)] {
			kept = append(kept, e)
		}
	}
	out.Edges = kept
	return out, nil
}

type extension struct {
	*Problem
	soil  []bool
	index map[geometry.Point]int32
	gone  map[int32]bool
}

// cutEdge is an edge of the outline on a cut: from its lower or left end, with
// the region inside.
type cutEdge struct {
	edge   int32
	a, b   int64
	region int32
}

// extrude carries what soil touches at the cut x = from (or y = from, where
// level is true) on to the other place.
func (x *extension) extrude(level bool, from, to int64) bool {
	along := func(p geometry.Point) (place, across int64) {
		if level {
			return p.X, p.Y
		}
		return p.Y, p.X
	}
	put := func(place, across int64) int32 {
		q := geometry.Point{X: across, Y: place}
		if level {
			q = geometry.Point{X: place, Y: across}
		}
		if i, ok := x.index[q]; ok {
			return i
		}
		i := int32(len(x.Points))
		x.Points, x.index[q] = append(x.Points, q), i
		return i
	}
	var cut []cutEdge
	for i, e := range x.Edges {
		if x.gone[int32(i)] || (e.Left == None) == (e.Right == None) {
			continue
		}
		a, c := along(x.Points[e.A])
		b, d := along(x.Points[e.B])
		if c == from && d == from {
			cut = append(cut, cutEdge{int32(i), min(a, b), max(a, b), max(e.Left, e.Right)})
		}
	}
	slices.SortFunc(cut, func(p, q cutEdge) int { return int(min(max(p.a-q.a, -1), 1)) })
	cut = x.touching(cut)
	if len(cut) == 0 {
		return false
	}
	// Regions left and right of a line that runs away from the section.
	away := func(lower, upper int32) (left, right int32) {
		if level == (to < from) {
			return upper, lower
		}
		return lower, upper
	}
	for i := 0; i <= len(cut); i++ {
		lower, upper := None, None
		place := cut[0].a
		if i > 0 {
			lower, place = cut[i-1].region, cut[i-1].b
		}
		if i < len(cut) {
			upper = cut[i].region
		}
		e := Edge{A: put(place, from), B: put(place, to), Surface: None, Film: None}
		e.Left, e.Right = away(lower, upper)
		if like, ok := x.running(e.A, level); ok {
			e.Film = x.Edges[like].Film
			if lower == None || upper == None {
				e.Surface = x.Edges[like].Surface
			}
		}
		if lower != upper || e.Film != None {
			x.Edges = append(x.Edges, e)
		}
	}
	for _, c := range cut {
		e := Edge{A: put(c.a, to), B: put(c.b, to), Surface: None, Film: None}
		// Towards rising place, the section is on the left where it lies at lower
		// x or, for a level cut, at higher y.
		e.Left, e.Right = None, c.region
		if level == (to < from) {
			e.Left, e.Right = c.region, None
		}
		x.Edges = append(x.Edges, e)
		x.gone[c.edge] = true
	}
	return true
}

// touching returns the run of cut edges in touch with one another that has soil
// in it; the longest, where there are several.
func (x *extension) touching(cut []cutEdge) (best []cutEdge) {
	for i := 0; i < len(cut); {
		j, soil := i, false
		for ; j < len(cut) && (j == i || cut[j].a == cut[j-1].b); j++ {
			soil = soil || int(cut[j].region) < len(x.soil) && x.soil[cut[j].region]
		}
		if soil && (best == nil || cut[j-1].b-cut[i].a > best[len(best)-1].b-best[0].a) {
			best = cut[i:j]
		}
		i = j
	}
	return best
}

// running returns the edge that comes to point v square to a cut.
func (x *extension) running(v int32, level bool) (int32, bool) {
	for i, e := range x.Edges {
		if x.gone[int32(i)] || (e.A != v && e.B != v) {
			continue
		}
		d := x.Points[e.B].Sub(x.Points[e.A])
		if (level && d.X == 0) || (!level && d.Y == 0) {
			return int32(i), true
		}
	}
	return 0, false
}
