package drawing

import "math"

// sawnTimber: crossed diagonals where it is cut across the grain; lines of
// grain where it is cut along.
func (h *hatcher) sawnTimber() {
	if h.opt.Along {
		h.grain(1.05, 0.3)
		return
	}
	s := h.stroke()
	corners := h.region.Outer
	if len(corners) == 4 && len(h.region.Holes) == 0 {
		for i := range 2 {
			s.clipSegment(h.field, h.frame.in(corners[i]), h.frame.in(corners[i+2]))
		}
	} else {
		s.clipSegment(h.field, Point{h.x0, h.y0}, Point{h.x1, h.y1})
		s.clipSegment(h.field, Point{h.x0, h.y1}, Point{h.x1, h.y0})
	}
	h.draw(s, PenDimension, false)
}

// grain draws lines along the layer, uneven, some of them broken.
func (h *hatcher) grain(pitch, uneven float64) {
	s := h.stroke()
	pitch = max(pitch*h.g, leastPitch)
	n := int((h.y1 - h.y0) / pitch)
	if n < 2 && h.y1-h.y0 > 1.3 {
		n = 2
	}
	for i := 1; i < n; i++ {
		y := h.y0 + (h.y1-h.y0)*float64(i)/float64(n)
		slack := max(0, (h.y1-h.y0)/float64(n)-leastPitch) * uneven
		y += (h.random() - 0.5) * slack
		x := h.x0 - h.random()*18*h.g
		for x < h.x1 {
			long := (9 + h.random()*16) * h.g
			s.clipSegment(h.field, Point{max(x, h.x0-1), y}, Point{min(x+long, h.x1+1), y})
			x += long + (0.8+h.random()*1.4)*h.g
		}
	}
	h.draw(s, PenHatch, false)
}

// finishTimber: growth rings about a pith outside the piece; cut along,
// close lines of grain.
func (h *hatcher) finishTimber() {
	if h.opt.Along {
		h.grain(0.75, 0)
		return
	}
	s := h.stroke()
	wide, high := h.x1-h.x0, h.y1-h.y0
	side := min(wide, high)
	c := Point{h.x0 - side*(0.6+0.5*h.random()), h.y1 + side*(0.2+0.2*h.random())}
	far := math.Hypot(h.x1-c.X, h.y0-c.Y)
	// a long board is cut from many rings: they turn about a pith far off, so
	// that they stay apart from its faces
	if wide > 6*high {
		c = Point{h.x0 + wide*(0.3+0.4*h.random()), h.y1 + wide*0.12 + high*1.5}
		far = math.Hypot(max(c.X-h.x0, h.x1-c.X), c.Y-h.y0)
	}
	for r := 0.4; r < far; r += max((0.65+0.1*h.random())*h.g, leastPitch) {
		s.clipArc(h.field, c, r, -math.Pi, 2*math.Pi, false)
	}
	h.draw(s, PenHatch, false)
}

// plywood: plies with their grain by turns. Three in a sheet; in mass timber
// as many as are about 3.6 mm thick on paper.
func (h *hatcher) plywood() {
	high := h.y1 - h.y0
	plies := 3
	if high > 8*h.g {
		plies = max(3, int(math.Round((high/(3.6*h.g)-1)/2))*2+1)
	}
	thick := high / float64(plies)
	s := h.stroke()
	if thick < leastPitch/2 {
		// too thin for plies: the middle line alone
		s.clipSegment(h.field, Point{h.x0, (h.y0 + h.y1) / 2}, Point{h.x1, (h.y0 + h.y1) / 2})
		h.draw(s, PenHatch, false)
		return
	}
	for i := range plies {
		top := h.y0 + float64(i)*thick
		if i > 0 {
			a, b := Point{h.x0 - 1, top}, Point{h.x1 + 1, top}
			if i&1 == 0 {
				a, b = b, a
			}
			s.clipSegment(h.field, a, b)
		}
		if i&1 == 1 {
			h.ply(s, top, thick)
			continue
		}
		// grain along, where the ply is thick enough for lines of its own
		if lines := int(thick / leastPitch); lines >= 3 {
			for k := 1; k < lines; k++ {
				y := top + thick*float64(k)/float64(lines)
				s.clipSegment(h.field, Point{h.x0 - 1, y}, Point{h.x1 + 1, y})
			}
		}
	}
	h.draw(s, PenHatch, false)
}

// ply draws short strokes at 60° across one ply.
func (h *hatcher) ply(s *stroke, top, thick float64) {
	pitch := max(1.3*h.g, leastPitch*1.2)
	if h.opt.Thumb {
		pitch *= 1.5
	}
	run := thick / math.Sqrt(3)
	for x := h.x0 - run + h.random()*pitch; x < h.x1; x += pitch {
		s.clipSegment(h.field, Point{x, top + thick}, Point{x + run, top})
	}
}
