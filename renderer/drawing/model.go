// Package drawing holds drawings as primitives in paper millimetres, x to the
// right and y down, that any back end can set down; the hatches; and the
// layout of callouts, dimensions and titles.
//
// This package knows no detail file, figure or page: its callers say what
// stands where and it draws that.
package drawing

// Point is a place on paper, mm.
type Point struct{ X, Y float64 }

// Drawing is one picture. Its origin is the top left of the paper it needs.
type Drawing struct {
	Title, Desc   string  // for readers: what is drawn, inside to outside
	Width, Height float64 // mm
	Scale         float64 // 1 to Scale; 0: not to scale
	Root          Group
}

// Tag says what a primitive belongs to, for toggles, links and step pictures.
type Tag struct {
	Kind    string // hatch, outline, film, dimension, callout, temperature, control, title, break, …
	Part    string // the part's or layer's name; ""
	Step    int    // first step of the sequence after which it stands; 0 always
	Key     int    // keynote number; 0 none
	ID      string // SVG id, unique in a page; "" none
	Href    string // link target; "" none
	Control string // water, air, vapor, thermal; "" none
}

// Node is a *Group, *Path, *Circle, *Text or *Use.
type Node interface{ node() }

// Group is nodes under one tag, clipped where Clip is set.
type Group struct {
	Tag   Tag
	Clip  *Path // nil: none
	Shift Point // offset of all nodes
	Nodes []Node
}

// Ink is a role of colour, set by the theme.
type Ink int

const (
	InkNone Ink = iota
	InkLine     // what is built
	InkHatch
	InkSecond // notes
	InkHair
	InkMark  // red: look here
	InkPaper // the sheet's own colour: casings and clearings
	InkShade // the coldest shade of temperature; the warmest is InkShade + Shades
)

// Shades is how many steps shading takes from cold to warm.
const Shades = 12

// ShadeOnPaper is the colour of a shade on white, 0 to Shades: from blue to a
// pale yellow, each lighter than the one before, so that it also reads in gray
// and by eyes that tell red from green badly.
func ShadeOnPaper(step int) (r, g, b int) {
	mix := func(cold, warm int) int { return cold + (warm-cold)*step/Shades }
	return mix(0x7f, 0xff), mix(0xae, 0xe9), mix(0xdc, 0xa8)
}

// Pen is a line weight in mm on paper.
type Pen float64

// The weights of the house (see look: root-two series, ISO 128-2).
const (
	PenMembrane  Pen = 0.9
	PenControl   Pen = 0.7
	PenCut       Pen = 0.5
	PenTick      Pen = 0.35
	PenSecondary Pen = 0.25
	PenDimension Pen = 0.18
	PenHatch     Pen = 0.14
)

// Stroke is how a path is drawn; a zero Pen draws no line.
type Stroke struct {
	Pen   Pen
	Ink   Ink
	Dash  []float64 // mm; nil solid
	Round bool      // round caps and joins
}

// Op is one segment of a path.
type Op byte

const (
	MoveTo Op = iota
	LineTo
	CurveTo // two control points and an end
	ArcTo   // circular: radius, large, sweep, end
	Close
	Dot // a point as wide as the pen, of a path with round ends; it starts a stretch
)

// Seg is one segment. P holds the points of its Op: 1 for MoveTo and LineTo,
// 3 for CurveTo, 1 (the end) for ArcTo, 1 for Dot.
type Seg struct {
	Op           Op
	P            [3]Point
	R            float64 // ArcTo
	Large, Sweep bool
}

// Path is a stroked or filled path.
type Path struct {
	Tag    Tag
	Stroke Stroke
	Fill   Ink
	Odd    bool // fill where an odd number of stretches go round, else where they wind round
	Segs   []Seg
	Again  []Point // the same path once more, moved by each of these
	Memo   *Memo   // of a path that drawings share and none changes; nil else
}

// Circle is a stroked or filled circle.
type Circle struct {
	Tag    Tag
	Stroke Stroke
	Fill   Ink
	Center Point
	R      float64
}

// Face is one of the two embedded faces.
type Face int

const (
	Lettering Face = iota // marks, titles, callout heads
	Reading               // notes
)

// Anchor of a text.
type Anchor int

const (
	Start Anchor = iota
	Middle
	End
)

// Text is one run on one base line.
type Text struct {
	Tag      Tag
	At       Point   // on the base line
	Size     float64 // mm, font size
	Face     Face
	Weight   int // 400, 500, 600 or 700; others are set in the nearest
	Ink      Ink
	Anchor   Anchor
	Turn     float64 // degrees, counter-clockwise on paper: 90 reads from the right
	Tracking float64 // extra mm between signs
	Casing   float64 // width of paper-coloured casing, mm; 0 none
	Text     string
}

// Use draws the group with the given ID again, moved.
type Use struct {
	Tag   Tag
	ID    string
	Shift Point
}

func (*Group) node()  {}
func (*Path) node()   {}
func (*Circle) node() {}
func (*Text) node()   {}
func (*Use) node()    {}
