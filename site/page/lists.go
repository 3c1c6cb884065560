package page

import (
	"html/template"
	"strconv"
	"strings"

	"wythe/site/prose"
)

func (w *writer) tenth(v float64) { w.Write(strconv.AppendFloat(w.scratch[:0], v, 'f', 1, 64)) }

const warningSign = `<svg viewBox="0 0 20 20" aria-hidden="true"><path class="tri" d="M10 2 19 17.6H1Z"/><path class="bang" d="M10 7.4v5"/><circle cx="10" cy="14.9" r="1.15"/></svg>`

// cautions writes the warnings.
func (w *writer) cautions(list []Caution) template.HTML {
	if len(list) == 0 {
		return ""
	}
	return w.part(func() {
		w.section("cautions", "", "Cautions", "")
		w.raw(`<ul class="caut">`)
		for _, c := range list {
			w.raw(`<li>`, warningSign, `<span>`)
			if c.Head != "" {
				w.raw(`<b>`)
				w.trade(c.Head)
				w.raw(`</b> `)
			}
			w.raw(c.Text.String(), `</span></li>`)
		}
		w.raw(`</ul></section>`)
	})
}

// used writes where the detail is used.
func (w *writer) used(list []Link) template.HTML {
	if len(list) == 0 {
		return ""
	}
	return w.part(func() {
		w.section("used", "", "Used by", "")
		w.links(list)
		w.raw(`</section>`)
	})
}

func (w *writer) links(list []Link) {
	w.raw(`<ul class="used">`)
	for _, l := range list {
		w.raw(`<li>`)
		w.link("m", l)
		w.raw(`<span>`)
		w.trade(l.Note)
		w.raw(`</span></li>`)
	}
	w.raw(`</ul>`)
}

// sequence writes the steps, each with a picture of what stands after it.
func (w *writer) sequence(steps []Step) template.HTML {
	if len(steps) == 0 {
		return ""
	}
	return w.part(func() {
		small := ""
		for _, s := range steps {
			if s.Picture != "" {
				small = "Each drawing shows what stands after the step"
			}
		}
		w.section("sequence", "", "Sequence", small)
		w.raw(`<ol class="seq">`)
		for i := range steps {
			w.step(i+1, &steps[i], small != "")
		}
		w.raw(`</ol></section>`)
	})
}

func (w *writer) step(n int, s *Step, pictures bool) {
	w.raw(`<li id="step-`)
	w.int(n)
	w.raw(`" data-trade="`)
	w.text(s.Trade)
	if strings.Contains(string(s.Picture), `data-step="`+strconv.Itoa(n)+`"`) {
		w.raw(`" class="new`) // what it adds is drawn darker than what stood
	}
	w.raw(`">`)
	if pictures { // the place of one that is missing keeps the words in line
		w.raw(`<div class="stepd">`, string(s.Picture), `</div>`)
	}
	w.raw(`<span class="kn" aria-hidden="true">`)
	w.int(n)
	w.raw(`</span><span class="trade">`)
	w.text(s.Trade)
	w.raw(`</span><div class="body"><p>`, s.Do.String(), `</p>`)
	if s.Tools != "" {
		w.raw(`<p class="sub"><b>Tools:</b> `)
		w.trade(s.Tools)
		w.raw(`</p>`)
	}
	if s.Materials != "" {
		w.raw(`<p class="sub"><b>Materials:</b> `)
		w.trade(s.Materials)
		w.raw(`</p>`)
	}
	if !s.Caution.Empty() {
		w.raw(`<p class="care">`, warningSign, `<span>`, s.Caution.String(), `</span></p>`)
	}
	if !s.Hold.Empty() {
		w.raw(`<p class="hold"><b>HOLD</b><span>`, s.Hold.String())
		if s.ReleasedBy != "" {
			w.raw(`<span class="rel">Released by `)
			w.text(s.ReleasedBy)
			w.raw(`, never by who did the work.</span>`)
		} else {
			w.raw(`<span class="rel">Agree who releases it: never who did the work.</span>`)
		}
		if s.Photo != "" {
			w.raw(`<span class="rel">Photograph: `)
			w.trade(s.Photo)
			w.raw(`</span>`)
		}
		w.raw(`</span></p>`)
	}
	w.raw(`</div></li>`)
}

// references writes what the detail refers to.
func (w *writer) references(list []prose.HTML) template.HTML {
	if len(list) == 0 {
		return ""
	}
	return w.part(func() {
		w.section("references", "", "References", "")
		w.raw(`<ul class="refs">`)
		for _, r := range list {
			w.raw(`<li>`, r.String(), `</li>`)
		}
		w.raw(`</ul></section>`)
	})
}

// RevisionID is the id of a revision's row on a detail's page: a print leads
// there where the revision has no page of its own.
func RevisionID(rev string) string { return "issue-" + prose.Slug(rev) }

// revisions writes the revision table, as given: newest first.
func (w *writer) revisions(list []Revision) template.HTML {
	if len(list) == 0 {
		return ""
	}
	return w.part(func() {
		marked := false
		for _, r := range list {
			marked = marked || r.Fingerprint != ""
		}
		w.section("revisions", "", "Revisions", "")
		w.raw(`<div class="tw"><table class="revs"><thead><tr><th scope="col">Rev</th><th scope="col">Date</th><th scope="col">Note</th>`)
		if marked {
			w.raw(`<th scope="col" class="n">Fingerprint</th>`)
		}
		w.raw(`</tr></thead><tbody>`)
		for _, r := range list {
			w.raw(`<tr id="`, RevisionID(r.Rev), `"><th scope="row">`)
			if r.Href != "" {
				w.link("", Link{Href: r.Href, Text: r.Rev})
			} else {
				w.text(r.Rev)
			}
			w.raw(`</th><td class="nw">`)
			w.text(r.Date)
			w.raw(`</td><td class="w">`)
			w.trade(r.Note)
			if r.Changed != "" {
				w.raw(` <span class="sub">`)
				w.link("", Link{Href: r.Changed, Text: "What changed"})
				w.raw(`</span>`)
			}
			w.raw(`</td>`)
			if marked {
				w.raw(`<td class="n">`)
				w.text(spaced(r.Fingerprint))
				w.raw(`</td>`)
			}
			w.raw(`</tr>`)
		}
		w.raw(`</tbody></table></div></section>`)
	})
}

// spaced sets a fingerprint in fours, so that it can be read out.
func spaced(s string) string {
	if len(s) <= 4 || strings.ContainsRune(s, ' ') {
		return s
	}
	for _, r := range s {
		if r >= 0x80 {
			return s
		}
	}
	var b strings.Builder
	for i := range len(s) {
		if i > 0 && i%4 == 0 {
			b.WriteByte(' ')
		}
		b.WriteByte(s[i])
	}
	return b.String()
}
