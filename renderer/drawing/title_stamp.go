package drawing

import (
	"math"
	"sync"
)

// stampWords are printed across what is not issued.
var stampWords = [...]string{"NOT FOR CONSTRUCTION", "NOT FOR", "CONSTRUCTION"}

// stampLetter is the single stroke of a capital: heights are 0 at the base
// line and -1 at the top, widths in the same measure.
type stampLetter struct {
	sign  byte
	width float64
	segs  []Seg
}

func penTo(op Op, p ...Point) Seg {
	s := Seg{Op: op}
	copy(s.P[:], p)
	return s
}

func bowTo(r float64, sweep bool, end Point) Seg {
	return Seg{Op: ArcTo, R: r, Sweep: sweep, P: [3]Point{end}}
}

var stampLetters = []stampLetter{
	{'C', .62, []Seg{penTo(MoveTo, Point{.61, -.815}), bowTo(.32, false, Point{0, -.68}), penTo(LineTo, Point{0, -.32}), bowTo(.32, false, Point{.61, -.185})}},
	{'F', .54, []Seg{penTo(MoveTo, Point{0, 0}), penTo(LineTo, Point{0, -1}), penTo(LineTo, Point{.54, -1}), penTo(MoveTo, Point{0, -.53}), penTo(LineTo, Point{.46, -.53})}},
	{'I', 0, []Seg{penTo(MoveTo, Point{0, 0}), penTo(LineTo, Point{0, -1})}},
	{'N', .62, []Seg{penTo(MoveTo, Point{0, 0}), penTo(LineTo, Point{0, -1}), penTo(LineTo, Point{.62, 0}), penTo(LineTo, Point{.62, -1})}},
	{'O', .64, []Seg{penTo(MoveTo, Point{0, -.32}), penTo(LineTo, Point{0, -.68}), bowTo(.32, true, Point{.64, -.68}), penTo(LineTo, Point{.64, -.32}), bowTo(.32, true, Point{0, -.32}), penTo(Close)}},
	{'R', .6, []Seg{penTo(MoveTo, Point{0, 0}), penTo(LineTo, Point{0, -1}), penTo(LineTo, Point{.33, -1}), bowTo(.27, true, Point{.33, -.46}), penTo(LineTo, Point{0, -.46}), penTo(MoveTo, Point{.31, -.46}), penTo(LineTo, Point{.6, 0})}},
	{'S', .6, []Seg{
		penTo(MoveTo, Point{.56, -.84}), penTo(CurveTo, Point{.5, -.95}, Point{.41, -1}, Point{.3, -1}),
		penTo(CurveTo, Point{.13, -1}, Point{.03, -.89}, Point{.03, -.75}), penTo(CurveTo, Point{.03, -.42}, Point{.59, -.6}, Point{.59, -.27}),
		penTo(CurveTo, Point{.59, -.1}, Point{.47, 0}, Point{.3, 0}), penTo(CurveTo, Point{.17, 0}, Point{.07, -.06}, Point{.01, -.18}),
	}},
	{'T', .6, []Seg{penTo(MoveTo, Point{0, -1}), penTo(LineTo, Point{.6, -1}), penTo(MoveTo, Point{.3, -1}), penTo(LineTo, Point{.3, 0})}},
	{'U', .62, []Seg{penTo(MoveTo, Point{0, -1}), penTo(LineTo, Point{0, -.31}), bowTo(.31, false, Point{.62, -.31}), penTo(LineTo, Point{.62, -1})}},
}

const (
	stampStroke   = 0.17 // of the letters' height
	stampApart    = 0.30
	stampSpace    = 0.55
	stampPitch    = 1.55
	stampSlant    = 16 * math.Pi / 180
	stampLargest  = 8.0 // mm, height of the letters
	stampReadable = 4.0 // mm; smaller letters are set on two lines
	stampOpen     = 2.8 // mm; smaller letters are solid
	stampPen      = 0.3 // mm, of an open letter's outline
)

