package page

import (
	"html/template"
	"strconv"
	"strings"

	"wythe/renderer/detail"
	"wythe/site/prose"
)

// writer gathers a page's parts, one after the other, in one buffer.
type writer struct {
	strings.Builder
	scratch [256]byte
	root    string
}

// raw writes HTML as it is.
func (w *writer) raw(parts ...string) {
	for _, p := range parts {
		w.WriteString(p)
	}
}

// text writes words, escaped.
func (w *writer) text(words string) {
	w.WriteString(prose.Escape(words))
}

// trade writes words as the trade sets them: fractions slanting.
func (w *writer) trade(words string) {
	if strings.IndexByte(words, '/') < 0 {
		w.text(words)
		return
	}
	w.Write(prose.AppendTrade(w.scratch[:0], words))
}

// int writes a whole number.
func (w *writer) int(n int) { w.Write(strconv.AppendInt(w.scratch[:0], int64(n), 10)) }

// link writes a link to a page of the site; without an address, its words.
func (w *writer) link(class string, l Link) {
	if l.Href == "" {
		if class == "" {
			w.text(l.Text)
			return
		}
		w.raw(`<span class="`, class, `">`)
		w.text(l.Text)
		w.raw(`</span>`)
		return
	}
	w.raw(`<a`)
	if class != "" {
		w.raw(` class="`, class, `"`)
	}
	w.raw(` href="`)
	w.text(w.root)
	w.text(l.Href)
	w.raw(`">`)
	w.text(l.Text)
	w.raw(`</a>`)
}

// part runs f and returns what it wrote.
func (w *writer) part(f func()) template.HTML {
	from := w.Len()
	f()
	// The builder only ever grows: what is written stays where it is.
	return template.HTML(w.String()[from:])
}

// section opens a section with a heading; small stands at the heading's right.
func (w *writer) section(id, class, title, small string) {
	w.raw(`<section id="`, id, `"`)
	if class != "" {
		w.raw(` class="`, class, `"`)
	}
	w.raw(`>`)
	w.heading(title, small)
}

func (w *writer) heading(title, small string) {
	w.raw(`<h2>`)
	w.text(title)
	if small != "" {
		w.raw(` <small>`)
		w.trade(small)
		w.raw(`</small>`)
	}
	w.raw(`</h2>`)
}

// status writes a status with its shape: full disc, half disc, ring, struck.
func (w *writer) status(s detail.Status) {
	if s == "" {
		return
	}
	w.raw(`<span class="st st-`, statusClass(s), `"><i></i>`, statusWord(s), `</span>`)
}

func statusClass(s detail.Status) string {
	switch s {
	case detail.Issued:
		return "issued"
	case detail.ForReview:
		return "review"
	case detail.Superseded:
		return "superseded"
	}
	return "draft"
}

func statusWord(s detail.Status) string {
	switch s {
	case detail.Issued:
		return "Issued"
	case detail.ForReview:
		return "For review"
	case detail.Superseded:
		return "Superseded"
	}
	return "Draft"
}

// letters are the four controls in the order of their fixed places.
var letters = [...]struct {
	control      detail.Control
	letter, word string
}{
	{detail.AirTight, "A", "Air"},
	{detail.VaporTight, "V", "Vapor"},
	{detail.Water, "W", "Water"},
	{detail.Thermal, "T", "Thermal"},
}

// controls writes the letters of what a layer controls, each in its place.
func (w *writer) controls(on []detail.Control) {
	w.raw(`<span class="ltrs">`)
	for _, l := range letters {
		if has(on, l.control) {
			w.raw(`<abbr class="ltr" title="`, l.word, ` control">`, l.letter, `</abbr>`)
		} else {
			w.raw(`<span class="ltr off"></span>`)
		}
	}
	w.raw(`</span>`)
}

func has(on []detail.Control, c detail.Control) bool {
	for _, o := range on {
		if o == c {
			return true
		}
	}
	return false
}

// finding writes a verdict with its sign: a tick, or a ring in red.
func (w *writer) finding(v Verdict, words string) {
	switch v {
	case Good:
		w.raw(`<span class="ok">`)
	case Bad:
		w.raw(`<span class="bad">`)
	default:
		w.trade(words)
		return
	}
	w.trade(words)
	w.raw(`</span>`)
}

// Verdict is what a figure says against its limit.
type Verdict int

const (
	Neutral Verdict = iota // no limit to hold it to
	Good
	Bad
)
