package drawing

import "math"

// Sizes of revision clouds, mm: common practice.
const (
	cloudCell  = 2.1 // half a chord: of the grid that a cloud's border runs along
	cloudReach = 2.4 // from what changed to its cloud
	cloudChord = 4.2 // of a scallop
	deltaSide  = 8.0 // of the triangle that bears the revision's letter
)

var styleDelta = &Style{Face: Lettering, Weight: 600, Size: 3, Ink: InkMark}

// Clouds draws a scalloped line round each cluster of areas that changed, and
// by each a delta, the triangle that bears the letter of the revision that
// changed them. All of it stays on a sheet of a size, mm.
func (d *Draft) Clouds(areas []Box, width, height float64, rev string) {
	if len(areas) == 0 {
		return
	}
	g := newCloudGrid(areas, width, height)
	for _, border := range g.borders() {
		d.Open(Tag{Kind: "cloud"})
		d.Add(scalloped(border))
		d.delta(border, width, rev)
		d.Close()
	}
}

// cloudGrid is what of a sheet is clouded, cell by cell, with a row of empty
// cells round it.
type cloudGrid struct {
	columns, rows int
	in            []bool
}

func newCloudGrid(areas []Box, width, height float64) *cloudGrid {
	g := &cloudGrid{columns: int(width/cloudCell) + 1, rows: int(height/cloudCell) + 1}
	g.in = make([]bool, g.columns*g.rows)
	cell := func(v float64, n int) int { return min(max(int(math.Floor(v/cloudCell)), 1), n-2) }
	for _, a := range areas {
		for y := cell(a.Min.Y-cloudReach, g.rows); y <= cell(a.Max.Y+cloudReach, g.rows); y++ {
			for x := cell(a.Min.X-cloudReach, g.columns); x <= cell(a.Max.X+cloudReach, g.columns); x++ {
				g.in[y*g.columns+x] = true
			}
		}
	}
	g.close()
	return g
}

// close clouds what is narrower than a scallop between clouded cells: what
// comes within it is grown by a scallop's chord, and shrunk by it again.
func (g *cloudGrid) close() {
	const by = int(cloudChord / cloudCell)
	for _, grow := range [...]bool{true, false} {
		was := append([]bool(nil), g.in...)
		for y := range g.rows {
			for x := range g.columns {
				if was[y*g.columns+x] == grow {
					continue
				}
				for ny := max(y-by, 0); ny <= min(y+by, g.rows-1); ny++ {
					for nx := max(x-by, 0); nx <= min(x+by, g.columns-1); nx++ {
						if was[ny*g.columns+nx] == grow {
							g.in[y*g.columns+x] = grow
						}
					}
				}
			}
		}
	}
	for y := range g.rows {
		for x := range g.columns { // a scallop has to stay on the sheet
			if x == 0 || y == 0 || x == g.columns-1 || y == g.rows-1 {
				g.in[y*g.columns+x] = false
			}
		}
	}
}

func (g *cloudGrid) has(x, y int) bool {
	return x >= 0 && y >= 0 && x < g.columns && y < g.rows && g.in[y*g.columns+x]
}

// borders are the outer borders of the clouded cells, turning with the clock,
// from the top of each; what a border encloses is all clouded. Cells that touch
// at a corner share a border.
func (g *cloudGrid) borders() [][]Point {
	steps := [4][2]int{{1, 0}, {0, 1}, {-1, 0}, {0, -1}} // right, down, left, up
	// ahead says whether a border leaves a corner of the grid in a direction:
	// clouded on the right hand, clear on the left.
	ahead := func(x, y, dir int) bool {
		right := [4][2]int{{0, 0}, {-1, 0}, {-1, -1}, {0, -1}}[dir]
		left := [4][2]int{{0, -1}, {0, 0}, {-1, 0}, {-1, -1}}[dir]
		return g.has(x+right[0], y+right[1]) && !g.has(x+left[0], y+left[1])
	}
	var list [][]Point
	done := make([]bool, len(g.in)) // tops of cells that a border ran along
	for y := range g.rows {
		for x := range g.columns {
			if done[y*g.columns+x] || !ahead(x, y, 0) {
				continue
			}
			var border []Point
			area := 0
			for cx, cy, dir := x, y, 0; ; {
				if dir == 0 {
					done[cy*g.columns+cx] = true
				}
				border = append(border, Point{float64(cx) * cloudCell, float64(cy) * cloudCell})
				nx, ny := cx+steps[dir][0], cy+steps[dir][1]
				area += cx*ny - nx*cy
				cx, cy = nx, ny
				if cx == x && cy == y {
					break
				}
				// Left first: cells that touch at a corner stay together.
				for _, turn := range [...]int{3, 0, 1} {
					if next := (dir + turn) % 4; ahead(cx, cy, next) {
						dir = next
						break
					}
				}
			}
			if area > 0 { // else it is the border of a clear place within
				list = append(list, border)
			}
		}
	}
	return list
}

// scalloped is a closed run of arcs along a border, each bulging outwards.
// Every corner of the border is one of the cloud, or is less than a scallop
// from one.
func scalloped(border []Point) *Path {
	p := &Path{Stroke: Stroke{Pen: PenTick, Ink: InkMark, Round: true}}
	n := max(4, int(math.Round(float64(len(border))*cloudCell/cloudChord)))
	at := func(i int) Point { return border[i%n*len(border)/n] }
	p.Move(at(0).X, at(0).Y)
	for i := range n {
		from, to := at(i), at(i+1)
		p.Arc(math.Hypot(to.X-from.X, to.Y-from.Y)*0.56, false, true, to)
	}
	return p.Shut()
}

// delta stands astride a cloud's upper right corner.
func (d *Draft) delta(border []Point, width float64, rev string) {
	high := deltaSide * math.Sqrt(3) / 2
	corner := border[0]
	for _, p := range border {
		if p.X-p.Y > corner.X-corner.Y {
			corner = p
		}
	}
	x, base := min(corner.X+1, width-deltaSide/2-0.5), max(corner.Y+0.3*high, high+0.5)
	d.Shape(Tag{}, Stroke{Pen: PenTick, Ink: InkMark, Round: true}, InkPaper,
		Point{X: x - deltaSide/2, Y: base}, Point{X: x, Y: base - high}, Point{X: x + deltaSide/2, Y: base})
	st := *styleDelta
	if w := st.Width(rev); w > deltaSide*0.42 {
		st.Size *= deltaSide * 0.42 / w
	}
	d.Letter(Tag{}, &st, Point{X: x, Y: base - 1.2}, Middle, rev)
}
