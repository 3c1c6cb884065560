package sheet

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"wythe/renderer/continuity"
	"wythe/renderer/drawing"
	"wythe/renderer/geometry"
	"wythe/renderer/units"
)

// GapFlag is what the flag of a report's gap k says: the control's letter, its
// number where there are several, and its width: "A GAP 5 in", "W 2 NOT SEALED".
func GapFlag(r *continuity.Report, k int, system units.System) string {
	s := strings.ToUpper(string(r.Control)[:1])
	if len(r.Gaps) > 1 {
		s += " " + strconv.Itoa(k+1)
	}
	g := &r.Gaps[k]
	switch {
	case r.Verdict == continuity.Thin:
		return s + " THIN " + g.Width.Show(system)
	case g.Touch:
		return s + " NOT SEALED"
	}
	return s + " GAP " + g.Width.Show(system)
}

// gapMark is one ring: a gap, or several in one place, with its flag.
type gapMark struct {
	at    drawing.Point
	r     float64
	words []string
	flag  drawing.Box
}

const (
	gapLeast = 3.4 // radius of a ring, mm
	gapMost  = 15.0
	gapNear  = 4.0 // gaps within it share a ring
	flagRow  = 4.6
)

var styleFlag = drawing.Style{Face: drawing.Lettering, Weight: 700, Size: 3, Ink: drawing.InkPaper, Tracking: 0.1}

// gapMarks finds the rings; their flags are set when levels stand.
func (j *junction) gapMarks(rm *room) []gapMark {
	var marks []gapMark
	for i := range j.reports {
		r := &j.reports[i]
		for k := range r.Gaps {
			g := &r.Gaps[k]
			at, w, ok := j.shown(g.At)
			if !ok {
				continue
			}
			a, b := w.point(g.Ends[0]), w.point(g.Ends[1])
			radius := min(max(gapLeast, math.Hypot(a.X-b.X, a.Y-b.Y)/2+2), gapMost)
			words := drawing.DrawingWords(GapFlag(r, k, j.look.System))
			near := slices.IndexFunc(marks, func(m gapMark) bool { return math.Hypot(m.at.X-at.X, m.at.Y-at.Y) < gapNear })
			if near < 0 {
				marks = append(marks, gapMark{at: at, r: radius, words: []string{words}})
				continue
			}
			m := &marks[near]
			m.r, m.words = max(m.r, radius), append(m.words, words)
		}
	}
	for i := range marks {
		rm.take(boxAt(marks[i].at, 2*marks[i].r, 2*marks[i].r))
	}
	return marks
}

// flagGaps sets each ring's flag where it covers least, above bottom.
func (j *junction) flagGaps(rm *room, marks []gapMark, bottom float64) {
	for i := range marks {
		m := &marks[i]
		wide := 0.0
		for _, s := range m.words {
			wide = max(wide, styleFlag.Width(s))
		}
		wide += 3.6
		high := flagRow*float64(len(m.words)) + 1.2
		best := math.Inf(1)
		for _, far := range [...]float64{6, 10, 15, 22, 30} {
			for a := range 16 {
				sin, cos := math.Sincos(float64(a)*math.Pi/8 - math.Pi/4)
				c := drawing.Point{X: m.at.X + cos*(m.r+far+wide/2*math.Abs(cos)), Y: m.at.Y + sin*(m.r+far+high/2)}
				b := boxAt(c, wide, high)
				if b.Min.X < 1 || b.Max.X > j.width-1 || b.Min.Y < 1 || b.Max.Y > bottom {
					continue
				}
				if far*0.06 >= best {
					break
				}
				cost := rm.cost(b, best) + far*0.06
				if !j.clear(c) {
					cost += 0.8
				}
				for k := range marks {
					if o := &marks[k]; k != i && nearLine(o.at, []drawing.Point{m.at, c}, o.r) {
						cost += 2 // its leader runs through another's ring
					}
				}
				if cost < best {
					best, m.flag = cost, b
				}
			}
		}
		rm.take(m.flag)
	}
}

