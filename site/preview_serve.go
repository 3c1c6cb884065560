package site

import (
	_ "embed"
	"encoding/json"
	"fmt"
	"mime"
	"net"
	"net/http"
	"net/url"
	"path"
	"strings"
	"time"

	"wythe/renderer/trace"
)

// previewPolicy is the content policy of every answer: nothing inline, and
// nothing from elsewhere.
const previewPolicy = "default-src 'none'; style-src 'self'; script-src 'self'; img-src 'self' data:; font-src 'self'; connect-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'"

// previewFolder holds what the preview adds to a site.
const previewFolder = ".preview/"

var (
	//go:embed preview.js
	previewScript []byte
	//go:embed preview.css
	previewStyle []byte
)

// listener is one open page.
type listener struct {
	path string
	hash string    // of the page as it was last told of
	wake chan bool // one slot: news
}

// Handler serves the preview to programs on this machine: host is the address
// it listens on. A request that names another host is refused, so that no page
// of the web can reach it by a name of its own.
func (p *Preview) Handler(host string) http.Handler {
	hosts := map[string]bool{host: true}
	if _, port, err := net.SplitHostPort(host); err == nil {
		for _, name := range []string{"127.0.0.1", "localhost", "[::1]"} {
			hosts[name+":"+port] = true
		}
	}
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		h := w.Header()
		h.Set("Content-Security-Policy", previewPolicy)
		h.Set("X-Content-Type-Options", "nosniff")
		h.Set("Referrer-Policy", "no-referrer")
		h.Set("Cross-Origin-Resource-Policy", "same-origin")
		h.Set("Cache-Control", "no-store")
		switch origin := r.Header.Get("Origin"); {
		case !hosts[r.Host]:
			http.Error(w, "this preview answers to its own address only", http.StatusMisdirectedRequest)
		case origin != "" && !hosts[strings.TrimPrefix(origin, "http://")]:
			http.Error(w, "this preview answers to its own pages only", http.StatusForbidden)
		case r.Method != http.MethodGet && r.Method != http.MethodHead:
			h.Set("Allow", "GET, HEAD")
			http.Error(w, "a preview is only read", http.StatusMethodNotAllowed)
		default:
			p.serve(w, r)
		}
	})
}

func (p *Preview) serve(w http.ResponseWriter, r *http.Request) {
	name, ok := sitePath(r.URL)
	if !ok {
		http.Error(w, "no such page", http.StatusNotFound)
		return
	}
	switch name {
	case previewFolder + "preview.js":
		send(w, r, name, previewScript)
		return
	case previewFolder + "preview.css":
		send(w, r, name, previewStyle)
		return
	case previewFolder + "events":
		p.events(w, r)
		return
	}
	m := p.page(name)
	html := strings.HasSuffix(name, ".html")
	switch {
	case m == nil && html:
		w.Header().Set("Content-Type", "text/html; charset=utf-8")
		w.WriteHeader(http.StatusNotFound)
		writeUnlessHead(w, r, withClient(emptyPage, ""))
	case m == nil:
		http.Error(w, "no such file", http.StatusNotFound)
	case m.err != nil:
		http.Error(w, m.err.Error(), http.StatusInternalServerError)
	case html:
		send(w, r, name, withClient(m.data, hashOfPage(m)))
	default:
		send(w, r, name, m.data)
	}
}

// emptyPage stands where there is no page, or none yet: the findings are shown
// over it.
var emptyPage = []byte("<!doctype html>\n<html lang=\"en\"><head><meta charset=\"utf-8\"><title>No page</title></head><body class=\"wythe-none\"><p>There is no page here yet. <a href=\"/\">Index</a></p></body></html>\n")

// sitePath returns the file of the site that an address asks for. Nothing
// outside the site has a name: files are looked up among the outputs, never
// on the disk.
func sitePath(u *url.URL) (string, bool) {
	name := u.Path
	if !strings.HasPrefix(name, "/") || strings.ContainsAny(name, "\\\x00") {
		return "", false
	}
	if strings.HasSuffix(name, "/") {
		name += "index.html"
	}
	return name[1:], path.Clean(name) == name
}

func send(w http.ResponseWriter, r *http.Request, name string, data []byte) {
	kind := mime.TypeByExtension(path.Ext(name))
	switch path.Ext(name) {
	case ".js":
		kind = "text/javascript; charset=utf-8"
	case ".css":
		kind = "text/css; charset=utf-8"
	case ".woff2":
		kind = "font/woff2"
	case ".html":
		kind = "text/html; charset=utf-8"
	}
	if kind == "" {
		kind = "application/octet-stream"
	}
	w.Header().Set("Content-Type", kind)
	writeUnlessHead(w, r, data)
}

func writeUnlessHead(w http.ResponseWriter, r *http.Request, data []byte) {
	if r.Method != http.MethodHead {
		w.Write(data) // who went away reads no error
	}
}

// withClient adds the preview's own script and style to a page of a hash.
func withClient(page []byte, hash string) []byte {
	client := `<link rel="stylesheet" href="/` + previewFolder + `preview.css"><script defer src="/` + previewFolder + `preview.js" data-hash="` + hash + `"></script></head>`
	before, after, ok := strings.Cut(string(page), "</head>")
	if !ok {
		return page
	}
	return []byte(before + client + after)
}

// events tells an open page what changed: its own content, and the findings.
func (p *Preview) events(w http.ResponseWriter, r *http.Request) {
	flusher, ok := w.(http.Flusher)
	name, valid := sitePath(&url.URL{Path: r.URL.Query().Get("page")})
	if !ok || !valid {
		http.Error(w, "no such page", http.StatusNotFound)
		return
	}
	l := &listener{path: name, wake: make(chan bool, 1)}
	l.hash = r.URL.Query().Get("hash")
	p.mu.Lock()
	p.listen[l] = true
	p.mu.Unlock()
	defer func() {
		p.mu.Lock()
		delete(p.listen, l)
		p.mu.Unlock()
	}()
	w.Header().Set("Content-Type", "text/event-stream")
	last := ""
	say := func() error {
		notice, err := json.Marshal(p.Notice())
		if err != nil {
			return err
		}
		if hash := p.pageHash(name); hash != l.hash {
			l.hash = hash
			if _, err := fmt.Fprintf(w, "event: page\ndata: %s\n\n", hash); err != nil {
				return err
			}
		}
		if string(notice) != last {
			last = string(notice)
			if _, err := fmt.Fprintf(w, "event: findings\ndata: %s\n\n", notice); err != nil {
				return err
			}
		}
		flusher.Flush()
		return nil
	}
	alive := time.NewTicker(20 * time.Second)
	defer alive.Stop()
	for err := say(); err == nil; {
		select {
		case <-r.Context().Done():
			return
		case <-l.wake:
			err = say()
		case <-alive.C:
			_, err = fmt.Fprint(w, ": still here\n\n")
			flusher.Flush()
		}
	}
}

// pageHash is of a page's content, "" where there is none.
func (p *Preview) pageHash(name string) string {
	m := p.page(name)
	if m == nil || m.err != nil {
		return ""
	}
	return hashOfPage(m)
}

func hashOfPage(m *made) string { return trace.Hash(string(m.data))[:16] }

// tell wakes every open page.
func (p *Preview) tell() {
	p.mu.Lock()
	defer p.mu.Unlock()
	for l := range p.listen {
		select {
		case l.wake <- true:
		default: // it has not read the last news yet, and will find these too
		}
	}
}
