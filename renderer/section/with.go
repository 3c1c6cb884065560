package section

import "wythe/renderer/geometry"

// ClosingFilm marks a film that [Section.With] drew in.
const ClosingFilm = -2

// With returns the section with straight films drawn in, as a proposal to
// close gaps: the arrangement, owners, faces and films anew, all else shared.
// The films' Seal is ClosingFilm; parts cover none of them.
func (s *Section) With(lines [][2]geometry.Point) *Section {
	t := *s
	t.Films = append([]Film(nil), s.Films...)
	for _, l := range lines {
		t.Films = append(t.Films, Film{Part: -1, Layer: -1, Name: "closing", Line: []geometry.Point{l[0], l[1]}, Seal: ClosingFilm})
	}
	t.Faces, t.Outlines, t.Runs = nil, nil, nil
	p := &painter{s: &t}
	p.arrange()
	p.slivers()
	p.films()
	p.faces()
	return &t
}
