package sheet

import (
	"math"
	"slices"
	"strings"

	"wythe/renderer/continuity"
	"wythe/renderer/detail"
	"wythe/renderer/drawing"
	"wythe/renderer/geometry"
)

// Sizes of control lines, mm on paper.
const (
	controlPitch  = 1.8  // between lines that follow one film
	controlFirst  = 1.7  // of the first from the film
	controlCasing = 2.0  // of paper under a line
	controlLetter = 2.6  // size of a letter
	letterHalf    = 1.9  // of the gap a letter stands in
	letterPitch   = 62.0 // along a line
	endBar        = 3.2
)

// dashes tell the controls apart without colour.
var dashes = map[detail.Control][]float64{
	detail.AirTight:   nil,
	detail.VaporTight: {2.6, 1.1},
	detail.Water:      {4.6, 1.1, 0.8, 1.1},
	detail.Thermal:    {0.9, 0.9},
}

// controlRun is a stretch of one control's line as it shows in one window.
type controlRun struct {
	control detail.Control
	pts     []drawing.Point
	letters []letterPlace
	bars    [2]bool // it ends there, inside the view
}

// letterPlace is a letter in a run: how far along, and where.
type letterPlace struct {
	s  float64
	at drawing.Point
}

// track is a chain's line before it is set off: points, and what each piece
// follows.
type track struct {
	pts  []geometry.Point
	name []string
}

// tracks joins a report's lines, end to start; gaps part them.
func tracks(r *continuity.Report) []track {
	var out []track
	for i := range r.Lines {
		l := &r.Lines[i]
		if l.Gap || len(l.Points) < 2 {
			continue
		}
		n := len(out)
		joined := n > 0 && i > 0 && !r.Lines[i-1].Gap && out[n-1].pts[len(out[n-1].pts)-1] == l.Points[0]
		if !joined {
			out = append(out, track{pts: []geometry.Point{l.Points[0]}})
			n++
		}
		t := &out[n-1]
		t.pts = append(t.pts, l.Points[1:]...)
		for range len(l.Points) - 1 {
			t.name = append(t.name, l.Name)
		}
	}
	return out
}

// controlRuns lays out the lines of all controls.
func (j *junction) controlRuns() []controlRun {
	following, others := j.following(), map[string]int{}
	for name, list := range following {
		seen := map[detail.Control]bool{detail.Thermal: true}
		for _, f := range list {
			if !seen[f.control] {
				seen[f.control] = true
				others[name]++
			}
		}
	}
	var runs []controlRun
	for i := range j.reports {
		r := &j.reports[i]
		for _, t := range j.folded(tracks(r)) {
			if r.Control == detail.Thermal {
				if list, ok := j.axisRuns(&t, others); ok {
					runs = append(runs, list...)
					continue
				}
			}
			off := make([]float64, len(t.name))
			for k, name := range t.name {
				off[k] = j.controlOffset(r, name, abreast(following[name], t.pts[k], t.pts[k+1]), t.pts[k], t.pts[k+1])
			}
			n := len(t.pts)
			closed := t.pts[0] == t.pts[n-1]
			on := [2]bool{j.onSide(t.pts[0]), j.onSide(t.pts[n-1])}
			for k := range j.windows {
				w := &j.windows[k]
				pts := slices.Clone(parallel(j.onPaper(w, t.pts), off))
				if on[0] {
					pts[0] = runOn(pts[0], pts[1], math.Abs(off[0]))
				}
				if last := len(pts) - 1; on[1] {
					pts[last] = runOn(pts[last], pts[last-1], math.Abs(off[n-2]))
				}
				for _, line := range w.line(pts) {
					run := controlRun{control: r.Control, pts: line}
					if !closed {
						run.bars = [2]bool{line[0] == pts[0] && !on[0], line[len(line)-1] == pts[len(pts)-1] && !on[1]}
					}
					if pathLength(line) > 1.2 {
						runs = append(runs, run)
					}
				}
			}
		}
	}
	return runs
}

// onSide reports whether a place lies on a side of the view, where what it is
// part of runs on.
func (j *junction) onSide(p geometry.Point) bool {
	v := j.s.View
	return p.X == v.Min.X || p.X == v.Max.X || p.Y == v.Min.Y || p.Y == v.Max.Y
}

// runOn moves the end of a line on, so that one that is set off from a
// slanting part still reaches the side of the view.
func runOn(end, from drawing.Point, off float64) drawing.Point {
	l := math.Hypot(end.X-from.X, end.Y-from.Y)
	if l == 0 {
		return end
	}
	t := (2*off + 1) / l
	return drawing.Point{X: end.X + (end.X-from.X)*t, Y: end.Y + (end.Y-from.Y)*t}
}

func pathLength(pts []drawing.Point) float64 {
	l := 0.0
	for i := 1; i < len(pts); i++ {
		l += math.Hypot(pts[i].X-pts[i-1].X, pts[i].Y-pts[i-1].Y)
	}
	return l
}

