package drawing

import (
	"math"
	"sync"
)

// pebble is one stone of the stone tile.
type pebble struct {
	x, y, r float64
	shape   uint8
}

func (p pebble) at() (x, y float64) { return p.x, p.y }

// Sizes of washed stone, mm at grain 1.
const (
	pebbleLargest = 2.0
	pebbleLeast   = 0.45
	pebbleApart   = 0.02 // between the circles that hold two pebbles
	// pebbleClear keeps a pebble's circle off the region's edges, mm on paper:
	// rounding carries a corner of its outline out by 0.7 - 0.25 of a step of
	// 0.2 at most.
	pebbleClear = 0.1
)

// pebbleShapes are outlines for pebbles of radius 1: the corners of a control
// polygon whose smooth curve stays in the unit circle. The first half serves
// large stones, the second small ones.
type pebbleShapes [32][]Point

var (
	pebbles = sync.OnceValue(packPebbles)
	shapes  = sync.OnceValue(shapePebbles)
)

func shapePebbles() *pebbleShapes {
	s := new(pebbleShapes)
	rnd := sequence(7)
	for i := range s {
		n := 7
		if i >= len(s)/2 {
			n = 5
		}
		// a quadratic spline touches the middles of its control polygon's
		// sides and passes (1 + cos²)/2 of the way to its corners
		cos := math.Cos(math.Pi / float64(n))
		out := 2 / (1 + cos*cos)
		turn, flat, tilt := rnd.next()*2*math.Pi, 0.86+0.14*rnd.next(), rnd.next()*math.Pi
		st, ct := math.Sincos(tilt)
		pts := make([]Point, n)
		for k := range pts {
			a := turn + (float64(k)+0.5*(rnd.next()-0.5))*2*math.Pi/float64(n)
			r := out * (0.9 + 0.1*rnd.next())
			sin, c := math.Sincos(a)
			u, v := r*c, r*sin*flat
			pts[k] = Point{u*ct - v*st, u*st + v*ct}
		}
		s[i] = pts
	}
	return s
}

// packPebbles fills the tile with circles from the largest down, each as
// large as its turn allows and clear of all others.
func packPebbles() [][]pebble {
	rnd := sequence(3)
	const cells = 10 // of more than two largest radii
	const cell = tileSide / cells
	var grid [cells][cells][]pebble
	throw := func(tries int, least, most float64) {
		for range tries {
			p := pebble{x: rnd.next() * tileSide, y: rnd.next() * tileSide, r: most}
			ci, cj := int(p.x/cell), int(p.y/cell)
			for i := ci + cells - 1; i <= ci+cells+1 && p.r >= least; i++ {
				for j := cj + cells - 1; j <= cj+cells+1 && p.r >= least; j++ {
					for _, o := range grid[i%cells][j%cells] {
						p.r = min(p.r, math.Sqrt(wrapped(o.x-p.x, o.y-p.y))-o.r-pebbleApart)
					}
				}
			}
			if p.r < least {
				continue
			}
			half := uint8(len(pebbleShapes{}) / 2)
			p.shape = uint8(rnd.next() * float64(half))
			if p.r < 0.85 {
				p.shape += half
			}
			grid[ci][cj] = append(grid[ci][cj], p)
		}
	}
	for _, size := range [...]struct {
		tries       int
		least, most float64
	}{{9000, 1.68, pebbleLargest}, {12000, 1.08, 1.48}, {18000, 0.68, 0.97}, {26000, pebbleLeast, 0.6}} {
		throw(size.tries, size.least, size.most)
	}
	const bandsN = 16
	bands := make([][]pebble, bandsN)
	for i := range grid {
		for j := range grid[i] {
			for _, p := range grid[i][j] {
				b := int(p.y / (tileSide / bandsN))
				bands[b] = append(bands[b], p)
			}
		}
	}
	for i := range bands {
		sortBand(bands[i], i)
	}
	return bands
}

// washedStone: packed pebbles, whole at faces, clipped at cuts. A pebble that
// a face would cut makes way for a smaller one that touches the face within
// the same circle, so that the packing has no holes.
func (h *hatcher) washedStone() {
	t := h.tiling(h.g)
	k := t.scale
	bands := pebbles()
	least := pebbleLeast * k * 0.8
	if h.opt.Thumb {
		least = 0.62
	}
	for _, w := range h.windows(nil, t.period, 2*pebbleLargest*k) {
		s := h.stroke()
		eachPlaced(h, t, w, bands, pebbleLargest*k, func(x, y float64, p *pebble) {
			r := p.r * k
			if r < least {
				return
			}
			if h.disc(x, y, r+pebbleClear) {
				s.pebble(x, y, r, p.shape, h.opt.Thumb)
				return
			}
			if h.edges != nil && !h.inside(x, y) {
				if _, any := h.reach(x, y); any >= r {
					return
				}
			}
			x, y, r = h.pushIn(x, y, r)
			if r < least {
				return
			}
			if h.disc(x, y, r+pebbleClear-1e-9) {
				shape := p.shape
				if half := uint8(len(pebbleShapes{}) / 2); r < 0.85*k && shape < half {
					shape += half
				}
				s.pebble(x, y, r, shape, h.opt.Thumb)
			} else {
				s.cutPebble(h.field, x, y, r, p.shape)
			}
		})
		if p := h.draw(s, PenHatch, false); p != nil {
			h.again(p, w, t.period)
		}
	}
}

