package drawing

import "wythe/renderer/units"

// stackFrame is a stack set out on paper: where its section and each layer lie.
// The inner top of the section, without what lies beyond, is at y = 0 until
// the frame is moved.
type stackFrame struct {
	stack  *Stack
	scale  float64
	x0, x1 float64 // the cut sides
	order  []int   // layers from top to bottom
	y      []float64
	// above and below are the heights of what lies beyond the outside face.
	above, below float64
}

// frameOf sets the stack out at a scale, between two cut sides.
func frameOf(s *Stack, scale, x0, x1, beyond float64) *stackFrame {
	n := len(s.Layers)
	f := &stackFrame{stack: s, scale: scale, x0: x0, x1: x1, order: make([]int, n), y: make([]float64, n+1)}
	depth := units.Length(0)
	for k := range f.order {
		f.order[k] = k
		if !s.InsideTop {
			f.order[k] = n - 1 - k
		}
		depth += s.Layers[f.order[k]].room()
		f.y[k+1] = onPaper(depth, scale)
	}
	if s.Beyond != nil {
		if s.InsideTop {
			f.below = beyond
		} else {
			f.above = beyond
		}
	}
	return f
}

func (f *stackFrame) layer(k int) *StackLayer { return &f.stack.Layers[f.order[k]] }
func (f *stackFrame) top() float64            { return f.y[0] }
func (f *stackFrame) bottom() float64         { return f.y[len(f.y)-1] }

// ends are the top and the bottom of all that is drawn between the cuts.
func (f *stackFrame) ends() (top, bottom float64) { return f.top() - f.above, f.bottom() + f.below }

// move shifts the frame down.
func (f *stackFrame) move(dy float64) {
	for i := range f.y {
		f.y[i] += dy
	}
}

// members returns the left sides of the framing of a layer and the width of
// one member, mm: as many as the section shows whole, about its middle.
// Members at the same spacing stand in line, layer behind layer.
func (f *stackFrame) members(l *StackLayer) (lefts []float64, width float64) {
	fr := l.Framing
	if fr == nil || fr.Width <= 0 || fr.Spacing <= fr.Width {
		return nil, 0
	}
	width, spacing := onPaper(fr.Width, f.scale), onPaper(fr.Spacing, f.scale)
	room, widest := f.x1-f.x0, fr.Width
	for i := range f.stack.Layers {
		if o := f.stack.Layers[i].Framing; o != nil && o.Spacing == fr.Spacing && o.Width < o.Spacing {
			widest = max(widest, o.Width)
		}
	}
	if width > room {
		return nil, 0
	}
	n := 1
	for float64(n)*spacing+onPaper(widest, f.scale) <= room-6 {
		n++
	}
	x := f.x0 + (room-float64(n-1)*spacing-width)/2
	lefts = make([]float64, n)
	for i := range lefts {
		lefts[i] = x + float64(i)*spacing
	}
	return lefts, width
}

// channels says whether the members of a layer are bent from sheet: drawn as
// channels, open to one side, with the layer's own fill inside.
func (f *stackFrame) channels(l *StackLayer, width, height float64) bool {
	return l.Framing != nil && solidWhenThin(l.Framing.Hatch) && width >= channelLeast && height >= channelLeast
}

const channelLeast = 1.2 // mm on paper; smaller ones are solid

// widest is the largest spacing of framing in the stack.
func (s *Stack) widest() units.Length {
	w := units.Length(0)
	for i := range s.Layers {
		if fr := s.Layers[i].Framing; fr != nil && fr.Width > 0 {
			w = max(w, fr.Spacing)
		}
	}
	return w
}
