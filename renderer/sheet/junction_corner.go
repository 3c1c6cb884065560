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
// and control lines come together. ok is false where nothing crowds, and where
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
	type spot struct {
		at     geometry.Point
		weight int
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
		crowd := 0.0
		for _, s := range spots {
			if b.Contains(s.at) {
				// What lies at the rim of the window counts less.
				off := max(math.Abs(float64(s.at.X-b.Min.X)/float64(w)-0.5), math.Abs(float64(s.at.Y-b.Min.Y)/float64(h)-0.5))
				crowd += float64(s.weight) * (1 - off)
			}
		}
		if crowd > best {
			best, box = crowd, b
		}
	}
	return box, best >= cornerLeast
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
	box, ok := j.corner()
	if !ok || !j.look.Framed {
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
