package site

import (
	"bufio"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"sort"
	"strings"
	"testing"
	"time"
)

// previewed serves a copy of a library and watches it.
func previewed(tb testing.TB, library string) (*Preview, *httptest.Server) {
	tb.Helper()
	p, err := NewPreview(library)
	if err != nil {
		tb.Fatal(err)
	}
	server := httptest.NewUnstartedServer(nil)
	server.Config.Handler = p.Handler(server.Listener.Addr().String())
	server.Start()
	ctx, stop := context.WithCancel(context.Background())
	ended := make(chan error, 1)
	go func() { ended <- p.Watch(ctx) }()
	tb.Cleanup(func() {
		stop()
		if err := <-ended; err != nil {
			tb.Error(err)
		}
		server.CloseClientConnections()
		server.Close()
		p.Close()
	})
	return p, server
}

func demoCopy(tb testing.TB) string {
	tb.Helper()
	dir := filepath.Join(tb.TempDir(), "details")
	if err := os.CopyFS(dir, os.DirFS("../details")); err != nil {
		tb.Fatal(err)
	}
	return dir
}

func fetch(tb testing.TB, url string) (int, string, http.Header) {
	tb.Helper()
	r, err := http.Get(url)
	if err != nil {
		tb.Fatal(err)
	}
	defer r.Body.Close()
	data, err := io.ReadAll(r.Body)
	if err != nil {
		tb.Fatal(err)
	}
	return r.StatusCode, string(data), r.Header
}

// stream listens for the events of a page.
type stream struct {
	body io.Closer
	news chan [2]string
}

func listen(tb testing.TB, server, page string) *stream {
	tb.Helper()
	r, err := http.Get(server + "/.preview/events?page=/" + page)
	if err != nil {
		tb.Fatal(err)
	}
	s := &stream{r.Body, make(chan [2]string, 100)}
	tb.Cleanup(func() { r.Body.Close() })
	go func() {
		lines := bufio.NewScanner(r.Body)
		lines.Buffer(nil, 1<<20)
		event := ""
		for lines.Scan() {
			if e, ok := strings.CutPrefix(lines.Text(), "event: "); ok {
				event = e
			} else if d, ok := strings.CutPrefix(lines.Text(), "data: "); ok {
				s.news <- [2]string{event, d}
			}
		}
	}()
	return s
}

// next waits for an event of a kind and returns its data.
func (s *stream) next(tb testing.TB, event string) string {
	tb.Helper()
	for limit := time.After(20 * time.Second); ; {
		select {
		case e := <-s.news:
			if e[0] == event {
				return e[1]
			}
		case <-limit:
			tb.Fatalf("no event %q came", event)
		}
	}
}

// edit replaces words of a file, as editors save: written aside and renamed.
func edit(tb testing.TB, file, old, new string) {
	tb.Helper()
	data, err := os.ReadFile(file)
	if err != nil || !strings.Contains(string(data), old) {
		tb.Fatalf("%s: %v, or %q is not in it", file, err, old)
	}
	aside := filepath.Join(filepath.Dir(file), "."+filepath.Base(file)+".swp")
	if err := os.WriteFile(aside, []byte(strings.Replace(string(data), old, new, 1)), 0o666); err != nil {
		tb.Fatal(err)
	}
	if err := os.Rename(aside, file); err != nil {
		tb.Fatal(err)
	}
}

func TestPreviewShowsASave(t *testing.T) {
	dir := demoCopy(t)
	_, server := previewed(t, dir)
	s := listen(t, server.URL, "F-101/index.html")
	s.next(t, "findings")
	edit(t, filepath.Join(dir, "assemblies/F-101.md"), "title: Insulated basement slab", "title: Slab redrawn")
	s.next(t, "page")
	if code, body, _ := fetch(t, server.URL+"/F-101/"); code != 200 || !strings.Contains(body, "<h1>Slab redrawn</h1>") || !strings.Contains(body, "/.preview/preview.js") {
		t.Errorf("status %d, or the page is not as saved", code)
	}
	if _, body, _ := fetch(t, server.URL+"/index.html"); !strings.Contains(body, "Slab redrawn") {
		t.Error("the index is not as saved")
	}
}

