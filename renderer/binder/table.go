package binder

import (
	"wythe/renderer/drawing"
)

const (
	blockGap  = 6.0 // between tables, one above the other
	titleRoom = 6.6 // a table's title
	headRoom  = 4.6 // the heads of its columns
)

// row is a row of a table, wrapped.
type row struct {
	*Row
	cells  [][]line
	height float64
}

// table is a block set to a width.
type table struct {
	*Block
	x0, x1 []float64 // of the columns, from the table's left
	width  float64
	rows   []row
	heads  bool // some column has a head
}

// mostLines of a row: a longer one is taken apart.
const mostLines = 16

// setTable wraps a block to a width.
func setTable(b *Block, width float64) *table {
	t := &table{Block: b, width: width}
	fixed, shares := 0.0, 0.0
	for _, c := range b.Columns {
		fixed += c.Width
		shares += c.Share
		t.heads = t.heads || c.Head != ""
	}
	stretch := 1.0
	if rest := width - columnGap*float64(len(b.Columns)-1); fixed > 0 && width > 180 {
		stretch = min(1.6, rest*0.6/fixed)
	}
	rest := width - fixed*stretch - columnGap*float64(len(b.Columns)-1)
	x := 0.0
	for _, c := range b.Columns {
		w := c.Width * stretch
		if c.Share > 0 {
			w = rest * c.Share / shares
		}
		t.x0 = append(t.x0, x)
		t.x1 = append(t.x1, x+w)
		x += w + columnGap
	}
	for i := range b.Rows {
		t.wrap(&b.Rows[i])
	}
	return t
}

// filled is the block without columns that hold nothing.
func (b *Block) filled() *Block {
	out := *b
	out.Columns, out.Rows = nil, make([]Row, len(b.Rows))
	for i := range b.Rows {
		out.Rows[i].Total = b.Rows[i].Total
	}
	for k, c := range b.Columns {
		there := false
		for i := range b.Rows {
			there = there || b.Rows[i].Cells[k] != Cell{}
		}
		if !there {
			continue
		}
		out.Columns = append(out.Columns, c)
		for i := range b.Rows {
			out.Rows[i].Cells = append(out.Rows[i].Cells, b.Rows[i].Cells[k])
		}
	}
	return &out
}

func (t *table) wrap(r *Row) {
	for {
		out := row{Row: r}
		n := 1
		var rest *Row
		for i := range r.Cells {
			c := &r.Cells[i]
			list := c.lines(t.x1[i] - t.x0[i])
			if len(list) > mostLines {
				if rest == nil {
					rest = &Row{Cells: make([]Cell, len(r.Cells)), Total: r.Total}
				}
				rest.Cells[i] = c.joined(list[mostLines:])
				first := *r
				first.Cells = append([]Cell(nil), out.Row.Cells...)
				first.Cells[i] = c.joined(list[:mostLines])
				out.Row = &first
				list = list[:mostLines]
			}
			out.cells = append(out.cells, list)
			n = max(n, len(list))
		}
		out.height = float64(n)*lineHeight + 2*rowPad
		t.rows = append(t.rows, out)
		if rest == nil {
			return
		}
		r = rest
	}
}

// over is the height of what stands above the first row.
func (t *table) over() float64 {
	h := titleRoom
	if t.heads {
		h += headRoom
	}
	return h
}

// least is the height below which the table is not begun: its heads and two
// rows, or all where it has fewer.
func (t *table) least() float64 {
	h := t.over()
	for i := range t.rows {
		if i < 2 {
			h += t.rows[i].height
		}
	}
	return h
}

// head draws a table's rule, its title and the heads of its columns, and
// returns where the first row begins.
func (t *table) head(d *drawing.Draft, x, y float64, again bool) float64 {
	heavy := drawing.Stroke{Pen: drawing.PenCut, Ink: drawing.InkLine}
	d.Line(drawing.Tag{}, heavy, drawing.Point{X: x, Y: y}, drawing.Point{X: x + t.width, Y: y})
	title, base := t.Title, y+5.2
	if again {
		title += " (continued)"
	}
	title = fit(styleBlock, title, t.width)
	d.Letter(drawing.Tag{}, styleBlock, drawing.Point{X: x, Y: base}, drawing.Start, title)
	if room := t.width - styleBlock.Width(title) - 4; t.Note != "" && styleNote.Width(t.Note) <= room {
		d.Letter(drawing.Tag{}, styleNote, drawing.Point{X: x + t.width, Y: base}, drawing.End, t.Note)
	}
	y += titleRoom
	if !t.heads {
		return y
	}
	for i, c := range t.Columns {
		at, anchor := drawing.Point{X: x + t.x0[i], Y: y + 3.1}, drawing.Start
		if c.End {
			at.X, anchor = x+t.x1[i], drawing.End
		}
		d.Letter(drawing.Tag{}, styleHead, at, anchor, fit(styleHead, c.Head, t.x1[i]-t.x0[i]))
	}
	y += headRoom
	d.Line(drawing.Tag{}, drawing.Stroke{Pen: drawing.PenSecondary, Ink: drawing.InkLine}, drawing.Point{X: x, Y: y}, drawing.Point{X: x + t.width, Y: y})
	return y
}

// fit is as much of a line as there is room for.
func fit(style *drawing.Style, s string, room float64) string {
	if style.Width(s) <= room {
		return s
	}
	r := []rune(s)
	for len(r) > 0 && style.Width(string(r)+"…") > room {
		r = r[:len(r)-1]
	}
	return string(r) + "…"
}

// draw draws a row, and the rule under it.
func (r *row) draw(d *drawing.Draft, t *table, x, y float64) {
	if r.Total {
		d.Line(drawing.Tag{}, drawing.Stroke{Pen: drawing.PenSecondary, Ink: drawing.InkLine}, drawing.Point{X: x, Y: y}, drawing.Point{X: x + t.width, Y: y})
	}
	for i := range r.cells {
		c := &r.Cells[i]
		base := y + rowPad + lineHeight*0.76
		c.signs(d, x+t.x0[i], base)
		for k := range r.cells[i] {
			tag := drawing.Tag{}
			if k == 0 {
				tag.Href = c.Href
			}
			r.cells[i][k].letters(d, tag, x+t.x0[i], x+t.x1[i], base+float64(k)*lineHeight, t.Columns[i].End)
		}
	}
	d.Line(drawing.Tag{}, drawing.Stroke{Pen: drawing.PenHatch, Ink: drawing.InkHair}, drawing.Point{X: x, Y: y + r.height}, drawing.Point{X: x + t.width, Y: y + r.height})
}
