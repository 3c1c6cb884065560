package drawing

import "math"

// Border is the side of the work that a dimension string stands on.
type Border int8

const (
	Below Border = iota
	Above
	LeftOf
	RightOf
)

// Chain is one dimension string: an oblique tick at every stop and a text
// between each two.
type Chain struct {
	Border Border
	At     float64   // y of the dimension line, or x of an upright one, mm
	Work   float64   // where the extension lines end, clear of the work, mm
	Stops  []float64 // along the line, ascending, mm
	Texts  []string  // one fewer than Stops
	Cased  bool      // texts stand over hatches or other lines, on a casing of paper
	// Starts are where the extension line of each stop begins; nil: at Work.
	Starts []float64
	places []float64 // of the texts along an upright line, as Dodge chose; nil: in the middle
	level  bool      // Dodge set the texts of an upright line level: no leader runs through them so
}

// Sizes of dimensions, mm (ISO 129-1, ISO 6284; look: dimensions).
const (
	dimensionPast  = 1.6 // of the line past its last tick
	extensionPast  = 1.4 // of an extension line past the dimension line
	tickHalf       = 1.0
	textOff        = 1.1 // of a text's base line from the dimension line
	levelOff       = 3.0 // of texts set level beside an upright line
	levelPitch     = 3.7 // between those
	levelHalf      = 1.3 // of the height of one
	pulledOff      = 4.3 // of the base line of texts pulled out under a line
	pulledUp       = 4.6 // of those over it, clear of the texts on the line
	pulledGap      = 1.2
	DimensionClear = 4.2 // from the work to the first string
	ExtensionGap   = 1.6 // between the work and an extension line
)

func (c *Chain) upright() bool { return c.Border == LeftOf || c.Border == RightOf }

// fits says whether every text stands between its own ticks.
func (c *Chain) fits() bool {
	if c.level {
		return false
	}
	for i, s := range c.Texts {
		if !c.fitsOne(i, s) {
			return false
		}
	}
	return true
}

func (c *Chain) fitsOne(i int, s string) bool {
	return styleDimension.Width(s)+1.2 <= c.Stops[i+1]-c.Stops[i]
}

// Reach is how far the chain reaches from its dimension line away from the
// work, mm.
//
// Texts stand over the line, to be read from below or from the right. Where
// one does not fit between its ticks, the texts of an upright chain are all
// set level in a column beside it, and those of a level chain that do not fit
// are pulled out to a row on its far side.
func (c *Chain) Reach() float64 {
	if c.fits() {
		if c.Border == Below || c.Border == RightOf {
			return extensionPast
		}
		return textOff + styleDimension.Size*0.75
	}
	if c.upright() {
		w := 0.0
		for _, s := range c.Texts {
			w = max(w, styleDimension.Width(s))
		}
		return levelOff + w
	}
	if c.Border == Above {
		return pulledUp + styleDimension.Size*0.75
	}
	return pulledOff + 0.8
}

// Dimension draws one chain.
func (d *Draft) Dimension(c *Chain) {
	if len(c.Stops) < 2 || len(c.Texts) != len(c.Stops)-1 {
		panic("drawing: a dimension string needs a text between each two stops")
	}
	d.Open(Tag{Kind: "dimension"})
	out := 1.0 // away from the work
	if c.Border == Above || c.Border == LeftOf {
		out = -1
	}
	place := func(along, off float64) Point {
		if c.upright() {
			return Point{c.At + off, along}
		}
		return Point{along, c.At + off}
	}
	n := len(c.Stops)
	lines := make([]Point, 0, 2*n+2)
	ticks := make([]Point, 0, 2*n)
	lines = append(lines, place(c.Stops[0]-dimensionPast, 0), place(c.Stops[n-1]+dimensionPast, 0))
	half := tickHalf
	for i := 1; i < n; i++ {
		half = min(half, max(0.5, (c.Stops[i]-c.Stops[i-1])*0.6))
	}
	for i, s := range c.Stops {
		work, start := place(s, 0), c.Work
		if c.Starts != nil {
			start = c.Starts[i]
		}
		if c.upright() {
			work.X = start
		} else {
			work.Y = start
		}
		lines = append(lines, place(s, out*extensionPast), work)
		p := place(s, 0)
		ticks = append(ticks, Point{p.X - half, p.Y + half}, Point{p.X + half, p.Y - half})
	}
	d.Lines(Tag{}, Stroke{Pen: PenDimension, Ink: InkLine}, lines)
	d.Lines(Tag{}, Stroke{Pen: PenTick, Ink: InkLine}, ticks)
	switch {
	case c.fits():
		d.betweenTicks(c, place)
	case c.upright():
		d.levelTexts(c, out)
	default:
		d.pulledTexts(c, out)
	}
	d.Close()
}

func (d *Draft) dimensionText(cased bool, st *Style, at Point, anchor Anchor, s string) {
	if cased {
		d.Cased(Tag{}, st, 1, at, anchor, s)
		return
	}
	d.Letter(Tag{}, st, at, anchor, s)
}

