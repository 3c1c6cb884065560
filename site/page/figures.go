package page

import (
	"html/template"

	"wythe/renderer/units"
)

// FigureGroup is the figures that answer one question.
type FigureGroup struct {
	Title string // "How warm?"; "" for the only group
	Rows  []FigureRow
	// Picture is a chart of the group, as SVG; "" none.
	Picture template.HTML
}

// FigureRow is one figure in both systems of units.
type FigureRow struct {
	Name, Sub     string
	Inch          string // "32.6"
	InchUnit      string // "ft²·h·°F/Btu"
	SI            string
	SIUnit        string
	LimitName     string // "Limit" unless given: "Allowable", "Held down by"
	Limit         string // "at least R 28"
	Verdict       Verdict
	Finding       string // "Meets target"
	FindingSub    string // what follows from it
	Bar           *LoadBar
	NotComputed   string // why there is no figure; then the figures are empty
	Method        string // "ISO 6946:2017, 6.7.2, combined limits"
	Inputs        []Input
	Source        string
	ScreenSection string // id that a link may lead to; "" none
}

// Input is one input of a figure.
type Input struct {
	Name, Value, Source string
}

// LoadBar draws what is used of what is allowed.
type LoadBar struct {
	Used, Allowed float64 // in one unit
	Words         string  // "Applied 1,021 of 1,200 psf allowable"
}

// figures writes the figures section.
func (w *writer) figures(groups []FigureGroup, note string, s *Site) template.HTML {
	rows := 0
	for _, g := range groups {
		rows += len(g.Rows)
	}
	if rows == 0 {
		return ""
	}
	return w.part(func() {
		w.section("figures", "", "Figures", note)
		for i := range groups {
			w.figureGroup(&groups[i], s)
		}
		w.raw(`</section>`)
	})
}

func (w *writer) figureGroup(g *FigureGroup, s *Site) {
	if len(g.Rows) == 0 {
		return
	}
	if g.Title != "" {
		w.raw(`<h3>`)
		w.text(g.Title)
		w.raw(`</h3>`)
	}
	limits := false
	for i := range g.Rows {
		limits = limits || g.Rows[i].Limit != ""
	}
	class := "figs wf"
	if !limits {
		class = "figs wf nl" // no column for limits
	}
	w.raw(`<div class="tw"><table class="`, class, `"><thead><tr><th scope="col">Figure</th>`)
	if s.Units == units.Metric {
		w.raw(`<th scope="col" class="n">SI</th><th scope="col" class="n">Inch units</th>`)
	} else {
		w.raw(`<th scope="col" class="n">Inch units</th><th scope="col" class="n">SI</th>`)
	}
	if limits {
		w.raw(`<th scope="col" class="n">Limit</th>`)
	}
	w.raw(`<th scope="col">Finding</th></tr></thead>`)
	for i := range g.Rows {
		w.figure(&g.Rows[i], s, limits)
	}
	w.raw(`</table></div>`)
	if g.Picture != "" {
		w.raw(`<div class="chart">`, string(g.Picture), `</div>`)
	}
}

// figure writes one figure as a body of its own: the figure, then its method
// and inputs, closed.
func (w *writer) figure(f *FigureRow, s *Site, limits bool) {
	w.raw(`<tbody`)
	if f.ScreenSection != "" {
		w.raw(` id="`)
		w.text(f.ScreenSection)
		w.raw(`"`)
	}
	w.raw(`><tr><th scope="row" class="w">`)
	w.trade(f.Name)
	if f.Sub != "" {
		w.raw(`<span class="sub">`)
		w.trade(f.Sub)
		w.raw(`</span>`)
	}
	w.raw(`</th>`)
	if f.NotComputed != "" {
		w.raw(`<td class="n"></td><td class="n"></td>`)
		if limits {
			w.raw(`<td class="n"></td>`)
		}
		w.raw(`<td class="f"`, f.span(), `><span class="not">Not computed.</span> `)
		w.trade(f.NotComputed)
		w.raw(`</td></tr>`)
		w.method(f, limits)
		w.raw(`</tbody>`)
		return
	}
	if s.Units == units.Metric {
		w.value("SI", f.SI, f.SIUnit)
		w.value("Inch units", f.Inch, f.InchUnit)
	} else {
		w.value("Inch units", f.Inch, f.InchUnit)
		w.value("SI", f.SI, f.SIUnit)
	}
	if limits {
		w.limit(f)
	}
	w.raw(`<td class="f"`, f.span(), `>`)
	w.finding(f.Verdict, f.Finding)
	if f.Bar != nil {
		w.loadBar(f.Bar)
	}
	if f.FindingSub != "" {
		w.raw(`<span class="sub">`)
		w.trade(f.FindingSub)
		w.raw(`</span>`)
	}
	w.raw(`</td></tr>`)
	w.method(f, limits)
	w.raw(`</tbody>`)
}

