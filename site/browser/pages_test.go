package browser

import (
	"fmt"
	"maps"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
)

// TestEveryPageIsQuietAndFits opens every page on a desk and on a phone: no
// console error, no request that leaves the site or fails, no page wider than
// the window, no text under the smallest size.
func TestEveryPageIsQuietAndFits(t *testing.T) {
	for _, s := range screens {
		t.Run(s.name, func(t *testing.T) {
			list := pages(t)
			p := open(t, s, list[0])
			for _, page := range list {
				p.visit(page)
				if wide := ask[int](p, `document.documentElement.scrollWidth`); wide > int(s.width) {
					t.Errorf("%s: %d px wide in a window of %d: %s", page, wide, s.width, ask[string](p, widest, s.width))
				}
				if !ask[bool](p, stamped) {
					t.Errorf("%s: a drawing that is not issued does not say so", page)
				}
				p.blame(page)
			}
		})
	}
}

// stamped holds where no drawing is without the words that its status asks
// for: above it, or across it.
const stamped = `[...document.querySelectorAll('.fig .nfc')].every(e => [e, ...e.closest('.fig').querySelectorAll('.main .k-stamp')].some(x => x.getBoundingClientRect().width > 0))`

// widest names the elements that reach past the window.
const widest = `[...document.querySelectorAll('body *')].filter(e => e.getBoundingClientRect().right > %d + 1)
	.slice(0, 5).map(e => e.tagName + '.' + (e.className.baseVal ?? e.className) + '#' + e.id).join(' ')`

// TestEveryLinkLeadsSomewhere follows each link to a file of the site, and
// each fragment to an id in it.
func TestEveryLinkLeadsSomewhere(t *testing.T) {
	list := pages(t)
	p := open(t, desk, list[0])
	ids := map[string]map[string]bool{}
	links := map[string][]string{}
	for _, page := range list {
		p.visit(page)
		ids[page] = map[string]bool{}
		for _, id := range ask[[]string](p, `[...document.querySelectorAll('[id]')].map(e => e.id)`) {
			if ids[page][id] {
				t.Errorf("%s: id %q stands twice", page, id)
			}
			ids[page][id] = true
		}
		links[page] = ask[[]string](p, `[...document.querySelectorAll('a[href]')].map(e => e.getAttribute('href'))
			.concat([...document.querySelectorAll('svg a')].map(e => e.getAttribute('href') ?? e.getAttribute('xlink:href') ?? '(none)'))`)
	}
	for _, page := range list {
		if len(links[page]) == 0 {
			t.Errorf("%s: no link on the page", page)
		}
		for _, link := range links[page] {
			if strings.Contains(link, "://") || strings.HasPrefix(link, "mailto:") {
				continue
			}
			file, fragment, _ := strings.Cut(link, "#")
			target := page
			if file != "" {
				if path.IsAbs(file) {
					t.Errorf("%s: link %q is not relative", page, link)
					continue
				}
				target = path.Join(path.Dir(page), unescape(t, file))
			}
			if info, err := os.Stat(filepath.Join(bench.folder, target)); err != nil || info.IsDir() {
				t.Errorf("%s: link %q leads to no file", page, link)
				continue
			}
			if fragment != "" && !ids[target][unescape(t, fragment)] {
				t.Errorf("%s: link %q leads to no id of %s", page, link, target)
			}
		}
	}
}

// kinds are found once: each page of the site is opened for it.
var kinds struct {
	sync.Once
	found map[string]string
}

// oneOfEach returns a page of each kind: by what it is, what stands on it, and
// where it stands in the site.
func oneOfEach(t *testing.T) map[string]string {
	t.Helper()
	kinds.Do(func() {
		list := pages(t)
		p := open(t, desk, list[0])
		kinds.found = map[string]string{}
		for _, page := range list {
			p.visit(page)
			kind := ask[string](p, `document.body.className + (document.querySelector('main .fig svg') ? ' drawn' : '')
				+ (document.querySelector('main table') ? ' table' : '') + (document.querySelector('.seq') ? ' sequence' : '')`)
			if place := placeOf(page); place != "" {
				kind += " " + place
			}
			if _, ok := kinds.found[kind]; !ok {
				kinds.found[kind] = page
			}
		}
	})
	for _, want := range []string{"pg-a", "pg-b", "pg-c", "buildings/* takeoff", "buildings/* index", "specs/* index", "specs index", "materials index", "materials/* index", "register index", "continuity index"} {
		if !slices.ContainsFunc(slices.Collect(maps.Keys(kinds.found)), func(kind string) bool { return strings.Contains(kind, want) }) {
			t.Errorf("no page of the kind %s among %v", want, kinds.found)
		}
	}
	return kinds.found
}

// placeOf is where a page stands: "materials/* index"; "" for a detail's own
// and for prose.
func placeOf(page string) string {
	folder, file := path.Split(page)
	name := strings.TrimSuffix(file, ".html")
	top, under, _ := strings.Cut(strings.TrimSuffix(folder, "/"), "/")
	switch {
	case top == "specs" || top == "buildings" || top == "materials":
		if under != "" {
			top += "/*"
		}
		return top + " " + name
	case top == "register" || top == "continuity":
		return top + " " + name
	case strings.HasPrefix(name, "rev-"):
		return "rev"
	case name != "index":
		return name
	}
	return ""
}

// lights are the modes of a page, by the id of their switch.
var lights = []string{"m-paper", "m-night", "m-sun"}

// violation is one finding of axe-core.
type violation struct {
	ID    string `json:"id"`
	Help  string `json:"help"`
	Nodes []struct {
		Target  []any  `json:"target"`
		Summary string `json:"failureSummary"`
	} `json:"nodes"`
}

