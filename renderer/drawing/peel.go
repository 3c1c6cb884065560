package drawing

import "strings"

// Measures of a peel-back view, mm.
const (
	peelFront   = 24.0 // of the top layer's cut face
	peelStep    = 9.5  // by which each layer reaches further than the one on it
	peelReach   = 84.0 // of all steps, at most
	peelRise    = 0.72 // the depth drawn, of a step, along each axis
	peelLabel   = 5.2  // from label to label
	peelBubble  = 2.2
	peelEdge    = 0.8
	peelBeyond  = 7.0   // of the ground shown
	peelHighest = 120.0 // past this the scale steps down
)

// PeelBack draws the stack as an axonometric cutaway, to scale: each layer
// steps back from the one under it, so that its upper side is seen, and is
// hatched on its cut face and labelled. Depth is drawn at 45° and means
// nothing.
//
// It panics on what [Stack.Draw] panics on.
func (s *Stack) PeelBack() *Drawing {
	s.check()
	layers := make([]*StackLayer, 0, len(s.Layers)+1) // from top to bottom
	for i := range s.Layers {
		k := i
		if !s.InsideTop {
			k = len(s.Layers) - 1 - i
		}
		layers = append(layers, &s.Layers[k])
	}
	scale := s.Scale
	if scale == 0 {
		scale = 16
		for float64(s.Thickness())*1000/scale > peelHighest {
			scale *= 2
		}
	}
	n := len(layers)
	if s.Beyond != nil && s.InsideTop {
		layers = append(layers, s.Beyond)
	}
	step := min(peelStep, peelReach/float64(len(layers)))
	deep := step * peelRise
	right := peelEdge + deep + float64(len(layers)-1)*step + peelFront
	top := peelEdge + 2*peelBubble + float64(len(layers)-1)*peelLabel + deep + 3
	left := func(k int) float64 { return right - peelFront - float64(k)*step }

	// Edges between layers, from the top down; a film lies on the one it covers.
	y := make([]float64, len(layers)+1)
	y[0] = top
	for k, l := range layers {
		high := float64(l.room()) * 1000 / scale
		if k == n {
			high = peelBeyond
		}
		y[k+1] = y[k] + high
	}
	d := NewDraft()
	width := right
	for k := len(layers) - 1; k >= 0; k-- {
		s.peelLayer(d, layers[k], left(k), right, y[k], y[k+1], deep, k == n)
	}
	line := Stroke{Pen: PenDimension, Ink: InkLine}
	for k := len(layers) - 1; k >= 0; k-- {
		l := layers[k]
		at := Point{left(k) + step*0.1 - deep*0.15, y[k] - deep*0.15}
		label := peelEdge + peelBubble + float64(len(layers)-1-k)*peelLabel
		d.Open(Tag{Kind: "callout", Part: l.Part, Key: l.Key})
		d.Line(Tag{}, line, at, Point{at.X, label + peelBubble})
		d.Disc(Tag{}, Stroke{}, InkLine, at, 0.6)
		d.bubble(Point{at.X, label}, peelBubble, l.Key)
		words := DrawingWords(begin(l.Head))
		d.Letter(Tag{}, styleNote, Point{at.X + peelBubble + 1.2, label + 1.05}, Start, words)
		d.Close()
		width = max(width, at.X+peelBubble+1.2+Measure(styleNote.Face, styleNote.Weight, styleNote.Size, words))
	}
	return &Drawing{
		Title: s.Mark + ", peeled back", Desc: s.describe(),
		Width: width + peelEdge, Height: y[len(layers)] + peelEdge, Scale: scale, Root: d.Root(),
	}
}

// peelLayer draws one layer: its upper side, its end, its cut face.
func (s *Stack) peelLayer(d *Draft, l *StackLayer, x0, x1, y0, y1, deep float64, ground bool) {
	tag := Tag{Kind: "hatch", Part: l.Part, Key: l.Key}
	side := Stroke{Pen: PenSecondary, Ink: InkLine}
	back := func(p Point) Point { return Point{p.X - deep, p.Y - deep} }
	a, b, c, e := Point{x0, y0}, Point{x1, y0}, Point{x1, y1}, Point{x0, y1}
	d.Open(tag)
	if l.Film {
		film := Stroke{Pen: PenMembrane, Ink: InkLine}
		d.Shape(Tag{}, side, InkPaper, a, b, back(b), back(a))
		d.Line(Tag{}, film, back(a), a, b)
		d.Close()
		return
	}
	if ground {
		d.Shape(Tag{}, Stroke{}, InkPaper, a, b, c, e)
		d.Shape(Tag{}, Stroke{}, InkPaper, a, e, back(e), back(a))
		d.Shape(Tag{}, side, InkPaper, a, b, back(b), back(a))
		d.hatch(l.Hatch, x0, y0, x1, y1, Hatching{Seed: s.hatchSeed(l.Part), Grain: 0.72, Axis: AxisLevel, Open: SideLeft | SideRight | SideBottom, Fade: SideBottom})
		d.Close()
		return
	}
	d.Shape(Tag{}, side, InkPaper, a, b, back(b), back(a))
	d.Shape(Tag{}, side, InkPaper, a, e, back(e), back(a))
	d.Shape(Tag{}, Stroke{}, InkPaper, a, b, c, e)
	d.hatch(l.Hatch, x0, y0, x1, y1, Hatching{Seed: s.hatchSeed(l.Part), Grain: 0.72, Axis: AxisLevel, Courses: l.courses(), Open: SideRight})
	d.Shape(Tag{}, Stroke{Pen: PenTick, Ink: InkLine}, InkNone, a, b, c, e)
	d.Close()
}

// begin sets the first letter as a capital.
func begin(s string) string {
	for i := range s {
		if i > 0 {
			return strings.ToUpper(s[:i]) + s[i:]
		}
	}
	return strings.ToUpper(s)
}