func (d *Draft) betweenTicks(c *Chain, place func(along, off float64) Point) {
	style := *styleDimension
	if c.upright() {
		style.Turn = 90
	}
	for i, s := range c.Texts {
		at := (c.Stops[i] + c.Stops[i+1]) / 2
		if c.places != nil {
			at = c.places[i]
		}
		d.dimensionText(c.Cased, &style, place(at, -textOff), Middle, s)
	}
}

// levels is where the texts of an upright chain stand when set level, and
// whether they fit between the outer stops: an outer string's extension lines
// run past the texts.
func (c *Chain) levels() ([]slot, bool) {
	slots := make([]slot, len(c.Texts))
	for i := range c.Texts {
		slots[i] = slot{at: i, target: (c.Stops[i] + c.Stops[i+1]) / 2, height: levelPitch}
	}
	first, last := c.Stops[0], c.Stops[len(c.Stops)-1]
	if float64(len(slots))*levelPitch <= last-first {
		spread(slots, first+levelPitch/2, last+levelPitch/2, 0)
		return slots, true
	}
	spread(slots, math.Inf(-1), math.Inf(1), 0)
	return slots, false
}

// Extent is how far the chain reaches along its line, texts and all, mm.
func (c *Chain) Extent() (from, to float64) {
	from, to = c.Stops[0]-dimensionPast, c.Stops[len(c.Stops)-1]+dimensionPast
	if c.upright() && !c.fits() {
		slots, _ := c.levels()
		from, to = min(from, slots[0].y-levelPitch/2), max(to, slots[len(slots)-1].y+levelPitch/2)
	}
	return from, to
}

// levelTexts sets all texts of an upright chain level, in a column beside it,
// each as near its middle as the others allow. One that stands off it is led
// back, but for those that would fit between their ticks.
func (d *Draft) levelTexts(c *Chain, out float64) {
	slots, within := c.levels()
	cased := c.Cased || !within
	anchor := Start
	if out < 0 {
		anchor = End
	}
	var leaders []Point
	for i, s := range slots {
		if c.places != nil {
			s.y = c.places[i]
		}
		d.dimensionText(cased, styleDimension, Point{c.At + out*levelOff, s.y + 1.12}, anchor, c.Texts[i])
		if math.Abs(s.y-s.target) > 0.5 && !c.level {
			leaders = append(leaders, Point{c.At, s.target}, Point{c.At + out*(levelOff-0.5), s.y})
		}
	}
	d.Lines(Tag{}, Stroke{Pen: PenDimension, Ink: InkLine}, leaders)
}

// pulledTexts sets the texts of a level chain that fit over its line, the
// others in a row on its far side.
func (d *Draft) pulledTexts(c *Chain, out float64) {
	var slots []slot
	for i, s := range c.Texts {
		if c.fitsOne(i, s) {
			d.dimensionText(c.Cased, styleDimension, Point{(c.Stops[i] + c.Stops[i+1]) / 2, c.At - textOff}, Middle, s)
			continue
		}
		w := styleDimension.Width(s) + pulledGap
		slots = append(slots, slot{at: i, target: (c.Stops[i]+c.Stops[i+1])/2 - w/2, height: w})
	}
	spread(slots, math.Inf(-1), math.Inf(1), 0)
	y, to := c.At+pulledOff, c.At+1.6
	if out < 0 {
		y, to = c.At-pulledUp, c.At-pulledUp+0.5
	}
	var leaders []Point
	for _, s := range slots {
		x := s.y + s.height/2
		d.dimensionText(c.Cased, styleDimension, Point{x, y}, Middle, c.Texts[s.at])
		leaders = append(leaders, Point{s.target + s.height/2, c.At}, Point{x, to})
	}
	d.Lines(Tag{}, Stroke{Pen: PenDimension, Ink: InkLine}, leaders)
}

// Tiers draws chains one outside another on one border of the work, as
// [PlaceTiers] places them, and returns how far they reach from it, mm.
func (d *Draft) Tiers(border Border, work, clear float64, chains ...*Chain) float64 {
	reach := PlaceTiers(border, work, clear, chains...)
	// Outer strings first: the texts of inner ones clear their lines.
	for i := len(chains) - 1; i >= 0; i-- {
		d.Dimension(chains[i])
	}
	return reach
}

// PlaceTiers sets each chain's Border, At and Work: the first clear mm from
// the work's edge, the next as far out as the texts of the one before need,
// at least 7 mm. It returns how far they will reach from the edge, mm.
func PlaceTiers(border Border, work, clear float64, chains ...*Chain) float64 {
	out := 1.0
	if border == Above || border == LeftOf {
		out = -1
	}
	off, reach := clear, 0.0
	for i, c := range chains {
		c.Border = border
		c.Work = work + out*ExtensionGap
		if i > 0 {
			off += max(tierLeast, c.gapAfter(chains[i-1]))
			// Outer extension lines begin past the inner string.
			c.Work = chains[i-1].At + out*(extensionPast+0.4)
		}
		c.At = work + out*off
		reach = max(reach, off+c.Reach())
	}
	return reach
}

const tierLeast = 7.0

// gapAfter is the distance from the line of the chain before to c's.
func (c *Chain) gapAfter(before *Chain) float64 {
	near := extensionPast // c's own texts, on the side of the work
	if c.Border == Below || c.Border == RightOf {
		near = textOff + styleDimension.Size*0.75
	}
	return before.Reach() + near + 0.6
}
