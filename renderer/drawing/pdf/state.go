package pdf

import (
	"math"
	"strconv"

	"wythe/renderer/drawing"
	"wythe/themes/fonts"
)

// state is what of a page's graphics state is known, so that operators that
// change nothing are left out.
type state struct {
	font         fontState
	stroke, fill drawing.Ink // InkNone: not known
	pen          float64
	round        bool
	dash         []float64
	tracking     float64
}

type fontState struct {
	family fonts.Family
	cut    int
	size   float64
	set    bool
}

// colours are the inks on paper, as operands: red, green and blue, 0 to 1.
var colours = [...]string{
	drawing.InkLine: rgb(0x14, 0x19, 0x1c), drawing.InkHatch: rgb(0x14, 0x19, 0x1c), drawing.InkSecond: rgb(0x4a, 0x54, 0x5a),
	drawing.InkHair: rgb(0xc5, 0xcc, 0xce), drawing.InkMark: rgb(0xad, 0x1d, 0x2b), drawing.InkPaper: "1 1 1",
	drawing.InkShade + drawing.Shades: "",
}

func init() {
	for k := range drawing.Shades + 1 {
		colours[drawing.InkShade+drawing.Ink(k)] = rgb(drawing.ShadeOnPaper(k))
	}
}

func rgb(r, g, b int) string {
	s := ""
	for i, v := range [...]int{r, g, b} {
		if i > 0 {
			s += " "
		}
		s += strconv.FormatFloat(math.Round(float64(v)/255*1000)/1000, 'f', -1, 64)
	}
	return s
}

// save and restore keep the graphics state; what was known is known again.
func (b *Book) save() state {
	b.buf = append(b.buf, "q\n"...)
	return b.state
}

func (b *Book) restore(s state) {
	b.buf = append(b.buf, "Q\n"...)
	b.state = s
}

func (b *Book) setFill(ink drawing.Ink) {
	if b.state.fill != ink {
		b.state.fill = ink
		b.buf = append(append(b.buf, colours[ink]...), " rg\n"...)
	}
}

func (b *Book) setStroke(s *drawing.Stroke) {
	st := &b.state
	if st.stroke != s.Ink {
		st.stroke = s.Ink
		b.buf = append(append(b.buf, colours[s.Ink]...), " RG\n"...)
	}
	if st.pen != float64(s.Pen) {
		st.pen = float64(s.Pen)
		b.buf = append(number(b.buf, st.pen*pointsPerMM), " w\n"...)
	}
	if st.round != s.Round {
		st.round = s.Round
		if s.Round {
			b.buf = append(b.buf, "1 J\n"...)
		} else {
			b.buf = append(b.buf, "0 J\n"...)
		}
	}
	if !sameDash(st.dash, s.Dash) {
		st.dash = s.Dash
		b.buf = append(b.buf, '[')
		for _, d := range s.Dash {
			b.buf = append(number(b.buf, d*pointsPerMM), ' ')
		}
		b.buf = append(b.buf, "] 0 d\n"...)
	}
}

func sameDash(a, b []float64) bool {
	if len(a) != len(b) {
		return false
	}
	for i := range a {
		if a[i] != b[i] {
			return false
		}
	}
	return true
}

// move appends the matrix of a shift, mm.
func (b *Book) move(p drawing.Point) {
	b.buf = append(b.buf, "1 0 0 1 "...)
	b.buf = append(number(b.buf, p.X*pointsPerMM), ' ')
	b.buf = append(number(b.buf, -p.Y*pointsPerMM), " cm\n"...)
}

// number appends v to three decimals, in its shortest form. It panics where v
// is no number: a drawing must not hold one.
func number(dst []byte, v float64) []byte { return decimal(dst, v, 1000) }

// decimal appends v to the decimals of a scale of 100 or 1000.
func decimal(dst []byte, v, scale float64) []byte {
	if !(math.Abs(v) < 1e9) {
		panic("pdf: a coordinate is no number")
	}
	n, unit := int64(math.Floor(v*scale+0.5)), int64(scale)
	if n < 0 {
		dst = append(dst, '-')
		n = -n
	}
	dst = strconv.AppendInt(dst, n/unit, 10)
	n %= unit
	if n == 0 {
		return dst
	}
	dst = append(dst, '.')
	for n > 0 {
		unit /= 10
		dst = append(dst, byte('0'+n/unit))
		n %= unit
	}
	return dst
}
