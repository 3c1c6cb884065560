package binder

import (
	"math"
	"slices"

	"wythe/renderer/drawing"
)

// picture is a further drawing set out: its title, what is said beneath, and
// the drawing below that.
type picture struct {
	*Picture
	d             *drawing.Drawing
	says          []string
	over          float64 // height of what stands above the drawing
	width, height float64
}

// prepare draws the further pictures at scales at which each fits a sheet of
// its own. One that fits at none is left to match lines.
func (w *work) prepare() {
	for k := range w.Pictures {
		p := &picture{Picture: &w.Pictures[k]}
		own := p.Draw(0)
		if p.set(own); !p.fits(w.field) {
			w.smaller(own.Scale, math.Inf(1), func(ratio float64) (*drawing.Drawing, bool) {
				p.set(p.Draw(ratio))
				return p.d, p.fits(w.field)
			})
		}
		if !p.fits(w.field) {
			p.set(own)
		}
		w.behind = append(w.behind, p)
	}
}

func (p *picture) set(d *drawing.Drawing) {
	p.d, p.width = d, d.Width
	p.says = styleUnder.Wrap(p.Says, p.width)
	p.over = titleRoom + float64(len(p.says))*lineHeight + rowPad
	p.height = p.over + d.Height
}

func (p *picture) fits(a area) bool { return p.width <= a.width+1e-9 && p.height <= a.height+1e-9 }

// draw sets the picture down with its top left at a place.
func (p *picture) draw(l *leaf, x, y float64) {
	l.titles = append(l.titles, p.Title)
	d := l.draft
	d.Line(drawing.Tag{}, drawing.Stroke{Pen: drawing.PenCut, Ink: drawing.InkLine}, drawing.Point{X: x, Y: y}, drawing.Point{X: x + p.width, Y: y})
	d.Letter(drawing.Tag{}, styleBlock, drawing.Point{X: x, Y: y + 5.2}, drawing.Start, fit(styleBlock, p.Title, p.width))
	for k, s := range p.says {
		d.Letter(drawing.Tag{}, styleUnder, drawing.Point{X: x, Y: y + titleRoom + (float64(k)+0.8)*lineHeight}, drawing.Start, s)
	}
	l.placed = append(l.placed, placed{d: p.d, at: drawing.Point{X: x, Y: y + p.over}})
	if _, stamped := unstamped(p.d); stamped {
		l.stamp = nil // it says so itself
	}
}

// pack sets down those of the pictures that are behind which fit, and returns
// what it leaves of the areas.
func (w *work) pack(l *leaf, areas []area) []area {
	w.behind = slices.DeleteFunc(w.behind, func(p *picture) bool {
		at := slices.IndexFunc(areas, p.fits)
		if at < 0 {
			return false
		}
		a := areas[at]
		p.draw(l, a.x, a.y)
		below := area{a.x, a.y + p.height + blockGap, a.width, a.height - p.height - blockGap}
		rest := []area{below}
		if beside := (area{a.x + p.width + gutter, a.y, a.width - p.width - gutter, a.height}); beside.width >= besideLeast {
			rest[0].width = p.width
			rest = []area{beside, rest[0]}
		}
		areas = slices.Concat(areas[:at], rest, areas[at+1:])
		return true
	})
	return areas
}

// forTables parts areas into columns, and drops those that hold no table.
func forTables(areas []area) []area {
	var list []area
	for _, a := range areas {
		switch {
		case a.width < besideLeast || a.height <= titleRoom+headRoom:
		case a.height > tall:
			list = append(list, a.columns()...)
		default:
			list = append(list, a)
		}
	}
	return list
}

// further begins a sheet for what comes next: pictures that are behind at its
// head, and areas for tables. One that pictures fill is followed by another.
func (w *work) further() (*leaf, []area) {
	for {
		l, areas := w.leaf()
		if len(w.behind) == 0 {
			return l, areas
		}
		before := len(w.behind)
		areas = forTables(w.pack(l, []area{w.field}))
		if len(w.behind) == before { // larger than a sheet
			w.leaves = w.leaves[:len(w.leaves)-1]
			p := w.behind[0]
			w.behind = w.behind[1:]
			l, areas = w.split(p.d)
			l.titles = append(l.titles, p.Title)
		}
		if len(areas) > 0 {
			return l, areas
		}
	}
}

// last sets down the pictures that no table made room for: below the last table
// and in columns of its sheet that are left empty, else on further sheets.
func (w *work) last(f *flow) {
	if len(f.areas) > 0 && len(w.behind) > 0 {
		rest := f.areas[0]
		if f.y > rest.y {
			f.y += blockGap
		}
		rest.y, rest.height = f.y, f.bottom()-f.y
		areas := []area{rest}
		for _, a := range f.areas[1:] {
			if last := &areas[len(areas)-1]; a.y == last.y && a.height == last.height {
				last.width = a.x + a.width - last.x
			} else {
				areas = append(areas, a)
			}
		}
		w.pack(f.leaf, areas)
	}
	for len(w.behind) > 0 {
		w.further()
	}
}
