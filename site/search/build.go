package search

import (
	"slices"
	"strconv"
	"strings"

	"wythe/renderer/memo"
)

// Doc is one page that can be found.
type Doc struct {
	Kind  string // "detail", "material", "specification", "building", "page"
	Mark  string // or number of the section; "" none
	Title string
	Href  string // from the site's root
	Thumb string // a picture of it, from the site's root; "" none
	State string // "superseded" and the like, said beside the title; "" none

	Materials, Trades, Specs []string
	Body                     []string // texts whose words are looked for
}

// Fields of the index, by their numbers in it.
const (
	fieldMark = iota
	fieldTitle
	fieldMaterial
	fieldTrade
	fieldSpec
	fieldBody
	fieldCount
)

// Fields names the fields, in the order of their numbers.
var Fields = []string{"mark", "title", "material", "trade", "spec", "body"}

// posting says that a term stands in a field of a document, and how often.
type posting struct {
	doc   int32
	field uint8
	times uint16
}

// builder gathers the postings of every term.
type builder struct {
	number   map[string]int32 // of a term
	terms    []string
	postings [][]posting
	lengths  [fieldCount][]int
	averages [fieldCount]float64
	here     []int32 // terms of the field being read, each once
	onClose  func(field uint8)
}

func (b *builder) add(term string, doc int32, field uint8) {
	n, known := b.number[term]
	if !known {
		n = b.first(strings.Clone(term))
	}
	list := b.postings[n]
	if last := len(list) - 1; last >= 0 && list[last].doc == doc && list[last].field == field {
		if list[last].times < 1<<15 {
			list[last].times++
		}
		return
	}
	b.here = append(b.here, n)
	b.postings[n] = append(list, posting{doc, field, 1})
}

// first numbers a term that was not met before.
func (b *builder) first(term string) int32 {
	n := int32(len(b.terms))
	b.number[term] = n
	b.terms = append(b.terms, term)
	b.postings = append(b.postings, nil)
	return n
}

// close ends a field of a document. The average is kept as the engine keeps
// it, so that scores are the same to the last digit.
func (b *builder) close(doc int, field uint8) {
	if b.onClose != nil {
		b.onClose(field)
	}
	b.lengths[field] = append(b.lengths[field], len(b.here))
	b.averages[field] = (b.averages[field]*float64(doc) + float64(len(b.here))) / float64(doc+1)
	b.here = b.here[:0]
}

// Build makes the index of the documents, numbered in their order. The terms of
// a document are taken from the store where it holds them; the store may be nil.
func Build(docs []Doc, store *memo.Store) *Index {
	b := &builder{number: make(map[string]int32, 4096)}
	for i := range docs {
		b.stored(i, &docs[i], store)
	}
	order := make([]int32, len(b.terms))
	for i := range order {
		order[i] = int32(i)
	}
	slices.SortFunc(order, func(x, y int32) int { return strings.Compare(b.terms[x], b.terms[y]) })
	return b.write(docs, order)
}

func (b *builder) document(n int, d *Doc) {
	doc := int32(n)
	var field uint8
	put := func(term string) { b.add(term, doc, field) }
	texts := func(f uint8, list ...string) {
		field = f
		for _, text := range list {
			eachTerm(text, put)
		}
		b.close(n, f)
	}
	texts(fieldMark, d.Mark)
	texts(fieldTitle, d.Title)
	texts(fieldMaterial, d.Materials...)
	texts(fieldTrade, d.Trades...)
	field = fieldSpec
	for _, s := range d.Specs {
		if all := bare(s); len(all) == 6 {
			put(all[:4]) // 07 26 00 is 0726 as it is said
			put(all)
		} else {
			put(all)
		}
		eachTerm(s, put)
	}
	b.close(n, fieldSpec)
	field = fieldBody
	for _, text := range d.Body {
		eachTerm(text, func(term string) {
			if !common(term) {
				put(term)
			}
		})
	}
	b.close(n, fieldBody)
}

// appendPostings writes postings of the fields from one to another as
// "2:a.1*3;4:5.2": for each field its number, then the documents as steps
// from the one before in base 36, and how often where more than once.
func appendPostings(out []byte, list []posting, from, to uint8) []byte {
	for field := from; field <= to; field++ {
		last, open := int32(0), false
		for _, p := range list {
			if p.field != field {
				continue
			}
			if !open {
				if n := len(out); n > 0 && out[n-1] != '\t' {
					out = append(out, ';')
				}
				out = append(out, '0'+field, ':')
				open = true
			} else {
				out = append(out, '.')
			}
			out = strconv.AppendInt(out, int64(p.doc-last), 36)
			last = p.doc
			if p.times > 1 {
				out = append(out, '*')
				out = strconv.AppendInt(out, int64(p.times), 36)
			}
		}
	}
	return out
}
