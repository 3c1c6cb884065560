package drawing

import (
	"fmt"
	"math"
	"slices"
	"sync"
)

// Axis is the long direction of what is hatched: along a layer.
type Axis uint8

const (
	AxisAuto    Axis = iota // the longer side of the region's bounds
	AxisLevel               // along x: floors, roofs
	AxisUpright             // along y: walls
)

// Hatching says how a region is hatched.
type Hatching struct {
	Seed    string  // the part's name: the same seed gives the same hatch
	Grain   float64 // 1 at 1:8, 0.72 at 1:16, 0.62 in thumbnails; 0 means 1
	Axis    Axis
	Angle   float64 // degrees, counter-clockwise, of a sloped layer: it is hatched level, then turned
	Courses int     // equal courses through the thickness; 0 means 1
	Open    Sides   // sides of the region's bounds that are cuts, not faces
	Fade    Sides   // sides towards which earth thins out
	Along   bool    // timber is cut along its grain, not across
	Thumb   bool    // a thumbnail: fewer strokes
	Loose   bool    // fill lies open, or under more of it: poured, not packed between faces
}

// Pens of hatches besides PenHatch: the size of a dot.
const (
	PenDot     Pen = 0.27
	PenFineDot Pen = 0.19
)

// hatches draws each hatch word. Air and none are left white.
var hatches = map[string]func(*hatcher){
	"concrete":            (*hatcher).concrete,
	"reinforced concrete": (*hatcher).reinforced,
	"block":               (*hatcher).block,
	"brick":               (*hatcher).brick,
	"stone":               (*hatcher).masonry,
	"mortar":              (*hatcher).mortar,
	"plaster":             (*hatcher).plaster,
	"gypsum":              (*hatcher).gypsum,
	"earth":               (*hatcher).earth,
	"backfill":            (*hatcher).backfill,
	"washed stone":        (*hatcher).washedStone,
	"sand":                (*hatcher).sand,
	"rigid insulation":    (*hatcher).rigid,
	"batt":                (*hatcher).batt,
	"loose fill":          (*hatcher).looseFill,
	"sawn timber":         (*hatcher).sawnTimber,
	"finish timber":       (*hatcher).finishTimber,
	"plywood":             (*hatcher).plywood,
	"fiber board":         (*hatcher).fiberBoard,
	"steel":               (*hatcher).steel,
	"metal":               (*hatcher).metal,
	"glass":               (*hatcher).glass,
	"membrane":            (*hatcher).membrane,
	"air":                 (*hatcher).blank,
	"none":                (*hatcher).blank,
}

// Words lists the hatch words there are, in the order of the alphabet.
func Words() []string {
	words := make([]string, 0, len(hatches))
	for w := range hatches {
		words = append(words, w)
	}
	slices.Sort(words)
	return words
}

// Known reports whether word is a hatch word.
func Known(word string) bool { return hatches[word] != nil }

// Hatch draws the hatch of a word in region r: ground and outlines are the
// caller's. Everything drawn lies in r, its pen aside; nothing needs clipping.
// The same arguments give the same hatch. An unknown word panics: words are
// checked where files are read.
//
// Drawings share what it returns: callers must not change it.
func Hatch(word string, r Region, opt Hatching) []Node {
	if !Known(word) {
		panic("drawing: no hatch " + word)
	}
	for _, p := range r.Outer {
		if !(math.Abs(p.X) < largestCoordinate && math.Abs(p.Y) < largestCoordinate) {
			panic(fmt.Sprintf("drawing: %s is hatched at %v", word, p))
		}
	}
	seed := hash(word, opt.Seed)
	if len(r.Holes) > 0 || opt.Angle != 0 || !isRect(r.Outer) {
		return drawHatch(word, r, opt, seed)
	}
	a, b := r.Outer[0], r.Outer[2]
	corner := Point{min(a.X, b.X), min(a.Y, b.Y)}
	opt.Seed = ""
	if opt.Grain == 0 {
		opt.Grain = 1
	}
	nodes := sharedHatch(sharedKey{
		word: word, variant: uint8(seed % seedVariants), opt: opt,
		wide: thousandth(max(a.X, b.X) - corner.X), high: thousandth(max(a.Y, b.Y) - corner.Y),
	})
	if len(nodes) == 0 {
		return nil
	}
	return []Node{&Group{Shift: corner, Nodes: nodes}}
}

// thousandth rounds down to 0.001 mm, so that equal layers share a hatch
// whatever their place.
func thousandth(v float64) float64 { return math.Floor(v*1000+1e-6) / 1000 }

