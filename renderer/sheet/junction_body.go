package sheet

import (
	"math"
	"strings"

	"wythe/renderer/detail"
	"wythe/renderer/drawing"
	"wythe/renderer/geometry"
	"wythe/renderer/material"
	"wythe/renderer/section"
)

// body draws what is built: hatches, outlines, rounds, films, seals.
func (j *junction) body() {
	d := j.draft
	d.Open(drawing.Tag{Kind: "hatch"})
	for i := range j.s.Faces {
		j.hatch(&j.s.Faces[i])
	}
	d.Close()
	d.Open(drawing.Tag{Kind: "outline"})
	j.outlines()
	j.rounds()
	d.Close()
	j.films()
	j.seals()
}

func (j *junction) thumb() bool {
	return j.look.Dress == drawing.Thumb || j.look.Dress == drawing.StepPicture
}

func (j *junction) hatch(f *section.Face) {
	if f.Material == nil || j.empty(f) {
		return
	}
	r := &j.s.Regions[f.Region]
	word := string(f.Material.Hatch)
	part := j.d.Junction.Parts[f.Part]
	opt := drawing.Hatching{
		Seed: j.d.Mark + "/" + f.Name, Grain: grain(j.scale, j.thumb()), Thumb: j.thumb(),
		Angle: degrees(r.Slope),
	}
	if part.Kind == detail.Laid {
		opt.Axis = drawing.AxisLevel
		if part.Inside == detail.Left || part.Inside == detail.Right {
			opt.Axis = drawing.AxisUpright
		}
		if r.LayerOf != nil {
			opt.Courses = r.LayerOf.Courses
		}
	}
	if word == string(material.SawnTimber) {
		opt.Along = part.Kind == detail.Laid || r.Slope != 0 || long(f.Polygon.Bounds())
	}
	opt.Loose = word == string(material.LooseFill) && j.loose(f)
	for i := range j.windows {
		w := &j.windows[i]
		region, ok := w.polygon(f.Polygon)
		if !ok {
			continue
		}
		b := f.Polygon.Bounds()
		opt.Open = 0
		if b.Min.X <= w.box.Min.X {
			opt.Open |= drawing.SideLeft
		}
		if b.Max.X >= w.box.Max.X {
			opt.Open |= drawing.SideRight
		}
		if b.Min.Y <= w.box.Min.Y {
			opt.Open |= drawing.SideBottom
		}
		if b.Max.Y >= w.box.Max.Y {
			opt.Open |= drawing.SideTop
		}
		opt.Fade = 0
		if v := j.s.View; r.Soil() {
			// Ground thins out towards the sides of the view, not at a break.
			if w.box.Min.X == v.Min.X {
				opt.Fade |= opt.Open & drawing.SideLeft
			}
			if w.box.Max.X == v.Max.X {
				opt.Fade |= opt.Open & drawing.SideRight
			}
			if w.box.Min.Y == v.Min.Y {
				opt.Fade |= opt.Open & drawing.SideBottom
			}
		}
		j.draft.Open(drawing.Tag{Kind: "hatch", Part: f.Name, Step: stepOf(j.d, f.Name)})
		if thin, upright := j.studded(f); thin > 0 {
			j.studs(f, w, thin, upright)
		} else {
			j.draft.Add(drawing.Hatch(word, region, opt)...)
		}
		j.draft.Close()
	}
}

// loose reports whether most of what lies on a fill, in all of its faces, is
// open air, or fill of which that holds: it was poured, not packed.
func (j *junction) loose(f *section.Face) bool {
	under, all := 0.0, 0.0
	for i := range j.s.Outlines {
		o := &j.s.Outlines[i]
		if o.Left < 0 || o.Right < 0 {
			continue
		}
		below, above := &j.s.Faces[o.Right], &j.s.Faces[o.Left]
		for k := range o.Line[1:] {
			run := float64(o.Line[k+1].X - o.Line[k].X)
			lower, upper := below, above // of a piece that goes right
			if run < 0 {
				lower, upper = above, below
			}
			if lower.Region != f.Region || upper.Region == f.Region || run == 0 {
				continue
			}
			all += math.Abs(run)
			if upper.Region < 0 || upper.Material != nil && upper.Material.Hatch == material.LooseFill && j.loose(upper) {
				under += math.Abs(run)
			}
		}
	}
	return under > all/2
}

