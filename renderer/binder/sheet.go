package binder

import (
	"fmt"
	"math"

	"wythe/renderer/drawing"
	"wythe/renderer/drawing/code"
	"wythe/renderer/drawing/pdf"
	"wythe/renderer/units"
)

// binder is a document being bound.
type binder struct {
	set     Set
	entries []Entry
	book    *pdf.Book
	frame   area
	result  Result
	listed  []listed // what the index says of each entry
	indexed int      // pages kept for the index
}

// listed is where an entry's first sheet is, and at which scale.
type listed struct {
	page  int
	scale string
}

// anchor is the name of a detail's first sheet, for links.
func anchor(mark string) string { return mark }

func newBinder(set Set, entries []Entry) *binder {
	b := &binder{set: set, entries: entries, frame: set.Paper.frame(), listed: make([]listed, len(entries))}
	title := set.Library
	if set.Building != "" {
		title = set.Building
	}
	b.book = pdf.New(pdf.Info{Title: title, Author: set.Firm, Subject: "Construction details, to scale", Date: set.Date})
	b.keepIndex()
	return b
}

// work is a sheet being set out: its leaves, and the title block they share.
type work struct {
	*Sheet
	b      *binder
	code   *code.Code // nil: none
	foot   float64    // height of the title block
	field  area       // what is left above it
	leaves []*leaf
	behind []*picture // not yet set down
	scale  string     // as the title block says it
	ratio  string
	note   string // about the scale, under the drawing
}

// setOut sets a detail out, all but the title blocks.
func (b *binder) setOut(s *Sheet) *work {
	w := &work{Sheet: s, b: b, foot: footLeast}
	if s.Code != "" {
		if c, err := code.Of(s.Code); err == nil {
			w.code = c
			w.foot = max(w.foot, c.Side(code.Module))
		} else {
			b.result.Uncoded = append(b.result.Uncoded, s.Mark)
		}
	}
	f := b.frame
	w.field = area{f.x + pad, f.y + pad, f.width - 2*pad, f.height - w.foot - 2*pad}
	w.prepare()
	flow := &flow{next: w.further}
	w.picture(flow)
	for k := range s.Blocks {
		flow.block(&s.Blocks[k])
	}
	w.last(flow)
	return w
}

// add sets a detail out and prints its sheets.
func (b *binder) add(i int, s *Sheet) {
	w := b.setOut(s)
	b.listed[i].scale = w.ratio
	for k, l := range w.leaves {
		page := b.book.AddPage(b.set.Paper.Width, b.set.Paper.Height)
		if k == 0 {
			b.listed[i].page = page
			b.book.Anchor(anchor(s.Mark))
			b.book.Bookmark(0, s.Mark+" "+s.Title)
		} else {
			b.book.Bookmark(1, fmt.Sprintf("Sheet %d of %d", k+1, len(w.leaves)))
		}
		for _, title := range l.titles {
			b.book.Bookmark(1, title)
		}
		w.block(l.draft, k)
		b.print(l)
	}
}

// print sets a finished leaf down on the current page.
func (b *binder) print(l *leaf) {
	for _, d := range l.drawings(b.set.Paper) {
		b.book.Draw(d, drawing.Point{})
	}
}

// drawings are what a leaf is made of, in the coordinates of the paper.
func (l *leaf) drawings(p Paper) []*drawing.Drawing {
	var list []*drawing.Drawing
	sized := func(g drawing.Group) {
		list = append(list, &drawing.Drawing{Width: p.Width, Height: p.Height, Root: g})
	}
	if l.stamp != nil {
		sized(*l.stamp)
	}
	for _, p := range l.placed {
		g := drawing.Group{Shift: p.at, Nodes: []drawing.Node{&p.d.Root}}
		if w := p.window; w != nil {
			clip := (&drawing.Path{}).Rect(w.x, w.y, w.x+w.width, w.y+w.height)
			g = drawing.Group{Clip: clip, Nodes: []drawing.Node{&drawing.Group{Shift: p.at, Nodes: []drawing.Node{&p.d.Root}}}}
		}
		sized(g)
	}
	sized(l.draft.Root())
	return list
}

// leaf begins a further sheet of the detail, with columns for its tables.
func (w *work) leaf() (*leaf, []area) {
	l := &leaf{draft: drawing.NewDraft()}
	w.leaves = append(w.leaves, l)
	if !w.Issued && len(w.leaves) > 1 {
		w.stamp(l)
	}
	return l, w.field.columns()
}

// stamp sets NOT FOR CONSTRUCTION under all that stands on a leaf.
func (w *work) stamp(l *leaf) {
	f, d := w.field, drawing.NewDraft()
	d.NotForConstruction(drawing.Point{X: f.x + f.width/2, Y: f.y + f.height/2}, f.width*0.7, f.height*0.7)
	root := d.Root()
	l.stamp = &root
}

