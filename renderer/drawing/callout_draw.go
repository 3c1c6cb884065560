package drawing

import "strconv"

// numerals are the keys of most drawings, made once.
var numerals = func() (n [64]string) {
	for i := range n {
		n[i] = strconv.Itoa(i)
	}
	return n
}()

func numeral(n int) string {
	if n >= 0 && n < len(numerals) {
		return numerals[n]
	}
	return strconv.Itoa(n)
}

// Callouts draws placed callouts: for each a group of leader, dot, bubble and
// words under the callout's tag, with its Kind "callout" and its Key.
func (d *Draft) Callouts(placed []PlacedCallout) {
	if len(placed) == 0 {
		return
	}
	d.Open(Tag{Kind: "callouts"})
	for i := range placed {
		d.callout(&placed[i])
	}
	d.Close()
}

func (d *Draft) callout(p *PlacedCallout) {
	tag := p.Tag
	tag.Kind, tag.Key = "callout", p.Key
	if tag.Href != "" && tag.ID == "" {
		tag.ID = "k-" + numeral(p.Key) // where the schedule leads back to
	}
	d.Open(tag)
	edge := p.Bubble.X + p.R
	if p.Elbow.X < p.Bubble.X {
		edge = p.Bubble.X - p.R
	}
	points := [3]Point{{edge, p.Bubble.Y}, p.Elbow, p.At}
	run := points[:]
	if p.Elbow.Y == p.At.Y {
		run = append(points[:1], p.At)
	}
	segs := d.run(run)
	if !p.Open {
		d.path(Tag{}, Stroke{Pen: casingPen, Ink: InkPaper}, InkNone, segs)
	}
	d.path(Tag{}, Stroke{Pen: PenDimension, Ink: InkLine}, InkNone, segs)
	dot := p.Dot
	if dot == 0 {
		dot = calloutDot
	}
	d.Disc(Tag{}, Stroke{}, InkLine, p.At, dot)
	d.bubble(p.Bubble, p.R, p.Key)
	anchor := Start
	if p.Side == LeftSide {
		anchor = End
	}
	y := p.Bubble.Y + 1.2
	for _, s := range p.Heads {
		d.Letter(Tag{}, styleHead, Point{p.firstWords, y}, anchor, s)
		y += calloutLine
	}
	for _, s := range p.Notes {
		d.Letter(Tag{}, styleNote, Point{p.firstWords, y}, anchor, s)
		y += calloutLine
	}
	d.Close()
}

const casingPen Pen = 0.75 // of paper, under leaders

func (d *Draft) bubble(at Point, r float64, key int) {
	d.Disc(Tag{}, Stroke{Pen: PenSecondary, Ink: InkLine}, InkPaper, at, r)
	d.Letter(Tag{}, styleBubble, Point{at.X, at.Y + 0.96}, Middle, numeral(key))
}

// KeynoteList draws the words of callouts that stand as keynotes, in columns
// that are filled one after another, from a top left corner. It returns the
// height it takes, mm.
func (d *Draft) KeynoteList(placed []PlacedCallout, at Point, width float64, columns int) float64 {
	const between = 8
	room := (width - float64(columns-1)*between) / float64(columns)
	type listed struct {
		tag          Tag
		heads, notes []string
		height       float64
	}
	list := make([]listed, len(placed))
	total := 0.0
	for i := range placed {
		p := &placed[i]
		w := listed{p.Tag, styleHead.wrap(p.Head, room-bubbleText), styleNote.wrap(p.Note, room-bubbleText), 0}
		w.tag.Kind, w.tag.Key = "keynote", p.Key
		w.height = textHeight(len(w.heads)+len(w.notes)) + calloutTight
		list[i] = w
		total += w.height
	}
	// By number, as a reader looks one up.
	for i := range list {
		for j := i; j > 0 && list[j].tag.Key < list[j-1].tag.Key; j-- {
			list[j], list[j-1] = list[j-1], list[j]
		}
	}
	d.Open(Tag{Kind: "keynotes"})
	tall, column, y, done := 0.0, 0, 0.0, 0.0
	for i := range list {
		w := &list[i]
		if column+1 < columns && y > 0 && done >= total*float64(column+1)/float64(columns)-1e-9 {
			column, y = column+1, 0
		}
		done += w.height
		x, mid := at.X+float64(column)*(room+between), at.Y+y+calloutUp
		d.Open(w.tag)
		d.bubble(Point{x + bubbleR, mid}, bubbleR, w.tag.Key)
		base := mid + 1.2
		for _, s := range w.heads {
			d.Letter(Tag{}, styleHead, Point{x + bubbleText, base}, Start, s)
			base += calloutLine
		}
		for _, s := range w.notes {
			d.Letter(Tag{}, styleNote, Point{x + bubbleText, base}, Start, s)
			base += calloutLine
		}
		d.Close()
		y += w.height
		tall = max(tall, y)
	}
	d.Close()
	return tall
}
