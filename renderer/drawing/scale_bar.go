package drawing

import (
	"math"
	"strconv"

	"wythe/renderer/units"
)

// barInches and barMillimetres are the lengths a scale bar may stand for.
var (
	barInches      = []float64{0.5, 1, 2, 6, 12, 24, 48, 96, 192, 480, 960}
	barMillimetres = []float64{10, 20, 50, 100, 200, 300, 400, 500, 600, 1000, 2000, 4000, 5000, 10000, 20000}
)

// ScaleBar draws both systems' bars on one zero, the library's own above.
// at is the left end of the line between them; room is the longest bar, mm.
// It returns the length drawn, mm.
func (d *Draft) ScaleBar(at Point, scale float64, system units.System, room float64) float64 {
	d.Open(Tag{Kind: "scale"})
	inch := barInches[0]
	for _, v := range barInches {
		if v*25.4/scale <= room {
			inch = v
		}
	}
	mm := barMillimetres[0]
	for _, v := range barMillimetres {
		if v <= inch*25.4*1.02 {
			mm = v
		}
	}
	up, down := 1.0, -1.0
	if system == units.Metric {
		up, down = down, up
	}
	unit, per := " in", 1.0
	if inch >= 48 {
		unit, per = " ft", 12
	}
	a := d.bar(at, inch, 25.4/scale, per, unit, up)
	b := d.bar(at, mm, 1/scale, 1, " mm", down)
	d.Close()
	return max(a, b)
}

// bar draws one bar of alternate fields; side 1 stands it on the line with
// its figures above, -1 hangs it.
func (d *Draft) bar(at Point, length, k, per float64, unit string, side float64) float64 {
	shares := [5]float64{0, .25, .5, 1}
	n := 4
	if unit == " mm" && length >= 300 && int(length)%300 == 0 {
		shares, n = [5]float64{0, 1. / 6, 1. / 3, 2. / 3, 1}, 5
	}
	const h = 1.1
	stroke := Stroke{Pen: PenDimension, Ink: InkLine}
	y := at.Y - side*h
	for i := 1; i < n; i++ {
		fill := InkLine
		if (i&1 == 0) == (side > 0) {
			fill = InkPaper
		}
		x0, x1 := at.X+shares[i-1]*length*k, at.X+shares[i]*length*k
		d.Shape(Tag{}, stroke, fill, Point{x0, at.Y}, Point{x1, at.Y}, Point{x1, y}, Point{x0, y})
	}
	base := at.Y - 2.2
	if side < 0 {
		base = at.Y + 4.3
	}
	free := at.X - 10
	end := at.X + length*k
	last, _ := barFigure(length/per, unit != " mm")
	// The last figure stands under the bar's end; its unit runs on.
	lastFrom := end - styleBar.Width(last)/2
	d.Letter(Tag{}, styleBar, Point{lastFrom, base}, Start, last+unit)
	for i := 0; i < n-1; i++ {
		s, ok := barFigure(shares[i]*length/per, unit != " mm")
		if !ok {
			continue
		}
		w, x := styleBar.Width(s), at.X+shares[i]*length*k
		if x-w/2 < free+1.2 || x+w/2 > lastFrom-1.2 {
			continue
		}
		d.Letter(Tag{}, styleBar, Point{x, base}, Middle, s)
		free = x + w/2
	}
	return length * k
}

// barFigure prints a figure of a bar, with quarters as fractions where asked;
// figures that come out odd are left out.
func barFigure(v float64, fractions bool) (string, bool) {
	s := strconv.FormatFloat(v, 'f', -1, 64)
	if !fractions || v == math.Trunc(v) {
		return s, len(s) <= 5
	}
	part := [...]string{"", "1/4", "1/2", "3/4"}
	whole, q := math.Modf(v)
	if q*4 != math.Trunc(q*4) {
		return "", false
	}
	if whole == 0 {
		return part[int(q*4)], true
	}
	return strconv.FormatFloat(whole, 'f', -1, 64) + " " + part[int(q*4)], true
}
