package browser

import (
	"context"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"

	"wythe/site"
)

// preview serves a copy of the demonstration library and watches it.
func preview(t *testing.T) (dir, address string) {
	t.Helper()
	dir = filepath.Join(t.TempDir(), "details")
	if err := os.CopyFS(dir, os.DirFS(filepath.Join("..", "..", "details"))); err != nil {
		t.Fatal(err)
	}
	return dir, previewOf(t, dir)
}

// previewOf serves a library and watches it.
func previewOf(t testing.TB, dir string) (address string) {
	t.Helper()
	p, err := site.NewPreview(dir)
	if err != nil {
		t.Fatal(err)
	}
	server := httptest.NewUnstartedServer(nil)
	server.Config.Handler = p.Handler(server.Listener.Addr().String())
	server.Start()
	ctx, stop := context.WithCancel(context.Background())
	ended := make(chan error, 1)
	go func() { ended <- p.Watch(ctx) }()
	t.Cleanup(func() {
		stop()
		if err := <-ended; err != nil {
			t.Error(err)
		}
		server.CloseClientConnections()
		server.Close()
		p.Close()
	})
	return server.URL
}

// blameAt is blame for a page that is served at an address of its own.
func (p *tab) blameAt(address, what string) {
	p.t.Helper()
	p.mu.Lock()
	defer p.mu.Unlock()
	for _, f := range p.faults {
		if !strings.Contains(f, "outside request: "+address) {
			p.t.Errorf("%s: %s", what, f)
		}
	}
	p.faults = nil
}

// until waits until an expression holds.
func (p *tab) until(expression string) {
	p.t.Helper()
	for limit := time.Now().Add(30 * time.Second); time.Now().Before(limit); time.Sleep(5 * time.Millisecond) {
		if ask[bool](p, "!!(%s)", expression) {
			return
		}
	}
	p.t.Fatalf("in vain waited for: %s", expression)
}

func replace(t testing.TB, file, old, new string) {
	t.Helper()
	data, err := os.ReadFile(file)
	if err != nil || !strings.Contains(string(data), old) {
		t.Fatalf("%s: %v, or %q is not in it", file, err, old)
	}
	aside := file + "~"
	if err := os.WriteFile(aside, []byte(strings.Replace(string(data), old, new, 1)), 0o666); err != nil {
		t.Fatal(err)
	}
	if err := os.Rename(aside, file); err != nil {
		t.Fatal(err)
	}
}

// TestPreviewInPlace: a save changes the open page under the reader's eyes.
// Scroll, the lines chosen and the page's own elements stay. What is wrong
// stands over the page, and goes when it is mended.
func TestPreviewInPlace(t *testing.T) {
	dir, address := preview(t)
	p := open(t, desk, "index.html")
	p.blame("index")
	p.run(chromedp.Navigate(address + "/J-201/"))
	p.until(`document.readyState === 'complete' && document.getElementById('wythe-preview')`)
	ask[bool](p, `(() => {
		const r = [...document.querySelectorAll('input[type=radio]')].find((i) => !i.checked && i.offsetParent && !['m-paper','m-night','m-sun'].includes(i.id)) || document.querySelector('input[type=radio]:not(:checked)');
		r.checked = true; r.dispatchEvent(new Event('change', {bubbles: true})); window.chosen = r; window.wasMain = document.querySelector('main');
		window.scrollTo({top: 700, behavior: 'instant'}); return true;
	})()`)
	scrolled := ask[float64](p, `scrollY`)
	if scrolled < 300 {
		t.Fatalf("the page scrolls to %g", scrolled)
	}
	file := filepath.Join(dir, "junctions", "J-201.md")
	replace(t, file, "title: Basement slab edge at wall and footing", "title: Slab edge, redrawn")
	p.until(`document.querySelector('h1').textContent === 'Slab edge, redrawn' && document.title.includes('redrawn')`)
	if kept := ask[bool](p, `window.chosen.isConnected && window.chosen.checked && window.wasMain === document.querySelector('main')`); !kept {
		t.Error("the choice or the page's elements were lost")
	}
	if now := ask[float64](p, `scrollY`); now != scrolled {
		t.Errorf("scrolled to %g, then %g", scrolled, now)
	}

	replace(t, file, "material: soil", "material: soyl")
	p.until(`document.querySelector('#wythe-preview .error .message')`)
	says := ask[string](p, `document.getElementById('wythe-preview').innerText`)
	for _, want := range []string{"Stale", "junctions/J-201.md:", `"soyl"`, `did you mean "soil"?`, "material: soyl"} {
		if !strings.Contains(says, want) {
			t.Errorf("over the page stands %q, without %q", says, want)
		}
	}
	if !ask[bool](p, `document.querySelector('h1').textContent === 'Slab edge, redrawn' && getComputedStyle(document.getElementById('wythe-preview')).position === 'fixed'`) {
		t.Error("the last good page is gone, or the findings have no style")
	}
	p.blameAt(address, "preview")
	replace(t, file, "material: soyl", "material: soil")
	p.until(`!document.querySelector('#wythe-preview .error')`)
	p.blameAt(address, "preview")
}
