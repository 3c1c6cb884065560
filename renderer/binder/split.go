package binder

import (
	"math"
	"strconv"

	"wythe/renderer/drawing"
)

const (
	overlap   = 24.0 // that two sheets of one drawing share, mm
	matchRoom = 5.0  // for the words at a match line
)

// split sets a drawing on as many sheets as it needs.
func (w *work) split(d *drawing.Drawing) {
	f := w.field
	f.y += matchRoom
	f.height -= 2 * matchRoom
	f.x += matchRoom
	f.width -= 2 * matchRoom
	count := func(length, room float64) int {
		if length <= room {
			return 1
		}
		return int(math.Ceil((length-overlap)/(room-overlap) - 1e-9))
	}
	nx, ny := count(d.Width, f.width), count(d.Height, f.height)
	for iy := range ny {
		for ix := range nx {
			l, _ := w.leaf()
			window := f
			window.width, window.height = min(f.width, d.Width), min(f.height, d.Height)
			at := drawing.Point{X: f.x - float64(ix)*(f.width-overlap), Y: f.y - float64(iy)*(f.height-overlap)}
			// The last piece ends where the drawing does.
			window.width = min(window.width, at.X+d.Width-f.x)
			window.height = min(window.height, at.Y+d.Height-f.y)
			l.placed = append(l.placed, placed{d: d, at: at, window: &window})
			w.matches(l.draft, window, ix, iy, nx, ny)
		}
	}
}

// matches draws the match lines of piece ix, iy: in the middle of what it
// shares with its neighbours.
func (w *work) matches(d *drawing.Draft, f area, ix, iy, nx, ny int) {
	stroke := drawing.Stroke{Pen: drawing.PenTick, Ink: drawing.InkLine, Dash: []float64{9, 1.6, 1.6, 1.6}}
	say := func(x, y int) string { return "MATCH LINE: SEE SHEET " + strconv.Itoa(y*nx+x+1) }
	// The words run away from the corner that the line is near.
	upright := func(x float64, to int) {
		d.Line(drawing.Tag{Kind: "match"}, stroke, drawing.Point{X: x, Y: f.y - 2}, drawing.Point{X: x, Y: f.y + f.height + 2})
		anchor := drawing.Start
		if to > ix {
			anchor = drawing.End
		}
		d.Letter(drawing.Tag{Kind: "match"}, styleHead, drawing.Point{X: x, Y: f.y - 2.8}, anchor, say(to, iy))
	}
	level := func(y float64, to int) {
		d.Line(drawing.Tag{Kind: "match"}, stroke, drawing.Point{X: f.x - 2, Y: y}, drawing.Point{X: f.x + f.width + 2, Y: y})
		turned, anchor := *styleHead, drawing.End
		turned.Turn = 90
		if to > iy {
			anchor = drawing.Start
		}
		d.Letter(drawing.Tag{Kind: "match"}, &turned, drawing.Point{X: f.x - 2.8, Y: y}, anchor, say(ix, to))
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