const noteRoom = 5.0 // of a note under the drawing, mm

// picture sets the drawing at the head of the first sheet, and gives what
// room it leaves to the flow.
func (w *work) picture(f *flow) {
	w.scale, w.ratio = "None", "–"
	if w.Draw == nil {
		f.leaf, f.areas = w.leaf()
		f.y = f.areas[0].y
		d := f.leaf.draft
		d.Letter(drawing.Tag{}, styleText, drawing.Point{X: w.field.x, Y: w.field.y + 4}, drawing.Start, "Not drawn: "+w.Why)
		for i := range f.areas {
			f.areas[i].y += 8
			f.areas[i].height -= 8
		}
		f.y = f.areas[0].y
		return
	}
	own := w.Draw(0, false)
	d, fits := own, w.fits(own, 0)
	if !fits {
		d = w.Draw(0, true)
		fits = w.fits(d, 0)
	}
	if !fits {
		d, fits = w.smaller(own.Scale, mostSteps, func(ratio float64) (*drawing.Drawing, bool) {
			d := w.Draw(ratio, false)
			if !w.fits(d, noteRoom) {
				d = w.Draw(ratio, true)
			}
			return d, w.fits(d, noteRoom)
		})
	}
	if !fits {
		own = w.Draw(0, true)
		f.leaf, f.areas = w.split(own)
		if len(f.areas) > 0 {
			f.y = f.areas[0].y
		}
		w.b.result.Split = append(w.b.result.Split, w.Mark)
		w.say(own.Scale)
		return
	}
	if d.Scale != own.Scale {
		_, ratio := drawing.ScaleWords(own.Scale)
		w.note = "Drawn smaller to fit this sheet: its own scale is " + ratio + "."
		w.b.result.Stepped = append(w.b.result.Stepped, w.Mark)
	}
	w.say(d.Scale)
	l, _ := w.leaf()
	l.placed = append(l.placed, placed{d: d, at: drawing.Point{X: w.field.x, Y: w.field.y}})
	below := w.field.y + d.Height
	if w.note != "" {
		l.draft.Letter(drawing.Tag{}, styleRed, drawing.Point{X: w.field.x + 6, Y: below + noteRoom - 1.4}, drawing.Start, w.note)
		below += noteRoom
	}
	f.leaf, f.areas = l, w.left(l, d.Width, below)
	if len(f.areas) > 0 {
		f.y = f.areas[0].y
	}
}

// tall is the height above which an area is worth parting into columns, mm.
const tall = 80.0

// left are the areas that a drawing leaves to tables: beside it, then below it,
// where pictures that fit there stand first.
func (w *work) left(l *leaf, width, below float64) []area {
	var list []area
	across := w.field.width
	if rest := w.field.width - width - gutter; rest >= besideLeast {
		beside := area{w.field.x + width + gutter, w.field.y, rest, w.field.height}
		list = append(list, beside.columns()...)
		across = width
	}
	below += blockGap
	under := area{w.field.x, below, across, w.field.y + w.field.height - below}
	return append(list, forTables(w.pack(l, []area{under}))...)
}

func (w *work) say(scale float64) { w.scale, w.ratio = w.b.scaleWords(scale) }

// scaleWords returns a scale as the title block says it, and as a ratio.
func (b *binder) scaleWords(scale float64) (words, ratio string) {
	inch, ratio := drawing.ScaleWords(scale)
	switch {
	case scale == 0:
		return "Not to scale", "–"
	case inch == "" || b.set.System == units.Metric:
		return ratio, ratio
	}
	return inch, ratio
}

// fits says whether a drawing goes into the field, with a note under it.
func (w *work) fits(d *drawing.Drawing, note float64) bool {
	return d.Width <= w.field.width+1e-9 && d.Height+note <= w.field.height+1e-9
}

// mostSteps is how many times smaller than its own scale a drawing may be
// drawn before it is split instead: its hatches and leaders close up.
const mostSteps = 4.0

// smaller draws at the largest standard scale at which the drawing fits, smaller
// than its own and at most so many times.
func (w *work) smaller(own, most float64, draw func(ratio float64) (d *drawing.Drawing, fits bool)) (d *drawing.Drawing, fits bool) {
	if own <= 0 {
		return nil, false
	}
	drawing.ChooseScale(w.b.set.System, math.Nextafter(own, math.Inf(1)), func(ratio float64) bool {
		if ratio > own*most {
			return true // give up
		}
		d, fits = draw(ratio)
		return fits
	})
	return d, fits
}
