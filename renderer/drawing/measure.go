package drawing

import (
	"fmt"
	"strings"
	"sync"

	"golang.org/x/image/font"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"

	"wythe/themes/fonts"
)

// families gives, for each face, the family its signs come from and those
// that stand in, in turn, for signs the first lacks.
var families = [...][noSign]fonts.Family{
	Lettering: {fonts.NationalPark, fonts.SofiaSans, fonts.DrawingSigns},
	Reading:   {fonts.SofiaSans, fonts.NationalPark, fonts.DrawingSigns},
}

const (
	unitsPerEm   = 1000 // of both families
	directSigns  = 0x250
	missingUnits = 600 // what a sign in no family is taken to be wide
)

// sign is one sign's advance in a face, and where it comes from.
type sign struct {
	advance uint16 // 1/1000 em
	from    uint8  // index in families; noSign: in none
}

const noSign = 3

// signTable holds the advances of one face at one weight.
type signTable struct {
	once   sync.Once
	direct [directSigns]sign
	more   map[rune]sign
}

// moreSigns are the ranges past directSigns that the tables hold.
var moreSigns = [...][2]rune{{0x250, 0x3FF}, {0x2000, 0x2300}, {0x2713, 0x2713}}

var signTables [2][len(fonts.Weights)]signTable

func tableOf(face Face, weight int) *signTable {
	cut := fonts.Cut(weight)
	t := &signTables[face][cut]
	t.once.Do(func() { t.fill(face, fonts.Weights[cut]) })
	return t
}

func (t *signTable) fill(face Face, weight int) {
	var files [noSign]*sfnt.Font
	for i, family := range families[face] {
		f, err := sfnt.Parse(fonts.TTF(family, weight))
		if err != nil {
			panic(fmt.Sprintf("drawing: embedded font %s %d: %v", fonts.Families[family], weight, err))
		}
		if f.UnitsPerEm() != unitsPerEm {
			panic(fmt.Sprintf("drawing: embedded font %s has %d units per em", fonts.Families[family], f.UnitsPerEm()))
		}
		files[i] = f
	}
	var buf sfnt.Buffer
	look := func(r rune) sign {
		for i, f := range files {
			g, err := f.GlyphIndex(&buf, r)
			if err != nil || g == 0 {
				continue
			}
			a, err := f.GlyphAdvance(&buf, g, fixed.I(unitsPerEm), font.HintingNone)
			if err != nil {
				panic(fmt.Sprintf("drawing: advance of %q: %v", r, err))
			}
			return sign{uint16(a.Round()), uint8(i)}
		}
		return sign{missingUnits, noSign}
	}
	for r := range t.direct {
		t.direct[r] = look(rune(r))
	}
	t.more = make(map[rune]sign, 256)
	for _, span := range moreSigns {
		for r := span[0]; r <= span[1]; r++ {
			if s := look(r); s.from != noSign {
				t.more[r] = s
			}
		}
	}
}

func (t *signTable) sign(r rune) sign {
	if uint32(r) < directSigns {
		return t.direct[r]
	}
	if s, ok := t.more[r]; ok {
		return s
	}
	return sign{missingUnits, noSign}
}

// units is the advance of s, 1/1000 em.
func (t *signTable) units(s string) int {
	sum := 0
	for _, r := range s {
		sum += int(t.sign(r).advance)
	}
	return sum
}

// Measure returns the advance width, in mm, of text set at size mm in the cut
// nearest to weight, fractions set slanting (see [Runs]), without tracking.
//
// The advances are those of the embedded fonts, unkerned and without
// ligatures, as the drawings' style sheet asks of a browser too. A sign that
// no face holds counts 0.6 em; [Missing] finds such signs.
func Measure(face Face, weight int, size float64, text string) float64 {
	t := tableOf(face, weight)
	if strings.IndexByte(text, '/') < 0 {
		return float64(t.units(text)) * size / unitsPerEm
	}
	width := 0.0
	eachPiece(text, func(p piece) {
		width += p.width(face, weight, size)
	})
	return width
}

// Width returns the advance width of t, mm, tracking included (after the last
// sign too, as browsers do).
func (t *Text) Width() float64 {
	w := Measure(t.Face, t.Weight, t.Size, t.Text)
	if t.Tracking != 0 {
		eachPiece(t.Text, func(p piece) {
			if p.kind == plainPiece {
				for range p.text {
					w += t.Tracking
				}
			}
		})
	}
	return w
}

// Missing returns the signs of text that no face holds, in order, each
// once. Control characters are among them.
func Missing(text string) string {
	t := tableOf(Reading, 400)
	var out strings.Builder
	for _, r := range text {
		if t.sign(r).from == noSign && !strings.ContainsRune(out.String(), r) {
			out.WriteRune(r)
		}
	}
	return out.String()
}
