package section

import (
	"math"

	"wythe/renderer/detail"
	"wythe/renderer/finding"
)

// point resolves [edge, edge] or `where edge meets edge`.
func (r *resolver) point(p *detail.Point, part int) (vec, bool) {
	if p.Meets {
		a, ok1 := r.freeLine(&p.X, across, part)
		b, ok2 := r.freeLine(&p.Y, upward, part)
		if !ok1 || !ok2 {
			return vec{}, false
		}
		m, ok := meet(a, b)
		if !ok {
			r.failAt(part, p.At, "edges-parallel", "name two edges that cross", "%q and %q never meet", p.X.Written, p.Y.Written)
		}
		return m, ok
	}
	x, ok1 := r.number(&p.X, across, part)
	y, ok2 := r.number(&p.Y, upward, part)
	return vec{float64(x), float64(y)}, ok1 && ok2
}

// freeLine resolves an edge whose axis follows from its words; a bare length
// is on the axis given.
func (r *resolver) freeLine(e *detail.Edge, bare axis, part int) (line, bool) {
	return r.edge(e, r.axisOf(e, bare), part, "")
}

func (r *resolver) axisOf(e *detail.Edge, bare axis) axis {
	switch e.Kind {
	case detail.EdgeRef, detail.EdgeAtEdge:
		if e.Side == "" {
			return upward // a level
		}
		return sideAxis(e.Side)
	case detail.EdgeOffset:
		if e.Vertical {
			return upward
		}
		return across
	case detail.EdgeMidway:
		return r.axisOf(e.A, bare)
	case detail.EdgeUnder, detail.EdgeOver:
		return upward
	}
	return bare
}

// States of the points of an outline, film or round.
const (
	pointsInWork int8 = iota + 1
	pointsKnown
	pointsFailed
)

// pointsOf resolves the points of an outline, a film, or the four quarters of
// a round.
func (r *resolver) pointsOf(part int, at finding.Position) ([]vec, bool) {
	switch r.pointOK[part] {
	case pointsKnown:
		return r.points[part], true
	case pointsFailed:
		return nil, false
	case pointsInWork:
		for _, k := range r.asking {
			if k.part == part {
				r.cycle(k, at)
				return nil, false
			}
		}
		r.failAt(part, at, "edge-cycle", "give one of its points a length of its own",
			"the points of %q hang on its own edges", r.j.Parts[part].Name)
		return nil, false
	}
	r.pointOK[part] = pointsInWork
	pts, ok := r.workPoints(part)
	if !ok || r.bad[part] {
		r.pointOK[part] = pointsFailed
		return nil, false
	}
	r.points[part] = pts
	r.pointOK[part] = pointsKnown
	return pts, true
}

func (r *resolver) workPoints(part int) ([]vec, bool) {
	p := r.j.Parts[part]
	if r.bad[part] {
		return nil, false
	}
	switch p.Kind {
	case detail.Round:
		if p.Diameter <= 0 {
			r.fail(part, "negative-size", "give a diameter above zero", "round %q has a diameter of zero or less", p.Name)
			return nil, false
		}
		c, ok := r.point(&p.Center, part)
		d := float64(nanometres(p.Diameter)) / 2
		return []vec{{c.x - d, c.y}, {c.x, c.y - d}, {c.x + d, c.y}, {c.x, c.y + d}}, ok
	case detail.Seal:
		if p.Place == nil {
			r.fail(part, "seal-place", "add `at: [x, y]` to the seal", "seal %q has no place of its own to measure from", p.Name)
			return nil, false
		}
		c, ok := r.point(p.Place, part)
		return []vec{c}, ok
	case detail.Film:
		if len(p.Over) > 0 {
			f, ok := r.overFaces(part, p)
			return f, ok
		}
	}
	var out []vec
	all := true
	for i := range p.Points {
		v, ok := r.point(&p.Points[i], part)
		all = all && ok
		if ok && (len(out) == 0 || out[len(out)-1] != v) {
			out = append(out, v)
		}
	}
	return out, all
}

// extent is a side of an outline, film, round or seal: how far its points reach.
func (r *resolver) extent(k sideKey) (line, bool) {
	pts, ok := r.pointsOf(k.part, r.j.Parts[k.part].At)
	if !ok || len(pts) == 0 {
		return line{}, false
	}
	a := sideAxis(k.side)
	pick := func(v vec) float64 {
		if a == across {
			return v.x
		}
		return v.y
	}
	best := pick(pts[0])
	for _, v := range pts[1:] {
		if sideSign(k.side) > 0 {
			best = math.Max(best, pick(v))
		} else {
			best = math.Min(best, pick(v))
		}
	}
	return straight(a, nm(math.Round(best))), true
}