// largestCoordinate bounds a place on paper, mm. What lies past it, or is no
// number, comes from a broken layout.
const largestCoordinate = 1e6

// largestField is the area, mm², past which a hatch grows coarser, so that
// what it costs is bounded: about an A2 sheet.
const largestField = 250_000

// drawHatch draws a hatch anew.
func drawHatch(word string, r Region, opt Hatching, seed uint64) []Node {
	h := &hatcher{word: word, region: r, opt: opt, g: opt.Grain, seed: seed}
	if h.g == 0 {
		h.g = 1
	}
	var f frame
	if opt.Angle != 0 {
		f.turned = true
		f.sin, f.cos = math.Sincos(opt.Angle * math.Pi / 180)
	}
	upright := opt.Axis == AxisUpright
	if opt.Axis == AxisAuto {
		level := newField(r, f, opt.Open)
		upright = level.y1-level.y0 > level.x1-level.x0
	}
	f.swap = upright
	h.field = newField(r, f, opt.Open)
	if a := h.area() / largestField; a > 1 {
		h.g *= math.Sqrt(a)
	}
	if !(h.field.x1-h.field.x0 > shortest && h.field.y1-h.field.y0 > shortest) {
		return nil
	}
	hatches[word](h)
	return h.nodes
}

// hatcher draws one hatch in one region. Its coordinates are those of the
// field's frame, where the layer lies level.
type hatcher struct {
	*field
	word   string
	region Region
	opt    Hatching
	g      float64 // grain
	seed   uint64
	count  uint64
	nodes  []Node
}

// hash mixes words into a seed (FNV-1a, 64 bits).
func hash(words ...string) uint64 {
	h := uint64(14695981039346656037)
	for _, w := range words {
		for i := range len(w) {
			h = (h ^ uint64(w[i])) * 1099511628211
		}
		h = (h ^ 0xFF) * 1099511628211
	}
	return h
}

// mix is splitmix64's finish: a good hash of one word.
func mix(z uint64) uint64 {
	z = (z ^ z>>30) * 0xBF58476D1CE4E5B9
	z = (z ^ z>>27) * 0x94D049BB133111EB
	return z ^ z>>31
}

// random returns the next of a sequence in [0, 1) that the seed decides.
func (h *hatcher) random() float64 {
	h.count++
	return float64(mix(h.seed+h.count*0x9E3779B97F4A7C15)>>11) / (1 << 53)
}

// scratch holds the segments of strokes while they are drawn.
var scratch = sync.Pool{New: func() any { return &stroke{segs: make([]Seg, 0, 4096)} }}

// stroke begins a path.
func (h *hatcher) stroke() *stroke {
	s := scratch.Get().(*stroke)
	s.frame, s.segs = h.frame, s.segs[:0]
	return s
}

// draw adds what s holds, drawn with pen, and ends s. It returns nil for
// nothing.
func (h *hatcher) draw(s *stroke, pen Pen, round bool) *Path {
	defer scratch.Put(s)
	if len(s.segs) == 0 {
		return nil
	}
	p := &Path{Stroke: Stroke{Pen: pen, Ink: InkHatch, Round: round}, Segs: append(make([]Seg, 0, len(s.segs)), s.segs...)}
	h.nodes = append(h.nodes, p)
	return p
}

// solid fills the region: sections too thin for a hatch.
func (h *hatcher) solid(ink Ink) {
	p := &Path{Fill: ink}
	p.Polygon(h.region.Outer...)
	for _, hole := range h.region.Holes {
		p.Polygon(hole...)
	}
	h.nodes = append(h.nodes, p)
}

func (h *hatcher) blank() {}

// membrane: filled; where it is thick on paper, close lines along it.
func (h *hatcher) membrane() {
	high := h.y1 - h.y0
	if high < 2.2 {
		h.solid(InkLine)
		return
	}
	s := h.stroke()
	n := int(high / (leastPitch + 0.15))
	for i := 1; i < n; i++ {
		y := h.y0 + high*float64(i)/float64(n)
		s.clipSegment(h.field, Point{h.x0 - 1, y}, Point{h.x1 + 1, y})
	}
	h.draw(s, PenTick, false)
}

// courses returns how many courses there are and how thick each is.
func (h *hatcher) courses() (n int, thick float64) {
	n = max(h.opt.Courses, 1)
	return n, (h.y1 - h.y0) / float64(n)
}
