package sheet

import (
	"math"

	"wythe/renderer/drawing"
)

// moved is a piece of a line set off from where it ran.
type moved struct {
	a, b   drawing.Point
	u      drawing.Point // direction
	length float64
	off    float64
}

// parallel moves each piece of a line to its left by its own distance, mm,
// and joins the pieces where their lines meet. A piece so short that its
// neighbours pass each other on that side is left out; a corner that would
// run far past the line is cut off square.
func parallel(pts []drawing.Point, left []float64) []drawing.Point {
	flat := true
	for _, v := range left {
		flat = flat && v == 0
	}
	if flat || len(pts) < 2 {
		return pts
	}
	pieces := make([]moved, 0, len(left))
	for i, v := range left {
		a, b := pts[i], pts[i+1]
		l := math.Hypot(b.X-a.X, b.Y-a.Y)
		if l < 1e-6 {
			continue
		}
		// Paper's y runs down: the left hand of a→b is (dy, −dx).
		u := drawing.Point{X: (b.X - a.X) / l, Y: (b.Y - a.Y) / l}
		nx, ny := u.Y*v, -u.X*v
		pieces = append(pieces, moved{drawing.Point{X: a.X + nx, Y: a.Y + ny}, drawing.Point{X: b.X + nx, Y: b.Y + ny}, u, l, math.Abs(v)})
	}
	if len(pieces) == 0 {
		return pts
	}
	// Each piece in turn: from where it leaves the one before to where it
	// meets the next. One that would run backwards is taken out.
	starts, ends := make([]drawing.Point, len(pieces)), make([]drawing.Point, len(pieces))
	for {
		n := len(pieces)
		starts, ends = starts[:n], ends[:n]
		starts[0], ends[n-1] = pieces[0].a, pieces[n-1].b
		for i := 0; i+1 < n; i++ {
			ends[i], starts[i+1] = meet(&pieces[i], &pieces[i+1])
		}
		worst := -1
		for i := range pieces {
			if dx, dy := ends[i].X-starts[i].X, ends[i].Y-starts[i].Y; dx*pieces[i].u.X+dy*pieces[i].u.Y < -1e-9 && (worst < 0 || pieces[i].length < pieces[worst].length) {
				worst = i
			}
		}
		if worst < 0 || n < 3 {
			break
		}
		pieces = append(pieces[:worst], pieces[worst+1:]...)
	}
	out := make([]drawing.Point, 0, 2*len(pieces))
	add := func(p drawing.Point) {
		if n := len(out); n == 0 || math.Hypot(out[n-1].X-p.X, out[n-1].Y-p.Y) > 1e-6 {
			out = append(out, p)
		}
	}
	for i := range pieces {
		add(starts[i])
		add(ends[i])
	}
	return unlooped(out)
}

// loopMost is the length of a loop that is taken for one of a corner's, mm.
const loopMost = 14.0

// unlooped cuts off the small loops that a line set off from its corners
// makes.
func unlooped(pts []drawing.Point) []drawing.Point {
	for i := 0; i+3 < len(pts); i++ {
		length := 0.0
		for k := i + 2; k+1 < len(pts); k++ {
			length += math.Hypot(pts[k].X-pts[k-1].X, pts[k].Y-pts[k-1].Y)
			if length > loopMost {
				break
			}
			if x, ok := crossAt(pts[i], pts[i+1], pts[k], pts[k+1]); ok {
				pts = append(append(append([]drawing.Point(nil), pts[:i+1]...), x), pts[k+1:]...)
				break
			}
		}
	}
	return pts
}

// crossAt is where two segments cross within both.
func crossAt(a, b, c, d drawing.Point) (drawing.Point, bool) {
	ux, uy, vx, vy := b.X-a.X, b.Y-a.Y, d.X-c.X, d.Y-c.Y
	den := ux*vy - uy*vx
	if math.Abs(den) < 1e-9 {
		return drawing.Point{}, false
	}
	t, s := ((c.X-a.X)*vy-(c.Y-a.Y)*vx)/den, ((c.X-a.X)*uy-(c.Y-a.Y)*ux)/den
	if t <= 0 || t >= 1 || s <= 0 || s >= 1 {
		return drawing.Point{}, false
	}
	return drawing.Point{X: a.X + t*ux, Y: a.Y + t*uy}, true
}

// meet is where the lines of two pieces cross: the end of one and the start of
// the other, one place unless they are parallel or cross too far away.
func meet(p, q *moved) (drawing.Point, drawing.Point) {
	den := p.u.X*q.u.Y - p.u.Y*q.u.X
	if math.Abs(den) < 1e-6 {
		return p.b, q.a
	}
	t := ((q.a.X-p.a.X)*q.u.Y - (q.a.Y-p.a.Y)*q.u.X) / den
	x := drawing.Point{X: p.a.X + t*p.u.X, Y: p.a.Y + t*p.u.Y}
	if most := 3 * (p.off + q.off + 0.5); math.Hypot(x.X-p.b.X, x.Y-p.b.Y) > most {
		return p.b, q.a
	}
	return x, x
}
