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
	Phone            template.HTML // the picture for a narrow screen; "" the same
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
	v.Block, v.Jump = w.block(s, &p.Frame, anchors), w.jump(anchors)
	return set.Execute(out, "prose", &v)
}

func (w *writer) tableSection(s *TableSection) {
	w.section(s.ID, "", s.Title, s.Small)
	for _, words := range s.Words {
		w.raw(`<p>`)
		w.trade(words)
		w.raw(`</p>`)
	}
	if s.Phone != "" {
		w.raw(`<div class="fig"><div class="wide">`, string(s.Picture), `</div><div class="narrow">`, string(s.Phone), `</div></div>`)
	} else if s.Picture != "" {
		w.raw(`<div class="tw">`, string(s.Picture), `</div>`)
	}
	if len(s.Rows) > 0 {
		w.raw(`<div class="tw" tabindex="0" role="region" aria-label="`)
		w.text(s.Title)
		w.raw(`"><table`, s.class(), `><thead><tr>`)
		for _, h := range s.Heads {
			w.raw(`<th scope="col"`, figuresClass(h.Figures), `>`)
			w.trade(h.Text)
			w.raw(`</th>`)
		}
		w.raw(`</tr></thead><tbody>`)
		for _, row := range s.Rows {
			w.tableRow(row, s.Heads)
		}
		w.raw(`</tbody>`)
		if s.Foot != nil {
			w.raw(`<tfoot>`)
			w.tableFoot(s.Foot, s.Heads)
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

// stacked is how many columns a narrow screen still sets beside each other.
const stacked = 2

// class says how a narrow screen sets the table: each row as a block, "blk",
// its first cell a line of its own or, "mk", a short mark before the next.
func (s *TableSection) class() string {
	if len(s.Heads) <= stacked {
		return ""
	}
	for _, row := range s.Rows {
		if len(row) > 0 && (len(row[0].Text) > 8 || row[0].Sub != "" || len(row[0].Links) > 0) {
			return ` class="blk"`
		}
	}
	if s.Heads[1].Figures {
		return ` class="blk"`
	}
	return ` class="blk mk"`
}

func (w *writer) tableRow(row []Cell, heads []Head) {
	w.raw(`<tr>`)
	for i := range row {
		figures := i < len(heads) && heads[i].Figures
		if i == 0 {
			w.raw(`<th scope="row"`, figuresClass(figures), `>`)
			w.cell(&row[i])
			w.raw(`</th>`)
			continue
		}
		w.data(&row[i], heads, i, figures)
	}
	w.raw(`</tr>`)
}

func (w *writer) tableFoot(row []Cell, heads []Head) {
	w.raw(`<tr>`)
	for i := range row {
		w.data(&row[i], heads, i, i < len(heads) && heads[i].Figures)
	}
	w.raw(`</tr>`)
}

// data writes a cell with the name of its column, which a narrow screen shows
// before it. One that says nothing is marked: there it needs no place.
func (w *writer) data(c *Cell, heads []Head, i int, figures bool) {
	w.raw(`<td`)
	switch empty := len(c.Links) == 0 && c.Sub == "" && (c.Text == "" || c.Text == "–"); {
	case empty && figures:
		w.raw(` class="n no"`)
	case empty:
		w.raw(` class="no"`)
	default:
		w.raw(figuresClass(figures))
	}
	if len(heads) > stacked && i > 0 && i < len(heads) && heads[i].Text != "" {
		w.raw(` data-k="`)
		w.text(heads[i].Text)
		w.raw(`"`)
	}
	w.raw(`>`)
	w.cell(c)
	w.raw(`</td>`)
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
