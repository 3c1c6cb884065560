package drawing

import (
	"math"
	"strconv"

	"wythe/renderer/units"
)

// strip is a diagram of the temperatures through a stack: beside the section,
// on its depth.
type strip struct {
	x0, x1  float64 // of the diagram, mm
	values  float64 // right end of the column of values
	caption string  // over the scale; "" none
}

// Sizes of the strip, mm.
const (
	stripAxis    = 7.5 // of the scale's line from the section
	stripAir     = 5.0 // of the air's value from the face
	valuePitch   = 3.7
	degreeApart  = 7.5 // least between figures of a scale
	stripCaption = 4.2
)

func fahrenheit(t units.Temperature) float64 { return float64(t)*9/5 + 32 }

func inSystem(t units.Temperature, s units.System) float64 {
	if s == units.Metric {
		return float64(t)
	}
	return fahrenheit(t)
}

func degreeSign(s units.System) string {
	if s == units.Metric {
		return " °C"
	}
	return " °F"
}

// degrees prints a temperature to a tenth.
func degrees(t units.Temperature, s units.System) string {
	v := math.Round(inSystem(t, s)*10) / 10
	if v == 0 {
		v = 0 // no minus
	}
	return strconv.FormatFloat(v, 'f', 1, 64)
}

// degreeSteps are the steps of a scale.
var degreeSteps = [...]float64{1, 2, 5, 10, 20, 25, 50, 100, 200, 500}

func stepFor(span, width float64) float64 {
	for _, s := range degreeSteps {
		if s/span*width >= degreeApart {
			return s
		}
	}
	return degreeSteps[len(degreeSteps)-1]
}

// span is the range of the diagram, in whole steps of the library's system.
func (s *strip) span(p *Profile, system units.System) (lo, hi float64) {
	lo, hi = math.Inf(1), math.Inf(-1)
	widen := func(t units.Temperature) {
		v := inSystem(t, system)
		lo, hi = min(lo, v), max(hi, v)
	}
	widen(p.Inside)
	widen(p.Outside)
	for _, t := range p.Faces {
		widen(t)
	}
	step := stepFor(max(hi-lo, 1), s.x1-s.x0) / 2
	lo, hi = math.Floor(lo/step+0.05)*step, math.Ceil(hi/step-0.05)*step
	if hi-lo < step {
		hi = lo + step
	}
	return lo, hi
}

// stripValue is one printed temperature.
type stripValue struct {
	y, label, x float64
	text        string
}

// valuesOf sets the values beside their depths, none over another.
func (s *strip) valuesOf(f *stackFrame, lo, hi float64) []stripValue {
	p, system := f.stack.Temperatures, f.stack.System
	at := func(t units.Temperature) float64 {
		v := inSystem(t, system)
		return s.x0 + (v-lo)/(hi-lo)*(s.x1-s.x0)
	}
	first, last := p.Inside, p.Outside // the air at the top, at the bottom
	if !f.stack.InsideTop {
		first, last = last, first
	}
	list := make([]stripValue, 0, len(p.Faces)+2)
	n := len(p.Faces)
	face := func(k int) units.Temperature {
		if f.stack.InsideTop {
			return p.Faces[k]
		}
		return p.Faces[n-1-k]
	}
	if differ(first, face(0)) {
		list = append(list, stripValue{y: f.top() - stripAir, x: at(first), text: degrees(first, system)})
	}
	for k := range n {
		if k > 0 && f.y[k] == f.y[k-1] {
			continue // the far side of a film
		}
		list = append(list, stripValue{y: f.y[k], x: at(face(k)), text: degrees(face(k), system)})
	}
	if differ(last, face(n-1)) {
		list = append(list, stripValue{y: f.bottom() + stripAir, x: at(last), text: degrees(last, system)})
	}
	slots := make([]slot, len(list))
	for i := range list {
		slots[i] = slot{target: list[i].y, height: valuePitch}
	}
	spread(slots, math.Inf(-1), math.Inf(1), 0)
	for i := range list {
		list[i].label = slots[i].y
	}
	return list
}

func differ(a, b units.Temperature) bool { return math.Abs(float64(a-b)) > 0.03 }

// reach is how far the strip's values stand over and under the section's own
// faces.
func (s *strip) reach(f *stackFrame) (up, down float64) {
	lo, hi := s.span(f.stack.Temperatures, f.stack.System)
	list := s.valuesOf(f, lo, hi)
	top, bottom := f.ends()
	up = top - min(top-stripAxis, list[0].label-valuePitch/2-1) + stripCaption
	down = max(bottom+stripAxis, list[len(list)-1].label+valuePitch/2+1) - bottom + stripCaption
	return up, down
}

