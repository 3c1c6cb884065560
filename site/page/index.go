package page

import (
	"html/template"
	"io"
	"slices"
	"sort"

	"wythe/renderer/detail"
	"wythe/site/prose"
	"wythe/themes"
)

// Index is the drawing index.
type Index struct {
	Frame // Mark is set by Render
	Rows  []IndexRow
	// NoTags leaves the tag filter out.
	NoTags bool
	// Parts are the pages of an index that is too long for one, in order. The
	// first page lists them and has no Rows; nil: all rows stand on this page.
	Parts []IndexPart
}

// IndexRow is one detail of the index.
type IndexRow struct {
	Mark, Title string
	Href        string // from the root of the site
	MakeUp      string // "Concrete 5, film 15 mil, XPS 2 × 3, stone 8 in"

	// Thumb is a small drawing to the index's scale, as SVG in the page; or
	// ThumbFile is a file of the site, with its size in mm, for libraries
	// whose pictures would make the page heavy.
	Thumb                   template.HTML
	ThumbFile               string
	ThumbWidth, ThumbHeight float64

	Element      detail.Element // "" for a junction
	Controls     []detail.Control
	Trades, Tags []string
	Figure       Pair    // "R 32.6", "RSI 5.74"
	Rank         float64 // what sorting by figure sorts by
	Short        string  // "Below R 35"; "" none
	Proved       string  // "Unbroken", of a junction; "" none
	Status       detail.Status
	Rev, Date    string
	SupersededBy string
	Version      string // as the detail's page has it
}

// elements are the groups of the index, in its order. A junction's is "".
var elements = [...]struct {
	element     detail.Element
	class, word string
}{
	{detail.FloorOnGround, "ground", "Floors on ground"},
	{detail.Floor, "floor", "Floors"},
	{detail.WallBelowGrade, "below", "Walls below grade"},
	{detail.Wall, "wall", "Walls"},
	{detail.Roof, "roof", "Roofs"},
	{detail.Ceiling, "ceiling", "Ceilings"},
	{"", "junction", "Junctions"},
}

// statuses are the filter's, in its order.
var statuses = [...]detail.Status{detail.Issued, detail.ForReview, detail.Draft, detail.Superseded}

// manyTags is how many tags the filter lists, however few details have them.
const manyTags = 12

// choice is one value of a filter.
type choice struct {
	class, word string
	count       int
}

// filter is one row of filters: radio buttons that work without a script.
type filter struct {
	name, legend, all string
	choices           []choice
}

func (p *Index) filters() []filter {
	var byElement, byControl, byStatus []choice
	for _, e := range elements {
		n := 0
		for i := range p.Rows {
			if p.Rows[i].Element == e.element {
				n++
			}
		}
		if n > 0 {
			byElement = append(byElement, choice{e.class, e.word, n})
		}
	}
	for _, l := range letters {
		n := 0
		for i := range p.Rows {
			if has(p.Rows[i].Controls, l.control) {
				n++
			}
		}
		if n > 0 {
			byControl = append(byControl, choice{l.letter, l.letter + " " + l.word, n})
		}
	}
	for _, s := range statuses {
		n := 0
		for i := range p.Rows {
			if p.Rows[i].Status == s {
				n++
			}
		}
		if n > 0 {
			byStatus = append(byStatus, choice{statusClass(s), statusWord(s), n})
		}
	}
	list := []filter{
		{"el", "Element", "All", byElement},
		{"ct", "Control", "Any", byControl},
		{"tr", "Trade", "Any", p.words(func(r *IndexRow) []string { return r.Trades })},
		{"ss", "Status", "Any", byStatus},
	}
	tags := p.words(func(r *IndexRow) []string { return r.Tags })
	if len(tags) > manyTags { // a tag of one detail alone is better searched for
		tags = slices.DeleteFunc(tags, func(c choice) bool { return c.count < 2 })
	}
	if len(tags) > 0 && !p.NoTags {
		list = append(list, filter{"tg", "Tag", "Any", tags})
	}
	return list
}

// words counts the words of all rows, in alphabetical order.
func (p *Index) words(of func(*IndexRow) []string) []choice {
	counts, shown := map[string]int{}, map[string]string{}
	for i := range p.Rows {
		for _, word := range of(&p.Rows[i]) {
			class := prose.Slug(word)
			counts[class]++
			if _, ok := shown[class]; !ok {
				shown[class] = capital(word)
			}
		}
	}
	list := make([]choice, 0, len(counts))
	for class, n := range counts {
		list = append(list, choice{class, shown[class], n})
	}
	sort.Slice(list, func(a, b int) bool { return list[a].class < list[b].class })
	return list
}

