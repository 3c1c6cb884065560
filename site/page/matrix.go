package page

import (
	"io"
	"strings"

	"wythe/renderer/detail"
	"wythe/themes"
)

// Matrix is the page that shows which assemblies meet, in which section, and
// what is proved of each control.
type Matrix struct {
	Frame
	Assemblies []Link // by mark; Note is the title
	// Cells holds, for the assemblies i and k ≤ i, the junctions where they
	// meet: Cells[i][k].
	Cells     [][][]MatrixJunction
	Junctions []MatrixRow
	Loops     []Loop
	// Undrawn are pairs that may touch in a building and are drawn nowhere.
	Undrawn     []Undrawn
	Mismatches  []string
	Corners     []Corner
	CornersNote string
}

// MatrixJunction is a junction in a cell of the grid.
type MatrixJunction struct {
	Link
	Whole bool // every control that it carries is proved
}

// MatrixRow is a junction with what is proved of it.
type MatrixRow struct {
	Link            // Note is its title
	Meets    []Link // the assemblies laid in it
	Verdicts []Verdicts
}

// Loop walks a building's envelope from floor to roof: assemblies and the
// junctions between them by turns.
type Loop struct {
	Stations []Link // F-101, J-201, W-101, …
	Rows     []LoopRow
}

// LoopRow is one control along a loop: for an assembly the layer that carries
// it, for a junction its verdict.
type LoopRow struct {
	Control detail.Control
	Cells   []LoopCell
}

// LoopCell is one station of one control.
type LoopCell struct {
	Words   string
	Verdict Verdict
}

// Undrawn is a pair that may touch and has no junction.
type Undrawn struct {
	A, B  Link
	Where string // "Ferry Landing"
}

// Corner is a place where the runs of two sections meet, that neither proves.
type Corner struct{ A, B Link }

// Render writes the page.
func (p *Matrix) Render(out io.Writer, set *themes.Set, s *Site) error {
	w := &writer{root: p.Root}
	w.Grow(24 << 10)
	v := s.frame(&p.Frame, p, "pg pg-l pg-x")
	v.Bar = w.bar(s, &p.Frame)
	v.Head = w.head(&p.Frame, nil)
	v.Strip = w.strip(s, &p.Frame)
	var anchors []anchor
	v.Table = w.part(func() {
		part := func(id, title string, there bool, write func()) {
			if there {
				anchors = append(anchors, anchor{id, title})
				write()
			}
		}
		part("loop", "Floor, wall, roof", len(p.Loops) > 0, func() { p.loops(w) })
		part("junctions", "Junctions", len(p.Junctions) > 0, func() { p.junctions(w) })
		part("meet", "What meets what", len(p.Assemblies) > 0, func() { p.grid(w) })
		part("undrawn", "Not drawn", len(p.Undrawn) > 0, func() { p.undrawn(w) })
		part("corners", "Not proved", true, func() { p.corners(w) })
	})
	v.Block, v.Jump = w.block(s, &p.Frame, anchors), w.jump(anchors)
	return set.Execute(out, "list", &v)
}

func (p *Matrix) grid(w *writer) {
	w.section("meet", "", "What meets what", "A ring: not every control is proved there")
	w.raw(`<div class="tw"><table class="mx"><thead><tr><td></td>`)
	for _, a := range p.Assemblies {
		w.raw(`<th scope="col">`)
		w.link("m", Link{a.Href, a.Text, ""})
		w.raw(`</th>`)
	}
	w.raw(`</tr></thead><tbody>`)
	for i, a := range p.Assemblies {
		w.raw(`<tr><th scope="row">`)
		w.link("m", Link{a.Href, a.Text, ""})
		w.raw(`</th>`)
		for k := range p.Assemblies {
			if k > i {
				w.raw(`<td class="no"></td>`)
				continue
			}
			if len(p.Cells[i][k]) == 0 {
				w.raw(`<td></td>`)
				continue
			}
			w.raw(`<td data-k="`)
			w.text(p.Assemblies[k].Text)
			w.raw(`">`)
			for _, j := range p.Cells[i][k] {
				w.raw(`<span class="`)
				if j.Whole {
					w.raw(`ok`)
				} else {
					w.raw(`bad`)
				}
				w.raw(`">`)
				w.link("", j.Link)
				w.raw(`</span>`)
			}
			w.raw(`</td>`)
		}
		w.raw(`</tr>`)
	}
	w.raw(`</tbody></table></div></section>`)
}

