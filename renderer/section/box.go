package section

import (
	"math"

	"wythe/renderer/detail"
)

// boxSide finds a side of a level rectangle or laid assembly, or of a layer.
func (r *resolver) boxSide(k sideKey, p *detail.Part) (line, bool) {
	a := sideAxis(k.side)
	if s := r.stacks[k.part]; s != nil && sideAxis(p.Inside) == a {
		return r.thicknessSide(k, p, s, a)
	}
	if k.layer >= 0 {
		if t := trimOf(p, r.stacks[k.part].layers[k.layer].Name, k.side); t != nil {
			return r.edge(&t.Edge, a, k.part, k.side)
		}
		return r.side(sideKey{k.part, -1, k.side}, p.At)
	}
	e, f := boxEdge(&p.Box, k.side), boxEdge(&p.Box, opposite(k.side))
	size := given(p, a)
	switch {
	case e.Kind != detail.EdgeUnset && f.Kind != detail.EdgeUnset && size != 0:
		r.fail(k.part, "over-constrained", "leave one of the three away", "part %q gives both edges and a size from %s", p.Name, axisWord(a))
		return line{}, false
	case e.Kind != detail.EdgeUnset:
		return r.edge(e, a, k.part, k.side)
	case f.Kind == detail.EdgeUnset || size == 0:
		r.fail(k.part, "under-constrained", "give two of "+axisTrio(a), "part %q does not say where it stands from %s", p.Name, axisWord(a))
		return line{}, false
	case size < 0:
		r.fail(k.part, "negative-size", "give a size above zero", "part %q has a size below zero", p.Name)
		return line{}, false
	}
	l, ok := r.side(sideKey{k.part, -1, opposite(k.side)}, p.At)
	return l.shifted(a, sideSign(k.side)*nanometres(size)), ok
}

// thicknessSide finds a side of a laid stack across its thickness.
func (r *resolver) thicknessSide(k sideKey, p *detail.Part, s *stack, a axis) (line, bool) {
	e, f := boxEdge(&p.Box, p.Inside), boxEdge(&p.Box, opposite(p.Inside))
	if given(p, a) != 0 || e.Kind != detail.EdgeUnset && f.Kind != detail.EdgeUnset {
		r.fail(k.part, "over-constrained", "give one face of it; its layers give the thickness",
			"part %q is as thick as %s makes it, and its thickness is given again", p.Name, s.detail.Mark)
		return line{}, false
	}
	if e.Kind == detail.EdgeUnset && f.Kind == detail.EdgeUnset {
		r.fail(k.part, "under-constrained", "give its "+string(p.Inside)+" or its "+string(opposite(p.Inside)),
			"part %q does not say where it stands from %s", p.Name, axisWord(a))
		return line{}, false
	}
	// inward points from the outside face to the inside face.
	inward := sideSign(p.Inside)
	if k.layer < 0 && k.side == p.Inside && e.Kind != detail.EdgeUnset {
		return r.edge(e, a, k.part, k.side)
	}
	if k.layer < 0 && k.side != p.Inside && f.Kind != detail.EdgeUnset {
		return r.edge(f, a, k.part, k.side)
	}
	from, to := s.span(k.layer)
	offset := to
	if k.side == p.Inside {
		offset = from
	}
	if e.Kind != detail.EdgeUnset {
		l, ok := r.side(sideKey{k.part, -1, p.Inside}, p.At)
		return l.shifted(a, -inward*offset), ok
	}
	l, ok := r.side(sideKey{k.part, -1, opposite(p.Inside)}, p.At)
	return l.shifted(a, inward*(s.total-offset)), ok
}

// trimOf finds the trim of a layer's side.
func trimOf(p *detail.Part, layer string, side detail.Side) *detail.Trim {
	for i := range p.Trims {
		t := &p.Trims[i]
		if t.Side != side {
			continue
		}
		for _, l := range t.Layers {
			if l == layer {
				return t
			}
		}
	}
	return nil
}