// letter places the letters of a run where they cover least.
func (run *controlRun) letter(r *room) {
	total := pathLength(run.pts)
	if total < 2*letterHalf+3 {
		return
	}
	n := max(1, int(math.Round(total/letterPitch)))
	for i := range n {
		ideal := total * (float64(i) + 0.5) / float64(n)
		reach := total/float64(n)/2 - letterHalf - 0.6
		best, bestCost := letterPlace{}, math.Inf(1)
		for step := 0.0; step <= max(reach, 0); step += 1.2 {
			for _, s := range [...]float64{ideal - step, ideal + step} {
				at, straight := along(run.pts, s)
				if !straight {
					continue
				}
				cost := r.cost(boxAt(at, 3.2, 3.2), bestCost) + step*0.03
				if cost < bestCost {
					best, bestCost = letterPlace{s, at}, cost
				}
			}
		}
		if !math.IsInf(bestCost, 1) {
			run.letters = append(run.letters, best)
			r.take(boxAt(best.at, 3.2, 3.2))
		}
	}
}

// along is the place at a distance along a line, and whether the line runs
// straight for the room of a letter there.
func along(pts []drawing.Point, s float64) (drawing.Point, bool) {
	for i := 1; i < len(pts); i++ {
		a, b := pts[i-1], pts[i]
		l := math.Hypot(b.X-a.X, b.Y-a.Y)
		if s <= l && l > 0 {
			t := s / l
			return drawing.Point{X: a.X + (b.X-a.X)*t, Y: a.Y + (b.Y-a.Y)*t}, s > letterHalf && l-s > letterHalf
		}
		s -= l
	}
	return drawing.Point{}, false
}

// pieces is the run without the gaps that letters stand in.
func (run *controlRun) pieces() [][]drawing.Point {
	if len(run.letters) == 0 {
		return [][]drawing.Point{run.pts}
	}
	var out [][]drawing.Point
	from := 0.0
	for _, l := range run.letters {
		out = append(out, stretch(run.pts, from, l.s-letterHalf))
		from = l.s + letterHalf
	}
	return append(out, stretch(run.pts, from, math.Inf(1)))
}

// stretch is the part of a line between two distances along it.
func stretch(pts []drawing.Point, from, to float64) []drawing.Point {
	var out []drawing.Point
	s := 0.0
	for i := 1; i < len(pts); i++ {
		a, b := pts[i-1], pts[i]
		l := math.Hypot(b.X-a.X, b.Y-a.Y)
		at := func(d float64) drawing.Point {
			t := (d - s) / l
			return drawing.Point{X: a.X + (b.X-a.X)*t, Y: a.Y + (b.Y-a.Y)*t}
		}
		if l > 0 && s+l > from && s < to {
			if len(out) == 0 {
				out = append(out, at(max(from, s)))
			}
			out = append(out, at(min(to, s+l)))
		}
		s += l
	}
	return out
}

var styleControl = drawing.Style{Face: drawing.Lettering, Weight: 700, Size: controlLetter, Ink: drawing.InkLine}

// controlLines draws all casings, then all lines, so that none cuts another;
// letters follow when leaders are drawn.
func (j *junction) controlLines(runs []controlRun) {
	if len(runs) == 0 {
		return
	}
	d := j.draft
	d.Open(drawing.Tag{Kind: "control"})
	var casing drawing.Path
	casing.Stroke = drawing.Stroke{Pen: controlCasing, Ink: drawing.InkPaper}
	for i := range runs {
		casing.Polyline(runs[i].pts...)
	}
	d.Add(&casing)
	for _, c := range detail.Controls {
		var line, bars drawing.Path
		line.Stroke = drawing.Stroke{Pen: drawing.PenControl, Ink: drawing.InkLine, Dash: dashes[c]}
		bars.Stroke = drawing.Stroke{Pen: drawing.PenControl, Ink: drawing.InkLine}
		for i := range runs {
			run := &runs[i]
			if run.control != c {
				continue
			}
			for _, p := range run.pieces() {
				line.Polyline(p...)
			}
			n := len(run.pts)
			if run.bars[0] {
				bar(&bars, run.pts[0], run.pts[1])
			}
			if run.bars[1] {
				bar(&bars, run.pts[n-1], run.pts[n-2])
			}
		}
		if len(line.Segs) == 0 {
			continue
		}
		d.Open(drawing.Tag{Control: string(c)})
		d.Add(&line)
		if len(bars.Segs) > 0 {
			d.Add(&bars)
		}
		d.Close()
	}
	d.Close()
}

// controlLetters letters the lines, over the leaders that cross them there.
func (j *junction) controlLetters(runs []controlRun) {
	if len(runs) == 0 {
		return
	}
	d := j.draft
	d.Open(drawing.Tag{Kind: "control"})
	for i := range runs {
		letter := strings.ToUpper(string(runs[i].control)[:1])
		for _, l := range runs[i].letters {
			d.Cased(drawing.Tag{}, &styleControl, 1.4, drawing.Point{X: l.at.X, Y: l.at.Y + controlLetter*0.36}, drawing.Middle, letter)
		}
	}
	d.Close()
}

// bar ends a line: a short stroke across it.
func bar(p *drawing.Path, at, from drawing.Point) {
	l := math.Hypot(at.X-from.X, at.Y-from.Y)
	if l == 0 {
		return
	}
	nx, ny := -(at.Y-from.Y)/l*endBar/2, (at.X-from.X)/l*endBar/2
	p.Move(at.X-nx, at.Y-ny).Line(at.X+nx, at.Y+ny)
}