func capital(s string) string {
	if s != "" && s[0] >= 'a' && s[0] <= 'z' {
		return string(s[0]-'a'+'A') + s[1:]
	}
	return s
}

// FilterStyle returns the style sheet that makes the index's filters work:
// which rows each choice hides. It belongs to this index, since trades and
// tags are the library's own; publish it as filters.css.
func (p *Index) FilterStyle() []byte {
	w := &writer{}
	first := true
	rule := func(parts ...string) {
		if !first {
			w.raw(",\n")
		}
		first = false
		w.raw(parts...)
	}
	for _, f := range p.filters() {
		for _, c := range f.choices {
			id := f.name + "-" + c.class
			rule("body:has(#", id, ":checked) tr.d:not(.", id, ")")
			rule("body:has(#", id, ":checked) tbody.g:not(:has(tr.", id, "))")
		}
	}
	if first {
		return nil
	}
	w.raw("{display:none!important}\n")
	return []byte(w.String())
}

// Render writes the page.
func (p *Index) Render(out io.Writer, set *themes.Set, s *Site) error {
	p.Mark = indexMark
	w := &writer{root: p.Root}
	w.Grow(4096 + 2048*len(p.Rows))
	v := s.frame(&p.Frame, p, "pg pg-c")
	if path := s.Assets.Path("filters.css"); path != "" {
		v.Filters = p.Root + path
	}
	v.Bar = w.bar(s, &p.Frame)
	v.Head = w.head(&p.Frame, nil)
	v.Strip = w.strip(s, &p.Frame)
	v.Find = w.part(func() {
		w.raw(`<div class="find js" id="find" role="search"><label class="vh" for="q">Find a mark, a title or a material</label>`,
			`<input type="search" id="q" placeholder="Find a mark, a title or a material" autocomplete="off"></div>`)
	})
	if len(p.Rows) > 0 || len(p.Parts) == 0 {
		v.Filter = p.filter(w)
	}
	v.Schedule = p.schedule(w)
	var anchors []anchor
	for _, e := range elements {
		if len(p.Parts) > 0 && len(p.Rows) > 0 {
			break // one element alone
		}
		for i := range p.Parts {
			if p.Parts[i].Element == e.element {
				anchors = append(anchors, anchor{"g-" + e.class, e.word})
				break
			}
		}
		for i := range p.Rows {
			if p.Rows[i].Element == e.element {
				anchors = append(anchors, anchor{"g-" + e.class, e.word})
				break
			}
		}
	}
	v.Block, v.Jump = w.block(s, &p.Frame, anchors), w.jump(anchors)
	return set.Execute(out, "index", &v)
}

func (p *Index) filter(w *writer) template.HTML {
	return w.part(func() {
		w.raw(`<div class="fo"><label class="btn"><input type="checkbox" id="fo" class="vh">Filter and sort</label></div><div class="filt">`)
		for _, f := range p.filters() {
			if len(f.choices) < 2 && (f.name == "tg" || len(p.Parts) > 0) {
				continue
			}
			w.raw(`<fieldset><legend>`, f.legend, `</legend><div class="chips"><label><input type="radio" name="`, f.name, `" id="`, f.name, `-all" checked>`, f.all, `</label>`)
			for _, c := range f.choices {
				w.raw(`<label><input type="radio" name="`, f.name, `" id="`, f.name, `-`, c.class, `">`)
				w.text(c.word)
				w.raw(`<span class="c">`)
				w.int(c.count)
				w.raw(`</span></label>`)
			}
			w.raw(`</div></fieldset>`)
		}
		w.raw(`<fieldset class="js"><legend>Sort</legend><div class="chips">`)
		for i, key := range [...]string{"Mark", "Title", "Figure", "Status"} {
			w.raw(`<label><input type="radio" name="so" id="so-`, key, `"`)
			if i == 0 {
				w.raw(` checked`)
			}
			w.raw(`>`, key, `</label>`)
		}
		w.raw(`</div></fieldset></div>`)
	})
}