// checkTrims reports trims that name no layer or the wrong side.
func (r *resolver) checkTrims(i int, p *detail.Part) {
	for _, t := range p.Trims {
		if sideAxis(t.Side) == sideAxis(p.Inside) {
			r.failAt(i, t.At, "trim-across", "trim along the run; change the assembly for another thickness",
				"part %q is trimmed across its thickness at its %s", p.Name, t.Side)
		}
		for _, l := range t.Layers {
			if r.stacks[i].layer(l) < 0 {
				r.failAt(i, t.At, "unknown-layer", "", "%s, laid as %q, has no layer %q", r.stacks[i].detail.Mark, p.Name, l)
			}
		}
	}
}

// pitchedSide finds a side of a part on a slope.
func (r *resolver) pitchedSide(k sideKey, p *detail.Part) (line, bool) {
	turn := float64(p.Pitch.Angle)
	if math.Abs(turn) >= math.Pi/2 {
		r.fail(k.part, "pitch-steep", "pitch below 90 degrees", "part %q stands upright or beyond at %s", p.Name, p.Pitch.Written)
		return line{}, false
	}
	if k.side == detail.Bottom || k.side == detail.Top {
		return r.slopeFace(k, p, turn)
	}
	var e *detail.Edge
	if k.layer >= 0 {
		t := trimOf(p, r.stacks[k.part].layers[k.layer].Name, k.side)
		if t == nil {
			return r.side(sideKey{k.part, -1, k.side}, p.At)
		}
		e = &t.Edge
	} else {
		e, _ = endEdge(p, k.side)
		f, _ := endEdge(p, opposite(k.side))
		switch {
		case e != nil && f != nil && p.Width != 0:
			r.fail(k.part, "over-constrained", "leave one of the three away", "part %q gives both ends and a width", p.Name)
			return line{}, false
		case e == nil && (f == nil || p.Width == 0):
			r.fail(k.part, "under-constrained", "give two of left, right and width, or bottom and top", "pitched part %q does not say how far it runs", p.Name)
			return line{}, false
		}
	}
	if e == nil {
		l, ok := r.side(sideKey{k.part, -1, opposite(k.side)}, p.At)
		if ok && l.reaches {
			l = straight(across, l.reach)
		}
		return r.endCut(k, p, turn, l.shifted(across, sideSign(k.side)*nanometres(p.Width)), ok)
	}
	if _, v := endEdge(p, k.side); v != "" && k.layer < 0 {
		return r.endAtHeight(k, p, turn, e, v)
	}
	l, ok := r.edge(e, across, k.part, k.side)
	if e.Kind == detail.EdgeCut {
		return l, ok
	}
	return r.endCut(k, p, turn, l, ok)
}

// endEdge is what ends a pitched part at its left or right: that edge itself,
// or the height at which the slope comes down or goes up to there (vertical
// then names it). nil where neither is given.
func endEdge(p *detail.Part, side detail.Side) (e *detail.Edge, vertical detail.Side) {
	if e = boxEdge(&p.Box, side); e.Kind != detail.EdgeUnset {
		return e, ""
	}
	vertical = detail.Top
	if (side == detail.Left) == (p.Pitch.Angle >= 0) {
		vertical = detail.Bottom
	}
	if e = boxEdge(&p.Box, vertical); e.Kind != detail.EdgeUnset {
		return e, vertical
	}
	return nil, ""
}

// endAtHeight ends a pitched part where its farthest corner is at a height:
// the upper face's at the top, the lower face's at the bottom.
func (r *resolver) endAtHeight(k sideKey, p *detail.Part, turn float64, e *detail.Edge, v detail.Side) (line, bool) {
	l, ok := r.edge(e, upward, k.part, v)
	if !ok || l.slant || e.Kind == detail.EdgeCut || p.Ends == "level" {
		return l, ok
	}
	face, ok := r.side(sideKey{k.part, -1, v}, p.At)
	if !ok {
		return line{}, false
	}
	x, ok := face.where(across, float64(l.at))
	if !ok {
		r.failAt(k.part, e.At, "edge-parallel", "end it at its left and right", "part %q is level and never comes to that height", p.Name)
		return line{}, false
	}
	if p.Ends == "square" {
		return line{slant: true, p: vec{x, float64(l.at)}, d: vec{-math.Sin(turn), math.Cos(turn)}, reach: nm(math.Round(x)), reaches: true}, true
	}
	return straight(across, nm(math.Round(x))), true
}

