package page

import (
	"html/template"
	"unicode/utf8"

	"wythe/renderer/detail"
)

// anchor is a section of the page, for the title block.
type anchor struct{ id, text string }

// bar is the strip at the top of a narrow screen.
func (w *writer) bar(s *Site, f *Frame) template.HTML {
	return w.part(func() {
		w.raw(`<div class="phonebar"><span class="mk">`)
		if f.Mark != "" {
			w.text(f.Mark)
		} else {
			w.text(s.Title)
		}
		w.raw(`</span>`)
		if f.Status != "" {
			w.raw(`<span class="st st-`, statusClass(f.Status), `"><i></i>`, statusWord(f.Status))
			if f.Rev != "" {
				w.raw(` rev `)
				w.text(f.Rev)
			}
			w.raw(`</span>`)
		} else {
			w.raw(`<span></span>`)
		}
		if f.Mark == indexMark {
			w.raw(`<a class="ix-l js" href="#q">Find</a></div>`)
		} else {
			w.raw(`<button class="ix-l js" type="button" data-find>Find</button><a class="ix-l" href="`)
			w.text(w.root + indexHref)
			w.raw(`">Index</a></div>`)
		}
	})
}

// head is mark, title, status, a sentence, and what the detail is for.
func (w *writer) head(f *Frame, extra func()) template.HTML {
	return w.part(func() {
		w.raw(`<header class="head">`)
		if f.Mark != "" && f.Mark != indexMark {
			w.raw(`<span class="mk">`)
			w.text(f.Mark)
			w.raw(`</span>`)
		}
		w.raw(`<h1>`)
		w.text(f.Title)
		w.raw(`</h1>`)
		w.status(f.Status)
		if f.Lead != "" {
			w.raw(`<p>`)
			w.trade(f.Lead)
			w.raw(`</p>`)
		}
		if extra != nil {
			extra()
		}
		w.raw(`</header>`)
	})
}

// block is the title block at the right of the sheet.
func (w *writer) block(s *Site, f *Frame, anchors []anchor) template.HTML {
	return w.part(func() {
		w.raw(`<aside class="tblock" aria-label="Title block"><div class="tbi"><div class="cell"><span class="firm">`)
		w.text(s.Firm)
		w.raw(`</span></div><div class="cell"><span class="k">Library</span>`)
		w.text(s.Title)
		if s.Place != "" {
			w.raw(`<br>`)
			w.text(s.Place)
		}
		w.raw(`</div><div class="cell"><nav aria-label="Library">`)
		if f.Mark != indexMark {
			w.navLink(Link{indexHref, "Drawing index", ""}, s.Details)
		}
		if f.Prev != nil {
			w.navLink(Link{f.Prev.Href, "Previous: " + f.Prev.Text, ""}, 0)
		}
		if f.Next != nil {
			w.navLink(Link{f.Next.Href, "Next: " + f.Next.Text, ""}, 0)
		}
		for _, l := range s.Nav {
			w.navLink(l, 0)
		}
		w.raw(`</nav></div>`)
		if len(anchors) > 0 {
			w.raw(`<div class="cell row"><nav aria-label="On this sheet"><span class="k">On this sheet</span>`)
			for _, a := range anchors {
				w.raw(`<a href="#`, a.id, `">`)
				w.text(a.text)
				w.raw(`</a>`)
			}
			w.raw(`</nav></div>`)
		}
		w.raw(`<div class="cell grow"></div><div class="cell screen" id="keep" hidden></div>`,
			`<div class="cell screen"><fieldset class="light"><legend class="k">Light</legend><div class="seg">`,
			`<label><input type="radio" name="m" id="m-paper">Paper</label>`,
			`<label><input type="radio" name="m" id="m-night">Night</label>`,
			`<label><input type="radio" name="m" id="m-sun">Sun</label></div></fieldset></div>`,
			`<div class="cell screen js">`)
		if f.Mark != indexMark {
			w.raw(`<button class="btn" type="button" data-find>Find <kbd>/</kbd></button> `)
		}
		w.raw(`<button class="btn" type="button" id="print">`)
		if f.ScaleRatio != "" && f.Mark != indexMark {
			w.raw(`Print at true scale`)
		} else {
			w.raw(`Print`)
		}
		w.raw(`</button></div>`)
		if len(f.Files) > 0 {
			w.raw(`<div class="cell row screen"><nav aria-label="Files"><span class="k">To take along</span>`)
			for _, l := range f.Files {
				w.navLink(l, 0)
			}
			w.raw(`</nav></div>`)
		}
		if f.Status != "" {
			w.raw(`<div class="two"><div class="cell"><span class="k">Status</span>`)
			w.status(f.Status)
			w.raw(`</div><div class="cell"><span class="k">Revision</span><b>`)
			w.text(orDash(f.Rev))
			w.raw(`</b></div></div>`)
		}
		if f.Date != "" || f.Scale != "" || f.ScaleRatio != "" {
			w.raw(`<div class="two"><div class="cell"><span class="k">Date</span>`)
			w.text(orDash(f.Date))
			w.raw(`</div><div class="cell"><span class="k">Scale</span>`)
			if f.Scale != "" {
				w.trade(f.Scale)
			} else {
				w.text(orDash(f.ScaleRatio))
			}
			w.raw(`</div></div>`)
		}
		if f.Mark != "" {
			w.raw(`<div class="cell num"><span class="k">`)
			w.text(f.Title)
			w.raw(`</span><strong`, long(f.Mark), `>`)
			w.text(f.Mark)
			w.raw(`</strong></div>`)
		} else {
			w.raw(`<div class="cell num"><span class="k">`)
			w.text(s.Title)
			w.raw(`</span><strong class="words">`)
			w.text(f.Title)
			w.raw(`</strong></div>`)
		}
		w.raw(`</div></aside>`)
	})
}

