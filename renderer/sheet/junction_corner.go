package sheet

import (
	"math"
	"slices"

	"wythe/renderer/drawing"
	"wythe/renderer/geometry"
)

// Sizes of the enlarged corner.
const (
	cornerScale = 4.0
	cornerWide  = 66.0 // of the view, mm on paper
	cornerHigh  = 58.0
	cornerLeast = 10 // the least crowd that is enlarged
	cornerPen   = drawing.PenDimension
)

// corner is the stretch of a section that is enlarged: where most films, seals
// and control lines come together, filled with what is built. ok is false where nothing crowds, and where
// the section is drawn as large itself.
func (j *junction) corner() (box geometry.Box, ok bool) {
	if j.scale <= cornerScale {
		return box, false
	}
	w, h := int64(cornerWide*cornerScale*1000), int64(cornerHigh*cornerScale*1000)
	v := j.s.View
	if v.Width() < w || v.Height() < h {
		return box, false
	}
	var spots []spot
	for i := range j.s.Seals {
		if s := &j.s.Seals[i]; s.Placed {
			spots = append(spots, spot{s.Place, 3})
		}
	}
	for _, run := range j.s.Runs {
		for _, p := range run.Line {
			spots = append(spots, spot{p, 1})
		}
	}
	for i := range j.reports {
		for _, l := range j.reports[i].Lines {
			for _, p := range l.Points {
				spots = append(spots, spot{p, 1})
			}
		}
	}
	spots = slices.DeleteFunc(spots, func(s spot) bool { return !v.Contains(s.at) || j.onSide(s.at) })
	best := 0.0
	for _, c := range spots {
		b := geometry.Box{Min: geometry.Point{X: c.at.X - w/2, Y: c.at.Y - h/2}}
		b.Min.X = min(max(b.Min.X, v.Min.X), v.Max.X-w)
		b.Min.Y = min(max(b.Min.Y, v.Min.Y), v.Max.Y-h)
		b.Max = geometry.Point{X: b.Min.X + w, Y: b.Min.Y + h}
		if crowd := crowded(spots, b); crowd > best {
			best, box = crowd, b
		}
	}
	if best < cornerLeast {
		return box, false
	}
	return j.filled(spots, box), true
}

// spot is a place where films, seals and control lines come together.
type spot struct {
	at     geometry.Point
	weight int
}

// crowded is what comes together in a box: what lies at its rim counts less.
func crowded(spots []spot, b geometry.Box) (crowd float64) {
	w, h := float64(b.Width()), float64(b.Height())
	for _, s := range spots {
		if b.Contains(s.at) {
			off := max(math.Abs(float64(s.at.X-b.Min.X)/w-0.5), math.Abs(float64(s.at.Y-b.Min.Y)/h-0.5))
			crowd += float64(s.weight) * (1 - off)
		}
	}
	return crowd
}

// filled moves a crowded box to where the most of it is built, and cuts off at
// its sides what is air alone.
func (j *junction) filled(spots []spot, box geometry.Box) geometry.Box {
	const (
		cells = 16 // across and up the box
		reach = 4  // cells that it may be moved
		keep  = 10 // cells that are left at least
	)
	w, h := box.Width()/cells, box.Height()/cells
	// sum[y][x] is how many cells are built below and to the left.
	const n = cells + 2*reach
	var sum [n + 1][n + 1]int
	origin := geometry.Point{X: box.Min.X - reach*w, Y: box.Min.Y - reach*h}
	v := j.s.View
	for y := range n {
		for x := range n {
			p := geometry.Point{X: origin.X + int64(x)*w + w/2, Y: origin.Y + int64(y)*h + h/2}
			sum[y+1][x+1] = sum[y][x+1] + sum[y+1][x] - sum[y][x]
			if v.Contains(p) && j.solid(p) {
				sum[y+1][x+1]++
			}
		}
	}
	built := func(x0, y0, x1, y1 int) int { return sum[y1][x1] - sum[y0][x1] - sum[y1][x0] + sum[y0][x0] }
	at := func(x0, y0, x1, y1 int) geometry.Box {
		return geometry.Box{
			Min: geometry.Point{X: origin.X + int64(x0)*w, Y: origin.Y + int64(y0)*h},
			Max: geometry.Point{X: origin.X + int64(x1)*w, Y: origin.Y + int64(y1)*h},
		}
	}
	best, bx, by := 0.0, reach, reach
	for y := range 2*reach + 1 {
		for x := range 2*reach + 1 {
			b := at(x, y, x+cells, y+cells)
			if !v.Contains(b.Min) || !v.Contains(b.Max) {
				continue
			}
			share := float64(built(x, y, x+cells, y+cells)) / (cells * cells)
			if score := crowded(spots, b) * share; score > best {
				best, bx, by = score, x, y
			}
		}
	}
	x0, y0, x1, y1 := bx, by, bx+cells, by+cells
	empty := func(x0, y0, x1, y1 int) bool {
		if built(x0, y0, x1, y1) > 0 {
			return false
		}
		b := at(x0, y0, x1, y1)
		return !slices.ContainsFunc(spots, func(s spot) bool { return b.Contains(s.at) })
	}
	// A strip of air stays beside what is built.
	for x1-x0 > keep && empty(x0, y0, x0+2, y1) {
		x0++
	}
	for x1-x0 > keep && empty(x1-2, y0, x1, y1) {
		x1--
	}
	for y1-y0 > keep && empty(x0, y0, x1, y0+2) {
		y0++
	}
	for y1-y0 > keep && empty(x0, y1-2, x1, y1) {
		y1--
	}
	return at(x0, y0, x1, y1)
}

