package svg

import (
	"fmt"
	"math"
	"strconv"

	"wythe/renderer/drawing"
)

// dataWriter writes path data, short: relative commands, repeated letters and
// needless separators left out, circles' and splines' short forms.
//
// Points are rounded where they stand, never step by step, so that errors do
// not add up: each lands within half a unit of its last decimal.
type dataWriter struct {
	buf      []byte
	unit     float64 // units per mm: 100 or 1000
	decimals int
	cur      [2]int // rounded current point
	start    [2]int // of the current stretch
	command  byte   // last command written; 0 none
	dotted   bool   // last number has a decimal point
	bare     bool   // last byte is a command letter
	control  [2]int // last quadratic control, when command is q or t
}

// round panics where a coordinate is no number: a drawing must not hold one.
func (w *dataWriter) round(v float64) int {
	v *= w.unit
	if !(math.Abs(v) < 1e9) {
		panic(fmt.Sprintf("svg: coordinate %v", v/w.unit))
	}
	return int(math.Floor(v + 0.5))
}

func (w *dataWriter) point(p drawing.Point) [2]int { return [2]int{w.round(p.X), w.round(p.Y)} }

func (w *dataWriter) letter(c byte) {
	if c == w.command && c != 'M' && c != 'm' && c != 'z' || c == 'l' && w.command == 'm' {
		w.command = c
		return
	}
	w.buf = append(w.buf, c)
	w.command, w.bare = c, true
}

// num writes a number, parted from the one before by a space only where the
// grammar needs it: not before a minus, nor before a point if the number
// before has one.
func (w *dataWriter) num(v int) {
	scale := 100
	if w.decimals == 3 {
		scale = 1000
	}
	b := w.buf
	fraction := v%scale != 0
	switch {
	case w.bare || v < 0:
	case fraction && v < scale && w.dotted:
	default:
		b = append(b, ' ')
	}
	w.buf = appendFixed(b, v, scale)
	w.dotted, w.bare = fraction, false
}

func (w *dataWriter) pair(p [2]int) {
	w.num(p[0] - w.cur[0])
	w.num(p[1] - w.cur[1])
}

// appendFixed appends v / scale, scale being 100 or 1000, in its shortest form.
func appendFixed(b []byte, v, scale int) []byte {
	if v < 0 {
		b = append(b, '-')
		v = -v
	}
	whole, part := v/scale, v%scale
	switch {
	case whole >= 10:
		b = strconv.AppendInt(b, int64(whole), 10)
	case whole > 0 || part == 0:
		b = append(b, byte('0'+whole))
	}
	if part == 0 {
		return b
	}
	b = append(b, '.')
	for part > 0 {
		scale /= 10
		b = append(b, byte('0'+part/scale))
		part %= scale
	}
	return b
}

// appendNumber appends v, rounded to three decimals, in its shortest form.
func appendNumber(b []byte, v float64) []byte {
	w := dataWriter{unit: 1000}
	return appendFixed(b, w.round(v), 1000)
}

// data appends the path data of segs to buf; decimals is 2 or 3.
func data(buf []byte, segs []drawing.Seg, decimals int) []byte {
	w := dataWriter{buf: buf, decimals: decimals, unit: 100}
	if decimals == 3 {
		w.unit = 1000
	}
	for i := range segs {
		s := &segs[i]
		switch s.Op {
		case drawing.MoveTo:
			p := w.point(s.P[0])
			if w.command == 0 {
				w.letter('M')
				w.num(p[0])
				w.num(p[1])
			} else {
				w.letter('m')
				w.pair(p)
			}
			w.cur, w.start = p, p
		case drawing.Dot:
			p := w.point(s.P[0])
			if w.command == 0 {
				w.letter('M')
				w.num(p[0])
				w.num(p[1])
			} else {
				w.letter('m')
				w.pair(p)
			}
			w.letter('h')
			w.num(0)
			w.cur, w.start = p, p
		case drawing.LineTo:
			p := w.point(s.P[0])
			switch {
			case p[1] == w.cur[1]:
				w.letter('h')
				w.num(p[0] - w.cur[0])
			case p[0] == w.cur[0]:
				w.letter('v')
				w.num(p[1] - w.cur[1])
			default:
				w.letter('l')
				w.pair(p)
			}
			w.cur = p
		case drawing.CurveTo:
			w.curve(s, before(segs, i))
		case drawing.ArcTo:
			w.arc(s)
		case drawing.Close:
			w.letter('z')
			w.cur = w.start
		}
	}
	return w.buf
}

// before is the point where segs[i] starts.
func before(segs []drawing.Seg, i int) drawing.Point {
	switch s := &segs[i-1]; s.Op {
	case drawing.CurveTo:
		return s.P[2]
	case drawing.Close:
		for j := i - 1; ; j-- {
			if segs[j].Op == drawing.MoveTo || segs[j].Op == drawing.Dot {
				return segs[j].P[0]
			}
		}
	default:
		return s.P[0]
	}
}

// curve writes a cubic, as the quadratic it was raised from where it was one.
func (w *dataWriter) curve(s *drawing.Seg, from drawing.Point) {
	c, d, e := s.P[0], s.P[1], s.P[2]
	// a quadratic with control q has c = from + 2/3 (q - from), d = e + 2/3 (q - e)
	q := drawing.Point{X: (3*c.X - from.X) / 2, Y: (3*c.Y - from.Y) / 2}
	end := w.point(e)
	const same = 1e-6 // mm: far under the last decimal, far over rounding in floats
	if math.Abs((3*d.X-e.X)/2-q.X) < same && math.Abs((3*d.Y-e.Y)/2-q.Y) < same {
		control := w.point(q)
		smooth := w.command == 'q' || w.command == 't'
		if smooth && control == [2]int{2*w.cur[0] - w.control[0], 2*w.cur[1] - w.control[1]} {
			w.letter('t')
		} else {
			w.letter('q')
			w.pair(control)
		}
		w.pair(end)
		w.control, w.cur = control, end
		return
	}
	w.letter('c')
	w.pair(w.point(c))
	w.pair(w.point(d))
	w.pair(end)
	w.cur = end
}

func (w *dataWriter) arc(s *drawing.Seg) {
	end := w.point(s.P[0])
	w.letter('a')
	r := w.round(s.R)
	w.num(r)
	w.num(r)
	w.num(0)
	w.flag(s.Large)
	w.flag(s.Sweep)
	w.pair(end)
	w.cur = end
}

// flag writes 0 or 1, which the grammar lets stand against what follows.
func (w *dataWriter) flag(on bool) {
	b := byte('0')
	if on {
		b = '1'
	}
	if !w.bare {
		w.buf = append(w.buf, ' ')
	}
	w.buf = append(w.buf, b)
	w.dotted, w.bare = false, true
}
