package continuity

import (
	"math"
	"slices"
	"strings"

	"wythe/renderer/detail"
	"wythe/renderer/finding"
	"wythe/renderer/geometry"
	"wythe/renderer/material"
	"wythe/renderer/section"
)

// Distances of wood from earth, µm: 8 in to sills and framing, 6 in to siding
// (IRC R317.1, from memory). Local code decides.
const (
	sillClearance   = 203200
	sidingClearance = 152400
)

// ledgeLeast is the width from which a level top is a ledge that holds water,
// µm: 1 in (common practice).
const ledgeLeast = 25400

// ledgeMost is the width beyond which a top is a roof or a terrace, whose fall
// may run out of the section, µm: 12 in.
const ledgeMost = 304800

// dripLeast is how far a part that sheds stands out over what is below it,
// µm: 1 in (common practice).
const dripLeast = 25400

// Water checks what a section shows of water beside the water control: ledges
// in the open slope out, parts that shed drip clear of what is below, wood
// keeps its distance from earth. In plan none of it can be seen. All are
// warnings: a section does not show what a flashing out of its plane does.
// What is asked to hold a kind of water that it cannot is an error.
func Water(s *section.Section) finding.List {
	var list finding.List
	kinds(s, &list)
	if s.Junction.Plan {
		return list
	}
	w := &weather{s: s, out: outdoors(s)}
	w.ledges(&list)
	w.drips(&list)
	w.clearances(&list)
	list.Sort()
	return list
}

// kinds reports what carries the water control against a kind of water that
// it does not hold: stone breaks capillary rise and drains, a coat keeps damp
// off, and neither holds water under pressure.
func kinds(s *section.Section, list *finding.List) {
	said := map[string]bool{}
	for i := range s.Regions {
		g := &s.Regions[i]
		kind(s, g.Name, g.Part, g.Layer, g.Material, g.Control, said, list)
	}
	for i := range s.Films {
		if f := &s.Films[i]; f.Part >= 0 {
			kind(s, f.Name, f.Part, f.Layer, f.Material, f.Control, said, list)
		}
	}
}

func kind(s *section.Section, name string, part, layer int, m *material.Material, controls []detail.Control, said map[string]bool, list *finding.List) {
	if m == nil || said[name] || !slices.Contains(controls, detail.Water) {
		return
	}
	said[name] = true
	p := s.Junction.Parts[part]
	wet := p.Wet
	if layer >= 0 {
		wet = "" // an assembly's layers do not say
	}
	switch {
	case m.Hatch == material.WashedStone && wet != "drain" && wet != "capillary":
		list.Errorf(p.At, "water-kind", "say `water: drain` or `water: capillary`, and let a membrane carry the control",
			"%s (%s) drains and breaks capillary rise; it is no waterproofing", name, m.Name)
	case strings.Contains(m.Name, "dampproof") && wet == "under pressure":
		list.Errorf(p.At, "water-kind", "use a waterproofing membrane, or drain the water away",
			"%s (%s) keeps damp off; it does not hold water under pressure", name, m.Name)
	}
}

// weather is a section with the air that rain reaches.
type weather struct {
	s   *section.Section
	out []bool // by arrangement face
}

// outdoors floods from outside spaces through air without films.
func outdoors(s *section.Section) []bool {
	a := s.Arrangement
	out := make([]bool, a.Faces())
	var stack []int32
	for _, sp := range s.Spaces {
		if sp.Inside {
			continue
		}
		for _, f := range sp.Faces {
			if !out[f] {
				out[f] = true
				stack = append(stack, f)
			}
		}
	}
	for len(stack) > 0 {
		f := stack[len(stack)-1]
		stack = stack[:len(stack)-1]
		for _, h := range a.Halves(f) {
			n := a.FaceOf(h.Twin())
			// Rain falls through open air; an air layer behind a face is not reached.
			if !out[n] && s.Owner[n] == section.Open && len(s.FilmsOn[h.Edge()]) == 0 {
				out[n] = true
				stack = append(stack, n)
			}
		}
	}
	return out
}

// inward is -1 where the inside lies left of a place, +1 where it lies right.
func (w *weather) inward(x int64) int64 {
	best, dir := int64(math.MaxInt64), int64(1)
	for _, sp := range w.s.Spaces {
		if !sp.Inside {
			continue
		}
		for _, p := range sp.Points {
			if d := max(p.X-x, x-p.X); d < best {
				best, dir = d, 1
				if p.X < x {
					dir = -1
				}
			}
		}
	}
	return dir
}

// ledges reports tops in the open that hold water against the wall.
func (w *weather) ledges(list *finding.List) {
	s := w.s
	said := map[string]bool{}
	for _, o := range s.Outlines {
		for k := 1; k < len(o.Line); k++ {
			u, v := o.Line[k-1], o.Line[k]
			up, low := o.Left, o.Right
			if u.X > v.X {
				u, v, up, low = v, u, o.Right, o.Left
			}
			if up < 0 || low < 0 || v.X-u.X < ledgeLeast || v.X-u.X > ledgeMost || s.Faces[low].Region < 0 {
				continue
			}
			g := &s.Regions[s.Faces[low].Region]
			if w.covered(u, v) || !w.openFace(up) || g.Air() || g.Soil() || loose(g.Material) || g.Instance > 0 || said[g.Name] {
				continue
			}
			// Only beside what stands up from it: a ledge, not a roof.
			rise := v.Y - u.Y // to the right
			in := w.inward((u.X + v.X) / 2)
			inner := u
			if in > 0 {
				inner = v
			}
			if !standsAt(s, inner, up) {
				continue
			}
			switch {
			case rise == 0:
				said[g.Name] = true
				list.Warnf(partOf(s, g), "flat-ledge", "slope it out, 1 in 12 or more, or cover it with a flashing that does", "the top of %s lies level in the weather", g.Name)
			case rise*in < 0:
				said[g.Name] = true
				list.Warnf(partOf(s, g), "ledge-slopes-in", "slope it out", "the top of %s slopes towards the inside", g.Name)
			}
		}
	}
}

