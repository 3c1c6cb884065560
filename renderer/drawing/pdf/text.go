package pdf

import (
	"math"
	"strings"
	"unicode/utf16"

	"wythe/renderer/drawing"
)

// text sets one line: its casing of paper under it, then its letters.
func (b *Book) text(t *drawing.Text, at drawing.Point) {
	if t.Text == "" {
		return
	}
	b.runs = t.Runs(b.runs[:0])
	x := 0.0
	switch t.Anchor {
	case drawing.Middle:
		x = -t.Width() / 2
	case drawing.End:
		x = -t.Width()
	}
	from := drawing.Point{X: at.X + t.At.X + x, Y: at.Y + t.At.Y}
	was := b.state
	if t.Turn != 0 {
		was = b.save()
		b.turn(t.Turn, drawing.Point{X: at.X + t.At.X, Y: at.Y + t.At.Y})
		from = drawing.Point{X: x, Y: b.height()}
	}
	if t.Casing > 0 {
		// The casing is no text: whoever reads or copies finds it empty.
		b.buf = append(b.buf, "/Span <</ActualText <FEFF>>> BDC\n1 Tr\n"...)
		b.setStroke(&drawing.Stroke{Pen: drawing.Pen(t.Casing), Ink: drawing.InkPaper})
		b.letters(t, from)
		b.buf = append(b.buf, "0 Tr\nEMC\n"...)
	}
	b.setFill(max(t.Ink, drawing.InkLine))
	apart := len(b.runs) > 1
	if apart {
		b.buf = append(b.buf, "/Span <</ActualText <FEFF"...)
		b.buf = hex(b.buf, plain(t.Text))
		b.buf = append(b.buf, ">>> BDC\n"...)
	}
	b.letters(t, from)
	if apart {
		b.buf = append(b.buf, "EMC\n"...)
	}
	if t.Turn != 0 {
		b.restore(was)
	}
}

// letters sets the runs of a text that starts at a point of the page.
func (b *Book) letters(t *drawing.Text, from drawing.Point) {
	for i := range b.runs {
		r := &b.runs[i]
		tracking := 0.0
		if r.Size == t.Size {
			tracking = t.Tracking
		}
		if b.state.tracking != tracking {
			b.state.tracking = tracking
			b.buf = append(number(b.buf, tracking*pointsPerMM), " Tc\n"...)
		}
		b.font(r.Family, r.Weight, r.Size)
		b.flush()
		b.f.Text(from.X+r.X, b.theirs(from.Y-r.Rise), plain(r.Text))
	}
}

// turn moves the page's bottom left to a point and turns it, degrees
// counter-clockwise.
func (b *Book) turn(degrees float64, at drawing.Point) {
	sin, cos := math.Sincos(degrees * math.Pi / 180)
	for _, v := range [...]float64{cos, sin, -sin, cos} {
		b.buf = append(fine(b.buf, v), ' ')
	}
	b.buf = append(number(b.buf, at.X*pointsPerMM), ' ')
	b.buf = append(number(b.buf, (b.height()-at.Y)*pointsPerMM), " cm\n"...)
}

// fine appends a sine to six decimals.
func fine(dst []byte, v float64) []byte {
	n := int64(math.Round(v * 1e6))
	if n < 0 {
		dst = append(dst, '-')
		n = -n
	}
	dst = append(dst, byte('0'+n/1e6), '.')
	for div := int64(1e5); div > 0; div /= 10 {
		dst = append(dst, byte('0'+n/div%10))
	}
	return dst
}

// plain is s with a question mark for every sign past the basic plane, which
// no face of the house holds and fpdf cannot write.
func plain(s string) string {
	return strings.Map(func(r rune) rune {
		if r > 0xFFFF || r < ' ' || r == 0xFFFD {
			return '?'
		}
		return r
	}, s)
}

// hex appends s as UTF-16, two figures a byte.
func hex(dst []byte, s string) []byte {
	const figures = "0123456789ABCDEF"
	for _, u := range utf16.Encode([]rune(s)) {
		dst = append(dst, figures[u>>12], figures[u>>8&15], figures[u>>4&15], figures[u&15])
	}
	return dst
}
