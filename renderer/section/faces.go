package section

import (
	"slices"

	"wythe/renderer/geometry"
)

// films lists the films that show on each edge, in the order they lie.
func (p *painter) films() {
	s, a := p.s, p.a
	s.FilmsOn = make(map[int32][]FilmEdge, len(p.filmUse))
	type entry struct {
		FilmEdge
		group int8
		rank  int
	}
	var list []entry
	for e := range a.Edges {
		list = list[:0]
		if s.Owner[a.FaceOf(geometry.Half(2*e))] == Outside && s.Owner[a.FaceOf(geometry.Half(2*e+1))] == Outside {
			continue
		}
		for k := p.filmAt[e]; k < p.filmAt[e+1]; k++ {
			u := p.filmUse[k]
			if u.hidden {
				continue
			}
			seg := p.filmSegs[u.seg]
			f := &s.Films[seg.film]
			n, rank := int8(0), 0
			if f.Normal != nil {
				n, rank = f.Normal[seg.piece]*u.turn, f.Rank[seg.piece]
			}
			if n > 0 {
				rank = -rank // farthest from the face on the right comes first
			}
			list = append(list, entry{FilmEdge{seg.film, u.turn}, n, rank})
		}
		if len(list) == 0 {
			continue
		}
		slices.SortStableFunc(list, func(x, y entry) int {
			if x.group != y.group {
				return int(x.group) - int(y.group)
			}
			return x.rank - y.rank
		})
		out := make([]FilmEdge, len(list))
		for i, l := range list {
			out[i] = l.FilmEdge
		}
		s.FilmsOn[int32(e)] = out
	}
}

// faces merges the faces of the arrangement that one region shows in. Air on
// two sides of a film stays two faces.
func (p *painter) faces() {
	s, a := p.s, p.a
	s.FaceOf = make([]int32, a.Faces())
	for f := range s.FaceOf {
		s.FaceOf[f] = -1
	}
	for f := int32(1); f < int32(a.Faces()); f++ {
		if s.Owner[f] == Outside || s.FaceOf[f] >= 0 {
			continue
		}
		id := int32(len(s.Faces))
		face := Face{Region: s.Owner[f], Part: -1, Layer: -1}
		if s.Owner[f] >= 0 {
			g := &s.Regions[s.Owner[f]]
			face.Part, face.Layer, face.Instance, face.Name, face.Material = g.Part, g.Layer, g.Instance, g.Name, g.Material
		}
		air := s.Owner[f] < 0 || s.Regions[s.Owner[f]].Air()
		p.stack = append(p.stack[:0], f)
		s.FaceOf[f] = id
		for len(p.stack) > 0 {
			g := p.stack[len(p.stack)-1]
			p.stack = p.stack[:len(p.stack)-1]
			face.Area2 += a.Area2(g)
			for _, h := range a.Halves(g) {
				n := a.FaceOf(h.Twin())
				if s.Owner[n] == Outside {
					face.AtCut = true
				}
				if s.Owner[n] == s.Owner[f] && s.FaceOf[n] < 0 && !(air && len(s.FilmsOn[h.Edge()]) > 0) {
					s.FaceOf[n] = id
					p.stack = append(p.stack, n)
				}
			}
		}
		s.Faces = append(s.Faces, face)
	}
	p.polygons()
}

// bounds reports whether h parts two faces as seen.
func (p *painter) bounds(h geometry.Half) bool {
	return p.s.FaceOf[p.a.FaceOf(h)] != p.s.FaceOf[p.a.FaceOf(h.Twin())]
}

// polygons walks the boundary of every face.
func (p *painter) polygons() {
	s, a := p.s, p.a
	seen := make([]bool, 2*len(a.Edges))
	var ring geometry.Ring
	for h := range seen {
		first := geometry.Half(h)
		f := s.FaceOf[a.FaceOf(first)]
		if f < 0 || seen[h] || !p.bounds(first) {
			continue
		}
		ring = ring[:0]
		for g := first; ; {
			seen[g] = true
			ring = append(ring, a.Start(g))
			g = a.Next(g)
			for !p.bounds(g) {
				g = a.Next(g.Twin())
			}
			if g == first {
				break
			}
		}
		r := unbent(ring)
		poly := &s.Faces[f].Polygon
		if r.Area2() > 0 {
			if poly.Outer != nil {
				panic("section: a face has two outer rings")
			}
			poly.Outer = r
		} else {
			poly.Holes = append(poly.Holes, r)
		}
	}
	for _, f := range s.Faces {
		if f.Polygon.Area2() != f.Area2 {
			panic("section: a face's rings do not hold its area")
		}
	}
}

