package sheet

import (
	"wythe/renderer/detail"
	"wythe/renderer/drawing"
)

// Sizes of the picture of temperatures on paper, mm.
const (
	heatMargin = 2.5  // around the view: room for break lines
	heatLeast  = 76.0 // width: the scale bar and its words
)

// Temperatures draws the section's temperatures for paper at 1:scale, 0: that of
// the section's own drawing: what [Heat] lays over the section, without shading,
// over pale hatches, so that it reads in one color too. Nil where none are
// known.
func (sh *JunctionSheet) Temperatures(h *Heat, scale float64) *drawing.Drawing {
	if h == nil || h.HeatFlow == nil || h.Field == nil || !h.Temperatures {
		return nil
	}
	sh.name()
	if scale == 0 {
		main := sh.begin(JunctionLook{Look: Look{System: sh.system}})
		main.arrange()
		scale = main.scale
	}
	j := sh.begin(JunctionLook{Look: Look{Dress: drawing.Phone, System: sh.system, Scale: scale}})
	j.bare = true
	j.setScale(scale, drawing.Point{X: heatMargin, Y: heatMargin})
	j.width = max(heatLeast, j.x.length+2*heatMargin)
	if rest := j.width - j.x.length; rest > 2*heatMargin {
		j.setScale(scale, drawing.Point{X: rest / 2, Y: heatMargin})
	}
	rm := newRoom(nil)
	plain := *h
	plain.plain = true
	d := j.draft
	j.body()
	root := d.Root()
	for i, n := range root.Nodes {
		if g, ok := n.(*drawing.Group); ok && g.Tag.Kind == "hatch" {
			root.Nodes[i] = pale(g)
		}
	}
	j.beyond()
	if j.d.Status != detail.Issued {
		d.NotForConstruction(drawing.Point{X: j.at.X + j.x.length/2, Y: j.at.Y + j.y.length/2}, j.x.length*0.8, j.y.length*0.5)
	}
	j.breakLines()
	names := j.spaceNames(rm)
	j.isotherms(rm, &plain)
	j.spaces(names)
	height := j.foot(j.at.Y+j.y.length+3, nil, 0)
	out := &drawing.Drawing{
		Title: j.d.Mark + ", temperatures", Desc: "Lines of equal temperature over the section.",
		Width: j.width, Height: height, Scale: scale, Root: d.Root(),
	}
	b := drawing.Bounds(&out.Root) // a name or a number may stand past the view
	out.Root.Shift = drawing.Point{X: max(0, 0.5-b.Min.X), Y: max(0, 0.5-b.Min.Y)}
	out.Width = max(out.Width, b.Max.X+0.5) + out.Root.Shift.X
	out.Height = max(out.Height, b.Max.Y+0.5) + out.Root.Shift.Y
	return out
}

// pale is a hatch in the lightest ink. What drawings share stays as it is.
func pale(n drawing.Node) drawing.Node {
	ink := func(i *drawing.Ink) {
		if *i == drawing.InkHatch || *i == drawing.InkLine || *i == drawing.InkSecond {
			*i = drawing.InkHair
		}
	}
	switch n := n.(type) {
	case *drawing.Group:
		g := *n
		g.Nodes = make([]drawing.Node, len(n.Nodes))
		for i := range n.Nodes {
			g.Nodes[i] = pale(n.Nodes[i])
		}
		return &g
	case *drawing.Path:
		p := *n
		ink(&p.Stroke.Ink)
		ink(&p.Fill)
		return &p
	case *drawing.Circle:
		c := *n
		ink(&c.Stroke.Ink)
		ink(&c.Fill)
		return &c
	}
	return n
}
