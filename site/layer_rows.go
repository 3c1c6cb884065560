package site

import (
	"strconv"
	"strings"

	"wythe/renderer/detail"
	"wythe/renderer/figures"
	"wythe/renderer/material"
	"wythe/renderer/sheet"
	"wythe/renderer/units"
	"wythe/site/page"
)

// layerRows fills the layer schedule. Rows run as the keynotes do, down the
// drawing, so that drawing and schedule read alike.
func (v view) layerRows(p *page.Assembly, a *detail.Assembly, fig *figures.Assembly) {
	system := v.View.Settings().Units
	p.Layers = make([]page.LayerRow, len(a.Layers), len(a.Layers)+1)
	if b := sheet.Beyond(a); b != nil {
		p.Layers = p.Layers[:len(a.Layers)+1]
		ground := page.LayerRow{Key: b.Key, Name: b.Head, Sub: strings.Join(b.Notes, ". "),
			Thickness: page.Pair{Main: "as found"}, Resistance: page.Pair{Main: "not counted"}, Permeance: page.Pair{Main: "not counted"}}
		if a.Element == detail.WallBelowGrade {
			ground.Thickness.Main = "as dug"
		}
		p.Layers[b.Key-1] = ground
	}
	for i, l := range a.Layers {
		row := page.LayerRow{
			Key:  sheet.Key(a, i),
			Name: layerName(l), Sub: strings.Join(sheet.LayerNotes(l), ". "),
			Thickness: thickness(l, system), Permeance: permeance(l, system), Controls: l.Control,
		}
		if m := v.byName[l.Material.Name]; m != nil && m.m == l.Material {
			row.Material = page.Link{Href: m.href}
		}
		if t := fig.Thermal; t != nil {
			r := &t.Layers[i]
			switch {
			case r.LeftOut:
				row.Resistance = page.Pair{Main: "not counted"}
			case r.Fraction > 0:
				row.Resistance = resistance(r.Equivalent, system)
			default:
				row.Resistance = resistance(r.Resistance, system)
			}
		}
		p.Layers[row.Key-1] = row
	}
	p.Total = &page.LayerRow{Name: "Stack", Thickness: pair(stackThickness(a), system), Controls: stackControls(a)}
	if t := fig.Thermal; t != nil && t.Resistance.Computed {
		p.Total.Name = "Stack, surfaces counted"
		if t.OnGround {
			p.Total.Name = "Stack, inside surface counted"
		}
		p.Total.Resistance = resistance(t.Resistance.Value, system)
	}
}

func layerName(l *detail.Layer) string {
	name := capital(l.Material.Name)
	switch l.Courses {
	case 0, 1:
		return name
	case 2:
		return name + ", two courses"
	case 3:
		return name + ", three courses"
	}
	return name + ", " + strconv.Itoa(l.Courses) + " courses"
}

func pair(q units.Shower, system units.System) page.Pair {
	main, other := units.Pair(q, system)
	return page.Pair{Main: main, Small: other}
}

// thickness prints a layer's: "2 × 3 in" beside the other system's total.
func thickness(l *detail.Layer, system units.System) page.Pair {
	both := pair(l.Total(), system)
	if l.Courses > 1 {
		both.Main = strconv.Itoa(l.Courses) + " × " + l.Thickness.Show(system)
	}
	return both
}

// resistance prints a layer's without its unit, which heads the column.
func resistance(r units.ThermalResistance, system units.System) page.Pair {
	both := pair(r, system)
	bare := strings.NewReplacer("R ", "", " m²K/W", "")
	return page.Pair{Main: bare.Replace(both.Main), Small: bare.Replace(both.Small)}
}

// permeance prints a layer's vapor permeance beside its equivalent air layer,
// the library's system first.
func permeance(l *detail.Layer, system units.System) page.Pair {
	vapor := l.Material.VaporDry
	if l.Material.Hatch == material.Air {
		return page.Pair{Main: "open"}
	}
	if !vapor.Known {
		return page.Pair{Main: "not known"}
	}
	if vapor.Tight() {
		return page.Pair{Main: "tight"}
	}
	permeance, err := vapor.PermeanceOf(l.Total())
	if err != nil {
		return page.Pair{Main: "not known"}
	}
	sd, err := vapor.SdOf(l.Total())
	if err != nil {
		return page.Pair{Main: "not known"}
	}
	both := page.Pair{Main: permeance.Show(units.Inch), Small: sd.Meter()}
	if system == units.Metric {
		both.Main, both.Small = both.Small, both.Main
	}
	return both
}

// stackThickness is that of the whole stack, films counted.
func stackThickness(a *detail.Assembly) units.Length {
	total := units.Length(0)
	for _, l := range a.Layers {
		total += l.Total()
	}
	return total
}

// stackControls are those that any layer carries, in the order of pages.
func stackControls(a *detail.Assembly) []detail.Control {
	var list []detail.Control
	for _, c := range detail.Controls {
		if carries(a, c) {
			list = append(list, c)
		}
	}
	return list
}

func carries(a *detail.Assembly, c detail.Control) bool {
	for _, l := range a.Layers {
		for _, has := range l.Control {
			if has == c {
				return true
			}
		}
	}
	return false
}
