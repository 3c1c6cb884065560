package sheet

import (
	"wythe/renderer/drawing"
	"wythe/renderer/geometry"
	"wythe/renderer/section"
)

// filmPitch is the distance between two films that lie on one face, so that
// both can be seen, mm.
const filmPitch = 1.5

// films draws each film as a heavy line, beside its neighbours where several
// lie on one face.
func (j *junction) films() {
	d := j.draft
	d.Open(drawing.Tag{Kind: "film"})
	pen := drawing.PenMembrane
	if j.thumb() {
		pen = 0.6
	}
	stroke := drawing.Stroke{Pen: pen, Ink: drawing.InkLine, Round: true}
	for _, run := range j.s.Runs {
		f := &j.s.Films[run.Film]
		if f.Seal == section.ClosingFilm || !j.stands(f.Name) {
			continue
		}
		for k := range j.windows {
			for _, line := range j.windows[k].line(j.filmLine(run, &j.windows[k])) {
				d.Line(drawing.Tag{Part: f.Name, Step: stepOf(j.d, f.Name)}, stroke, line...)
			}
		}
	}
	d.Close()
}

// filmLine is a film's run on paper, set off from the face where other films
// lie on it too. Corners are mitred.
func (j *junction) filmLine(run section.FilmRun, w *window) []drawing.Point {
	n := len(run.Line)
	off := make([]float64, max(0, n-1))
	for i := range off {
		off[i] = j.filmOffset(run.Film, run.Line[i], run.Line[i+1])
	}
	pts := j.onPaper(w, run.Line)
	return parallel(pts, off)
}

// filmOffset is how far to the left of a→b, mm, a film is drawn.
func (j *junction) filmOffset(film int, a, b geometry.Point) float64 {
	films, along := j.filmsBetween(a, b)
	if len(films) < 2 {
		return 0
	}
	// films run from U's left hand to its right.
	for i, f := range films {
		if int(f.Film) == film {
			return (float64(len(films)-1)/2 - float64(i)) * filmPitch * along
		}
	}
	return 0
}

// filmsBetween returns the films on the edge a→b, from its left hand to its
// right, and +1 where the edge runs so. A run may be longer than one edge: the
// lowest edge that lies on it then says.
func (j *junction) filmsBetween(a, b geometry.Point) ([]section.FilmEdge, float64) {
	arr := j.s.Arrangement
	best, along := int32(-1), 1.0
	for e := range j.s.FilmsOn {
		u, v := arr.Points[arr.Edges[e].U], arr.Points[arr.Edges[e].V]
		if (best < 0 || e < best) && geometry.OnSegment(u, a, b) && geometry.OnSegment(v, a, b) {
			best = e
			if along = 1; geometry.Dot(v.Sub(u), b.Sub(a)) < 0 {
				along = -1
			}
		}
	}
	return j.s.FilmsOn[best], along
}

// seals draws beads as discs and what spans a gap as a short bar.
func (j *junction) seals() {
	d := j.draft
	d.Open(drawing.Tag{Kind: "seal"})
	for i := range j.s.Seals {
		seal := &j.s.Seals[i]
		if !seal.Placed {
			continue
		}
		at, _, ok := j.shown(seal.Place)
		if !ok {
			continue
		}
		part := j.d.Junction.Parts[seal.Part]
		if !j.stands(part.Name) {
			continue
		}
		r := 1.0
		if j.thumb() {
			r = 0.6
		}
		tag := drawing.Tag{Part: part.Name, Step: stepOf(j.d, part.Name)}
		switch part.SealWord {
		case "tape":
			d.Line(tag, drawing.Stroke{Pen: 1.2, Ink: drawing.InkLine, Round: true}, drawing.Point{X: at.X - r*1.2, Y: at.Y - r*1.2}, drawing.Point{X: at.X + r*1.2, Y: at.Y + r*1.2})
		case "gasket":
			d.Shape(tag, drawing.Stroke{Pen: drawing.PenSecondary, Ink: drawing.InkLine}, drawing.InkLine,
				drawing.Point{X: at.X - r*1.3, Y: at.Y - r*0.6}, drawing.Point{X: at.X + r*1.3, Y: at.Y - r*0.6},
				drawing.Point{X: at.X + r*1.3, Y: at.Y + r*0.6}, drawing.Point{X: at.X - r*1.3, Y: at.Y + r*0.6})
		default:
			d.Disc(tag, drawing.Stroke{Pen: drawing.PenSecondary, Ink: drawing.InkPaper}, drawing.InkLine, at, r)
		}
	}
	d.Close()
}