func TestPreviewKeepsTheLastGoodPage(t *testing.T) {
	dir := demoCopy(t)
	_, server := previewed(t, dir)
	s := listen(t, server.URL, "F-101/index.html")
	s.next(t, "findings")
	file := filepath.Join(dir, "assemblies/F-101.md")
	edit(t, file, "material: concrete", "material: concret")
	var n Notice
	if err := json.Unmarshal([]byte(s.next(t, "findings")), &n); err != nil {
		t.Fatal(err)
	}
	if !n.Stale || n.Since == "" || n.Errors == 0 || len(n.Findings) == 0 {
		t.Fatalf("%+v", n)
	}
	f := n.Findings[0]
	if !strings.HasPrefix(f.Place, "assemblies/F-101.md:") || !strings.Contains(f.Message, `"concret"`) || len(f.Lines) != 3 || !f.Lines[1].At || !strings.Contains(f.Lines[1].Text, "concret") {
		t.Errorf("%+v", f)
	}
	if code, body, _ := fetch(t, server.URL+"/F-101/"); code != 200 || !strings.Contains(body, "Insulated basement slab") {
		t.Errorf("the last good page is gone: status %d", code)
	}
	// Worse, then mended.
	if err := os.WriteFile(file, []byte("---\n\x00{[\n"), 0o666); err != nil {
		t.Fatal(err)
	}
	s.next(t, "findings")
	if err := os.Remove(filepath.Join(dir, "library.yaml")); err != nil {
		t.Fatal(err)
	}
	s.next(t, "findings")
	if err := os.RemoveAll(dir); err != nil {
		t.Fatal(err)
	}
	if code, _, _ := fetch(t, server.URL+"/W-101/"); code != 200 {
		t.Errorf("without its folder the preview answers %d", code)
	}
}

func TestPreviewOfABrokenLibraryComesUp(t *testing.T) {
	dir := demoCopy(t)
	edit(t, filepath.Join(dir, "assemblies/F-101.md"), "material: concrete", "material: concret")
	_, server := previewed(t, dir)
	if code, body, _ := fetch(t, server.URL+"/"); code != 404 || !strings.Contains(body, "no page here yet") {
		t.Errorf("status %d", code)
	}
	s := listen(t, server.URL, "index.html")
	if data := s.next(t, "findings"); !strings.Contains(data, "concret") {
		t.Errorf("%s", data)
	}
	edit(t, filepath.Join(dir, "assemblies/F-101.md"), "material: concret\n", "material: concrete\n")
	s.next(t, "page")
	if code, _, _ := fetch(t, server.URL+"/"); code != 200 {
		t.Errorf("mended, status %d", code)
	}
}

