package drawing

import (
	"math"
	"strconv"
)

// Chart is a plot of lines over one axis, in paper millimetres, readable on a
// phone and in print: series differ by dash and by a label at their end, never
// by colour alone.
type Chart struct {
	Title, Desc string
	X, Y        Axes
	Series      []Series
	// Bands are upright lines with words over them: the faces of layers.
	Bands         []Band
	Width, Height float64 // of the whole, mm; 0: 92 × 58
}

// Axes is one axis: its words and, where Max > Min, its range.
type Axes struct {
	Label    string // "Depth from inside, in"
	Min, Max float64
	Texts    []AxisText // ticks with words of their own; nil: round numbers
}

// AxisText is a tick with words.
type AxisText struct {
	At   float64
	Text string
}

// Series is one line.
type Series struct {
	Label  string
	Points []Point // in the units of the axes
	Dash   []float64
	Ink    Ink // InkNone: InkLine
	Marks  bool
	Bars   bool // bars from zero instead of a line
}

// Band is a named stretch between two upright lines.
type Band struct {
	From, To float64
	Text     string
}

const (
	chartWidth  = 92.0
	chartHeight = 58.0
	labelPitch  = 3.4
)

// Draw sets the chart out.
func (c *Chart) Draw() *Drawing {
	w, h := c.Width, c.Height
	if w == 0 {
		w = chartWidth
	}
	if h == 0 {
		h = chartHeight
	}
	x, y := c.X.fit(c.Series, false), c.Y.fit(c.Series, true)
	yTicks := y.ticks(5)
	left := 3.0
	for _, t := range yTicks {
		left = max(left, styleBar.Width(t.Text)+2.4)
	}
	p := plot{x: x, y: y, x0: left + 1, x1: w - 3, y0: 7, y1: h - 9.5}
	for _, s := range c.Series {
		if s.Label != "" {
			p.x1 = min(p.x1, w-styleBar.Width(s.Label)-3)
		}
	}
	if len(c.Bands) > 0 {
		p.y0 += 4
	}
	d := NewDraft()
	c.frame(d, &p, yTicks)
	d.Open(Tag{Kind: "bands"})
	c.bands(d, &p)
	d.Close()
	d.Open(Tag{Kind: "series"})
	c.lines(d, &p)
	d.Close()
	return &Drawing{Title: c.Title, Desc: c.Desc, Width: w, Height: h, Root: d.Root()}
}

type plot struct {
	x, y           Axes
	x0, x1, y0, y1 float64
}

func (p *plot) at(q Point) Point {
	return Point{p.x0 + (q.X-p.x.Min)/(p.x.Max-p.x.Min)*(p.x1-p.x0), p.y1 - (q.Y-p.y.Min)/(p.y.Max-p.y.Min)*(p.y1-p.y0)}
}

// fit widens an axis without a range to hold all series, to round numbers.
func (a Axes) fit(series []Series, upright bool) Axes {
	if a.Max > a.Min {
		return a
	}
	lo, hi := math.Inf(1), math.Inf(-1)
	for i := range series {
		for _, q := range series[i].Points {
			v := q.X
			if upright {
				v = q.Y
			}
			lo, hi = min(lo, v), max(hi, v)
			if series[i].Bars && upright {
				lo = min(lo, 0)
			}
		}
	}
	if lo > hi {
		lo, hi = 0, 1
	}
	if hi-lo < 1e-12 {
		hi = lo + max(1, math.Abs(lo))
	}
	if upright {
		step := roundStep((hi - lo) / 5)
		lo, hi = math.Floor(lo/step)*step, math.Ceil(hi/step)*step
	}
	a.Min, a.Max = lo, hi
	return a
}

// roundStep is the least of 1, 2, 5 times a power of ten that is at least v.
func roundStep(v float64) float64 {
	p := math.Pow(10, math.Floor(math.Log10(v)))
	for _, m := range [...]float64{1, 2, 5, 10} {
		if m*p >= v*(1-1e-9) {
			return m * p
		}
	}
	return 10 * p
}

// ticks are about n round numbers along the axis.
func (a Axes) ticks(n int) []AxisText {
	if a.Texts != nil {
		return a.Texts
	}
	step := roundStep((a.Max - a.Min) / float64(n))
	digits := max(0, -int(math.Floor(math.Log10(step)+1e-9)))
	var out []AxisText
	for k := math.Ceil(a.Min/step - 1e-9); k*step <= a.Max+step*1e-9; k++ {
		v := k * step
		if v == 0 {
			v = 0 // no minus before zero
		}
		text := strconv.FormatFloat(v, 'f', digits, 64)
		if v < 0 {
			text = "−" + text[1:]
		}
		out = append(out, AxisText{v, text})
	}
	return out
}

