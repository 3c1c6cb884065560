package drawing

import (
	"math"
	"slices"
	"sync"
)

// A tile is a square of hatch that repeats without a seam, made once a
// process: throwing darts for every region would cost more than the rest of a
// drawing. Regions cut their part out of the plane it covers, at a place that
// their seed decides.
const tileSide = 42.0 // mm at grain 1: more than most layers are thick

// dart is one point of the dart tile.
type dart struct {
	x, y  float64
	reach float64 // mm: it keeps this from all darts of equal or longer reach
	turn  float64 // 0–1, at random
	gap   int16   // 1 + index of the aggregate that would cover it; 0 none
}

// aggregate is one stone of the concrete tile.
type aggregate struct {
	x, y   float64
	corner [3]Point // about the center
	size   float64  // of the circle about it that holds the corners
}

// dartTile holds darts thrown with falling reach: those of reach r and more
// are evenly spread r apart, for any r from dartFar down to dartNear. So one
// tile serves every spacing, and spacings that change over a region.
type dartTile struct {
	bands [][]dart // by y, each by x, turn about
	rocks []aggregate
}

const (
	tileBands = 35
	bandHigh  = tileSide / tileBands
	dartFar   = 1.42
	dartNear  = 0.58
	rockApart = 5.6
	rockClear = 1.3 // mm from a rock's center without dots
)

var darts = sync.OnceValue(throwDarts)

// sequence is a deterministic source for tiles.
type sequence uint64

func (s *sequence) next() float64 {
	*s += 0x9E3779B97F4A7C15
	return float64(mix(uint64(*s))>>11) / (1 << 53)
}

// wrapped is the distance from one point of the tile to another, the short
// way round, squared.
func wrapped(dx, dy float64) float64 {
	dx, dy = math.Abs(dx), math.Abs(dy)
	dx, dy = min(dx, tileSide-dx), min(dy, tileSide-dy)
	return dx*dx + dy*dy
}

func throwDarts() *dartTile {
	t := new(dartTile)
	rnd := sequence(1)
	for tries := 0; tries < 3000; tries++ {
		x, y := rnd.next()*tileSide, rnd.next()*tileSide
		if slices.ContainsFunc(t.rocks, func(r aggregate) bool { return wrapped(r.x-x, r.y-y) < rockApart*rockApart }) {
			continue
		}
		r := aggregate{x: x, y: y}
		turn, size, squash := rnd.next()*2*math.Pi, 0.75+rnd.next()*0.45, 0.75+rnd.next()*0.5
		for i := range r.corner {
			a := turn + float64(i)*2*math.Pi/3
			r.corner[i] = Point{size * math.Cos(a+rnd.next()*0.5), size * squash * math.Sin(a+rnd.next()*0.3)}
		}
		for _, c := range r.corner {
			r.size = max(r.size, math.Hypot(c.X, c.Y)+0.1)
		}
		t.rocks = append(t.rocks, r)
	}
	var grid dartGrid
	for reach := dartFar; reach >= dartNear; reach *= 0.95 {
		for tries := 0; tries < 9000; tries++ {
			d := dart{x: rnd.next() * tileSide, y: rnd.next() * tileSide, reach: reach, turn: rnd.next()}
			ci, cj := int(d.x/dartCell), int(d.y/dartCell)
			if grid.hit(ci, cj, &d) {
				continue
			}
			for i, r := range t.rocks {
				if wrapped(r.x-d.x, r.y-d.y) < rockClear*rockClear {
					d.gap = int16(i + 1)
				}
			}
			grid[ci][cj] = append(grid[ci][cj], d)
		}
	}
	t.bands = make([][]dart, tileBands)
	for i := range grid {
		for j := range grid[i] {
			for _, d := range grid[i][j] {
				b := int(d.y / bandHigh)
				t.bands[b] = append(t.bands[b], d)
			}
		}
	}
	for i := range t.bands {
		sortBand(t.bands[i], i)
	}
	return t
}

// dartGrid holds darts by cells of the longest reach, so that whatever a dart
// hits is in its own cell or one of the eight about it.
type dartGrid [dartCells][dartCells][]dart

const (
	dartCells = 29 // tileSide / dartFar, rounded down
	dartCell  = tileSide / dartCells
)

