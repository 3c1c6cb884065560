package binder

import "strings"

// Paper is a size of sheet, lying: mm.
type Paper struct {
	Name          string
	Width, Height float64
}

const inch = 25.4

// Papers are the sizes that a sheet may have, held to the published table in
// tests.
//
// Source: ISO 216 and ISO 5457; ANSI Y14.1; the architectural series. Legal,
// 8 1/2 by 14 in, is common practice.
var Papers = []Paper{
	{"Letter", 11 * inch, 8.5 * inch},
	{"Legal", 14 * inch, 8.5 * inch},
	{"Tabloid", 17 * inch, 11 * inch},
	{"ANSI C", 22 * inch, 17 * inch},
	{"ANSI D", 34 * inch, 22 * inch},
	{"Arch A", 12 * inch, 9 * inch},
	{"Arch B", 18 * inch, 12 * inch},
	{"Arch C", 24 * inch, 18 * inch},
	{"Arch D", 36 * inch, 24 * inch},
	{"Arch E", 48 * inch, 36 * inch},
	{"A4", 297, 210},
	{"A3", 420, 297},
	{"A2", 594, 420},
	{"A1", 841, 594},
	{"A0", 1189, 841},
}

// PaperOf returns the size of a name, capitals or not.
func PaperOf(name string) (Paper, bool) {
	for _, p := range Papers {
		if strings.EqualFold(p.Name, name) {
			return p, true
		}
	}
	return Paper{}, false
}

// Sizes of a sheet, mm.
const (
	margin      = 8.0  // from the edge of the paper to the frame
	largeMargin = 12.0 // of sheets that are cut to size after printing
	large       = 500.0
	pad         = 2.5  // from the frame to what stands in it: a drawing of 258 fits Letter
	gutter      = 7.0  // between columns
	columnLeast = 118. // width of a column of tables
	besideLeast = 105. // of the one beside a drawing
	footLeast   = 17.0 // height of the title block
)

// area is a box that takes tables, mm.
type area struct{ x, y, width, height float64 }

// frame is the frame of the paper.
func (p Paper) frame() area {
	m := margin
	if p.Width > large {
		m = largeMargin
	}
	return area{m, m, p.Width - 2*m, p.Height - 2*m}
}

// columns parts an area into as many columns as are wide enough.
func (a area) columns() []area {
	n := max(1, int((a.width+gutter)/(columnLeast+gutter)))
	width := (a.width - gutter*float64(n-1)) / float64(n)
	list := make([]area, n)
	for i := range list {
		list[i] = area{a.x + float64(i)*(width+gutter), a.y, width, a.height}
	}
	return list
}
