package geometry

import "math"

// grid is a uniform grid over a box; each cell lists what passes it.
type grid struct {
	box    Box
	nx, ny int
	cell   float64 // edge of a cell, µm
	start  []int32 // per cell, into items; one more than cells
	items  []int32
}

// newGrid lays a grid of about n/2 square cells over the box.
func newGrid(box Box, n int) *grid {
	w, h := float64(box.Width())+2, float64(box.Height())+2
	cells := math.Max(1, float64(n)/2)
	side := math.Sqrt(w * h / cells)
	side = math.Max(side, math.Max(w, h)/1024)
	g := &grid{box: box, cell: side}
	g.nx = int(w/side) + 1
	g.ny = int(h/side) + 1
	return g
}

func (g *grid) column(x float64) int {
	return min(max(int((x-float64(g.box.Min.X)+1)/g.cell), 0), g.nx-1)
}

func (g *grid) row(y float64) int {
	return min(max(int((y-float64(g.box.Min.Y)+1)/g.cell), 0), g.ny-1)
}

// margin is how far, in µm, a segment reaches beyond itself into cells: more
// than half a pixel and the float error of a place on it (below 1e-6 µm).
const margin = 2

// walk calls f with each cell the segment passes or nearly passes.
func (g *grid) walk(a, b Point, f func(cell int)) {
	if a.X > b.X {
		a, b = b, a
	}
	ax, ay := float64(a.X), float64(a.Y)
	dx, dy := float64(b.X-a.X), float64(b.Y-a.Y)
	c0, c1 := g.column(ax-margin), g.column(ax+dx+margin)
	if c0 == c1 || dy == 0 {
		r0, r1 := g.row(math.Min(ay, ay+dy)-margin), g.row(math.Max(ay, ay+dy)+margin)
		for r := r0; r <= r1; r++ {
			for c := c0; c <= c1; c++ {
				f(r*g.nx + c)
			}
		}
		return
	}
	for c := c0; c <= c1; c++ {
		left := float64(g.box.Min.X) - 1 + float64(c)*g.cell - margin
		right := left + g.cell + 2*margin
		var y0, y1 float64
		if dx == 0 {
			y0, y1 = ay, ay+dy
		} else {
			t0 := math.Min(1, math.Max(0, (left-ax)/dx))
			t1 := math.Min(1, math.Max(0, (right-ax)/dx))
			y0, y1 = ay+t0*dy, ay+t1*dy
		}
		r0, r1 := g.row(math.Min(y0, y1)-margin), g.row(math.Max(y0, y1)+margin)
		for r := r0; r <= r1; r++ {
			f(r*g.nx + c)
		}
	}
}

// fill lists every segment in the cells it passes.
func (g *grid) fill(n int, segment func(i int) (a, b Point)) {
	g.start = make([]int32, g.nx*g.ny+1)
	cells := make([]int32, 0, 4*n)
	ends := make([]int32, n)
	for i := range n {
		a, b := segment(i)
		g.walk(a, b, func(c int) {
			cells = append(cells, int32(c))
			g.start[c+1]++
		})
		ends[i] = int32(len(cells))
	}
	for c := 1; c < len(g.start); c++ {
		g.start[c] += g.start[c-1]
	}
	g.items = make([]int32, len(cells))
	at := make([]int32, g.nx*g.ny)
	copy(at, g.start)
	k := int32(0)
	for i := range n {
		for ; k < ends[i]; k++ {
			c := cells[k]
			g.items[at[c]] = int32(i)
			at[c]++
		}
	}
}

// in returns what passes a cell.
func (g *grid) in(cell int) []int32 { return g.items[g.start[cell]:g.start[cell+1]] }
