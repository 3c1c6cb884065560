package section

import (
	"slices"

	"wythe/renderer/geometry"
)

// painter finds what shows: one arrangement of all edges, each face to the
// last region that covers it.
type painter struct {
	r *resolver
	s *Section
	a *geometry.Arrangement

	// uses of each label: edges with the net turn.
	useAt   []int32
	useEdge []int32
	useTurn []int8

	filmSegs []filmSeg
	filmAt   []int32 // per edge, into filmUse; one more
	filmUse  []filmUse

	faceMark []int32
	edgeMark []int32
	stack    []int32
}

// filmSeg is one piece of a film, noded under its own label.
type filmSeg struct{ film, piece int32 }

// filmUse is a film piece on one edge.
type filmUse struct {
	seg    int32
	turn   int8
	hidden bool
}

func (r *resolver) paint() {
	r.checkInView()
	p := &painter{r: r, s: r.section}
	p.arrange()
	if r.joinSeals(p) {
		p = &painter{r: r, s: r.section}
		p.arrange()
	}
	p.slivers()
	p.films()
	p.faces()
	p.outlines()
	p.runs()
	p.parts()
}

// checkInView reports parts that no one could see.
func (r *resolver) checkInView() {
	s := r.section
	type extent struct {
		box  geometry.Box
		some bool
	}
	boxes := make([]extent, len(r.j.Parts))
	grow := func(part int, b geometry.Box) {
		e := &boxes[part]
		if !e.some {
			e.box, e.some = b, true
			return
		}
		e.box = e.box.Grow(b.Min).Grow(b.Max)
	}
	for _, g := range s.Regions {
		grow(g.Part, g.Ring.Bounds())
	}
	for _, g := range s.Beyond {
		grow(g.Part, g.Ring.Bounds())
	}
	for _, f := range s.Films {
		grow(f.Part, lineBox(f.Line))
	}
	for _, l := range s.Seals {
		if l.Placed {
			grow(l.Part, geometry.Box{Min: l.Place, Max: l.Place})
		}
	}
	for i, e := range boxes {
		if !e.some {
			continue
		}
		s.Parts[i].Laid, s.Parts[i].Bounds = true, e.box
		p := r.j.Parts[i]
		v := s.View
		if !e.box.Meets(v) || e.box.Min.X != e.box.Max.X && (e.box.Min.X >= v.Max.X || e.box.Max.X <= v.Min.X) ||
			e.box.Min.Y != e.box.Max.Y && (e.box.Min.Y >= v.Max.Y || e.box.Max.Y <= v.Min.Y) {
			r.failAt(i, p.At, "outside-view", "move the part or widen the view", "part %q lies outside the view", p.Name)
		}
	}
	r.dropBad()
}

func (p *painter) arrange() {
	s := p.s
	n := 4
	for _, g := range s.Regions {
		n += len(g.Ring)
	}
	segs := make([]geometry.Segment, 0, n+4*len(s.Films))
	ring := func(ring geometry.Ring, label int) {
		for k, a := range ring {
			segs = append(segs, geometry.Segment{A: a, B: ring[(k+1)%len(ring)], Label: int32(label)})
		}
	}
	for i, g := range s.Regions {
		ring(g.Ring, i)
	}
	for i, f := range s.Films {
		for k := 1; k < len(f.Line); k++ {
			label := len(s.Regions) + len(p.filmSegs)
			segs = append(segs, geometry.Segment{A: f.Line[k-1], B: f.Line[k], Label: int32(label)})
			p.filmSegs = append(p.filmSegs, filmSeg{int32(i), int32(k - 1)})
		}
	}
	labels := len(s.Regions) + len(p.filmSegs) + 1
	ring(s.View.Ring(), labels-1)
	p.a = geometry.Arrange(segs)
	s.Arrangement = p.a
	p.gather(labels)

	s.Owner = make([]int32, p.a.Faces())
	for f := range s.Owner {
		s.Owner[f] = Outside
	}
	p.faceMark = make([]int32, p.a.Faces())
	p.edgeMark = make([]int32, len(p.a.Edges))
	p.flood(labels-1, func(f int32) { s.Owner[f] = Open }, nil)
	for g := len(s.Regions) - 1; g >= 0; g-- {
		part := s.Regions[g].Part
		p.flood(g, func(f int32) {
			if s.Owner[f] == Open {
				s.Owner[f] = int32(g)
			}
		}, func(u *filmUse) {
			f := &s.Films[p.filmSegs[u.seg].film]
			if f.Part < part && f.Seal == -1 {
				u.hidden = true
			}
		})
	}
}

