package browser

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"sort"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/emulation"
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

// TestALongIndexStandsInParts opens the index of a library of 430 details: its
// first page leads to parts, with scripts and without, and the field of each
// page finds what stands on another.
func TestALongIndexStandsInParts(t *testing.T) {
	library := filepath.Join(t.TempDir(), "library")
	if err := os.CopyFS(library, os.DirFS(filepath.Join("..", "..", "details"))); err != nil {
		t.Fatal(err)
	}
	one, err := os.ReadFile(filepath.Join(library, "assemblies", "R-103.md"))
	if err != nil {
		t.Fatal(err)
	}
	for i := 300; i < 700; i++ {
		mark := fmt.Sprintf("R-%d", i)
		if err := os.WriteFile(filepath.Join(library, "assemblies", mark+".md"), bytes.ReplaceAll(one, []byte("R-103"), []byte(mark)), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	s := serve(t, library)
	for _, size := range []screen{desk, phone, narrow} {
		p := open(t, size, "index.html")
		s.goTo(p, "index.html")
		if n := ask[int](p, `document.querySelectorAll('tr.d').length`); n != 0 {
			t.Errorf("%s: the first page has %d rows", size.name, n)
		}
		href := ask[string](p, `[...document.querySelectorAll('#g-ceiling a')].map(a => a.getAttribute('href')).join(' ')`)
		if href != "index/ceiling.html index/ceiling-2.html index/ceiling-3.html" {
			t.Errorf("%s: ceilings stand at %q", size.name, href)
		}
		ask[bool](p, `(() => { const q = document.getElementById('q'); q.value = 'parapet'; q.dispatchEvent(new Event('input')); return true })()`)
		waitFor(p, "the parapet", `document.querySelector('#also .mk')?.textContent === 'J-211'`)
		if wide := ask[int](p, `document.documentElement.scrollWidth`); wide > int(size.width) {
			t.Errorf("%s: the first page is %d px wide", size.name, wide)
		}
		s.goTo(p, "index/ceiling-2.html")
		rows := ask[int](p, visibleRows)
		if rows < 100 || rows > 200 {
			t.Errorf("%s: a part shows %d rows", size.name, rows)
		}
		if at := ask[string](p, `document.querySelector('.parts [aria-current=page]').textContent + ' ' + document.querySelector('.parts a').getAttribute('href')`); at != "R-433 to R-566 ../index.html" {
			t.Errorf("%s: the part says %q", size.name, at)
		}
		ask[bool](p, `(() => { const q = document.getElementById('q'); q.value = 'parapet'; q.dispatchEvent(new Event('input')); return true })()`)
		waitFor(p, "what stands on another page", `document.querySelector('#also .mk')?.textContent === 'J-211'`)
		ask[bool](p, `(() => { const q = document.getElementById('q'); q.value = 'R-500'; q.dispatchEvent(new Event('input')); return true })()`)
		if marks := ask[[]string](p, visibleMarks); !cmp.Equal(marks, []string{"R-500"}) {
			t.Errorf("%s: R-500 shows %v", size.name, marks)
		}
		if wide := ask[int](p, `document.documentElement.scrollWidth`); wide > int(size.width) {
			t.Errorf("%s: a part is %d px wide", size.name, wide)
		}
	}
	p := open(t, phone, "index.html")
	call(p, emulation.SetScriptExecutionDisabled, emulation.SetScriptExecutionDisabledParams{Value: true})
	s.goTo(p, "index.html")
	p.run(chromedp.Click(chromedp.CSS(`#g-ceiling li:nth-child(3) a`)))
	waitFor(p, "the part", `location.pathname === '/index/ceiling-3.html' && document.querySelectorAll('tr.d').length > 100`)
}
