package binder

import (
	"math"
	"slices"
	"strconv"

	"wythe/renderer/drawing"
)

// overlap is what two sheets of one drawing share, mm.
const overlap = 24.0

// split sets a drawing on as many sheets as it needs, and returns the last
// with the areas left on it.
func (w *work) split(d *drawing.Drawing) (*leaf, []area) {
	f := w.field
	count := func(length, room float64) int {
		if length <= room {
			return 1
		}
		return int(math.Ceil((length-overlap)/(room-overlap) - 1e-9))
	}
	nx, ny := count(d.Width, f.width), count(d.Height, f.height)
	// All pieces are of one size.
	f.width = (d.Width + overlap*float64(nx-1)) / float64(nx)
	f.height = (d.Height + overlap*float64(ny-1)) / float64(ny)
	plain, stamped := unstamped(d)
	at := func(ix, iy int) drawing.Point {
		return drawing.Point{X: f.x - float64(ix)*(f.width-overlap), Y: f.y - float64(iy)*(f.height-overlap)}
	}
	t := tiles{nx: nx, ny: ny, sheet: make([]int, nx*ny)}
	sheets := 0
	for k := range t.sheet {
		from := at(k%nx, k/nx)
		x, y := f.x-from.X, f.y-from.Y
		var window drawing.Box
		window.Add(x, y)
		window.Add(x+f.width, y+f.height)
		if drawing.Reaches(&plain.Root, window) {
			sheets++
			t.sheet[k] = sheets
		}
	}
	for k, sheet := range t.sheet {
		if sheet == 0 {
			continue // nothing is drawn there
		}
		l, _ := w.leaf()
		if stamped {
			w.stamp(l)
		}
		window := f
		l.placed = append(l.placed, placed{d: plain, at: at(k%nx, k/nx), window: &window})
		t.matches(l.draft, window, k%nx, k/nx)
	}
	last := w.leaves[len(w.leaves)-1]
	return last, w.left(last, f.width, f.y+f.height)
}

// unstamped returns a drawing without the stamp across it, which each of its
// pieces bears whole, and whether it had one.
func unstamped(d *drawing.Drawing) (*drawing.Drawing, bool) {
	plain := *d
	plain.Root.Nodes = slices.DeleteFunc(slices.Clone(d.Root.Nodes), func(n drawing.Node) bool {
		g, ok := n.(*drawing.Group)
		return ok && g.Tag.Kind == "stamp"
	})
	return &plain, len(plain.Root.Nodes) < len(d.Root.Nodes)
}

// tiles are the pieces of a drawing: the sheet of each among its own, from 1;
// 0 where nothing is drawn.
type tiles struct {
	nx, ny int
	sheet  []int
}

var styleMatch = &drawing.Style{Face: drawing.Lettering, Weight: 600, Size: 2.4, Ink: drawing.InkLine}

// matches draws the match lines of piece ix, iy: in the middle of what it
// shares with its neighbours.
func (t *tiles) matches(d *drawing.Draft, f area, ix, iy int) {
	stroke := drawing.Stroke{Pen: drawing.PenTick, Ink: drawing.InkLine, Dash: []float64{9, 1.6, 1.6, 1.6}}
	say := func(sheet int) string { return "MATCH LINE: SEE SHEET " + strconv.Itoa(sheet) }
	beside := func(x, y int) int {
		if x < 0 || x >= t.nx || y < 0 || y >= t.ny {
			return 0
		}
		return t.sheet[y*t.nx+x]
	}
	// The words stand along their lines, clear of the corners where two cross.
	upright := func(x float64, to int) {
		d.Line(drawing.Tag{Kind: "match"}, stroke, drawing.Point{X: x, Y: f.y}, drawing.Point{X: x, Y: f.y + f.height})
		turned := *styleMatch
		turned.Turn = 90
		d.Cased(drawing.Tag{Kind: "match"}, &turned, 1.2, drawing.Point{X: x - 1, Y: f.y + f.height/2}, drawing.Middle, say(to))
	}
	level := func(y float64, to int) {
		d.Line(drawing.Tag{Kind: "match"}, stroke, drawing.Point{X: f.x, Y: y}, drawing.Point{X: f.x + f.width, Y: y})
		d.Cased(drawing.Tag{Kind: "match"}, styleMatch, 1.2, drawing.Point{X: f.x + f.width/2, Y: y - 1}, drawing.Middle, say(to))
	}
	if to := beside(ix-1, iy); to > 0 {
		upright(f.x+overlap/2, to)
	}
	if to := beside(ix+1, iy); to > 0 {
		upright(f.x+f.width-overlap/2, to)
	}
	if to := beside(ix, iy-1); to > 0 {
		level(f.y+overlap/2, to)
	}
	if to := beside(ix, iy+1); to > 0 {
		level(f.y+f.height-overlap/2, to)
	}
}
