// Package fonts embeds the two faces of the house: National Park for
// lettering and Sofia Sans for reading, both under the SIL Open Font License
// 1.1 (texts beside the files, origin in SOURCES.txt).
//
// TTF cuts, one a weight, complete as published: for measuring and for PDF.
// WOFF2 for pages: a variable file per script, and the few signs those lack
// as small cuts. A face falls back on the other, so that every sign the
// drawings use is in one of the two.
package fonts

import "embed"

// Files holds every font file and licence text by its name.
//
//go:embed *.woff2 *.txt
var Files embed.FS

var (
	//go:embed national-park-400.ttf
	nationalPark400 []byte
	//go:embed national-park-500.ttf
	nationalPark500 []byte
	//go:embed national-park-600.ttf
	nationalPark600 []byte
	//go:embed national-park-700.ttf
	nationalPark700 []byte
	//go:embed sofia-sans-400.ttf
	sofiaSans400 []byte
	//go:embed sofia-sans-500.ttf
	sofiaSans500 []byte
	//go:embed sofia-sans-600.ttf
	sofiaSans600 []byte
	//go:embed sofia-sans-700.ttf
	sofiaSans700 []byte
	//go:embed drawing-signs.ttf
	drawingSigns []byte
)

// Family is one of the type families.
type Family int

const (
	NationalPark Family = iota
	SofiaSans
	DrawingSigns // ✓ and ⌀, in one weight
)

// Families are the names a style sheet knows them by.
var Families = [...]string{NationalPark: "National Park", SofiaSans: "Sofia Sans", DrawingSigns: "Drawing Signs"}

// Weights are the cuts there are.
var Weights = [...]int{400, 500, 600, 700}

// Cut returns the index in [Weights] of the cut nearest to weight: the one
// that is measured, printed and shown.
func Cut(weight int) int {
	switch {
	case weight < 450:
		return 0
	case weight < 550:
		return 1
	case weight < 650:
		return 2
	}
	return 3
}

// TTF returns the TrueType file of a family at the cut nearest to weight.
// Callers must not change it.
func TTF(f Family, weight int) []byte {
	return [...][4][]byte{
		NationalPark: {nationalPark400, nationalPark500, nationalPark600, nationalPark700},
		SofiaSans:    {sofiaSans400, sofiaSans500, sofiaSans600, sofiaSans700},
		DrawingSigns: {drawingSigns, drawingSigns, drawingSigns, drawingSigns},
	}[f][Cut(weight)]
}

// The font-family lists of the two faces. The signs have families of their
// own: a browser joins the files of a family only where their weights agree.
const (
	LetteringStack = `"National Park","National Park Signs","Sofia Sans","Sofia Sans Signs","Drawing Signs",sans-serif`
	ReadingStack   = `"Sofia Sans","Sofia Sans Signs","National Park","National Park Signs","Drawing Signs",sans-serif`
)

// Web is one WOFF2 file as a style sheet's @font-face names it.
type Web struct {
	Family  string
	File    string // name in Files
	Weights string // font-weight descriptor
	Range   string // unicode-range descriptor
}

const (
	latin = "U+0000-00FF,U+0131,U+0152-0153,U+02BB-02BC,U+02C6,U+02DA,U+02DC,U+0304,U+0308,U+0329,U+2000-206F,U+20AC,U+2122,U+2191,U+2193,U+2212,U+2215,U+FEFF,U+FFFD"
	greek = "U+0370-03FF"
	signs = "U+2153-215E,U+2190,U+2192,U+2206,U+2211,U+221A,U+2248,U+2260,U+2264-2265"
)

// WebFaces lists the WOFF2 files in the order of a style sheet.
func WebFaces() []Web {
	faces := []Web{
		{"National Park", "national-park-latin.woff2", "200 800", latin},
		{"Sofia Sans", "sofia-sans-latin.woff2", "1 1000", latin},
		{"Sofia Sans", "sofia-sans-greek.woff2", "1 1000", greek},
	}
	for _, w := range [...]string{"400", "500", "600", "700"} {
		faces = append(faces,
			Web{"National Park Signs", "national-park-signs-" + w + ".woff2", w, signs + ",U+0394,U+03BC"},
			Web{"Sofia Sans Signs", "sofia-sans-signs-" + w + ".woff2", w, signs})
	}
	return append(faces, Web{"Drawing Signs", "drawing-signs.woff2", "1 1000", "U+2300,U+2713"})
}
