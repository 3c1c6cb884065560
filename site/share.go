package site

import (
	"bytes"
	"encoding/csv"
	"html/template"
	"slices"
	"strconv"
	"strings"

	"wythe/renderer/detail"
	"wythe/renderer/drawing"
	"wythe/renderer/drawing/code"
	"wythe/renderer/drawing/pdf"
	"wythe/renderer/drawing/svg"
	"wythe/renderer/material"
	"wythe/renderer/sheet"
	"wythe/site/page"
)

// drawingOf is a detail's drawing at a scale, 0 for its own.
//
// Errors: *[NotDrawnError].
func (l *Library) drawingOf(d *detail.Detail, scale detail.Scale) (*drawing.Drawing, error) {
	e := l.byFile[d.File]
	if e == nil || d.Assembly == nil && d.Junction == nil {
		return nil, &NotDrawnError{d.Mark, "it is no assembly (layers:) and no junction (parts:)"}
	}
	leads := func(mark string) string {
		if to := l.byMark[mark]; to != nil {
			return l.address(folder(mark) + "/")
		}
		return ""
	}
	var draw func(sheet.Look) *drawing.Drawing
	if d.Assembly != nil {
		if fig := e.figures(); fig != nil {
			draw = func(look sheet.Look) *drawing.Drawing { return sheet.Assembly(d, fig, look) }
		}
	} else if j := e.junction(); j != nil && j.Section != nil {
		draw = func(look sheet.Look) *drawing.Drawing {
			return sheet.NewJunction(d, j.Section, j.Continuity, look.System).Draw(sheet.JunctionLook{Look: look, Link: leads})
		}
	}
	if draw == nil {
		return nil, &NotDrawnError{d.Mark, "its file has errors; see: wythe review"}
	}
	return draw(sheet.Look{Dress: drawing.Wide, System: l.lib.Settings.Units, Scale: float64(scale)}), nil
}

// ShareSVG returns a detail's drawing as a file of its own: what its page
// offers beside the drawing it shows.
//
// Errors: *[NotDrawnError].
func (l *Library) ShareSVG(d *detail.Detail) ([]byte, error) {
	picture, err := l.drawingOf(d, 0)
	if err != nil {
		return nil, err
	}
	return append(svg.Append(nil, picture, svg.Options{Dress: svg.Standalone}), '\n'), nil
}

// SharePDF returns a detail's drawing as one page of PDF of its own size, true
// to scale. It costs some 20 ms, most of it for fonts: for many details, see [Library.Bind].
//
// Errors: *[NotDrawnError].
func (l *Library) SharePDF(d *detail.Detail) ([]byte, error) {
	picture, err := l.drawingOf(d, 0)
	if err != nil {
		return nil, err
	}
	const edge = 5.0 // mm of paper about the drawing
	b := pdf.New(pdf.Info{Title: d.Mark + " " + d.Title, Author: l.lib.Settings.Firm, Subject: picture.Title, Date: newest([]*entry{l.byFile[d.File]})})
	b.AddPage(picture.Width+2*edge, picture.Height+2*edge)
	b.Draw(picture, drawing.Point{X: edge, Y: edge})
	var out bytes.Buffer
	_, err = b.WriteTo(&out)
	return out.Bytes(), err
}

// ShareCSV returns a detail's schedule as comma-separated values with a head:
// the layers of an assembly, or the keynotes of a junction. Numbers carry no
// units: the head does. What is not known is empty.
//
// Errors: *[NotDrawnError] for a detail that has no schedule.
func (l *Library) ShareCSV(d *detail.Detail) ([]byte, error) {
	e := l.byFile[d.File]
	var rows [][]string
	switch {
	case e == nil || e.broken:
		return nil, &NotDrawnError{d.Mark, "its file has errors; see: wythe review"}
	case d.Assembly != nil:
		rows = l.layerValues(e)
	case d.Junction != nil:
		j := e.junction()
		if j == nil || j.Section == nil {
			return nil, &NotDrawnError{d.Mark, "its section cannot be laid out"}
		}
		rows = [][]string{{"key", "part", "material", "size", "note", "assembly", "controls"}}
		for _, k := range sheet.NewJunction(d, j.Section, j.Continuity, l.lib.Settings.Units).Keynotes() {
			rows = append(rows, []string{strconv.Itoa(k.Key), k.Name, k.Head, k.Size, k.Note, k.Mark, controlWords(k.Control)})
		}
	default:
		return nil, &NotDrawnError{d.Mark, "it has no schedule"}
	}
	var out bytes.Buffer
	w := csv.NewWriter(&out)
	for _, row := range rows {
		for i := range row {
			row[i] = inert(row[i])
		}
		if err := w.Write(row); err != nil {
			return nil, err
		}
	}
	w.Flush()
	return out.Bytes(), w.Error()
}

