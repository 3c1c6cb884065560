// Package binder sets a library's details out on sheets of paper and binds
// them into one PDF: an index, then for each detail its drawing at true scale
// in a frame with a title block along the foot, its schedule, figures and
// notes, and as many further sheets as those need.
//
// It takes plain data and drawings, and knows no detail file or figure.
//
// These hold of every sheet:
//
//  1. Everything stands inside the frame.
//  2. A drawing has a standard scale, said on the sheet: its own, if need be
//     with callouts keyed to the schedule; or, where it does not fit even so,
//     the next smaller that does; or, where none near does,
//     its own on several sheets that overlap and meet at match lines. So has
//     each further picture, which says its scale beneath it.
//  3. No row of a table is cut; a table that does not fit runs on, its head
//     said again.
//  4. The same input gives the same bytes.
package binder

import (
	"io"
	"time"

	"wythe/renderer/drawing"
	"wythe/renderer/units"
)

// Set is what the sheets of one document share.
type Set struct {
	Paper    Paper
	System   units.System
	Firm     string
	Library  string
	Building string    // "" where the set is of no one building
	Site     string    // address of the published site; "" none
	Date     time.Time // of the newest revision in the set; zero: none is dated
}

// Entry is a line of the sheet index.
type Entry struct {
	Mark, Title, Status, Rev, Date string
}

// Sheet is one detail to be set out.
type Sheet struct {
	Entry
	Issued                        bool // else it is marked as not for construction
	DrawnBy, CheckedBy, IssuedFor string
	// Page is the address of the detail's page; "" where there is no site.
	Page string
	// Code is the address drawn as a code; "" none.
	Code string
	// Draw draws the detail at 1:scale; 0: at its own. Keyed, its callouts are
	// bubbles alone, which its blocks explain. Nil: it has no drawing, and Why
	// says why. A tag's Href of "#MARK" leads to that detail's sheet,
	// which must be in the set.
	Draw   func(scale float64, keyed bool) *drawing.Drawing
	Why    string
	Blocks []Block
	// Pictures stand under the drawing where there is room, else at the head of
	// the next sheets.
	Pictures []Picture
}

// Picture is a further drawing of a detail, under a title of its own.
type Picture struct {
	Title string
	Says  string // what its lines are, beneath the title
	// Draw draws it at 1:scale, which it says itself; 0: at its own.
	Draw func(scale float64) *drawing.Drawing
}

// Block is one table beside or after the drawing.
type Block struct {
	Title, Note string
	Columns     []Column
	Rows        []Row
}

// Column of a table. One of Width and Share is set.
type Column struct {
	Head  string
	Width float64 // mm, at the least
	Share float64 // of what the widths leave
	End   bool    // set to the right
}

// Row of a table: one cell for each column.
type Row struct {
	Cells []Cell
	Total bool // the sum of what stands above it
}

// Cell of a table. All fields may be empty.
type Cell struct {
	Text  string
	Bold  bool
	Red   bool   // look here
	Small string // after the text
	Under string // beneath it
	Key   int    // a keynote's number in its bubble, in place of a text
	// Controls are letters of A, V, W and T in boxes, in place of a text.
	Controls string
	Href     string // where the text leads; "" nowhere
}

// Result is what a binding came to.
type Result struct {
	Pages int
	// Stepped are the marks drawn at a smaller scale than their own; Split
	// those drawn on several sheets; Uncoded those whose address cannot be
	// drawn as a code.
	Stepped, Split, Uncoded []string
}

// Bind writes the document. entries are all details, in order; sheet(i) makes
// the i-th when its turn comes, so that one is held at a time. progress, which
// may be nil, is told after each.
//
// Errors: those of out.
func Bind(out io.Writer, set Set, entries []Entry, sheet func(i int) *Sheet, progress func(done, total int)) (Result, error) {
	b := newBinder(set, entries)
	for i := range entries {
		b.add(i, sheet(i))
		if progress != nil {
			progress(i+1, len(entries))
		}
	}
	b.index()
	b.result.Pages = b.book.Pages()
	_, err := b.book.WriteTo(out)
	return b.result, err
}
