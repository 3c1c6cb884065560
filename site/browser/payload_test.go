package browser

import (
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	cdppage "github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"

	"wythe/site"
)

// payloads are the known ways of bringing a program into a page through text:
// elements, event handlers, addresses, styles, vector graphics, broken markup,
// comments, entities and templates. Each calls hit(n) if it comes alive.
var payloads = []string{
	`<script>hit(0)</script>`,
	`<img src=x onerror=hit(1)>`,
	`<svg onload=hit(2)>`,
	`<svg><script>hit(3)</script></svg>`,
	`<svg><animate onbegin=hit(4) attributeName=x dur=1s>`,
	`<a href="javascript:hit(5)">a</a>`,
	`<iframe srcdoc="<script>parent.hit(6)</script>"></iframe>`,
	`<details open ontoggle=hit(7)>`,
	`"><script>hit(8)</script>`,
	`'><img src=x onerror=hit(9)>`,
	`" onmouseover="hit(10)" x="`,
	`' autofocus onfocus='hit(11)`,
	`</title><script>hit(12)</script>`,
	`</style><script>hit(13)</script>`,
	`--><script>hit(14)</script>`,
	`]]><script>hit(15)</script>`,
	`<math><mtext></p><style><img src=x onerror=hit(16)></style></mtext></math>`,
	`<object data="javascript:hit(17)"></object>`,
	`<embed src="javascript:hit(18)">`,
	`<base href="https://elsewhere.example/">`,
	`<meta http-equiv="refresh" content="0;url=https://elsewhere.example/">`,
	`<link rel=stylesheet href="https://elsewhere.example/x.css">`,
	`<form action="https://elsewhere.example/"><button autofocus>go</button></form>`,
	`<foreignObject><body onload=hit(23)></foreignObject>`,
	`&lt;script&gt;hit(24)&lt;/script&gt;`,
	`&#60;script&#62;hit(25)&#60;/script&#62;`,
	`\{\{print "<script>hit(26)</script>"}}`,
	`<div style="background:url(https://elsewhere.example/x)">`,
	`<use href="data:image/svg+xml,<svg id=x onload=hit(28)>#x"/>`,
	"<scr\u200bipt>hit(29)</script>",
}

// markdownPayloads come in through the Markdown of a text.
var markdownPayloads = []string{
	`[a](javascript:hit(100))`,
	`[a](JaVaScRiPt:hit(101))`,
	`[a]( javascript:hit(102))`,
	`[a](java&#115;cript:hit(103))`,
	`[a](data:text/html,<script>hit(104)</script>)`,
	`[a](vbscript:hit(105))`,
	`![a](javascript:hit(106))`,
	`![a](x" onerror="hit(107))`,
	`[a](x "t\" onmouseover=\"hit(108)")`,
	`<javascript:hit(109)>`,
	`[a]: javascript:hit(110)`,
	"```\"><script>hit(111)</script>\ntext\n```",
	`| <script>hit(112)</script> | b |` + "\n| --- | --- |\n| <img src=x onerror=hit(113)> | d |",
	`# <script>hit(114)</script> \{#x onclick=hit(115)}`,
	"![a](data:image/svg+xml;base64,PHN2ZyBvbmxvYWQ9ImhpdCgxMTYpIj4=)",
	`\{R-value"><script>hit(117)</script>}`,
}

