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

// TestWhatOpensIsJudgedToo runs axe-core over what a page shows once it is
// used: the search with results, one step at a time, a notice.
func TestWhatOpensIsJudgedToo(t *testing.T) {
	p := open(t, phone, "F-101/index.html")
	ask[bool](p, `(() => { localStorage.setItem('seen ' + wythe.root + 'F-101', 'other ' + new Date(0).toISOString()); return true })()`)
	p.visit("F-101/index.html")
	waitFor(p, "the notice", `/Changed since/.test(document.querySelector('.news').textContent)`)
	p.run(chromedp.Evaluate[chromedp.Void](bench.axe))
	judge := func(state string) {
		t.Helper()
		for _, light := range lights {
			ask[bool](p, `(() => { const i = document.getElementById(%q); i.checked = true; i.dispatchEvent(new Event('change', {bubbles: true})); return true })()`, light)
			for _, v := range ask[[]violation](p, `axe.run({resultTypes: ['violations']}).then(r => r.violations)`) {
				for _, n := range v.Nodes {
					t.Errorf("%s, %s: %s (%s): %v: %s", state, light, v.ID, v.Help, n.Target, n.Summary)
				}
			}
		}
	}
	judge("notice")
	ask[bool](p, `(() => { document.querySelector('#step-2 .tick input').focus(); document.getElementById('seq-one').click(); return true })()`)
	judge("one step")
	ask[bool](p, `(async () => { (await wythe.search()).open(); return true })()`)
	typed(p, "slab")
	judge("search")
	p.blame("F-101")
}

// TestEveryControlIsReachedByKeys walks a page with the tab key: each control
// that is seen gets the focus once, shows it, and none holds it.
func TestEveryControlIsReachedByKeys(t *testing.T) {
	p := open(t, desk, "F-101/index.html")
	call(p, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Features: []*emulation.MediaFeature{{Name: "prefers-reduced-motion", Value: "reduce"}}})
	if smooth := ask[string](p, `getComputedStyle(document.documentElement).scrollBehavior`); smooth != "auto" {
		t.Errorf("with reduced motion the page scrolls %s", smooth)
	}
	if moving := ask[int](p, `document.getAnimations().length`); moving > 0 {
		t.Errorf("with reduced motion %d things move", moving)
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
			N    int
			Seen bool
		}
		f := ask[focus](p, `(() => { const e = document.activeElement, s = getComputedStyle(e), near = e.closest('label');
			const ring = (x) => x && getComputedStyle(x).outlineStyle !== 'none';
			return {N: +(e.dataset?.want ?? (e.type === 'radio' ? document.querySelector('[name="' + e.name + '"][data-want]')?.dataset.want : 0) ?? 0), Seen: ring(e) || ring(near) || e === document.body} })()`)
		if !f.Seen {
			t.Errorf("the focus is not seen on %s", ask[string](p, `document.activeElement.outerHTML.slice(0, 120)`))
		}
		reached[f.N] = true
	}
	for n := 1; n <= want; n++ {
		if !reached[n] {
			t.Errorf("the tab key never comes to %s", ask[string](p, `document.querySelector('[data-want="%d"]').outerHTML.slice(0, 120)`, n))
		}
	}
	if want < 20 {
		t.Errorf("only %d controls", want)
	}
}
