package browser

import (
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
)

// TestTheJudgesSeeFaults plants faults in a page: what finds none on a page
// as published must find these.
func TestTheJudgesSeeFaults(t *testing.T) {
	p := open(t, phone, "F-101/index.html")
	ask[bool](p, `(() => {
		console.error('planted');
		const i = document.createElement('img');
		i.src = 'http://127.0.0.1:9/planted.png';
		document.querySelector('main').append(i);
		const low = document.createElement('p');
		low.textContent = 'planted words that nobody can read';
		low.style.setProperty('color', '#f4f4f4');
		document.querySelector('main').append(low);
		const wide = document.createElement('div');
		wide.textContent = 'planted';
		wide.style.setProperty('width', '3000px');
		document.querySelector('main').append(wide);
		setTimeout(() => { throw new Error('planted error') });
		return true
	})()`)
	p.run(chromedp.Sleep(300 * time.Millisecond))
	if wide := ask[int](p, `document.documentElement.scrollWidth`); wide <= int(phone.width) {
		t.Errorf("a box of 3,000 px leaves the page %d px wide", wide)
	}
	p.run(chromedp.Evaluate[chromedp.Void](bench.axe))
	found := map[string]bool{}
	for _, v := range ask[[]violation](p, `axe.run({resultTypes: ['violations']}).then(r => r.violations)`) {
		found[v.ID] = true
	}
	for _, id := range []string{"image-alt", "color-contrast"} {
		if !found[id] {
			t.Errorf("axe-core did not see the planted %s: %v", id, found)
		}
	}
	p.mu.Lock()
	defer p.mu.Unlock()
	faults := strings.Join(p.faults, "\n")
	for _, want := range []string{"console error", "exception", "outside request: http://127.0.0.1:9/planted.png"} {
		if !strings.Contains(faults, want) {
			t.Errorf("no fault with %q in:\n%s", want, faults)
		}
	}
}
