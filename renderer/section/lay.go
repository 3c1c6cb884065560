package section

import (
	"math"

	"wythe/renderer/detail"
	"wythe/renderer/geometry"
)

// view resolves the view's box.
func (r *resolver) view() bool {
	var at [4]int64
	for i, side := range [...]detail.Side{detail.Left, detail.Bottom, detail.Right, detail.Top} {
		k := sideKey{ofView, -1, side}
		l, ok := r.side(k, r.j.At)
		if !ok {
			if r.findings.Errors() == 0 {
				r.failAt(-1, r.j.At, "view-incomplete", "", "the view's %s cannot be found", side)
			}
			return false
		}
		n, ok := r.numberOf(l, sideAxis(side), boxEdge(&r.j.View, side), -1)
		if !ok {
			return false
		}
		at[i] = n.micrometres()
	}
	v := geometry.Box{Min: geometry.Point{X: at[0], Y: at[1]}, Max: geometry.Point{X: at[2], Y: at[3]}}
	if v.Width() <= 0 || v.Height() <= 0 {
		r.failAt(-1, r.j.View.Left.At, "view-empty", "put left below right and bottom below top", "the view holds nothing")
		return false
	}
	if !inLimit(v.Min) || !inLimit(v.Max) {
		r.failAt(-1, r.j.View.Left.At, "view-large", "keep the view within 500 m", "the view is too large")
		return false
	}
	r.section.View = v
	return true
}

func inLimit(p geometry.Point) bool {
	const l = geometry.Limit / 2
	return -l < p.X && p.X < l && -l < p.Y && p.Y < l
}

// layParts turns every part into regions, films, seals and rounds.
func (r *resolver) layParts() {
	for i, p := range r.j.Parts {
		if r.bad[i] {
			continue
		}
		switch p.Kind {
		case detail.Rectangle:
			r.layRegion(i, p, -1)
		case detail.Laid:
			r.checkTrims(i, p)
			for k, l := range r.stacks[i].layers {
				if r.bad[i] {
					break
				}
				if l.Film() {
					r.layFilmLayer(i, p, k)
				} else {
					r.layRegion(i, p, k)
				}
			}
		case detail.Outline:
			r.layOutline(i, p)
		case detail.Round:
			r.layRound(i, p)
		case detail.Film:
			r.layFilm(i, p)
		case detail.Seal:
			r.laySeal(i, p)
		}
	}
	r.dropBad()
}

// dropBad takes out what a part laid before its error was found.
func (r *resolver) dropBad() {
	s := r.section
	regions := s.Regions[:0]
	for _, g := range s.Regions {
		if !r.bad[g.Part] {
			regions = append(regions, g)
		}
	}
	s.Regions = regions
	films := s.Films[:0]
	for _, f := range s.Films {
		if !r.bad[f.Part] {
			films = append(films, f)
		}
	}
	s.Films = films
}

// partName is the part's name, with the layer's where there is one.
func (r *resolver) partName(i, layer int) string {
	name := r.j.Parts[i].Name
	if layer >= 0 {
		name += "." + r.stacks[i].layers[layer].Name
	}
	return name
}

// layRegion lays a rectangle or a layer as the polygon between its four sides.
func (r *resolver) layRegion(i int, p *detail.Part, layer int) {
	var planes [4]halfPlane
	slant := false
	for n, side := range [...]detail.Side{detail.Left, detail.Right, detail.Bottom, detail.Top} {
		l, ok := r.side(sideKey{i, layer, side}, p.At)
		if !ok {
			r.bad[i] = true
			return
		}
		slant = slant || l.slant
		keep := vec{1, 0}
		if sideAxis(side) == upward || l.slant && !l.reaches || !l.slant && l.axis == upward {
			keep = vec{0, 1}
		} else if l.reaches { // the end of a slope keeps what lies along it
			keep = vec{math.Cos(float64(p.Pitch.Angle)), math.Sin(float64(p.Pitch.Angle))}
		}
		// A left end taken from `under` or `over` keeps that side of the face.
		sg := -sideSign(side)
		if p.Pitch != nil && sideAxis(side) == across && !l.slant && l.axis == upward {
			if _, v := endEdge(p, side); v != "" {
				sg = -sideSign(v)
			}
		}
		if e := r.ownEdge(i, p, layer, side); e != nil {
			switch e.Kind {
			case detail.EdgeUnder:
				sg = -1
			case detail.EdgeOver:
				sg = 1
			}
		}
		planes[n] = halfPlane{l, vec{keep.x * float64(sg), keep.y * float64(sg)}}
	}
	var pts []vec
	if slant || planes[0].l.axis != across || planes[1].l.axis != across || planes[2].l.axis != upward || planes[3].l.axis != upward {
		pts = clipAll(planes[:])
	} else {
		x0, x1 := float64(planes[0].l.at), float64(planes[1].l.at)
		y0, y1 := float64(planes[2].l.at), float64(planes[3].l.at)
		if x0 < x1 && y0 < y1 {
			pts = []vec{{x0, y0}, {x1, y0}, {x1, y1}, {x0, y1}}
		}
	}
	g := r.region(i, p, layer)
	r.addRegion(i, p, g, pts, "its left is not left of its right, or its bottom not below its top")
}

// ownEdge is the edge that ends a part or layer at a side, where one is given.
func (r *resolver) ownEdge(i int, p *detail.Part, layer int, side detail.Side) *detail.Edge {
	if layer >= 0 {
		if t := trimOf(p, r.stacks[i].layers[layer].Name, side); t != nil {
			return &t.Edge
		}
	}
	if p.Pitch != nil && sideAxis(side) == across {
		e, _ := endEdge(p, side)
		return e
	}
	if e := boxEdge(&p.Box, side); e.Kind != detail.EdgeUnset && p.Pitch == nil {
		return e
	}
	return nil
}

