package binder

import (
	"fmt"
	"strconv"

	"wythe/renderer/drawing"
)

const indexAnchor = " index" // no mark begins with a space

// Sizes of the index's head, mm.
const indexHead = 26.0

var styleName = &drawing.Style{Face: drawing.Lettering, Weight: 700, Size: 7.5, Ink: drawing.InkLine}

// keepIndex adds the pages that the index will stand on: how many is known
// from the entries alone, and what they say only at the end.
func (b *binder) keepIndex() {
	leaves := b.indexLeaves()
	b.indexed = len(leaves)
	for range leaves {
		b.book.AddPage(b.set.Paper.Width, b.set.Paper.Height)
	}
	b.book.Resume(1)
	b.book.Anchor(indexAnchor)
	b.book.Bookmark(0, "Sheet index")
}

// index draws the pages kept for it.
func (b *binder) index() {
	leaves := b.indexLeaves()
	if len(leaves) != b.indexed {
		panic("binder: the index changed its length")
	}
	for k, l := range leaves {
		b.book.Resume(k + 1)
		ends := b.foot(l.draft, footLeast, []footCell{
			b.firmCell(), b.libraryCell(),
			{"TITLE", 2, []footValue{{"Sheet index", styleTitle, ""}}},
			{"PAPER", 1, []footValue{{b.paperWords(), styleFoot, ""}}},
			{"DATE", 1, []footValue{{b.dateWords(), styleFoot, ""}}},
		}, 0)
		f := b.frame
		x := ends[len(ends)-1][0]
		b.number(l.draft, area{x, f.y + f.height - footLeast, numberRoom, footLeast}, "INDEX", fmt.Sprintf("Sheet %d of %d", k+1, len(leaves)), b.set.Site)
		b.print(l)
	}
}

func (b *binder) dateWords() string {
	if b.set.Date.IsZero() {
		return "No revision is dated"
	}
	return b.set.Date.Format("2 Jan 2006")
}

// paperWords name the paper and its size in the set's units.
func (b *binder) paperWords() string {
	p := b.set.Paper
	if p.Width == float64(int(p.Width)) {
		return fmt.Sprintf("%s, %.0f × %.0f mm", p.Name, p.Width, p.Height)
	}
	return fmt.Sprintf("%s, %s × %s in", p.Name, inches(p.Width), inches(p.Height))
}

func inches(mm float64) string {
	v := mm / inch
	if whole := int(v + 1e-9); v-float64(whole) > 0.4 {
		return strconv.Itoa(whole) + " 1/2"
	}
	return strconv.Itoa(int(v + 0.5))
}

// indexLeaves sets the index out.
func (b *binder) indexLeaves() []*leaf {
	var leaves []*leaf
	f := b.frame
	field := area{f.x + pad, f.y + pad, f.width - 2*pad, f.height - footLeast - 2*pad}
	flow := &flow{}
	flow.next = func() (*leaf, []area) {
		l := &leaf{draft: drawing.NewDraft()}
		leaves = append(leaves, l)
		a := field
		if len(leaves) == 1 {
			b.heading(l.draft, a)
			a.y += indexHead
			a.height -= indexHead
		}
		return l, a.columns()
	}
	block := Block{Title: "Sheets", Note: "Select a number to go there", Columns: []Column{
		{Head: "Number", Width: 17}, {Head: "Title", Share: 1}, {Head: "Status", Width: 17},
		{Head: "Rev, date", Width: 26}, {Head: "Scale", Width: 12, End: true}, {Head: "Page", Width: 9, End: true},
	}}
	for i, e := range b.entries {
		page, scale := "–", "–" // until it is known: a column that is empty is left out
		if at := b.listed[i]; at.page > 0 {
			page, scale = strconv.Itoa(at.page), at.scale
		}
		block.Rows = append(block.Rows, Row{Cells: []Cell{
			{Text: e.Mark, Bold: true, Href: "#" + anchor(e.Mark)}, {Text: e.Title}, {Text: e.Status},
			{Text: e.Rev, Bold: true, Small: e.Date}, {Text: fit(styleText, scale, 12)}, {Text: page},
		}})
	}
	flow.block(&block)
	if len(leaves) == 0 {
		flow.next()
	}
	return leaves
}

// heading letters what the set is, over its index.
func (b *binder) heading(d *drawing.Draft, a area) {
	name := b.set.Library
	if b.set.Building != "" {
		name = b.set.Building
	}
	st := *styleName
	for st.Width(name) > a.width {
		st.Size *= 0.94
	}
	d.Letter(drawing.Tag{}, &st, drawing.Point{X: a.x, Y: a.y + 9}, drawing.Start, name)
	words := b.set.Firm
	if b.set.Building != "" && b.set.Library != "" {
		words += ", " + b.set.Library
	}
	small := *styleText
	for small.Width(words) > a.width {
		small.Size *= 0.94
	}
	d.Letter(drawing.Tag{Href: b.set.Site}, &small, drawing.Point{X: a.x, Y: a.y + 15}, drawing.Start, words)
	d.Letter(drawing.Tag{}, styleUnder, drawing.Point{X: a.x, Y: a.y + 20}, drawing.Start,
		"Drawings are true to scale when printed at 100 % on "+b.paperWords()+". Check against the scale bar.")
}
