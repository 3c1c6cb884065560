package sheet

import (
	"math"
	"slices"
	"strconv"

	"wythe/renderer/drawing"
	"wythe/renderer/figures"
	"wythe/renderer/geometry"
	"wythe/renderer/heatflow"
	"wythe/renderer/units"
)

// Heat is the temperature field laid over a section.
type Heat struct {
	*figures.HeatFlow
	// Dew is the rooms' dew point in the design month, drawn heavier; nil: not known.
	Dew   *units.Temperature
	plain bool // without shading
}

// mostIsotherms bounds the lines over a section, so that they stay apart.
const mostIsotherms = 12

var (
	styleIsotherm = drawing.Style{Face: drawing.Lettering, Weight: 500, Size: 2.5, Ink: drawing.InkMark}
	styleColdest  = drawing.Style{Face: drawing.Lettering, Weight: 600, Size: 2.9, Ink: drawing.InkMark}
)

// isotherms draws the temperature in shades, lines of equal temperature at
// round numbers with their numbers in them, the dew point heavier and dashed,
// the lines of heat flow thin, and the coldest inside surface with its
// temperature.
func (j *junction) isotherms(rm *room, h *Heat) {
	if h == nil || h.HeatFlow == nil || h.Field == nil || !h.Temperatures {
		return
	}
	d := j.draft
	low, high := math.Inf(1), math.Inf(-1)
	for _, s := range h.Spaces {
		low, high = min(low, float64(s.Temperature)), max(high, float64(s.Temperature))
	}
	d.Open(drawing.Tag{Kind: "isotherm"})
	values := j.roundTemperatures(low, high)
	if !h.plain {
		j.shading(h, values)
	}
	tolerance := 0.1 * j.scale / 1000 // a tenth of a millimetre on paper, m
	d.Open(drawing.Tag{Kind: "flow"})
	for _, line := range h.Field.FlowLines(10, tolerance) {
		for _, run := range j.runs(&line) {
			d.Line(drawing.Tag{}, drawing.Stroke{Pen: drawing.PenHatch, Ink: drawing.InkMark, Dash: []float64{0.5, 0.9}}, run...)
		}
	}
	d.Close()
	var lines []isotherm
	if h.Dew != nil && float64(*h.Dew) > low && float64(*h.Dew) < high {
		lines = append(lines, isotherm{float64(*h.Dew), "dew point " + degreesSaid(*h.Dew, j.look.System), nil})
	}
	for _, v := range values {
		lines = append(lines, isotherm{v, numberSaid(v, j.look.System), nil})
	}
	stroke := drawing.Stroke{Pen: drawing.PenSecondary, Ink: drawing.InkMark}
	dew := drawing.Stroke{Pen: drawing.PenCut, Ink: drawing.InkMark, Dash: []float64{2.4, 0.9}}
	for i := range lines {
		l := &lines[i]
		for _, line := range h.Field.Isotherms([]float64{l.celsius}, tolerance) {
			l.runs = append(l.runs, j.runs(&line)...)
		}
		pen := stroke
		if len(lines) > len(values) && i == 0 {
			pen = dew
		}
		for _, run := range l.runs {
			d.Line(drawing.Tag{}, pen, run...)
		}
	}
	var set []drawing.Box // numbers
	if h.HasColdest {
		set = j.coldest(rm, lines, h)
	}
	for i := range lines {
		set = j.labelLine(rm, lines, i, set)
	}
	d.Close()
}

// coldest marks the coldest inside surface, its temperature beside the mark,
// and returns where that stands.
func (j *junction) coldest(rm *room, lines []isotherm, h *Heat) []drawing.Box {
	at, _, ok := j.shown(geometry.Point{X: int64(math.Round(h.Coldest.X * 1e6)), Y: int64(math.Round(h.Coldest.Y * 1e6))})
	if !ok {
		return nil
	}
	words := degreesSaid(units.Temperature(h.Coldest.Celsius), j.look.System)
	wide := styleColdest.Width(words) + 1
	best, bestCost := drawing.Point{}, math.Inf(1)
	for _, c := range [...]drawing.Point{
		{X: 2.2 + wide/2, Y: -2.2}, {X: -2.2 - wide/2, Y: -2.2}, {X: 0, Y: -4.6}, {X: 2.2 + wide/2, Y: 1.2}, {X: -2.2 - wide/2, Y: 1.2},
		{X: 0, Y: 2.6}, {X: wide * 0.7, Y: -5.4}, {X: -wide * 0.7, Y: -5.4}, {X: wide * 0.7, Y: 4.2}, {X: -wide * 0.7, Y: 4.2}, {X: 0, Y: -8}, {X: wide, Y: -9}, {X: -wide, Y: -9},
	} {
		center := drawing.Point{X: at.X + c.X, Y: at.Y + c.Y}
		b := boxAt(center, wide, 3.6)
		cost := rm.cost(b, bestCost) + 0.1*math.Hypot(c.X, c.Y) + 0.5*float64(crowd(lines, -1, b))
		if cost < bestCost {
			best, bestCost = center, cost
		}
	}
	rm.take(boxAt(best, wide, 3.6))
	rm.take(boxAt(drawing.Point{X: at.X, Y: at.Y - 1.3}, 3, 2.6))
	j.draft.Shape(drawing.Tag{}, drawing.Stroke{}, drawing.InkMark, at, drawing.Point{X: at.X - 1.5, Y: at.Y - 2.6}, drawing.Point{X: at.X + 1.5, Y: at.Y - 2.6})
	j.draft.Cased(drawing.Tag{}, &styleColdest, 1.4, drawing.Point{X: best.X, Y: best.Y + 1}, drawing.Middle, words)
	return []drawing.Box{boxAt(best, wide, 3.6)}
}

