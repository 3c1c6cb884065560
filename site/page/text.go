package page

import (
	"html/template"
	"io"

	"wythe/renderer/detail"
	"wythe/site/prose"
	"wythe/themes"
)

// Prose is a page of text: an office standard, a glossary, a specification
// section, a building, a page that is not there.
type Prose struct {
	Frame
	Body prose.HTML
	// Shown is a junction whose drawing and verdicts stand under the text;
	// nil: none.
	Shown *Junction
	// Cited lists the details that the text names.
	Cited      []Link
	References []prose.HTML
	Revisions  []Revision
}

// Render writes the page.
func (p *Prose) Render(out io.Writer, set *themes.Set, s *Site) error {
	w := &writer{root: p.Root}
	w.Grow(8 << 10)
	v := s.frame(&p.Frame, p, "pg pg-p")
	v.Bar = w.bar(s, &p.Frame)
	v.Head = w.head(&p.Frame, nil)
	v.Strip = w.strip(s, &p.Frame)
	if !p.Body.Empty() {
		v.Body = w.part(func() { w.raw(`<div class="prose">`, p.Body.String(), `</div>`) })
	}
	if p.Shown != nil && p.Shown.Wide != "" {
		p.Shown.Root = p.Root
		v.Wide, v.Phone, v.Toggles = p.Shown.Wide, p.Shown.Phone, p.Shown.lines(w)
		v.Stamps = w.stamps(p.Shown.Status, p.Shown.Wide, false)
		v.Keynotes = p.Shown.keynotes(w)
		v.Continuity = p.Shown.continuity(w)
	}
	if len(p.Cited) > 0 {
		v.Used = w.part(func() {
			w.section("cited", "", "Details named here", "")
			w.links(p.Cited)
			w.raw(`</section>`)
		})
	}
	v.References = w.references(p.References)
	v.Revisions = w.revisions(p.Revisions)
	v.Block = w.block(s, &p.Frame, nil)
	return set.Execute(out, "prose", &v)
}

// List is a page that lists pages: the materials, the specifications.
type List struct {
	Frame
	Groups []ListGroup
}

// ListGroup is the entries under one heading; "" for the only group.
type ListGroup struct {
	Title string
	Items []ListItem
}

// ListItem is one entry.
type ListItem struct {
	Link
	Sub    string // under the name
	Right  string // at the right: "R 5.0 per in"
	Small  string // after it: "0.029 W/mK"
	Swatch template.HTML
	Status detail.Status
}

// Render writes the page.
func (p *List) Render(out io.Writer, set *themes.Set, s *Site) error {
	w := &writer{root: p.Root}
	w.Grow(8 << 10)
	v := s.frame(&p.Frame, p, "pg pg-l")
	v.Bar = w.bar(s, &p.Frame)
	v.Head = w.head(&p.Frame, nil)
	v.Strip = w.strip(s, &p.Frame)
	var anchors []anchor
	v.Table = w.part(func() {
		for _, g := range p.Groups {
			if g.Title != "" {
				id := "g-" + prose.Slug(g.Title)
				anchors = append(anchors, anchor{id, g.Title})
				w.section(id, "", g.Title, "")
			} else {
				w.raw(`<section>`)
			}
			w.raw(`<ul class="lst">`)
			for i := range g.Items {
				w.listItem(&g.Items[i])
			}
			w.raw(`</ul></section>`)
		}
	})
	v.Block, v.Jump = w.block(s, &p.Frame, anchors), w.jump(anchors)
	return set.Execute(out, "list", &v)
}

func (w *writer) listItem(l *ListItem) {
	w.raw(`<li>`)
	if l.Swatch != "" {
		w.raw(`<span class="sw" aria-hidden="true">`, string(l.Swatch), `</span>`)
	}
	w.raw(`<span class="nm">`)
	w.link("", Link{l.Href, l.Text, ""})
	if l.Sub != "" {
		w.raw(`<span class="sub">`)
		w.trade(l.Sub)
		w.raw(`</span>`)
	}
	w.raw(`</span>`)
	if l.Note != "" {
		w.raw(`<span class="nt">`)
		w.trade(l.Note)
		w.raw(`</span>`)
	}
	w.status(l.Status)
	if l.Right != "" || l.Small != "" {
		w.raw(`<span class="n">`)
		w.trade(l.Right)
		if l.Small != "" {
			w.raw(` <span class="u">`)
			w.trade(l.Small)
			w.raw(`</span>`)
		}
		w.raw(`</span>`)
	}
	w.raw(`</li>`)
}
