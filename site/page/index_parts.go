package page

import "wythe/renderer/detail"

// IndexPart is a page of an index in parts.
type IndexPart struct {
	Href, Text string // "index/wall-2.html", "W-201 to W-400"
	Element    detail.Element
	Count      int
	Here       bool // it is this page
}

// IndexElements are the groups of the index, in its order; a junction's is "".
func IndexElements() []detail.Element {
	list := make([]detail.Element, len(elements))
	for i, e := range elements {
		list[i] = e.element
	}
	return list
}

// ElementClass is the short word of a group of the index: "below".
func ElementClass(of detail.Element) string {
	for _, e := range elements {
		if e.element == of {
			return e.class
		}
	}
	return ""
}

// ElementWord names a group of the index: "Walls below grade".
func ElementWord(of detail.Element) string {
	for _, e := range elements {
		if e.element == of {
			return e.word
		}
	}
	return ""
}

// parts leads to the pages of an index in parts: all of them by element, or on
// one of them to those of its own element and to the first page.
func (w *writer) parts(list []IndexPart, within bool) {
	here := -1
	for i := range list {
		if list[i].Here {
			here = i
		}
	}
	if within {
		w.raw(`<nav class="parts" aria-label="Parts of the index"><ul><li>`)
		w.link("", Link{indexHref, "Drawing index", ""})
		w.raw(`</li>`)
		for i := range list {
			if here >= 0 && list[i].Element == list[here].Element {
				w.indexPart(&list[i])
			}
		}
		w.raw(`</ul></nav>`)
		return
	}
	for _, e := range elements {
		count, open := 0, false
		for i := range list {
			if list[i].Element == e.element {
				count += list[i].Count
			}
		}
		for i := range list {
			if list[i].Element != e.element {
				continue
			}
			if !open {
				open = true
				w.raw(`<section id="g-`, e.class, `"><h2>`, e.word, ` <small>`)
				w.int(count)
				w.raw(`</small></h2><div class="parts"><ul>`)
			}
			w.indexPart(&list[i])
		}
		if open {
			w.raw(`</ul></div></section>`)
		}
	}
}

func (w *writer) indexPart(p *IndexPart) {
	if p.Here {
		w.raw(`<li aria-current="page">`)
		w.text(p.Text)
		w.raw(`</li>`)
		return
	}
	w.raw(`<li>`)
	w.link("", Link{p.Href, p.Text, ""})
	w.raw(`</li>`)
}