// jump leads to the sections of the page from under its drawing: a narrow
// screen's, where the title block comes last. Fewer than three are near enough.
func (w *writer) jump(anchors []anchor) template.HTML {
	if len(anchors) < 3 {
		return ""
	}
	return w.part(func() {
		w.raw(`<nav class="jump" aria-label="Sections">`)
		for _, a := range anchors {
			if utf8.RuneCountInString(a.text) > 12 { // two places wide
				w.raw(`<a class="w2" href="#`, a.id, `">`)
			} else {
				w.raw(`<a href="#`, a.id, `">`)
			}
			w.text(a.text)
			w.raw(`</a>`)
		}
		w.raw(`</nav>`)
	})
}

func (w *writer) navLink(l Link, count int) {
	w.raw(`<a href="`)
	w.text(w.root + l.Href)
	w.raw(`">`)
	w.text(l.Text)
	if count > 0 {
		w.raw(` <span>`)
		w.int(count)
		w.raw(`</span>`)
	} else if l.Note != "" {
		w.raw(` <span>`)
		w.text(l.Note)
		w.raw(`</span>`)
	}
	w.raw(`</a>`)
}

// long makes room for a mark of more signs than F-101 has.
func long(mark string) string {
	if utf8.RuneCountInString(mark) > 6 {
		return ` class="long"`
	}
	return ""
}

func orDash(s string) string {
	if s == "" {
		return "–"
	}
	return s
}

// strip is the title block along the foot of a printed sheet. Screens and
// their readers do not get it.
func (w *writer) strip(s *Site, f *Frame) template.HTML {
	return w.part(func() {
		w.raw(`<div class="tbp`)
		by := f.DrawnBy != "" || f.CheckedBy != "" || f.IssuedFor != ""
		if by {
			w.raw(` by`)
		}
		if f.Code != "" {
			w.raw(` coded`)
		}
		w.raw(`" aria-hidden="true">`)
		cell := func(key string, write func()) {
			w.raw(`<div><span class="k">`, key, `</span>`)
			write()
			w.raw(`</div>`)
		}
		cell("Firm", func() { w.raw(`<b>`); w.text(s.Firm); w.raw(`</b>`) })
		cell("Library", func() {
			w.text(s.Title)
			if s.Place != "" {
				w.raw(`<br>`)
				w.text(s.Place)
			}
		})
		cell("Title", func() { w.raw(`<b>`); w.text(f.Title); w.raw(`</b>`) })
		cell("Scale", func() {
			w.trade(orDash(f.Scale))
			if f.ScaleRatio != "" && f.ScaleRatio != f.Scale {
				w.raw(`<br>`)
				w.text(f.ScaleRatio)
			}
		})
		cell("Status", func() {
			if f.Status != "" {
				w.raw(statusWord(f.Status))
			} else {
				w.raw(`–`)
			}
		})
		cell("Rev, date", func() {
			w.raw(`<b>`)
			w.text(orDash(f.Rev))
			w.raw(`</b>`)
			if f.Date != "" {
				w.raw(`, `)
				w.text(f.Date)
			}
		})
		if by {
			w.raw(`<dl>`)
			for _, b := range [...][2]string{{"Drawn by", f.DrawnBy}, {"Checked by", f.CheckedBy}, {"Issued for", f.IssuedFor}} {
				if b[1] != "" {
					w.raw(`<div><dt class="k">`, b[0], `</dt><dd>`)
					w.text(b[1])
					w.raw(`</dd></div>`)
				}
			}
			w.raw(`</dl>`)
		}
		cell("Number", func() {
			w.raw(`<span`, long(f.Mark), `><span class="big">`)
			w.text(f.Mark)
			w.raw(`</span>`)
			w.raw(`</span>`)
		})
		w.raw(string(f.Code), `</div>`)
	})
}

// notForConstruction writes the bar that stands over the drawing of a detail
// that is not issued; where the drawing says so itself, on a narrow screen alone.
func (w *writer) notForConstruction(s detail.Status, drawn bool) {
	if s == detail.Issued {
		return
	}
	class := "nfc"
	if drawn {
		class = "nfc in"
	}
	w.raw(`<p class="`, class, `"><b>Not for construction</b><span>`, statusWord(s), `</span></p>`)
}
