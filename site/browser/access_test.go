package browser

import (
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// narrow is the least window that WCAG 2.2 asks of a page (1.4.10), and what
// is left of 1280 px at 400 %; half is 1280 px at 200 %.
var (
	narrow = screen{"320", 320, 568, true}
	half   = screen{"200 %", 640, 450, false}
)

// TestPagesFitTheNarrowestWindow: nothing is cut off or scrolled sideways at
// 320 px, nor at 200 %.
func TestPagesFitTheNarrowestWindow(t *testing.T) {
	for _, s := range []screen{narrow, half} {
		p := open(t, s, "index.html")
		for _, page := range oneOfEach(t) {
			p.visit(page)
			if wide := ask[int](p, `document.documentElement.scrollWidth`); wide > int(s.width) {
				t.Errorf("%s: %s: %d px wide: %s", s.name, page, wide, ask[string](p, widest, s.width))
			}
			p.blame(page)
		}
	}
}

// TestRowsStandUnderEachOtherOnAPhone: no table and no list is scrolled
// sideways, and what is tapped is 44 px high: but for words within a text.
func TestRowsStandUnderEachOtherOnAPhone(t *testing.T) {
	for _, s := range []screen{phone, narrow} {
		p := open(t, s, "index.html")
		for _, page := range oneOfEach(t) {
			p.visit(page)
			for _, what := range ask[[]string](p, sideways) {
				t.Errorf("%s px: %s is scrolled sideways: %s", s.name, page, what)
			}
			for _, what := range ask[[]string](p, tooLow) {
				t.Errorf("%s px: %s: too low for a thumb: %s", s.name, page, what)
			}
		}
	}
}

const (
	sideways = `[...document.querySelectorAll('body *')].filter(e => e.clientWidth > 1 && e.scrollWidth > e.clientWidth + 1 && /auto|scroll/.test(getComputedStyle(e).overflowX) && !e.closest('.vh, .prose pre'))
		.map(e => e.className + ' ' + e.scrollWidth + ' in ' + e.clientWidth + ': ' + e.textContent.trim().slice(0, 40))`
	tooLow = `[...document.querySelectorAll('a[href], button, input, summary')].filter(e => {
		if (!e.checkVisibility({visibilityProperty: true}) || e.closest('svg, .vh, .skip, .prose p, .prose li, p')) return false;
		const r = (e.closest('label') ?? e).getBoundingClientRect();
		return r.width > 0 && (r.height < 43.5 || r.width < 30);
	}).slice(0, 5).map(e => e.textContent.trim().slice(0, 30) + ' ' + Math.round(e.getBoundingClientRect().width) + ' by ' + Math.round(e.getBoundingClientRect().height) + ' in ' + (e.closest('section')?.id ?? e.parentElement.className))`
)

// TestWhatOpensIsJudgedToo runs axe-core over what a page shows once it is
// used: the search with results, one step at a time, a notice, the inputs of
// the figures, other lines in a drawing, the filters.
func TestWhatOpensIsJudgedToo(t *testing.T) {
	p := open(t, phone, "F-101/index.html")
	ask[bool](p, `(() => { localStorage.setItem('seen ' + wythe.root + 'F-101', 'other ' + new Date(0).toISOString()); return true })()`)
	p.visit("F-101/index.html")
	waitFor(p, "the notice", `/Changed since/.test(document.querySelector('.news').textContent)`)
	p.run(chromedp.Evaluate[chromedp.Void](bench.axe))
	judge := func(state string) {
		t.Helper()
		for _, light := range lights {
			ask[bool](p, turnTo, light)
			judged(p, state+", "+light)
		}
	}
	judge("notice")
	ask[bool](p, `(() => { for (const d of document.querySelectorAll('.how details')) d.open = true; return true })()`)
	judge("inputs of the figures")
	ask[bool](p, `(() => { document.querySelector('#step-2 .tick input').focus(); document.getElementById('seq-one').click(); document.getElementById('seq-next').click(); document.getElementById('seq-done').click(); return true })()`)
	judge("one step, done, its hold not released")
	ask[bool](p, `(async () => { localStorage.clear(); (await wythe.search()).open(); return true })()`)
	typed(p, "slab")
	judge("search")
	typed(p, "zzyzx")
	judge("search without a result")
	p.blame("F-101")
	p = open(t, phone, "J-201/index.html")
	p.run(chromedp.Evaluate[chromedp.Void](bench.axe))
	for k, i := range ask[[]string](p, `[...document.querySelectorAll('.fig input')].map(i => i.id)`) {
		ask[bool](p, turnTo, lights[k%len(lights)])
		ask[bool](p, `(() => { document.getElementById(%q).click(); return true })()`, i)
		judged(p, i+", "+lights[k%len(lights)])
	}
	p.blame("J-201")
	p = open(t, phone, "index.html")
	p.run(chromedp.Evaluate[chromedp.Void](bench.axe))
	ask[bool](p, `(() => { document.getElementById('fo').click(); const q = document.getElementById('q'); q.value = 'celulose'; q.dispatchEvent(new Event('input')); return true })()`)
	waitFor(p, "a result", `!!document.querySelector('#also .mk')`)
	judge("filters and what is found besides")
	p.blame("index")
}

// TestEveryControlIsReachedByKeys walks pages with the tab key: each control
// that is seen gets the focus once, shows it, is seen where it has it, and none
// holds it.
func TestEveryControlIsReachedByKeys(t *testing.T) {
	for _, s := range screens {
		for _, page := range []string{"F-101/index.html", "J-201/index.html", "continuity/index.html", "index.html"} {
			walkByKeys(t, s, page)
		}
	}
}

func walkByKeys(t *testing.T, s screen, page string) {
	p := open(t, s, page)
	name := page + " at " + s.name + " px"
	call(p, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Features: []*emulation.MediaFeature{{Name: "prefers-reduced-motion", Value: "reduce"}}})
	if smooth := ask[string](p, `getComputedStyle(document.documentElement).scrollBehavior`); smooth != "auto" {
		t.Errorf("%s: with reduced motion the page scrolls %s", name, smooth)
	}
	if moving := ask[int](p, `document.getAnimations().length`); moving > 0 {
		t.Errorf("%s: with reduced motion %d things move", name, moving)
	}
	want := ask[int](p, `(() => { let n = 0; const groups = new Set();
		for (const e of document.querySelectorAll('a[href], button, input, select, summary, [tabindex="0"]')) {
			if (e.disabled || e.tabIndex < 0 || !e.checkVisibility({visibilityProperty: true})) continue;
			if (e.type === 'radio') { if (groups.has(e.name)) continue; groups.add(e.name) }
			e.dataset.want = ++n;
		} return n })()`)
	reached := map[int]bool{}
	for range want + 20 {
		p.run(chromedp.KeyEvent(kb.Tab))
		type focus struct {
			N          int
			Ring, Here bool
		}
		f := ask[focus](p, `(() => { const e = document.activeElement, label = e.closest('label'), shown = label ?? e;
			const ring = (x) => x && getComputedStyle(x).outlineStyle !== 'none', r = shown.getBoundingClientRect();
			return {N: +(e.dataset?.want ?? (e.type === 'radio' ? document.querySelector('[name="' + e.name + '"][data-want]')?.dataset.want : 0) ?? 0), Ring: ring(e) || ring(label) || e === document.body,
				Here: e === document.body || r.width > 2 && r.height > 2 && r.bottom > 0 && r.top < innerHeight && r.right > 0 && r.left < innerWidth} })()`)
		if !f.Ring || !f.Here {
			t.Errorf("%s: the focus is not seen on %s", name, ask[string](p, `document.activeElement.outerHTML.slice(0, 120)`))
		}
		reached[f.N] = true
	}
	for n := 1; n <= want; n++ {
		if !reached[n] {
			t.Errorf("%s: the tab key never comes to %s", name, ask[string](p, `document.querySelector('[data-want="%d"]').outerHTML.slice(0, 120)`, n))
		}
	}
	if want < 20 {
		t.Errorf("%s: only %d controls", name, want)
	}
}
