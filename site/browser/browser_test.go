// Package browser opens the published demonstration library in Chromium and
// uses it as a reader does. It holds tests alone.
package browser

import (
	"context"
	"fmt"
	"io/fs"
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"sort"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	cdplog "github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"

	"wythe/site"
)

// policy is the content policy that pages must keep to: nothing inline, and
// nothing from elsewhere.
const policy = "default-src 'none'; style-src 'self'; script-src 'self'; img-src 'self' data:; font-src 'self'; connect-src 'self'; manifest-src 'self'; base-uri 'none'; form-action 'none'"

// bench is the published library, served on loopback, and one browser.
var bench struct {
	folder  string // of the site
	address string // http://127.0.0.1:1234
	axe     string // the source of axe-core
	browser context.Context
}

func TestMain(m *testing.M) { os.Exit(runTests(m)) }

func runTests(m *testing.M) int {
	fail := func(format string, args ...any) int {
		fmt.Fprintf(os.Stderr, format+"\n", args...)
		return 1
	}
	chromium, err := findChromium()
	if err != nil {
		return fail("%v", err)
	}
	axe, err := findScript("axe-core", "axe.min.js", "WYTHE_AXE")
	if err != nil {
		return fail("%v", err)
	}
	source, err := os.ReadFile(axe)
	if err != nil {
		return fail("axe-core: %v; run: go run ./cmd/verify, which installs it", err)
	}
	scratch, err := os.MkdirTemp("", "wythe-browser-")
	if err != nil {
		return fail("%v", err)
	}
	defer os.RemoveAll(scratch)
	bench.folder = filepath.Join(scratch, "published")
	result, err := site.Publish(site.Options{Library: filepath.Join("..", "..", "details"), To: bench.folder})
	if err != nil {
		for _, f := range result.Findings.Items {
			fmt.Fprintln(os.Stderr, f)
		}
		return fail("the demonstration library does not publish: %v", err)
	}
	files := http.FileServer(http.Dir(bench.folder))
	server := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		w.Header().Set("Content-Security-Policy", policy)
		files.ServeHTTP(w, r)
	}))
	defer server.Close()
	bench.address = server.URL
	bench.axe = string(source)

	options := append(chromedp.DefaultExecAllocatorOptions[:],
		chromedp.ExecPath(chromium),
		chromedp.NoSandbox,
		chromedp.DisableGPU,
		chromedp.Flag("disable-quic", true),
		chromedp.Flag("no-first-run", true),
		chromedp.Flag("disable-background-networking", true),
		chromedp.Flag("disable-component-update", true),
		chromedp.Flag("disable-sync", true),
		chromedp.Flag("disable-dev-shm-usage", true),
		chromedp.WSURLReadTimeout(time.Minute),
	)
	for try := 1; ; try++ {
		browser, closeBrowser, err := start(append(options, chromedp.UserDataDir(filepath.Join(scratch, fmt.Sprint("profile-", try)))))
		if err == nil {
			defer closeBrowser()
			bench.browser = browser
			return m.Run()
		}
		fmt.Fprintf(os.Stderr, "%s, try %d of 3: %v\n", chromium, try, err)
		if try == 3 {
			return fail("%s does not start", chromium)
		}
	}
}

// start starts Chromium and opens its first tab. On a busy machine it hangs now
// and then before it answers: it gets a minute.
func start(options []chromedp.ExecAllocatorOption) (browser context.Context, stop func(), err error) {
	allocator, stopAllocator := chromedp.NewExecAllocator(context.Background(), options...)
	browser, closeBrowser := chromedp.NewContext(allocator)
	stop = func() { closeBrowser(); stopAllocator() }
	answer := make(chan error, 1)
	go func() {
		_, err := chromedp.Run(browser, chromedp.Title())
		answer <- err
	}()
	select {
	case err = <-answer:
	case <-time.After(time.Minute):
		err = fmt.Errorf("no answer within a minute")
	}
	if err != nil {
		go stop() // a browser that hangs may not stop at once
	}
	return browser, stop, err
}

func findChromium() (string, error) {
	if path := os.Getenv("WYTHE_CHROMIUM"); path != "" {
		return path, nil
	}
	for _, name := range []string{"chromium", "chromium-browser", "google-chrome"} {
		if path, err := exec.LookPath(name); err == nil {
			return path, nil
		}
	}
	return "", fmt.Errorf("these tests drive Chromium, which is not here; run: go run ./cmd/verify, which installs it")
}

// findScript returns the path of a script that verify installs.
func findScript(name, file, env string) (string, error) {
	if path := os.Getenv(env); path != "" {
		return path, nil
	}
	cache, err := os.UserCacheDir()
	if err != nil {
		return "", err
	}
	found, err := filepath.Glob(filepath.Join(cache, "wythe-verify", name+"-*", "node_modules", name, file))
	if err != nil || len(found) == 0 {
		return "", fmt.Errorf("these tests need %s, which is not in %s; run: go run ./cmd/verify, which installs it", name, cache)
	}
	return found[len(found)-1], nil
}