// endCut stands the end of a pitched part or layer so that its farthest corner
// is where the line stands.
func (r *resolver) endCut(k sideKey, p *detail.Part, turn float64, l line, ok bool) (line, bool) {
	if !ok || l.slant && !l.reaches || !l.slant && l.axis != across {
		return l, ok // along another part's face
	}
	reach := l.at
	if l.reaches {
		reach = l.reach
	}
	var d vec
	switch {
	case p.Ends == "" || p.Ends == "plumb" || turn == 0:
		return straight(across, reach), true
	case p.Ends == "square":
		d = vec{-math.Sin(turn), math.Cos(turn)}
	case p.Ends == "level":
		d = vec{1, 0}
	default:
		r.fail(k.part, "unknown-end", "say plumb, square or level", "part %q ends %q", p.Name, p.Ends)
		return line{}, false
	}
	// Rising to the right, the upper corner of a left end sticks out, and the
	// lower corner of a right end; falling, the other way round.
	corner := detail.Top
	if (k.side == detail.Left) != (turn > 0) {
		corner = detail.Bottom
	}
	face, ok := r.side(sideKey{k.part, k.layer, corner}, p.At)
	if !ok {
		return line{}, false
	}
	y, _ := face.where(upward, float64(reach))
	return line{slant: true, p: vec{float64(reach), y}, d: d, reach: reach, reaches: true}, true
}

// slopeFace finds the lower or upper face of a pitched part or layer.
func (r *resolver) slopeFace(k sideKey, p *detail.Part, turn float64) (line, bool) {
	if p.Seat == nil {
		r.fail(k.part, "seat-missing", "add `seat: {"+p.Name+".bottom: [x, y]}`", "part %q is pitched %s and has no seat", p.Name, p.Pitch.Written)
		return line{}, false
	}
	s := r.stacks[k.part]
	if s != nil && sideAxis(p.Inside) == across {
		r.fail(k.part, "pitch-inside", "say `inside: bottom` or `inside: top`", "part %q is pitched and has its inside at the %s", p.Name, p.Inside)
		return line{}, false
	}
	seatLayer := -1
	if p.Seat.Layer != "" && s != nil {
		if seatLayer = s.layer(p.Seat.Layer); seatLayer < 0 {
			r.failAt(k.part, p.Seat.At, "unknown-layer", "", "%s, laid as %q, has no layer %q", s.detail.Mark, p.Name, p.Seat.Layer)
			return line{}, false
		}
	}
	if sideAxis(p.Seat.Side) == across {
		r.failAt(k.part, p.Seat.At, "seat-side", "seat the bottom or the top of the part or of a layer", "part %q is seated by its %s", p.Name, p.Seat.Side)
		return line{}, false
	}
	seat, ok := r.point(&p.Seat.Point, k.part)
	if !ok {
		return line{}, false
	}
	up := r.height(k, p, s, k.layer, k.side) - r.height(k, p, s, seatLayer, p.Seat.Side)
	if r.bad[k.part] {
		return line{}, false
	}
	n := vec{-math.Sin(turn), math.Cos(turn)}
	at := vec{seat.x + n.x*float64(up), seat.y + n.y*float64(up)}
	return through(at, vec{math.Cos(turn), math.Sin(turn)}), true
}

// height of a face above the lower face of a pitched part, square to it.
func (r *resolver) height(k sideKey, p *detail.Part, s *stack, layer int, side detail.Side) nm {
	if s == nil {
		if p.Height <= 0 {
			r.fail(k.part, "under-constrained", "give its height, square to the slope", "pitched part %q has no height", p.Name)
			return 0
		}
		if side == detail.Bottom {
			return 0
		}
		return nanometres(p.Height)
	}
	from, to := s.span(layer)
	if p.Inside == detail.Top {
		from, to = s.total-to, s.total-from
	}
	if side == detail.Bottom {
		return from
	}
	return to
}

func axisWord(a axis) string {
	if a == across {
		return "left to right"
	}
	return "bottom to top"
}

func axisTrio(a axis) string {
	if a == across {
		return "left, right and width"
	}
	return "bottom, top and height"
}