// layerValues are an assembly's schedule, in the order of its keynotes.
func (l *Library) layerValues(e *entry) [][]string {
	a, fig := e.d.Assembly, e.figures()
	rows := make([][]string, len(a.Layers)+1)
	first := sheet.Key(a, len(a.Layers)-1) - 1 // 1 where the ground, which is no layer, is numbered first
	if sheet.InsideTop(a.Element) {
		first = 0
	}
	rows[0] = []string{
		"key", "layer", "material", "courses", "thickness_in", "thickness_mm",
		"R_h_ft2_F_Btu", "RSI_m2_K_W", "permeance_perm", "sd_m", "controls", "notes",
	}
	for i, layer := range a.Layers {
		row := []string{
			strconv.Itoa(sheet.Key(a, i)), layer.Name, layer.Material.Name, strconv.Itoa(max(1, layer.Courses)),
			decimal(float64(layer.Total())/0.0254, 4), decimal(float64(layer.Total())*1000, 3), "", "", "", "",
			controlWords(layer.Control), strings.Join(sheet.LayerNotes(layer), ". "),
		}
		if fig != nil && fig.Thermal != nil && !fig.Thermal.Layers[i].LeftOut {
			r := fig.Thermal.Layers[i].Resistance
			if fig.Thermal.Layers[i].Fraction > 0 {
				r = fig.Thermal.Layers[i].Equivalent
			}
			row[6], row[7] = decimal(float64(r.RValue()), 2), decimal(float64(r), 3)
		}
		if vapor := layer.Material.VaporDry; vapor.Known && !vapor.Tight() && layer.Material.Hatch != material.Air {
			if p, err := vapor.PermeanceOf(layer.Total()); err == nil {
				row[8] = decimal(p.Perms(), 3)
			}
			if sd, err := vapor.SdOf(layer.Total()); err == nil {
				row[9] = decimal(float64(sd), 3)
			}
		}
		rows[sheet.Key(a, i)-first] = row
	}
	return rows
}

func controlWords(list []detail.Control) string {
	words := make([]string, len(list))
	for i, c := range list {
		words[i] = string(c)
	}
	return strings.Join(words, " ")
}

// decimal prints a number to so many places, trailing zeros left out.
func decimal(v float64, places int) string {
	s := strconv.FormatFloat(v, 'f', places, 64)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	return s
}

// inert keeps a spreadsheet from taking a text for a formula.
func inert(s string) string {
	if s != "" && strings.ContainsRune("=+-@\t\r", rune(s[0])) {
		if _, err := strconv.ParseFloat(s, 64); err != nil {
			return "'" + s
		}
	}
	return s
}

// PageCode returns the code that leads from a print of a detail's page back
// to it at its revision, as an SVG element for the page, at its size on
// paper; "" where the library has no site, or its address makes no code.
func (l *Library) PageCode(d *detail.Detail) template.HTML { return l.view(nil).pageCode(d) }

func (v view) pageCode(d *detail.Detail) template.HTML {
	c, err := code.Of(v.codeAddress(d))
	if err != nil {
		return ""
	}
	return inline(c.Drawing(code.Module, "Code of the page of "+d.Mark), svg.Options{Prefix: "code", Class: "code"})
}

// drawingFile, printFile and scheduleFile are what a detail's page offers to take along.
func drawingFile(e *entry) string  { return folder(e.d.Mark) + "/" + folder(e.d.Mark) + ".svg" }
func printFile(e *entry) string    { return folder(e.d.Mark) + "/" + folder(e.d.Mark) + ".pdf" }
func scheduleFile(e *entry) string { return folder(e.d.Mark) + "/schedule.csv" }

// readShared records what a shared file follows from.
func (v view) readShared(e *entry) {
	v.View.Settings()
	v.View.Detail(e.d.Mark)
	v.View.Climate()
}

// files are the links to what can be taken along of a detail.
func (v view) files(e *entry) []page.Link {
	if e.broken || e.d.Assembly == nil && e.d.Junction == nil {
		return nil
	}
	list := []page.Link{{Href: drawingFile(e), Text: "Drawing, SVG"}, {Href: scheduleFile(e), Text: "Schedule, CSV"}}
	if v.View.Settings().PDF {
		list = slices.Insert(list, 1, page.Link{Href: printFile(e), Text: "Drawing, PDF"})
	}
	return list
}
