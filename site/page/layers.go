package page

import (
	"html/template"

	"wythe/renderer/units"
)

// layers writes the layer schedule, each row tied to its keynote.
func (p *Assembly) layers(w *writer, s *Site) template.HTML {
	if len(p.Layers) == 0 {
		return ""
	}
	return w.part(func() {
		from := p.LayersFrom
		if from == "" {
			from = "inside"
		}
		small, resistance, other := "Small figures are SI", "R-value", "RSI"
		permeance, thickness := "Permeance", "s<sub>d</sub>"
		if s.Units == units.Metric {
			small, resistance, other = "Small figures are inch units", "R, m²K/W", "R-value"
			permeance, thickness = "s<sub>d</sub>", "Permeance"
		}
		w.section("layers", "", "Layers, from "+from, small)
		w.raw(`<div class="tw"><table class="sch"><thead><tr><th scope="col">Key</th><th scope="col">Material</th><th scope="col" class="n">Thickness</th><th scope="col" class="n">`,
			resistance, ` <span class="u">`, other, `</span></th><th scope="col" class="n">`, permeance, ` <span class="u">`, thickness,
			`</span></th><th scope="col">Controls</th></tr></thead><tbody>`)
		for i := range p.Layers {
			w.layer(&p.Layers[i], resistance, permeance)
		}
		w.raw(`</tbody>`)
		if p.Total != nil {
			w.raw(`<tfoot>`)
			w.layer(p.Total, resistance, permeance)
			w.raw(`</tfoot>`)
		}
		w.raw(`</table></div></section>`)
	})
}

func (w *writer) layer(l *LayerRow, resistance, permeance string) {
	w.raw(`<tr`)
	if l.Key > 0 {
		w.raw(` id="layer-`)
		w.int(l.Key)
		w.raw(`" data-key="`)
		w.int(l.Key)
		w.raw(`"`)
	}
	w.raw(`><td>`)
	if l.Key > 0 {
		// Two dresses of one drawing: the style sheet shows the link to the
		// one that is on the screen.
		w.keynote(WidePrefix, "wide", l.Key)
		w.keynote(PhonePrefix, "narrow", l.Key)
	}
	w.raw(`</td><td class="w"><b>`)
	if l.Material.Href != "" {
		w.raw(`<a href="`)
		w.text(w.root + l.Material.Href)
		w.raw(`">`)
		w.trade(l.Name)
		w.raw(`</a>`)
	} else {
		w.trade(l.Name)
	}
	w.raw(`</b>`)
	if l.Sub != "" {
		w.raw(`<span class="sub">`)
		w.trade(l.Sub)
		w.raw(`</span>`)
	}
	w.raw(`</td>`)
	w.pair("n c1", "Thickness", l.Thickness)
	w.pair("n", resistance, l.Resistance)
	if permeance != "Permeance" {
		permeance = "Vapor, sd"
	}
	w.pair("n c1", permeance, l.Permeance)
	w.raw(`<td class="ctl" data-k="Controls">`)
	if len(l.Controls) > 0 {
		w.controls(l.Controls)
	}
	w.raw(`</td></tr>`)
}

func (w *writer) keynote(prefix, dress string, key int) {
	w.raw(`<a class="kn `, dress, `" href="#`, prefix, `-k-`)
	w.int(key)
	w.raw(`" aria-label="Keynote `)
	w.int(key)
	w.raw(` in the drawing">`)
	w.int(key)
	w.raw(`</a>`)
}

func (w *writer) pair(class, name string, p Pair) {
	w.raw(`<td class="`, class, `" data-k="`, name, `">`)
	w.trade(p.Main)
	if p.Small != "" {
		w.raw(` <span class="u">`)
		w.trade(p.Small)
		w.raw(`</span>`)
	}
	w.raw(`</td>`)
}
