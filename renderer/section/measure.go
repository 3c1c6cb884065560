package section

import (
	"slices"

	"wythe/renderer/detail"
	"wythe/renderer/geometry"
)

// measure resolves levels, breaks, dimensions and declared ends.
func (r *resolver) measure() {
	s := r.section
	for i, l := range r.j.Levels {
		if n, ok := r.side(sideKey{ofLevel, i, ""}, l.At); ok {
			if y, ok := r.numberOf(n, upward, &l.Edge, -1); ok {
				s.Levels = append(s.Levels, Level{l.Name, y.micrometres()})
			}
		}
	}
	for i := range r.j.Break {
		b := &r.j.Break[i]
		a := r.axisOf(&b.From, upward)
		n, ok := r.number(&b.From, a, -1)
		if !ok {
			continue
		}
		if b.Omit <= 0 {
			r.failAt(-1, b.At, "break-size", "omit a length above zero", "a break leaves nothing out")
			continue
		}
		s.Breaks = append(s.Breaks, Break{n.micrometres(), nanometres(b.Omit).micrometres(), a == across})
	}
	for i := range r.j.Dimensions {
		r.dimension(&r.j.Dimensions[i])
	}
	for i := range r.j.Ends {
		e := &r.j.Ends[i]
		if v, ok := r.point(&e.Place, -1); ok {
			s.Ends = append(s.Ends, End{e.Control, v.round(), e.Why, e.At})
		}
	}
	for i := range r.j.Faces {
		f := &r.j.Faces[i]
		out := Settled{Face: f}
		for k := range f.Along {
			if v, ok := r.point(&f.Along[k], -1); ok {
				out.Line = append(out.Line, v.round())
			}
		}
		if len(out.Line) == len(f.Along) && len(out.Line) > 1 {
			s.Settled = append(s.Settled, out)
		}
	}
}

func (r *resolver) dimension(d *detail.Dimension) {
	a := across
	if d.Where == "left of" || d.Where == "right of" {
		a = upward
	} else if d.Where == "" {
		a = r.axisOf(&d.From, across)
	}
	from, ok1 := r.number(&d.From, a, -1)
	to, ok2 := r.number(&d.To, a, -1)
	if !ok1 || !ok2 {
		return
	}
	out := Dimension{From: from.micrometres(), To: to.micrometres(), Across: a == across, Where: d.Where, Part: -1}
	if d.Part != "" {
		i, ok := r.byName[d.Part]
		if !ok {
			r.failAt(-1, d.At, "unknown-part", r.nearest(d.Part), "no part is named %q", d.Part)
			return
		}
		out.Part = i
	}
	if out.From == out.To {
		r.failAt(-1, d.At, "dimension-empty", "name two places that stand apart", "a dimension runs from %q to the same place", d.From.Written)
		return
	}
	r.section.Dimensions = append(r.section.Dimensions, out)
}

// parts gathers where each part stands.
func (p *painter) parts() {
	s := p.s
	for i, g := range s.Regions {
		s.Parts[g.Part].Regions = append(s.Parts[g.Part].Regions, i)
	}
	for i, f := range s.Films {
		if f.Seal == -1 {
			s.Parts[f.Part].Films = append(s.Parts[f.Part].Films, i)
		}
	}
	for i, f := range s.Faces {
		if f.Part >= 0 {
			s.Parts[f.Part].Faces = append(s.Parts[f.Part].Faces, i)
		}
	}
	shown := make([]bool, len(s.Parts))
	anchored := make([]bool, len(s.Parts))
	for i, run := range s.Runs {
		f := s.Films[run.Film]
		shown[f.Part] = true
		if !anchored[f.Part] && f.Layer < 0 {
			l := s.Runs[i].Line
			a, b := l[len(l)/2-1], l[len(l)/2]
			s.Parts[f.Part].Anchor = geometry.Point{X: (a.X + b.X) / 2, Y: (a.Y + b.Y) / 2}
			anchored[f.Part] = true
		}
	}
	for i := range s.Parts {
		g := &s.Parts[i]
		var most int64
		for _, f := range g.Faces {
			shown[i] = true
			if s.Faces[f].Area2 > most {
				most = s.Faces[f].Area2
				g.Anchor = Inside(s.Faces[f].Polygon)
			}
		}
		if part := p.r.j.Parts[i]; g.Laid && !shown[i] && part.Kind != detail.Seal && !part.Beyond && !p.r.bad[i] {
			p.r.findings.Warnf(part.At, "covered", "lay it later, or leave it out", "part %q is wholly covered by later parts", part.Name)
		}
	}
	for _, l := range s.Seals {
		g := &s.Parts[l.Part]
		g.Laid, g.Anchor = true, l.Place
	}
	for _, g := range s.Beyond {
		s.Parts[g.Part].Anchor = Inside(geometry.Polygon{Outer: g.Ring})
	}
	for i := range s.Dimensions {
		if d := &s.Dimensions[i]; d.Part >= 0 {
			d.Around = s.Parts[d.Part].Bounds
		} else {
			d.Around = s.View
		}
	}
}

