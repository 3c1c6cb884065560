package drawing

import "math"

// earth: groups of three strokes at 45°, turned left and right by turns on a
// staggered grid. Towards the sides that fade, groups thin out, lose strokes
// and shorten.
func (h *hatcher) earth() { h.ground(3) }

// backfill: as earth, in groups of two, with dots between the groups.
func (h *hatcher) backfill() { h.ground(2) }

func (h *hatcher) ground(strokes int) {
	cx, cy := 5.6*h.g, 4.6*h.g
	s, dots := h.stroke(), h.stroke()
	ox, oy := (h.random()-0.5)*cx, (0.1+h.random()*0.3)*cy
	columns, rows := int((h.x1-h.x0)/cx)+2, int((h.y1-h.y0)/cy)+2
	for j := -1; j < rows; j++ {
		for i := -1; i < columns; i++ {
			stagger := 0.0
			if j&1 != 0 {
				stagger = 0.5
			}
			x := h.x0 + (float64(i)+0.5+stagger)*cx + ox + (h.random()-0.5)*0.7*h.g
			y := h.y0 + (float64(j)+0.62)*cy + oy - 0.3*cy + (h.random()-0.5)*0.6*h.g
			chance, length := h.random(), h.random()
			v := h.fade(x, y)
			if v < 0.12 || chance > 0.25+v {
				continue
			}
			slope := -1.0
			if (i+j)&1 != 0 {
				slope = 1
			}
			n := strokes
			switch {
			case v <= 0.4:
				n = 1
			case v <= 0.7:
				n = min(n, 2)
			}
			for k := range n {
				m := float64(k) - float64(n-1)/2
				l := (1.75 - math.Abs(m)*0.25 + length*0.2) * h.g * (0.5 + 0.5*v) * math.Sqrt2 / 2
				px, py := x+m*0.8*h.g, y-slope*m*0.8*h.g
				s.clipSegment(h.field, Point{px - l, py - slope*l}, Point{px + l, py + slope*l})
			}
			if strokes == 2 {
				for range 2 {
					a := h.random() * 2 * math.Pi
					dx, dy := x+cx/2+0.8*h.g*math.Cos(a), y+cy*0.1+0.9*h.g*math.Sin(a)
					if h.random() < v && h.disc(dx, dy, 0.3) {
						dots.dot(tenth(dx), tenth(dy))
					}
				}
			}
		}
	}
	h.draw(s, PenHatch, false)
	h.draw(dots, PenDot, true)
}

// fade says how much of the ground is drawn at (x, y): 1 all, falling to 0 at
// the sides that fade.
func (h *hatcher) fade(x, y float64) float64 {
	if h.opt.Fade == 0 {
		return 1
	}
	v := 1.0
	sides := h.frame.sides(h.opt.Fade)
	wide, high := min(h.x1-h.x0, 26*h.g), min(h.y1-h.y0, 16*h.g)
	if sides&SideLeft != 0 {
		v = min(v, 1.25*(x-h.x0)/wide)
	}
	if sides&SideRight != 0 {
		v = min(v, 1.25*(h.x1-x)/wide)
	}
	if sides&SideTop != 0 {
		v = min(v, 1.25*(y-h.y0)/high)
	}
	if sides&SideBottom != 0 {
		v = min(v, 1.25*(h.y1-y)/high)
	}
	return max(v, 0)
}
