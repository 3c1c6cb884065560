package drawing

import (
	"fmt"
	"math"
	"sync"

	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"

	"wythe/themes/fonts"
)

// stampLetters are the outlines of capitals and the space, in 1/1000 of the
// type size, y down from the base line.
type stampLetters struct {
	once    sync.Once
	outline [128][]Seg
	advance [128]float64
}

var stampFace stampLetters

func (s *stampLetters) load() {
	f, err := sfnt.Parse(fonts.TTF(fonts.NationalPark, 700))
	if err != nil {
		panic(fmt.Sprintf("drawing: embedded lettering: %v", err))
	}
	var buf sfnt.Buffer
	for r := rune(' '); r < 127; r++ {
		g, err := f.GlyphIndex(&buf, r)
		if err != nil || g == 0 {
			continue
		}
		s.advance[r] = Measure(Lettering, 700, 1000, string(r))
		segments, err := f.LoadGlyph(&buf, g, fixed.I(unitsPerEm), nil)
		if err != nil {
			panic(fmt.Sprintf("drawing: outline of %q: %v", r, err))
		}
		at := func(p fixed.Point26_6) Point { return Point{float64(p.X) / 64, float64(p.Y) / 64} }
		var out []Seg
		var from Point
		for _, c := range segments {
			seg := Seg{}
			switch c.Op {
			case sfnt.SegmentOpMoveTo:
				if len(out) > 0 {
					out = append(out, Seg{Op: Close})
				}
				seg.Op, seg.P[0] = MoveTo, at(c.Args[0])
				from = seg.P[0]
			case sfnt.SegmentOpLineTo:
				seg.Op, seg.P[0] = LineTo, at(c.Args[0])
				from = seg.P[0]
			case sfnt.SegmentOpQuadTo:
				q, e := at(c.Args[0]), at(c.Args[1])
				seg.Op = CurveTo
				seg.P = [3]Point{
					{from.X + (q.X-from.X)*2/3, from.Y + (q.Y-from.Y)*2/3},
					{e.X + (q.X-e.X)*2/3, e.Y + (q.Y-e.Y)*2/3}, e,
				}
				from = e
			case sfnt.SegmentOpCubeTo:
				seg.Op = CurveTo
				seg.P = [3]Point{at(c.Args[0]), at(c.Args[1]), at(c.Args[2])}
				from = seg.P[2]
			}
			out = append(out, seg)
		}
		if len(out) > 0 {
			out = append(out, Seg{Op: Close})
		}
		s.outline[r] = out
	}
}

// Stamp prints words across a drawing in open letters, on a slant, so that
// what they lie on can still be read: the first line as large as the room
// allows, the second half as large. Letters outside ASCII are left out.
func (d *Draft) Stamp(center Point, width, height float64, words, under string) {
	stampFace.once.Do(stampFace.load)
	size, angle := stampFit(width, height, stampWidth(words))
	d.Open(Tag{Kind: "stamp"})
	up := 0.0
	if under != "" {
		up = size * 0.35
	}
	d.stampLine(center, size, angle, up, words)
	if under != "" {
		small := min(size*0.55, size*stampWidth(words)/max(stampWidth(under), 1))
		d.stampLine(center, small, angle, -size*0.75, under)
	}
	d.Close()
}

// stampWidth is in parts of the size.
func stampWidth(s string) float64 {
	w := 0.0
	for _, r := range s {
		if r < 128 {
			w += stampFace.advance[r]/unitsPerEm + stampTracking
		}
	}
	return w
}

const (
	stampTracking = 0.08
	stampSlant    = 16 * math.Pi / 180
	stampLargest  = 11.0 // mm
)

// stampFit is the size and the angle at which a line fits a box.
func stampFit(width, height, run float64) (size, angle float64) {
	angle = min(stampSlant, math.Atan2(height*0.6, width))
	size = stampLargest
	sin, cos := math.Sincos(angle)
	size = min(size, width*0.96/(run*cos+0.75*sin), height*0.96/(run*sin+0.75*cos))
	return size, angle
}

func (d *Draft) stampLine(center Point, size, angle, up float64, words string) {
	sin, cos := math.Sincos(angle)
	k := size / unitsPerEm
	n := 0
	for _, r := range words {
		if r < 128 {
			n += len(stampFace.outline[r])
		}
	}
	segs := d.seg(n)[:0]
	x := -stampWidth(words) * size / 2
	base := size*0.36 - up
	for _, r := range words {
		if r >= 128 {
			continue
		}
		for _, g := range stampFace.outline[r] {
			for i := range g.P {
				px, py := x+g.P[i].X*k, base+g.P[i].Y*k
				g.P[i] = Point{center.X + px*cos + py*sin, center.Y - px*sin + py*cos}
			}
			segs = append(segs, g)
		}
		x += (stampFace.advance[r]/unitsPerEm + stampTracking) * size
	}
	d.path(Tag{}, Stroke{Pen: stampPen * 3.4, Ink: InkPaper, Round: true}, InkNone, segs)
	d.path(Tag{}, Stroke{Pen: stampPen, Ink: InkMark, Round: true}, InkNone, segs)
}

const stampPen = PenTick
