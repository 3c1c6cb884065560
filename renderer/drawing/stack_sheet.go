package drawing

import (
	"strings"

	"wythe/renderer/units"
)

// sheetDress is what the wide drawing and the phone's differ in, mm.
type sheetDress struct {
	width       float64
	bare        bool    // bubbles alone, and no title block: the page has both
	left        float64 // where drawing begins
	values      float64 // right end of the strip's values
	strip       float64 // width of the strip
	tall        float64 // tallest section when the scale is chosen
	least       [2]float64
	beyond      float64 // depth drawn of what lies beyond
	clear       float64 // from the section to the first dimension string
	caption     string
	narrowest   float64
	column      float64 // width of the text column, at the dress's own width
	wideColumn  float64 // when words overflow
	gutter      float64 // from the cut side to the leaders' shoulders
	calloutTall float64 // tallest column of words
}

var (
	wideSheet = sheetDress{
		width: wideWidth, narrowest: 180, left: 5, values: 14, strip: 36, tall: 88, least: [2]float64{4, 5},
		beyond: 13, clear: 6.5, caption: "STEADY TEMPERATURE",
		column: 73, wideColumn: 96, gutter: 14, calloutTall: 128,
	}
	phoneSheet = sheetDress{
		width: phoneWidth, narrowest: 84, bare: true, left: 1, values: 8.6, strip: 19, tall: 75, least: [2]float64{4, 5},
		beyond: 12, clear: 5, column: 2 * keynoteR, gutter: 5,
	}
)

// layout is a stack set out on its sheet.
type layout struct {
	*stackFrame
	dress   *sheetDress
	width   float64
	strip   *strip // nil: none
	chains  []*Chain
	words   []words // of the callouts
	placed  []PlacedCallout
	mode    CalloutMode
	top     float64 // of everything beside and over the section
	bottom  float64
	zigzags [2]float64 // of the break lines, shares of their length
}

// words are what a callout says.
type words struct{ head, note string }

// drawSheet draws the stack with everything that tells of it.
func (s *Stack) drawSheet(dress *sheetDress) *Drawing {
	l := s.layOut(dress)
	d := NewDraft()
	l.body(d, &sheetPens, func(*StackLayer) bool { return true })
	l.breaks(d)
	top, bottom := l.ends()
	if s.NotForConstruction {
		d.NotForConstruction(Point{(l.x0 + l.x1) / 2, (top + bottom) / 2}, l.x1-l.x0, bottom-top)
	}
	if l.strip != nil {
		l.strip.draw(d, l.stackFrame)
	}
	d.Tiers(LeftOf, l.x0, dress.clear, l.chains...)
	l.sides(d, top, bottom)
	d.Callouts(l.placed)
	height := l.foot(d)
	l.clouds(d, height)
	return &Drawing{
		Title: s.name(l.scale), Desc: s.describe(),
		Width: l.width, Height: height, Scale: l.scale, Root: d.Root(),
	}
}

// clouds marks the layers that changed.
func (l *layout) clouds(d *Draft, height float64) {
	var areas []Box
	for k := range l.order {
		if !l.layer(k).Changed {
			continue
		}
		var b Box
		b.Add(l.x0, l.y[k])
		b.Add(l.x1, l.y[k+1])
		areas = append(areas, b)
	}
	d.Clouds(areas, l.width, height, l.stack.Rev)
}

// layOut chooses scale and places, and moves all of it down on to the paper.
func (s *Stack) layOut(dress *sheetDress) *layout {
	l := &layout{dress: dress, width: dress.width}
	column := dress.column
	if s.Width > 0 {
		l.width = max(s.Width, dress.narrowest)
		if !dress.bare {
			column = max(50, min(column, column*l.width/wideWidth))
		}
	}
	left := dress.left
	if s.Temperatures != nil {
		l.strip = &strip{values: dress.values, x0: dress.values + 2.6, caption: dress.caption}
		l.strip.x1 = l.strip.x0 + dress.strip
		left = l.strip.x1 + 2.4
	}
	edge := l.width - 1 - column
	scale := s.Scale
	if scale == 0 {
		room := edge - shoulder - dress.gutter - left - 17
		least := dress.least[s.System]
		if dress.bare && s.widest() > 0 {
			least *= 2 // so that some of the framing is seen
		}
		scale = ChooseScale(s.System, least, func(ratio float64) bool {
			return onPaper(s.Thickness(), ratio) <= dress.tall && (dress.bare || onPaper(s.widest(), ratio) <= room)
		})
	}
	l.stackFrame = frameOf(s, scale, 0, 0, dress.beyond)
	l.x0 = left + l.dimensions()
	l.sayAll()
	l.callouts(edge)
	l.moveDown()
	return l
}

// dimensionLeast is the least thickness that a dimension string tells, 1/32
// in; a thinner sheet is told in its callout, as a film is.
const dimensionLeast = units.Length(0.0254 / 32)

// dimensions makes the dimension strings, of each layer and of the whole, and
// returns the room they take beside the section.
func (l *layout) dimensions() float64 {
	s := l.stack
	each := &Chain{Border: LeftOf}
	for k := range l.order {
		a := l.layer(k)
		if l.y[k+1] == l.y[k] || a.Thickness < dimensionLeast {
			continue
		}
		n := a.courses()
		for c := range n {
			each.Stops = append(each.Stops, l.y[k]+(l.y[k+1]-l.y[k])*float64(c)/float64(n))
			each.Texts = append(each.Texts, DimensionText(a.Thickness, s.System))
		}
	}
	if len(each.Stops) == 0 {
		return l.dress.clear
	}
	each.Stops = append(each.Stops, l.stackFrame.bottom())
	each.Stops[0] = l.stackFrame.top()
	l.chains = []*Chain{each}
	if len(each.Texts) == 1 {
		return PlaceTiers(LeftOf, 0, l.dress.clear, l.chains...)
	}
	whole := &Chain{Border: LeftOf, Stops: []float64{each.Stops[0], l.stackFrame.bottom()}, Texts: []string{DimensionText(s.Thickness(), s.System)}}
	l.chains = append(l.chains, whole)
	return PlaceTiers(LeftOf, 0, l.dress.clear, l.chains...)
}

