package drawing

// Level draws a level mark: a filled triangle standing on the level at a
// point, its line and the words over it, "T.O. SLAB 0′-0″", to the right of
// it or, for side LeftSide, to the left. Line and words stand higher by raise,
// mm, on a stem: out of the way of what else is there.
func (d *Draft) Level(tag Tag, at Point, side Side, raise float64, words string) {
	tag.Kind = "level"
	d.Open(tag)
	out, anchor := 1.0, Start
	if side == LeftSide {
		out, anchor = -1, End
	}
	d.Shape(Tag{}, Stroke{}, InkLine, at, Point{at.X + 1.8, at.Y - 2.8}, Point{at.X - 1.8, at.Y - 2.8})
	line := Stroke{Pen: PenDimension, Ink: InkLine}
	from, y := at.X-out*1.8, at.Y-2.8-raise
	if raise > 0 {
		from = at.X
		d.Line(Tag{}, line, Point{at.X, at.Y - 2.8}, Point{at.X, y})
	}
	d.Line(Tag{}, line, Point{from, y}, Point{at.X + out*(styleLevel.Width(words)+3.6), y})
	d.Cased(Tag{}, styleLevel, 1, Point{at.X + out*2.6, y - 0.7}, anchor, words)
	d.Close()
}

var styleLevel = &Style{Face: Lettering, Weight: 550, Size: 2.7, Ink: InkLine}

// Reference draws the bubble of another detail where that is laid, leading to
// it where the tag has an Href.
func (d *Draft) Reference(tag Tag, at Point, mark string) {
	tag.Kind = "reference"
	d.Open(tag)
	const r = 5.0
	d.Disc(Tag{}, Stroke{Pen: PenSecondary, Ink: InkLine}, InkPaper, at, r)
	style := *styleReference
	if w := style.Width(mark); w > 2*r-1.4 {
		style.Size *= (2*r - 1.4) / w
	}
	d.Letter(Tag{}, &style, Point{at.X, at.Y + style.Size*0.36}, Middle, mark)
	d.Close()
}

var styleReference = &Style{Face: Lettering, Weight: 600, Size: 2.6, Ink: InkLine}

// Space letters what a space is, INSIDE or OUTSIDE, wide apart.
func (d *Draft) Space(at Point, anchor Anchor, words string) {
	d.Letter(Tag{Kind: "side"}, styleSide, at, anchor, words)
}
