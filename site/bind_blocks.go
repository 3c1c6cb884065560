package site

import (
	"html"
	"regexp"
	"strings"

	"wythe/renderer/binder"
	"wythe/renderer/detail"
	"wythe/renderer/figures"
	"wythe/renderer/sheet"
	"wythe/renderer/units"
	"wythe/site/page"
	"wythe/site/prose"
	"wythe/site/revision"
)

func (l *Library) metric() bool { return l.lib.Settings.Units == units.Metric }

// blocks gathers the tables of one detail's sheets. They say what its page
// says, in the same words.
type blocks struct {
	view
	in   map[string]bool // marks of the set
	list []binder.Block
}

// leads is where a mark leads: to its sheet in the set, else to its page.
func (b *blocks) leads(mark string) string {
	switch {
	case b.in[mark]:
		return "#" + mark
	case b.byMark[mark] != nil:
		return b.address(folder(mark) + "/")
	}
	return ""
}

// layers sets an assembly's schedule.
func (b *blocks) layers(d *detail.Detail, fig *figures.Assembly) {
	if fig == nil {
		return
	}
	p := &page.Assembly{}
	b.layerRows(p, d.Assembly, fig)
	from := "outside"
	if sheet.InsideTop(d.Assembly.Element) {
		from = "inside"
	}
	note, r, v := "Small figures are SI: RSI, sd", "R-value", "Permeance"
	if b.metric() {
		note, r, v = "Small figures are inch units: R-value, permeance", "R, m²K/W", "sd"
	}
	layers := binder.Block{Title: "Layers, from " + from, Note: note, Columns: []binder.Column{
		{Width: 5}, {Head: "Material", Share: 1}, {Head: "Thickness", Width: 21, End: true},
		{Head: r, Width: 14, End: true}, {Head: v, Width: 19, End: true}, {Head: "Controls", Width: 15},
	}}
	rows := p.Layers
	if p.Total != nil {
		rows = append(rows[:len(rows):len(rows)], *p.Total)
	}
	for i := range rows {
		l := &rows[i]
		pair := func(p page.Pair) binder.Cell { return binder.Cell{Text: p.Main, Small: p.Small} }
		layers.Rows = append(layers.Rows, binder.Row{Total: l.Key == 0, Cells: []binder.Cell{
			{Key: l.Key}, {Text: l.Name, Bold: true, Under: l.Sub}, pair(l.Thickness), pair(l.Resistance), pair(l.Permeance),
			{Controls: sheet.Letters(l.Controls)},
		}})
	}
	b.list = append(b.list, layers)
}

func (b *blocks) assemblyFigures(d *detail.Detail, fig *figures.Assembly) {
	if fig != nil {
		b.figures(b.figuresByQuestion(d, fig))
	}
}

// figures sets the figures, a table for each group.
func (b *blocks) figures(groups []page.FigureGroup, conditions string) {
	for i := range groups {
		g := &groups[i]
		block := binder.Block{Title: "Figures", Columns: []binder.Column{
			{Head: "Figure", Share: 1.3}, {Head: "Value", Width: 29, End: true}, {Head: "Limit", Width: 21}, {Head: "Finding", Share: 1},
		}}
		if g.Title != "" {
			block.Title = g.Title
		}
		if i == 0 {
			block.Note = conditions
		}
		var more []binder.Block
		for k := range g.Rows {
			r := &g.Rows[k]
			if strings.HasPrefix(r.Name, "Materials for ") || strings.HasPrefix(r.Name, "Study: ") { // its inputs are what is asked for
				more = append(more, inputsBlock(r))
				continue
			}
			block.Rows = append(block.Rows, b.figure(r))
		}
		b.list = append(append(b.list, block), more...)
	}
}

// inputsBlock sets the inputs of a figure that is a list: materials, the steps of
// a study.
func inputsBlock(r *page.FigureRow) binder.Block {
	block := binder.Block{Title: r.Name, Note: r.Finding, Columns: []binder.Column{{Share: 1}, {Share: 1.4}}}
	if r.NotComputed != "" {
		block.Rows = append(block.Rows, binder.Row{Cells: []binder.Cell{{Text: "Not computed"}, {Under: r.NotComputed}}})
	}
	for _, in := range r.Inputs {
		block.Rows = append(block.Rows, binder.Row{Cells: []binder.Cell{{Text: in.Name, Under: in.Source}, {Text: in.Value}}})
	}
	return block
}

func (b *blocks) figure(r *page.FigureRow) binder.Row {
	value := binder.Cell{Text: strings.TrimSpace(r.Inch + " " + r.InchUnit), Small: strings.TrimSpace(r.SI + " " + r.SIUnit)}
	if b.metric() {
		value.Text, value.Small = value.Small, value.Text
	}
	if value.Small == value.Text {
		value.Small = "" // one in both systems
	}
	finding := binder.Cell{Text: r.Finding, Under: r.FindingSub, Red: r.Verdict == page.Bad}
	if r.NotComputed != "" {
		value = binder.Cell{Text: "Not computed"}
		finding = binder.Cell{Under: r.NotComputed}
	}
	limit := binder.Cell{Text: r.Limit}
	if r.LimitName != "" && r.Limit != "" {
		limit.Under = r.LimitName
	}
	return binder.Row{Cells: []binder.Cell{{Text: r.Name, Bold: true, Under: r.Sub}, value, limit, finding}}
}