// gaps draws the rings in red, each with a leader and a solid flag.
func (j *junction) gaps(marks []gapMark) {
	if len(marks) == 0 {
		return
	}
	d := j.draft
	d.Open(drawing.Tag{Kind: "gap"})
	for i := range marks {
		m := &marks[i]
		d.Disc(drawing.Tag{}, drawing.Stroke{Pen: 2.1, Ink: drawing.InkPaper}, drawing.InkNone, m.at, m.r)
		d.Disc(drawing.Tag{}, drawing.Stroke{Pen: drawing.PenMembrane, Ink: drawing.InkMark}, drawing.InkNone, m.at, m.r)
		if m.flag.Empty() {
			continue
		}
		to := drawing.Point{X: min(max(m.at.X, m.flag.Min.X), m.flag.Max.X), Y: min(max(m.at.Y, m.flag.Min.Y), m.flag.Max.Y)}
		if l := math.Hypot(to.X-m.at.X, to.Y-m.at.Y); l > m.r {
			from := drawing.Point{X: m.at.X + (to.X-m.at.X)/l*m.r, Y: m.at.Y + (to.Y-m.at.Y)/l*m.r}
			d.Line(drawing.Tag{}, drawing.Stroke{Pen: 1, Ink: drawing.InkPaper}, from, to)
			d.Line(drawing.Tag{}, drawing.Stroke{Pen: drawing.PenTick, Ink: drawing.InkMark}, from, to)
		}
		b := m.flag
		d.Shape(drawing.Tag{}, drawing.Stroke{Pen: drawing.PenCut, Ink: drawing.InkPaper}, drawing.InkMark,
			b.Min, drawing.Point{X: b.Max.X, Y: b.Min.Y}, b.Max, drawing.Point{X: b.Min.X, Y: b.Max.Y})
		for k, s := range m.words {
			d.Letter(drawing.Tag{}, &styleFlag, drawing.Point{X: (b.Min.X + b.Max.X) / 2, Y: b.Min.Y + 0.6 + flagRow*float64(k) + 3.35}, drawing.Middle, s)
		}
	}
	d.Close()
}

// evidence draws the way from inside to outside that avoids a control: red,
// dashed, with an arrowhead outside. Controls that leak the same way share it.
func (j *junction) evidence() {
	var drawn [][]geometry.Point
	d := j.draft
	for i := range j.reports {
		path := j.reports[i].Path
		if len(path) < 2 || j.reports[i].Verdict == continuity.Thin || slices.ContainsFunc(drawn, func(p []geometry.Point) bool { return slices.Equal(p, path) }) {
			continue
		}
		if len(drawn) == 0 {
			d.Open(drawing.Tag{Kind: "evidence"})
		}
		drawn = append(drawn, path)
		d.Open(drawing.Tag{Control: string(j.reports[i].Control)})
		for k := range j.windows {
			w := &j.windows[k]
			for _, run := range w.line(j.onPaper(w, path)) {
				d.Line(drawing.Tag{}, drawing.Stroke{Pen: 1, Ink: drawing.InkPaper, Round: true}, run...)
				d.Line(drawing.Tag{}, drawing.Stroke{Pen: drawing.PenTick, Ink: drawing.InkMark, Dash: []float64{1.6, 1}}, run...)
			}
		}
		if at, w, ok := j.shown(path[len(path)-1]); ok {
			from := w.point(path[len(path)-2])
			if l := math.Hypot(at.X-from.X, at.Y-from.Y); l > 0 {
				ux, uy := (at.X-from.X)/l, (at.Y-from.Y)/l
				d.Shape(drawing.Tag{}, drawing.Stroke{}, drawing.InkMark, at,
					drawing.Point{X: at.X - 3*ux - 1.1*uy, Y: at.Y - 3*uy + 1.1*ux}, drawing.Point{X: at.X - 3*ux + 1.1*uy, Y: at.Y - 3*uy - 1.1*ux})
			}
		}
		d.Close()
	}
	if len(drawn) > 0 {
		d.Close()
	}
}