// region is a region's particulars without its ring.
func (r *resolver) region(i int, p *detail.Part, layer int) Region {
	g := Region{Part: i, Layer: layer, Name: r.partName(i, layer), Material: p.Material, Hole: p.Hole, Control: p.Control}
	if layer >= 0 {
		g.Material = r.stacks[i].layers[layer].Material
		g.Mark = r.stacks[i].detail.Mark
		g.LayerOf = r.stacks[i].layers[layer]
		g.Control = g.LayerOf.Control
	}
	if p.Pitch != nil {
		g.Slope = float64(p.Pitch.Angle)
	}
	return g
}

// addRegion rounds the corners and adds the region once for each repeat.
func (r *resolver) addRegion(i int, p *detail.Part, g Region, pts []vec, why string) {
	if r.bad[i] {
		return
	}
	for n := range r.instances(i, p) {
		step := r.repeatStep(p, n)
		var ring geometry.Ring
		for _, v := range pts {
			q := vec{v.x + step.x, v.y + step.y}
			if math.Abs(q.x) > geometry.Limit*500 || math.Abs(q.y) > geometry.Limit*500 {
				r.fail(i, "part-endless", "give its ends", "part %q runs beyond 250 m", p.Name)
				return
			}
			if u := q.round(); len(ring) == 0 || ring[len(ring)-1] != u && ring[0] != u {
				ring = append(ring, u)
			}
		}
		area := ring.Area2()
		if area < 0 {
			ring = ring.Reversed()
		}
		if area == 0 {
			name := g.Name
			r.fail(i, "negative-size", "look at the edges it is given", "%q has no size: %s", name, why)
			return
		}
		g.Instance, g.Ring = n, ring
		if p.Beyond {
			r.section.Beyond = append(r.section.Beyond, g)
		} else {
			r.section.Regions = append(r.section.Regions, g)
		}
	}
}

// instances counts the copies of a part.
func (r *resolver) instances(i int, p *detail.Part) int {
	if p.Repeat == nil {
		return 1
	}
	if p.Repeat.Count < 1 || p.Repeat.Count > 1000 || p.Repeat.Every <= 0 {
		r.failAt(i, p.Repeat.At, "repeat-size", "repeat 1 to 1000 times at a distance above zero", "part %q cannot be repeated so", p.Name)
		return 0
	}
	return p.Repeat.Count
}

// repeatStep is how far the nth copy stands from the first.
func (r *resolver) repeatStep(p *detail.Part, n int) vec {
	if n == 0 {
		return vec{}
	}
	d := vec{1, 0}
	if p.Pitch != nil {
		d = vec{math.Cos(float64(p.Pitch.Angle)), math.Sin(float64(p.Pitch.Angle))}
	}
	l := float64(nanometres(p.Repeat.Every)) * float64(n)
	return vec{d.x * l, d.y * l}
}

func (r *resolver) layOutline(i int, p *detail.Part) {
	pts, ok := r.pointsOf(i, p.At)
	if !ok {
		r.bad[i] = true
		return
	}
	if len(pts) > 1 && pts[0] == pts[len(pts)-1] {
		pts = pts[:len(pts)-1]
	}
	var ring geometry.Ring
	for _, v := range pts {
		ring = append(ring, v.round())
	}
	switch {
	case len(ring) < 3:
		r.fail(i, "outline-points", "give an outline three points or more", "outline %q has %d points", p.Name, len(ring))
		return
	case !ring.Simple():
		r.fail(i, "outline-crossed", "go round the part once, in order", "the outline of %q crosses or touches itself", p.Name)
		return
	}
	r.addRegion(i, p, r.region(i, p, -1), pts, "its points stand in line")
}

// layRound lays a circle as a polygon with a vertex at each quarter.
func (r *resolver) layRound(i int, p *detail.Part) {
	pts, ok := r.pointsOf(i, p.At)
	if !ok {
		r.bad[i] = true
		return
	}
	c := vec{(pts[0].x + pts[2].x) / 2, (pts[1].y + pts[3].y) / 2}
	radius := (pts[2].x - pts[0].x) / 2
	ring := circle(c, radius)
	r.addRegion(i, p, r.region(i, p, -1), ring, "its diameter is too small")
	if r.bad[i] || p.Beyond {
		return
	}
	for n := range r.instances(i, p) {
		s := r.repeatStep(p, n)
		r.section.Rounds = append(r.section.Rounds, Round{
			Part: i, Instance: n,
			Center: vec{c.x + s.x, c.y + s.y}.round(),
			Radius: nm(math.Round(radius)).micrometres(),
		})
	}
}

// circle returns a polygon inscribed in a circle, within RoundTolerance of it:
// r(1 − cos(π/n)) ≤ tolerance.
func circle(c vec, radius float64) []vec {
	n := 8
	for n < 256 && radius*(1-math.Cos(math.Pi/float64(n))) > float64(RoundTolerance)*1e9 {
		n += 4
	}
	out := make([]vec, n)
	for k := range out {
		s, co := math.Sincos(2 * math.Pi * float64(k) / float64(n))
		if k%(n/4) == 0 { // quarters exactly
			s, co = math.Round(s), math.Round(co)
		}
		out[k] = vec{c.x + radius*co, c.y + radius*s}
	}
	return out
}
