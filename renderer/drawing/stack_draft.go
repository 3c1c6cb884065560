package drawing

import (
	"math"
	"strings"
)

// Draft gathers the primitives of one drawing in the order they are drawn.
// It cuts paths, texts and segments from slabs, so that a drawing of some
// hundred primitives costs some ten allocations.
type Draft struct {
	root    Group
	open    []*Group
	paths   []Path
	circles []Circle
	texts   []Text
	groups  []Group
	segs    []Seg
}

// grown is the size of the next slab after one of n.
func grown(n int) int { return min(max(12, n*2), 96) }

// NewDraft returns an empty draft.
func NewDraft() *Draft {
	d := &Draft{open: make([]*Group, 0, 6)}
	d.open = append(d.open, &d.root)
	return d
}

// Root is everything drawn so far, as one group.
func (d *Draft) Root() Group {
	if len(d.open) != 1 {
		panic("drawing: a group was left open")
	}
	return d.root
}

// Open begins a group; what is drawn until Close belongs to it.
func (d *Draft) Open(tag Tag) {
	if len(d.groups) == cap(d.groups) {
		d.groups = make([]Group, 0, grown(cap(d.groups)))
	}
	d.groups = append(d.groups, Group{Tag: tag})
	g := &d.groups[len(d.groups)-1]
	d.Add(g)
	d.open = append(d.open, g)
}

// Close ends the group begun last.
func (d *Draft) Close() {
	d.open = d.open[:len(d.open)-1]
}

// Add draws finished nodes.
func (d *Draft) Add(nodes ...Node) {
	g := d.open[len(d.open)-1]
	if g.Nodes == nil {
		g.Nodes = make([]Node, 0, 6+len(nodes))
	}
	g.Nodes = append(g.Nodes, nodes...)
}

func (d *Draft) add(n Node) {
	g := d.open[len(d.open)-1]
	if g.Nodes == nil {
		g.Nodes = make([]Node, 0, 4)
	}
	g.Nodes = append(g.Nodes, n)
}

// seg returns room for n segments.
func (d *Draft) seg(n int) []Seg {
	if len(d.segs)+n > cap(d.segs) {
		d.segs = make([]Seg, 0, max(3*grown(cap(d.segs)/3), n))
	}
	at := len(d.segs)
	d.segs = d.segs[:at+n]
	return d.segs[at : at+n : at+n]
}

// path draws segments with one stroke and fill.
func (d *Draft) path(tag Tag, stroke Stroke, fill Ink, segs []Seg) {
	if len(d.paths) == cap(d.paths) {
		d.paths = make([]Path, 0, grown(cap(d.paths)))
	}
	d.paths = append(d.paths, Path{Tag: tag, Stroke: stroke, Fill: fill, Segs: segs})
	d.add(&d.paths[len(d.paths)-1])
}

// Line draws an open run of points.
func (d *Draft) Line(tag Tag, stroke Stroke, points ...Point) {
	d.path(tag, stroke, InkNone, d.run(points))
}

// Shape draws a closed run of points.
func (d *Draft) Shape(tag Tag, stroke Stroke, fill Ink, points ...Point) {
	s := d.seg(len(points) + 1)
	for i, p := range points {
		s[i] = Seg{Op: LineTo}
		s[i].P[0] = p
	}
	s[0].Op = MoveTo
	s[len(points)] = Seg{Op: Close}
	d.path(tag, stroke, fill, s)
}

// Lines draws separate straight lines, two points each, as one path.
func (d *Draft) Lines(tag Tag, stroke Stroke, pairs []Point) {
	if len(pairs) == 0 {
		return
	}
	s := d.seg(len(pairs))
	for i, p := range pairs {
		s[i] = Seg{Op: MoveTo + Op(i&1)}
		s[i].P[0] = p
	}
	d.path(tag, stroke, InkNone, s)
}

func (d *Draft) run(points []Point) []Seg {
	s := d.seg(len(points))
	for i, p := range points {
		s[i] = Seg{Op: LineTo}
		s[i].P[0] = p
	}
	s[0].Op = MoveTo
	return s
}

// Disc draws a circle.
func (d *Draft) Disc(tag Tag, stroke Stroke, fill Ink, center Point, r float64) {
	if len(d.circles) == cap(d.circles) {
		d.circles = make([]Circle, 0, grown(cap(d.circles)))
	}
	d.circles = append(d.circles, Circle{Tag: tag, Stroke: stroke, Fill: fill, Center: center, R: r})
	d.add(&d.circles[len(d.circles)-1])
}