func (g *dartGrid) hit(ci, cj int, d *dart) bool {
	for i := ci + dartCells - 1; i <= ci+dartCells+1; i++ {
		for j := cj + dartCells - 1; j <= cj+dartCells+1; j++ {
			for k := range g[i%dartCells][j%dartCells] {
				o := &g[i%dartCells][j%dartCells][k]
				if wrapped(o.x-d.x, o.y-d.y) < d.reach*d.reach {
					return true
				}
			}
		}
	}
	return false
}

// sortBand sorts a band of a tile along x, every other band backwards, so
// that a path through the tile takes short steps.
func sortBand[T placed](band []T, number int) {
	slices.SortFunc(band, func(a, b T) int {
		ax, _ := a.at()
		bx, _ := b.at()
		if number&1 == 1 {
			ax, bx = bx, ax
		}
		switch {
		case ax < bx:
			return -1
		case ax > bx:
			return 1
		}
		return 0
	})
}

// placed is a thing that has a place in a tile.
type placed interface{ at() (x, y float64) }

func (d dart) at() (x, y float64)      { return d.x, d.y }
func (r aggregate) at() (x, y float64) { return r.x, r.y }

// tiling is a tile laid over a field: scaled, and moved to a place that the
// seed decides, in steps of 0.1 mm so that what is drawn can be written short.
type tiling struct {
	scale  float64 // mm on paper per mm of the tile
	period float64 // mm on paper
	ox, oy float64
}

// tenth rounds to the 0.1 mm grid of tiles.
func tenth(v float64) float64 { return math.Floor(v*10+0.5) / 10 }

func (h *hatcher) tiling(scale float64) tiling {
	period := tenth(tileSide * scale)
	return tiling{period / tileSide, period, tenth(h.random() * period), tenth(h.random() * period)}
}

// window is a stretch of a field along x, drawn once and then again moved.
type window struct {
	from, to float64
	again    int
}

// windows splits a long rectangular field so that its middle is drawn once
// and repeated: it must be clear of sides that change the hatch, by margin
// from a face and by 1 mm from a cut. Other fields are one window.
func (h *hatcher) windows(into []window, period, margin float64) []window {
	if h.rect {
		a, b := h.x0+margin, h.x1-margin
		if h.open&SideLeft != 0 {
			a = h.x0 + 2
		}
		if h.open&SideRight != 0 {
			b = h.x1 - 2
		}
		if n := int((b - a) / period); n >= 2 {
			end := a + period*float64(n)
			return append(into, window{math.Inf(-1), a, 0}, window{a, a + period, n - 1}, window{end, math.Inf(1), 0})
		}
	}
	return append(into, window{math.Inf(-1), math.Inf(1), 0})
}

// again has p repeat w's stretch.
func (h *hatcher) again(p *Path, w window, period float64) {
	for i := range w.again {
		shift := float64(i+1) * period
		if h.frame.swap {
			p.Again = append(p.Again, Point{0, shift})
		} else {
			p.Again = append(p.Again, Point{shift, 0})
		}
	}
}

// eachPlaced calls do with all things of a tile that stand in the window and
// within extra mm of the field's bounds.
func eachPlaced[T placed](h *hatcher, t tiling, w window, bands [][]T, extra float64, do func(x, y float64, thing *T)) {
	x0, x1 := max(w.from, h.x0-extra), min(w.to, h.x1+extra)
	y0, y1 := h.y0-extra, h.y1+extra
	high := t.period / float64(len(bands))
	first := int(math.Floor((y0 - t.oy) / high))
	last := int(math.Floor((y1 - t.oy) / high))
	left := int(math.Floor((x0 - t.ox) / t.period))
	right := int(math.Floor((x1 - t.ox) / t.period))
	for n := first; n <= last; n++ {
		copyY := int(math.Floor(float64(n) / float64(len(bands))))
		number := n - copyY*len(bands)
		band := bands[number]
		oy := t.oy + float64(copyY)*t.period
		for i := left; i <= right; i++ {
			c := i
			if number&1 == 1 {
				c = left + right - i
			}
			ox := t.ox + float64(c)*t.period
			for k := range band {
				bx, by := band[k].at()
				x, y := tenth(ox+bx*t.scale), tenth(oy+by*t.scale)
				if x >= x0 && x < x1 && y >= y0 && y <= y1 {
					do(x, y, &band[k])
				}
			}
		}
	}
}