// TestAMaterialTouchesItsUsersAlone: of all details those are made anew that
// use a material, and no other.
func TestAMaterialTouchesItsUsersAlone(t *testing.T) {
	dir := demoCopy(t)
	p, err := NewPreview(dir)
	if err != nil {
		t.Fatal(err)
	}
	defer p.Close()
	paths := func() map[string]*made {
		out := map[string]*made{}
		for _, e := range p.good.l.details {
			out[e.d.Mark] = p.page(e.href)
		}
		return out
	}
	before := paths()
	own, err := os.ReadFile(filepath.Join(dir, "materials.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	changed := string(own) + "\n- material: dense-pack cellulose\n  conductivity: 0.0431 W/mK\n  source: test of the office\n"
	if err := os.WriteFile(filepath.Join(dir, "materials.yaml"), []byte(changed), 0o666); err != nil {
		t.Fatal(err)
	}
	if err := p.Refresh(); err != nil || p.Notice().Stale {
		t.Fatal(err, p.Notice())
	}
	var made []string
	for mark, m := range paths() {
		if m != before[mark] {
			made = append(made, mark)
		}
	}
	var users []string
	for _, c := range p.good.l.view(nil).UsesMaterial("dense-pack cellulose") {
		users = append(users, c.Mark)
	}
	sort.Strings(made)
	sort.Strings(users)
	// A page that prints a figure of such a detail is one more.
	for _, u := range users {
		if !strings.Contains(" "+strings.Join(made, " ")+" ", " "+u+" ") {
			t.Errorf("%s uses the material and was not made anew", u)
		}
	}
	for _, m := range made {
		if strings.Contains(" "+strings.Join(users, " ")+" ", " "+m+" ") {
			continue
		}
		reads := fmt.Sprint(p.page(folder(m) + "/index.html").reads)
		if !strings.Contains(reads, "material/dense-pack cellulose") {
			t.Errorf("%s was made anew and does not use the material", m)
		}
	}
	if len(users) == 0 || len(made) == len(before) {
		t.Errorf("%d users, %d of %d made anew", len(users), len(made), len(before))
	}
}

func TestPreviewRefuses(t *testing.T) {
	dir := demoCopy(t)
	if err := os.WriteFile(filepath.Join(filepath.Dir(dir), "secret.html"), []byte("secret"), 0o666); err != nil {
		t.Fatal(err)
	}
	_, server := previewed(t, dir)
	host := strings.TrimPrefix(server.URL, "http://")
	_, port, _ := strings.Cut(host, ":")
	for _, c := range []struct {
		method, target, host, origin string
		want                         int
	}{
		{"GET", "/", host, "", 200},
		{"HEAD", "/", host, "", 200},
		{"GET", "/", "localhost:" + port, "", 200},
		{"GET", "/F-101/", host, "http://" + host, 200},
		{"GET", "/", "details.example.org", "", 421},
		{"GET", "/", "details.example.org:" + port, "", 421},
		{"GET", "/", "127.0.0.1.example.org:" + port, "", 421},
		{"GET", "/.preview/events?page=/", "details.example.org:" + port, "", 421},
		{"GET", "/", host, "https://details.example.org", 403},
		{"POST", "/", host, "", 405},
		{"DELETE", "/F-101/", host, "", 405},
		{"GET", "/../secret.html", host, "", 404},
		{"GET", "/%2e%2e/secret.html", host, "", 404},
		{"GET", "/..%2fsecret.html", host, "", 404},
		{"GET", "/F-101/../../secret.html", host, "", 404},
		{"GET", "/..%5csecret.html", host, "", 404},
		{"GET", "/library.yaml", host, "", 404},
		{"GET", "/assemblies/F-101.md", host, "", 404},
		{"GET", "/.wythe-manifest.json", host, "", 404},
		{"GET", "//etc/passwd", host, "", 404},
		{"GET", "/.preview/events?page=/../secret.html", host, "", 404},
	} {
		r, err := http.NewRequest(c.method, server.URL+c.target, nil)
		if err != nil {
			t.Fatal(err)
		}
		r.Host = c.host
		if c.origin != "" {
			r.Header.Set("Origin", c.origin)
		}
		answer, err := http.DefaultTransport.RoundTrip(r)
		if err != nil {
			t.Fatal(err)
		}
		body, _ := io.ReadAll(answer.Body)
		answer.Body.Close()
		if answer.StatusCode != c.want || strings.Contains(string(body), "secret") {
			t.Errorf("%s %s of %s, origin %q: status %d, want %d", c.method, c.target, c.host, c.origin, answer.StatusCode, c.want)
		}
		policy := answer.Header.Get("Content-Security-Policy")
		if !strings.Contains(policy, "default-src 'none'") || !strings.Contains(policy, "frame-ancestors 'none'") || strings.Contains(policy, "unsafe") || answer.Header.Get("X-Content-Type-Options") != "nosniff" {
			t.Errorf("%s %s: policy %q", c.method, c.target, policy)
		}
	}
}

// BenchmarkSaveToPage saves one of 1,000 details and waits until the changed
// page was served.
func BenchmarkSaveToPage(b *testing.B) {
	dir := generateLibrary(b, 1000)
	_, server := previewed(b, dir)
	mark := generatedMark(500)
	file := filepath.Join(dir, "assemblies", mark+".md")
	text, err := os.ReadFile(file)
	if err != nil {
		b.Fatal(err)
	}
	fetch(b, server.URL+"/"+mark+"/")
	s := listen(b, server.URL, mark+"/index.html")
	s.next(b, "findings")
	time.Sleep(200 * time.Millisecond)
	var took []time.Duration
	for i := 0; b.Loop(); i++ {
		title := fmt.Sprintf("title: Saved %d", i)
		next := strings.Replace(string(text), "title: ", title+" ", 1)
		start := time.Now()
		if err := os.WriteFile(file, []byte(next), 0o666); err != nil {
			b.Fatal(err)
		}
		s.next(b, "page")
		if _, body, _ := fetch(b, server.URL+"/"+mark+"/"); !strings.Contains(body, title[7:]) {
			b.Fatal("the page is not as saved")
		}
		took = append(took, time.Since(start))
		time.Sleep(20 * time.Millisecond)
	}
	sort.Slice(took, func(i, j int) bool { return took[i] < took[j] })
	b.ReportMetric(took[len(took)*95/100].Seconds()*1e3, "p95-ms")
	b.ReportMetric(took[len(took)/2].Seconds()*1e3, "p50-ms")
}
