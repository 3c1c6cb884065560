package figures

import (
	"errors"
	"slices"

	"wythe/renderer/basis"
	"wythe/renderer/geometry"
	"wythe/renderer/heatflow"
	"wythe/renderer/units"
)

// addGround adds the soil domain of ISO 10211 where soil reaches a cut: out
// and down 2.5 times the floor's width from the wall and from grade, in by half
// of it.
func (b *heatBuilder) addGround() error {
	if !slices.Contains(b.soil, true) {
		return nil
	}
	width := float64(b.s.Junction.GroundWidth)
	g := &HeatGround{Width: units.Length(width), Stated: width > 0}
	if !g.Stated {
		width = heatflow.DefaultFloorWidth
		g.Width = heatflow.DefaultFloorWidth
	}
	out, in := heatflow.GroundExtent(width)
	micro := func(m float64) int64 { return int64(m * 1e6) }
	view := b.s.View
	ground := heatflow.Ground{View: view, Soil: b.soil, Left: view.Min.X, Right: view.Max.X, Bottom: view.Min.Y}
	grade := view.Min.Y
	for _, side := range [2]int64{view.Min.X, view.Max.X} {
		top, surface, ok := b.topOfSoil(side)
		if !ok {
			continue
		}
		inside := surface != none32 && b.spaces[b.p.Surfaces[surface].Space].Inside
		reach := out
		if inside {
			reach = in
		} else {
			grade = max(grade, top)
		}
		from := b.runAlong(side, top)
		if side == view.Min.X {
			ground.Left = min(side, from-micro(reach))
		} else {
			ground.Right = max(side, from+micro(reach))
		}
	}
	if grade == view.Min.Y {
		grade = view.Max.Y
	}
	ground.Bottom = min(view.Min.Y, grade-micro(out))
	b.grade = grade
	p, err := b.p.WithGround(ground)
	var missing *basis.MissingError
	if errors.As(err, &missing) {
		return nil // soil, but none at a cut
	}
	if err != nil {
		return err
	}
	b.p, b.ground = p, g
	if !g.Stated {
		b.note("floor width not stated: 8 m taken; put `ground width` in the junction")
	}
	return nil
}

// topOfSoil returns the height of the stack in touch with soil at a side of
// the view and the surface on it.
func (b *heatBuilder) topOfSoil(x int64) (top int64, surface int32, ok bool) {
	type piece struct {
		a, b   int64
		region int32
	}
	var cut []piece
	for _, e := range b.p.Edges {
		p, q := b.p.Points[e.A], b.p.Points[e.B]
		if p.X == x && q.X == x && (e.Left == none32) != (e.Right == none32) {
			cut = append(cut, piece{min(p.Y, q.Y), max(p.Y, q.Y), max(e.Left, e.Right)})
		}
	}
	slices.SortFunc(cut, func(p, q piece) int { return int(min(max(p.a-q.a, -1), 1)) })
	soil := false
	for i, c := range cut {
		if i > 0 && cut[i-1].b != c.a {
			if soil {
				break
			}
		}
		if soil = soil || b.soil[c.region]; soil {
			top, ok = c.b, true
		}
	}
	surface = none32
	for _, e := range b.p.Edges {
		p, q := b.p.Points[e.A], b.p.Points[e.B]
		if p.Y == top && q.Y == top && (p.X == x || q.X == x) && e.Surface != none32 {
			surface = e.Surface
		}
	}
	return top, surface, ok
}

// runAlong follows the level face at the top of a stack from a side of the
// view to where it ends, and returns that x.
func (b *heatBuilder) runAlong(x, y int64) int64 {
	at := geometry.Point{X: x, Y: y}
	for range b.p.Edges {
		moved := false
		for _, e := range b.p.Edges {
			if e.Surface == none32 {
				continue
			}
			p, q := b.p.Points[e.A], b.p.Points[e.B]
			if q == at {
				p, q = q, p
			}
			if p == at && q.Y == y && (q.X-x)*sign64(b.s.View.Min.X+b.s.View.Max.X-2*x) > (at.X-x)*sign64(b.s.View.Min.X+b.s.View.Max.X-2*x) {
				at, moved = q, true
			}
		}
		if !moved {
			break
		}
	}
	return at.X
}

func sign64(v int64) int64 {
	if v < 0 {
		return -1
	}
	return 1
}