// draw draws the strip: both scales, °F above and °C below; a line at every
// face; the temperature; and its value at each face.
func (s *strip) draw(d *Draft, f *stackFrame) {
	p, system := f.stack.Temperatures, f.stack.System
	lo, hi := s.span(p, system)
	list := s.valuesOf(f, lo, hi)
	up, down := s.reach(f)
	top, bottom := f.ends()
	axis, foot := top-up+stripCaption, bottom+down-stripCaption
	x := func(v float64) float64 { return s.x0 + (v-lo)/(hi-lo)*(s.x1-s.x0) }
	d.Open(Tag{Kind: "temperature"})
	s.scales(d, x, lo, hi, system, axis, foot)
	// A line at every face, from the values to the far side.
	hair := Stroke{Pen: PenDimension, Ink: InkHair}
	var room [64]Point
	lines := room[:0]
	for _, v := range list {
		lines = append(lines, Point{s.values + 0.7, v.label}, Point{s.x0 - 0.6, v.y}, Point{s.x0 - 0.6, v.y}, Point{s.x1, v.y})
	}
	d.Lines(Tag{}, hair, lines)
	d.Lines(Tag{}, Stroke{Pen: PenSecondary, Ink: InkLine}, []Point{
		{s.x0, f.top()}, {s.x1, f.top()}, {s.x0, f.bottom()}, {s.x1, f.bottom()},
	})
	s.curve(d, f, list, axis, foot)
	for _, v := range list {
		d.Letter(Tag{}, styleValue, Point{s.values, v.label + 1.12}, End, v.text)
	}
	d.Close()
}

// curve draws the temperature: straight through each layer, bent through the
// air at a face, level in the air and in the ground.
func (s *strip) curve(d *Draft, f *stackFrame, list []stripValue, axis, foot float64) {
	segs := d.seg(len(list) + 6)[:0]
	to := func(op Op, pts ...Point) {
		g := Seg{Op: op}
		copy(g.P[:], pts)
		segs = append(segs, g)
	}
	head, tail := axis, foot
	for i, v := range list {
		switch {
		case i == 0 && v.y < f.top(): // the air
			to(MoveTo, Point{v.x, head})
			to(LineTo, Point{v.x, f.top() - 3.6})
			n := list[1]
			to(CurveTo, Point{v.x, f.top() - 1.5}, Point{n.x, f.top() - 1.4}, Point{n.x, n.y})
		case i == 0:
			to(MoveTo, Point{v.x, head})
			to(LineTo, Point{v.x, v.y})
		case v.y > f.bottom():
			b := list[i-1]
			to(CurveTo, Point{b.x, f.bottom() + 1.4}, Point{v.x, f.bottom() + 1.5}, Point{v.x, f.bottom() + 3.6})
			to(LineTo, Point{v.x, tail})
		case i == 1 && list[0].y < f.top(): // where the curve ends
		default:
			to(LineTo, Point{v.x, v.y})
		}
	}
	if last := list[len(list)-1]; last.y <= f.bottom() {
		to(LineTo, Point{last.x, tail})
	}
	d.path(Tag{}, Stroke{Pen: 1.5, Ink: InkPaper, Round: true}, InkNone, segs)
	d.path(Tag{}, Stroke{Pen: PenControl, Ink: InkMark, Round: true}, InkNone, segs)
	for _, v := range list {
		if v.y >= f.top() && v.y <= f.bottom() {
			d.Disc(Tag{}, Stroke{Pen: 0.45, Ink: InkMark}, InkPaper, Point{v.x, v.y}, 0.85)
		}
	}
}

// scales draws °F above, with its lines down the diagram, and °C below.
func (s *strip) scales(d *Draft, x func(float64) float64, lo, hi float64, system units.System, axis, foot float64) {
	fLo, fHi := lo, hi
	if system == units.Metric {
		fLo, fHi = fahrenheit(units.Temperature(lo)), fahrenheit(units.Temperature(hi))
	}
	atF := func(v float64) float64 { return s.x0 + (v-fLo)/(fHi-fLo)*(s.x1-s.x0) }
	cLo, cHi := (fLo-32)/1.8, (fHi-32)/1.8
	atC := func(v float64) float64 { return s.x0 + (v-cLo)/(cHi-cLo)*(s.x1-s.x0) }
	var room [3][40]Point
	grid, ticks := room[0][:0], room[2][:0]
	mark := func(lo, hi float64, at func(float64) float64, y, up float64, base float64, unit string, grain bool) {
		step := stepFor(hi-lo, s.x1-s.x0)
		end := 0.0
		for v := math.Ceil(lo/step-1e-9)*step + 0; v <= hi+1e-9; v += step {
			ticks = append(ticks, Point{at(v), y}, Point{at(v), y + up})
			if grain {
				grid = append(grid, Point{at(v), axis}, Point{at(v), foot})
			}
			text := strconv.FormatFloat(v+0, 'f', -1, 64)
			d.Letter(Tag{}, styleDegree, Point{at(v), base}, Middle, text)
			end = at(v) + styleDegree.Width(text)/2
		}
		d.Letter(Tag{}, styleDegree, Point{end + 0.7, base}, Start, unit)
		ticks = append(ticks, Point{s.x0, y}, Point{s.x1, y})
	}
	mark(fLo, fHi, atF, axis, -1.1, axis-1.9, "°F", system == units.Inch)
	mark(cLo, cHi, atC, foot, 1.1, foot+3.8, "°C", system == units.Metric)
	d.Lines(Tag{}, Stroke{Pen: PenDimension, Ink: InkHair}, grid)
	d.Lines(Tag{}, Stroke{Pen: PenDimension, Ink: InkLine}, ticks)
	if s.caption != "" {
		d.Letter(Tag{}, styleCaption, Point{s.x0, axis - 5.6}, Start, s.caption)
	}
}