// moveDown finds what reaches highest and moves everything on to the paper.
func (l *layout) moveDown() {
	top, bottom := l.ends()
	up, down := 3.4, 3.0
	if l.stack.InsideLabel != "" || l.stack.OutsideLabel != "" {
		up, down = 6.2, 5.4
	}
	if l.strip != nil {
		u, w := l.strip.reach(l.stackFrame)
		up, down = max(up, u+3.2), max(down, w)
	}
	over, under := l.filmReach(&sheetPens)
	up, down = up+over, down+under
	l.top, l.bottom = top-up, bottom+down
	for _, c := range l.chains {
		from, to := c.Extent()
		l.top, l.bottom = min(l.top, from), max(l.bottom, to)
	}
	for i := range l.placed {
		l.top = min(l.top, l.placed[i].Box.Min.Y-0.5)
		l.bottom = max(l.bottom, l.placed[i].Box.Max.Y)
	}
	dy := 1 - l.top
	l.move(dy)
	l.top, l.bottom = 1, l.bottom+dy
	for i := range l.placed {
		p := &l.placed[i]
		for _, y := range [...]*float64{&p.At.Y, &p.Bubble.Y, &p.Elbow.Y, &p.Box.Min.Y, &p.Box.Max.Y} {
			*y += dy
		}
	}
	for _, c := range l.chains {
		for i := range c.Stops {
			c.Stops[i] += dy
		}
	}
	l.zigzags = [2]float64{0.43, l.quietShare()}
}

// quietShare is where along the right cut side the fewest leaders run: the
// middle of the widest gap between them.
func (l *layout) quietShare() float64 {
	top, bottom := l.ends()
	var room [32]float64
	ys := append(room[:0], top+1)
	for i := range l.placed {
		p := &l.placed[i]
		t := (l.x1 - p.At.X) / (p.Elbow.X - p.At.X)
		y := p.At.Y + t*(p.Elbow.Y-p.At.Y)
		k := len(ys)
		ys = append(ys, y)
		for ; k > 0 && ys[k-1] > y; k-- {
			ys[k], ys[k-1] = ys[k-1], ys[k]
		}
	}
	ys = append(ys, bottom-1)
	best, share := 0.0, 0.57
	for i := 1; i < len(ys); i++ {
		if a, b := max(ys[i-1], top+1), min(ys[i], bottom-1); b-a > best+1e-6 {
			best, share = b-a, ((a+b)/2-top)/(bottom-top)
		}
	}
	return share
}

func (l *layout) breaks(d *Draft) {
	top, bottom := l.ends()
	d.Open(Tag{Kind: "break"})
	z := min(1.5, (bottom-top)/8)
	d.Break(Tag{}, Point{l.x0, top}, Point{l.x0, bottom}, l.zigzags[0], z)
	d.Break(Tag{}, Point{l.x1, bottom}, Point{l.x1, top}, 1-l.zigzags[1], z)
	d.Close()
}

// sides letters what lies on either side.
func (l *layout) sides(d *Draft, top, bottom float64) {
	over, under := l.stack.InsideLabel, l.stack.OutsideLabel
	if !l.stack.InsideTop {
		over, under = under, over
	}
	d.Open(Tag{Kind: "side"})
	d.Letter(Tag{}, styleSide, Point{l.x0 + 2, top - 2.8}, Start, over)
	d.Letter(Tag{}, styleSide, Point{l.x0 + 2, bottom + 4.8}, Start, under)
	d.Close()
}

// foot draws what stands below: keynotes where there is no room beside, the
// title, the scale bar. It returns the height of the drawing.
func (l *layout) foot(d *Draft) float64 {
	s := l.stack
	y := l.bottom + 4
	if l.dress.bare {
		y += 4
		used := d.ScaleBar(Point{8, y}, l.scale, s.System, 44)
		_, ratio := ScaleWords(l.scale)
		d.Open(Tag{Kind: "title"})
		d.Letter(Tag{}, styleBar, Point{8 + used + 14, y + 0.9}, Start, "SCALE "+ratio)
		d.Close()
		return y + 5.4
	}
	if l.mode == Keynotes && !s.Listed {
		y += d.KeynoteList(l.placed, Point{l.dress.left + 1, y}, l.width-2*l.dress.left-2, 3) + 3
	}
	block := TitleBlock{Mark: s.Mark, Name: s.Title, View: s.ViewName, Scale: l.scale, System: s.System, Status: s.StatusWords, UseFor: s.UseFor, NotFor: s.NotFor}
	long := min(titleWidth, l.width-86)
	names := len(styleTitle.wrap(strings.ToUpper(s.Title), long-titleText))
	y += max(titleR, 5.4+float64(names-1)*titleRow)
	_, down := d.Title(&block, Point{l.dress.left + 1, y}, long)
	d.ScaleBar(Point{l.width - 68, y}, l.scale, s.System, 50)
	return y + max(down, 5.4) + 1
}

const titleWidth = 172.0
