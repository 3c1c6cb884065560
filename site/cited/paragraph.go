package cited

import (
	"fmt"
	"sort"
	"strings"
)

// paragraph finds the marks of a paragraph, and plans its links.
func (p *part) paragraph(par *paragraph) {
	var text strings.Builder
	type where struct{ run, atom int }
	var places []where // of each byte of the text
	for i := range par.runs {
		for k := range par.runs[i].atoms {
			a := &par.runs[i].atoms[k]
			text.WriteString(a.text)
			for range len(a.text) {
				places = append(places, where{i, k})
			}
		}
	}
	if text.Len() == 0 {
		return
	}
	place := fmt.Sprintf("paragraph %d", p.count)
	if p.name != "word/document.xml" {
		place += " of " + p.name
	}
	touched := map[int]bool{}
	for _, f := range marksIn(text.String(), p.book) {
		first, last := places[f.from], places[f.end-1]
		linked := false
		for i := first.run; i <= last.run; i++ {
			linked = linked || par.runs[i].linked
		}
		p.cites = append(p.cites, Cite{f.mark, f.rev, place, f.small, linked})
		if !p.link || linked || f.small || !p.book.Known(f.mark) || !par.together(first.run, last.run) {
			continue
		}
		href := p.book.Address(f.mark, f.rev)
		if href == "" {
			continue
		}
		p.links = append(p.links, linkTo{href: href})
		for at := f.from; at < f.end; at++ {
			w := places[at]
			par.runs[w.run].atoms[w.atom].mark = len(p.links)
		}
		for i := first.run; i <= last.run; i++ {
			touched[i] = len(par.runs[i].atoms) > 0
		}
	}
	for i := 0; i < len(par.runs); i++ {
		if !touched[i] {
			continue
		}
		end := i
		for end+1 < len(par.runs) && touched[end+1] && par.together(end, end+1) && spans(&par.runs[end], &par.runs[end+1]) {
			end++
		}
		p.edits = append(p.edits, p.rewrite(par.runs[i:end+1]))
		i = end
	}
}

// together reports whether a link may stand around runs i to k.
func (par *paragraph) together(i, k int) bool {
	for n := i; n <= k; n++ {
		if !par.runs[n].plain || par.runs[n].container != par.runs[i].container {
			return false
		}
	}
	return true
}

// spans reports whether one link runs from one run into the next.
func spans(a, b *run) bool {
	return len(a.atoms) > 0 && len(b.atoms) > 0 && a.atoms[len(a.atoms)-1].mark > 0 && a.atoms[len(a.atoms)-1].mark == b.atoms[0].mark
}

// rewrite sets runs down anew, with links around the signs that have one.
func (p *part) rewrite(runs []run) edit {
	e := edit{from: runs[0].from, to: runs[len(runs)-1].to}
	raw := func(s string) { e.pieces = append(e.pieces, piece{raw: s}) }
	open := 0
	turn := func(to int) {
		if open == to {
			return
		}
		if open > 0 {
			e.pieces = append(e.pieces, piece{shut: true})
		}
		if open = to; open > 0 {
			e.pieces = append(e.pieces, piece{open: open})
		}
	}
	for i := range runs {
		r := &runs[i]
		if i > 0 {
			raw(string(p.text[runs[i-1].to:r.from])) // what stands between
		}
		for k := 0; k < len(r.atoms); {
			mark := r.atoms[k].mark
			turn(mark)
			raw(r.head)
			for k < len(r.atoms) && r.atoms[k].mark == mark {
				if !r.atoms[k].inText {
					raw(string(p.text[r.atoms[k].from:r.atoms[k].to]))
					k++
					continue
				}
				from := k
				for k < len(r.atoms) && r.atoms[k].inText && r.atoms[k].mark == mark {
					k++
				}
				raw("<" + p.w + `t xml:space="preserve">` + p.signs(r.atoms[from:k]) + "</" + p.w + "t>")
			}
			raw("</" + p.w + "r>")
		}
	}
	turn(0)
	return e
}

// signs are atoms as the part writes them; two text elements may lie between.
func (p *part) signs(atoms []atom) string {
	var b strings.Builder
	for _, a := range atoms {
		b.Write(p.text[a.from:a.to])
	}
	return b.String()
}

// rewritten is the part with its links; they must have been related.
func (p *part) rewritten() []byte {
	var out []byte
	from := 0
	for _, e := range inOrder(p.edits) {
		out = append(out, p.text[from:e.from]...)
		for _, x := range e.pieces {
			switch {
			case x.open > 0:
				out = append(out, "<"+p.w+`hyperlink xmlns:wlink="`+p.space.relations+`" wlink:id="`+p.links[x.open-1].id+`" `+p.w+`history="1">`...)
			case x.shut:
				out = append(out, "</"+p.w+"hyperlink>"...)
			default:
				out = append(out, x.raw...)
			}
		}
		from = e.to
	}
	return append(out, p.text[from:]...)
}

// inOrder sorts edits by place. A text box's paragraphs end before the one
// they stand in; that one's runs with boxes are never edited, so none overlap.
func inOrder(edits []edit) []edit {
	sort.Slice(edits, func(a, b int) bool { return edits[a].from < edits[b].from })
	return edits
}