// roundTemperatures are the values of the lines, °C, round in the library's
// own degrees.
func (j *junction) roundTemperatures(low, high float64) []float64 {
	if j.look.System == units.Metric {
		return heatflow.RoundValues(low, high, mostIsotherms)
	}
	values := heatflow.RoundValues(low*1.8+32, high*1.8+32, mostIsotherms+3)
	for i, f := range values {
		values[i] = (f - 32) / 1.8
	}
	return values
}

func numberSaid(celsius float64, system units.System) string {
	if system != units.Metric {
		celsius = celsius*1.8 + 32
	}
	return strconv.FormatFloat(math.Round(celsius*10)/10, 'f', -1, 64)
}

func degreesSaid(t units.Temperature, system units.System) string {
	return t.ShowTenth(system)
}

// isotherm is a line of equal temperature as it shows on paper.
type isotherm struct {
	celsius float64
	words   string
	runs    [][]drawing.Point
}

// runs is what shows of a line given in metres.
func (j *junction) runs(line *heatflow.Polyline) [][]drawing.Point {
	var out [][]drawing.Point
	for k := range j.windows {
		w := &j.windows[k]
		pts := make([]drawing.Point, len(line.Points))
		for i, p := range line.Points {
			pts[i] = w.metres(p)
		}
		out = append(out, w.line(pts)...)
	}
	return out
}

// crowd counts the isotherms but one that run through a box.
func crowd(lines []isotherm, but int, b drawing.Box) int {
	n := 0
	for i := range lines {
		if i != but && enters(lines[i].runs, b) {
			n++
		}
	}
	return n
}

func enters(runs [][]drawing.Point, b drawing.Box) bool {
	for _, run := range runs {
		for k := range run[1:] {
			p, q := run[k], run[k+1]
			if max(p.X, q.X) < b.Min.X || min(p.X, q.X) > b.Max.X || max(p.Y, q.Y) < b.Min.Y || min(p.Y, q.Y) > b.Max.Y {
				continue
			}
			if _, _, ok := clipSegment(p, q, b); ok {
				return true
			}
		}
	}
	return false
}

// Costs of a place for an isotherm's number: each other isotherm it covers,
// and each millimetre from the middle of its line.
const (
	costCovers = 2.5
	costAside  = 0.012
	labelStep  = 2.5 // mm between the places tried
	worstLabel = 9   // a number that spoils more than this is left out
)

// labelLine sets the number of an isotherm in it, where it covers least: no
// other isotherm, leader or mark, and never another number. It returns the
// numbers set.
func (j *junction) labelLine(rm *room, lines []isotherm, i int, set []drawing.Box) []drawing.Box {
	l := &lines[i]
	wide := styleIsotherm.Width(l.words) + 1.2
	best, bestCost := drawing.Box{}, math.Inf(1)
	for _, run := range l.runs {
		total := pathLength(run)
		if total < 3 {
			continue
		}
		n := int(total / labelStep)
		for k := range n + 1 {
			s := (float64(k) + 0.5) / float64(n+1) * total
			at, _ := along(run, s)
			b := boxAt(at, wide, 3)
			cost := costAside * math.Abs(s-total/2)
			if cost >= bestCost || slices.ContainsFunc(set, b.Overlaps) {
				continue
			}
			if cost += rm.cost(b, bestCost-cost); cost >= bestCost {
				continue
			}
			if cost += costCovers * float64(crowd(lines, i, b)); cost < bestCost {
				best, bestCost = b, cost
			}
		}
	}
	if bestCost > worstLabel {
		return set
	}
	rm.take(best)
	j.draft.Cased(drawing.Tag{}, &styleIsotherm, 1.2, drawing.Point{X: (best.Min.X + best.Max.X) / 2, Y: best.Max.Y - 0.6}, drawing.Middle, l.words)
	return append(set, best)
}