// Inside returns a place well inside a polygon: the middle of its widest
// stretch at the level, of five, where it is widest.
func Inside(p geometry.Polygon) geometry.Point {
	b := p.Bounds()
	best, at := int64(-1), b.Min
	for k := int64(3); k <= 7; k++ {
		// A level between whole micrometres meets no vertex.
		y2 := 2*(b.Min.Y+b.Height()*k/10) + 1
		var xs []int64
		for _, ring := range append([]geometry.Ring{p.Outer}, p.Holes...) {
			for i, u := range ring {
				v := ring[(i+1)%len(ring)]
				if (2*u.Y > y2) != (2*v.Y > y2) {
					t := float64(y2-2*u.Y) / float64(2*(v.Y-u.Y))
					xs = append(xs, u.X+int64(t*float64(v.X-u.X)))
				}
			}
		}
		slices.Sort(xs)
		for i := 0; i+1 < len(xs); i += 2 {
			if w := xs[i+1] - xs[i]; w > best {
				best, at = w, geometry.Point{X: (xs[i] + xs[i+1]) / 2, Y: y2 / 2}
			}
		}
	}
	return at
}

// placeSpaces finds the face of each space's points.
func (r *resolver) placeSpaces() {
	s := r.section
	for _, sp := range r.j.Spaces {
		out := Space{Name: sp.Name, At: sp.At, Space: sp}
		switch {
		case sp.As == "inside" || sp.As == "" && sp.Name == "inside":
			out.Inside = true
		case sp.As == "outside" || sp.As == "" && sp.Name == "outside":
		default:
			r.failAt(-1, sp.At, "space-as", "add `as: inside` or `as: outside`", "space %q is neither inside nor outside", sp.Name)
			continue
		}
		for i := range sp.Points {
			v, ok := r.point(&sp.Points[i], -1)
			if !ok {
				continue
			}
			p := v.round()
			f, on := s.Arrangement.FaceAt(p)
			at := sp.Points[i].At
			if at.Line == 0 {
				at = sp.At
			}
			switch o := s.Owner[f]; {
			case o == Outside || !s.View.Contains(p):
				r.failAt(-1, at, "space-outside-view", "put the point within the view", "the point of space %q lies outside the view", sp.Name)
				continue
			case on:
				r.failAt(-1, at, "space-on-edge", "put the point in open air", "the point of space %q lies on an edge", sp.Name)
				continue
			case o >= 0 && !s.Regions[o].Air():
				r.failAt(-1, at, "space-in-part", "put the point in open air", "the point of space %q lies in %q", sp.Name, s.Regions[o].Name)
				continue
			}
			out.Points = append(out.Points, p)
			if !slices.Contains(out.Faces, f) {
				out.Faces = append(out.Faces, f)
			}
			face := &s.Faces[s.FaceOf[f]]
			if face.Space != "" && face.Space != sp.Name {
				r.findings.Warnf(at, "spaces-joined", "draw what parts the two", "spaces %q and %q lie in the same air", face.Space, sp.Name)
				continue
			}
			face.Space = sp.Name
		}
		s.Spaces = append(s.Spaces, out)
	}
}

// Name says a region's or open air's name, for sentences.
func (s *Section) Name(owner int32) string {
	if owner < 0 {
		return "open air"
	}
	return s.Regions[owner].Name
}
