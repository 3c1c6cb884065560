package site

import (
	"fmt"
	"strconv"

	"wythe/renderer/detail"
	"wythe/renderer/trace"
	"wythe/site/page"
)

// An index of so many details stands on one page, where a browser's own search
// finds all of it; a longer one in parts of one element each, of so many rows.
// They change in tests alone.
var onePageIndex, partRows = 300, 200

// indexPart is one page of an index in parts.
type indexPart struct {
	page.IndexPart
	of []int // which details, by their place in the library
}

// newIndexParts divides the index; nil where one page holds it.
func newIndexParts(details []*entry) []indexPart {
	if len(details) <= onePageIndex {
		return nil
	}
	byElement := map[detail.Element][]int{}
	for i, e := range details {
		element := elementOf(e)
		byElement[element] = append(byElement[element], i)
	}
	var parts []indexPart
	for _, element := range page.IndexElements() {
		of := byElement[element]
		class := page.ElementClass(element)
		each := (len(of) + partRows - 1) / partRows // alike, rather than one short at the end
		for n := 0; len(of) > 0; n++ {
			size := (len(of) + each - n - 1) / (each - n)
			part := indexPart{of: of[:size]}
			of = of[size:]
			part.Element, part.Count = element, size
			part.Href = "index/" + class + ".html"
			if n > 0 {
				part.Href = "index/" + class + "-" + strconv.Itoa(n+1) + ".html"
			}
			part.Text = details[part.of[0]].d.Mark
			if size > 1 {
				part.Text += " to " + details[part.of[size-1]].d.Mark
			}
			parts = append(parts, part)
		}
	}
	return parts
}

// elementOf is the group of the index in which a detail stands.
func elementOf(e *entry) detail.Element {
	if e.d.Assembly == nil {
		return ""
	}
	return e.d.Assembly.Element
}

// listParts records what the index's parts are, and which details stand in one
// of them; of -1 none.
func (v view) listParts(of int) []page.IndexPart {
	parts := v.indexParts()
	list := make([]page.IndexPart, len(parts))
	words := make([]string, 0, 2*len(parts))
	for i, p := range parts {
		list[i] = p.IndexPart
		list[i].Here = i == of
		words = append(words, p.Href, p.Text)
	}
	key := "index/"
	if of >= 0 && of < len(parts) {
		key += strconv.Itoa(of)
		for _, i := range parts[of].of {
			words = append(words, v.details[i].d.File)
		}
	}
	v.reads.Record(key, trace.Hash(words...))
	return list
}

// indexFront is the first page of an index in parts.
func (v view) indexFront() *page.Index {
	p := &page.Index{Parts: v.listParts(-1)}
	p.Title = "Drawing index"
	p.Lead = fmt.Sprintf("%d details of %s, by element and mark.", len(v.details), v.View.Settings().Title)
	return p
}

// indexPart is one of its parts.
func (v view) indexPart(n int) *page.Index {
	parts := v.indexParts()
	part := &parts[n]
	p := &page.Index{Parts: v.listParts(n), Rows: make([]page.IndexRow, len(part.of))}
	rows := v.facts.rows()
	for k, i := range part.of {
		v.reads.Record("row/"+v.details[i].d.File, rows[i].hash)
		p.Rows[k] = rows[i].is
	}
	p.Root = "../"
	p.Title = page.ElementWord(part.Element) + ", " + part.Text
	p.Lead = "Pictures are the real sections, those of assemblies all to one scale. The field below looks in the whole library."
	p.ScaleRatio = "1:24"
	if n > 0 {
		p.Prev = &page.Link{Href: parts[n-1].Href, Text: parts[n-1].Text}
	}
	if n+1 < len(parts) {
		p.Next = &page.Link{Href: parts[n+1].Href, Text: parts[n+1].Text}
	}
	return p
}
