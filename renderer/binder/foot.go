package binder

import (
	"fmt"
	"strings"

	"wythe/renderer/drawing"
	"wythe/renderer/drawing/code"
)

// The styles of the title block.
var (
	styleLabel  = &drawing.Style{Face: drawing.Lettering, Weight: 500, Size: 1.9, Ink: drawing.InkSecond, Tracking: 0.12}
	styleFirm   = &drawing.Style{Face: drawing.Reading, Weight: 600, Size: 3.2, Ink: drawing.InkLine}
	styleFoot   = &drawing.Style{Face: drawing.Reading, Weight: 400, Size: 2.8, Ink: drawing.InkLine}
	styleTitle  = &drawing.Style{Face: drawing.Reading, Weight: 600, Size: 3.4, Ink: drawing.InkLine}
	styleNumber = &drawing.Style{Face: drawing.Lettering, Weight: 700, Size: 7, Ink: drawing.InkLine}
	styleOf     = &drawing.Style{Face: drawing.Reading, Weight: 400, Size: 2.3, Ink: drawing.InkSecond}
)

// footCell is one cell of the title block.
type footCell struct {
	label  string
	share  float64
	values []footValue
}

type footValue struct {
	text  string
	style *drawing.Style
	href  string
}

const (
	numberRoom = 36.0 // of the sheet's number, mm
	footPad    = 2.2
)

// block draws the frame and the title block of the k-th sheet.
func (w *work) block(d *drawing.Draft, k int) {
	cells := []footCell{
		w.b.firmCell(),
		w.b.libraryCell(),
		{"TITLE", 2, []footValue{{w.Title, styleTitle, ""}}},
		{"SCALE", 1, w.scaleValues(w.leaves[k])},
		{"STATUS", 1.15, w.statusValues()},
		{"REV, DATE", 0.95, w.revision()},
		{"", 1.35, nil},
	}
	right := w.b.foot(d, w.foot, cells, w.codeRoom())
	by := right[len(cells)-1]
	w.by(d, by[0], by[1])
	f := w.b.frame
	y := f.y + f.height - w.foot
	x := right[len(cells)][0]
	w.b.number(d, area{x, y, numberRoom, w.foot}, w.Mark, fmt.Sprintf("Sheet %d of %d", k+1, len(w.leaves)), w.Page)
	if w.code != nil {
		side := w.code.Side(code.Module)
		d.Add(w.code.Path(drawing.Point{X: f.x + f.width - side, Y: y + (w.foot-side)/2}, code.Module))
	}
}

func (w *work) codeRoom() float64 {
	if w.code == nil {
		return 0
	}
	return w.code.Side(code.Module)
}

// foot draws the frame, the title block's lines and cells, and returns the
// left and right ends of each cell, that of the number last. rest is the room
// kept at the right end.
func (b *binder) foot(d *drawing.Draft, height float64, cells []footCell, rest float64) [][2]float64 {
	f := b.frame
	heavy := drawing.Stroke{Pen: 0.7, Ink: drawing.InkLine}
	thin := drawing.Stroke{Pen: drawing.PenSecondary, Ink: drawing.InkLine}
	y := f.y + f.height - height
	d.Open(drawing.Tag{Kind: "frame"})
	d.Shape(drawing.Tag{}, heavy, drawing.InkNone, drawing.Point{X: f.x, Y: f.y}, drawing.Point{X: f.x + f.width, Y: f.y},
		drawing.Point{X: f.x + f.width, Y: f.y + f.height}, drawing.Point{X: f.x, Y: f.y + f.height})
	d.Line(drawing.Tag{}, heavy, drawing.Point{X: f.x, Y: y}, drawing.Point{X: f.x + f.width, Y: y})
	shares := 0.0
	for _, c := range cells {
		shares += c.share
	}
	room := f.width - numberRoom - rest
	var ends [][2]float64
	x := f.x
	for _, c := range cells {
		w := room * c.share / shares
		ends = append(ends, [2]float64{x, x + w})
		c.draw(d, area{x, y, w, height})
		x += w
		d.Line(drawing.Tag{}, thin, drawing.Point{X: x, Y: y}, drawing.Point{X: x, Y: f.y + f.height})
	}
	ends = append(ends, [2]float64{x, x + numberRoom})
	if rest > 0 {
		x += numberRoom
		d.Line(drawing.Tag{}, thin, drawing.Point{X: x, Y: y}, drawing.Point{X: x, Y: f.y + f.height})
	}
	d.Close()
	return ends
}