// long reports whether a piece of timber is three times as long as it is wide:
// seen along its grain, not cut across it.
func long(b geometry.Box) bool {
	w, h := b.Width(), b.Height()
	return w > 6*h || h > 6*w
}

// outlines draws each line between two faces once.
func (j *junction) outlines() {
	var heavy, light drawing.Path
	heavy.Stroke = drawing.Stroke{Pen: drawing.PenCut, Ink: drawing.InkLine}
	light.Stroke = drawing.Stroke{Pen: drawing.PenSecondary, Ink: drawing.InkLine}
	if j.thumb() {
		heavy.Stroke.Pen, light.Stroke.Pen = drawing.PenTick, drawing.PenDimension
	}
	for i := range j.s.Outlines {
		o := &j.s.Outlines[i]
		if o.Left < 0 || o.Right < 0 {
			continue // the side of the view
		}
		a, b := &j.s.Faces[o.Left], &j.s.Faces[o.Right]
		into := &heavy
		switch {
		case j.empty(a) && j.empty(b), j.isRound(a) || j.isRound(b):
			continue
		case j.soft(a) && j.soft(b):
			if j.empty(a) == j.empty(b) {
				continue
			}
		case a.Part == b.Part && a.Part >= 0 && !j.empty(a) && !j.empty(b):
			if a.Layer == b.Layer && a.Material == b.Material {
				continue
			}
			into = &light
		case j.lightly(a) && j.lightly(b):
			into = &light
		}
		for k := range j.windows {
			for _, run := range j.windows[k].line(j.onPaper(&j.windows[k], o.Line)) {
				into.Polyline(run...)
			}
		}
	}
	j.draft.Add(&light, &heavy)
}

// soft reports whether a face has no outline of its own: open air, and ground.
// Between the two stands the line of the ground's surface.
func (j *junction) soft(f *section.Face) bool {
	return j.empty(f) || j.s.Regions[f.Region].Soil()
}

// lightly reports whether a face is outlined in a secondary line: loose stuff
// and what fills a frame.
func (j *junction) lightly(f *section.Face) bool {
	if f.Material == nil {
		return false
	}
	switch f.Material.Hatch {
	case material.WashedStone, material.Sand, material.Earth, material.Backfill, material.Batt, material.LooseFill, material.Air:
		return true
	}
	return false
}

func (j *junction) isRound(f *section.Face) bool {
	return f.Part >= 0 && j.d.Junction.Parts[f.Part].Kind == detail.Round
}

func (j *junction) onPaper(w *window, line []geometry.Point) []drawing.Point {
	pts := make([]drawing.Point, len(line))
	for i, p := range line {
		pts[i] = w.point(p)
	}
	return pts
}

// rounds draws pipes as two circles with center lines; a drain has holes in
// its lower half.
func (j *junction) rounds() {
	cut := drawing.Stroke{Pen: drawing.PenCut, Ink: drawing.InkLine}
	thin := drawing.Stroke{Pen: drawing.PenDimension, Ink: drawing.InkLine}
	for _, r := range j.s.Rounds {
		at, w, ok := j.shown(r.Center)
		if !ok {
			continue
		}
		radius := float64(r.Radius) * w.k
		part := j.d.Junction.Parts[r.Part]
		if !j.stands(part.Name) {
			continue
		}
		j.draft.Disc(drawing.Tag{Part: part.Name}, cut, drawing.InkNone, at, radius)
		if radius < 1.5 {
			continue
		}
		if pipe(part) {
			wall := min(0.9, radius*0.14)
			j.draft.Disc(drawing.Tag{Part: part.Name}, thin, drawing.InkNone, at, radius-wall)
			if drain(part) {
				j.draft.Lines(drawing.Tag{Part: part.Name}, cut, holes(at, radius, wall))
			}
		}
		long := radius + 1.8
		j.draft.Line(drawing.Tag{Part: part.Name}, drawing.Stroke{Pen: drawing.PenDimension, Ink: drawing.InkLine, Dash: []float64{2.4, 0.7, 0.5, 0.7}}, drawing.Point{X: at.X - long, Y: at.Y}, drawing.Point{X: at.X + long, Y: at.Y})
		j.draft.Line(drawing.Tag{Part: part.Name}, drawing.Stroke{Pen: drawing.PenDimension, Ink: drawing.InkLine, Dash: []float64{2.4, 0.7, 0.5, 0.7}}, drawing.Point{X: at.X, Y: at.Y - long}, drawing.Point{X: at.X, Y: at.Y + long})
	}
}

