package continuity

import (
	"strings"

	"wythe/renderer/detail"
	"wythe/renderer/finding"
	"wythe/renderer/geometry"
	"wythe/renderer/material"
	"wythe/renderer/section"
)

// stuff is a material where it stands in a section.
type stuff struct {
	name string
	part int
	mat  *material.Material
}

// Compatibility reports materials that lie against what they must not touch,
// and tapes on what they do not hold to.
func Compatibility(s *section.Section) finding.List {
	var list finding.List
	type pair struct{ a, b string }
	said := map[pair]bool{}
	tell := func(x, y stuff) {
		if x.mat == nil || y.mat == nil || x.mat == y.mat || said[pair{x.name, y.name}] {
			return
		}
		for _, w := range x.mat.NotAgainst {
			if isMaterial(y.mat, w) {
				said[pair{x.name, y.name}], said[pair{y.name, x.name}] = true, true
				list.Warnf(partAt(s, x, y), "not-against", "lay a separation between the two, or change one",
					"%s (%s) lies against %s (%s): it must not touch %s", x.name, x.mat.Name, y.name, y.mat.Name, w)
				return
			}
		}
	}
	a := s.Arrangement
	for e := range a.Edges {
		row := []stuff{ownerStuff(s, a.FaceOf(geometry.Half(2*e)))}
		for _, f := range s.FilmsOn[int32(e)] {
			film := &s.Films[f.Film]
			row = append(row, stuff{film.Name, film.Part, film.Material})
		}
		row = append(row, ownerStuff(s, a.FaceOf(geometry.Half(2*e+1))))
		for i := 1; i < len(row); i++ {
			tell(row[i-1], row[i])
			tell(row[i], row[i-1])
		}
	}
	for _, l := range s.Seals {
		p := s.Junction.Parts[l.Part]
		for _, m := range l.Joins {
			mat := memberMaterial(s, m)
			if mat == nil || p.Material == nil {
				continue
			}
			tell(stuff{p.Name, l.Part, p.Material}, stuff{m.Name, m.Part, mat})
			tell(stuff{m.Name, m.Part, mat}, stuff{p.Name, l.Part, p.Material})
			if len(p.Material.HoldsTo) == 0 {
				continue
			}
			holds := false
			for _, w := range p.Material.HoldsTo {
				holds = holds || isMaterial(mat, w)
			}
			if !holds {
				list.Warnf(p.At, "holds-to", "use a seal that does, or a primer",
					"%s (%s) is not known to hold to %s (%s)", p.Name, p.Material.Name, m.Name, mat.Name)
			}
		}
	}
	list.Sort()
	return list
}

func partAt(s *section.Section, x, y stuff) finding.Position {
	if i := max(x.part, y.part); i >= 0 {
		return s.Junction.Parts[i].At
	}
	return s.Junction.At
}

func ownerStuff(s *section.Section, face int32) stuff {
	o := s.Owner[face]
	if o < 0 {
		return stuff{part: -1}
	}
	g := &s.Regions[o]
	return stuff{g.Name, g.Part, g.Material}
}

// memberMaterial is what a seal's member is of; nil where it is of several.
func memberMaterial(s *section.Section, m section.Member) *material.Material {
	p := s.Junction.Parts[m.Part]
	if p.Kind != detail.Laid {
		return p.Material
	}
	if m.Layer >= 0 && p.Assembly != nil && p.Assembly.Assembly != nil {
		return p.Assembly.Assembly.Layers[m.Layer].Material
	}
	return nil
}

// isMaterial reports whether a word names a material: its name, the first
// words of it ("XPS" of "XPS type IV"), or its hatch.
func isMaterial(m *material.Material, word string) bool {
	return m.Name == word || strings.HasPrefix(m.Name, word+" ") || string(m.Hatch) == word
}

// Reachable reports seals that no hand can reach at the step that sets them:
// all around the place stands already when it begins. steps are the detail's
// sequence, each showing what stands after it.
func Reachable(s *section.Section, steps []detail.Step) finding.List {
	var list finding.List
	for _, l := range s.Seals {
		p := s.Junction.Parts[l.Part]
		if !l.Placed {
			continue
		}
		for i, st := range steps {
			if !shows(st, p.Name) {
				continue
			}
			// What its own step sets may be laid on to it: a gasket under a sill.
			if i > 0 && !reachable(s, l, steps[i-1]) {
				list.Warnf(p.At, "seal-unreachable", "set it in an earlier step, or show by layer what stands then",
					"seal %q is set in the step %q, and all around it stands before", p.Name, strings.TrimSuffix(st.Do, "."))
			}
			break
		}
	}
	list.Sort()
	return list
}

func shows(st detail.Step, name string) bool {
	part, _, _ := strings.Cut(name, ".")
	for _, n := range st.Shows {
		if n == name || n == part {
			return true
		}
	}
	return false
}

// reachable floods from the faces at a seal's place through what does not
// stand yet, to the air of a space or to the edge of the view.
func reachable(s *section.Section, l section.Seal, st detail.Step) bool {
	a := s.Arrangement
	clear := func(f int32) bool {
		o := s.Owner[f]
		return o == section.Open || o >= 0 && (s.Regions[o].Air() || !shows(st, s.Regions[o].Name))
	}
	goal := map[int32]bool{}
	for _, sp := range s.Spaces {
		for _, f := range sp.Faces {
			goal[f] = true
		}
	}
	seen := make([]bool, a.Faces())
	var stack []int32
	push := func(f int32) {
		if f > 0 && !seen[f] && clear(f) {
			seen[f] = true
			stack = append(stack, f)
		}
	}
	// The faces at the place: those of the nearest vertex or edge.
	best := -1.0
	var near []int32
	for e := range a.Edges {
		u, v := a.Points[a.Edges[e].U], a.Points[a.Edges[e].V]
		_, d := geometry.Nearest(l.Place.Vec(), u.Vec(), v.Vec())
		if best >= 0 && d > best+1 {
			continue
		}
		if best < 0 || d < best-1 {
			best, near = d, near[:0]
		}
		near = append(near, a.FaceOf(geometry.Half(2*e)), a.FaceOf(geometry.Half(2*e+1)))
	}
	if f, on := a.FaceAt(l.Place); !on {
		near = append(near, f)
	}
	for _, f := range near {
		push(f)
	}
	for len(stack) > 0 {
		f := stack[len(stack)-1]
		stack = stack[:len(stack)-1]
		if goal[f] {
			return true
		}
		for _, h := range a.Halves(f) {
			if blockedByFilm(s, h.Edge(), st) {
				continue
			}
			n := a.FaceOf(h.Twin())
			if s.Owner[n] == section.Outside {
				return true
			}
			push(n)
		}
	}
	return false
}

func blockedByFilm(s *section.Section, e int32, st detail.Step) bool {
	for _, f := range s.FilmsOn[e] {
		if shows(st, s.Films[f.Film].Name) {
			return true
		}
	}
	return false
}