// draw letters a cell: its label, and its values below, made smaller where
// they would not fit.
func (c *footCell) draw(d *drawing.Draft, a area) {
	x, y := a.x+footPad, a.y+3.4
	d.Letter(drawing.Tag{}, styleLabel, drawing.Point{X: x, Y: y}, drawing.Start, c.label)
	room, height := a.width-2*footPad, a.height-4.6
	for factor := 1.0; ; factor *= 0.94 {
		type set struct {
			text  string
			style drawing.Style
			href  string
		}
		var lines []set
		used := 0.0
		for _, v := range c.values {
			st := *v.style
			st.Size *= factor
			for _, s := range st.Wrap(v.text, room) {
				lines = append(lines, set{s, st, v.href})
				used += st.Size * 1.28
			}
		}
		if used > height {
			continue
		}
		for i := range lines {
			l := &lines[i]
			y += l.style.Size * 1.28
			d.Letter(drawing.Tag{Href: l.href}, &l.style, drawing.Point{X: x, Y: y}, drawing.Start, l.text)
		}
		return
	}
}

func (b *binder) firmCell() footCell {
	return footCell{"FIRM", 1.3, []footValue{{b.set.Firm, styleFirm, ""}}}
}

func (b *binder) libraryCell() footCell {
	if b.set.Building != "" {
		return footCell{"BUILDING", 1.3, []footValue{{b.set.Building, styleFoot, ""}, {b.set.Library, styleOf, b.set.Site}}}
	}
	return footCell{"LIBRARY", 1.3, []footValue{{b.set.Library, styleFoot, b.set.Site}}}
}

// scaleValues are the scale of what is drawn on a leaf, which says it beneath
// where there are several; on a leaf of tables, the scale of the detail.
func (w *work) scaleValues(l *leaf) []footValue {
	scale, ratio := w.scale, w.ratio
	for i, p := range l.placed {
		if p.d.Scale != l.placed[0].d.Scale {
			return []footValue{{"As noted", styleFoot, ""}}
		} else if i == 0 {
			scale, ratio = w.b.scaleWords(p.d.Scale)
		}
	}
	list := []footValue{{scale, styleFoot, ""}}
	if ratio != scale && ratio != "–" {
		list = append(list, footValue{ratio, styleFoot, ""})
	}
	return list
}

func (w *work) statusValues() []footValue {
	if w.Issued {
		return []footValue{{w.Status, styleFoot, ""}}
	}
	red := *styleOf
	red.Ink, red.Weight = drawing.InkMark, 600
	return []footValue{{w.Status, styleFoot, ""}, {"Not for construction", &red, ""}}
}

func (w *work) revision() []footValue {
	if w.Rev == "" {
		return []footValue{{"None", styleFoot, ""}}
	}
	bold := *styleFoot
	bold.Weight = 600
	list := []footValue{{w.Rev, &bold, ""}}
	if w.Date != "" {
		list = append(list, footValue{w.Date, styleFoot, ""})
	}
	return list
}

// by letters who drew and checked the sheet and what it is issued for, each
// on a line of its own: those not known are left to be written in.
func (w *work) by(d *drawing.Draft, x0, x1 float64) {
	f := w.b.frame
	y := f.y + f.height - w.foot
	step := w.foot / 3
	for i, v := range [...]struct{ label, value string }{{"DRAWN BY", w.DrawnBy}, {"CHECKED BY", w.CheckedBy}, {"ISSUED FOR", w.IssuedFor}} {
		top := y + float64(i)*step
		if i > 0 {
			d.Line(drawing.Tag{}, drawing.Stroke{Pen: drawing.PenDimension, Ink: drawing.InkLine}, drawing.Point{X: x0, Y: top}, drawing.Point{X: x1, Y: top})
		}
		base := top + step/2 + 0.8
		d.Letter(drawing.Tag{}, styleLabel, drawing.Point{X: x0 + footPad, Y: base}, drawing.Start, v.label)
		from := x0 + footPad + styleLabel.Width("CHECKED BY") + 1.6
		st := *styleFoot
		st.Size = 2.5
		lines := st.Wrap(v.value, x1-footPad-from)
		for len(lines) > 2 || len(lines) == 2 && st.Size > 1.9 {
			st.Size *= 0.94
			lines = st.Wrap(v.value, x1-footPad-from)
		}
		for k, s := range lines {
			at := base + (float64(k)-float64(len(lines)-1)/2)*st.Size*1.15
			d.Letter(drawing.Tag{}, &st, drawing.Point{X: from, Y: at}, drawing.Start, s)
		}
	}
}

// number letters a sheet's number large, at the right end of the block.
func (b *binder) number(d *drawing.Draft, a area, mark, of, href string) {
	d.Letter(drawing.Tag{}, styleLabel, drawing.Point{X: a.x + footPad, Y: a.y + 3.4}, drawing.Start, "NUMBER")
	st := *styleNumber
	if w := st.Width(mark); w > a.width-2*footPad {
		st.Size *= (a.width - 2*footPad) / w
	}
	d.Letter(drawing.Tag{Href: href}, &st, drawing.Point{X: a.x + footPad, Y: a.y + a.height/2 + 2.9}, drawing.Start, mark)
	d.Letter(drawing.Tag{Href: "#" + indexAnchor}, styleOf, drawing.Point{X: a.x + footPad, Y: a.y + a.height - 1.9}, drawing.Start, strings.TrimSpace(of))
}
