package pdf

import (
	"fmt"
	"math"

	"wythe/renderer/drawing"
)

// Draw sets a drawing down on the page with its top left at a point, mm from
// the page's top left. The drawing is not changed.
func (b *Book) Draw(d *drawing.Drawing, at drawing.Point) {
	b.ids = nil
	b.group(&d.Root, &d.Root, at)
}

func (b *Book) node(n drawing.Node, root *drawing.Group, at drawing.Point) {
	switch n := n.(type) {
	case *drawing.Group:
		b.group(n, root, at)
	case *drawing.Path:
		b.leads(&n.Tag, n, at)
		b.path(n, at)
	case *drawing.Circle:
		b.leads(&n.Tag, n, at)
		b.circle(n, at)
	case *drawing.Text:
		b.leads(&n.Tag, n, at)
		b.text(n, at)
	case *drawing.Use:
		g := b.find(root, n.ID)
		b.group(g, root, drawing.Point{X: at.X + n.Shift.X, Y: at.Y + n.Shift.Y})
	default:
		panic(fmt.Sprintf("pdf: node %T", n))
	}
}

// leads makes a node's box lead where its tag says.
func (b *Book) leads(t *drawing.Tag, n drawing.Node, at drawing.Point) {
	if t.Href == "" {
		return
	}
	box := drawing.Bounds(n)
	if box.Empty() {
		return
	}
	var moved drawing.Box
	moved.Add(box.Min.X+at.X, box.Min.Y+at.Y)
	moved.Add(box.Max.X+at.X, box.Max.Y+at.Y)
	b.link(moved, t.Href)
}

func (b *Book) group(g, root *drawing.Group, at drawing.Point) {
	b.leads(&g.Tag, g, at)
	at.X += g.Shift.X
	at.Y += g.Shift.Y
	if g.Clip == nil {
		for _, n := range g.Nodes {
			b.node(n, root, at)
		}
		return
	}
	was := b.save()
	b.segs(g.Clip.Segs, at, 1000)
	b.buf = append(b.buf, "W n\n"...)
	for _, n := range g.Nodes {
		b.node(n, root, at)
	}
	b.restore(was)
}

// find returns the group of an ID in the drawing being written.
func (b *Book) find(root *drawing.Group, id string) *drawing.Group {
	if b.ids == nil {
		b.ids = map[string]*drawing.Group{}
		b.gather(root)
	}
	g := b.ids[id]
	if g == nil {
		panic(fmt.Sprintf("pdf: no group has the id %q", id))
	}
	return g
}

func (b *Book) gather(g *drawing.Group) {
	if g.Tag.ID != "" {
		b.ids[g.Tag.ID] = g
	}
	for _, n := range g.Nodes {
		if c, ok := n.(*drawing.Group); ok {
			b.gather(c)
		}
	}
}

// paint returns the operator that paints a path, having set what it is
// painted in; "" where it shows nothing.
func (b *Book) paint(s *drawing.Stroke, fill drawing.Ink) string {
	stroked := s.Pen > 0 && s.Ink != drawing.InkNone
	if stroked {
		b.setStroke(s)
	}
	if fill != drawing.InkNone {
		b.setFill(fill)
		if stroked {
			return "B\n"
		}
		return "f\n"
	}
	if stroked {
		return "S\n"
	}
	return ""
}

func (b *Book) path(p *drawing.Path, at drawing.Point) {
	if len(p.Segs) == 0 {
		return
	}
	op := b.paint(&p.Stroke, p.Fill)
	if op == "" {
		return
	}
	if p.Odd && p.Fill != drawing.InkNone {
		op = op[:1] + "*\n"
	}
	if p.Memo == nil && len(p.Again) == 0 {
		b.segs(p.Segs, at, scaleOf(p.Stroke.Ink))
		b.buf = append(b.buf, op...)
		return
	}
	data := b.about(p)
	b.copied(data, op, at)
	for _, a := range p.Again {
		b.copied(data, op, drawing.Point{X: at.X + a.X, Y: at.Y + a.Y})
	}
}

// about returns a path's operators about its own origin. Those of shared
// paths are kept: many drawings of one book hold them.
func (b *Book) about(p *drawing.Path) []byte {
	if p.Memo != nil {
		if data, ok := b.shared[p.Memo.Key()]; ok {
			return data
		}
	}
	c := converter{scale: scaleOf(p.Stroke.Ink)}
	c.segs(p.Segs)
	if p.Memo != nil {
		b.shared[p.Memo.Key()] = c.buf
	}
	return c.buf
}

// copied paints operators about the page's bottom left, moved to a point.
func (b *Book) copied(data []byte, op string, at drawing.Point) {
	b.buf = append(b.buf, "q\n"...)
	b.move(drawing.Point{X: at.X, Y: at.Y - b.height()})
	b.buf = append(b.buf, data...)
	b.buf = append(b.buf, op...)
	b.buf = append(b.buf, "Q\n"...)
}

// segs appends a path's operators, moved by a point.
func (b *Book) segs(segs []drawing.Seg, at drawing.Point, scale float64) {
	c := converter{buf: b.buf, dx: at.X, dy: b.height() - at.Y, scale: scale}
	c.segs(segs)
	b.buf = c.buf
}

func (b *Book) circle(n *drawing.Circle, at drawing.Point) {
	op := b.paint(&n.Stroke, n.Fill)
	if op == "" {
		return
	}
	c := converter{buf: b.buf, dx: at.X, dy: b.height() - at.Y, scale: scaleOf(n.Stroke.Ink)}
	from := drawing.Point{X: n.Center.X + n.R, Y: n.Center.Y}
	c.point(from, " m\n")
	c.arc(n.Center, n.R, 0, 2*math.Pi)
	c.buf = append(c.buf, "h "...)
	b.buf = append(c.buf, op...)
}
