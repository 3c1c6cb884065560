package binder

import (
	"math"
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
	for iy := range ny {
		for ix := range nx {
			l, _ := w.leaf()
			window := f
			at := drawing.Point{X: f.x - float64(ix)*(f.width-overlap), Y: f.y - float64(iy)*(f.height-overlap)}
			l.placed = append(l.placed, placed{d: d, at: at, window: &window})
			w.matches(l.draft, window, ix, iy, nx, ny)
		}
	}
	return w.leaves[len(w.leaves)-1], w.left(f.width, f.y+f.height)
}

var styleMatch = &drawing.Style{Face: drawing.Lettering, Weight: 600, Size: 2.4, Ink: drawing.InkLine}

// matches draws the match lines of piece ix, iy: in the middle of what it
// shares with its neighbours.
func (w *work) matches(d *drawing.Draft, f area, ix, iy, nx, ny int) {
	stroke := drawing.Stroke{Pen: drawing.PenTick, Ink: drawing.InkLine, Dash: []float64{9, 1.6, 1.6, 1.6}}
	say := func(x, y int) string { return "MATCH LINE: SEE SHEET " + strconv.Itoa(y*nx+x+1) }
	// The words stand along their lines, clear of the corners where two cross.
	upright := func(x float64, to int) {
		d.Line(drawing.Tag{Kind: "match"}, stroke, drawing.Point{X: x, Y: f.y}, drawing.Point{X: x, Y: f.y + f.height})
		turned := *styleMatch
		turned.Turn = 90
		d.Cased(drawing.Tag{Kind: "match"}, &turned, 1.2, drawing.Point{X: x - 1, Y: f.y + f.height/2}, drawing.Middle, say(to, iy))
	}
	level := func(y float64, to int) {
		d.Line(drawing.Tag{Kind: "match"}, stroke, drawing.Point{X: f.x, Y: y}, drawing.Point{X: f.x + f.width, Y: y})
		d.Cased(drawing.Tag{Kind: "match"}, styleMatch, 1.2, drawing.Point{X: f.x + f.width/2, Y: y - 1}, drawing.Middle, say(ix, to))
	}
	if ix > 0 {
		upright(f.x+overlap/2, ix-1)
	}
	if ix < nx-1 {
		upright(f.x+f.width-overlap/2, ix+1)
	}
	if iy > 0 {
		level(f.y+overlap/2, iy-1)
	}
	if iy < ny-1 {
		level(f.y+f.height-overlap/2, iy+1)
	}
}