func (c *Chart) frame(d *Draft, p *plot, yTicks []AxisText) {
	hair := Stroke{Pen: PenHatch, Ink: InkHair}
	axis := Stroke{Pen: PenSecondary, Ink: InkLine}
	d.Open(Tag{Kind: "axes"})
	for _, t := range yTicks {
		q := p.at(Point{p.x.Min, t.At})
		d.Line(Tag{}, hair, q, Point{p.x1, q.Y})
		d.Letter(Tag{}, styleBar, Point{q.X - 1.2, q.Y + 0.9}, End, t.Text)
	}
	last := math.Inf(-1)
	for _, t := range p.x.ticks(6) {
		q := p.at(Point{t.At, p.y.Min})
		if q.X < p.x0-0.01 || q.X > p.x1+0.01 {
			continue
		}
		d.Line(Tag{}, axis, q, Point{q.X, q.Y + 1.2})
		half := styleBar.Width(t.Text) / 2
		if q.X-half < last+1 {
			continue
		}
		last = q.X + half
		d.Letter(Tag{}, styleBar, Point{q.X, q.Y + 4}, Middle, t.Text)
	}
	d.Line(Tag{}, axis, Point{p.x0, p.y0}, Point{p.x0, p.y1}, Point{p.x1, p.y1})
	if zero := p.at(Point{p.x.Min, 0}); p.y.Min < 0 && p.y.Max > 0 {
		d.Line(Tag{}, axis, zero, Point{p.x1, zero.Y})
	}
	d.Letter(Tag{}, styleCaption, Point{0.5, 3}, Start, c.Y.Label)
	d.Letter(Tag{}, styleCaption, Point{p.x1, p.y1 + 8.2}, End, c.X.Label)
	d.Close()
}

func (c *Chart) bands(d *Draft, p *plot) {
	last := math.Inf(-1)
	for _, b := range c.Bands {
		lo, hi := p.at(Point{b.From, p.y.Min}), p.at(Point{b.To, p.y.Min})
		for _, x := range [2]float64{lo.X, hi.X} {
			d.Line(Tag{}, Stroke{Pen: PenDimension, Ink: InkLine}, Point{x, p.y0 - 0.8}, Point{x, p.y1})
		}
		w := styleBar.Width(b.Text)
		if mid := (lo.X + hi.X) / 2; mid-w/2 > last+0.8 && (w <= hi.X-lo.X+1 || w < 4) {
			d.Letter(Tag{}, styleBar, Point{mid, p.y0 - 1.6}, Middle, b.Text)
			last = mid + w/2
		}
	}
}

func (c *Chart) lines(d *Draft, p *plot) {
	var taken []float64
	for i := range c.Series {
		s := &c.Series[i]
		if len(s.Points) == 0 {
			continue
		}
		ink := s.Ink
		if ink == InkNone {
			ink = InkLine
		}
		stroke := Stroke{Pen: PenCut, Ink: ink, Dash: s.Dash, Round: s.Dash == nil}
		if s.Bars {
			c.bars(d, p, s, ink)
			continue
		}
		pts := make([]Point, len(s.Points))
		for k, q := range s.Points {
			pts[k] = p.at(q)
		}
		d.Line(Tag{}, stroke, pts...)
		if s.Marks {
			for _, q := range pts {
				d.Disc(Tag{}, Stroke{Pen: PenTick, Ink: ink}, InkPaper, q, 0.8)
			}
		}
		if s.Label == "" {
			continue
		}
		end := pts[len(pts)-1]
		y := end.Y + 0.9
		for again := true; again; { // labels keep apart, each below those before
			again = false
			for _, t := range taken {
				if math.Abs(t-y) < labelPitch-1e-6 {
					y, again = t+labelPitch, true
				}
			}
		}
		taken = append(taken, y)
		style := *styleBar
		style.Ink, style.Weight = ink, 600
		d.Cased(Tag{}, &style, 1, Point{end.X + 1.4, y}, Start, s.Label)
	}
}

func (c *Chart) bars(d *Draft, p *plot, s *Series, ink Ink) {
	width := (p.x1 - p.x0) / float64(max(1, len(s.Points))) * 0.55
	for _, q := range s.Points {
		a, b := p.at(Point{q.X, 0}), p.at(q)
		if math.Abs(a.Y-b.Y) < 0.01 {
			continue
		}
		d.Shape(Tag{}, Stroke{Pen: PenDimension, Ink: ink}, ink, Point{a.X - width/2, a.Y}, Point{a.X + width/2, a.Y}, Point{b.X + width/2, b.Y}, Point{b.X - width/2, b.Y})
	}
}