// Style is how a text is lettered.
type Style struct {
	Face     Face
	Weight   int
	Size     float64 // mm
	Ink      Ink
	Tracking float64 // mm
	Casing   float64 // mm
	Turn     float64 // degrees, counter-clockwise
}

// The styles of a drawing (see look: type).
var (
	styleHead      = &Style{Face: Lettering, Weight: 600, Size: 3.2, Ink: InkLine, Tracking: 0.05}
	styleNote      = &Style{Face: Reading, Weight: 400, Size: 3, Ink: InkLine}
	styleBubble    = &Style{Face: Lettering, Weight: 600, Size: 2.75, Ink: InkLine}
	styleDimension = &Style{Face: Lettering, Weight: 500, Size: 3.2, Ink: InkLine}
	styleTitle     = &Style{Face: Lettering, Weight: 600, Size: 4.6, Ink: InkLine, Tracking: 0.14}
	styleMark      = &Style{Face: Lettering, Weight: 700, Size: 3.4, Ink: InkLine}
	styleView      = &Style{Face: Lettering, Weight: 450, Size: 3, Ink: InkLine, Tracking: 0.15}
	styleUse       = &Style{Face: Reading, Weight: 400, Size: 2.8, Ink: InkLine}
	styleUseHead   = &Style{Face: Lettering, Weight: 600, Size: 2.8, Ink: InkLine, Tracking: 0.06}
	styleBar       = &Style{Face: Lettering, Weight: 450, Size: 2.5, Ink: InkLine}
	styleSide      = &Style{Face: Lettering, Weight: 500, Size: 3, Ink: InkLine, Tracking: 0.66}
	styleDegree    = &Style{Face: Lettering, Weight: 450, Size: 2.7, Ink: InkLine}
	styleValue     = &Style{Face: Lettering, Weight: 650, Size: 3.2, Ink: InkMark}
	styleCaption   = &Style{Face: Lettering, Weight: 450, Size: 2.5, Ink: InkLine, Tracking: 0.15}
)

// Width of s as Letter sets it, mm.
func (st *Style) Width(s string) float64 {
	w := Measure(st.Face, st.Weight, st.Size, s)
	if st.Tracking != 0 {
		n := 0
		for range s {
			n++
		}
		w += st.Tracking * float64(n)
	}
	return w
}

// Letter sets s on the base line at a point.
func (d *Draft) Letter(tag Tag, st *Style, at Point, anchor Anchor, s string) {
	if s == "" {
		return
	}
	if len(d.texts) == cap(d.texts) {
		d.texts = make([]Text, 0, grown(cap(d.texts)))
	}
	d.texts = append(d.texts, Text{
		Tag: tag, At: at, Size: st.Size, Face: st.Face, Weight: st.Weight, Ink: st.Ink,
		Anchor: anchor, Turn: st.Turn, Tracking: st.Tracking, Casing: st.Casing, Text: s,
	})
	d.add(&d.texts[len(d.texts)-1])
}

// Cased sets s over a casing of paper, to be read over lines and hatches. In a
// fraction the casing of one figure would eat into the next: so the text is
// set again over its casing.
func (d *Draft) Cased(tag Tag, st *Style, casing float64, at Point, anchor Anchor, s string) {
	under := *st
	under.Casing = casing
	d.Letter(tag, &under, at, anchor, s)
	if strings.IndexByte(s, '/') >= 0 {
		d.Letter(tag, st, at, anchor, s)
	}
}

// Break draws a break line along a cut from a to b: thin, with one zigzag at
// the share at of its length, running past both ends by 2 mm (ISO 128-3).
func (d *Draft) Break(tag Tag, a, b Point, at, zigzag float64) {
	l := math.Hypot(b.X-a.X, b.Y-a.Y)
	u := Point{(b.X - a.X) / l, (b.Y - a.Y) / l}
	p := func(s, t float64) Point { return Point{a.X + u.X*s - u.Y*t, a.Y + u.Y*s + u.X*t} }
	m, z := l*at, zigzag
	d.Line(tag, Stroke{Pen: PenSecondary, Ink: InkLine},
		p(-2, 0), p(m-z, 0), p(m-z*.4, z*1.3), p(m+z*.4, -z*1.3), p(m+z, 0), p(l+2, 0))
}
