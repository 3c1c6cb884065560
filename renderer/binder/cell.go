package binder

import (
	"strconv"

	"wythe/renderer/drawing"
)

// The styles of a sheet (see look: type).
var (
	styleBlock = &drawing.Style{Face: drawing.Lettering, Weight: 600, Size: 3.8, Ink: drawing.InkLine}
	styleNote  = &drawing.Style{Face: drawing.Reading, Weight: 400, Size: 2.4, Ink: drawing.InkSecond}
	styleHead  = &drawing.Style{Face: drawing.Lettering, Weight: 500, Size: 2.2, Ink: drawing.InkSecond}
	styleText  = &drawing.Style{Face: drawing.Reading, Weight: 400, Size: 2.8, Ink: drawing.InkLine}
	styleBold  = &drawing.Style{Face: drawing.Reading, Weight: 600, Size: 2.8, Ink: drawing.InkLine}
	styleRed   = &drawing.Style{Face: drawing.Reading, Weight: 600, Size: 2.8, Ink: drawing.InkMark}
	styleSmall = &drawing.Style{Face: drawing.Reading, Weight: 400, Size: 2.3, Ink: drawing.InkSecond}
	styleUnder = &drawing.Style{Face: drawing.Reading, Weight: 400, Size: 2.5, Ink: drawing.InkSecond}
	styleKey   = &drawing.Style{Face: drawing.Lettering, Weight: 600, Size: 2.5, Ink: drawing.InkLine}
)

// Sizes of a table, mm.
const (
	lineHeight  = 3.6
	rowPad      = 1.3 // above and below the lines of a row
	columnGap   = 3.0
	keyR        = 2.15
	controlSide = 3.3
	controlStep = 3.8
	smallGap    = 1.2
	wide        = 70.0 // of a cell in which what stands under a text stands after it
)

// line is one line of a cell: a text and a small one after it.
type line struct {
	text  string
	style *drawing.Style
	small string
}

// lines are what a cell holds, wrapped to a width.
func (c *Cell) lines(width float64) []line {
	style := styleText
	switch {
	case c.Red:
		style = styleRed
	case c.Bold:
		style = styleBold
	}
	var list []line
	for _, s := range style.Wrap(c.Text, width) {
		list = append(list, line{text: s, style: style})
	}
	if c.Small != "" {
		last := len(list) - 1
		if last >= 0 && style.Width(list[last].text)+smallGap+styleSmall.Width(c.Small) <= width {
			list[last].small = c.Small
		} else {
			for _, s := range styleSmall.Wrap(c.Small, width) {
				list = append(list, line{text: s, style: styleSmall})
			}
		}
	}
	if n := len(list); n == 1 && c.Small == "" && c.Under != "" && width > wide && style.Width(c.Text)+smallGap+styleSmall.Width(c.Under) <= width {
		list[0].small = c.Under
		return list
	}
	for _, s := range styleUnder.Wrap(c.Under, width) {
		list = append(list, line{text: s, style: styleUnder})
	}
	if len(list) == 0 && (c.Key > 0 || c.Controls != "") {
		list = append(list, line{style: styleText})
	}
	return list
}

// joined is the cell that holds some of c's lines.
func (c *Cell) joined(list []line) Cell {
	out := *c
	out.Text, out.Small, out.Under = "", "", ""
	add := func(to *string, s string) {
		if *to != "" && s != "" {
			*to += " "
		}
		*to += s
	}
	for _, l := range list {
		switch l.style {
		case styleSmall:
			add(&out.Small, l.text)
		case styleUnder:
			add(&out.Under, l.text)
		default:
			add(&out.Text, l.text)
			add(&out.Small, l.small)
		}
	}
	return out
}

// letters sets one line of a cell between x0 and x1, on a base line.
func (l *line) letters(d *drawing.Draft, tag drawing.Tag, x0, x1, y float64, end bool) {
	if end {
		width := l.style.Width(l.text)
		if l.small != "" {
			width += smallGap + styleSmall.Width(l.small)
		}
		x0 = x1 - width
	}
	d.Letter(tag, l.style, drawing.Point{X: x0, Y: y}, drawing.Start, l.text)
	if l.small != "" {
		d.Letter(drawing.Tag{}, styleSmall, drawing.Point{X: x0 + l.style.Width(l.text) + smallGap, Y: y}, drawing.Start, l.small)
	}
}

// signs draws a cell's bubble or boxes; y is the base line of its first line.
func (c *Cell) signs(d *drawing.Draft, x, y float64) {
	thin := drawing.Stroke{Pen: drawing.PenSecondary, Ink: drawing.InkLine}
	middle := y - styleText.Size*0.34
	if c.Key > 0 {
		d.Disc(drawing.Tag{}, thin, drawing.InkNone, drawing.Point{X: x + keyR, Y: middle}, keyR)
		s := strconv.Itoa(c.Key)
		d.Letter(drawing.Tag{}, styleKey, drawing.Point{X: x + keyR, Y: middle + styleKey.Size*0.36}, drawing.Middle, s)
	}
	for i := range len(c.Controls) {
		place := map[byte]float64{'A': 0, 'V': 1, 'W': 2, 'T': 3}[c.Controls[i]]
		left := x + place*controlStep
		box := controlSide / 2
		d.Shape(drawing.Tag{}, thin, drawing.InkNone,
			drawing.Point{X: left, Y: middle - box}, drawing.Point{X: left + controlSide, Y: middle - box},
			drawing.Point{X: left + controlSide, Y: middle + box}, drawing.Point{X: left, Y: middle + box})
		d.Letter(drawing.Tag{}, styleKey, drawing.Point{X: left + box, Y: middle + styleKey.Size*0.36}, drawing.Middle, c.Controls[i:i+1])
	}
}