// covered reports whether a film lies along a line.
func (w *weather) covered(u, v geometry.Point) bool {
	a := w.s.Arrangement
	for e := range w.s.FilmsOn {
		p, q := a.Points[a.Edges[e].U], a.Points[a.Edges[e].V]
		if geometry.OnSegment(p, u, v) && geometry.OnSegment(q, u, v) {
			return true
		}
	}
	return false
}

func (w *weather) openFace(face int32) bool {
	for f, id := range w.s.FaceOf {
		if id == face && w.out[f] {
			return true
		}
	}
	return false
}

// standsAt reports whether a solid rises from the inner end of a ledge.
func standsAt(s *section.Section, p geometry.Point, up int32) bool {
	for _, o := range s.Outlines {
		for k := 1; k < len(o.Line); k++ {
			u, v := o.Line[k-1], o.Line[k]
			if u != p && v != p || u.X != v.X {
				continue
			}
			if max(u.Y, v.Y) > p.Y && (o.Left == up || o.Right == up) {
				return true
			}
		}
	}
	return false
}

func loose(m *material.Material) bool {
	return m.Hatch == material.WashedStone || m.Hatch == material.Sand || m.Hatch == material.LooseFill
}

func partOf(s *section.Section, g *section.Region) finding.Position {
	return s.Junction.Parts[g.Part].At
}

// drips reports parts for water that sheds whose outer edge stands no more
// than dripLeast out over the solid face below it.
func (w *weather) drips(list *finding.List) {
	s := w.s
	for i, p := range s.Junction.Parts {
		if p.Wet != "shed" || p.Kind == detail.Film || len(s.Parts[i].Faces) == 0 {
			continue
		}
		b := geometry.EmptyBox()
		for _, f := range s.Parts[i].Faces {
			fb := s.Faces[f].Polygon.Bounds()
			b = b.Grow(fb.Min).Grow(fb.Max)
		}
		in := w.inward((b.Min.X + b.Max.X) / 2)
		edge := b.Min.X
		if in < 0 {
			edge = b.Max.X
		}
		// The outermost solid right below, within the part's width.
		face, found := int64(0), false
		for _, f := range s.Faces {
			if f.Part < 0 || f.Part == i || s.Regions[f.Region].Air() || s.Regions[f.Region].Soil() {
				continue
			}
			fb := f.Polygon.Bounds()
			if fb.Max.Y > b.Min.Y+1000 || fb.Max.Y < b.Min.Y-50800 || fb.Min.X >= b.Max.X || fb.Max.X <= b.Min.X {
				continue
			}
			x := fb.Min.X
			if in < 0 {
				x = fb.Max.X
			}
			if !found || (x-face)*in < 0 {
				face, found = x, true
			}
		}
		if found && (face-edge)*in < dripLeast-thinRounding {
			list.Warnf(p.At, "drip-short", "let it stand out 1 in with a drip", "%s sheds water, and stands %.3g in out over what is below", p.Name, float64((face-edge)*in)/25400)
		}
	}
}

// clearances reports wood that comes nearer to earth in the open than it may.
func (w *weather) clearances(list *finding.List) {
	s, a := w.s, w.s.Arrangement
	type edge struct{ u, v geometry.Point }
	var ground []edge
	for e := range a.Edges {
		l, r := a.FaceOf(geometry.Half(2*e)), a.FaceOf(geometry.Half(2*e+1))
		soil := func(f int32) bool { o := s.Owner[f]; return o >= 0 && s.Regions[o].Soil() }
		if soil(l) && w.out[r] || soil(r) && w.out[l] {
			ground = append(ground, edge{a.Points[a.Edges[e].U], a.Points[a.Edges[e].V]})
		}
	}
	if len(ground) == 0 {
		return
	}
	type worst struct {
		d    float64
		face int
	}
	near := map[string]worst{}
	var order []string
	for i, f := range s.Faces {
		if f.Region < 0 || !wood(f.Material) {
			continue
		}
		for k, u := range f.Polygon.Outer {
			v := f.Polygon.Outer[(k+1)%len(f.Polygon.Outer)]
			for _, g := range ground {
				_, _, d := geometry.SegmentDistance(u, v, g.u, g.v)
				old, known := near[f.Name]
				if !known {
					order = append(order, f.Name)
				}
				if !known || d < old.d {
					near[f.Name] = worst{d, i}
				}
			}
		}
	}
	for _, name := range order {
		n := near[name]
		f := s.Faces[n.face]
		least, what := float64(sillClearance), "8 in"
		if f.Material.Hatch == material.FinishTimber {
			least, what = sidingClearance, "6 in"
		}
		if n.d < least-thinRounding {
			list.Warnf(s.Junction.Parts[f.Part].At, "wood-near-earth", "raise it, or use wood treated for it; local code decides",
				"%s is wood and stands %.3g in from earth; %s is usual", name, n.d/25400, what)
		}
	}
}

// wood reports timber that earth would rot: not what is treated.
func wood(m *material.Material) bool {
	if m == nil || strings.Contains(m.Name, "treated") {
		return false
	}
	switch m.Hatch {
	case material.SawnTimber, material.FinishTimber, material.Plywood:
		return true
	case material.FiberBoard:
		return strings.Contains(m.Name, "wood")
	}
	return false
}
