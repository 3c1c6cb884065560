package site

import (
	"sort"
	"strconv"
	"strings"

	"wythe/renderer/basis"
	"wythe/renderer/drawing"
	"wythe/renderer/drawing/svg"
	"wythe/renderer/material"
	"wythe/renderer/units"
	"wythe/site/page"
	"wythe/site/prose"
)

const materialsHref = "materials/index.html"

// used is a material that a detail uses.
type used struct {
	m    *material.Material
	href string
}

// findMaterials lists the materials of all details. Those written in place
// have no page: their values stand in the one file that uses them.
func (l *Library) findMaterials() {
	l.byName = map[string]*used{}
	v := l.view(nil)
	for _, name := range l.lib.Materials.Names() {
		if len(v.UsesMaterial(name)) == 0 {
			continue
		}
		m := v.View.Material(name)
		u := &used{m: m, href: "materials/" + prose.Slug(m.Name) + "/index.html"}
		l.byName[m.Name] = u
		l.materials = append(l.materials, u)
	}
}

// usersOf returns the details that use a material.
func (v view) usersOf(u *used) []page.Link {
	var links []page.Link
	for _, c := range v.UsesMaterial(u.m.Name) {
		if to := v.byFile[c.File]; to != nil {
			links = append(links, page.Link{Href: to.href, Text: to.name, Note: c.Title})
		}
	}
	return links
}

// materialPage fills a material's page.
func (v view) materialPage(u *used) *page.Material {
	v.View.Settings()
	v.View.Material(u.m.Name)
	by := v.usersOf(u)
	p := &page.Material{Used: by, Properties: properties(u.m)}
	p.Root, p.Title = "../../", capital(u.m.Name)
	p.Lead = capital(u.m.Note)
	if p.Lead == "" {
		p.Lead = "Used in " + plural(len(by), "detail") + " of this library."
	}
	if word := string(u.m.Hatch); word != "" && u.m.Hatch != material.Air && u.m.Hatch != material.None {
		p.SwatchName = capital(word) + ", as sections show it"
		p.Swatch = inline(swatch(u.m), svg.Options{Prefix: "m", Hidden: true})
	}
	return p
}

// swatch is a material's hatch, drawn as a layer on its own.
func swatch(m *material.Material) *drawing.Drawing {
	layer := drawing.StackLayer{Part: m.Name, Hatch: string(m.Hatch), Thickness: units.Millimeters(300), Key: 1}
	if m.Hatch == material.Membrane {
		layer.Film, layer.Thickness = true, units.Millimeters(1)
	}
	stack := drawing.Stack{Dress: drawing.StepPicture, Layers: []drawing.StackLayer{layer}, InsideTop: true}
	return stack.Draw()
}

// properties are a material's values in both systems, each with its source.
func properties(m *material.Material) []page.PropertyRow {
	var rows []page.PropertyRow
	add := func(name string, of material.Property, q units.Shower, given bool) {
		if !given {
			return
		}
		s := m.Origins[of]
		row := page.PropertyRow{Name: name, Inch: q.Show(units.Inch), SI: q.Show(units.Metric), Source: s.Text}
		if s.Kind != "" {
			row.Basis = basisWords(s.Kind)
		}
		rows = append(rows, row)
	}
	add("Thermal conductivity", material.PropConductivity, m.Conductivity, m.Conductivity > 0)
	add("Thermal resistance of the sheet", material.PropResistance, m.Resistance, m.Resistance > 0)
	add("Density", material.PropDensity, m.Density, m.Density > 0)
	add("Specific heat", material.PropSpecificHeat, m.SpecificHeat, m.SpecificHeat > 0)
	add("Water vapor, dry", material.PropVapor, m.VaporDry, m.VaporDry.Known)
	add("Water vapor, wet", material.PropVapor, m.VaporWet, m.VaporWet.Known && m.VaporWet != m.VaporDry)
	add("Compressive resistance", material.PropCompressive, m.Compressive, m.Compressive > 0)
	add("Emissivity", material.PropEmissivity, plain(m.Emissivity), m.Emissivity > 0)
	return rows
}

// plain is a number without a unit, the same in both systems.
type plain float64

// Show implements units.Shower.
func (p plain) Show(units.System) string { return strconv.FormatFloat(float64(p), 'f', 2, 64) }

func basisWords(k basis.Kind) string {
	switch k {
	case basis.Design, basis.Declared:
		return string(k) + " value"
	case basis.Stated:
		return "stated by the library"
	}
	return string(k)
}

// materialList fills the list of materials, by hatch.
func (v view) materialList() *page.List {
	v.View.Settings()
	p := &page.List{}
	p.Root, p.Title = "../", "Materials"
	p.Lead = "Every material that a detail of this library uses, with the source of each value."
	groups := map[string]int{}
	for _, u := range v.materials {
		v.View.Material(u.m.Name)
		title := materialGroup(u.m.Hatch)
		i, ok := groups[title]
		if !ok {
			i = len(p.Groups)
			groups[title] = i
			p.Groups = append(p.Groups, page.ListGroup{Title: title})
		}
		item := page.ListItem{Link: page.Link{Href: u.href, Text: capital(u.m.Name), Note: plural(len(v.usersOf(u)), "detail")}}
		if u.m.Conductivity > 0 {
			both := pair(u.m.Conductivity, v.View.Settings().Units)
			item.Right, item.Small = both.Main, both.Small
		} else if u.m.Resistance > 0 {
			both := pair(u.m.Resistance, v.View.Settings().Units)
			item.Right, item.Small = both.Main, both.Small
		}
		p.Groups[i].Items = append(p.Groups[i].Items, item)
	}
	for i := range p.Groups {
		items := p.Groups[i].Items
		sort.SliceStable(items, func(a, b int) bool { return strings.ToLower(items[a].Text) < strings.ToLower(items[b].Text) })
	}
	sort.Slice(p.Groups, func(a, b int) bool { return p.Groups[a].Title < p.Groups[b].Title })
	return p
}

// materialGroup is the heading that a hatch's materials stand under.
func materialGroup(h material.Hatch) string {
	switch h {
	case material.Concrete, material.ReinforcedConcrete, material.Block, material.Brick, material.Stone, material.Mortar:
		return "Concrete and masonry"
	case material.Plaster, material.Gypsum:
		return "Plaster and gypsum"
	case material.Earth, material.Backfill, material.WashedStone, material.Sand:
		return "Ground"
	case material.RigidInsulation, material.Batt, material.LooseFill, material.FiberBoard:
		return "Insulation"
	case material.SawnTimber, material.FinishTimber, material.Plywood:
		return "Wood"
	case material.Steel, material.Metal, material.Glass:
		return "Metal and glass"
	case material.Membrane:
		return "Membranes"
	case material.Air:
		return "Air"
	}
	return "Other"
}

func plural(n int, thing string) string {
	if n == 1 {
		return "1 " + thing
	}
	return strconv.Itoa(n) + " " + thing + "s"
}
