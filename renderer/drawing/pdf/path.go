package pdf

import (
	"math"

	"wythe/renderer/drawing"
)

// converter turns segments in mm, y down, into operators in points, y up.
type converter struct {
	buf    []byte
	dx, dy float64 // mm: x' = dx + x, y' = dy - y
	scale  float64 // 1000: three decimals; 100: two, for hatches
}

// scaleOf is that of a path's numbers: hatches are most of a drawing, and
// 0.0035 mm is fine enough for them.
func scaleOf(ink drawing.Ink) float64 {
	if ink == drawing.InkHatch {
		return 100
	}
	return 1000
}

func (c *converter) pair(p drawing.Point) {
	c.buf = append(decimal(c.buf, (c.dx+p.X)*pointsPerMM, c.scale), ' ')
	c.buf = decimal(c.buf, (c.dy-p.Y)*pointsPerMM, c.scale)
}

func (c *converter) point(p drawing.Point, op string) {
	c.pair(p)
	c.buf = append(c.buf, op...)
}

func (c *converter) segs(segs []drawing.Seg) {
	var at, start drawing.Point
	for i := range segs {
		s := &segs[i]
		switch s.Op {
		case drawing.MoveTo:
			at, start = s.P[0], s.P[0]
			c.point(at, " m\n")
		case drawing.Dot:
			at, start = s.P[0], s.P[0]
			c.point(at, " m ")
			c.point(at, " l\n")
		case drawing.LineTo:
			at = s.P[0]
			c.point(at, " l\n")
		case drawing.CurveTo:
			c.curve(s.P[0], s.P[1], s.P[2])
			at = s.P[2]
		case drawing.ArcTo:
			center, r, from, turn := drawing.ArcCenter(at, s)
			c.arc(center, r, from, turn)
			at = s.P[0]
		case drawing.Close:
			c.buf = append(c.buf, "h\n"...)
			at = start
		}
	}
}

func (c *converter) curve(p, q, e drawing.Point) {
	c.point(p, " ")
	c.point(q, " ")
	c.point(e, " c\n")
}

// arc appends an arc of a circle, from where the path stands, as cubics of a
// quarter turn at most.
//
// Method: control points at 4/3·tan(θ/4) of the radius along the tangents;
// the curve leaves the circle by less than 0.03 % of the radius.
func (c *converter) arc(center drawing.Point, r, from, turn float64) {
	n := max(1, int(math.Ceil(math.Abs(turn)/(math.Pi/2)-1e-9)))
	step := turn / float64(n)
	k := 4. / 3 * math.Tan(step/4) * r
	sin, cos := math.Sincos(from)
	for i := range n {
		sin2, cos2 := math.Sincos(from + step*float64(i+1))
		c.curve(
			drawing.Point{X: center.X + r*cos - k*sin, Y: center.Y + r*sin + k*cos},
			drawing.Point{X: center.X + r*cos2 + k*sin2, Y: center.Y + r*sin2 - k*cos2},
			drawing.Point{X: center.X + r*cos2, Y: center.Y + r*sin2})
		sin, cos = sin2, cos2
	}
}
