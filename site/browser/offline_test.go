package browser

import (
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/network"
	cdppage "github.com/chromedp/cdproto/page"
	"github.com/chromedp/cdproto/storage"
	"github.com/chromedp/chromedp"

	"wythe/site"
)

// shelf is a site of its own on a server of its own, which may be published
// anew and taken off the net. What the browser keeps of it stays until the
// browser ends: its address is its own, and Chromium, asked to clear an origin
// whose worker is just going, now and then never answers again.
type shelf struct {
	t       *testing.T
	library string
	folder  string
	address string
	down    atomic.Bool
}

func newShelf(t *testing.T) *shelf {
	t.Helper()
	library := filepath.Join(t.TempDir(), "library")
	if err := os.CopyFS(library, os.DirFS(filepath.Join("..", "..", "details"))); err != nil {
		t.Fatal(err)
	}
	return serve(t, library)
}

// serve publishes a library and serves its site.
func serve(t *testing.T, library string) *shelf {
	t.Helper()
	s := &shelf{t: t, library: library, folder: filepath.Join(t.TempDir(), "site")}
	s.publish()
	server := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if s.down.Load() {
			panic(http.ErrAbortHandler) // as a net without signal: no answer
		}
		w.Header().Set("Content-Security-Policy", policy)
		w.Header().Set("Cache-Control", "no-cache")
		http.FileServer(http.Dir(s.folder)).ServeHTTP(w, r)
	}))
	t.Cleanup(server.Close)
	s.address = server.URL
	return s
}

func (s *shelf) publish() {
	s.t.Helper()
	result, err := site.Publish(site.Options{Library: s.library, To: s.folder})
	if err != nil {
		s.t.Fatalf("%v: %v", err, result.Findings.Items)
	}
}

// edit changes a file of the library and publishes.
func (s *shelf) edit(file, old, new string) {
	s.t.Helper()
	name := filepath.Join(s.library, file)
	data, err := os.ReadFile(name)
	if err != nil {
		s.t.Fatal(err)
	}
	if !strings.Contains(string(data), old) {
		s.t.Fatalf("%s has no %q", file, old)
	}
	if err := os.WriteFile(name, []byte(strings.Replace(string(data), old, new, 1)), 0o666); err != nil {
		s.t.Fatal(err)
	}
	s.publish()
}

// visitor opens a page of the shelf, and waits until the worker has kept it.
func (s *shelf) visitor(path string) *tab {
	s.t.Helper()
	p := open(s.t, phone, "F-101/index.html")
	s.goTo(p, path)
	waitFor(p, "the worker", `document.body.dataset.kept === 'yes' && !!navigator.serviceWorker.controller`)
	return p
}

func (s *shelf) goTo(p *tab, path string) {
	s.t.Helper()
	p.run(chromedp.Navigate(s.address + "/" + path))
}

// cut takes the net away from the tab and the server.
func (s *shelf) cut(p *tab, off bool) {
	s.t.Helper()
	s.down.Store(off)
	call(p, network.OverrideNetworkState, network.OverrideNetworkStateParams{Offline: off, DownloadThroughput: -1, UploadThroughput: -1})
}

// atRest waits until a page has asked for all that it wants, its icons too: a
// request that reaches a worker as it is asked to go holds it up, and a reader's
// tap comes later than that.
func atRest(p *tab) {
	p.t.Helper()
	waitFor(p, "the page at rest", `document.body?.dataset.kept === 'yes' && !!navigator.serviceWorker.controller`)
	p.run(chromedp.Sleep(time.Second))
}

const heading = `(document.querySelector('h1')?.textContent ?? '')`

// TestAVisitedPageIsThereWithoutANet: what was looked at stays, with its
// drawing and style and the search; what was not says so.
func TestAVisitedPageIsThereWithoutANet(t *testing.T) {
	s := newShelf(t)
	p := s.visitor("F-101/index.html")
	s.cut(p, true)
	s.goTo(p, "F-101/index.html")
	if h := ask[string](p, heading); !strings.Contains(h, "slab") {
		t.Fatalf("without a net the page says %q", h)
	}
	if !ask[bool](p, `document.querySelector('.narrow svg').getBoundingClientRect().width > 200 && getComputedStyle(document.body).margin === '0px'`) {
		t.Error("without a net the page has no drawing or no style")
	}
	waitFor(p, "the day it was kept", `/This page was kept on [A-Z][a-z]+ \d+, 20\d\d/.test(document.querySelector('.news')?.textContent ?? '')`)
	openFinder(p)
	if found := typed(p, "parapet"); len(found) == 0 {
		t.Error("without a net nothing is found")
	}
	s.goTo(p, "W-103/index.html")
	if h := ask[string](p, heading); h != "Not kept on this device" {
		t.Errorf("a page that was not kept says %q", h)
	}
	s.cut(p, false)
	s.goTo(p, "W-103/index.html")
	if h := ask[string](p, heading); strings.Contains(h, "Not kept") {
		t.Errorf("with the net back the page says %q", h)
	}
}