// NotForConstruction prints these words across a drawing in open letters, on
// a slant, so that what they lie on can still be read: as large as the box
// about center allows, on two lines where one would be small.
func (d *Draft) NotForConstruction(center Point, width, height float64) {
	key := stampKey{lines: 1}
	size, angle := stampFit(width, height, stampWidth(stampWords[0]), 1)
	if size < stampReadable {
		if s, a := stampFit(width, height, stampWidth(stampWords[2]), 2); s > size {
			size, angle, key.lines = s, a, 2
		}
	}
	// By tenths of a millimetre and whole degrees: so that the letters of one
	// drawing serve many.
	key.size, key.angle = math.Floor(size*10)/10, math.Floor(angle*180/math.Pi)
	segs := stampSegs(key)
	if len(segs) == 0 {
		return
	}
	d.Open(Tag{Kind: "stamp"})
	d.open[len(d.open)-1].Shift = center
	pen := key.size * stampStroke
	if key.size < stampOpen {
		d.path(Tag{}, Stroke{Pen: Pen(pen + 0.6), Ink: InkPaper, Round: true}, InkNone, segs)
		d.path(Tag{}, Stroke{Pen: Pen(pen * 0.8), Ink: InkMark, Round: true}, InkNone, segs)
	} else {
		d.path(Tag{}, Stroke{Pen: Pen(pen + stampPen), Ink: InkMark, Round: true}, InkNone, segs)
		d.path(Tag{}, Stroke{Pen: Pen(pen - stampPen), Ink: InkPaper, Round: true}, InkNone, segs)
	}
	d.Close()
}

// stampKey is all that sets one stamp's letters apart from another's.
type stampKey struct {
	lines       int
	size, angle float64 // mm, degrees
}

// stamps keeps the letters of stamps drawn, about their center; they are
// never changed.
var stamps sync.Map // stampKey to []Seg

func stampSegs(key stampKey) []Seg {
	if segs, ok := stamps.Load(key); ok {
		return segs.([]Seg)
	}
	lines := stampWords[:1]
	if key.lines == 2 {
		lines = stampWords[1:]
	}
	var segs []Seg
	for i, s := range lines {
		base := key.size/2 + (float64(i)-float64(len(lines)-1)/2)*key.size*stampPitch
		segs = stampLine(segs, key.size, key.angle*math.Pi/180, base, s)
	}
	if key.size <= 0 {
		segs = nil
	}
	stamps.Store(key, segs)
	return segs
}

func letterOf(sign byte) *stampLetter {
	for i := range stampLetters {
		if stampLetters[i].sign == sign {
			return &stampLetters[i]
		}
	}
	panic("drawing: no letter for a stamp")
}

// stampWidth is in parts of the letters' height.
func stampWidth(s string) float64 {
	w := -stampApart
	for i := range len(s) {
		if s[i] == ' ' {
			w += stampSpace
		} else {
			w += letterOf(s[i]).width + stampApart
		}
	}
	return w
}

// stampFit is the height and the angle at which n lines fit a box.
func stampFit(width, height, run float64, n int) (size, angle float64) {
	angle = min(stampSlant, math.Atan2(height*0.6, width))
	sin, cos := math.Sincos(angle)
	run += stampStroke
	tall := 1 + stampStroke + float64(n-1)*stampPitch
	return min(stampLargest, width*0.96/(run*cos+tall*sin), height*0.96/(run*sin+tall*cos)), angle
}

// stampLine appends a line's letters, set about the origin with the base line
// that far below it, all turned.
func stampLine(segs []Seg, size, angle, base float64, words string) []Seg {
	sin, cos := math.Sincos(angle)
	x := -stampWidth(words) * size / 2
	for i := range len(words) {
		if words[i] == ' ' {
			x += stampSpace * size
			continue
		}
		l := letterOf(words[i])
		for _, g := range l.segs {
			for k := range g.P {
				px, py := x+g.P[k].X*size, base+g.P[k].Y*size
				g.P[k] = Point{px*cos + py*sin, py*cos - px*sin}
			}
			g.R *= size
			segs = append(segs, g)
		}
		x += (l.width + stampApart) * size
	}
	return segs
}
