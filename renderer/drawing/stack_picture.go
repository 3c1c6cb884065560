package drawing

// drawPicture draws a thumbnail or a step: the section alone, without words.
func (s *Stack) drawPicture() *Drawing {
	width, scale, pens, beyond := s.Width, s.Scale, &thumbPens, 4.0
	stands := func(*StackLayer) bool { return true }
	if s.Dress == StepPicture {
		pens, beyond = &stepPens, 5
		if width == 0 {
			width = stepWidth
		}
		if scale == 0 {
			scale = 16
		}
		stands = func(l *StackLayer) bool { return l.Step <= s.After }
	}
	if width == 0 {
		width = thumbWidth
	}
	if scale == 0 {
		scale = 24
	}
	const edge = 0.8
	f := frameOf(s, scale, edge, width-edge, beyond)
	top, bottom := f.ends()
	if s.Dress == StepPicture {
		top = f.firstStanding(stands)
	}
	over, under := f.filmReach(pens)
	up := edge - top + over
	bottom += under
	f.move(up)
	d := NewDraft()
	f.body(d, pens, stands)
	if s.NotForConstruction && s.Dress == StepPicture {
		d.NotForConstruction(Point{width / 2, (top+bottom)/2 + up}, width-4, bottom-top)
	}
	return &Drawing{
		Title: s.name(scale), Desc: s.describe(),
		Width: width, Height: bottom + up + edge, Scale: scale, Root: d.Root(),
	}
}

// firstStanding is the top of what stands so far.
func (f *stackFrame) firstStanding(stands func(*StackLayer) bool) float64 {
	if f.above > 0 && stands(f.stack.Beyond) {
		return f.top() - f.above
	}
	for k := range f.order {
		if stands(f.layer(k)) || f.bare(k, stands) {
			return f.y[k]
		}
	}
	return f.bottom()
}