// TestASetIsKeptInOneTap keeps the whole library, and a building's set.
func TestASetIsKeptInOneTap(t *testing.T) {
	for _, c := range []struct{ page, there, notThere string }{
		{"index.html", "W-103/index.html", ""},
		{"buildings/ferry-landing/index.html", "J-203/index.html", "R-103/index.html"},
	} {
		s := newShelf(t)
		p := s.visitor(c.page)
		waitFor(p, "the offer", `/Keep .*\d (KB|MB)/.test(document.getElementById('keep-it')?.textContent ?? '')`)
		ask[bool](p, `(() => { document.getElementById('keep-it').click(); return true })()`)
		waitFor(p, "kept", `/^Kept on/.test(document.querySelector('#keep .sub').textContent)`)
		s.cut(p, true)
		s.goTo(p, c.there)
		if h := ask[string](p, heading); h == "" || strings.Contains(h, "Not kept") {
			t.Errorf("%s is not there without a net: %q", c.there, h)
		}
		openFinder(p)
		typed(p, "slab")
		waitFor(p, "pictures", `[...document.querySelectorAll('.finder .hits img')].some(i => i.complete && i.naturalWidth > 0)`)
		if c.notThere != "" {
			s.goTo(p, c.notThere)
			if h := ask[string](p, heading); !strings.Contains(h, "Not kept") {
				t.Errorf("%s was kept: %q", c.notThere, h)
			}
		}
		s.cut(p, false)
	}
}

// TestANewIssueIsTakenUpCleanly: until it is asked for the old one stands,
// page and index alike, in two tabs; then the new one, and the old is gone.
func TestANewIssueIsTakenUpCleanly(t *testing.T) {
	s := newShelf(t)
	p := s.visitor("F-101/index.html")
	other := s.visitor("index.html")
	s.edit("assemblies/F-101.md", "title: Insulated basement slab", "title: Insulated cellar slab")
	s.goTo(p, "F-101/index.html")
	if h := ask[string](p, heading); h != "Insulated basement slab" {
		t.Errorf("before it is asked for, the new issue shows: %q", h)
	}
	waitFor(p, "the new issue", `!!document.getElementById('show-new')`)
	s.goTo(other, "index.html")
	if ask[bool](other, `document.body.textContent.includes('cellar')`) {
		t.Error("the index is of another issue than the page")
	}
	atRest(other)
	ask[bool](p, `(() => { document.getElementById('show-new').click(); return true })()`)
	waitFor(p, "the new page", heading+` === 'Insulated cellar slab'`)
	waitFor(p, "what changed", `/Changed since you last looked/.test(document.querySelector('.news')?.textContent ?? '')`)
	waitFor(other, "the new index in the other tab", `!!document.body?.textContent.includes('cellar')`)
	waitFor(p, "one cache", `caches.keys().then(k => k.filter(n => !n.endsWith('kits')).length === 1)`)
	s.cut(p, true)
	s.goTo(p, "F-101/index.html")
	if h := ask[string](p, heading); h != "Insulated cellar slab" {
		t.Errorf("without a net the new issue is not whole: %q", h)
	}
	s.cut(p, false)
}

