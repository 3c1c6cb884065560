package page

import (
	"html/template"
	"io"

	"wythe/site/prose"
	"wythe/themes"
)

// Tables is a page of tables and pictures: a register, a history, a building.
type Tables struct {
	Frame
	// Superseded leads to what stands in the page's place; nil: it stands.
	Superseded *Link
	Notices    []string // what a reader must know first
	Sections   []TableSection
	Body       prose.HTML // the author's prose
	Cited      []Link
	References []prose.HTML
	Revisions  []Revision
	Files      []Link // the same as files: CSV, JSON
}

// TableSection is one section: a picture, a table, words.
type TableSection struct {
	ID, Title, Small string
	Words            []string // under the heading
	Picture          template.HTML
	Heads            []Head
	Rows             [][]Cell
	Foot             []Cell // sums; nil none
	Links            []Link
}

// Head heads a column; Figures stand to the right.
type Head struct {
	Text    string
	Figures bool
}

// Cell is one cell. The first of a row heads it.
type Cell struct {
	Text  string
	Href  string // from the root of the site; "" none
	Sub   string // in small under the text
	Links []Link // several, instead of the text
}

// Render writes the page.
func (p *Tables) Render(out io.Writer, set *themes.Set, s *Site) error {
	w := &writer{root: p.Root}
	w.Grow(16 << 10)
	v := s.frame(&p.Frame, p, "pg pg-p")
	v.Bar = w.bar(s, &p.Frame)
	v.Head = w.head(&p.Frame, func() {
		w.fitness(nil, nil, p.Superseded)
		for _, n := range p.Notices {
			w.raw(`<p class="notice">`)
			w.trade(n)
			w.raw(`</p>`)
		}
	})
	v.Strip = w.strip(s, &p.Frame)
	var anchors []anchor
	v.Body = w.part(func() {
		if !p.Body.Empty() {
			w.raw(`<div class="prose">`, p.Body.String(), `</div>`)
		}
		for i := range p.Sections {
			sec := &p.Sections[i]
			anchors = append(anchors, anchor{sec.ID, sec.Title})
			w.tableSection(sec)
		}
		if len(p.Files) > 0 {
			w.section("files", "", "As files", "")
			w.links(p.Files)
			w.raw(`</section>`)
		}
	})
	if len(p.Cited) > 0 {
		v.Used = w.part(func() {
			w.section("cited", "", "Details named here", "")
			w.links(p.Cited)
			w.raw(`</section>`)
		})
	}
	v.References = w.references(p.References)
	v.Revisions = w.revisions(p.Revisions)
	v.Block = w.block(s, &p.Frame, anchors)
	return set.Execute(out, "prose", &v)
}

func (w *writer) tableSection(s *TableSection) {
	w.section(s.ID, "", s.Title, s.Small)
	for _, words := range s.Words {
		w.raw(`<p>`)
		w.trade(words)
		w.raw(`</p>`)
	}
	if s.Picture != "" {
		w.raw(`<div class="tw">`, string(s.Picture), `</div>`)
	}
	if len(s.Rows) > 0 {
		w.raw(`<div class="tw" tabindex="0" role="region" aria-label="`)
		w.text(s.Title)
		w.raw(`"><table><thead><tr>`)
		for _, h := range s.Heads {
			w.raw(`<th scope="col"`, figuresClass(h.Figures), `>`)
			w.trade(h.Text)
			w.raw(`</th>`)
		}
		w.raw(`</tr></thead><tbody>`)
		for _, row := range s.Rows {
			w.tableRow(row, s.Heads, false)
		}
		w.raw(`</tbody>`)
		if s.Foot != nil {
			w.raw(`<tfoot>`)
			w.tableRow(s.Foot, s.Heads, true)
			w.raw(`</tfoot>`)
		}
		w.raw(`</table></div>`)
	}
	if len(s.Links) > 0 {
		w.links(s.Links)
	}
	w.raw(`</section>`)
}

func figuresClass(on bool) string {
	if on {
		return ` class="n"`
	}
	return ""
}

func (w *writer) tableRow(row []Cell, heads []Head, foot bool) {
	w.raw(`<tr>`)
	for i := range row {
		tag := `td`
		class := figuresClass(i < len(heads) && heads[i].Figures)
		if i == 0 && !foot {
			tag, class = `th`, ` scope="row"`+class
		}
		w.raw(`<`, tag, class, `>`)
		w.cell(&row[i])
		w.raw(`</`, tag, `>`)
	}
	w.raw(`</tr>`)
}

func (w *writer) cell(c *Cell) {
	switch {
	case len(c.Links) > 0:
		for i, l := range c.Links {
			if i > 0 {
				w.raw(`, `)
			}
			w.link("", l)
		}
	case c.Href != "":
		w.link("", Link{Href: c.Href, Text: c.Text})
	default:
		w.trade(c.Text)
	}
	if c.Sub != "" {
		w.raw(` <span class="sub">`)
		w.trade(c.Sub)
		w.raw(`</span>`)
	}
}
