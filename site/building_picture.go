package site

import (
	"wythe/renderer/building"
	"wythe/renderer/drawing"
	"wythe/renderer/units"
)

// heatPicture is a bar for each way by which heat leaves, the most first; nil
// where there is none. Names stand before the bars, or on a phone over them.
func heatPicture(b *building.Budget, system units.System, dress drawing.Dress) *drawing.Drawing {
	const bar, most = 3.6, 24
	width, left, right, pitch, over, size := 176.0, 62.0, 30.0, 6.2, 0.0, 3.0
	if dress == drawing.Phone {
		width, left, right, pitch, over, size = 92, 0.2, 30, 11, 4.6, 3.6
	}
	type row struct {
		name  string
		share float64
		heat  string
		kind  building.Kind
	}
	var rows []row
	for i, l := range b.Lines {
		if i == most {
			break
		}
		name := capital(l.Name)
		if l.Mark != "" {
			name = l.Mark + " " + l.Name
		}
		rows = append(rows, row{name, l.Share, percent(l.Share) + "  " + heatOf(l.Year, system), l.Kind})
	}
	if len(rows) == 0 || rows[0].share <= 0 {
		return nil
	}
	d := &drawing.Drawing{Title: "Where the heat goes", Desc: "A bar for each way by which heat leaves, the most first. The figures stand in the table.", Width: width, Height: 4 + pitch*float64(len(rows)) + 2}
	text := func(x, y float64, anchor drawing.Anchor, words string) {
		d.Root.Nodes = append(d.Root.Nodes, &drawing.Text{Tag: drawing.Tag{Kind: "title"}, At: drawing.Point{X: x, Y: y}, Size: size, Face: drawing.Reading, Weight: 400, Ink: drawing.InkLine, Anchor: anchor, Text: words})
	}
	long := width - left - right
	for i, r := range rows {
		y := 4 + over + pitch*float64(i)
		if over > 0 {
			text(left, y-1.2, drawing.Start, shortTo(r.name, 50))
		} else {
			text(left-2, y+bar-0.7, drawing.End, shortTo(r.name, 40))
		}
		w := max(0.3, long*max(0, r.share)/rows[0].share)
		fill := drawing.InkLine
		if r.kind == building.Junction || r.kind == building.Air {
			fill = drawing.InkPaper // an outline: what no layer stops
		}
		d.Root.Nodes = append(d.Root.Nodes, &drawing.Path{Tag: drawing.Tag{Kind: "series"}, Stroke: drawing.Stroke{Pen: drawing.PenSecondary, Ink: drawing.InkLine}, Fill: fill, Segs: []drawing.Seg{
			{Op: drawing.MoveTo, P: [3]drawing.Point{{X: left, Y: y}}}, {Op: drawing.LineTo, P: [3]drawing.Point{{X: left + w, Y: y}}},
			{Op: drawing.LineTo, P: [3]drawing.Point{{X: left + w, Y: y + bar}}}, {Op: drawing.LineTo, P: [3]drawing.Point{{X: left, Y: y + bar}}}, {Op: drawing.Close}}})
		text(left+w+1.6, y+bar-0.7, drawing.Start, r.heat)
	}
	return d
}

// shortTo cuts words to so many signs.
func shortTo(s string, n int) string {
	r := []rune(s)
	if len(r) <= n {
		return s
	}
	return string(r[:n-1]) + "…"
}