// TestANewIssueComesWhenAllTabsClose: with two tabs on the old issue the new
// one waits, and nothing asks for it; with both closed the next tab has it,
// page and index, and the old one's cache is gone.
func TestANewIssueComesWhenAllTabsClose(t *testing.T) {
	s := newShelf(t)
	p, other := open(t, phone, "F-101/index.html"), open(t, desk, "F-101/index.html")
	s.goTo(p, "F-101/index.html")
	s.goTo(other, "index.html")
	atRest(p)
	atRest(other)
	const caches = `caches.keys().then(k => k.filter(n => !n.endsWith('kits')).sort().join(' '))`
	first := ask[string](p, caches)
	s.edit("assemblies/F-101.md", "title: Insulated basement slab", "title: Insulated cellar slab")
	s.goTo(p, "F-101/index.html")
	waitFor(p, "the new issue", `navigator.serviceWorker.getRegistration().then(r => !!r.waiting)`)
	for name, tab := range map[string]*tab{"page": p, "index": other} {
		if name == "index" {
			s.goTo(other, "index.html")
		}
		if ask[bool](tab, `document.body.textContent.includes('cellar')`) {
			t.Errorf("with both tabs open the %s is of the new issue", name)
		}
	}
	both := ask[string](p, caches)
	if len(strings.Fields(both)) != 3 && !strings.Contains(both, first) {
		t.Errorf("while the new issue waits there are %q; before %q", both, first)
	}
	atRest(p)
	atRest(other)
	call(p, cdppage.Close, cdp.Empty{})
	call(other, cdppage.Close, cdp.Empty{})
	again := open(t, phone, "F-101/index.html")
	// A tab may be gone before its worker is: it is opened again, as by a reader.
	for try := 1; ; try++ {
		again.run(chromedp.Sleep(time.Second))
		s.goTo(again, "F-101/index.html")
		if h := ask[string](again, heading); h == "Insulated cellar slab" {
			break
		} else if try == 5 {
			t.Fatalf("after all tabs were closed the page says %q", h)
		}
		again.visit("F-101/index.html")
	}
	s.goTo(again, "index.html")
	if !ask[bool](again, `document.body.textContent.includes('cellar')`) {
		t.Error("after all tabs were closed the index is still of the old issue")
	}
	waitFor(again, "the old cache to go", caches+`.then(now => now !== '' && !now.includes('`+first+`'))`)
	s.cut(again, true)
	s.goTo(again, "F-101/index.html")
	if h := ask[string](again, heading); h != "Insulated cellar slab" {
		t.Errorf("without a net the new issue's page says %q", h)
	}
	s.cut(again, false)
}

// TestAPageTakesNothingOfAnotherIssue: on a page of the old issue a drawing that
// changed since is refused, rather than shown with words that are not its own;
// one that did not change is taken.
func TestAPageTakesNothingOfAnotherIssue(t *testing.T) {
	s := newShelf(t)
	p := s.visitor("F-101/index.html")
	get := func(path string) string {
		return ask[string](p, `fetch(wythe.root + %q).then(r => r.ok ? 'taken' : 'status ' + r.status, () => 'refused')`, path)
	}
	s.edit("assemblies/W-103.md", "title: ", "title: Other, ")
	s.edit("assemblies/W-101.md", "thickness: 8 in", "thickness: 12 in")
	for path, want := range map[string]string{"W-101/thumb.svg": "refused", "W-101/W-101.svg": "refused", "W-104/thumb.svg": "taken"} {
		if got := get(path); got != want {
			t.Errorf("on a page of the old issue %s is %s; want it %s", path, got, want)
		}
	}
	// A page that was never kept comes whole from the new issue, and takes its drawings.
	s.goTo(p, "W-103/index.html")
	if h := ask[string](p, heading); !strings.HasPrefix(h, "Other, ") {
		t.Fatalf("a page that was not kept says %q", h)
	}
	if got := get("W-101/thumb.svg"); got != "taken" {
		t.Errorf("on a page of the new issue its own drawing is %s", got)
	}
}

// TestASupersededPageSaysSo: a kept page says it is superseded as soon as
// there is a net, before the new issue is asked for.
func TestASupersededPageSaysSo(t *testing.T) {
	s := newShelf(t)
	p := s.visitor("W-103/index.html")
	s.cut(p, true)
	s.edit("assemblies/W-103.md", "status: draft", "superseded by: W-102\nstatus: superseded")
	s.goTo(p, "W-103/index.html")
	waitFor(p, "no net", `/No connection/.test(document.querySelector('.news')?.textContent ?? '')`)
	s.cut(p, false)
	waitFor(p, "the notice", `/Superseded\. Use W-102/.test(document.querySelector('.news')?.textContent ?? '')`)
}

// TestClearedStorageIsNoHarm: a device that clears what was kept reads on from
// the net, and keeps again.
func TestClearedStorageIsNoHarm(t *testing.T) {
	s := newShelf(t)
	p := s.visitor("F-101/index.html")
	call(p, storage.ClearDataForOrigin, storage.ClearDataForOriginParams{Origin: s.address, StorageTypes: "cache_storage,local_storage"})
	s.goTo(p, "F-102/index.html")
	if h := ask[string](p, heading); !strings.Contains(h, "Workshop slab") {
		t.Errorf("after clearing the page says %q", h)
	}
	// It keeps again: what was looked at since is there without a net.
	waitFor(p, "the page kept", `caches.match(wythe.root + 'F-102/index.html').then(r => !!r)`)
	s.cut(p, true)
	s.goTo(p, "F-102/index.html")
	if h := ask[string](p, heading); !strings.Contains(h, "Workshop slab") {
		t.Errorf("after clearing and without a net the page says %q", h)
	}
	s.cut(p, false)
}
