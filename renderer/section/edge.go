package section

import (
	"math"

	"wythe/renderer/detail"
	"wythe/renderer/finding"
)

// edge returns the line an edge in words names, for a number on axis a. part
// is whose edge it is (-1 the view's or a level's), for findings; side is
// which of its sides, for `cut`.
func (r *resolver) edge(e *detail.Edge, a axis, part int, side detail.Side) (line, bool) {
	switch e.Kind {
	case detail.EdgeAbsolute:
		return straight(a, nanometres(e.Length)), true
	case detail.EdgeRef:
		k, ok := r.refKey(e, part)
		if !ok {
			return line{}, false
		}
		if k.part != ofLevel && sideAxis(k.side) != a {
			r.failAt(part, e.At, "wrong-axis", axisMend(a), "%q is %s; %s is wanted here", e.Written, axisNoun(a.other()), axisNoun(a))
			return line{}, false
		}
		if k.part == ofLevel && a == across {
			r.failAt(part, e.At, "wrong-axis", axisMend(a), "%q is a level; %s is wanted here", e.Written, axisNoun(a))
			return line{}, false
		}
		return r.side(k, e.At)
	case detail.EdgeOffset:
		along := across
		if e.Vertical {
			along = upward
		}
		if along != a {
			r.failAt(part, e.At, "wrong-axis", axisMend(a), "%q measures along the other way; %s is wanted here", e.Written, axisNoun(a))
			return line{}, false
		}
		l, ok := r.edge(e.Of, a, part, side)
		return l.shifted(a, nanometres(e.Length)), ok
	case detail.EdgeMidway:
		x, ok1 := r.number(e.A, a, part)
		y, ok2 := r.number(e.B, a, part)
		return straight(a, (x+y)/2), ok1 && ok2
	case detail.EdgeAtEdge:
		return r.atEdge(e, a, part)
	case detail.EdgeUnder, detail.EdgeOver:
		of := detail.Bottom
		if e.Kind == detail.EdgeOver {
			of = detail.Top
		}
		k, ok := r.partKey(e, part)
		if !ok {
			return line{}, false
		}
		k.side = of
		return r.side(k, e.At)
	case detail.EdgeCut:
		if side == "" {
			r.failAt(part, e.At, "cut-misplaced", "use `cut` for a part's own left, right, bottom or top", "%q has no side to run past", e.Written)
			return line{}, false
		}
		if part >= 0 {
			r.section.Cut[side] = true
		}
		return r.side(sideKey{ofView, -1, side}, e.At)
	}
	r.failAt(part, e.At, "edge-missing", "give the edge", "an edge is missing")
	return line{}, false
}

// atEdge reads `NAME.side at edge`: where the side stands at a place on the
// other axis.
func (r *resolver) atEdge(e *detail.Edge, a axis, part int) (line, bool) {
	k, ok := r.refKey(e, part)
	if !ok {
		return line{}, false
	}
	l, ok := r.side(k, e.At)
	if !ok {
		return line{}, false
	}
	if sideAxis(k.side) != a {
		r.failAt(part, e.At, "wrong-axis", axisMend(a), "%q is %s; %s is wanted here", e.Written, axisNoun(a.other()), axisNoun(a))
		return line{}, false
	}
	place, ok := r.number(e.Of, a.other(), part)
	if !ok {
		return line{}, false
	}
	v, ok := l.where(a, float64(place))
	if !ok {
		r.failAt(part, e.At, "edge-parallel", "name a side that the place crosses", "%q runs along the place it is asked at", e.Written)
		return line{}, false
	}
	return straight(a, nm(math.Round(v))), true
}

// number returns the one number of an edge on axis a.
func (r *resolver) number(e *detail.Edge, a axis, part int) (nm, bool) {
	l, ok := r.edge(e, a, part, "")
	if !ok {
		return 0, false
	}
	return r.numberOf(l, a, e, part)
}

func (r *resolver) numberOf(l line, a axis, e *detail.Edge, part int) (nm, bool) {
	if l.reaches && a == across {
		return l.reach, true
	}
	if l.slant || l.axis != a {
		r.failAt(part, e.At, "sloped-edge", "say where: `"+e.Written+" at …`", "%q slopes and has no one place", e.Written)
		return 0, false
	}
	return l.at, true
}

// refKey finds whose side `NAME.side`, `NAME.layer.side` or a level names.
func (r *resolver) refKey(e *detail.Edge, part int) (sideKey, bool) {
	if e.Side == "" && e.Layer == "" {
		for i, l := range r.j.Levels {
			if l.Name == e.Part {
				return sideKey{ofLevel, i, ""}, true
			}
		}
	}
	if e.Part == "view" {
		if _, named := r.byName["view"]; !named && e.Side != "" {
			return sideKey{ofView, -1, e.Side}, true
		}
	}
	k, ok := r.partKey(e, part)
	if !ok {
		return k, false
	}
	if e.Side == "" {
		r.failAt(part, e.At, "side-missing", "add .left, .right, .bottom or .top", "%q names no side", e.Written)
		return k, false
	}
	k.side = e.Side
	return k, true
}

// partKey finds the part and layer an edge names.
func (r *resolver) partKey(e *detail.Edge, part int) (sideKey, bool) {
	return r.memberKey(e.Part, e.Layer, part, e.At)
}

func (r *resolver) memberKey(name, layer string, part int, at finding.Position) (sideKey, bool) {
	i, ok := r.byName[name]
	if !ok {
		r.failAt(part, at, "unknown-part", r.nearest(name), "no part is named %q", name)
		return sideKey{}, false
	}
	k := sideKey{i, -1, ""}
	if layer == "" {
		return k, true
	}
	s := r.stacks[i]
	if s == nil {
		if !r.bad[i] {
			r.failAt(part, at, "unknown-layer", "name the part alone", "part %q has no layers, so no %q", name, layer)
		}
		return k, false
	}
	if k.layer = s.layer(layer); k.layer < 0 {
		r.failAt(part, at, "unknown-layer", "", "%s, laid as %q, has no layer %q", s.detail.Mark, name, layer)
		return k, false
	}
	return k, true
}

// nearest offers the part whose name is closest, within two letters.
func (r *resolver) nearest(name string) string {
	best, at := 3, ""
	for _, p := range r.j.Parts {
		if d := letters(name, p.Name); d < best {
			best, at = d, p.Name
		}
	}
	if at == "" {
		return ""
	}
	return "did you mean \"" + at + "\"?"
}

// letters counts the letters to change, add or drop between two words.
func letters(a, b string) int {
	row := make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i := range len(a) {
		last := row[0]
		row[0] = i + 1
		for j := range len(b) {
			c := last
			if a[i] != b[j] {
				c++
			}
			last = row[j+1]
			row[j+1] = min(c, row[j]+1, last+1)
		}
	}
	return row[len(b)]
}

func axisNoun(a axis) string {
	if a == across {
		return "a place from left to right"
	}
	return "a height"
}

func axisMend(a axis) string {
	if a == across {
		return "name a left or a right edge"
	}
	return "name a bottom or a top edge, or a level"
}