// drain reports whether a pipe lets water in: holes in its lower half.
func drain(p *detail.Part) bool {
	return strings.Contains(strings.ToLower(p.Name), "drain") || p.Material != nil && strings.Contains(p.Material.Name, "drain")
}

// holes are short strokes through a drain's wall, in its lower half.
func holes(at drawing.Point, radius, wall float64) []drawing.Point {
	var ends []drawing.Point
	for k := range 5 {
		sin, cos := math.Sincos((25 + 32.5*float64(k)) * math.Pi / 180) // clockwise from the right: downwards on paper
		ends = append(ends,
			drawing.Point{X: at.X + cos*(radius-2*wall), Y: at.Y + sin*(radius-2*wall)},
			drawing.Point{X: at.X + cos*(radius+wall), Y: at.Y + sin*(radius+wall)})
	}
	return ends
}

func pipe(p *detail.Part) bool {
	return p.Material == nil || (p.Material.Hatch != material.Steel && p.Material.Hatch != material.SawnTimber && p.Material.Hatch != material.ReinforcedConcrete)
}

// beyond draws what stands behind the cut, in thin line: dashed where it is
// hidden by what is cut.
func (j *junction) beyond() {
	j.draft.Open(drawing.Tag{Kind: "beyond"})
	seen := drawing.Path{Stroke: drawing.Stroke{Pen: drawing.PenDimension, Ink: drawing.InkLine}}
	hidden := drawing.Path{Stroke: drawing.Stroke{Pen: drawing.PenDimension, Ink: drawing.InkLine, Dash: []float64{1.3, 0.8}}}
	for _, r := range j.s.Beyond {
		if !j.stands(r.Name) {
			continue
		}
		ring := append(append([]geometry.Point(nil), r.Ring...), r.Ring[0])
		for k := range j.windows {
			for _, run := range j.windows[k].line(j.onPaper(&j.windows[k], ring)) {
				j.partHidden(&seen, &hidden, run)
			}
		}
	}
	for _, p := range [...]*drawing.Path{&seen, &hidden} {
		if len(p.Segs) > 0 {
			j.draft.Add(p)
		}
	}
	j.draft.Close()
}

// built reports whether something solid is cut at a place on paper.
func (j *junction) built(p drawing.Point) bool {
	return j.solidFace(j.face(p))
}

// solidFace reports whether a face, -1 none, is something solid.
func (j *junction) solidFace(f int32) bool {
	return f >= 0 && j.s.Faces[f].Region >= 0 && !j.s.Regions[j.s.Faces[f].Region].Air()
}

// hiddenStep is how far apart a line is asked whether it is hidden, mm.
const hiddenStep = 0.7

// partHidden adds the stretches of a line over open air to one path and those
// over what is built to another.
func (j *junction) partHidden(seen, hidden *drawing.Path, run []drawing.Point) {
	var part []drawing.Point
	was := false
	flush := func() {
		if len(part) > 1 {
			if was {
				hidden.Polyline(part...)
			} else {
				seen.Polyline(part...)
			}
		}
	}
	for i := range run[1:] {
		a, b := run[i], run[i+1]
		n := max(1, int(math.Hypot(b.X-a.X, b.Y-a.Y)/hiddenStep))
		at := func(s float64) drawing.Point {
			return drawing.Point{X: a.X + s*(b.X-a.X), Y: a.Y + s*(b.Y-a.Y)}
		}
		for k := range n {
			is := j.built(at((float64(k) + 0.5) / float64(n)))
			if len(part) == 0 || is != was {
				flush()
				part, was = append([]drawing.Point(nil), at(float64(k)/float64(n))), is
			}
			end := b
			if k < n-1 {
				end = at(float64(k+1) / float64(n))
			}
			if k > 0 && len(part) > 1 {
				part[len(part)-1] = end // on along the same piece
			} else {
				part = append(part, end)
			}
		}
	}
	flush()
}