// pushIn returns the largest circle within a circle that no face cuts, or one
// too small; cuts it may cross.
func (h *hatcher) pushIn(x, y, r float64) (float64, float64, float64) {
	const clear = pebbleClear
	if h.rect {
		side := func(open bool, depth float64) (shift float64) {
			if open || depth >= r+clear {
				return 0
			}
			own := (r + depth - clear) / 2
			shift = own + clear - depth
			r = own
			return shift
		}
		x += side(h.open&SideLeft != 0, x-h.x0)
		x -= side(h.open&SideRight != 0, h.x1-x)
		y += side(h.open&SideTop != 0, y-h.y0)
		y -= side(h.open&SideBottom != 0, h.y1-y)
		return x, y, r
	}
	for range 3 {
		worst, wx, wy, found := r+clear, 0.0, 0.0, false
		in := h.inside(x, y)
		for i := range h.edges {
			e := &h.edges[i]
			if e.open {
				continue
			}
			dx, dy := e.b.X-e.a.X, e.b.Y-e.a.Y
			u := min(max(((x-e.a.X)*dx+(y-e.a.Y)*dy)/(dx*dx+dy*dy), 0), 1)
			fx, fy := x-e.a.X-u*dx, y-e.a.Y-u*dy
			depth := math.Hypot(fx, fy)
			if depth == 0 {
				continue
			}
			away := depth
			if !in {
				depth, fx, fy = -depth, -fx, -fy
			}
			if depth < worst && math.Abs(depth) < r+clear {
				worst, wx, wy, found = depth, fx/away, fy/away, true
			}
		}
		if !found {
			return x, y, r
		}
		own := (r + worst - clear) / 2
		if own <= 0 {
			return x, y, 0
		}
		shift := own + clear - worst
		x, y, r = x+wx*shift, y+wy*shift, own
	}
	if face, _ := h.reach(x, y); face < r {
		return x, y, 0
	}
	return x, y, r
}

// corners returns the control polygon of a pebble, rounded so that its curve
// can be written short: every corner an even step from every other, so that
// the middles between them are whole steps. Small pebbles need finer steps,
// unless they are to be coarse.
func corners(into []Point, x, y, r float64, shape uint8, coarse bool) []Point {
	step := 0.2
	if r < 0.95 && !coarse {
		step = 0.1
	}
	r -= 0.25 * step // rounding may carry a corner outwards
	for _, c := range shapes()[shape] {
		into = append(into, Point{x + step*math.Round(c.X*r/step), y + step*math.Round(c.Y*r/step)})
	}
	return into
}

// pebble draws a smooth closed curve in the circle about (x, y).
func (s *stroke) pebble(x, y, r float64, shape uint8, coarse bool) {
	var few [8]Point
	c := corners(few[:0], x, y, r, shape, coarse)
	for i := range c {
		c[i] = s.frame.out(c[i])
	}
	n := len(c)
	from := Point{(c[n-1].X + c[0].X) / 2, (c[n-1].Y + c[0].Y) / 2}
	s.segs = append(s.segs, Seg{Op: MoveTo, P: [3]Point{from}})
	for i := range c {
		next := c[(i+1)%n]
		end := Point{(c[i].X + next.X) / 2, (c[i].Y + next.Y) / 2}
		s.segs = append(s.segs, Seg{Op: CurveTo, P: [3]Point{
			{from.X + 2*(c[i].X-from.X)/3, from.Y + 2*(c[i].Y-from.Y)/3},
			{end.X + 2*(c[i].X-end.X)/3, end.Y + 2*(c[i].Y-end.Y)/3},
			end,
		}})
		from = end
	}
	s.segs = append(s.segs, Seg{Op: Close})
}

// cutPebble draws what of a pebble lies in d, as short lines.
func (s *stroke) cutPebble(d *field, x, y, r float64, shape uint8) {
	var few [8]Point
	c := corners(few[:0], x, y, r, shape, false)
	n := len(c)
	var line, ring [40]Point
	pts := line[:0]
	from := Point{(c[n-1].X + c[0].X) / 2, (c[n-1].Y + c[0].Y) / 2}
	pts = append(pts, from)
	for i := range c {
		next := c[(i+1)%n]
		end := Point{(c[i].X + next.X) / 2, (c[i].Y + next.Y) / 2}
		const steps = 4
		for k := 1; k <= steps; k++ {
			t := float64(k) / steps
			a, b, e := (1-t)*(1-t), 2*t*(1-t), t*t
			pts = append(pts, Point{a*from.X + b*c[i].X + e*end.X, a*from.Y + b*c[i].Y + e*end.Y})
		}
		from = end
	}
	// start where the curve is inside or outside for good, so that no piece
	// is split: at a point outside if there is one
	for i, p := range pts[:len(pts)-1] {
		if !d.inside(p.X, p.Y) {
			pts = append(append(ring[:0], pts[i:len(pts)-1]...), pts[:i+1]...)
			break
		}
	}
	s.clipPolyline(d, pts)
}