// unbent copies a ring without the points that lie between their neighbours.
func unbent(r geometry.Ring) geometry.Ring {
	out := make(geometry.Ring, 0, len(r))
	for i, p := range r {
		a, b := r[(i+len(r)-1)%len(r)], r[(i+1)%len(r)]
		if geometry.Orient(a, p, b) != 0 || geometry.Dot(p.Sub(a), b.Sub(p)) < 0 {
			out = append(out, p)
		}
	}
	return out
}

// outlines chains the edges between faces, each once.
func (p *painter) outlines() {
	s, a := p.s, p.a
	seen := make([]bool, len(a.Edges))
	pair := func(h geometry.Half) (int32, int32) {
		return s.FaceOf[a.FaceOf(h)], s.FaceOf[a.FaceOf(h.Twin())]
	}
	// onward returns the one half-edge that carries the outline on past the
	// end of h.
	onward := func(h geometry.Half) (geometry.Half, bool) {
		var next geometry.Half
		n := 0
		for _, g := range a.Outgoing(a.To(h)) {
			if p.bounds(g) {
				if n++; g != h.Twin() {
					next = g
				}
			}
		}
		if n != 2 || seen[next.Edge()] {
			return 0, false
		}
		l, r := pair(h)
		nl, nr := pair(next)
		return next, l == nl && r == nr
	}
	for e := range a.Edges {
		h := geometry.Half(2 * e)
		if seen[e] || !p.bounds(h) {
			continue
		}
		seen[e] = true
		// Back to where the outline starts, then along it.
		var back []geometry.Point
		for g := h.Twin(); ; {
			next, ok := onward(g)
			if !ok {
				break
			}
			seen[next.Edge()] = true
			back = append(back, a.End(next))
			g = next
		}
		slices.Reverse(back)
		lineOut := append(back, a.Start(h), a.End(h))
		for g := h; ; {
			next, ok := onward(g)
			if !ok {
				break
			}
			seen[next.Edge()] = true
			lineOut = append(lineOut, a.End(next))
			g = next
		}
		l, r := pair(h)
		s.Outlines = append(s.Outlines, Outline{Line: straightened(lineOut), Left: l, Right: r})
	}
}

// straightened drops points of an open line that lie between their neighbours.
func straightened(l []geometry.Point) []geometry.Point {
	out := l[:1:1]
	for i := 1; i < len(l); i++ {
		if i+1 < len(l) && geometry.Orient(out[len(out)-1], l[i], l[i+1]) == 0 &&
			geometry.Dot(l[i].Sub(out[len(out)-1]), l[i+1].Sub(l[i])) > 0 {
			continue
		}
		out = append(out, l[i])
	}
	return out
}

// runs chains the edges on which each film shows.
func (p *painter) runs() {
	s, a := p.s, p.a
	type step struct {
		along int64
		h     geometry.Half
	}
	var steps []step
	regions := len(s.Regions)
	run := -1
	for i, seg := range p.filmSegs {
		f := &s.Films[seg.film]
		if seg.piece == 0 {
			run = -1
		}
		from, to := f.Line[seg.piece], f.Line[seg.piece+1]
		steps = steps[:0]
		for k := p.useAt[regions+i]; k < p.useAt[regions+i+1] && p.useEdge[k] >= 0; k++ {
			e := p.useEdge[k]
			shown := false
			for _, on := range s.FilmsOn[e] {
				shown = shown || on.Film == seg.film
			}
			if !shown {
				continue
			}
			h := geometry.Half(2 * e)
			if p.useTurn[k] < 0 {
				h++
			}
			steps = append(steps, step{geometry.Dot(a.Start(h).Sub(from), to.Sub(from)), h})
		}
		slices.SortFunc(steps, func(x, y step) int {
			if x.along < y.along {
				return -1
			}
			return 1
		})
		for _, t := range steps {
			if run >= 0 {
				l := s.Runs[run].Line
				if l[len(l)-1] == a.Start(t.h) {
					s.Runs[run].Line = append(l, a.End(t.h))
					continue
				}
			}
			run = len(s.Runs)
			s.Runs = append(s.Runs, FilmRun{Film: int(seg.film), Line: []geometry.Point{a.Start(t.h), a.End(t.h)}})
		}
	}
	for i := range s.Runs {
		s.Runs[i].Line = straightened(s.Runs[i].Line)
	}
}
