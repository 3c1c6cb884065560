package drawing

import "math"

// rigid insulation: a 60° lattice in whole rows of about 3.1 mm for each
// course, so that it closes on both faces of the course.
func (h *hatcher) rigid() {
	n, thick := h.courses()
	row := 3.1 * h.g
	if h.opt.Thumb {
		row *= 1.15
	}
	rows := max(1, int(math.Round(thick/row)))
	pitch := 2 * thick / float64(rows) / math.Sqrt(3) // of the lines along the layer
	run := thick / math.Sqrt(3)                       // of one line from face to face
	s := h.stroke()
	for c := range n {
		top := h.y0 + float64(c)*thick
		// courses break joint: each starts half a pitch on
		start := h.x0 - pitch*(0.25+0.5*float64(c&1))
		h.lattice(s, top, thick, start, pitch, run, rows)
	}
	h.draw(s, PenHatch, false)
}

// lattice draws one course. Lines that meet on a face are one stroke that
// goes to and fro between the faces: as many strokes as rows.
func (h *hatcher) lattice(s *stroke, top, thick, start, pitch, run float64, rows int) {
	for k := range rows {
		down := true
		x := start - 2*run + float64(k)*pitch
		drawing := false
		for ; x < h.x1; x, down = x+run, !down {
			a, b := Point{x, top}, Point{x + run, top + thick}
			if !down {
				a.Y, b.Y = b.Y, a.Y
			}
			if b.X <= h.x0 {
				continue
			}
			if !h.rect {
				s.clipSegment(h.field, a, b)
				continue
			}
			p, q, ok := h.clipRectExact(a, b)
			if !ok {
				drawing = false
				continue
			}
			if !drawing {
				s.move(p.X, p.Y)
			}
			s.line(q.X, q.Y)
			drawing = true
		}
	}
}

// turn is one turn of a batt's strand: a circle it goes round.
type turn struct {
	x, y, r float64
	low     bool // at the far face
}

// strand draws turns joined by inner tangents.
func (h *hatcher) strand(s *stroke, turns []turn) {
	var from Point // where the strand touches the turn it comes to
	for i := 0; i+1 < len(turns); i++ {
		a, b := turns[i], turns[i+1]
		d := math.Hypot(b.x-a.x, b.y-a.y)
		lean := math.Asin(min(0.999, (a.r+b.r)/d))
		way := math.Atan2(b.y-a.y, b.x-a.x)
		side := 1.0
		if a.low {
			side = -1
		}
		leave := way + side*(lean-math.Pi/2)
		sin, cos := math.Sincos(leave)
		out := Point{a.x + a.r*cos, a.y + a.r*sin}
		in := Point{b.x - b.r*cos, b.y - b.r*sin}
		// of a turn beyond an end only its tangents show
		if i > 0 && a.x > h.x0 && a.x < h.x1 {
			begin := math.Atan2(from.Y-a.y, from.X-a.x)
			// over the top of a near turn, under a far one
			sweep := math.Mod(leave-begin+4*math.Pi, 2*math.Pi)
			if a.low {
				sweep -= 2 * math.Pi
			}
			h.clip(s, Point{a.x, a.y}, a.r, begin, sweep, from)
		}
		if h.inside(out.X, out.Y) && h.inside(in.X, in.Y) && h.rect && s.endsAt(out) {
			s.line(in.X, in.Y)
		} else {
			s.clipSegment(h.field, out, in)
		}
		from = in
	}
}

// endsAt reports whether the path so far ends at p.
func (s *stroke) endsAt(p Point) bool {
	if len(s.segs) == 0 {
		return false
	}
	q := s.frame.out(p)
	e := &s.segs[len(s.segs)-1]
	const same = 1e-7 // mm: rounding of an angle there and back
	return math.Abs(e.P[0].X-q.X) < same && math.Abs(e.P[0].Y-q.Y) < same
}

// battMargin keeps the strand off the faces, mm.
const battMargin = 0.3

// batt: a strand from face to face the full depth of the cavity: turns of
// radius 0.235 of the depth, at most 3, joined by inner tangents.
func (h *hatcher) batt() {
	n, thick := h.courses()
	s := h.stroke()
	for c := range n {
		top := h.y0 + float64(c)*thick
		margin := min(battMargin, 0.1*thick)
		if thick < thinBatt {
			h.wave(s, top+thick/2, thick/2-margin)
			continue
		}
		r := min(thick*0.235, 3)
		length := h.x1 - h.x0
		count := max(2, int(math.Round(length/(r*1.62)/2))*2)
		pitch := length / float64(count)
		turns := make([]turn, 0, count+4)
		for i := -2; i <= count+1; i++ {
			t := turn{x: h.x0 + (float64(i)+0.5)*pitch, y: top + margin + r, r: r, low: i&1 != 0}
			if t.low {
				t.y = top + thick - margin - r
			}
			turns = append(turns, t)
		}
		h.strand(s, turns)
	}
	h.draw(s, PenHatch, false)
}

// thinBatt is the depth, mm on paper, under which a batt's turns are too
// small to draw: it is a plain wave.
const thinBatt = 2.2

// wave draws arcs by turns above and below y, rise high.
func (h *hatcher) wave(s *stroke, y, rise float64) {
	half := 0.5 * max(1.1, 2.2*rise)
	r := (half*half + rise*rise) / (2 * rise)
	lean := math.Asin(min(1, half/r))
	if rise > half {
		lean = math.Pi - lean
	}
	up := true
	for x := h.x0; x < h.x1; x += 2 * half {
		c, begin, sweep := Point{x + half, y - rise + r}, -math.Pi/2-lean, 2*lean
		if !up {
			c, begin, sweep = Point{x + half, y + rise - r}, math.Pi/2+lean, -2*lean
		}
		h.clip(s, c, r, begin, sweep, Point{x, y})
		up = !up
	}
}

// clip draws an arc that goes on from the path's end where that is from.
func (h *hatcher) clip(s *stroke, c Point, r, begin, sweep float64, from Point) {
	s.clipArc(h.field, c, r, begin, sweep, s.endsAt(from))
}

// looseFill: flecks; packed between two faces an uneven strand too.
func (h *hatcher) looseFill() {
	if !h.opt.Loose && h.open&(SideTop|SideBottom) == 0 && h.y1-h.y0 > 2.5 {
		s := h.stroke()
		thick := h.y1 - h.y0
		base := min(thick*0.225, 2.7)
		var turns []turn
		x := h.x0 - 3*base
		for i := 0; x < h.x1+3*base; i++ {
			t := turn{x: x, r: base * (0.66 + h.random()*0.42), low: i&1 != 0}
			deep := h.random() * h.random() * 0.2 * thick
			t.y = h.y0 + battMargin + t.r + deep
			if t.low {
				t.y = h.y1 - battMargin - t.r - deep
			}
			turns = append(turns, t)
			x += base * (1.5 + h.random()*0.5)
		}
		h.strand(s, turns)
		h.draw(s, PenHatch, false)
		if h.opt.Thumb {
			return
		}
	}
	h.flecks()
}
