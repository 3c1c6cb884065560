package binder

import "wythe/renderer/drawing"

// leaf is one sheet of paper being drawn.
type leaf struct {
	stamp  *drawing.Group // under everything; nil: none
	placed []placed       // under what is drafted
	draft  *drawing.Draft
	titles []string // of its pictures
}

// placed is a drawing set down on a leaf, clipped to a window where it has
// one.
type placed struct {
	d      *drawing.Drawing
	at     drawing.Point
	window *area
}

// flow fills areas with tables, one after the other, and asks for a further
// leaf when they are full.
type flow struct {
	leaf  *leaf
	areas []area // those not yet full, the current one first
	y     float64
	next  func() (*leaf, []area)
}

// advance goes to the next area, on a further leaf after the last.
func (f *flow) advance() {
	if len(f.areas) > 1 {
		f.areas = f.areas[1:]
	} else {
		f.leaf, f.areas = f.next()
	}
	f.y = f.areas[0].y
}

func (f *flow) bottom() float64 { return f.areas[0].y + f.areas[0].height }

// leavesOne reports whether the last row of a table would run on alone if the
// one before it, the i-th, were set in what room is left: that runs on with it.
func (t *table) leavesOne(i int, room float64) bool {
	return i >= 2 && i == len(t.rows)-2 && t.rows[i].height+t.rows[i+1].height > room
}

// block sets a table. Columns of a leaf of their own hold the head of any
// table with two of the tallest rows: so the search for room ends.
func (f *flow) block(b *Block) {
	if len(b.Rows) == 0 {
		return
	}
	b = b.filled()
	if len(f.areas) == 0 {
		f.leaf, f.areas = f.next()
		f.y = f.areas[0].y
	}
	if f.y > f.areas[0].y {
		f.y += blockGap
	}
	t := setTable(b, f.areas[0].width)
	for f.y+t.least() > f.bottom() {
		f.advance()
		t = setTable(b, f.areas[0].width)
	}
	at := t.head(f.leaf.draft, f.areas[0].x, f.y, false)
	for i := 0; i < len(t.rows); i++ {
		if at+t.rows[i].height > f.bottom() || t.leavesOne(i, f.bottom()-at) {
			rest := *b
			rest.Rows = nil
			for k := range t.rows[i:] {
				rest.Rows = append(rest.Rows, *t.rows[i+k].Row)
			}
			f.advance()
			t, i = setTable(&rest, f.areas[0].width), 0
			for f.y+t.least() > f.bottom() {
				f.advance()
				t = setTable(&rest, f.areas[0].width)
			}
			at = t.head(f.leaf.draft, f.areas[0].x, f.y, true)
		}
		t.rows[i].draw(f.leaf.draft, t, f.areas[0].x, at)
		at += t.rows[i].height
	}
	f.y = at
}
