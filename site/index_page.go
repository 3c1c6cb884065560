package site

import (
	"strings"

	"wythe/renderer/detail"
	"wythe/renderer/drawing"
	"wythe/renderer/drawing/svg"
	"wythe/renderer/figures"
	"wythe/renderer/material"
	"wythe/renderer/sheet"
	"wythe/renderer/units"
	"wythe/site/page"
)

// index fills the drawing index.
func (v view) index() *page.Index {
	set := v.View.Settings()
	p := &page.Index{Rows: make([]page.IndexRow, len(v.details))}
	p.Title = "Drawing index"
	p.Lead = "Every detail of " + set.Title + ". Pictures are the real sections, those of assemblies all to one scale."
	p.ScaleRatio = "1:24"
	v.View.Cards(detail.AllDetails)
	for i, row := range v.facts.rows() {
		v.reads.Record("row/"+v.details[i].d.File, row.hash)
		p.Rows[i] = row.is
	}
	return p
}

func (v view) indexRow(e *entry) page.IndexRow {
	d := e.d
	row := page.IndexRow{
		Mark: d.Mark, Title: d.Title, Href: e.href,
		Trades: d.Trades, Tags: d.Tags, Status: d.Status, SupersededBy: d.SupersededBy, Version: version(d),
	}
	if len(d.Revisions) > 0 {
		row.Rev, row.Date = d.Revisions[0].Rev, day(d.Revisions[0].Date)
	}
	a := d.Assembly
	if a == nil {
		return v.junctionRow(e, row)
	}
	system := v.View.Settings().Units
	row.Element = a.Element
	row.Controls = stackControls(a)
	row.MakeUp = makeUp(a, system)
	fig := v.figures(e)
	if t := fig.Thermal; t != nil && t.Resistance.Computed {
		row.Figure = pair(t.Resistance.Value, system)
		row.Rank = float64(t.Resistance.Value)
		for i := range v.View.Settings().Targets {
			target := &v.View.Settings().Targets[i]
			if target.Element == a.Element && (target.Quantity == "R-value" || target.Quantity == "U-factor") && !meets(target, t) {
				row.Short = misses(target)
			}
		}
	}
	if len(v.details) > inlineThumbs {
		row.ThumbFile = thumbFile(e)
		picture := v.thumb(e, fig)
		row.ThumbWidth, row.ThumbHeight = picture.Width, picture.Height
		return row
	}
	row.Thumb = inline(v.thumb(e, fig), svg.Options{Prefix: "t-" + folder(d.Mark), Class: "thumb", Hidden: true})
	return row
}

// thumb is an assembly's picture for the index.
func (v view) thumb(e *entry, fig *figures.Assembly) *drawing.Drawing {
	return sheet.Assembly(e.d, fig, sheet.Look{Dress: drawing.Thumb, System: v.View.Settings().Units})
}

// thumbFile is where an assembly's picture stands, from the site's root.
func thumbFile(e *entry) string { return strings.TrimSuffix(e.href, "index.html") + "thumb.svg" }

// thumbBytes is the picture as a file.
func (v view) thumbBytes(e *entry) []byte {
	if e.d.Junction != nil {
		return v.junctionThumbBytes(e)
	}
	return svg.Append(nil, v.thumb(e, v.figures(e)), svg.Options{Dress: svg.Standalone})
}

// makeUp names the layers with their thickness, from inside: "Concrete 5,
// film 15 mil, XPS 2 × 3, stone 8 in".
func makeUp(a *detail.Assembly, system units.System) string {
	unit := " in"
	if system == units.Metric {
		unit = " mm"
	}
	var b strings.Builder
	last := false // the last thickness had its unit taken off
	for i, l := range a.Layers {
		if i > 0 {
			b.WriteString(", ")
		}
		name := l.Material.Name
		if l.Material.Hatch == material.Air {
			name = l.Name
		}
		if i == 0 {
			name = capital(name)
		}
		size := thickness(l, system).Main
		bare, cut := strings.CutSuffix(size, unit)
		b.WriteString(name + " " + bare)
		if last = cut; !cut {
			continue
		}
	}
	if last {
		b.WriteString(unit)
	}
	return b.String()
}
