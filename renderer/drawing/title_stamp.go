package drawing

import (
	"fmt"
	"math"
	"strings"
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
// what they lie on can still be read: as large as the box about the center
// allows, on two lines where one would be small; and under them a smaller
// line. Letters outside ASCII are left out.
func (d *Draft) Stamp(center Point, width, height float64, words, under string) {
	stampFace.once.Do(stampFace.load)
	lines := [3]string{words, under}
	n := 1
	size, angle := stampFit(width, height, stampWidth(words), n)
	if i := strings.LastIndexByte(words, ' '); i > 0 && size < stampReadable {
		s, a := stampFit(width, height, max(stampWidth(words[:i]), stampWidth(words[i+1:])), 2)
		if s > size {
			size, angle, n = s, a, 2
			lines = [3]string{words[:i], words[i+1:], under}
		}
	}
	d.Open(Tag{Kind: "stamp"})
	pitch := size * stampPitch
	up := float64(n-1) / 2 * pitch
	if under != "" {
		up += pitch * 0.3
	}
	for i, s := range lines {
		if s == "" {
			continue
		}
		line := size
		if i == n {
			line = min(size*0.55, size*stampWidth(words)/stampWidth(s))
			up += pitch * 0.2
		}
		d.stampLine(center, line, angle, up, s)
		up -= pitch
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
	stampPitch    = 1.15
	stampSlant    = 16 * math.Pi / 180
	stampLargest  = 11.0 // mm
	stampReadable = 5.5  // mm; smaller letters are set on two lines
	stampOpen     = 4.0  // mm; smaller letters are solid
)

// stampFit is the size and the angle at which n lines fit a box.
func stampFit(width, height, run float64, n int) (size, angle float64) {
	angle = min(stampSlant, math.Atan2(height*0.6, width))
	sin, cos := math.Sincos(angle)
	tall := 0.75 + float64(n-1)*stampPitch
	size = min(stampLargest, width*0.96/(run*cos+tall*sin), height*0.96/(run*sin+tall*cos))
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
	if size < stampOpen {
		d.path(Tag{}, Stroke{Pen: 2 * stampPen, Ink: InkPaper, Round: true}, InkNone, segs)
		d.path(Tag{}, Stroke{}, InkMark, segs)
		return
	}
	// The faces' strokes overlap within a letter: the fill hides their lines.
	d.path(Tag{}, Stroke{Pen: 4 * stampPen, Ink: InkPaper, Round: true}, InkNone, segs)
	d.path(Tag{}, Stroke{Pen: 2 * stampPen, Ink: InkMark, Round: true}, InkNone, segs)
	d.path(Tag{}, Stroke{}, InkPaper, segs)
}

const stampPen Pen = 0.3