// solid reports whether something built is cut at a place in the section.
func (j *junction) solid(p geometry.Point) bool {
	face, _ := j.s.Arrangement.FaceAt(p)
	return j.solidFace(j.s.FaceOf[face])
}

// Corner draws the most crowded corner at 1:4, from the same model and with the
// same numbers, under its own scale bar; nil where nothing crowds, or where the
// section itself is drawn as large.
func (sh *JunctionSheet) Corner(linked bool) *drawing.Drawing {
	sh.name()
	main := sh.begin(JunctionLook{Look: Look{System: sh.system}})
	main.arrange()
	box, ok := main.corner()
	if !ok {
		return nil
	}
	near := *sh
	s := *sh.s
	s.View, s.Breaks, s.Levels = box, nil, nil
	near.s = &s
	j := near.begin(JunctionLook{Look: Look{Dress: drawing.Phone, System: sh.system, Scale: cornerScale, Linked: linked}})
	j.bare, j.part = true, true
	d := j.sheet()
	_, ratio := drawing.ScaleWords(cornerScale)
	d.Title = j.d.Mark + ", enlarged, scale " + ratio
	return d
}

// cornerFrame frames the stretch that is enlarged, with the scale it is
// enlarged to.
func (j *junction) cornerFrame(rm *room) {
	if !j.look.Framed {
		return
	}
	box, ok := j.corner()
	if !ok {
		return
	}
	d := j.draft
	d.Open(drawing.Tag{Kind: "enlarged"})
	dash := drawing.Stroke{Pen: cornerPen, Ink: drawing.InkLine, Dash: []float64{3, 1}}
	ring := []geometry.Point{box.Min, {X: box.Max.X, Y: box.Min.Y}, box.Max, {X: box.Min.X, Y: box.Max.Y}, box.Min}
	for i := range j.windows {
		w := &j.windows[i]
		for _, run := range w.line(j.onPaper(w, ring)) {
			d.Line(drawing.Tag{}, dash, run...)
		}
	}
	_, words := drawing.ScaleWords(cornerScale)
	best, bestCost := drawing.Box{}, math.Inf(1)
	for _, p := range ring[:4] {
		at, _, ok := j.shown(p)
		if !ok {
			continue
		}
		in := -1.0
		if p.X == box.Min.X {
			in = 1
		}
		for _, up := range [...]float64{-1.9, 1.9} {
			b := boxAt(drawing.Point{X: at.X + in*4, Y: at.Y + up}, styleSmall.Width(words)+1, 2.8)
			if cost := rm.cost(b, bestCost); cost < bestCost {
				best, bestCost = b, cost
			}
		}
	}
	if !best.Empty() {
		rm.take(best)
		d.Cased(drawing.Tag{}, &styleSmall, 1.2, drawing.Point{X: (best.Min.X + best.Max.X) / 2, Y: best.Max.Y - 0.5}, drawing.Middle, words)
	}
	d.Close()
}
