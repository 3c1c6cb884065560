package drawing

// peelDress is the measures of a peel-back view, mm.
type peelDress struct {
	front   float64 // width of the cut faces
	step    float64 // by which each layer stands back from the one under it
	reach   float64 // of all steps, at most
	highest float64 // past this the scale steps down
	column  float64 // of words beside it; 0: bubbles alone
	scale   float64 // the largest
}

var (
	widePeel  = peelDress{front: 132, step: 6.5, reach: 52, highest: 118, column: 56, scale: 8}
	phonePeel = peelDress{front: 50, step: 3.6, reach: 28, highest: 88, scale: 12}
)

const (
	peelBeyond = 8.0 // of the ground shown
	peelTail   = 1.6 // of the last step, in steps
	peelGap    = 5.0 // between the view and the bubbles
)

// peelScales are those that both systems have, in their order.
var peelScales = [...]float64{8, 12, 16, 24, 32, 48, 64, 96, 128}

// PeelBack draws the stack as an axonometric cutaway in its dress, Wide or
// Phone, to scale: each layer stands back from the one under it, so that its
// upper side is seen, is hatched on its cut face, and is named. Members of a
// framed layer are cut on that face and run back from it. Depth is drawn at 45°
// and means nothing.
//
// It panics on what [Stack.Draw] panics on.
func (s *Stack) PeelBack() *Drawing {
	s.check()
	dress := &widePeel
	if s.Dress == Phone {
		dress = &phonePeel
	}
	p := &peel{stack: s, peelDress: dress}
	n := len(s.Layers)
	p.count = n
	if s.Beyond != nil && s.InsideTop {
		p.count++
	}
	p.step = min(dress.step, dress.reach/float64(p.count))
	p.scale = s.Scale
	for i := 0; p.scale == 0; i++ {
		if c := peelScales[i]; c >= dress.scale && (onPaper(s.Thickness(), c)+float64(p.count)*p.step <= dress.highest || i == len(peelScales)-1) {
			p.scale = c
		}
	}
	return p.draw()
}

// peel is a view being drawn.
type peel struct {
	stack *Stack
	*peelDress
	count int // of layers with the ground
	step  float64
	scale float64
	left  float64 // of the lowest layer's face
	base  float64 // its foot
}

// slab is a layer set out: its cut face, and how far it runs back.
type slab struct {
	x0, x1, y0, y1 float64
	deep           float64
}

func (p *peel) draw() *Drawing {
	s := p.stack
	f := frameOf(s, p.scale, 0, p.front, 0)
	ground := p.count > len(f.order)
	high := onPaper(s.Thickness(), p.scale)
	depth := (float64(p.count-1) + peelTail) * p.step
	if ground {
		high += peelBeyond
	}
	p.left = 1
	p.base = 5 + high + depth
	slabs := make([]slab, p.count) // from the top down
	y := p.base
	for k := p.count - 1; k >= 0; k-- {
		back := float64(p.count-1-k) * p.step
		h := peelBeyond
		if k < len(f.order) {
			h = f.y[k+1] - f.y[k]
		}
		slabs[k] = slab{p.left + back, p.left + back + p.front, y - back - h, y - back, depth - back}
		y -= h
	}
	d := NewDraft()
	var list []Callout
	for k := p.count - 1; k >= 0; k-- {
		at := slabs[k]
		l := s.Beyond
		if k < len(f.order) {
			l = f.layer(k)
		}
		d.Open(Tag{Kind: "hatch", Part: l.Part, Key: l.Key})
		// The frame of the section, with this layer where it stands here.
		g := frameOf(s, p.scale, at.x0, at.x1, 0)
		switch {
		case l == s.Beyond:
			p.ground(d, l, at)
		case l.Film:
			d.Shape(Tag{}, Stroke{Pen: PenSecondary, Ink: InkLine}, InkPaper, at.top()...)
			d.Line(Tag{}, Stroke{Pen: PenMembrane, Ink: InkLine, Round: true}, Point{at.x0, at.y0}, Point{at.x1, at.y0}, Point{at.x1 + at.deep, at.y0 - at.deep})
		default:
			g.y[k], g.y[k+1] = at.y0, at.y1
			p.layer(d, g, k, at)
		}
		d.Close()
		list = append(list, p.callout(l, g, at))
	}
	width := p.left + p.front + depth + peelGap
	cols := Columns{Right: Column{Edge: width, Outer: width + 2*keynoteR + 1}, Top: 1, Bottom: p.base + 4}
	if p.column > 0 {
		cols.Right.Outer = width + bubbleText + p.column
	}
	placed, _ := PlaceCallouts(list, cols, p.column == 0)
	d.Callouts(placed)
	height := p.base + 1.0
	for i := range placed {
		height = max(height, placed[i].Box.Max.Y+1)
	}
	_, ratio := ScaleWords(p.scale)
	return &Drawing{
		Title: s.Mark + ", peeled back, scale " + ratio, Desc: s.describe(),
		Width: cols.Right.Outer, Height: height, Scale: p.scale, Root: d.Root(),
	}
}

