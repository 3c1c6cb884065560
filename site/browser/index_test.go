package browser

import (
	"sort"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/google/go-cmp/cmp"
)

// chip is one choice of a filter.
type chip struct {
	ID    string `json:"id"`
	Name  string `json:"name"`
	Count int    `json:"count"`
}

// TestFiltersShowWhatTheyCount picks each choice of each filter: as many rows
// are left as it counts, each of them fitting.
func TestFiltersShowWhatTheyCount(t *testing.T) {
	p := open(t, desk, "index.html")
	all := ask[int](p, visibleRows)
	if all < 13 {
		t.Errorf("%d details are shown; want at least 13", all)
	}
	chips := ask[[]chip](p, `[...document.querySelectorAll('.filt input[type=radio]')].filter(i => i.name !== 'so' && !i.id.endsWith('-all'))
		.map(i => ({id: i.id, name: i.name, count: +(i.closest('label').querySelector('.c')?.textContent ?? -1)}))`)
	names := map[string]bool{}
	for _, c := range chips {
		names[c.Name] = true
		ask[bool](p, `(() => { document.getElementById(%q).click(); return true })()`, c.ID)
		if got := ask[int](p, visibleRows); got != c.Count {
			t.Errorf("%s counts %d and shows %d", c.ID, c.Count, got)
		}
		if odd := ask[int](p, `[...document.querySelectorAll('tr.d')].filter(r => r.getBoundingClientRect().height > 0 && !r.classList.contains(%q)).length`, c.ID); odd > 0 {
			t.Errorf("%s shows %d rows that do not fit", c.ID, odd)
		}
		if empty := ask[int](p, `[...document.querySelectorAll('tbody.g')].filter(g => g.getBoundingClientRect().height > 0 && ![...g.querySelectorAll('tr.d')].some(r => r.getBoundingClientRect().height > 0)).length`); empty > 0 {
			t.Errorf("%s leaves %d empty groups", c.ID, empty)
		}
		ask[bool](p, `(() => { document.getElementById(%q).click(); return true })()`, c.Name+"-all")
		if got := ask[int](p, visibleRows); got != all {
			t.Errorf("after %s only %d of %d rows come back", c.ID, got, all)
		}
	}
	for _, name := range []string{"el", "ct", "tr", "ss", "tg"} {
		if !names[name] {
			t.Errorf("no filter %s", name)
		}
	}
	p.blame("index")
}

func TestFindAndSort(t *testing.T) {
	p := open(t, desk, "index.html")
	all := ask[int](p, visibleRows)
	p.run(chromedp.SendKeys(chromedp.CSS("#q"), "insulated basement slab"))
	if marks := ask[[]string](p, visibleMarks); !cmp.Equal(marks, []string{"F-101"}) {
		t.Errorf("finding \"insulated basement slab\" shows %v; want F-101", marks)
	}
	ask[bool](p, `(() => { const q = document.getElementById('q'); q.value = ''; q.dispatchEvent(new Event('input')); return true })()`)
	if got := ask[int](p, visibleRows); got != all {
		t.Errorf("an empty search shows %d of %d", got, all)
	}
	ask[bool](p, `(() => { document.getElementById('so-Title').click(); return true })()`)
	groups := ask[[][]string](p, `[...document.querySelectorAll('tbody.g')].map(g => [...g.querySelectorAll('tr.d .ti a')].map(a => a.textContent.trim()))`)
	for _, titles := range groups {
		if !sort.SliceIsSorted(titles, func(a, b int) bool { return strings.ToLower(titles[a]) < strings.ToLower(titles[b]) }) {
			t.Errorf("not sorted by title: %q", titles)
		}
	}
	p.blame("index")
}

const visibleMarks = `[...document.querySelectorAll('tr.d')].filter(r => r.getBoundingClientRect().height > 0).map(r => r.querySelector('.mk').textContent.trim())`
