package figures

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"wythe/renderer/geometry"
	"wythe/renderer/heatflow"
	"wythe/renderer/material"
	"wythe/renderer/section"
)

// split cuts an edge where a line of `faces` begins, turns or ends on it.
func (b *heatBuilder) split(e heatflow.Edge) []heatflow.Edge {
	p, q := b.p.Points[e.A], b.p.Points[e.B]
	d := q.Sub(p)
	length := float64(geometry.Dot(d, d))
	var at []geometry.Point
	for i := range b.s.Settled {
		for _, x := range b.s.Settled[i].Line {
			s := float64(geometry.Dot(x.Sub(p), d)) / length
			if s <= 0 || s >= 1 || !heatflow.Along(x, x, []geometry.Point{p, q}) {
				continue
			}
			foot := geometry.Point{X: p.X + int64(math.Round(s*float64(d.X))), Y: p.Y + int64(math.Round(s*float64(d.Y)))}
			if foot != p && foot != q && !slices.Contains(at, foot) {
				at = append(at, foot)
			}
		}
	}
	if len(at) == 0 {
		return []heatflow.Edge{e}
	}
	slices.SortFunc(at, func(x, y geometry.Point) int {
		return cmp.Compare(geometry.Dot(x.Sub(p), d), geometry.Dot(y.Sub(p), d))
	})
	out := make([]heatflow.Edge, 0, len(at)+1)
	from := e.A
	for _, x := range at {
		n := e
		n.A, n.B = from, int32(len(b.p.Points))
		b.p.Points = append(b.p.Points, x)
		from = n.B
		out = append(out, n)
	}
	e.A = from
	return append(out, e)
}

// surface returns what an edge of the outline faces: as the author settles it,
// or its space by the slope of the face.
func (b *heatBuilder) surface(e heatflow.Edge, space, owner int32) int32 {
	p := heatflow.Problem{Points: b.p.Points, Edges: []heatflow.Edge{e}}
	nx, ny, _ := p.Normal(0)
	if set := b.settled(b.p.Points[e.A], b.p.Points[e.B]); set != nil {
		if set.Face.Adiabatic {
			return none32
		}
		k := slices.IndexFunc(b.spaces, func(s HeatSpace) bool { return s.Name == set.Face.Space })
		if k < 0 {
			k = int(space)
		}
		if k < 0 {
			return none32
		}
		if set.Face.Surface != nil {
			return b.surfaceOf(heatflow.Surface{Space: int32(k), Resistance: float64(*set.Face.Surface)})
		}
		return b.surfaceOf(b.usual(int32(k), nx, ny, owner))
	}
	if space == none32 {
		return none32
	}
	return b.surfaceOf(b.usual(space, nx, ny, owner))
}

// settled returns the last line of `faces` along which an edge lies, or nil.
func (b *heatBuilder) settled(p, q geometry.Point) *section.Settled {
	for i := len(b.s.Settled) - 1; i >= 0; i-- {
		if heatflow.Along(p, q, b.s.Settled[i].Line) {
			return &b.s.Settled[i]
		}
	}
	return nil
}

// idleFaces notes the lines of `faces` along which nothing ends.
func (b *heatBuilder) idleFaces() {
	for i := range b.s.Settled {
		f := &b.s.Settled[i]
		if !slices.ContainsFunc(b.p.Edges, func(e heatflow.Edge) bool {
			return (e.Left == none32) != (e.Right == none32) && heatflow.Along(b.p.Points[e.A], b.p.Points[e.B], f.Line)
		}) {
			b.idle = append(b.idle, fmt.Sprintf("faces, line %d: no part of the section ends along it, and it settles nothing", f.Face.At.Line))
		}
	}
	b.notes = append(b.notes, b.idle...)
}

func (b *heatBuilder) surfaceOf(s heatflow.Surface) int32 {
	k, known := b.surfaces[s]
	if !known {
		k = int32(len(b.p.Surfaces))
		b.p.Surfaces = append(b.p.Surfaces, s)
		b.surfaces[s] = k
	}
	return k
}

// usual is the surface of a space by its own word or by the library's set and
// the slope of the face. The outside air of a ventilated layer is sheltered.
func (b *heatBuilder) usual(space int32, nx, ny float64, owner int32) heatflow.Surface {
	out := heatflow.Surface{Space: space}
	if r := b.s.Spaces[space].Space.Surface; r != nil {
		out.Resistance = float64(*r)
		return out
	}
	dir := [...]material.Direction{heatflow.Horizontal: material.Horizontal, heatflow.Upward: material.Up, heatflow.Downward: material.Down}[heatflow.InsideFace(nx, ny)]
	sheltered := !b.spaces[space].Inside && owner >= 0 && b.s.Regions[owner].LayerOf != nil
	if !b.spaces[space].Inside && sheltered {
		// Heat leaves through this face: up where it looks up.
		dir = [...]material.Direction{material.Horizontal: material.Horizontal, material.Up: material.Down, material.Down: material.Up}[dir]
	}
	inside, outside := surfaces(b.set(), dir)
	out.Resistance = float64(outside)
	if b.spaces[space].Inside || sheltered {
		out.Resistance = float64(inside)
	}
	return out
}
