package drawing

import (
	"strings"

	"wythe/themes/fonts"
)

// Slanting fractions, as lettered by hand: small raised numerator, bar, small
// denominator on the base line. They are made of plain signs so that they
// measure the same on a page and in a PDF.
const (
	fractionSize = 0.62  // of the text's size
	fractionRise = 0.27  // of the numerator, of the text's size
	fractionGap  = 0.1   // before a fraction that follows a whole number
	fractionTuck = -0.02 // between its figures and the bar
	fractionBold = 150   // heavier, so that small figures keep the weight
	fractionBar  = "\u2044"
)

// FractionWeight is the weight of a fraction's figures in text of weight.
func FractionWeight(weight int) int { return min(weight+fractionBold, 700) }

type pieceKind uint8

const (
	plainPiece pieceKind = iota
	numeratorPiece
	barPiece
	denominatorPiece
)

// piece is a stretch of text set in one size.
type piece struct {
	kind pieceKind
	text string
	gap  float64 // em of the whole text, before the piece
}

func (p piece) width(face Face, weight int, size float64) float64 {
	own, w := size, weight
	if p.kind == numeratorPiece || p.kind == denominatorPiece {
		own, w = size*fractionSize, FractionWeight(weight)
	}
	return p.gap*size + float64(tableOf(face, w).units(p.text))*own/unitsPerEm
}

// eachPiece calls do for each piece of text, in order. A fraction is a
// numerator of one or two figures, a slash, and a denominator of one or two
// figures that is larger, with no sign of a date, path or unit about it: the
// space between it and a whole number gives way to a small gap.
func eachPiece(text string, do func(piece)) {
	from := 0
	for i := 1; i+1 < len(text); i++ {
		if text[i] != '/' {
			continue
		}
		a, b := i, i+1
		for a > from && isDigit(text[a-1]) {
			a--
		}
		for b < len(text) && isDigit(text[b]) {
			b++
		}
		if !isFraction(text[a:i], text[i+1:b]) || a > 0 && bindsFraction(text[a-1]) ||
			b < len(text) && bindsFraction(text[b]) {
			continue
		}
		whole, gap := a, 0.0
		if a >= 2 && (text[a-1] == ' ' || text[a-1] == '-') && isDigit(text[a-2]) && a-2 >= from {
			whole, gap = a-1, fractionGap
		}
		if whole > from {
			do(piece{text: text[from:whole]})
		}
		do(piece{numeratorPiece, text[a:i], gap})
		do(piece{barPiece, fractionBar, fractionTuck})
		do(piece{denominatorPiece, text[i+1 : b], fractionTuck})
		from, i = b, b
	}
	if from < len(text) {
		do(piece{text: text[from:]})
	}
}

func isFraction(over, under string) bool {
	if len(over) == 0 || len(under) == 0 || len(over) > 2 || len(under) > 2 || over[0] == '0' || under[0] == '0' {
		return false
	}
	return len(over) < len(under) || len(over) == len(under) && over < under
}

func isDigit(b byte) bool { return '0' <= b && b <= '9' }

// bindsFraction reports whether b beside figures makes them part of a longer
// word: a date, a path, a decimal.
func bindsFraction(b byte) bool {
	return b == '/' || b == '.' || b == ',' || b == '_' || 'a' <= b && b <= 'z' || 'A' <= b && b <= 'Z' || isDigit(b)
}

// Run is a stretch of one text in one family, weight and size.
type Run struct {
	Family fonts.Family
	Weight int     // a cut of fonts.Weights
	X      float64 // mm from the start of the text, along the base line
	Rise   float64 // mm above the base line
	Size   float64 // mm
	Text   string
}

// Runs appends to runs what t is made of, in order: fractions taken apart,
// and signs that t's face lacks in the family that has them. A back end that
// sets each run at its place, without kerning, sets exactly [Text.Width].
// Tracking is to be added after every sign of a run whose Size is t.Size.
func (t *Text) Runs(runs []Run) []Run {
	x := 0.0
	eachPiece(t.Text, func(p piece) {
		x += p.gap * t.Size
		weight, size, rise := t.Weight, t.Size, 0.0
		if p.kind == numeratorPiece || p.kind == denominatorPiece {
			weight, size = FractionWeight(weight), size*fractionSize
			if p.kind == numeratorPiece {
				rise = fractionRise * t.Size
			}
		}
		table := tableOf(t.Face, weight)
		from, at, units := 0, -1, 0
		tracked := 0.0
		flush := func(to int) {
			if at < 0 || from == to {
				return
			}
			runs = append(runs, Run{
				Family: families[t.Face][at%noSign], Weight: fonts.Weights[fonts.Cut(weight)],
				X: x, Rise: rise, Size: size, Text: p.text[from:to],
			})
			x += float64(units)*size/unitsPerEm + tracked
			from, units, tracked = to, 0, 0
		}
		for i, r := range p.text {
			s := table.sign(r)
			if int(s.from) != at {
				flush(i)
				at = int(s.from)
			}
			units += int(s.advance)
			if p.kind == plainPiece {
				tracked += t.Tracking
			}
		}
		flush(len(p.text))
	})
	return runs
}

// Span is a stretch of a text with fractions, for a back end that sets a line
// as spans one after the other.
type Span struct {
	Text  string
	Gap   float64 // mm before it
	Rise  float64 // mm above the base line
	Size  float64 // mm
	Plain bool    // not part of a fraction: tracked
	Small bool    // figures of a fraction: Size and [FractionWeight] apply
}

// Spans appends to spans those of t, or nothing if it holds no fraction.
func (t *Text) Spans(spans []Span) []Span {
	if strings.IndexByte(t.Text, '/') < 0 {
		return spans
	}
	from := len(spans)
	eachPiece(t.Text, func(p piece) {
		s := Span{Text: p.text, Gap: p.gap * t.Size, Size: t.Size, Plain: p.kind == plainPiece}
		if p.kind == numeratorPiece || p.kind == denominatorPiece {
			s.Size, s.Small = t.Size*fractionSize, true
		}
		if p.kind == numeratorPiece {
			s.Rise = fractionRise * t.Size
		}
		spans = append(spans, s)
	})
	if len(spans) == from+1 {
		return spans[:from]
	}
	return spans
}
