package drawing

import "math"

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
	column      float64 // width of the text column
	wideColumn  float64 // when words overflow
	gutter      float64 // from the cut side to the leaders' shoulders
	calloutTall float64 // tallest column of words
}

var (
	wideSheet = sheetDress{
		width: wideWidth, left: 5, values: 14, strip: 36, tall: 88, least: [2]float64{4, 5},
		beyond: 13, clear: 6.5, caption: "STEADY TEMPERATURE",
		column: 73, wideColumn: 96, gutter: 14, calloutTall: 128,
	}
	phoneSheet = sheetDress{
		width: phoneWidth, bare: true, left: 1, values: 8.6, strip: 19, tall: 110, least: [2]float64{8, 10},
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
	placed  []PlacedCallout
	mode    CalloutMode
	top     float64 // of everything beside and over the section
	bottom  float64
	zigzags [2]float64 // of the break lines, shares of their length
}

// drawSheet draws the stack with everything that tells of it.
func (s *Stack) drawSheet(dress *sheetDress) *Drawing {
	l := s.layOut(dress)
	d := NewDraft()
	l.body(d, &sheetPens, func(*StackLayer) bool { return true })
	l.breaks(d)
	top, bottom := l.ends()
	if s.NotForConstruction {
		d.Stamp(Point{(l.x0 + l.x1) / 2, (top + bottom) / 2}, l.x1-l.x0, bottom-top, "NOT FOR CONSTRUCTION", s.StatusWords)
	}
	if l.strip != nil {
		l.strip.draw(d, l.stackFrame)
	}
	d.Tiers(LeftOf, l.x0, dress.clear, l.chains...)
	l.sides(d, top, bottom)
	d.Callouts(l.placed)
	height := l.foot(d)
	return &Drawing{
		Title: s.name(l.scale), Desc: s.describe(),
		Width: l.width, Height: height, Scale: l.scale, Root: d.Root(),
	}
}

// layOut chooses scale and places, and moves all of it down on to the paper.
func (s *Stack) layOut(dress *sheetDress) *layout {
	l := &layout{dress: dress, width: dress.width}
	if s.Width > 0 {
		l.width = s.Width
	}
	left := dress.left
	if s.Temperatures != nil {
		l.strip = &strip{values: dress.values, x0: dress.values + 2.6, caption: dress.caption}
		l.strip.x1 = l.strip.x0 + dress.strip
		left = l.strip.x1 + 2.4
	}
	edge := l.width - 1 - dress.column
	scale := s.Scale
	if scale == 0 {
		room := edge - shoulder - dress.gutter - left - 17
		scale = ChooseScale(s.System, dress.least[s.System], func(ratio float64) bool {
			return onPaper(s.Thickness(), ratio) <= dress.tall && (dress.bare || onPaper(s.widest(), ratio) <= room)
		})
	}
	l.stackFrame = frameOf(s, scale, 0, 0, dress.beyond)
	l.x0 = left + l.dimensions()
	l.callouts(edge)
	l.moveDown()
	return l
}

// dimensions makes the dimension strings, of each layer and of the whole, and
// returns the room they take beside the section.
func (l *layout) dimensions() float64 {
	s := l.stack
	each := &Chain{Border: LeftOf}
	for k := range l.order {
		a := l.layer(k)
		if l.y[k+1] == l.y[k] {
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
	l.chains = []*Chain{each}
	if len(each.Texts) == 1 {
		return l.dress.clear + each.Reach()
	}
	whole := &Chain{Border: LeftOf, Stops: []float64{each.Stops[0], l.stackFrame.bottom()}, Texts: []string{DimensionText(s.Thickness(), s.System)}}
	l.chains = append(l.chains, whole)
	return l.dress.clear + max(tierLeast, whole.gapAfter(each)) + whole.Reach()
}

// callouts places the callouts beside the section and so settles how wide the
// section is: words first, then words in a wider column, then keynotes.
func (l *layout) callouts(edge float64) {
	dress := l.dress
	top, bottom := l.ends()
	middle := (top + bottom) / 2
	if !dress.bare {
		tall := max(dress.calloutTall, bottom-top+10)
		for _, column := range [...]float64{dress.column, dress.wideColumn} {
			e := l.width - 1 - column
			if e-shoulder-dress.gutter-l.x0 < 40 && column != dress.column {
				break
			}
			fan := l.fan(e)
			l.x1 = e - shoulder - dress.gutter - min(fan*0.4, 16)
			cols := Columns{Right: Column{Edge: e, Outer: l.width - 1}, Top: middle - tall/2, Bottom: middle + tall/2}
			var mode CalloutMode
			l.placed, mode = PlaceCallouts(l.parts(fan), cols, false)
			if mode != Keynotes {
				return
			}
		}
	}
	l.mode = Keynotes
	e := l.width - 1 - 2*keynoteR
	fan := max(0, (float64(len(l.order))*keynotePitch-(bottom-top))/2)
	l.x1 = e - keynoteElbow - dress.gutter - min(fan*0.3, 10)
	cols := Columns{Right: Column{Edge: e, Outer: l.width - 1}, Top: top - 2, Bottom: bottom + 4}
	l.placed, _ = PlaceCallouts(l.parts(fan), cols, true)
}

// fan is how far the column of words is likely to stand over the section, and
// under it: the leaders need the more room to spread.
func (l *layout) fan(edge float64) float64 {
	top, bottom := l.ends()
	room := l.width - 1 - edge - bubbleText
	h := 0.0
	for i := range l.stack.Layers {
		a := &l.stack.Layers[i]
		note := 0.0
		if a.Controls != "" || len(a.Notes) > 0 {
			note = math.Ceil(styleNote.Width(a.note()) / room)
		}
		h += textHeight(int(math.Ceil(styleHead.Width(a.head(l.stack.System))/room)+note)) + calloutGap
	}
	return max(0, (h-(bottom-top))/2)
}

// parts are the callouts of the layers, each with its dot in the layer near
// the cut side. Where leaders fan out, each dot stands further from that side
// than its neighbour towards the middle: so no leader runs over a dot.
func (l *layout) parts(fan float64) []Callout {
	n := len(l.order)
	list := make([]Callout, n, n+1)
	top, bottom := l.ends()
	center, mid := (top+bottom)/2, 0
	for k := range l.order {
		if abs(l.y[k]+l.y[k+1]-2*center) < abs(l.y[mid]+l.y[mid+1]-2*center) {
			mid = k
		}
	}
	step := 0.0
	if fan > 0 {
		step = min(0.6+fan*0.08, 2.4, (l.x1-l.x0)*0.8/float64(n+2))
	}
	put := func(k int, x float64) float64 {
		a := l.layer(k)
		if step == 0 {
			x = l.x1 - 5 - 1.6*float64(k&1)
		}
		y, dot := l.dotIn(k)
		x = max(l.clearOfMembers(a, x), l.x0+1.5)
		list[k] = l.callout(a, Point{x, y}, dot)
		return x
	}
	last := put(mid, l.x1-4)
	x := last
	for k := mid - 1; k >= 0; k-- {
		x = put(k, x-step)
	}
	over := x
	x = last
	for k := mid + 1; k < n; k++ {
		x = put(k, x-step)
	}
	if b := l.stack.Beyond; b != nil {
		y := l.stackFrame.bottom() + 4
		if l.above > 0 {
			x, y = over, l.stackFrame.top()-4
		}
		if step == 0 {
			x = l.x1 - 6
		}
		list = append(list, l.callout(b, Point{max(x-step, l.x0+1.5), y}, calloutDot))
	}
	return list
}

// dotIn is the height and the radius of the dot in layer k: in the middle, or
// in a course beside it.
func (l *layout) dotIn(k int) (y, r float64) {
	a := l.layer(k)
	if a.Film {
		return l.filmY(k, &sheetPens), 0.8
	}
	y0, y1 := l.y[k], l.y[k+1]
	y = (y0 + y1) / 2
	if c := a.courses(); c%2 == 0 {
		y += (y1 - y0) / float64(2*c) // not on a joint
	}
	return y, max(0.35, min(calloutDot, (y1-y0)*0.42))
}

func (l *layout) callout(a *StackLayer, at Point, dot float64) Callout {
	c := Callout{Key: a.Key, Open: a.Film, At: at, Dot: dot, Tag: Tag{Part: a.Part, Step: a.Step, Href: a.Href}}
	c.Head, c.Note = a.head(l.stack.System), a.note()
	return c
}

// clearOfMembers moves a dot out of a member, away from the leaders.
func (l *layout) clearOfMembers(a *StackLayer, x float64) float64 {
	lefts, width := l.members(a)
	for i := len(lefts) - 1; i >= 0; i-- {
		if x > lefts[i]-1.2 && x < lefts[i]+width+1.2 {
			x = lefts[i] - 1.8
		}
	}
	return x
}

func abs(v float64) float64 { return math.Abs(v) }

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
	l.top, l.bottom = top-up, bottom+down
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
	if l.mode == Keynotes {
		y += d.KeynoteList(l.placed, Point{l.dress.left + 1, y}, l.width-2*l.dress.left-2, 3) + 3
	}
	block := TitleBlock{Mark: s.Mark, Name: s.Title, View: s.ViewName, Scale: l.scale, UseFor: s.UseFor, NotFor: s.NotFor}
	names := len(styleTitle.wrap(s.Title, titleWidth-titleText))
	y += max(titleR, 5.4+float64(names-1)*titleRow)
	_, down := d.Title(&block, Point{l.dress.left + 1, y}, titleWidth)
	d.ScaleBar(Point{l.width - 68, y}, l.scale, s.System, 50)
	return y + max(down, 5.4) + 1
}

const titleWidth = 172.0
