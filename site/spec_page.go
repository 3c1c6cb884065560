package site

import (
	"strings"

	"wythe/renderer/detail"
	"wythe/renderer/trace"
	"wythe/site/page"
)

// specPage fills a specification section: its text, the details that it cites
// with their revisions, and the materials that it specifies.
func (v view) specPage(e *entry) *page.Tables {
	p := v.textPage(e)
	t := &page.Tables{Frame: p.Frame, Body: p.Body, References: p.References, Revisions: p.Revisions}
	t.Mark, t.Title, t.Lead = e.d.Spec.Section, e.d.Title, "Specification section."
	if s := v.citedSection(e.d); len(s.Rows) > 0 {
		t.Sections = append(t.Sections, s)
	}
	if s := v.specifiedSection(e.d); len(s.Rows) > 0 {
		t.Sections = append(t.Sections, s)
	}
	return t
}

// standing records what a list says of where a detail stands.
func (v view) standing(d *detail.Detail) {
	rev := ""
	if len(d.Revisions) > 0 {
		rev = d.Revisions[0].Rev + " " + d.Revisions[0].Date
	}
	v.reads.Record("standing/"+d.Mark, trace.Hash(d.Title, string(d.Status), d.SupersededBy, rev))
}

func (v view) citedSection(d *detail.Detail) page.TableSection {
	s := page.TableSection{ID: "cited", Title: "Details named here", Heads: []page.Head{{Text: "Mark"}, {Text: "Title"}, {Text: "Named as"}, {Text: "Now"}}}
	for _, c := range d.Cites {
		to := v.link(c.Mark)
		x := v.lib.Detail(c.Mark)
		if to == nil || x == nil {
			continue
		}
		v.standing(x)
		named := page.Cell{Text: "current"}
		if c.Rev != "" {
			named = page.Cell{Text: "rev " + c.Rev, Href: v.held(c.Mark, c.Rev)}
		}
		now := page.Cell{Text: string(x.Status)}
		if len(x.Revisions) > 0 {
			now.Text = "rev " + x.Revisions[0].Rev + ", " + string(x.Status)
		}
		if x.SupersededBy != "" {
			now.Sub = "use " + x.SupersededBy
		}
		s.Rows = append(s.Rows, []page.Cell{{Text: c.Mark, Href: to.Href}, {Text: to.Note}, named, now})
	}
	return s
}

func (v view) specifiedSection(d *detail.Detail) page.TableSection {
	s := page.TableSection{ID: "specifies", Title: "Materials specified here", Heads: []page.Head{{Text: "Material"}, {Text: "As stated"}}}
	system := v.View.Settings().Units
	for _, x := range d.Spec.Specifies {
		name := page.Cell{Text: capital(x.Material.Name)}
		if u := v.byName[x.Material.Name]; u != nil && u.m == x.Material {
			name.Href = u.href
		}
		v.reads.Record("material-page/"+x.Material.Name, yes(name.Href != ""))
		var stated []string
		if x.Thickness > 0 {
			stated = append(stated, x.Thickness.Show(system))
		}
		if x.Compressive > 0 {
			stated = append(stated, x.Compressive.Show(system))
		}
		s.Rows = append(s.Rows, []page.Cell{name, {Text: orDash(strings.Join(stated, ", "))}})
	}
	if len(d.Spec.Elsewhere) > 0 {
		names := make([]string, len(d.Spec.Elsewhere))
		for i, m := range d.Spec.Elsewhere {
			names[i] = m.Name
		}
		s.Words = append(s.Words, "Specified in sections kept elsewhere: "+strings.Join(names, ", ")+".")
	}
	return s
}