func (a *slab) back(p Point) Point { return Point{p.X + a.deep, p.Y - a.deep} }

// top and end are its upper side and its right one.
func (a *slab) top() []Point {
	l, r := Point{a.x0, a.y0}, Point{a.x1, a.y0}
	return []Point{l, r, a.back(r), a.back(l)}
}

func (a *slab) end() []Point {
	u, l := Point{a.x1, a.y0}, Point{a.x1, a.y1}
	return []Point{u, l, a.back(l), a.back(u)}
}

// callout names a layer from near the end of its cut face, beside its members.
func (p *peel) callout(l *StackLayer, f *stackFrame, at slab) Callout {
	c := Callout{
		Key: l.Key, Head: l.head(p.stack.System), Side: RightSide, Open: l.Film, Tag: Tag{Part: l.Part},
		At: Point{at.x1 - 3, (at.y0 + at.y1) / 2}, Dot: max(0.35, min(calloutDot, (at.y1-at.y0)*0.42)),
	}
	if l.Film {
		c.Dot = filmDot
	}
	if n := l.courses(); n%2 == 0 {
		c.At.Y += (at.y1 - at.y0) / float64(2*n) // not on a joint
	}
	lefts, width := f.members(l)
	for _, x := range lefts {
		if c.At.X > x-1.2 && c.At.X < x+width+1.2 {
			c.At.X = x - 1.8
		}
	}
	return c
}

// ground fades out below.
func (p *peel) ground(d *Draft, l *StackLayer, at slab) {
	d.Shape(Tag{}, Stroke{}, InkPaper, at.end()...)
	d.Shape(Tag{}, Stroke{Pen: PenSecondary, Ink: InkLine}, InkPaper, at.top()...)
	d.hatch(l.Hatch, at.x0, at.y0, at.x1, at.y1, Hatching{Seed: p.stack.hatchSeed(l.Part), Grain: p.grain(), Axis: AxisLevel, Open: SideLeft | SideRight | SideBottom, Fade: SideBottom})
}

func (p *peel) grain() float64 {
	if p.column == 0 {
		return 0.62
	}
	return 0.72
}

// layer draws one layer: upper side, end, cut face; its members run back.
func (p *peel) layer(d *Draft, f *stackFrame, k int, at slab) {
	l := f.layer(k)
	side := Stroke{Pen: PenSecondary, Ink: InkLine}
	lefts, width := f.members(l)
	air := l.Hatch == "air" || l.Hatch == ""
	face := []Point{{at.x0, at.y0}, {at.x1, at.y0}, {at.x1, at.y1}, {at.x0, at.y1}}
	if air && len(lefts) == 0 {
		// Nothing is there: thin lines say how far apart its neighbours stand.
		thin := Stroke{Pen: PenDimension, Ink: InkLine, Dash: []float64{1.6, 1}}
		for _, c := range [...]Point{{at.x0, at.y0}, {at.x1, at.y0}, at.back(Point{at.x1, at.y0})} {
			d.Line(Tag{}, thin, c, Point{c.X, c.Y + at.y1 - at.y0})
		}
		return
	}
	pens := sheetPens
	pens.grain = p.grain()
	if !air {
		d.Shape(Tag{}, side, InkPaper, at.top()...)
		d.Shape(Tag{}, side, InkPaper, at.end()...)
		d.Shape(Tag{}, Stroke{}, InkPaper, face...)
	}
	f.fillLayer(d, k, &pens, false)
	for _, x := range lefts {
		m := at
		m.x0, m.x1 = x, x+width
		d.Shape(Tag{}, side, InkPaper, m.top()...)
		if air {
			d.Shape(Tag{}, side, InkPaper, m.end()...)
		}
		if f.channels(l, width, at.y1-at.y0) {
			d.channel(x, at.y0, x+width, at.y1, &pens)
			continue
		}
		d.Shape(Tag{}, Stroke{Pen: PenTick, Ink: InkLine}, InkNone, Point{x, at.y0}, Point{x + width, at.y0}, Point{x + width, at.y1}, Point{x, at.y1})
	}
	if n := l.courses(); n > 1 {
		var joints []Point
		for c := 1; c < n; c++ {
			y := at.y0 + (at.y1-at.y0)*float64(c)/float64(n)
			joints = append(joints, Point{at.x0, y}, Point{at.x1, y}, Point{at.x1, y}, at.back(Point{at.x1, y}))
		}
		d.Lines(Tag{}, side, joints)
	}
	if !air {
		pen := PenCut
		if at.y1-at.y0 < closeLayer {
			pen = PenTick
		}
		d.Shape(Tag{}, Stroke{Pen: pen, Ink: InkLine}, InkNone, face...)
	}
}
