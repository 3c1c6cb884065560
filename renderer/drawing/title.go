package drawing

import (
	"strings"

	"wythe/renderer/units"
)

// TitleBlock is what stands under a drawing.
type TitleBlock struct {
	Mark   string // "F-101"
	Name   string // "Insulated basement slab"; set in capitals
	View   string // "SECTION", "PLAN SECTION"
	Scale  float64
	System units.System // metric: the scale is the ratio alone
	Status string       // "FOR REVIEW", beside the scale; "" none
	UseFor []string     // printed under the title
	NotFor []string
}

// Sizes of a drawing title, mm.
const (
	titleR    = 7.0  // of the bubble
	titleText = 16.5 // from the left of the bubble to the words
	titleRow  = 6.0  // between lines of a name that wraps
	useRow    = 3.9
)

// Title draws the mark in its bubble with the name over its line and the view
// and scale under it; below them, what the detail is for and not for. at is
// the left end of the title, at the height of its line. It returns how far it
// reaches up and down from that line, mm.
func (d *Draft) Title(t *TitleBlock, at Point, width float64) (up, down float64) {
	d.Open(Tag{Kind: "title"})
	center := Point{at.X + titleR, at.Y}
	d.Line(Tag{}, Stroke{Pen: PenCut, Ink: InkLine}, Point{at.X + 2*titleR, at.Y}, Point{at.X + width, at.Y})
	d.Disc(Tag{}, Stroke{Pen: PenCut, Ink: InkLine}, InkPaper, center, titleR)
	mark := *styleMark
	if w := mark.Width(t.Mark); w > 2*titleR-2 {
		mark.Size *= (2*titleR - 2) / w
	}
	d.Letter(Tag{}, &mark, Point{center.X, center.Y + mark.Size*0.36}, Middle, t.Mark)
	name := styleTitle.wrap(strings.ToUpper(t.Name), width-titleText)
	for i, s := range name {
		y := at.Y - 1.8 - float64(len(name)-1-i)*titleRow
		d.Letter(Tag{}, styleTitle, Point{at.X + titleText, y}, Start, s)
	}
	up = max(titleR, 1.8+float64(len(name)-1)*titleRow+3.6)
	x, y := at.X+titleText, at.Y+4.6
	set := func(s string) {
		if s != "" {
			d.Letter(Tag{}, styleView, Point{x, y}, Start, s)
			x += styleView.Width(s) + 4
		}
	}
	set(t.View)
	if t.Scale > 0 {
		inch, ratio := ScaleWords(t.Scale)
		if inch == "" || t.System == units.Metric {
			set("SCALE " + ratio)
		} else {
			set("SCALE " + inch)
			set(ratio)
		}
	} else {
		set("NOT TO SCALE")
	}
	if t.Status != "" {
		status := *styleView
		status.Ink, status.Weight = InkMark, 600
		d.Letter(Tag{}, &status, Point{x, y}, Start, t.Status)
	}
	y = at.Y + 5.6
	down = max(titleR, 5.6)
	for _, use := range [...]struct {
		head string
		list []string
	}{{"USE FOR", t.UseFor}, {"NOT FOR", t.NotFor}} {
		if len(use.list) == 0 {
			continue
		}
		indent := useIndent()
		lines := styleUse.wrap(sentence(use.list), width-titleText-indent)
		d.Letter(Tag{}, styleUseHead, Point{at.X + titleText, y + useRow}, Start, use.head)
		for _, s := range lines {
			y += useRow
			d.Letter(Tag{}, styleUse, Point{at.X + titleText + indent, y}, Start, s)
		}
		down = y - at.Y + 0.9
	}
	d.Close()
	return up, down
}

// useIndent is where the words after USE FOR and NOT FOR begin.
func useIndent() float64 {
	return max(styleUseHead.Width("USE FOR"), styleUseHead.Width("NOT FOR")) + 2
}

// sentence joins a list with semicolons and begins it with a capital.
func sentence(list []string) string {
	s := strings.Join(list, "; ")
	return upperFirst(s)
}