// turnTo is the light of a page, by the id of its switch.
const turnTo = `(() => { const i = document.getElementById(%q); i.checked = true; i.dispatchEvent(new Event('change', {bubbles: true})); return true })()`

// judged runs axe-core, which must be in the page, over what it shows.
// On paper the title stands in the title block, which repeats it for the eye alone.
func judged(p *tab, state string) {
	p.t.Helper()
	for _, v := range ask[[]violation](p, `axe.run({resultTypes: ['violations'], rules: {'page-has-heading-one': {enabled: !matchMedia('print').matches}}}).then(r => r.violations)`) {
		for i, n := range v.Nodes {
			if i == 4 {
				p.t.Errorf("%s: %s: and %d more", state, v.ID, len(v.Nodes)-i)
				break
			}
			p.t.Errorf("%s: %s (%s): %v: %s", state, v.ID, v.Help, n.Target, n.Summary)
		}
	}
}

// TestAxeFindsNothing runs axe-core over each kind of page, in each light and
// as it is printed, on a desk and on a phone.
func TestAxeFindsNothing(t *testing.T) {
	kinds := oneOfEach(t)
	for _, s := range screens {
		for kind, page := range kinds {
			t.Run(s.name+" "+kind, func(t *testing.T) {
				p := open(t, s, page)
				p.run(chromedp.Evaluate[chromedp.Void](bench.axe))
				for _, light := range lights {
					ask[bool](p, turnTo, light)
					judged(p, page+", "+light)
				}
				if !s.phone {
					call(p, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Media: "print"})
					judged(p, page+", print")
				}
				p.blame(page)
			})
		}
	}
}

// TestDrawingsPrintAtTrueSize holds a millimetre of each drawing to a
// millimetre of paper.
func TestDrawingsPrintAtTrueSize(t *testing.T) {
	p := open(t, desk, "F-101/index.html")
	call(p, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Media: "print"})
	type size struct {
		Shown float64 `json:"shown"`
		View  float64 `json:"view"`
	}
	sizes := ask[[]size](p, `[...document.querySelectorAll('.page1 svg[viewBox]')].filter(s => s.getBoundingClientRect().width > 0)
		.map(s => ({shown: s.getBoundingClientRect().width, view: s.viewBox.baseVal.width}))`)
	if len(sizes) != 1 {
		t.Fatalf("%d drawings are printed on the first page; want one", len(sizes))
	}
	const pxPerMm = 96 / 25.4 // CSS reference pixel
	for _, s := range sizes {
		// Tolerance: a device pixel over the drawing's width.
		if diff := s.Shown - s.View*pxPerMm; diff > 1 || diff < -1 {
			t.Errorf("a drawing of %g mm prints %.2f px wide; want %.2f", s.View, s.Shown, s.View*pxPerMm)
		}
	}
}

// TestPagesWorkWithoutScripts reads a detail and filters the index with
// scripts off.
func TestPagesWorkWithoutScripts(t *testing.T) {
	p := open(t, desk, "F-101/index.html")
	call(p, emulation.SetScriptExecutionDisabled, emulation.SetScriptExecutionDisabledParams{Value: true})
	p.visit("F-101/index.html")
	if n := ask[int](p, `[...document.querySelectorAll('main svg')].filter(s => s.getBoundingClientRect().width > 100).length`); n == 0 {
		t.Error("no drawing is seen")
	}
	if s := ask[string](p, `document.querySelector('table.sch')?.innerText ?? ''`); !strings.Contains(s, "XPS") {
		t.Errorf("no layer schedule: %q", s)
	}
	p.visit("index.html")
	all := ask[int](p, visibleRows)
	p.run(chromedp.Click(chromedp.CSS(`label:has(#el-roof)`)))
	roofs := ask[int](p, visibleRows)
	if roofs == 0 || roofs >= all {
		t.Errorf("%d of %d rows are left by the filter for roofs", roofs, all)
	}
	p.blame("without scripts")
}

// visibleRows counts the details that the index shows.
const visibleRows = `[...document.querySelectorAll('tr.d')].filter(r => r.getBoundingClientRect().height > 0).length`

// TestKeynotesAndScheduleLeadToEachOther follows the link of each layer to its
// bubble in the drawing and back.
func TestKeynotesAndScheduleLeadToEachOther(t *testing.T) {
	for _, s := range screens {
		t.Run(s.name, func(t *testing.T) {
			p := open(t, s, "F-101/index.html")
			keys := ask[[]string](p, `[...document.querySelectorAll('tr[data-key]')].map(r => r.dataset.key)`)
			if len(keys) < 4 {
				t.Fatalf("keys %v; want one for each of four layers", keys)
			}
			for _, key := range keys {
				p.visit("F-101/index.html")
				row := "layer-" + key
				link := fmt.Sprintf(`[...document.querySelectorAll('#%s a.kn')].find(a => a.getBoundingClientRect().width > 0)`, row)
				if hash := ask[string](p, `(() => { const a = %s; a?.click(); return location.hash })()`, link); hash == "" {
					t.Errorf("layer %s: its keynote is no link", key)
					continue
				}
				if !ask[bool](p, `(() => { const e = document.querySelector(':target'); return !!e && !!e.closest('svg') && e.getBoundingClientRect().width > 0 })()`) {
					t.Errorf("layer %s: its keynote leads to nothing that is seen in the drawing", key)
				}
				back := ask[string](p, `[...document.querySelectorAll('main svg a')].filter(a => a.getBoundingClientRect().width > 0)
					.map(a => a.href.baseVal).find(h => h === '#%s') ?? ''`, row)
				if back == "" {
					t.Errorf("layer %s: no bubble that is seen in the drawing leads to its row", key)
				}
			}
			p.blame("F-101")
		})
	}
}
