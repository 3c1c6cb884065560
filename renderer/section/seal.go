package section

import (
	"math"

	"wythe/renderer/geometry"
)

// joinSeals finds what each seal reaches. Where the two stand apart it adds a
// film across the gap; it reports whether any was added, which calls for a
// new arrangement.
func (r *resolver) joinSeals(p *painter) bool {
	s := r.section
	if len(s.Seals) == 0 {
		return false
	}
	p.films()
	added := false
	for i := range s.Seals {
		l := &s.Seals[i]
		l.Holds = true
		for k := 1; k < len(l.Joins); k++ {
			if !r.joinPair(p, i, l, l.Joins[k-1], l.Joins[k], &added) {
				l.Holds = false
			}
		}
	}
	return added
}

// reachOf is the part of a member within sight of a seal.
type reachOf struct {
	edges    []int32
	vertices map[int32]bool
	at       geometry.Vec
	distance float64
}

// near finds a member's visible edges and its place nearest the seal.
func (p *painter) near(m Member, place geometry.Point) reachOf {
	s, a := p.s, p.a
	out := reachOf{vertices: map[int32]bool{}, distance: math.Inf(1)}
	match := func(part, layer int) bool { return part == m.Part && (m.Layer < 0 || layer == m.Layer) }
	owned := func(f int32) bool {
		o := s.Owner[f]
		return o >= 0 && match(s.Regions[o].Part, s.Regions[o].Layer)
	}
	for e := range a.Edges {
		l, r := a.FaceOf(geometry.Half(2*e)), a.FaceOf(geometry.Half(2*e+1))
		hit := owned(l) != owned(r) && s.Owner[l] != Outside && s.Owner[r] != Outside
		for _, f := range s.FilmsOn[int32(e)] {
			film := &s.Films[f.Film]
			hit = hit || film.Seal == -1 && match(film.Part, film.Layer)
		}
		if !hit {
			continue
		}
		out.edges = append(out.edges, int32(e))
		u, v := a.Edges[e].U, a.Edges[e].V
		out.vertices[u], out.vertices[v] = true, true
		if q, d := geometry.Nearest(place.Vec(), a.Points[u].Vec(), a.Points[v].Vec()); d < out.distance {
			out.at, out.distance = q, d
		}
	}
	return out
}

func (r *resolver) joinPair(p *painter, seal int, l *Seal, m, n Member, added *bool) bool {
	s := r.section
	at := r.j.Parts[l.Part].At
	a, b := p.near(m, l.Place), p.near(n, l.Place)
	for k, side := range [...]reachOf{a, b} {
		name := [...]Member{m, n}[k].Name
		if len(side.edges) == 0 {
			if !r.bad[[...]Member{m, n}[k].Part] {
				r.failAt(l.Part, at, "seal-hidden", "join what shows", "seal %q joins %q, which does not show", r.j.Parts[l.Part].Name, name)
			}
			return false
		}
	}
	touch := math.Inf(1)
	for _, e := range b.edges {
		for _, v := range [...]int32{p.a.Edges[e].U, p.a.Edges[e].V} {
			if a.vertices[v] {
				touch = math.Min(touch, p.a.Points[v].Distance(l.Place))
			}
		}
	}
	inB := make(map[int32]bool, len(b.edges))
	for _, e := range b.edges {
		inB[e] = true
	}
	for _, e := range a.edges {
		if inB[e] {
			_, d := geometry.Nearest(l.Place.Vec(), p.a.Points[p.a.Edges[e].U].Vec(), p.a.Points[p.a.Edges[e].V].Vec())
			touch = math.Min(touch, d)
		}
	}
	reach := float64(l.Reach) * 1e6
	if !l.Placed {
		if math.IsInf(touch, 1) {
			r.failAt(l.Part, at, "seal-apart", "give the seal a place, or close the gap", "seal %q joins %q and %q, which do not touch", r.j.Parts[l.Part].Name, m.Name, n.Name)
			return false
		}
		return true
	}
	if touch <= reach {
		return true
	}
	for k, side := range [...]reachOf{a, b} {
		if side.distance > reach {
			name := [...]Member{m, n}[k].Name
			r.failAt(l.Part, at, "seal-short", "move the seal to where the two meet",
				"seal %q stands %.3g in from %q and reaches %.3g in", r.j.Parts[l.Part].Name, side.distance/25400, name, reach/25400)
			return false
		}
	}
	dx, dy := b.at.X-a.at.X, b.at.Y-a.at.Y
	gap := math.Hypot(dx, dy)
	if gap == 0 {
		return true
	}
	// The bridge reaches into both by more than noding bends an edge.
	k := sliverWidth / gap
	from := geometry.Point{X: int64(math.Round(a.at.X - k*dx)), Y: int64(math.Round(a.at.Y - k*dy))}
	to := geometry.Point{X: int64(math.Round(b.at.X + k*dx)), Y: int64(math.Round(b.at.Y + k*dy))}
	part := r.j.Parts[l.Part]
	l.Bridge = true
	s.Films = append(s.Films, Film{Part: l.Part, Layer: -1, Name: part.Name, Material: part.Material, Line: []geometry.Point{from, to}, Seal: seal})
	*added = true
	return true
}