// gather lists the edges of each label, and the films of each edge.
func (p *painter) gather(labels int) {
	regions := len(p.s.Regions)
	films := regions + len(p.filmSegs)
	p.useAt = make([]int32, labels+1)
	p.filmAt = make([]int32, len(p.a.Edges)+1)
	total := 0
	for e := range p.a.Edges {
		for _, u := range p.a.Uses(int32(e)) {
			p.useAt[u.Label+1]++
			total++
			if int(u.Label) >= regions && int(u.Label) < films {
				p.filmUse = append(p.filmUse, filmUse{seg: u.Label - int32(regions), turn: u.Turn})
			}
		}
		p.filmAt[e+1] = int32(len(p.filmUse))
	}
	for l := 1; l < len(p.useAt); l++ {
		p.useAt[l] += p.useAt[l-1]
	}
	p.useEdge = make([]int32, total)
	p.useTurn = make([]int8, total)
	at := slices.Clone(p.useAt)
	for e := range p.a.Edges {
		for _, u := range p.a.Uses(int32(e)) {
			k := at[u.Label]
			if k > p.useAt[u.Label] && p.useEdge[k-1] == int32(e) {
				p.useTurn[k-1] += u.Turn // the outline runs here twice
				continue
			}
			p.useEdge[k], p.useTurn[k] = int32(e), u.Turn
			at[u.Label]++
		}
	}
	for l := range labels { // runs that cancelled leave room at the end
		for k := at[l]; k < p.useAt[l+1]; k++ {
			p.useEdge[k] = -1
		}
	}
}

// edgesOf calls f with the edges of a label.
func (p *painter) edgesOf(label int, f func(e int32, turn int8)) {
	for k := p.useAt[label]; k < p.useAt[label+1] && p.useEdge[k] >= 0; k++ {
		f(p.useEdge[k], p.useTurn[k])
	}
}

// flood calls face with every face inside a label's outline, and film with
// every film that runs inside it.
func (p *painter) flood(label int, face func(int32), film func(*filmUse)) {
	mark := int32(label + 1)
	p.stack = p.stack[:0]
	push := func(f int32) {
		if p.faceMark[f] != mark {
			p.faceMark[f] = mark
			p.stack = append(p.stack, f)
		}
	}
	p.edgesOf(label, func(e int32, turn int8) {
		if turn != 0 {
			p.edgeMark[e] = mark
		}
	})
	p.edgesOf(label, func(e int32, turn int8) {
		switch {
		case turn > 0:
			push(p.a.FaceOf(geometry.Half(2 * e)))
		case turn < 0:
			push(p.a.FaceOf(geometry.Half(2*e + 1)))
		}
	})
	for len(p.stack) > 0 {
		f := p.stack[len(p.stack)-1]
		p.stack = p.stack[:len(p.stack)-1]
		face(f)
		for _, h := range p.a.Halves(f) {
			e := h.Edge()
			if p.edgeMark[e] == mark {
				continue
			}
			if film != nil {
				for k := p.filmAt[e]; k < p.filmAt[e+1]; k++ {
					film(&p.filmUse[k])
				}
			}
			push(p.a.FaceOf(h.Twin()))
		}
	}
}

// sliverWidth is the width under which a face is a rounding of two slanting
// lines that were one: each corner was moved by up to half a micrometre each
// way, and bent lines by as much again.
const sliverWidth = 3 // µm

// slivers gives faces thinner than sliverWidth to the neighbour they touch
// longest.
func (p *painter) slivers() {
	a, s := p.a, p.s
	var thin []int32
	for f := int32(1); f < int32(a.Faces()); f++ {
		if s.Owner[f] == Outside {
			continue
		}
		long := 0.0
		for _, h := range a.Halves(f) {
			long += a.Start(h).Distance(a.End(h))
		}
		if float64(a.Area2(f)) < sliverWidth*long {
			thin = append(thin, f)
		}
	}
	for range 2 { // a sliver beside a sliver takes the second turn
		for _, f := range thin {
			best, most := s.Owner[f], 0.0
			length := map[int32]float64{}
			for _, h := range a.Halves(f) {
				g := a.FaceOf(h.Twin())
				if o := s.Owner[g]; o != Outside && g != f && !slices.Contains(thin, g) {
					length[o] += a.Start(h).Distance(a.End(h))
					if length[o] > most {
						best, most = o, length[o]
					}
				}
			}
			s.Owner[f] = best
		}
	}
}