// keynotes sets a junction's keynotes, the verdicts on its control layers, and
// their gaps.
func (b *blocks) keynotes(d *detail.Detail, j *figures.Junction) {
	if j == nil || j.Section == nil {
		return
	}
	notes := sheet.NewJunction(d, j.Section, j.Continuity, b.View.Settings().Units).Keynotes()
	keys := map[string]int{}
	block := binder.Block{Title: "Keynotes", Columns: []binder.Column{
		{Width: 5}, {Head: "Part", Share: 1}, {Head: "Size", Width: 26}, {Head: "Of", Width: 12}, {Head: "Controls", Width: 15},
	}}
	for _, k := range notes {
		keys[k.Name] = k.Key
		block.Rows = append(block.Rows, binder.Row{Cells: []binder.Cell{
			{Key: k.Key}, {Text: k.Head, Bold: true, Under: k.Note}, {Text: k.Size},
			{Text: k.Mark, Href: b.leads(k.Mark)}, {Controls: sheet.Letters(k.Control)},
		}})
	}
	b.list = append(b.list, block)
	p := &page.Junction{}
	b.continuity(p, j, keys)
	table := binder.Block{Title: "Control layers", Columns: []binder.Column{
		{Head: "Control", Width: 17}, {Head: "Carried by, cut to cut", Share: 1}, {Head: "Verdict", Share: 0.9},
	}}
	for i := range p.Continuity {
		r := &p.Continuity[i]
		var chain []string
		for _, c := range r.Chain {
			chain = append(chain, c.Name)
		}
		table.Rows = append(table.Rows, binder.Row{Cells: []binder.Cell{
			{Text: capital(string(r.Control)), Bold: true}, {Text: strings.Join(chain, ", ")},
			{Text: r.Words, Bold: true, Red: r.Verdict == page.Bad, Under: strings.Join(r.Notes, ". ")},
		}})
	}
	b.list = append(b.list, table)
	gaps := binder.Block{Title: "Gaps", Columns: []binder.Column{{Head: "Gap", Width: 26}, {Head: "Where", Share: 1}, {Head: "What to do", Share: 1}}}
	for i := range p.Gaps {
		g := &p.Gaps[i]
		where := binder.Cell{Under: g.Where}
		if g.Between[0].Name != "" {
			where.Text = "Between " + g.Between[0].Name + " and " + g.Between[1].Name
		}
		gaps.Rows = append(gaps.Rows, binder.Row{Cells: []binder.Cell{{Text: g.Label, Red: true}, where, {Text: g.Do}}})
	}
	b.list = append(b.list, gaps)
	if p.Corners != "" {
		b.list[len(b.list)-2].Rows = append(b.list[len(b.list)-2].Rows, binder.Row{Cells: []binder.Cell{{}, {Under: p.Corners}, {}}})
	}
}

func (b *blocks) cautions(w *words) {
	block := binder.Block{Title: "Cautions", Columns: []binder.Column{{Share: 1}}}
	for i := range w.cautions {
		c := &w.cautions[i]
		cell := binder.Cell{Text: plainWords(c.Text)}
		if c.Head != "" {
			cell.Text = c.Head + " " + cell.Text
		}
		block.Rows = append(block.Rows, binder.Row{Cells: []binder.Cell{cell}})
	}
	b.list = append(b.list, block)
}

// used links what refers to the detail.
func (b *blocks) used(e *entry) {
	block := binder.Block{Title: "Used by", Columns: []binder.Column{{Width: 30}, {Share: 1}}}
	for _, l := range b.usedBy(e) {
		row := binder.Row{Cells: []binder.Cell{{Text: l.Text, Bold: true, Href: b.leads(l.Text)}, {Text: l.Note}}}
		if row.Cells[0].Href == "" {
			row.Cells[0].Href = b.address(strings.TrimSuffix(l.Href, "index.html"))
		}
		block.Rows = append(block.Rows, row)
	}
	b.list = append(b.list, block)
}

// revisions sets the table of revisions, and under it what is said of clouds.
func (b *blocks) revisions(d *detail.Detail, said string) {
	block := binder.Block{Title: "Revisions", Columns: []binder.Column{
		{Head: "Rev", Width: 9}, {Head: "Date", Width: 22}, {Head: "Note", Share: 1}, {Head: "Fingerprint", Width: 22},
	}}
	for _, r := range d.Revisions {
		block.Rows = append(block.Rows, binder.Row{Cells: []binder.Cell{
			{Text: r.Rev, Bold: true}, {Text: day(r.Date)}, {Text: r.Note}, {Text: revision.Short(r.Fingerprint)},
		}})
	}
	if said != "" {
		block.Rows = append(block.Rows, binder.Row{Cells: []binder.Cell{{}, {}, {Under: said}, {}}})
	}
	b.list = append(b.list, block)
}

var htmlTag = regexp.MustCompile(`<[^>]*>`)

// plainWords is a run of HTML as plain text.
func plainWords(h prose.HTML) string {
	return strings.TrimSpace(html.UnescapeString(htmlTag.ReplaceAllString(h.String(), "")))
}