// TestPayloadsAreInert publishes a library with a payload in every text that
// an author can write, opens each page under the site's content policy, and
// hovers and clicks: nothing runs, nothing is fetched from elsewhere, and no
// payload has become an element.
func TestPayloadsAreInert(t *testing.T) {
	dir, out := t.TempDir(), filepath.Join(t.TempDir(), "site")
	put := func(name, text string) {
		full := filepath.Join(dir, name)
		if err := os.MkdirAll(filepath.Dir(full), 0o777); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(full, []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	n := 0
	quoted := func() string { // as YAML
		n++
		return "'" + strings.ReplaceAll(payloads[n%len(payloads)], "'", "''") + "'"
	}
	put("library.yaml", "firm: "+quoted()+"\ntitle: "+quoted()+"\nunits: inch\nmarks: \"[A-Z]-[0-9]{3}\"\ncautions: {tides: "+quoted()+"}\n")
	put("materials.yaml", "- material: 'board <script>hit(200)</script>'\n  conductivity: 0.04 W/mK\n  hatch: rigid insulation\n  source: "+quoted()+"\n  note: "+quoted()+"\n")
	body := strings.Join(append(append([]string{}, payloads...), markdownPayloads...), "\n\n")
	for i := range 10 {
		mark := "F-10" + strconv.Itoa(i)
		var b strings.Builder
		b.WriteString("---\nmark: " + mark + "\ntitle: " + quoted() + "\nelement: floor on ground\nstatus: draft\n")
		for _, key := range []string{"use for", "not for", "trades", "tags", "references", "cautions"} {
			b.WriteString(key + ": [" + quoted() + ", " + quoted() + ", tides]\n")
		}
		b.WriteString("drawn by: " + quoted() + "\nchecked by: " + quoted() + "\nissued for: " + quoted() + "\n")
		b.WriteString("layers:\n  - {name: 'slab <svg onload=hit(201)>', material: concrete, thickness: 5 in, note: " + quoted() + "}\n")
		b.WriteString("  - {name: " + quoted() + ", material: 'board <script>hit(200)</script>', thickness: 3 in, joints: " + quoted() + ", control: [thermal]}\n")
		b.WriteString("  - {material: {name: " + quoted() + ", conductivity: 0.04 W/mK, hatch: rigid insulation}, thickness: 2 in}\n")
		b.WriteString("penetrations: [{what: " + quoted() + ", seals: {'slab <svg onload=hit(201)>': " + quoted() + "}}]\n")
		b.WriteString("sequence: [{do: " + quoted() + ", trade: " + quoted() + ", hold: " + quoted() + ", released by: " + quoted() + ", caution: " + quoted() + ", tools: [" + quoted() + "], materials: [" + quoted() + "]}]\n")
		b.WriteString("revisions: [{rev: A, date: 2026-06-03, note: " + quoted() + "}]\n---\n")
		b.WriteString(body)
		put("assemblies/"+mark+".md", b.String())
	}
	put("specs/s.md", "---\nsection: 07 26 00\ntitle: "+quoted()+"\n---\n"+body)
	put("note.md", "---\ntitle: "+quoted()+"\n---\n"+body)
	put("buildings/b.md", "---\ntitle: 'Shed <script>hit(202)</script>'\nareas: [{detail: F-101, area: 100 sq ft, perimeter: 40 ft}]\nopenings: [{what: "+quoted()+", area: 10 sq ft, U-factor: 0.2, in: F-101}]\n---\n"+body)
	result, err := site.Publish(site.Options{Library: dir, To: out})
	if err != nil {
		t.Fatalf("%v\n%v", err, result.Findings.Items)
	}
	files := http.FileServer(http.Dir(out))
	server := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		w.Header().Set("Content-Security-Policy", policy)
		files.ServeHTTP(w, r)
	}))
	defer server.Close()
	folder := bench.folder
	bench.folder = out
	paths := pages(t)
	bench.folder = folder
	p := open(t, desk, "index.html")
	p.blame("index")
	call(p, cdppage.AddScriptToEvaluateOnNewDocument, cdppage.AddScriptToEvaluateOnNewDocumentParams{Source: "window.hit = (n) => { window.hits = (window.hits || '') + ' ' + n; };"})
	for _, path := range paths {
		p.run(chromedp.Navigate(server.URL + "/" + path))
		says := ask[string](p, `(() => {
			const bad = [];
			if (window.hits) bad.push('ran ' + window.hits);
			for (const e of document.querySelectorAll('*')) {
				for (const a of e.attributes) {
					if (/^on/i.test(a.name)) bad.push(e.nodeName + ' ' + a.name);
					if (/^\s*(javascript|vbscript):/i.test(a.value) || /^(href|src|data|action)$/.test(a.name) && /^\s*data:text/i.test(a.value)) bad.push(e.nodeName + ' ' + a.name + '=' + a.value);
					if (/elsewhere\.example/.test(a.value) && /^(href|src|data|action|style|content)$/.test(a.name)) bad.push(e.nodeName + ' ' + a.name + '=' + a.value);
				}
				if (/^(iframe|object|embed|base|foreignobject|math|animate)$/i.test(e.nodeName)) bad.push(e.nodeName);
				if (e.nodeName.toLowerCase() === 'script' && (!e.src.startsWith(location.origin + '/') || e.textContent)) bad.push('script ' + e.outerHTML);
			}
			const move = (e) => { for (const t of ['mouseover','mouseenter','focus','pointerover']) e.dispatchEvent(new Event(t, {bubbles: true})); };
			document.querySelectorAll('main *').forEach(move);
			if (window.hits) bad.push('ran ' + window.hits);
			return bad.slice(0, 5).join('\n');
		})()`)
		if says != "" {
			t.Errorf("%s: %s", path, says)
		}
		p.blameAt(server.URL, path)
	}
	if len(paths) < 15 {
		t.Errorf("%d pages alone", len(paths))
	}
	// The judge itself: a payload that does come alive is seen.
	alive := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		w.Header().Set("Content-Type", "text/html")
		w.Write([]byte(`<!doctype html><body><img src=x onerror="window.hits='one'">`))
	}))
	defer alive.Close()
	p.run(chromedp.Navigate(alive.URL))
	p.until(`window.hits === 'one'`)
}