func (p *Index) schedule(w *writer) template.HTML {
	return w.part(func() {
		if len(p.Parts) > 0 && len(p.Rows) == 0 {
			w.found()
			w.parts(p.Parts, false)
			return
		}
		if len(p.Parts) > 0 {
			w.parts(p.Parts, true)
		}
		w.raw(`<div class="tw"><table class="ix"><caption class="vh">Details of the library, by element</caption><thead><tr><th scope="col">Section</th><th scope="col">Mark</th><th scope="col">Title and make-up</th><th scope="col">Controls</th><th scope="col" class="n">Figure</th><th scope="col">Trades</th><th scope="col">Status, revision</th></tr></thead>`)
		for _, e := range elements {
			open := false
			for i := range p.Rows {
				r := &p.Rows[i]
				if r.Element != e.element {
					continue
				}
				if !open {
					open = true
					w.raw(`<tbody class="g"><tr class="grp" id="g-`, e.class, `"><th colspan="7" scope="rowgroup">`, e.word, `</th></tr>`)
				}
				w.indexRow(r, e.class)
			}
			if open {
				w.raw(`</tbody>`)
			}
		}
		w.raw(`</table></div><p class="cnt" id="cnt" role="status" data-n="`)
		w.int(len(p.Rows))
		w.raw(`"></p>`)
		w.found()
	})
}

// found is where the search puts what it finds besides the rows.
func (w *writer) found() {
	w.raw(`<section id="also" class="js-also" hidden><h2>Found besides</h2><p class="say" role="status"></p><ul class="hits"></ul></section>`)
}

func (w *writer) indexRow(r *IndexRow, group string) {
	w.raw(`<tr class="d el-`, group, ` ss-`, statusClass(r.Status))
	for _, t := range r.Trades {
		w.raw(` tr-`, prose.Slug(t))
	}
	for _, t := range r.Tags {
		w.raw(` tg-`, prose.Slug(t))
	}
	for _, l := range letters {
		if has(r.Controls, l.control) {
			w.raw(` ct-`, l.letter)
		}
	}
	if r.Status == detail.Superseded {
		w.raw(` sup`)
	}
	w.raw(`" id="d-`)
	w.text(idOf(r.Mark))
	if r.Version != "" {
		w.raw(`" data-v="`)
		w.text(r.Version)
	}
	w.raw(`" data-rank="`)
	w.tenth(r.Rank * 1000)
	w.raw(`"><td class="pic">`)
	switch {
	case r.Thumb != "":
		w.raw(`<a href="`)
		w.text(w.root + r.Href)
		w.raw(`" tabindex="-1" aria-hidden="true">`, string(r.Thumb), `</a>`)
	case r.ThumbFile != "":
		w.raw(`<a href="`)
		w.text(w.root + r.Href)
		w.raw(`" tabindex="-1" aria-hidden="true"><img class="thumb" alt="" loading="lazy" src="`)
		w.text(w.root + r.ThumbFile)
		w.raw(`" width="`)
		w.int(int(r.ThumbWidth*10 + 0.5)) // only their ratio counts
		w.raw(`" height="`)
		w.int(int(r.ThumbHeight*10 + 0.5))
		w.raw(`"></a>`)
	}
	w.raw(`</td><th scope="row" class="mkc mk">`)
	w.link("", Link{r.Href, r.Mark, ""})
	w.raw(`</th><td class="ti">`)
	w.link("", Link{r.Href, r.Title, ""})
	if r.MakeUp != "" {
		w.raw(`<span class="sub">`)
		w.trade(r.MakeUp)
		w.raw(`</span>`)
	}
	w.raw(`</td><td class="ctl">`)
	w.controls(r.Controls)
	w.raw(`</td><td class="n fig1"><b>`)
	w.trade(r.Figure.Main)
	w.raw(`</b>`)
	if r.Figure.Small != "" {
		w.raw(`<span class="sub">`)
		w.trade(r.Figure.Small)
		w.raw(`</span>`)
	}
	if r.Short != "" {
		w.finding(Bad, r.Short)
	} else if r.Proved != "" {
		w.finding(Good, r.Proved)
	}
	w.raw(`</td><td class="tr"><span class="sub">`)
	for i, t := range r.Trades {
		if i > 0 {
			w.raw(`, `)
		}
		w.text(capital(t))
	}
	w.raw(`</span></td><td class="sta">`)
	w.status(r.Status)
	w.raw(`<span class="sub nw">`)
	switch {
	case r.SupersededBy != "":
		w.raw(`by `)
		w.text(r.SupersededBy)
	case r.Rev != "" && r.Date != "":
		w.raw(`Rev `)
		w.text(r.Rev)
		w.raw(`, `)
		w.text(r.Date)
	case r.Rev != "":
		w.raw(`Rev `)
		w.text(r.Rev)
	default:
		w.text(r.Date)
	}
	w.raw(`</span></td></tr>`)
}

// idOf returns a mark as an id may hold it: without white space.
func idOf(mark string) string {
	for i := 0; i < len(mark); i++ {
		if mark[i] <= ' ' {
			b := []byte(mark)
			for j := range b {
				if b[j] <= ' ' {
					b[j] = '-'
				}
			}
			return string(b)
		}
	}
	return mark
}
