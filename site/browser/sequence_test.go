package browser

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	cdpbrowser "github.com/chromedp/cdproto/browser"
	"github.com/chromedp/chromedp"
)

// TestTicksStayOnTheDevice ticks a step and initials a hold: both are there
// after a reload, with nothing sent; a file holds them when it is asked for.
func TestTicksStayOnTheDevice(t *testing.T) {
	p := open(t, phone, "F-101/index.html")
	dir := t.TempDir()
	call(p, cdpbrowser.SetDownloadBehavior, cdpbrowser.SetDownloadBehaviorParams{Behavior: "allow", DownloadPath: dir})
	ask[bool](p, `(() => { localStorage.clear(); document.querySelector('#step-2 .tick input[type=checkbox]').click();
		const i = document.querySelector('#step-2 .init input'); i.value = 'ab'; i.dispatchEvent(new Event('change')); return true })()`)
	if said := ask[string](p, `document.querySelector('.seqbar .did').textContent`); said != "1 of 6 steps done" {
		t.Errorf("after a tick: %q", said)
	}
	p.visit("F-101/index.html")
	if !ask[bool](p, `document.querySelector('#step-2 .tick input[type=checkbox]').checked && document.querySelector('#step-2 .init input').value === 'AB'`) {
		t.Error("the tick or the initials are gone after a reload")
	}
	ask[bool](p, `(() => { document.getElementById('seq-save').click(); return true })()`)
	var text string
	for range 60 {
		data, err := os.ReadFile(filepath.Join(dir, "F-101-checklist.txt"))
		if err == nil && len(data) > 0 {
			text = string(data)
			break
		}
		p.run(chromedp.Sleep(50 * time.Millisecond))
	}
	for _, want := range []string{"[x] 2. earthwork: Place and compact", "Released: AB (20", "[ ] 1. ", "Released: not yet"} {
		if !strings.Contains(text, want) {
			t.Errorf("the file has no %q:\n%s", want, text)
		}
	}
	ask[bool](p, `(() => { localStorage.clear(); return true })()`)
	p.blame("sequence")
}

// TestSequenceStepByStep walks the steps one at a time, of all trades and of
// one, and sees that each adds what it shows.
func TestSequenceStepByStep(t *testing.T) {
	p := open(t, phone, "F-101/index.html")
	ask[bool](p, `(() => { localStorage.clear(); return true })()`)
	p.visit("F-101/index.html")
	shown := `[...document.querySelectorAll('.seq > li')].filter(l => l.getBoundingClientRect().height > 0).map(l => l.id)`
	if n := len(ask[[]string](p, shown)); n != 6 {
		t.Fatalf("%d steps are shown; want 6", n)
	}
	ask[bool](p, `(() => { document.getElementById('seq-one').click(); return true })()`)
	foot := -1.0
	for i, want := range []string{"step-1", "step-2", "step-3"} {
		if got := ask[[]string](p, shown); len(got) != 1 || got[0] != want {
			t.Errorf("shown %v; want %s alone", got, want)
		}
		if said := ask[string](p, `document.querySelector('.seqbar .did').textContent`); said != fmt.Sprintf("Step %d of 6, 0 done", i+1) {
			t.Errorf("at %s the bar says %q", want, said)
		}
		at := ask[float64](p, `Math.round(document.getElementById('seq-next').getBoundingClientRect().bottom)`)
		if at > 844 || at < 700 || foot >= 0 && at != foot {
			t.Errorf("at %s the button for the next is at %g, before at %g: it must stay under the thumb", want, at, foot)
		}
		foot = at
		ask[bool](p, `(() => { document.getElementById('seq-next').click(); return true })()`)
	}
	// Done is tapped at the foot; a hold that the work has gone past is told of until it is released.
	ask[bool](p, `(() => { document.getElementById('seq-done').click(); return true })()`)
	past := `(() => { const o = document.querySelector('.seqbar .open'); return o.hidden ? '' : o.textContent })()`
	if !ask[bool](p, `document.querySelector('#step-4 .tick:not(.init) input').checked`) {
		t.Error("the button at the foot does not tick its step")
	}
	if said := ask[string](p, past); said != "Not released: hold at step 2, 4" {
		t.Errorf("with step 4 done and no hold released it says %q", said)
	}
	ask[bool](p, `(() => { for (const i of document.querySelectorAll('.init input')) { i.value = 'ab'; i.dispatchEvent(new Event('change')) } return true })()`)
	if said := ask[string](p, past); said != "" {
		t.Errorf("with the holds released it says %q", said)
	}
	ask[bool](p, `(() => { localStorage.clear(); document.getElementById('seq-one').click(); return true })()`)
	ask[bool](p, `(() => { [...document.querySelectorAll('.seqbar .chips label')].find(l => l.textContent === 'Concrete').querySelector('input').click(); return true })()`)
	if got := strings.Join(ask[[]string](p, shown), " "); got != "step-5 step-6" {
		t.Errorf("of the concrete trade are shown %s; want steps 5 and 6", got)
	}
	if !ask[bool](p, `getComputedStyle(document.querySelector('#step-3 [data-step="3"]')).opacity === '1' && +getComputedStyle(document.querySelector('#step-3 [data-step="2"]')).opacity < .5`) {
		t.Error("what step 3 adds does not stand out from what stood")
	}
	if !ask[bool](p, `[...document.querySelectorAll('.hold')].every(h => /never/.test(h.textContent))`) {
		t.Error("a hold does not say who must not release it")
	}
	small := ask[[]string](p, `[...document.querySelectorAll('.seqbar .btn, .tick')].filter(e => { const r = e.getBoundingClientRect(); return r.height > 0 && r.height < 44 }).map(e => e.textContent)`)
	if len(small) > 0 {
		t.Errorf("too low for a thumb: %q", small)
	}
	p.blame("sequence")
}

// TestAssembliesPeelBack: each layer of the schedule has its label in the
// view, readable on a phone.
func TestAssembliesPeelBack(t *testing.T) {
	p := open(t, phone, "W-102/index.html")
	rows := ask[[]string](p, `[...document.querySelectorAll('tr[data-key]')].map(r => r.dataset.key)`)
	for _, key := range rows {
		if n := ask[int](p, `[...document.querySelectorAll('#peeled .peel .k-callout[data-key="%s"] text')].filter(e => e.getClientRects().length).length`, key); n != 1 {
			t.Errorf("layer %s has %d texts in the peeled view; want its number", key, n)
		}
	}
	if wide := ask[float64](p, `document.querySelector('.narrow .peel').getBoundingClientRect().right`); wide > 390 {
		t.Errorf("the view reaches to %g px", wide)
	}
	if title := ask[string](p, `document.querySelector('.peel title').textContent`); !strings.Contains(title, "peeled back") {
		t.Errorf("the view is called %q", title)
	}
	p.blame("W-102")
}