// screen is a size of window.
type screen struct {
	name          string
	width, height int64
	phone         bool
}

var (
	desk    = screen{"1280", 1280, 900, false}
	phone   = screen{"390", 390, 844, true}
	screens = []screen{desk, phone}
)

// tab is one open page. What the page does wrong is gathered in faults.
type tab struct {
	t   testing.TB
	ctx context.Context

	mu     sync.Mutex
	faults []string
}

// open opens a page of the site, at a path from its root.
func open(t testing.TB, s screen, path string) *tab {
	t.Helper()
	p := &tab{t: t}
	tabContext, closeTab := chromedp.NewContext(bench.browser, chromedp.WithListener(p.listen))
	t.Cleanup(closeTab)
	// The first run opens the tab, and the tab lives as long as its context:
	// the time limit comes after it.
	p.ctx = tabContext
	p.run(chromedp.Sleep(0))
	limited, cancel := context.WithTimeout(tabContext, 5*time.Minute)
	t.Cleanup(cancel)
	p.ctx = limited
	call(p, network.Enable, network.EnableParams{})
	call(p, cdplog.Enable, cdp.Empty{})
	call(p, emulation.SetDeviceMetricsOverride, emulation.SetDeviceMetricsOverrideParams{
		Width: s.width, Height: s.height, DeviceScaleFactor: 1, Mobile: s.phone,
	})
	p.visit(path)
	return p
}

// visit goes to another page in the same tab.
func (p *tab) visit(path string) {
	p.t.Helper()
	p.run(chromedp.Navigate(bench.address + "/" + path))
	ask[bool](p, `document.fonts.ready.then(() => true)`)
}

func (p *tab) listen(event any) {
	fault := func(format string, args ...any) {
		p.mu.Lock()
		defer p.mu.Unlock()
		p.faults = append(p.faults, fmt.Sprintf(format, args...))
	}
	switch e := event.(type) {
	case *runtime.EventExceptionThrown:
		fault("exception: %v", e.ExceptionDetails)
	case *runtime.EventConsoleAPICalled:
		if e.Type == runtime.ConsoleAPICalledTypeError || e.Type == runtime.ConsoleAPICalledTypeWarning {
			var words []string
			for _, a := range e.Args {
				words = append(words, string(a.Value)+a.Description)
			}
			fault("console %s: %s", e.Type, strings.Join(words, " "))
		}
	case *cdplog.EventEntryAdded:
		if e.Entry.Level == cdplog.EntryLevelError || e.Entry.Level == cdplog.EntryLevelWarning {
			fault("log %s: %s %s", e.Entry.Level, e.Entry.Text, e.Entry.URL)
		}
	case *network.EventRequestWillBeSent:
		if u := e.Request.URL; !strings.HasPrefix(u, bench.address+"/") && !strings.HasPrefix(u, "data:") {
			fault("outside request: %s", u)
		}
	case *network.EventResponseReceived:
		if e.Response.Status >= 400 {
			fault("status %d: %s", e.Response.Status, e.Response.URL)
		}
	}
}

// blame fails the test for each fault gathered since the last call.
func (p *tab) blame(what string) {
	p.t.Helper()
	p.mu.Lock()
	defer p.mu.Unlock()
	for _, f := range p.faults {
		p.t.Errorf("%s: %s", what, f)
	}
	p.faults = nil
}

func (p *tab) run(actions ...chromedp.Action[chromedp.Void]) {
	p.t.Helper()
	if err := chromedp.Do(p.ctx, actions...); err != nil {
		p.t.Fatal(err)
	}
}

// call sends a command of the protocol.
func call[P, R any](p *tab, command cdp.Command[P, R], params P) {
	p.t.Helper()
	if _, err := chromedp.Call(p.ctx, command, params); err != nil {
		p.t.Fatal(err)
	}
}

// ask evaluates an expression in the page. A promise is waited for.
func ask[T any](p *tab, expression string, args ...any) T {
	p.t.Helper()
	if len(args) > 0 {
		expression = fmt.Sprintf(expression, args...)
	}
	value, err := chromedp.Run(p.ctx, chromedp.Evaluate[T](expression, chromedp.EvalAwaitPromise))
	if err != nil {
		p.t.Fatalf("%s: %v", expression, err)
	}
	return value
}

// pages lists every page of the site, from its root.
func pages(t *testing.T) []string {
	t.Helper()
	var paths []string
	err := filepath.WalkDir(bench.folder, func(full string, d fs.DirEntry, err error) error {
		if err == nil && strings.HasSuffix(full, ".html") {
			rel, relErr := filepath.Rel(bench.folder, full)
			if relErr != nil {
				return relErr
			}
			paths = append(paths, filepath.ToSlash(rel))
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	if len(paths) == 0 {
		t.Fatal("the site has no page")
	}
	sort.Strings(paths)
	return paths
}

// unescape returns a link's path as a file's.
func unescape(t *testing.T, path string) string {
	t.Helper()
	plain, err := url.PathUnescape(path)
	if err != nil {
		t.Fatal(err)
	}
	return plain
}
