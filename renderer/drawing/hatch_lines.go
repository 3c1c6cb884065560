package drawing

import "math"

// leastPitch is the least space between parallel lines of a hatch, mm on
// paper (ISO 128), whatever the grain. Steel goes below it: it stands for a
// tone, as thin steel is filled.
const leastPitch = 0.7

// thinMetal is the thickness, mm on paper, under which metal is filled.
const thinMetal = 1.3

// lineAngle turns degrees on paper, counter-clockwise, into radians in the
// field's frame: hatches of 45° lines keep their direction in walls and turn
// with a slope only.
func (h *hatcher) lineAngle(degrees float64) float64 {
	a := -degrees * math.Pi / 180 // y runs down
	if h.frame.swap {
		a = math.Pi/2 - a
	}
	return a
}

// pairs draws lines at 45° in pairs: gap apart, a pair every pitch.
func (h *hatcher) pairs(degrees, gap, pitch float64) {
	s := h.stroke()
	phase := h.random() * pitch
	a := h.lineAngle(degrees)
	back := false
	add := func(a, b Point, _ int) {
		if back {
			a, b = b, a
		}
		back = !back
		s.segment(a, b)
	}
	s.clipLines(h.field, a, pitch, phase, add)
	s.clipLines(h.field, a, pitch, phase+gap, add)
	h.draw(s, PenHatch, false)
}

// brick: close pairs at 45°. block: wider pairs.
func (h *hatcher) brick() {
	gap := max(0.55*h.g, leastPitch)
	h.pairs(45, gap, max(2.1*h.g, gap+1))
}

func (h *hatcher) block() {
	gap := max(0.7*h.g, leastPitch)
	h.pairs(45, gap, max(3.1*h.g, gap+1.6))
}

// masonry, which is stone: broken pairs at 45° the other way, and dots
// between them.
func (h *hatcher) masonry() {
	s, dots := h.stroke(), h.stroke()
	gap := max(0.75*h.g, leastPitch)
	pitch := max(3.6*h.g, gap+1.8)
	phase := h.random() * pitch
	for k := range 3 {
		off := phase + float64(k)*gap
		if k == 2 {
			off = phase + (gap+pitch)/2
		}
		s.clipLines(h.field, h.lineAngle(-45), pitch, off, func(a, b Point, n int) {
			length := math.Hypot(b.X-a.X, b.Y-a.Y)
			ux, uy := (b.X-a.X)/length, (b.Y-a.Y)/length
			if k == 2 {
				for at := (0.4 + h.random()) * h.g; at < length-0.4; at += (1.5 + h.random()) * h.g {
					if x, y := a.X+ux*at, a.Y+uy*at; h.disc(x, y, 0.3) {
						dots.dot(tenth(x), tenth(y))
					}
				}
				return
			}
			// dashes start where the seed says on each pair, so that both
			// lines of a pair break together, a little apart
			dash, rest := 5.2*h.g, 1.1*h.g
			start := float64(mix(h.seed+uint64(n))%1000) / 1000 * (dash + rest)
			along := a.X*ux + a.Y*uy
			from := math.Floor((along-start)/(dash+rest))*(dash+rest) + start - along + float64(k)*0.5*h.g
			for from -= dash + rest; from < length; from += dash + rest {
				if p, q := max(from, 0), min(from+dash, length); q-p > 0.25 {
					s.segment(Point{a.X + ux*p, a.Y + uy*p}, Point{a.X + ux*q, a.Y + uy*q})
				}
			}
		})
	}
	h.draw(s, PenHatch, false)
	h.draw(dots, PenFineDot, true)
}

// steel: the closest pairs; filled where thin.
func (h *hatcher) steel() {
	if h.thickness() < thinMetal {
		h.solid(InkLine)
		return
	}
	h.pairs(45, 0.34, 0.95)
}

// metal, which is aluminum and the like: lines at 45°, every other one dashed;
// filled where thin.
func (h *hatcher) metal() {
	if h.thickness() < thinMetal {
		h.solid(InkLine)
		return
	}
	s := h.stroke()
	pitch := max(1.0*h.g, leastPitch)
	s.clipLines(h.field, h.lineAngle(45), pitch, h.random()*pitch, func(a, b Point, n int) {
		if n&1 == 0 {
			s.segment(a, b)
			return
		}
		length := math.Hypot(b.X-a.X, b.Y-a.Y)
		ux, uy := (b.X-a.X)/length, (b.Y-a.Y)/length
		for from := 0.3; from < length-0.3; from += 1.9 * max(h.g, 1) {
			to := min(from+1.2*max(h.g, 1), length-0.2)
			s.segment(Point{a.X + ux*from, a.Y + uy*from}, Point{a.X + ux*to, a.Y + uy*to})
		}
	})
	h.draw(s, PenHatch, false)
}

// thickness is the region's smaller extent, mm.
func (h *hatcher) thickness() float64 { return min(h.x1-h.x0, h.y1-h.y0) }

// glass: few slanting strokes in threes; none where thin.
func (h *hatcher) glass() {
	if h.thickness() < 1.1 {
		return
	}
	s := h.stroke()
	phase := h.random() * 9
	a := h.lineAngle(60)
	for k, part := range [...]float64{0.7, 1, 0.55} {
		s.clipLines(h.field, a, 9*h.g, (phase+float64(k)*0.8)*h.g, func(a, b Point, _ int) {
			length := math.Hypot(b.X-a.X, b.Y-a.Y)
			cut := (length - min(length*0.8, 4*h.g)*part) / 2 / length
			s.segment(Point{a.X + cut*(b.X-a.X), a.Y + cut*(b.Y-a.Y)}, Point{b.X - cut*(b.X-a.X), b.Y - cut*(b.Y-a.Y)})
		})
	}
	h.draw(s, PenHatch, false)
}
