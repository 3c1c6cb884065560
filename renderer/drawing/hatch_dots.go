package drawing

import "math"

// concrete: dots, close at a face and thinning out inside; open triangles of
// aggregate, clear of faces.
func (h *hatcher) concrete() { h.aggregate() }

// reinforced concrete: concrete, with single lines at 45° far apart.
func (h *hatcher) reinforced() {
	s := h.stroke()
	s.clipLines(h.field, h.lineAngle(45), 5.6*h.g, h.random()*5.6, func(a, b Point, _ int) { s.segment(a, b) })
	h.draw(s, PenHatch, false)
	h.aggregate()
}

func (h *hatcher) aggregate() {
	tile := darts()
	t := h.tiling(h.g)
	k := t.scale
	// an aggregate is drawn where it lies wholly inside, clear of faces
	rock := func(x, y float64, r *aggregate) bool {
		if !h.disc(x, y, r.size*k) {
			return false
		}
		face, _ := h.reach(x, y)
		return face > max(1.35, r.size+0.5)*k
	}
	least := 0.0
	if h.opt.Thumb {
		least = 1.05
	}
	for _, w := range h.windows(nil, t.period, 5*k) {
		rocks, dots := h.stroke(), h.stroke()
		eachPlaced(h, t, w, [][]aggregate{tile.rocks}, 0, func(x, y float64, r *aggregate) {
			if !rock(x, y, r) {
				return
			}
			rocks.move(tenth(x+r.corner[0].X*k), tenth(y+r.corner[0].Y*k))
			rocks.line(tenth(x+r.corner[1].X*k), tenth(y+r.corner[1].Y*k))
			rocks.line(tenth(x+r.corner[2].X*k), tenth(y+r.corner[2].Y*k))
			rocks.segs = append(rocks.segs, Seg{Op: Close})
		})
		eachPlaced(h, t, w, tile.bands, 0, func(x, y float64, d *dart) {
			if h.edges != nil && !h.inside(x, y) {
				return
			}
			face, any := h.reach(x, y)
			if any < 0.3 || d.reach < max(least, 0.62+min(0.8, 0.17*face/k)) {
				return
			}
			if d.gap > 0 {
				r := &tile.rocks[d.gap-1]
				if rock(x+shortWay(r.x-d.x)*k, y+shortWay(r.y-d.y)*k, r) {
					return
				}
			}
			dots.dot(x, y)
		})
		if p := h.draw(dots, PenDot, true); p != nil {
			h.again(p, w, t.period)
		}
		if p := h.draw(rocks, PenHatch, false); p != nil {
			h.again(p, w, t.period)
		}
	}
}

// shortWay is the distance v the short way round the tile.
func shortWay(v float64) float64 { return v - tileSide*math.Round(v/tileSide) }

// gypsum: the finest dots, close.
func (h *hatcher) gypsum() { h.even(PenFineDot, 1, 0.24, dartNear, dartNear) }

// plaster and mortar: fine dots, mortar's wider apart.
func (h *hatcher) plaster() { h.even(PenFineDot, 1.2, 0.24, dartNear, dartNear) }
func (h *hatcher) mortar()  { h.even(PenFineDot, 1.15, 0.24, 0.68, 0.9) }

// sand: dots, denser at the edges.
func (h *hatcher) sand() { h.even(PenDot, 1, 0.3, 0.72, 1.0) }

// even draws dots about apart[0] at a face and apart[1] well inside, margin mm
// clear of all edges, in a tile of scale times the grain.
func (h *hatcher) even(pen Pen, scale, margin, faceApart, insideApart float64) {
	tile := darts()
	t := h.tiling(scale * h.g)
	if h.opt.Thumb {
		faceApart, insideApart = max(faceApart, 0.95), max(insideApart, 1.05)
	}
	margin = min(margin, 0.45*(h.y1-h.y0))
	for _, w := range h.windows(nil, t.period, 5*t.scale) {
		dots := h.stroke()
		eachPlaced(h, t, w, tile.bands, 0, func(x, y float64, d *dart) {
			if h.edges != nil && !h.inside(x, y) {
				return
			}
			face, any := h.reach(x, y)
			if any >= margin && d.reach >= faceApart+(insideApart-faceApart)*min(1, face/(4*t.scale)) {
				dots.dot(x, y)
			}
		})
		if p := h.draw(dots, pen, true); p != nil {
			h.again(p, w, t.period)
		}
	}
}

// fiberBoard: short dashes along the layer.
func (h *hatcher) fiberBoard() {
	tile := darts()
	t := h.tiling(h.g)
	need := 0.95
	if h.opt.Thumb {
		need = 1.3
	}
	for _, w := range h.windows(nil, t.period, 3*t.scale) {
		s := h.stroke()
		eachPlaced(h, t, w, tile.bands, 0, func(x, y float64, d *dart) {
			if d.reach < need || h.edges != nil && !h.inside(x, y) {
				return
			}
			if _, any := h.reach(x, y); any < min(0.3, 0.3*(h.y1-h.y0)) {
				return
			}
			l, k := tenth((0.5+d.turn*0.5)*h.g), tenth((d.turn*7-math.Floor(d.turn*7)-0.5)*0.5*h.g)/2
			a, b := Point{x - l, y - k}, Point{x + l, y + k}
			s.clipSegment(h.field, a, b)
		})
		if p := h.draw(s, PenHatch, false); p != nil {
			h.again(p, w, t.period)
		}
	}
}

// flecks: short bent strokes, thrown about 1.5 apart.
func (h *hatcher) flecks() {
	tile := darts()
	apart := 1.5
	if h.opt.Thumb {
		apart = 2.2
	}
	t := h.tiling(apart / dartFar * h.g)
	for _, w := range h.windows(nil, t.period, 3*t.scale) {
		s := h.stroke()
		eachPlaced(h, t, w, tile.bands, 0, func(x, y float64, d *dart) {
			if d.reach < dartFar*0.999 {
				return
			}
			a := d.turn * 2 * math.Pi
			l := (0.45 + 0.4*(d.turn*13-math.Floor(d.turn*13))) * h.g
			sin, cos := math.Sincos(a)
			p := Point{x + tenth(l*cos), y + tenth(l*sin)}
			sin, cos = math.Sincos(a + 0.9)
			q := Point{p.X + tenth(0.6*l*cos), p.Y + tenth(0.6*l*sin)}
			if h.disc(x, y, 0.2) && h.disc(p.X, p.Y, 0.2) && h.disc(q.X, q.Y, 0.2) {
				s.move(x, y)
				s.line(p.X, p.Y)
				s.line(q.X, q.Y)
			}
		})
		if p := h.draw(s, PenHatch, true); p != nil {
			h.again(p, w, t.period)
		}
	}
}