func (p *Matrix) junctions(w *writer) {
	w.section("junctions", "", "Junctions", "Verdict on each control, in its own section")
	w.raw(`<div class="tw"><table class="mj"><thead><tr><th scope="col">Junction</th><th scope="col">What meets</th>`)
	for _, l := range letters {
		w.raw(`<th scope="col">`, l.word, `</th>`)
	}
	w.raw(`</tr></thead><tbody>`)
	for i := range p.Junctions {
		r := &p.Junctions[i]
		w.raw(`<tr><th scope="row" class="w">`)
		w.link("m", Link{r.Href, r.Text, ""})
		w.raw(`<span class="sub">`)
		w.trade(r.Note)
		w.raw(`</span></th><td class="mt">`)
		for k, m := range r.Meets {
			if k > 0 {
				w.raw(`, `)
			}
			w.link("m", Link{m.Href, m.Text, ""})
		}
		w.raw(`</td>`)
		for _, l := range letters {
			w.raw(`<td class="vd" data-k="`, l.word, `">`)
			found := false
			for _, c := range r.Verdicts {
				if c.Control == l.control {
					w.finding(c.Verdict, c.Words)
					found = true
				}
			}
			if !found {
				w.raw(`<span class="u">not carried</span>`)
			}
			w.raw(`</td>`)
		}
		w.raw(`</tr>`)
	}
	w.raw(`</tbody></table></div></section>`)
}

func (p *Matrix) loops(w *writer) {
	w.section("loop", "", "Floor, wall, roof and back", "Which layer carries each control from section to section")
	for i := range p.Loops {
		l := &p.Loops[i]
		w.raw(`<div class="tw"><table class="lp"><thead><tr><th scope="col">Control</th>`)
		for _, st := range l.Stations {
			w.raw(`<th scope="col">`)
			w.link("m", st)
			w.raw(`</th>`)
		}
		w.raw(`</tr></thead><tbody>`)
		for _, r := range l.Rows {
			w.raw(`<tr><th scope="row">`)
			for _, c := range letters {
				if c.control == r.Control {
					w.raw(`<span class="ltr" aria-hidden="true">`, c.letter, `</span> `, c.word)
				}
			}
			w.raw(`</th>`)
			for k, c := range r.Cells {
				w.raw(`<td data-k="`)
				w.text(l.Stations[k].Text)
				w.raw(`">`)
				w.finding(c.Verdict, c.Words)
				w.raw(`</td>`)
			}
			w.raw(`</tr>`)
		}
		w.raw(`</tbody></table></div>`)
	}
	for _, m := range p.Mismatches {
		w.raw(`<div class="gap"><b>Handover</b><p>`)
		w.trade(m)
		w.raw(`</p></div>`)
	}
	w.raw(`<p class="sub corners">The layer that carries a control out of one section must carry it into the next. From the roof the loop comes down the other side by the same sections.</p></section>`)
}

func (p *Matrix) undrawn(w *writer) {
	w.section("undrawn", "", "Not drawn", "")
	w.raw(`<p class="lead">Pairs of one building whose kinds meet, with no section drawn of them. A building's file does not say which of its assemblies touch: strike out those that do not.</p><ul class="used">`)
	for _, u := range p.Undrawn {
		w.raw(`<li><span class="nw">`)
		w.link("m", Link{u.A.Href, u.A.Text, ""})
		w.raw(` · `)
		w.link("m", Link{u.B.Href, u.B.Text, ""})
		w.raw(`</span><span>`)
		w.trade(u.A.Note + " at " + lowerFirst(u.B.Note) + ". " + u.Where + ".")
		w.raw(`</span></li>`)
	}
	w.raw(`</ul></section>`)
}

func (p *Matrix) corners(w *writer) {
	w.section("corners", "", "Not proved", "Three-way corners")
	w.raw(`<p class="lead">`)
	w.trade(p.CornersNote)
	w.raw(`</p>`)
	if len(p.Corners) > 0 {
		w.raw(`<ul class="used">`)
		for _, c := range p.Corners {
			w.raw(`<li><span class="nw">`)
			w.link("m", Link{c.A.Href, c.A.Text, ""})
			w.raw(` · `)
			w.link("m", Link{c.B.Href, c.B.Text, ""})
			w.raw(`</span><span>`)
			w.trade(c.A.Note + " at " + lowerFirst(c.B.Note) + ": unproved.")
			w.raw(`</span></li>`)
		}
		w.raw(`</ul>`)
	}
	w.raw(`</section>`)
}

// lowerFirst begins with a small letter, unless the word is all capitals.
func lowerFirst(s string) string {
	word, _, _ := strings.Cut(s, " ")
	if word == strings.ToUpper(word) {
		return s
	}
	return strings.ToLower(s[:1]) + s[1:]
}
