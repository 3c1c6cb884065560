package sheet

import (
	"math"
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
	Dew *units.Temperature
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
func (j *junction) isotherms(h *Heat) {
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
	j.shading(h, values)
	tolerance := 0.1 * j.scale / 1000 // a tenth of a millimetre on paper, m
	d.Open(drawing.Tag{Kind: "flow"})
	for _, line := range h.Field.FlowLines(10, tolerance) {
		j.polyline(&line, drawing.Stroke{Pen: drawing.PenHatch, Ink: drawing.InkMark, Dash: []float64{0.5, 0.9}})
	}
	d.Close()
	lines := h.Field.Isotherms(values, tolerance)
	for i := range lines {
		j.polyline(&lines[i], drawing.Stroke{Pen: drawing.PenSecondary, Ink: drawing.InkMark})
	}
	var taken []labelled
	if h.Dew != nil && float64(*h.Dew) > low && float64(*h.Dew) < high {
		dew := h.Field.Isotherms([]float64{float64(*h.Dew)}, tolerance)
		for i := range dew {
			j.polyline(&dew[i], drawing.Stroke{Pen: drawing.PenCut, Ink: drawing.InkMark, Dash: []float64{2.4, 0.9}})
		}
		taken = j.label(dew, "dew point "+degreesSaid(*h.Dew, j.look.System), taken)
	}
	for _, v := range values {
		var same []heatflow.Polyline
		for i := range lines {
			if lines[i].Value == v {
				same = append(same, lines[i])
			}
		}
		taken = j.label(same, numberSaid(v, j.look.System), taken)
	}
	if h.HasColdest {
		if at, _, ok := j.shown(geometry.Point{X: int64(math.Round(h.Coldest.X * 1e6)), Y: int64(math.Round(h.Coldest.Y * 1e6))}); ok {
			d.Shape(drawing.Tag{}, drawing.Stroke{}, drawing.InkMark, at, drawing.Point{X: at.X - 1.5, Y: at.Y - 2.6}, drawing.Point{X: at.X + 1.5, Y: at.Y - 2.6})
			d.Cased(drawing.Tag{}, &styleColdest, 1.4, drawing.Point{X: at.X + 2.2, Y: at.Y - 1.2}, drawing.Start, degreesSaid(units.Temperature(h.Coldest.Celsius), j.look.System))
		}
	}
	d.Close()
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

// polyline draws what shows of a line given in metres.
func (j *junction) polyline(line *heatflow.Polyline, stroke drawing.Stroke) {
	for k := range j.windows {
		w := &j.windows[k]
		pts := make([]drawing.Point, len(line.Points))
		for i, p := range line.Points {
			pts[i] = w.metres(p)
		}
		for _, run := range w.line(pts) {
			j.draft.Line(drawing.Tag{}, stroke, run...)
		}
	}
}

// labelled is a number that stands: the middle of it and its width, mm.
type labelled struct {
	at   drawing.Point
	wide float64
}

// label sets a number on the longest of the lines where it is clear of those
// set before, and returns the places taken.
func (j *junction) label(lines []heatflow.Polyline, text string, taken []labelled) []labelled {
	if len(lines) == 0 {
		return taken
	}
	best := 0
	for i := range lines {
		if lines[i].Length() > lines[best].Length() {
			best = i
		}
	}
	wide := styleIsotherm.Width(text)
	for _, share := range [...]float64{0.5, 0.35, 0.65, 0.22, 0.78, 0.1, 0.9, 0.04, 0.96} {
		x, y, _ := lines[best].Label(share)
		at, _, ok := j.shown(geometry.Point{X: int64(math.Round(x * 1e6)), Y: int64(math.Round(y * 1e6))})
		if !ok {
			continue
		}
		free := true
		for _, t := range taken {
			free = free && (math.Abs(t.at.X-at.X) > (t.wide+wide)/2+1 || math.Abs(t.at.Y-at.Y) > 3.2)
		}
		if free {
			j.draft.Cased(drawing.Tag{}, &styleIsotherm, 1.2, drawing.Point{X: at.X, Y: at.Y + 0.9}, drawing.Middle, text)
			return append(taken, labelled{at, wide})
		}
	}
	return taken
}
