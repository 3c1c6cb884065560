package svg

import "wythe/renderer/drawing"

// Page knows the hatches that the drawings of a page hold so far.
type Page struct{ ids map[drawing.MemoKey]string }

// reuse returns the id of a path that the page holds already, or notes that
// id is to be it.
func (p *Page) reuse(m *drawing.Memo, id string) (string, bool) {
	if held, ok := p.ids[m.Key()]; ok {
		return held, true
	}
	if p.ids == nil {
		p.ids = map[drawing.MemoKey]string{}
	}
	p.ids[m.Key()] = id
	return id, false
}

// worthUse is the length of path data above which a use is shorter.
const worthUse = 80

func (w *writer) path(p *drawing.Path) {
	if len(p.Segs) == 0 {
		return
	}
	decimals := 3
	if p.Stroke.Ink == drawing.InkHatch || p.Fill >= drawing.InkShade {
		decimals = 2
	}
	var d string
	if p.Memo != nil {
		d = text(p.Memo.Data(func() []byte { return data(nil, p.Segs, decimals) }))
	} else {
		w.data = data(w.data[:0], p.Segs, decimals)
		d = text(w.data)
	}
	reused := w.opt.Page != nil && p.Memo != nil && len(d) > worthUse
	if len(p.Again) == 0 && !reused {
		w.open(&p.Tag)
		w.paintPath(p)
		w.element("<path d=\"", d, w.close())
		return
	}
	tagged := p.Tag != (drawing.Tag{})
	if tagged {
		w.open(&p.Tag)
		w.canvas.Group(w.close())
	}
	id, held := w.newID(), false
	if reused {
		id, held = w.opt.Page.reuse(p.Memo, id)
	}
	if held {
		w.element("<use xlink:href=\"#", id, "")
	} else {
		w.open(&drawing.Tag{})
		w.attr = attribute(w.attr, "id", id)
		w.paintPath(p)
		w.element("<path d=\"", d, w.close())
	}
	for _, s := range p.Again {
		w.canvas.Use(s.X, s.Y, "#"+id)
	}
	if tagged {
		w.canvas.Gend()
	}
}

func (w *writer) paintPath(p *drawing.Path) {
	w.paint(p.Stroke, p.Fill)
	if p.Odd {
		w.attr = attribute(w.attr, "fill-rule", "evenodd")
	}
}

// element writes an empty element: its name and first attribute up to the
// quote, the value, and the rest. Paths, texts and circles are most of a
// drawing, and svgo spends seven allocations on each: they go to its writer
// straight.
func (w *writer) element(first, value, rest string) {
	w.out.WriteString(first)
	w.out.WriteString(value)
	w.out.WriteByte('"')
	if rest != "" {
		w.out.WriteByte(' ')
		w.out.WriteString(rest)
	}
	w.out.WriteString("/>\n")
}

func (w *writer) circle(c *drawing.Circle) {
	w.open(&c.Tag)
	w.attr = number(w.attr, "cy", c.Center.Y)
	w.attr = number(w.attr, "r", c.R)
	w.paint(c.Stroke, c.Fill)
	w.data = appendNumber(w.data[:0], c.Center.X)
	w.element("<circle cx=\"", text(w.data), w.close())
}
