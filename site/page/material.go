package page

import (
	"html/template"
	"io"

	"wythe/renderer/units"
	"wythe/site/prose"
	"wythe/themes"
)

// Material is the page of a material that the library uses.
type Material struct {
	Frame
	Swatch     template.HTML // its hatch, as SVG; "" none
	SwatchName string        // "Rigid insulation"
	Properties []PropertyRow
	Body       prose.HTML
	Used       []Link
}

// PropertyRow is one value of a material in both systems, with its source.
type PropertyRow struct {
	Name           string
	Inch, InchUnit string
	SI, SIUnit     string
	Basis          string // "design value", "declared value", "from memory"
	Source         string
}

// Render writes the page.
func (p *Material) Render(out io.Writer, set *themes.Set, s *Site) error {
	w := &writer{root: p.Root}
	w.Grow(8 << 10)
	v := s.frame(&p.Frame, p, "pg pg-m")
	v.Bar = w.bar(s, &p.Frame)
	v.Head = w.head(&p.Frame, nil)
	v.Strip = w.strip(s, &p.Frame)
	if p.Swatch != "" {
		v.Swatch = w.part(func() {
			w.raw(`<figure class="swatch">`, string(p.Swatch))
			if p.SwatchName != "" {
				w.raw(`<figcaption>`)
				w.text(p.SwatchName)
				w.raw(`</figcaption>`)
			}
			w.raw(`</figure>`)
		})
	}
	v.Properties = p.properties(w, s)
	if !p.Body.Empty() {
		v.Body = w.part(func() { w.raw(`<section class="prose">`, p.Body.String(), `</section>`) })
	}
	v.Used = w.used(p.Used)
	v.Block = w.block(s, &p.Frame, nil)
	return set.Execute(out, "material", &v)
}

func (p *Material) properties(w *writer, s *Site) template.HTML {
	if len(p.Properties) == 0 {
		return ""
	}
	return w.part(func() {
		w.section("values", "", "Values", "With the source of each")
		first, second := "Inch units", "SI"
		if s.Units == units.Metric {
			first, second = second, first
		}
		w.raw(`<div class="tw"><table class="figs props"><thead><tr><th scope="col">Property</th><th scope="col" class="n">`,
			first, `</th><th scope="col" class="n">`, second, `</th><th scope="col">Source</th></tr></thead><tbody>`)
		for _, r := range p.Properties {
			w.raw(`<tr><th scope="row" class="w">`)
			w.text(r.Name)
			w.raw(`</th>`)
			if s.Units == units.Metric {
				w.value("SI", r.SI, r.SIUnit)
				w.value("Inch units", r.Inch, r.InchUnit)
			} else {
				w.value("Inch units", r.Inch, r.InchUnit)
				w.value("SI", r.SI, r.SIUnit)
			}
			w.raw(`<td class="f" data-k="Source">`)
			w.text(r.Source)
			if r.Basis != "" {
				w.raw(`<span class="sub">`)
				w.text(capital(r.Basis))
				w.raw(`</span>`)
			}
			w.raw(`</td></tr>`)
		}
		w.raw(`</tbody></table></div></section>`)
	})
}