// limit writes what a figure is held to, under its name where that is not
// plainly "Limit".
func (w *writer) limit(f *FigureRow) {
	w.raw(`<td class="n"`)
	if f.Limit != "" {
		name := f.LimitName
		if name == "" {
			name = "Limit"
		}
		w.raw(` data-k="`)
		w.text(name)
		w.raw(`">`)
		if name != "Limit" {
			w.raw(`<span class="sub">`)
			w.text(name)
			w.raw(`</span>`)
		}
		w.trade(f.Limit)
		w.raw(`</td>`)
	} else {
		w.raw(`></td>`)
	}
}

func (w *writer) value(name, value, unit string) {
	w.raw(`<td class="n" data-k="`, name, `">`)
	w.trade(value)
	if unit != "" {
		w.raw(` <span class="u">`)
		w.text(unit)
		w.raw(`</span>`)
	}
	w.raw(`</td>`)
}

// explained reports whether a figure has a row for its method.
func (f *FigureRow) explained() bool { return f.Method != "" || len(f.Inputs) > 0 || f.Source != "" }

// span lets the finding stand beside figure and method.
func (f *FigureRow) span() string {
	if f.explained() {
		return ` rowspan="2"`
	}
	return ""
}

// method writes a figure's method; its inputs open on a tap.
func (w *writer) method(f *FigureRow, limits bool) {
	if !f.explained() {
		return
	}
	w.raw(`<tr class="how"><td colspan="`)
	if limits {
		w.raw(`4">`)
	} else {
		w.raw(`3">`)
	}
	if len(f.Inputs) == 0 && f.Source == "" {
		w.raw(`<span class="meth">`)
		w.trade(f.Method)
		w.raw(`</span></td></tr>`)
		return
	}
	w.raw(`<details><summary>`)
	if f.Method != "" {
		w.trade(f.Method)
	} else {
		w.raw(`Inputs`)
	}
	w.raw(`<span class="vh">: inputs of `)
	w.text(f.Name)
	w.raw(`</span></summary><dl class="inp">`)
	for _, in := range f.Inputs {
		w.raw(`<div><dt>`)
		w.trade(in.Name)
		w.raw(`</dt><dd>`)
		w.trade(in.Value)
		if in.Source != "" {
			w.raw(` <span class="src">`)
			w.text(in.Source)
			w.raw(`</span>`)
		}
		w.raw(`</dd></div>`)
	}
	w.raw(`</dl>`)
	if f.Source != "" {
		w.raw(`<p class="src">Source: `)
		w.text(f.Source)
		w.raw(`</p>`)
	}
	w.raw(`</details></td></tr>`)
}

// loadBar draws a load against what is allowed, 240 by 24 units.
func (w *writer) loadBar(b *LoadBar) {
	const left, length, most = 2.0, 226.0, 1.125
	top := b.Allowed * most
	if b.Used > top {
		top = b.Used
	}
	if !(top > 0) || !(b.Used >= 0) {
		return
	}
	w.raw(`<svg class="load" viewBox="0 0 240 24" role="img" aria-label="`)
	w.text(b.Words)
	w.raw(`"><path class="base" d="M2 12.5H228"/><rect x="2" y="6" height="13" width="`)
	w.tenth(b.Used / top * length)
	w.raw(`"/><path class="lim" d="M`)
	w.tenth(left + b.Allowed/top*length)
	w.raw(` 1V24"/></svg>`)
}
